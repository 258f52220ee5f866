/* SPDX-License-Identifier: GPL-3.0-or-later */
/* cli.h - what every command starts from. */
#ifndef HB_CLI_CLI_H
#define HB_CLI_CLI_H

#include "hobble.h"

#include <argp.h>

/* What the command line said. */
struct cli {
    hobble_case *c;
    struct hobble_faults faults;
    const char *program; /* "hobble range" */
    bool json, explain, check, us, csv;
    int threads;
    const char *plot;   /* file, or NULL */
    const char *output; /* file, or NULL for standard output */
    const char *word[32]; /* arguments that are not options */
    int words, words_wanted, words_most;
    const char *rule;    /* of hobble rule, or NULL */
    const char *axis[2]; /* of hobble map, or NULL */
    bool bare;           /* no option and no word was given */
    bool ask, list, inside_clean, outside_clean; /* of hobble condition */
    const char *case_file, *sheet;         /* the same; files, or NULL */
    const char *out, *shard;               /* of hobble policy, or NULL */
    bool merge;                            /* the same */
};

/* A command: one row of the table in main.c. */
struct command {
    const char *name, *about;
    int (*run)(struct cli *cli);
    const char *arguments; /* as the usage line shows them, or NULL */
    int words_wanted, words_most;
};

/* Reads options into cli; leaves the process on --help, --usage and on usage errors (64). */
void hb_options_read(const struct command *command, struct cli *cli, int argc, char **argv);

/* Prints the faults to standard error and returns the exit status: that of the first fault, or of
 * status when there is none. */
int hb_cli_fail(const struct cli *cli, enum hobble_status status);

int hb_cli_range(struct cli *cli);
int hb_cli_rule(struct cli *cli);
int hb_cli_map(struct cli *cli);
int hb_cli_why(struct cli *cli);
int hb_cli_show(struct cli *cli);
int hb_cli_condition(struct cli *cli);
int hb_cli_profile(struct cli *cli);
int hb_cli_policy(struct cli *cli);
int hb_cli_page(struct cli *cli);
int hb_cli_card(struct cli *cli);

#endif
