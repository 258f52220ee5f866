/* SPDX-License-Identifier: GPL-3.0-or-later */
/* options.c - options out of the parameter table, the same for every command. */
#include "cli/cli.h"
#include "cli/complete.h"

#include "input/journey.h"
#include "input/near.h"
#include "input/profile.h"
#include "input/profile_dir.h"

#include <stdlib.h>
#include <string.h>
#include <unistd.h>

enum {
    KEY_ROW = 0x1000, /* + place in the parameter table */
    KEY_TYRE = 0x800,
    KEY_VEHICLE,
    KEY_PROFILE,
    KEY_SET,
    KEY_LEG,
    KEY_JOURNEY,
    KEY_JSON,
    KEY_EXPLAIN,
    KEY_CHECK,
    KEY_PLOT,
    KEY_THREADS,
    KEY_UNITS,
    KEY_RULE, /* options of one command */
    KEY_FULL,
    KEY_X,
    KEY_Y,
    KEY_CSV,
    KEY_RULES,
    KEY_CASE,
    KEY_ASK,
    KEY_SHEET,
    KEY_INSIDE,
    KEY_OUTSIDE,
    KEY_LIST,
    KEY_OUT,
    KEY_SHARD,
    KEY_MERGE,
    KEY_COLUMN,
    KEY_SENSOR,
    KEY_EVIDENCE,
    KEY_USAGE,
    KEY_REFUSED,
    HEADINGS = 7,
    OPTIONS_MAX = 160,
    ROWS_MAX = 0x1000,
    NAME_MAX_LENGTH = 32,
    WORDS_SHOWN = 45, /* letters of a list of words that fit beside an option */
    ABOUT_MAX_LENGTH = 320
};

#include "cli/options_rows.inc"

/* Rows of a tyre that a driver is asked for; the rest goes through --set. */
static const char *const tyre_rows[] = {"construction",   "age",          "ran_flat", "repaired",
                                        "maker_distance", "maker_trailer"};

/* The table that argp wants, with room for the names it points at. */
struct option_table {
    struct argp_option option[OPTIONS_MAX];
    char name[OPTIONS_MAX][NAME_MAX_LENGTH];
    char about[OPTIONS_MAX][ABOUT_MAX_LENGTH];
    size_t first, count; /* from first on; headings without options are left out */
};
static struct option_table listed; /* of the command that runs */

/* The age of a tyre, as its sidewall has it, for every command that takes a tyre. */
static bool is_date(const struct hobble_param *row)
{
    return strcmp(row->key, "date_code") == 0 || strcmp(row->key, "inspection_date") == 0;
}

static int heading_of(const struct hobble_param *row)
{
    if (row->group == HOBBLE_BENCH)
        return is_date(row) ? OF_TYRE : OF_BENCH;
    if (row->group == HOBBLE_TRIP)
        return OF_TRIP;
    if (row->group == HOBBLE_STUDY)
        return OF_STUDY;
    for (size_t i = 0; i < sizeof tyre_rows / sizeof *tyre_rows; i++)
        if (strcmp(tyre_rows[i], row->key) == 0)
            return OF_TYRE;
    return 0;
}

static const char *value_name(const struct hobble_param *row)
{
    const char *unit = hobble_unit_symbol(row->unit);
    if (row->kind == HOBBLE_TEXT)
        return "TEXT";
    if (row->kind == HOBBLE_WORD)
        return strlen(row->words) > WORDS_SHOWN ? "WORD" : row->words;
    if (row->unit == HOBBLE_UNIT_WHOLE)
        return "COUNT";
    return *unit ? unit : "NUMBER"; /* N is the unit of a force */
}

