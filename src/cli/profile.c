/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/cli.h"
#include "cli/notes.h"

#include "input/profile.h"
#include "input/profile_dir.h"
#include "input/setting.h"
#include "report/describe/answers.h"
#include "report/describe/profile_rows.h"
#include "report/json/json.h"
#include "report/json/render.h"
#include "report/text/lines.h"
#include "report/text/reference.h"

#include <stdlib.h>
#include <string.h>

static enum hobble_status list(struct cli *cli, FILE *f, const void *unused)
{
    struct hb_profile_entry *entry;
    size_t count;
    (void)unused;
    if (!cli->json)
        return hb_profile_list(f);
    enum hobble_status status = hb_profile_scan(&entry, &count);
    if (status != HOBBLE_OK)
        return status;
    const struct hb_profile_listed listed = {entry, count};
    status = hb_cli_json(cli, f, hb_render_json(&hb_profile_list_answer, cli->c, &listed));
    free(entry);
    return status;
}

static enum hobble_status show(struct cli *cli, FILE *f, const void *name)
{
    struct hb_profile_shown shown = {name, HOBBLE_TYRE};
    if (!cli->json)
        return hb_profile_show(f, name, &cli->faults);
    const enum hobble_status status =
        hb_profile_load(name, HB_ANY_KIND, cli->c, &shown.kind, &cli->faults);
    return status == HOBBLE_OK
               ? hb_cli_json(cli, f, hb_render_json(&hb_profile_show_answer, cli->c, &shown))
               : status;
}

/* In JSON the faults are the answer; they still end in the status that they have as text. */
static enum hobble_status check(struct cli *cli, FILE *f, const void *name)
{
    const enum hobble_status status = hb_profile_check_into(name, cli->c, &cli->faults);
    const struct hb_profile_checked checked = {name, &cli->faults};
    if (cli->json) {
        json_t *o = hb_render_json(&hb_profile_check_answer, cli->c, &checked);
        if (o)
            hb_render_end(o, hb_note_rows, cli->c);
        return hb_cli_json(cli, f, o);
    }
    static const struct hb_line good[] = {{HB_LINE, .say = HB_SAY_PROFILE_GOOD}, {0}};
    const struct hb_scope scope =
        hb_answer_scope(&hb_profile_check_answer, cli->c, &checked, cli->us);
    if (status == HOBBLE_OK)
        hb_lines_print(f, good, &scope);
    hb_notes(stderr, cli->c);
    return status;
}

/* What can be begun from nothing. */
enum { TYRE, VEHICLE, FLEET, BENCH, BEGUN };
static const char *const begun[BEGUN] = {"tyre", "vehicle", "fleet", "bench"};

static int kind_of(const char *name)
{
    for (int i = 0; i < BEGUN; i++)
        if (strcmp(name, begun[i]) == 0)
            return i;
    return -1;
}

/* A kind may be meant as well as a profile. */
static void near_kind(struct cli *cli, const char *name)
{
    struct hb_near near = hb_near_to(name);
    hobble_fault_text(cli->faults.item[0].allowed,
                      "tyre, vehicle, fleet or bench, or a name that hobble profile list shows");
    for (int i = 0; i < BEGUN; i++)
        hb_near_try(&near, begun[i]);
    if (*near.best)
        hb_fault_meant(&cli->faults, &near);
}

static enum hobble_status begin(struct cli *cli, FILE *f, const void *name)
{
    if (cli->json) {
        struct hobble_fault fault = {.status = HOBBLE_E_USAGE};
        hobble_fault_text(fault.key, "--json");
        hobble_fault_text(fault.allowed, "not with new, which writes a profile");
        return hobble_faults_add(&cli->faults, &fault);
    }
    const int kind = kind_of(name);
    if (kind == FLEET)
        return hb_fleet_new(f);
    if (kind == BENCH)
        return hb_bench_new(f);
    if (kind >= 0)
        return hb_profile_new(f, kind == TYRE ? HOBBLE_TYRE : HOBBLE_VEHICLE, NULL, &cli->faults);
    const enum hobble_status status = hb_profile_show(f, name, &cli->faults);
    if (status != HOBBLE_OK && cli->faults.count == 1 && !*cli->faults.item[0].file)
        near_kind(cli, name);
    return status;
}

