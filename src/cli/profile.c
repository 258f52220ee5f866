/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/cli.h"

#include "input/profile_dir.h"
#include "report/out.h"
#include "report/reference.h"

#include <string.h>

typedef enum hobble_status action(struct cli *cli, FILE *f, const char *name);

static enum hobble_status list(struct cli *cli, FILE *f, const char *name)
{
    (void)cli;
    (void)name;
    return hb_profile_list(f);
}

static enum hobble_status show(struct cli *cli, FILE *f, const char *name)
{
    return hb_profile_show(f, name, &cli->faults);
}

static enum hobble_status check(struct cli *cli, FILE *f, const char *name)
{
    const enum hobble_status status = hb_profile_check(name, &cli->faults);
    if (status == HOBBLE_OK)
        fprintf(f, "%s: no fault\n", name);
    return status;
}

static enum hobble_status begin(struct cli *cli, FILE *f, const char *name)
{
    if (strcmp(name, "tyre") == 0)
        return hb_profile_new(f, HOBBLE_TYRE, NULL, &cli->faults);
    if (strcmp(name, "vehicle") == 0)
        return hb_profile_new(f, HOBBLE_VEHICLE, NULL, &cli->faults);
    return hb_profile_show(f, name, &cli->faults);
}

static enum hobble_status keys(struct cli *cli, FILE *f, const char *name)
{
    (void)cli;
    (void)name;
    hb_reference_markdown(f);
    return HOBBLE_OK;
}

/* Not in the help: the build makes the manual page of the keys with it. */
static enum hobble_status keys_manual(struct cli *cli, FILE *f, const char *name)
{
    (void)cli;
    (void)name;
    hb_reference_manual(f);
    return HOBBLE_OK;
}

static const struct {
    const char *name;
    int words;
    action *act;
} actions[] = {{"list", 1, list}, {"show", 2, show}, {"check", 2, check},
               {"new", 2, begin}, {"keys", 1, keys}, {"keys-manual", 1, keys_manual}};

int hb_cli_profile(struct cli *cli)
{
    for (size_t i = 0; i < sizeof actions / sizeof *actions; i++) {
        struct hb_out out;
        if (strcmp(cli->word[0], actions[i].name) != 0 || cli->words != actions[i].words)
            continue;
        enum hobble_status status = hb_out_open(&out);
        if (status == HOBBLE_OK) {
            status = actions[i].act(cli, out.stream, cli->word[1]);
            if (status == HOBBLE_OK)
                status = hb_out_close(&out, cli->output);
            else
                hb_out_drop(&out);
        }
        return status == HOBBLE_OK ? 0 : hb_cli_fail(cli, status);
    }
    char shown[HOBBLE_FAULT_TEXT];
    hobble_fault_text(shown, cli->word[0]);
    fprintf(stderr,
            "hobble profile: '%s%s' is none of list, show NAME, check FILE, new NAME or keys\n",
            shown, cli->words > 1 ? " ..." : "");
    return hobble_status_exit(HOBBLE_E_USAGE);
}