static void add_row(struct option_table *t, const struct hobble_param *row, int place, int flags)
{
    const size_t i = t->count++;
    snprintf(t->name[i], NAME_MAX_LENGTH, "%s", row->key);
    for (char *p = t->name[i]; *p; p++)
        if (*p == '_')
            *p = '-';
    const int n = snprintf(t->about[i], ABOUT_MAX_LENGTH, "%s", row->meaning);
    const char *unit = hobble_unit_symbol(row->unit);
    if (row->kind == HOBBLE_NUMBER && n > 0 && n < ABOUT_MAX_LENGTH)
        snprintf(t->about[i] + n, (size_t)(ABOUT_MAX_LENGTH - n), " (%g to %g%s%s)", row->min,
                 row->max, *unit ? " " : "", unit);
    if (row->kind == HOBBLE_WORD && strlen(row->words) > WORDS_SHOWN && n > 0 &&
        n < ABOUT_MAX_LENGTH)
        snprintf(t->about[i] + n, (size_t)(ABOUT_MAX_LENGTH - n), ": %s", row->words);
    t->option[i] = (struct argp_option){t->name[i], KEY_ROW + place, value_name(row),
                                        flags,      t->about[i],     heading_of(row)};
}

/* Texts come with profiles, but for those of the bench, which are asked of one tyre. */
static bool wanted(const struct hobble_param *row, const char *command)
{
    if (row->group == HOBBLE_BENCH)
        return is_date(row) || strcmp(command, "condition") == 0;
    return row->kind != HOBBLE_TEXT && heading_of(row) != 0;
}

static bool takes_row(const struct command *command, const struct hobble_param *row)
{
    static const unsigned of[] = {
        [OF_TRIP] = TAKES_TRIP, [OF_TYRE] = TAKES_TYRE, [OF_STUDY] = TAKES_STUDY};
    if (row->group == HOBBLE_BENCH && !is_date(row))
        return true;
    return (command->takes & of[heading_of(row)]) != 0 ||
           ((command->takes & TAKES_SEED) != 0 && strcmp(row->key, "seed") == 0);
}

/* Only headings that something stands under; they have to stand before it in the table. */
static void add_headings(struct option_table *t)
{
    static const char *const heading[HEADINGS] = {[OF_TRIP - 1] = "What happens and is asked:",
                                                  [OF_TYRE - 1] = "What is known of the tyre:",
                                                  [OF_FILES - 1] = "Tyre and vehicle:",
                                                  [OF_STUDY - 1] = "How it is computed:",
                                                  [OF_OUTPUT - 1] = "What is printed:",
                                                  [OF_COMMAND - 1] = "Of this command:",
                                                  [OF_BENCH - 1] =
                                                      "What is known and seen on the bench:"};
    unsigned used = 0;
    for (size_t i = HEADINGS; i < t->count; i++)
        if (t->option[i].group > 0 && !(t->option[i].flags & OPTION_HIDDEN))
            used |= 1u << t->option[i].group;
    t->first = HEADINGS;
    for (int group = HEADINGS; group > 0; group--)
        if (used & 1u << group)
            t->option[--t->first] =
                (struct argp_option){NULL, 0, NULL, 0, heading[group - 1], group};
}

/* What the command does not take is in the table too, hidden: so it is refused by its name, and is
 * never read as an abbreviation of another. */
static void build(struct option_table *t, const struct command *command)
{
    size_t count;
    const struct hobble_param *row = hobble_param_table(&count);
    bool has_folder = false;
    t->count = HEADINGS;
    for (size_t i = 0; i < sizeof general / sizeof *general; i++) {
        t->option[t->count] = general[i].option;
        if (general[i].takes != 0 && (general[i].takes & command->takes) == 0)
            t->option[t->count].flags |= OPTION_HIDDEN;
        t->count++;
    }
    for (size_t i = 0; i < count && t->count < OPTIONS_MAX - 2; i++)
        if (wanted(&row[i], command->name))
            add_row(t, &row[i], (int)i, takes_row(command, &row[i]) ? 0 : OPTION_HIDDEN);
    for (size_t i = 0; i < sizeof own / sizeof *own && t->count < OPTIONS_MAX - 2; i++)
        if (strcmp(own[i].command, command->name) == 0) {
            t->option[t->count++] = own[i].option;
            has_folder = has_folder || own[i].option.key == KEY_OUT;
        }
    if (!has_folder)
        t->option[t->count++] =
            (struct argp_option){"out", KEY_REFUSED, "DIR", OPTION_HIDDEN, NULL, OF_OUTPUT};
    t->option[t->count] = (struct argp_option){0};
    add_headings(t);
}

