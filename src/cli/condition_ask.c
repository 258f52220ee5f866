/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/condition.h"

#include "input/profile.h"
#include "input/setting.h"
#include "report/out.h"
#include "report/words.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

/* What is asked, in order; a question whose condition does not hold is left out, and its row then
 * does not matter. */
static const struct question {
    const char *key;
    const char *if_key; /* NULL: always */
    enum { HOLDS, DIFFERS, ABOVE_ZERO } how;
    const char *word;
} questions[] = {
    {"marking", NULL, HOLDS, NULL},
    {"construction", NULL, HOLDS, NULL},
    {"date_code", NULL, HOLDS, NULL},
    {"stored_unused", NULL, HOLDS, NULL},
    {"ran_flat", NULL, HOLDS, NULL},
    {"lowest_pressure", NULL, HOLDS, NULL},
    {"pressure_log", NULL, HOLDS, NULL},
    {"low_distance", NULL, HOLDS, NULL},
    {"low_speed", "low_distance", ABOVE_ZERO, NULL},
    {"load", "low_distance", ABOVE_ZERO, NULL},
    {"ambient", "low_distance", ABOVE_ZERO, NULL},
    {"sealant", NULL, HOLDS, NULL},
    {"recheck_pressure", "sealant", HOLDS, "yes"},
    {"injury_zone", NULL, HOLDS, NULL},
    {"injury_count", "injury_zone", DIFFERS, "none"},
    {"injury_offset", "injury_zone", DIFFERS, "none"},
    {"injury_size", "injury_zone", DIFFERS, "none"},
    {"injury_angle", "injury_zone", DIFFERS, "none"},
    {"repaired", NULL, HOLDS, NULL},
    {"earlier_repairs", "repaired", DIFFERS, "no"},
    {"earlier_repair_quality", "repaired", DIFFERS, "no"},
    {"injury_spacing", "injury_zone", DIFFERS, "none"},
    {"tread_depth", NULL, HOLDS, NULL},
    {"out_bulge", NULL, HOLDS, NULL},
    {"out_cord", NULL, HOLDS, NULL},
    {"out_cut_to_cord", NULL, HOLDS, NULL},
    {"out_cut_length", "out_cut_to_cord", DIFFERS, "no"},
    {"out_ring", NULL, HOLDS, NULL},
    {"out_cracks", NULL, HOLDS, NULL},
    {"out_loose_tread", NULL, HOLDS, NULL},
    {"rim_damage", NULL, HOLDS, NULL},
    {"neighbour_checked", NULL, HOLDS, NULL},
    {"maker_approval", NULL, HOLDS, NULL},
    {"inspected_inside", NULL, HOLDS, NULL},
    {"in_dust", "inspected_inside", HOLDS, "yes"},
    {"in_abraded", "inspected_inside", HOLDS, "yes"},
    {"in_wrinkled", "inspected_inside", HOLDS, "yes"},
    {"in_blisters", "inspected_inside", HOLDS, "yes"},
    {"in_discoloured", "inspected_inside", HOLDS, "yes"},
    {"in_creased", "inspected_inside", HOLDS, "yes"},
    {"in_cord", "inspected_inside", HOLDS, "yes"},
    {"in_plies", "inspected_inside", HOLDS, "yes"},
    {"in_bead", "inspected_inside", HOLDS, "yes"},
    {"in_insert", "inspected_inside", HOLDS, "yes"},
};
enum { QUESTIONS = sizeof questions / sizeof *questions, WHY_MOST = 3 };

/* Where an answer leads. */
enum step { BACK = -1, QUIT = 0, ON = 1, AGAIN };

static bool asked(const hobble_case *c, const struct question *q)
{
    char word[64] = "";
    if (!q->if_key)
        return true;
    const int row = hobble_param_find(q->if_key);
    const double value = hobble_case_number(c, row);
    if (q->how == ABOVE_ZERO)
        return !(value <= 0.0);
    hobble_param_word_at(&hobble_param_table(NULL)[row], (int)value, word, sizeof word);
    return (strcmp(word, q->word) == 0) == (q->how == HOLDS);
}

/* The first rules that look at it; which they all are stands in docs/condition-rules.md. */
static void why_asked(int row)
{
    int shown = 0;
    for (size_t i = 0; hobble_condition_rule(i) && shown < WHY_MOST; i++)
        if (hobble_condition_rule_uses(i, row)) {
            const struct hobble_fired *rule = &hobble_condition_rule(i)->rule;
            if (shown++ == 0)
                fprintf(stderr, "  It is asked because of\n");
            hb_print_wrapped(stderr, "  - ", 4, rule->reason);
            hb_print_wrapped(stderr, "    Source: ", 12, rule->source);
        }
}

static void help(int row)
{
    const struct hobble_param *p = &hobble_param_table(NULL)[row];
    char allowed[HOBBLE_FAULT_TEXT];
    hb_row_allowed(row, false, allowed, sizeof allowed);
    fprintf(stderr, "  Answer: %s\n",
            p->kind == HOBBLE_TEXT ? "as it stands on the tyre" : allowed);
    fprintf(stderr, "  Empty: not known, which counts at its worst.  back: the question before.\n"
                    "  quit: stop here; what was answered is kept.\n");
    why_asked(row);
}

