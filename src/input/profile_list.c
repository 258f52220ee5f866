/* SPDX-License-Identifier: GPL-3.0-or-later */
/* profile_list.c - what is in the files that profile_dir.c finds: listed, shown, checked. */
#include "input/profile_dir.h"

#include "input/config_text.h"
#include "input/fleet.h"
#include "input/journey.h"
#include "input/profile.h"

#include <stdlib.h>
#include <string.h>

/* A journey has no name: how many legs it has. */
static void describe(struct hb_profile_entry *e)
{
    const char *title = e->title_row;
    hobble_case *c = hobble_case_new();
    struct hobble_fleet *fleet = NULL;
    struct hobble_faults faults = {0};
    const bool is_fleet = strcmp(e->kind, "fleet") == 0;
    if (is_fleet)
        e->good = hb_fleet_read(e->path, &fleet, &faults) == HOBBLE_OK;
    else if (c && title)
        e->good = hb_profile_read_kind(e->path, (int)e->group, c, NULL, &faults) == HOBBLE_OK;
    else if (c)
        e->good = hb_journey_read(e->path, c, &faults) == HOBBLE_OK;
    if (!e->good)
        hobble_fault_text(e->title, "has faults: see hobble profile check");
    else if (is_fleet)
        hobble_fault_text(e->title, fleet->name);
    else if (title)
        hobble_fault_text(e->title, hobble_case_text(c, hobble_param_find(title)));
    else
        snprintf(e->title, sizeof e->title, "%zu legs", hobble_case_leg_count(c));
    hobble_fleet_free(fleet);
    hobble_case_free(c);
}

enum hobble_status hb_profile_scan(struct hb_profile_entry **entries, size_t *count)
{
    const enum hobble_status status = hb_profile_names(entries, count);
    for (size_t i = 0; status == HOBBLE_OK && i < *count; i++)
        describe(&(*entries)[i]);
    return status;
}

enum hobble_status hb_profile_list(FILE *out)
{
    struct hb_profile_entry *entry;
    size_t count;
    const enum hobble_status status = hb_profile_scan(&entry, &count);
    if (status != HOBBLE_OK)
        return status;
    for (size_t i = 0; i < count; i++)
        if (!entry[i].hidden)
            fprintf(out, "%s\t%s\t%s\t%s\n", entry[i].kind, entry[i].name, entry[i].title,
                    entry[i].path);
    free(entry);
    return fflush(out) == 0 && !ferror(out) ? HOBBLE_OK : HOBBLE_E_WRITE;
}

enum hobble_status hb_profile_show(FILE *out, const char *name_or_path, struct hobble_faults *sink)
{
    hobble_case *c = hobble_case_new();
    enum hobble_group kind = HOBBLE_TYRE;
    enum hobble_status status =
        c ? hb_profile_load(name_or_path, HB_ANY_KIND, c, &kind, sink) : HOBBLE_E_MEMORY;
    if (status == HOBBLE_OK)
        status = kind == HOBBLE_BENCH ? hb_case_write(out, c) : hb_profile_write(out, c, kind);
    hobble_case_free(c);
    return status;
}

/* What a file says it is; a journey needs not say it. Faults are left to its reader. */
static bool is_of_kind(const char *path, const char *kind)
{
    char *bytes = NULL;
    size_t size;
    config_t config;
    bool readable = false, is = false;
    if (hb_file_read(path, &bytes, &size, NULL) != HOBBLE_OK)
        return false;
    hb_config_parse(bytes, size, path, &config, &readable, NULL);
    free(bytes);
    if (!readable)
        return false;
    const config_setting_t *root = config_root_setting(&config);
    const config_setting_t *s = config_setting_get_member(root, "kind");
    const char *word = s ? config_setting_get_string(s) : NULL;
    is = word ? strcmp(word, kind) == 0
              : !s && strcmp(kind, "journey") == 0 && config_setting_get_member(root, "legs");
    config_destroy(&config);
    return is;
}

enum hobble_status hb_profile_check_into(const char *name_or_path, hobble_case *into,
                                         struct hobble_faults *sink)
{
    char path[HB_PATH_MAX];
    hobble_case *c = hobble_case_new();
    struct hobble_fleet *fleet = NULL;
    enum hobble_status status =
        c ? hb_file_find_any(name_or_path, path, sizeof path, sink) : HOBBLE_E_MEMORY;
    if (status == HOBBLE_OK && is_of_kind(path, "fleet"))
        status = hb_fleet_read(path, &fleet, sink);
    else if (status == HOBBLE_OK && is_of_kind(path, "journey"))
        status = hb_journey_read(path, c, sink);
    else if (status == HOBBLE_OK)
        status = hb_profile_read_kind(path, HB_ANY_KIND, c, NULL, sink);
    if (status == HOBBLE_OK)
        hobble_case_assign(into, c);
    hobble_fleet_free(fleet);
    hobble_case_free(c);
    return status;
}

enum hobble_status hb_profile_check(const char *name_or_path, struct hobble_faults *sink)
{
    return hb_profile_check_into(name_or_path, NULL, sink);
}

enum hobble_status hb_profile_new(FILE *out, enum hobble_group group, const char *from,
                                  struct hobble_faults *sink)
{
    hobble_case *c = hobble_case_new();
    enum hobble_status status = c ? HOBBLE_OK : HOBBLE_E_MEMORY;
    if (c && from)
        status = hb_profile_load(from, (int)group, c, NULL, sink);
    if (status == HOBBLE_OK)
        status = hb_profile_write(out, c, group);
    hobble_case_free(c);
    return status;
}