static bool is_for(const struct command *command, const char *commands)
{
    char word[32];
    snprintf(word, sizeof word, " %s ", command->name);
    return strstr(commands, word) != NULL;
}

static bool is_common(const struct command *command, const struct argp_option *option)
{
    if (option->group == OF_COMMAND || option->group == -1)
        return true;
    for (size_t i = 0; i < sizeof common / sizeof *common; i++)
        if (strcmp(common[i].name, option->name) == 0 &&
            (!common[i].commands || is_for(command, common[i].commands)))
            return true;
    return false;
}

/* The short help: leaves the common options to be seen; returns how many more there are. */
static int leave_common(struct option_table *t, const struct command *command)
{
    int hidden = 0;
    for (size_t i = HEADINGS; i < t->count; i++)
        if (!(t->option[i].flags & OPTION_HIDDEN) && !is_common(command, &t->option[i])) {
            t->option[i].flags |= OPTION_HIDDEN;
            hidden++;
        }
    add_headings(t);
    return hidden;
}

void hb_options_each(const struct command *command, hb_option_take *take, void *into)
{
    static struct option_table table;
    build(&table, command);
    for (struct argp_option *o = &table.option[table.first]; o->name || o->doc; o++) {
        const bool of_row = o->key >= KEY_ROW && o->key <= KEY_ROW + ROWS_MAX;
        const char *words = of_row ? hobble_param_table(NULL)[o->key - KEY_ROW].words : NULL;
        if (words) /* the help shortens long lists */
            o->arg = words;
        if (o->name && !(o->flags & OPTION_HIDDEN))
            take(into, o);
    }
}

/* A name or a file of a profile, or else a marking, whose fault is then the one to show. */
static bool looks_like_marking(const char *text)
{
    return strpbrk(text, "/ ") != NULL && !strchr("./~", *text) && !hb_ends_in(text, ".cfg") &&
           access(text, F_OK) != 0;
}

static void set_tyre(struct cli *cli, const char *text)
{
    struct hobble_marking marking;
    struct hobble_fault why = {0};
    const bool good = hobble_marking_parse(text, &marking, &why) == HOBBLE_OK;
    if (!good && !looks_like_marking(text)) {
        hb_profile_load(text, HOBBLE_TYRE, cli->c, NULL, &cli->faults);
        return;
    }
    if (!good) {
        hobble_fault_text(why.key, "--tyre");
        hobble_faults_add(&cli->faults, &why);
        return;
    }
    hb_set_text(cli->c, "marking", text, "--tyre", &cli->faults);
}

/* Notes that an option sets a key. One that another has set to something else is a fault: which of
 * the two is meant cannot be known. */
static bool first_time(struct cli *cli, const char *key, size_t length, const char *value)
{
    for (size_t i = 0; i < cli->said; i++) {
        const struct said *other = &cli->say[i];
        if (other->length != length || strncmp(other->key, key, length) != 0)
            continue;
        if (strcmp(other->value, value) == 0)
            return false;
        struct hobble_fault f = {.status = HOBBLE_E_DUPLICATE};
        snprintf(f.key, sizeof f.key, "%.*s", (int)length, key);
        hobble_fault_text(f.given, value);
        hobble_fault_text(f.allowed, "one value by options");
        hobble_faults_add(&cli->faults, &f);
        return false;
    }
    if (cli->said < sizeof cli->say / sizeof *cli->say)
        cli->say[cli->said++] = (struct said){key, value, length};
    return true;
}

