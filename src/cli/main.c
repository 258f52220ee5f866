/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/cli.h"
#include "cli/complete.h"
#include "cli/notes.h"
#include "cli/parts.h"
#include "cli/today.h"

#include "input/near.h"
#include "report/describe/words.h"
#include "report/version.h"

#include <locale.h>
#include <string.h>

static const struct command commands[] = {
    {"range",
     "How far the tyre still carries the vehicle, how sure that is, and what becomes of it.",
     hb_cli_range, NULL, 0, 0, TAKES_ANSWER | TAKES_CHECK | TAKES_PLOT},
    {"rule", "Whether 80 km at 80 km/h holds at these conditions, and where that flips.",
     hb_cli_rule, NULL, 0, 0, TAKES_ANSWER | TAKES_CHECK},
    {"map", "The range over two conditions at once, with the rule's border.", hb_cli_map, NULL, 0,
     0, TAKES_ANSWER | TAKES_PLOT},
    {"why", "Which of the things that are not known matter most to the answer.", hb_cli_why, NULL,
     0, 0, TAKES_ANSWER | TAKES_PLOT},
    {"show",
     "Draws a picture for a class into the file of --plot, or prints its numbers.\v"
     "wall: temperature through the wall over depth and time\n"
     "contour: load against speed where the same distance is left\n"
     "life: life used along a journey with stops (--leg, --journey)\n"
     "mark: what the approval mark is worth: ranges and unknowns before and after it",
     hb_cli_show, "wall|contour|life|mark", 1, 1, TAKES_ANSWER | TAKES_PLOT},
    {"replay",
     "What a recorded drive did to a tyre, what is left, and measured over computed.\v"
     "LOG is a file of CSV, GPX 1.1, NMEA 0183 or JSON lines; - is the standard input. More than "
     "one: parts of one drive, or recorded beside each other.",
     hb_cli_replay, "LOG...", 1, 32, TAKES_ANSWER | TAKES_CHECK | TAKES_PLOT},
    {"condition",
     "What becomes of the tyre: scrap, or dismount and inspect; never more.\v"
     "Without options, on a terminal, it asks one question at a time. What is not stated counts at "
     "its worst.",
     hb_cli_condition, NULL, 0, 0, TAKES_CASE | TAKES_JSON | TAKES_CHECK},
    {"policy",
     "The roadside policy of a fleet: how far, how fast, what risk is left, what else would cost.\v"
     "FLEET.cfg names vehicles, loads, seasons, help and costs; profiles/fleet/demo.cfg is one.",
     hb_cli_policy, "FLEET.cfg", 1, 1,
     TAKES_STUDY | TAKES_JSON | TAKES_EXPLAIN | TAKES_CHECK | TAKES_OUTPUT | TAKES_UNITS |
         TAKES_THREADS},
    {"page",
     "One file with the same core inside, for a phone or a projector; it needs no network.\v"
     "Offers the named profiles of tyres and vehicles, or all of them. A tyre named right after a "
     "vehicle is that vehicle's own. Write it with -o FILE.html.",
     hb_cli_page, "[PROFILE...]", 0, 32, TAKES_SEED | TAKES_OUTPUT | TAKES_UNITS},
    {"card", "The glove-box card of one vehicle as PDF, to be cut out; write it with -o FILE.pdf.",
     hb_cli_card, NULL, 0, 0, TAKES_ANSWER},
    {"profile",
     "Lists, shows, checks or begins profiles of tyres, vehicles and fleets, and bench cases.\v"
     "list: names and what they are\nshow NAME: every value\ncheck FILE: all faults of a file, a "
     "fleet or a journey too\n"
     "new tyre|vehicle|fleet|bench: a starting file on standard output; new NAME: from a profile\n"
     "keys: every key with its limits and sources",
     hb_cli_profile, "list|show|check|new|keys [NAME|FILE]", 1, 2, TAKES_JSON | TAKES_OUTPUT},
};
enum { COMMANDS = sizeof commands / sizeof *commands };