static void prompt(int place, int row)
{
    const struct hobble_param *p = &hobble_param_table(NULL)[row];
    char first[32];
    snprintf(first, sizeof first, "\n%d/%d  ", place + 1, QUESTIONS);
    hb_print_wrapped(stderr, first, 6, p->meaning);
    const char *unit = hobble_unit_symbol(p->unit);
    fprintf(stderr, "  [%s] ", p->kind == HOBBLE_WORD ? p->words : *unit ? unit : "answer");
    fflush(stderr);
}

/* Bytes that a terminal acts on, and NUL, which would hide what follows it. */
static bool holds_control(const char *text, size_t length)
{
    for (size_t i = 0; i < length; i++) {
        const unsigned char byte = (unsigned char)text[i];
        if ((byte < 0x20 && byte != '\t') || byte == 0x7f)
            return true;
    }
    return false;
}

/* One line without its end, blanks cut; NULL at the end of input. What holds control bytes is
 * refused: *refused. */
static char *read_line(char **buffer, size_t *size, bool *refused)
{
    const ssize_t got = getline(buffer, size, stdin);
    if (got < 0)
        return NULL;
    char *text = *buffer;
    size_t length = (size_t)got;
    length -= length > 0 && text[length - 1] == '\n';
    length -= length > 0 && text[length - 1] == '\r';
    text[length] = '\0';
    *refused = holds_control(text, length);
    text += strspn(text, " \t");
    for (size_t n = strlen(text); n > 0 && (text[n - 1] == ' ' || text[n - 1] == '\t'); n--)
        text[n - 1] = '\0';
    return text;
}

static enum hobble_status keep(const hobble_case *c, const char *path)
{
    struct stat seen;
    struct hb_out out;
    if (lstat(path, &seen) == 0 && !S_ISREG(seen.st_mode)) /* never in the place of a device */
        return HOBBLE_E_WRITE;
    enum hobble_status status = hb_out_open(&out);
    if (status != HOBBLE_OK)
        return status;
    status = hb_case_write(out.stream, c);
    if (status == HOBBLE_OK)
        return hb_out_close(&out, path);
    hb_out_drop(&out);
    return status;
}

/* Takes an answer; false when it has to be given again. The case is kept as it was then. */
static bool take(struct cli *cli, int row, const char *text)
{
    static struct hobble_faults faults;
    struct hobble_condition_answer unused;
    hobble_case *trial = hobble_case_clone(cli->c);
    memset(&faults, 0, sizeof faults);
    const char *key = hobble_param_table(NULL)[row].key;
    const bool share = strcmp(key, "load") == 0 && strchr(text, '%') != NULL;
    bool good = trial &&
                hb_set_text(trial, share ? "load_share" : key, text, "asked", &faults) == HOBBLE_OK;
    /* a contradiction is told at once, not after the last question */
    good = good && hobble_condition_judge(trial, cli->threads, &unused, &faults) == HOBBLE_OK;
    if (good)
        hobble_case_assign(cli->c, trial);
    else
        hb_print_faults(stderr, &faults);
    hobble_case_free(trial);
    return good;
}

/* Asks one question until it has an answer. */
static enum hobble_status ask_one(struct cli *cli, int place, const char *path, enum step *step)
{
    const int row = hobble_param_find(questions[place].key);
    char *buffer = NULL;
    size_t size = 0;
    enum hobble_status status = HOBBLE_OK;
    *step = AGAIN;
    while (*step == AGAIN) {
        prompt(place, row);
        bool refused = false;
        const char *text = read_line(&buffer, &size, &refused);
        if (!text || (!refused && (strcmp(text, "quit") == 0 || strcmp(text, "q") == 0))) {
            *step = QUIT;
        } else if (refused) {
            fprintf(stderr, "  The answer holds control characters; give it again.\n");
        } else if (strcmp(text, "?") == 0) {
            help(row);
        } else if (strcmp(text, "back") == 0) {
            *step = BACK;
        } else if (!*text) {
            *step = ON;
        } else if (take(cli, row, text)) {
            *step = ON;
            status = keep(cli->c, path);
        }
    }
    free(buffer);
    return status;
}

static bool answered(const hobble_case *c, const struct question *q)
{
    const int row = hobble_param_find(q->key);
    return hobble_case_given(c, row) ||
           (strcmp(q->key, "load") == 0 && hobble_case_given(c, hobble_param_find("load_share")));
}

/* Place of the next question in a direction that is asked (and, going on, not answered yet);
 * QUESTIONS past the last one. */
static int next(const hobble_case *c, int place, int step)
{
    for (place += step; place >= 0 && place < QUESTIONS; place += step)
        if (asked(c, &questions[place]) && (step < 0 || !answered(c, &questions[place])))
            return place;
    return place < 0 ? next(c, -1, 1) : QUESTIONS;
}

enum hobble_status hb_condition_ask(struct cli *cli, const char *path, bool *left)
{
    enum hobble_status status = HOBBLE_OK;
    int place = next(cli->c, -1, 1);
    enum step step = ON;
    fprintf(
        stderr,
        "One question at a time: ? for help, empty when not known, back, quit. Answers are kept "
        "in\n%s after each; nothing is lost by quitting.\n",
        path);
    while (status == HOBBLE_OK && place < QUESTIONS && step != QUIT) {
        status = ask_one(cli, place, path, &step);
        if (step != QUIT)
            place = next(cli->c, place, step == BACK ? -1 : 1);
    }
    *left = step == QUIT;
    fprintf(stderr, "\n");
    return status;
}
