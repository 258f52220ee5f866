/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/condition.h"

#include "input/profile.h"
#include "input/setting.h"
#include "report/describe/condition_words.h"
#include "report/describe/words.h"

#include <string.h>

/* What is asked, in order; a question whose condition does not hold is left out, and its row then
 * does not matter. */
static const struct question {
    const char *key;
    const char *if_key; /* NULL: always */
    enum { HOLDS, DIFFERS, ABOVE_ZERO } how;
    const char *word;
} questions[] = {
    {"job", NULL, HOLDS, NULL},
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

/* Where an answer leads. */
enum step { BACK = -1, ENDED = 0, ON = 1, AGAIN };

/* The first rules that look at it; which they all are stands in docs/condition-rules.md. */
static void why_asked(FILE *out, int row)
{
    int shown = 0;
    for (size_t i = 0; hobble_condition_rule(i) && shown < WHY_MOST; i++)
        if (hobble_condition_rule_uses(i, row)) {
            const struct hobble_fired *rule = &hobble_condition_rule(i)->rule;
            if (shown++ == 0)
                fprintf(out, "  It is asked because of\n");
            hb_print_wrapped(out, "  - ", 4, rule->reason);
            hb_print_wrapped(out, "    Source: ", 12, rule->source);
        }
}

static void help(FILE *out, int row)
{
    const struct hobble_param *p = &hobble_param_table(NULL)[row];
    char allowed[HOBBLE_FAULT_TEXT];
    hb_row_allowed(row, false, allowed, sizeof allowed);
    fprintf(out, "  Answer: %s\n",
            p->kind == HOBBLE_TEXT   ? "as it stands on the tyre or the papers"
            : p->kind == HOBBLE_WORD ? "a number of the list, a word of it or its beginning"
                                     : allowed);
    fprintf(out,
            "  Empty, or \"don't know\": not known, which counts at its worst; empty leaves an\n"
            "  answer that was given as it is.  back: the question before.  quit: stop here;\n"
            "  what was answered is kept.\n");
    why_asked(out, row);
}

static bool run_flat_marked(const hobble_case *c)
{
    struct hobble_marking m;
    const char *text = hobble_case_text(c, hobble_param_find("marking"));
    return hobble_marking_parse(text, &m, NULL) == HOBBLE_OK && m.flat == HOBBLE_MARK_RF;
}

static bool answered(const hobble_case *c, int row)
{
    const struct hobble_param *p = &hobble_param_table(NULL)[row];
    const bool unknown =
        p->words && strncmp(p->words, "unknown|", 8) == 0 && hobble_case_number(c, row) < 0.5;
    if (strcmp(p->key, "load") == 0 && (hobble_case_given(c, hobble_param_find("load_share")) ||
                                        hobble_case_given(c, hobble_param_find("people"))))
        return true; /* the other ways to say it */
    if (strcmp(p->key, "construction") == 0 && run_flat_marked(c))
        return true; /* the marking says it */
    return hobble_case_given(c, row) && !unknown;
}

static void prompt(const struct hb_asking *a, int place, int row)
{
    const struct hobble_param *p = &hobble_param_table(NULL)[row];
    char first[32], now[HOBBLE_FAULT_TEXT];
    snprintf(first, sizeof first, "\n%d/%d  ", place + 1, QUESTIONS);
    hb_print_wrapped(a->out, first, 6, p->meaning);
    if (answered(a->c, row) && hobble_case_given(a->c, row)) {
        hb_condition_value(a->c, row, false, now, sizeof now);
        fprintf(a->out, "  Now: %s\n", now);
    }
    if (p->kind == HOBBLE_WORD)
        hb_choice_print(a->out, p->words);
    const char *unit = hobble_unit_symbol(p->unit);
    fprintf(a->out, p->kind == HOBBLE_NUMBER && *unit ? "  [%s] > " : "  > ", unit);
    fflush(a->out);
}

/* What is known, on the day of the inspection. The day itself is not kept: a case that is gone on
 * with later is of a tyre that is older. */
static enum hobble_status judge(struct hb_asking *a, const hobble_case *c,
                                struct hobble_condition_answer *answer, struct hobble_faults *sink)
{
    hobble_case *dated = hobble_case_clone(c);
    if (!dated)
        return HOBBLE_E_MEMORY;
    if (!*hobble_case_text(c, hobble_param_find("inspection_date")))
        hobble_case_set_text(dated, hobble_param_find("inspection_date"), a->today, "today", NULL);
    const enum hobble_status status = hobble_condition_judge(dated, a->threads, answer, sink);
    hobble_case_free(dated);
    return status;
}

/* One answer into a case; false, and said why, where it is none. */
static bool put(struct hb_asking *a, hobble_case *c, int row, const char *text,
                struct hobble_faults *faults)
{
    const struct hobble_param *p = &hobble_param_table(NULL)[row];
    const bool load = strcmp(p->key, "load") == 0, share = load && strchr(text, '%');
    char word[64];
    int place = 0;
    if (p->kind == HOBBLE_WORD && (place = hb_choice_read(p->words, text)) < 0) {
        hb_choice_refuse(a->out, p->words, text, place);
        return false;
    }
    hobble_case_forget(c, row);
    if (load) /* the one or the other */
        hobble_case_forget(c, hobble_param_find("load_share"));
    if (p->kind != HOBBLE_WORD)
        return hb_choice_unknown(text) ||
               hb_set_text(c, share ? "load_share" : p->key, text, "asked", faults) == HOBBLE_OK;
    hobble_param_word_at(p, place, word, sizeof word);
    return strcmp(word, "unknown") == 0 ||
           hobble_case_set_word(c, row, word, "asked", faults) == HOBBLE_OK;
}

/* Takes an answer; false when it has to be given again. */
static bool take(struct hb_asking *a, int row, const char *text)
{
    static struct hobble_faults faults;
    static struct hobble_condition_answer answer;
    hobble_case *trial = hobble_case_clone(a->c);
    memset(&faults, 0, sizeof faults);
    bool good = trial && put(a, trial, row, text, &faults);
    /* a contradiction is told at once, not after the last question */
    good = good && judge(a, trial, &answer, &faults) == HOBBLE_OK;
    if (good) {
        hobble_case_assign(a->c, trial);
        a->answer = answer;
    }
    hb_print_faults(a->out, &faults);
    hobble_case_free(trial);
    return good;
}

/* Asks one question until it has an answer. The case is kept as it is then. */
static enum hobble_status ask_one(struct hb_asking *a, int place, enum step *step)
{
    const int row = hobble_param_find(questions[place].key);
    for (;;) {
        prompt(a, place, row);
        const char *text = hb_asking_line(a);
        *step = !text ? ENDED : strcmp(text, "back") == 0 ? BACK : ON;
        if (*step != ON || !*text)
            return HOBBLE_OK;
        if (strcmp(text, "?") == 0)
            help(a->out, row);
        else if (take(a, row, text))
            return hb_kept_write(a);
    }
}

/* Place of the next question in a direction that is asked (and, going on, not answered yet);
 * QUESTIONS past the last one. */
static int next(const hobble_case *c, int place, int step)
{
    for (place += step; place >= 0 && place < QUESTIONS; place += step)
        if (asked(c, &questions[place]) &&
            (step < 0 || !answered(c, hobble_param_find(questions[place].key))))
            return place;
    return place < 0 ? next(c, -1, 1) : QUESTIONS;
}

/* The last question that has an answer, or -1. */
static int last_answered(const hobble_case *c)
{
    int place = QUESTIONS - 1;
    while (place >= 0 && !answered(c, hobble_param_find(questions[place].key)))
        place--;
    return place;
}

/* The verdict is decided: no more is asked, unless an answer was wrong. */
static enum step decided(struct hb_asking *a)
{
    static const char choices[] = "end here|an answer was wrong, ask it again";
    fprintf(a->out, "\nDecided: SCRAP, by the rule %s.\n", a->answer.rule[0].id);
    hb_print_wrapped(a->out, "  ", 2, a->answer.rule[0].reason);
    hb_print_wrapped(a->out, "  ", 2,
                     "Nothing that is stated from here on can make that better, so no more is "
                     "asked.");
    hb_choice_print(a->out, choices);
    for (;;) {
        fprintf(a->out, "  [empty: end here] > ");
        fflush(a->out);
        const char *text = hb_asking_line(a);
        const int place = !text || !*text             ? 0
                          : strcmp(text, "back") == 0 ? 1
                                                      : hb_choice_read(choices, text);
        if (place >= 0)
            return place == 0 ? ENDED : BACK;
        hb_choice_refuse(a->out, choices, text, place);
    }
}

/* What is most worth finding out when the questions end and the verdict is by what is unknown. */
static void what_matters(const struct hb_asking *a)
{
    const struct hobble_param *p = hobble_param_table(NULL);
    char text[HOBBLE_FAULT_TEXT * 4], name[64];
    if (a->answer.matters_most < 0)
        return;
    hb_words_spaced(p[a->answer.matters_most].key, name, sizeof name);
    snprintf(text, sizeof text, "%s: %s.", name, p[a->answer.matters_most].meaning);
    fprintf(a->out, "\nNot decided by what is known. What would matter most to find out:\n");
    hb_print_wrapped(a->out, "  ", 2, text);
}

/* Asks from a place on until all is asked, decided or left. */
static enum hobble_status go_through(struct hb_asking *a)
{
    enum hobble_status status = HOBBLE_OK;
    enum step step = ON;
    int place = next(a->c, -1, 1);
    int before = last_answered(a->c); /* asked again where that is wanted */
    while (status == HOBBLE_OK && step != ENDED) {
        if (step == ON && a->answer.decided && (step = decided(a)) == BACK)
            place = before < 0 ? 0 : before;
        if (step == ENDED || place == QUESTIONS)
            break;
        status = ask_one(a, place, &step);
        before = place;
        if (step != ENDED)
            place = next(a->c, place, step == BACK ? -1 : 1);
    }
    return status;
}

enum hobble_status hb_condition_ask(struct hb_asking *a, struct hobble_faults *sink)
{
    enum hobble_status status = judge(a, a->c, &a->answer, sink);
    if (status != HOBBLE_OK)
        return status;
    fprintf(
        a->out,
        "One question at a time: ? for help, empty when not known, back, quit.\nAnswers are kept "
        "after each, and nothing is lost by quitting, in\n%s\n",
        a->path);
    status = go_through(a);
    what_matters(a);
    fprintf(a->out, "\n");
    return status;
}
