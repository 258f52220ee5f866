/* SPDX-License-Identifier: GPL-3.0-or-later */
/* finish.c - how a run ends: what is said of its faults, and the exit status. */
#include "cli/cli.h"
#include "cli/parts.h"

#include "input/near.h"
#include "report/describe/words.h"

#include <string.h>

int hb_cli_finish(void)
{
    if (fflush(stdout) == 0 && !ferror(stdout))
        return 0;
    fprintf(stderr, "hobble: standard output: %s\n", hobble_status_text(HOBBLE_E_WRITE));
    return hobble_status_exit(HOBBLE_E_WRITE);
}

void hb_option_of(const char *key, char option[HOBBLE_FAULT_TEXT])
{
    snprintf(option, HOBBLE_FAULT_TEXT, "--%s", key);
    for (char *p = option; *p; p++)
        if (*p == '_')
            *p = '-';
}

/* More people than any vehicle has: the seats of this one are said all the same. */
static void say_seats(const struct cli *cli, struct hobble_fault *f)
{
    const double seats = hobble_case_number(cli->c, hobble_param_find("seats_front")) +
                         hobble_case_number(cli->c, hobble_param_find("seats_rear"));
    if (f->status == HOBBLE_E_RANGE && strcmp(f->key, "people") == 0)
        snprintf(f->allowed, sizeof f->allowed,
                 "1 to %g: the vehicle's seats (seats_front and seats_rear)", seats);
}

/* A fault of a question names a key: the option or the line that set it is said as well. */
static void name_origins(struct cli *cli)
{
    for (size_t i = 0; i < cli->faults.count && i < HOBBLE_FAULTS_KEPT; i++) {
        struct hobble_fault *f = &cli->faults.item[i];
        say_seats(cli, f);
        const int row = f->file[0] || f->line > 0 ? -1 : hobble_param_find(f->key);
        if (row < 0)
            continue;
        if (hobble_case_given(cli->c, row))
            hobble_fault_text(f->file, hobble_case_origin(cli->c, row));
        else if (f->status == HOBBLE_E_MISSING &&
                 hobble_param_table(NULL)[row].group == HOBBLE_TRIP)
            hb_option_of(f->key, f->file);
    }
}

int hb_cli_fail(struct cli *cli, enum hobble_status status)
{
    name_origins(cli);
    hb_print_faults(stderr, &cli->faults);
    if (cli->faults.count == 0 && cli->plot && status == HOBBLE_E_NO_INPUT) {
        return hb_part_missing("--plot", HB_PART_PICTURES);
    } else if (cli->faults.count == 0) {
        const char *what = status == HOBBLE_E_WRITE ? (cli->output ? cli->output
                                                       : cli->plot ? cli->plot
                                                                   : "standard output")
                                                    : cli->program;
        fprintf(stderr, "hobble: %s: %s\n", what, hobble_status_text(status));
    } else {
        status = cli->faults.item[0].status;
    }
    return hobble_status_exit(status);
}

void hb_cli_meant(const struct hb_near *near, const char *before)
{
    if (*near->best)
        fprintf(stderr, "; did you mean %s%s?", before, near->best);
    fputc('\n', stderr);
}
