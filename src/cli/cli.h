/* SPDX-License-Identifier: GPL-3.0-or-later */
/* cli.h - what every command starts from. */
#ifndef HB_CLI_CLI_H
#define HB_CLI_CLI_H

#include "hobble.h"

#include <argp.h>
#include <jansson.h>
#include <stdio.h>

struct hb_near;

/* A key that an option set. */
struct said {
    const char *key, *value;
    size_t length; /* of the key */
};

/* What the command line said. */
struct cli {
    hobble_case *c;
    struct hobble_faults faults;
    const char *program; /* "hobble range" */
    bool json, explain, full, check, us, csv;
    int threads;
    const char *plot;     /* file, or NULL */
    const char *output;   /* file, or NULL for standard output */
    const char *word[32]; /* arguments that are not options */
    int words;
    const struct command *command;
    const char *rule;                            /* of hobble rule, or NULL */
    const char *axis[2];                         /* of hobble map, or NULL */
    bool bare;                                   /* no option and no word was given */
    bool ask, list, inside_clean, outside_clean; /* of hobble condition */
    const char *case_file, *sheet;               /* the same; files, or NULL */
    const char *out, *shard;                     /* of hobble policy, or NULL */
    bool merge;                                  /* the same */
    const char *columns, *sensor;                /* of hobble replay, or NULL */
    const char *evidence;                        /* the same: file to write, or NULL */
    bool files_only;                             /* while the files named are read */
    struct said say[200];
    size_t said;
};

/* What a command takes of the options that are the same for all: those of a heading of the help, or
 * one. The rest is refused by name. */
enum {
    TAKES_TRIP = 1 << 0,
    TAKES_TYRE = 1 << 1,
    TAKES_FILES = 1 << 2,
    TAKES_STUDY = 1 << 3,
    TAKES_SEED = 1 << 4, /* of the study, only that */
    TAKES_JSON = 1 << 5,
    TAKES_EXPLAIN = 1 << 6,
    TAKES_CHECK = 1 << 7,
    TAKES_PLOT = 1 << 8,
    TAKES_OUTPUT = 1 << 9,
    TAKES_UNITS = 1 << 10,
    TAKES_THREADS = 1 << 11,
    TAKES_CASE = TAKES_TRIP | TAKES_TYRE | TAKES_FILES | TAKES_STUDY | TAKES_OUTPUT | TAKES_UNITS |
                 TAKES_THREADS,
    TAKES_ANSWER = TAKES_CASE | TAKES_JSON | TAKES_EXPLAIN
};

/* A command: one row of the table in main.c. */
struct command {
    const char *name, *about;
    int (*run)(struct cli *cli);
    const char *arguments; /* as the usage line shows them, or NULL */
    int words_wanted, words_most;
    unsigned takes; /* TAKES_... */
};

/* Reads options into cli; leaves the process on --help, --usage and on usage errors (64). */
void hb_options_read(const struct command *command, struct cli *cli, int argc, char **argv);

/* "--run-speed" for run_speed. */
void hb_option_of(const char *key, char option[HOBBLE_FAULT_TEXT]);

/* Prints the faults to standard error and returns the exit status: that of the first fault, or of
 * status when there is none. */
int hb_cli_fail(struct cli *cli, enum hobble_status status);

/* Ends a line of standard error: with the nearest name, where there is one, and what goes before
 * it. */
void hb_cli_meant(const struct hb_near *near, const char *before);

/* Prints an answer into f as the options ask. */
typedef enum hobble_status hb_body(struct cli *cli, FILE *f, const void *answer);
/* Gathers what body prints and writes it whole to standard output or the file of -o; nothing where
 * body fails. */
enum hobble_status hb_cli_print(struct cli *cli, hb_body *body, const void *answer);
/* Prints and releases an object, with every value used where --explain was given.
 * HOBBLE_E_MEMORY for NULL. */
enum hobble_status hb_cli_json(struct cli *cli, FILE *f, json_t *object);
/* Prints every value used where --explain was given. */
enum hobble_status hb_cli_explain(struct cli *cli, FILE *f);
/* Passes the status on; where it is HOBBLE_E_WRITE, messages will name this file. */
enum hobble_status hb_cli_wrote(struct cli *cli, const char *path, enum hobble_status status);
/* CSV by --csv, or by the name of the file. */
bool hb_cli_wants_csv(const struct cli *cli);

/* Flushes standard output; says so and returns 74 where that fails, else 0. */
int hb_cli_finish(void);

/* Whether a file's name ends so, in letters of any case, and is more than that. */
bool hb_ends_in(const char *path, const char *ending);
/* Adds a fault for a file whose ending says that it cannot be drawn, and for two of one place. */
void hb_outputs_check(struct cli *cli);

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
int hb_cli_replay(struct cli *cli);

#endif