static void set_row(struct cli *cli, int place, const char *value)
{
    const struct hobble_param *row = &hobble_param_table(NULL)[place];
    char origin[HOBBLE_FAULT_TEXT];
    const size_t length = strlen(value);
    hb_option_of(row->key, origin);
    /* --load 75% is a share of the index */
    const bool share = strcmp(row->key, "load") == 0 && length > 0 && value[length - 1] == '%';
    if (first_time(cli, row->key, strlen(row->key), value))
        hb_set_text(cli->c, share ? "load_share" : row->key, value, origin, &cli->faults);
}

static void set_any(struct cli *cli, const char *key_equals_value)
{
    const size_t length = strcspn(key_equals_value, "=");
    const char *value = key_equals_value + length + (key_equals_value[length] == '=');
    if (first_time(cli, key_equals_value, length, value))
        hb_set_option(cli->c, key_equals_value, &cli->faults);
}

/* A usage error that repeats what was given, without what would change the terminal. */
static void usage(struct argp_state *state, const char *before, const char *given,
                  const char *after)
{
    char shown[HOBBLE_FAULT_TEXT];
    hobble_fault_text(shown, given);
    argp_error(state, "%s'%s'%s", before, shown, after);
}

static void set_threads(struct cli *cli, const char *text, struct argp_state *state)
{
    char *end;
    const long n = strtol(text, &end, 10);
    if (end == text || *end || n < 1 || n > 1024)
        usage(state, "--threads: ", text, " is not a whole number from 1 to 1024");
    else
        cli->threads = (int)n;
}

static void set_units(struct cli *cli, const char *text, struct argp_state *state)
{
    struct hb_near near = hb_near_to(text);
    char after[HOBBLE_FAULT_TEXT + 60] = " is neither metric nor us";
    hb_near_try_words(&near, "metric|us");
    if (*near.best)
        snprintf(after, sizeof after, " is neither metric nor us; did you mean %s?", near.best);
    if (strcmp(text, "us") != 0 && strcmp(text, "metric") != 0)
        usage(state, "--units: ", text, after);
    cli->us = strcmp(text, "us") == 0;
}

static error_t parse_word(struct cli *cli, char *word, struct argp_state *state)
{
    if (cli->words >= cli->command->words_most)
        usage(state, "", word, " is one word too many");
    else
        cli->word[cli->words++] = word;
    return 0;
}

static void take_journey(struct cli *cli, const char *name)
{
    char path[HB_PATH_MAX];
    if (hb_file_find(name, "journey", "--journey", path, sizeof path, &cli->faults) == HOBBLE_OK)
        hb_journey_read(path, cli->c, &cli->faults);
}

/* A case file that is not there is begun by --ask, or missed by the command. */
static void take_case(struct cli *cli, const char *path)
{
    cli->case_file = path;
    if (access(path, F_OK) == 0)
        hb_profile_read_kind(path, HOBBLE_BENCH, cli->c, NULL, &cli->faults);
}

/* Whether it is a file. Files are read first, so that all else that is said counts over them. */
static bool take_file(struct cli *cli, int key, const char *value)
{
    static const struct {
        int key, kind;
        const char *option;
    } file[] = {{KEY_VEHICLE, HOBBLE_VEHICLE, "--vehicle"},
                {KEY_PROFILE, HB_ANY_KIND, "--profile"},
                {KEY_RULES, HOBBLE_RULES, "--rules"},
                {KEY_TYRE, HOBBLE_TYRE, "--tyre"},
                {KEY_CASE, HOBBLE_BENCH, "--case"}};
    for (size_t i = 0; i < sizeof file / sizeof *file; i++) {
        if (file[i].key != key)
            continue;
        if (cli->files_only && key == KEY_TYRE)
            set_tyre(cli, value); /* may be a marking */
        else if (cli->files_only && key == KEY_CASE)
            take_case(cli, value); /* need not be there */
        else if (cli->files_only)
            hb_profile_load_as(value, file[i].option, file[i].kind, cli->c, NULL, &cli->faults);
        return true;
    }
    return false;
}