static void overview(FILE *f)
{
    fprintf(f, "Usage: hobble COMMAND [OPTION...]\n"
               "How far a self-supporting tyre still carries a vehicle without air.\n\n");
    for (int i = 0; i < COMMANDS; i++) {
        const int first = (int)strcspn(commands[i].about, "\v");
        fprintf(f, "  %-10s %.*s\n", commands[i].name, first, commands[i].about);
    }
    fprintf(f,
            "\nhobble help COMMAND tells the common options, hobble COMMAND --help=all every one;\n"
            "hobble --version the versions.\n"
            "Never while driving. It is advice, not permission: see SAFETY.md.\n");
}

static int run(const struct command *command, int argc, char **argv)
{
    struct cli cli = {.c = hobble_case_new()};
    if (!cli.c) {
        fprintf(stderr, "hobble: %s\n", hobble_status_text(HOBBLE_E_MEMORY));
        return hobble_status_exit(HOBBLE_E_MEMORY);
    }
    hb_options_read(command, &cli, argc, argv);
    hb_outputs_check(&cli);
    if (command->takes & TAKES_TYRE && strcmp(command->name, "condition") != 0)
        hb_age_by_code(cli.c, &cli.faults); /* condition dates its case when all is asked */
    if (command->takes & TAKES_TYRE && cli.faults.count == 0)
        hb_notes(stderr, cli.c);
    const bool undrawn = cli.plot && !hb_part_built(HB_PART_PICTURES);
    const int status = cli.faults.count > 0 ? hb_cli_fail(&cli, HOBBLE_E_USAGE)
                       : undrawn            ? hb_part_missing("--plot", HB_PART_PICTURES)
                                            : command->run(&cli);
    hobble_case_free(cli.c);
    return status;
}

static const struct command *find_command(const char *name)
{
    for (int i = 0; i < COMMANDS; i++)
        if (strcmp(name, commands[i].name) == 0)
            return &commands[i];
    return NULL;
}

static int no_command(const char *name)
{
    char shown[HOBBLE_FAULT_TEXT];
    struct hb_near near = hb_near_to(name);
    for (int i = 0; i < COMMANDS; i++)
        hb_near_try(&near, commands[i].name);
    hobble_fault_text(shown, name);
    fprintf(stderr, "hobble: '%s' is not a command", shown);
    hb_cli_meant(&near, "hobble ");
    overview(stderr);
    return hobble_status_exit(HOBBLE_E_USAGE);
}

/* hobble help [COMMAND [all]] */
static int help(int argc, char **argv)
{
    static char all[] = "--help=all", common[] = "--help";
    const bool every = argc > 3 && strcmp(argv[3], "all") == 0;
    const struct command *command = argc > 2 ? find_command(argv[2]) : NULL;
    if (argc > 2 && !command)
        return no_command(argv[2]);
    if (command)
        return run(command, 2, (char *[]){argv[2], every ? all : common, NULL});
    overview(stdout);
    return hb_cli_finish();
}

static bool is_one_of(const char *word, const char *a, const char *b)
{
    return strcmp(word, a) == 0 || strcmp(word, b) == 0;
}

int main(int argc, char **argv)
{
    setlocale(LC_CTYPE, "");
    argp_err_exit_status = hobble_status_exit(HOBBLE_E_USAGE);
    if (argc > 1 && strcmp(argv[1], "--version") == 0) {
        hb_print_versions(stdout);
        return hb_cli_finish();
    }
    if (argc > 1 && (is_one_of(argv[1], "--help", "-h") || strcmp(argv[1], "help") == 0))
        return help(strcmp(argv[1], "help") == 0 ? argc : 1, argv);
    if (argc == 3 && strcmp(argv[1], "--completion") == 0)
        return hb_cli_complete(argv[2], commands, COMMANDS);
    if (argc > 1) {
        const struct command *command = find_command(argv[1]);
        return command ? run(command, argc - 1, argv + 1) : no_command(argv[1]);
    }
    overview(stderr);
    return hobble_status_exit(HOBBLE_E_USAGE);
}
