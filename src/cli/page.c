/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/cli.h"
#include "cli/parts.h"

#include "input/profile.h"
#include "input/profile_dir.h"
#include "report/paper/page.h"

#include <stdlib.h>
#include <string.h>

enum { CHOICES_MAX = 64 };

/* The profiles that the page offers, in their order. */
struct choices {
    struct hb_page_choice item[CHOICES_MAX];
    size_t count;
    int tyres;
};

/* Vehicles of the built-in profiles with the tyres that fit them (profiles/vehicle). */
static const char *const built_in[] = {"hatchback",  "compact-15", "estate",
                                       "touring-16", "minibus",    "minibus-17"};

static enum hobble_status add(struct choices *list, const char *name, struct hobble_faults *faults)
{
    if (list->count == CHOICES_MAX) {
        struct hobble_fault f = {.status = HOBBLE_E_TOO_LARGE};
        hobble_fault_text(f.key, "page");
        hobble_fault_text(f.given, name);
        hobble_fault_text(f.allowed, "at most 64 profiles");
        return hobble_faults_add(faults, &f);
    }
    struct hb_page_choice *item = &list->item[list->count];
    item->c = hobble_case_new();
    if (!item->c)
        return HOBBLE_E_MEMORY;
    list->count++;
    const enum hobble_status status =
        hb_profile_load(name, HB_ANY_KIND, item->c, &item->group, faults);
    const char *last = strrchr(name, '/');
    hobble_fault_text(item->name, last ? last + 1 : name);
    return status;
}

static bool has(const struct choices *list, const char *name)
{
    for (size_t i = 0; i < list->count; i++)
        if (strcmp(list->item[i].name, name) == 0)
            return true;
    return false;
}

/* Every good profile of the folders that the page can offer, the built-in pairs first. */
static enum hobble_status add_all(struct choices *list, struct hobble_faults *faults)
{
    struct hb_profile_entry *entry = NULL;
    size_t count = 0;
    enum hobble_status status = hb_profile_scan(&entry, &count);
    for (size_t pass = 0; status == HOBBLE_OK && pass <= sizeof built_in / sizeof *built_in; pass++)
        for (size_t i = 0; status == HOBBLE_OK && i < count; i++) {
            const bool named = pass < sizeof built_in / sizeof *built_in;
            const struct hb_profile_entry *e = &entry[i];
            if (e->good && !e->hidden && !has(list, e->name) && list->count < CHOICES_MAX &&
                (e->group == HOBBLE_TYRE || e->group == HOBBLE_VEHICLE) &&
                (!named || strcmp(e->name, built_in[pass]) == 0))
                status = add(list, e->name, faults);
        }
    free(entry);
    return status;
}

/* A vehicle's own tyre is the one named right after it, else the first. */
static void pair(struct choices *list)
{
    for (size_t i = 0; i < list->count; i++) {
        struct hb_page_choice *item = &list->item[i];
        const bool follows = i + 1 < list->count && list->item[i + 1].group == HOBBLE_TYRE;
        if (item->group == HOBBLE_VEHICLE)
            item->tyre = follows ? list->tyres : 0;
        else
            list->tyres++;
    }
}

static enum hobble_status need_tyre(const struct choices *list, struct hobble_faults *faults)
{
    struct hobble_fault f = {.status = HOBBLE_E_MISSING};
    if (list->tyres > 0)
        return HOBBLE_OK;
    hobble_fault_text(f.key, "page");
    hobble_fault_text(f.allowed, "the profile of at least one tyre");
    return hobble_faults_add(faults, &f);
}

int hb_cli_page(struct cli *cli)
{
    struct choices list = {.count = 0};
    enum hobble_status status = HOBBLE_OK, each;
    if (!hb_part_built(HB_PART_PAGE))
        return hb_part_missing("page", HB_PART_PAGE);
    for (int i = 0; i < cli->words; i++) { /* all faults at once */
        each = add(&list, cli->word[i], &cli->faults);
        status = status != HOBBLE_OK ? status : each;
    }
    if (cli->words == 0)
        status = add_all(&list, &cli->faults);
    if (status == HOBBLE_OK) {
        pair(&list);
        status = need_tyre(&list, &cli->faults);
    }
    if (status == HOBBLE_OK)
        status =
            hb_page_write(cli->output, list.item, list.count, cli->us,
                          (unsigned long)hobble_case_number(cli->c, hobble_param_find("seed")));
    for (size_t i = 0; i < list.count; i++)
        hobble_case_free(list.item[i].c);
    return status == HOBBLE_OK ? 0 : hb_cli_fail(cli, status);
}