/* Options that only note what was given: where to. */
static bool note_option(struct cli *cli, int key, const char *value)
{
    const struct {
        int key;
        bool *flag;
        const char **text;
    } place[] = {
        {KEY_JSON, &cli->json, NULL},
        {KEY_EXPLAIN, &cli->explain, NULL},
        {KEY_CHECK, &cli->check, NULL},
        {KEY_CSV, &cli->csv, NULL},
        {KEY_FULL, &cli->full, NULL},
        {KEY_LIST, &cli->list, NULL},
        {KEY_MERGE, &cli->merge, NULL},
        {KEY_ASK, &cli->ask, NULL},
        {KEY_INSIDE, &cli->inside_clean, NULL},
        {KEY_PLOT, NULL, &cli->plot},
        {KEY_OUTSIDE, &cli->outside_clean, NULL},
        {'o', NULL, &cli->output},
        {KEY_RULE, NULL, &cli->rule},
        {KEY_X, NULL, &cli->axis[0]},
        {KEY_Y, NULL, &cli->axis[1]},
        {KEY_SHEET, NULL, &cli->sheet},
        {KEY_OUT, NULL, &cli->out},
        {KEY_SHARD, NULL, &cli->shard},
        {KEY_COLUMN, NULL, &cli->columns},
        {KEY_SENSOR, NULL, &cli->sensor},
        {KEY_EVIDENCE, NULL, &cli->evidence},
    };
    for (size_t i = 0; i < sizeof place / sizeof *place; i++)
        if (place[i].key == key) {
            if (place[i].flag)
                *place[i].flag = true;
            else
                *place[i].text = value;
            return true;
        }
    return false;
}

static void help(struct argp_state *state, unsigned what)
{
    argp_state_help(state, stdout, what & ~(unsigned)ARGP_HELP_EXIT_OK);
    exit(hb_cli_finish());
}

/* --help, or --help=all; argp prints what the table does not hide. */
static void help_options(const struct command *command, const char *how, struct argp_state *state)
{
    if (how && strcmp(how, "all") != 0)
        usage(state, "--help: ", how, " is not all");
    const int hidden = how ? 0 : leave_common(&listed, command);
    struct argp shown = *state->root_argp;
    shown.options = &listed.option[listed.first];
    argp_help(&shown, stdout, ARGP_HELP_STD_HELP & ~(unsigned)ARGP_HELP_EXIT_OK, state->name);
    if (hidden > 0)
        printf("\nhobble %s --help=all lists %d more.\n", command->name, hidden);
    exit(hb_cli_finish());
}

static void refuse_hidden(int key, struct argp_state *state)
{
    for (const struct argp_option *o = state->root_argp->options; o->name || o->doc; o++)
        if (o->key == key && (o->flags & OPTION_HIDDEN))
            argp_error(state, "--%s is not an option of this command", o->name);
}

/* The rest, which changes the case or is checked at once. */
static error_t parse_value(struct cli *cli, int key, char *value, struct argp_state *state)
{
    if (key == KEY_SET)
        set_any(cli, value);
    else if (key == KEY_LEG)
        hb_leg_option(cli->c, value, &cli->faults);
    else if (key == KEY_JOURNEY)
        take_journey(cli, value);
    else if (key == KEY_THREADS)
        set_threads(cli, value, state);
    else if (key == KEY_UNITS)
        set_units(cli, value, state);
    else if (key >= KEY_ROW && key <= KEY_ROW + ROWS_MAX)
        set_row(cli, key - KEY_ROW, value);
    else
        return ARGP_ERR_UNKNOWN;
    return 0;
}

