/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/cli.h"

#include "input/profile.h"
#include "input/profile_dir.h"
#include "report/profile.h"
#include "report/reference.h"

#include <string.h>

static enum hobble_status list(struct cli *cli, FILE *f, const void *unused)
{
    (void)unused;
    return cli->json ? hb_cli_json(cli, f, hb_profile_list_json()) : hb_profile_list(f);
}

static enum hobble_status show(struct cli *cli, FILE *f, const void *name)
{
    if (!cli->json)
        return hb_profile_show(f, name, &cli->faults);
    enum hobble_group kind;
    const enum hobble_status status =
        hb_profile_load(name, HB_ANY_KIND, cli->c, &kind, &cli->faults);
    return status == HOBBLE_OK ? hb_cli_json(cli, f, hb_profile_show_json(name, kind, cli->c))
                               : status;
}

/* In JSON the faults are the answer; they still end in the status that they have as text. */
static enum hobble_status check(struct cli *cli, FILE *f, const void *name)
{
    const enum hobble_status status = hb_profile_check(name, &cli->faults);
    if (cli->json)
        return hb_cli_json(cli, f, hb_profile_check_json(name, &cli->faults));
    if (status == HOBBLE_OK)
        fprintf(f, "%s: no fault\n", (const char *)name);
    return status;
}

static enum hobble_status begin(struct cli *cli, FILE *f, const void *name)
{
    if (cli->json) {
        struct hobble_fault fault = {.status = HOBBLE_E_USAGE};
        hobble_fault_text(fault.key, "--json");
        hobble_fault_text(fault.allowed, "not with new, which writes a profile");
        return hobble_faults_add(&cli->faults, &fault);
    }
    if (strcmp(name, "tyre") == 0)
        return hb_profile_new(f, HOBBLE_TYRE, NULL, &cli->faults);
    if (strcmp(name, "vehicle") == 0)
        return hb_profile_new(f, HOBBLE_VEHICLE, NULL, &cli->faults);
    return hb_profile_show(f, name, &cli->faults);
}

static enum hobble_status keys(struct cli *cli, FILE *f, const void *unused)
{
    (void)unused;
    if (cli->json)
        return hb_cli_json(cli, f, hb_profile_keys_json());
    hb_reference_markdown(f);
    return HOBBLE_OK;
}

/* Not in the help: the build makes the manual page of the keys with it. */
static enum hobble_status keys_manual(struct cli *cli, FILE *f, const void *unused)
{
    (void)cli;
    (void)unused;
    hb_reference_manual(f);
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
               {"fleet-manual", 1, fleet_manual}};

int hb_cli_profile(struct cli *cli)
{
    for (size_t i = 0; i < sizeof actions / sizeof *actions; i++) {
        if (strcmp(cli->word[0], actions[i].name) != 0 || cli->words != actions[i].words)
            continue;
        const enum hobble_status status = hb_cli_print(cli, actions[i].body, cli->word[1]);
        return status == HOBBLE_OK && cli->faults.count == 0 ? 0 : hb_cli_fail(cli, status);
    }
    char shown[HOBBLE_FAULT_TEXT];
    hobble_fault_text(shown, cli->word[0]);
    fprintf(stderr,
            "hobble profile: '%s%s' is none of list, show NAME, check FILE, new NAME or keys\n",
            shown, cli->words > 1 ? " ..." : "");
    return hobble_status_exit(HOBBLE_E_USAGE);
}