static enum hobble_status keys(struct cli *cli, FILE *f, const void *unused)
{
    (void)unused;
    if (cli->json)
        return hb_cli_json(cli, f, hb_render_json(&hb_profile_keys_answer, cli->c, NULL));
    hb_reference_markdown(f);
    return HOBBLE_OK;
}

/* Not in the help: the build makes the manual page of the keys with it. */
static enum hobble_status keys_manual(struct cli *cli, FILE *f, const void *unused)
{
    (void)cli;
    (void)unused;
    hb_reference_manual(f);
    hb_reference_evidence_manual(f);
    return HOBBLE_OK;
}

/* The page of the keys of evidence. */
static enum hobble_status evidence_keys(struct cli *cli, FILE *f, const void *unused)
{
    (void)cli;
    (void)unused;
    hb_reference_evidence(f);
    return HOBBLE_OK;
}

/* The same for the page of the fleet file. */
static enum hobble_status fleet_manual(struct cli *cli, FILE *f, const void *unused)
{
    (void)cli;
    (void)unused;
    hb_reference_fleet(f);
    return HOBBLE_OK;
}

/* The same for what answers say: their schemas, their keys in a page of the docs and in a command's
 * manual page. */
static enum hobble_status answer_schema(struct cli *cli, FILE *f, const void *command)
{
    (void)cli;
    return hb_json_print(f, hb_render_schema(command));
}

static enum hobble_status answer_keys(struct cli *cli, FILE *f, const void *unused)
{
    (void)cli;
    (void)unused;
    hb_render_markdown(f);
    return HOBBLE_OK;
}

static enum hobble_status answer_forms(struct cli *cli, FILE *f, const void *unused)
{
    (void)cli;
    (void)unused;
    hb_render_forms(f);
    return HOBBLE_OK;
}

static enum hobble_status answer_manual(struct cli *cli, FILE *f, const void *command)
{
    (void)cli;
    hb_render_manual(f, command);
    return HOBBLE_OK;
}

static const struct {
    const char *name;
    int words;
    hb_body *body;
} actions[] = {{"list", 1, list},
               {"show", 2, show},
               {"check", 2, check},
               {"new", 2, begin},
               {"keys", 1, keys},
               {"keys-manual", 1, keys_manual},
               {"evidence-keys", 1, evidence_keys},
               {"fleet-manual", 1, fleet_manual},
               {"answer-schema", 2, answer_schema},
               {"answer-keys", 1, answer_keys},
               {"answer-forms", 1, answer_forms},
               {"answer-manual", 2, answer_manual}};
enum { SHOWN = 5 }; /* the rest is for the build */

int hb_cli_profile(struct cli *cli)
{
    for (size_t i = 0; i < sizeof actions / sizeof *actions; i++) {
        if (strcmp(cli->word[0], actions[i].name) != 0 || cli->words != actions[i].words)
            continue;
        const enum hobble_status status = hb_cli_print(cli, actions[i].body, cli->word[1]);
        return status == HOBBLE_OK && cli->faults.count == 0 ? 0 : hb_cli_fail(cli, status);
    }
    char shown[HOBBLE_FAULT_TEXT];
    struct hb_near near = hb_near_to(cli->word[0]);
    hobble_fault_text(shown, cli->word[0]);
    for (size_t i = 0; i < SHOWN; i++)
        hb_near_try(&near, actions[i].name);
    fprintf(stderr,
            "hobble profile: '%s%s' is none of list, show NAME, check FILE, new NAME or keys",
            shown, cli->words > 1 ? " ..." : "");
    hb_cli_meant(&near, "");
    return hobble_status_exit(HOBBLE_E_USAGE);
}