static error_t parse(int key, char *value, struct argp_state *state)
{
    struct cli *cli = state->input;
    refuse_hidden(key, state);
    if (key == 'h')
        help_options(cli->command, value, state);
    if (key == KEY_USAGE)
        help(state, ARGP_HELP_USAGE);
    if (take_file(cli, key, value))
        return 0;
    if (cli->files_only)
        return key < ARGP_KEY_END ? 0 : ARGP_ERR_UNKNOWN;
    if (key == ARGP_KEY_ARG)
        return parse_word(cli, value, state);
    if (key == ARGP_KEY_END && cli->words < cli->command->words_wanted)
        argp_error(state, "a word is missing: %s", cli->command->arguments);
    return note_option(cli, key, value) ? 0 : parse_value(cli, key, value, state);
}

/* The option that a name means, whole or begun; NULL where none does. *several: where more do. */
static const struct argp_option *find_option(const char *name, size_t length, bool *several)
{
    const struct argp_option *found = NULL;
    *several = false;
    for (const struct argp_option *o = &listed.option[listed.first]; o->name || o->doc; o++) {
        if (!o->name || strncmp(o->name, name, length) != 0)
            continue;
        if (o->name[length] == '\0')
            return o;
        *several = *several || found;
        found = o;
    }
    return found;
}

/* Options are named as they were typed, without what would change the terminal. */
static void refuse_option(const char *program, const char *typed)
{
    char name[HOBBLE_FAULT_TEXT], shown[HOBBLE_FAULT_TEXT];
    struct hb_near near;
    snprintf(name, sizeof name, "%.*s", (int)strcspn(typed, "="), typed);
    hobble_fault_text(shown, name);
    near = hb_near_to(name + strspn(name, "-"));
    for (const struct argp_option *o = &listed.option[listed.first]; o->name || o->doc; o++)
        if (o->name && !(o->flags & OPTION_HIDDEN))
            hb_near_try(&near, o->name);
    fprintf(stderr, "%s: '%s' is not an option of this command", program, shown);
    hb_cli_meant(&near, "--");
    exit(hobble_status_exit(HOBBLE_E_USAGE));
}

/* Finds misspelt options before argp does, which knows no near names. What follows an option that
 * takes a value is that value. */
static void check_options(const char *program, int argc, char **argv)
{
    for (int i = 1; i < argc && strcmp(argv[i], "--") != 0; i++) {
        const char *typed = argv[i];
        bool several = false;
        if (typed[0] != '-' || typed[1] == '\0' || strcmp(typed, "-h") == 0)
            continue;
        if (typed[1] == 'o') {
            i += typed[2] == '\0';
            continue;
        }
        const size_t length = typed[1] == '-' ? strcspn(typed + 2, "=") : 0;
        const struct argp_option *o = length > 0 ? find_option(typed + 2, length, &several) : NULL;
        if (!o)
            refuse_option(program, typed);
        if (!several && o->arg && !(o->flags & OPTION_ARG_OPTIONAL) && typed[2 + length] == '\0')
            i++;
    }
}

void hb_options_read(const struct command *command, struct cli *cli, int argc, char **argv)
{
    static char program[64];
    build(&listed, command);
    snprintf(program, sizeof program, "hobble %s", command->name);
    const struct argp argp = {
        &listed.option[listed.first], parse, command->arguments, command->about, NULL, NULL, NULL};
    cli->program = program;
    cli->command = command;
    cli->bare = argc == 1;
    check_options(program, argc, argv);
    argv[0] = program;
    cli->files_only = true; /* what was said counts over what is in a file, whatever came first */
    argp_parse(&argp, argc, argv, ARGP_NO_HELP, NULL, cli);
    cli->files_only = false;
    argp_parse(&argp, argc, argv, ARGP_NO_HELP, NULL, cli);
}
