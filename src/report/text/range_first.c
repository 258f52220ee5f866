/* SPDX-License-Identifier: GPL-3.0-or-later */
/* range_first.c - the first screen of an answer: what somebody beside a road has to read. Whatever
 * does not fit is said by --full, never squeezed. */
#include "report/describe/answers.h"
#include "report/describe/message.h"
#include "report/describe/screen.h"
#include "report/text/range.h"

#include <math.h>
#include <string.h>

enum { TEXT = 480 };

struct page {
    struct hb_screen *s;
    const struct hobble_answer *a;
    struct hb_scope scope;
};

/* Adds a sentence to the screen. */
static void add(const struct page *p, enum hb_message message)
{
    char line[TEXT];
    hb_say(message, &p->scope, line, sizeof line);
    hb_screen_add(p->s, line);
}

/* Appends one to a line, where the whole still fits the screen. */
static bool append(const struct page *p, enum hb_message message, const struct hb_scope *scope,
                   char line[static TEXT])
{
    char more[TEXT];
    hb_say(message, scope, more, sizeof more);
    return hb_screen_append(p->s, line, TEXT, more);
}

/* ---- how much there was no room for ---------------------------------------------------------- */

static const struct hb_row left_rows[] = {
    {"left_out", HB_COUNT, .forms = HB_NOT_JSON | HB_ON_FIRST}, {0}};

static struct hb_scope left_out(const struct page *p, const int *count)
{
    struct hb_scope scope = p->scope;
    scope.up = &p->scope;
    scope.rows = left_rows;
    scope.of = count;
    return scope;
}

/* ---- whose tyre, and what was assumed -------------------------------------------------------- */

static void changed(const struct page *p)
{
    char line[TEXT], more[TEXT];
    struct hb_scope found;
    const char path[] = "inputs.changed_by_hand";
    const struct hb_row *list = hb_row_find(path, strlen(path), &p->scope, &found);
    const size_t count = list->count(&found);
    int left = 0;
    hb_say(HB_SAY_RANGE_CHANGED, &p->scope, line, sizeof line);
    for (size_t i = 0; i < count; i++) {
        const struct hb_scope item = hb_row_inside(list, &found, i);
        hb_say(HB_SAY_RANGE_CHANGED_KEY, &item, more, sizeof more);
        /* there must be room for " and 99 more" */
        left += left > 0 || hb_screen_columns(line) + hb_screen_columns(more) > p->s->width - 12 ||
                !hb_screen_append(p->s, line, sizeof line, more);
    }
    const struct hb_scope scope = left_out(p, &left);
    if (left > 0)
        append(p, HB_SAY_RANGE_AND_MORE, &scope, line);
    if (count > 0)
        hb_screen_add(p->s, line);
}

static void whose(const struct page *p)
{
    char line[TEXT];
    hb_say(p->a->example        ? HB_SAY_RANGE_EXAMPLE
           : p->a->example_load ? HB_SAY_RANGE_EXAMPLE_LOAD
                                : HB_SAY_RANGE_OWN_TYRE,
           &p->scope, line, sizeof line);
    hb_screen_add_cut(p->s, line);
}

/* Behind what was assumed before, or the first. */
static void join(const struct page *p, const char *line, const char *part, char more[static TEXT])
{
    hb_say(*line ? HB_SAY_RANGE_JOIN : HB_SAY_RANGE_ASSUMED, &p->scope, more, TEXT);
    const size_t n = strlen(more);
    snprintf(more + n, TEXT - n, "%s", part);
}

/* What is usual comes first; what was taken at its worst, only where there is room. */
static void assumed(const struct page *p)
{
    const struct hobble_answer *a = p->a;
    const struct {
        bool holds;
        enum hb_message say;
    } worst[] = {
        {a->taken_as_empty, HB_SAY_RANGE_ASSUMED_EMPTY},
        {a->unseen_assumed, HB_SAY_RANGE_ASSUMED_UNSEEN},
        {a->wheel_assumed, HB_SAY_RANGE_ASSUMED_WHEEL},
    };
    char line[TEXT] = "", part[TEXT], more[TEXT];
    struct hb_scope found;
    const char path[] = "answer.assumed";
    const struct hb_row *list = hb_row_find(path, strlen(path), &p->scope, &found);
    for (size_t i = 0; i < list->count(&found); i++) {
        const struct hb_scope item = hb_row_inside(list, &found, i);
        hb_say(HB_SAY_RANGE_ASSUMED_ROW, &item, part, sizeof part);
        join(p, line, part, more);
        strncat(line, more, sizeof line - strlen(line) - 1);
    }
    for (size_t i = 0; i < sizeof worst / sizeof *worst; i++) {
        hb_say(worst[i].say, &p->scope, part, sizeof part);
        join(p, line, part, more);
        if (worst[i].holds)
            hb_screen_append(p->s, line, sizeof line, more);
    }
    if (*line)
        hb_screen_add(p->s, line);
    if (hobble_too_few(a->counted))
        add(p, HB_SAY_RANGE_FEW);
}

/* ---- the verdict ----------------------------------------------------------------------------- */

static void verdict(const struct page *p)
{
    const bool stop = p->a->verdict == HOBBLE_STOP, place = !isnan(p->a->to);
    add(p, !stop   ? HB_SAY_RANGE_VERDICT
           : place ? HB_SAY_RANGE_VERDICT_STOP_TO
                   : HB_SAY_RANGE_VERDICT_STOP);
    if (place && !stop)
        add(p, p->a->verdict == HOBBLE_GO ? HB_SAY_RANGE_WITHIN : HB_SAY_RANGE_BEYOND);
}

/* ---- driving on ------------------------------------------------------------------------------ */

static void drive_on(const struct page *p)
{
    const struct hobble_answer *a = p->a;
    char line[TEXT];
    hb_say(HB_SAY_RANGE_DECIDES, &p->scope, line, sizeof line);
    if (a->limited_by == HOBBLE_LIMIT_RANGE)
        append(p,
               !a->all_stated && a->tested > 0 ? HB_SAY_RANGE_NOT_STATED : HB_SAY_RANGE_THEN_ENDS,
               &p->scope, line);
    hb_screen_add(p->s, line);
    add(p, HB_SAY_RANGE_SIGNS);
}

/* ---- standing -------------------------------------------------------------------------------- */

/* A reason to stop as the sentences on it need it. */
static struct hb_scope reason_scope(const struct page *p, struct hb_scope *list,
                                    enum hobble_stop reason)
{
    const char path[] = "said.stops";
    const struct hb_row *row = hb_row_find(path, strlen(path), &p->scope, list);
    return hb_row_inside(row, list, (size_t)reason);
}

static void reason_text(const struct page *p, enum hobble_stop reason, bool change,
                        char line[static TEXT])
{
    struct hb_scope list;
    const struct hb_scope scope = reason_scope(p, &list, reason);
    hb_say(change ? HB_SAY_RANGE_WHY_CHANGE : HB_SAY_RANGE_WHY, &scope, line, TEXT);
}

/* What the tyre was before comes first: nothing that is stated later changes it. */
static int reasons_of(const struct hobble_answer *a, enum hobble_stop reason[HOBBLE_STOP_COUNT])
{
    int n = 0;
    if (a->stop[HOBBLE_STOP_CONDEMNED])
        reason[n++] = HOBBLE_STOP_CONDEMNED;
    for (int i = 0; i < HOBBLE_STOP_COUNT; i++)
        if (a->stop[i] && i != HOBBLE_STOP_CONDEMNED)
            reason[n++] = (enum hobble_stop)i;
    return n;
}

/* As many reasons as there is room for, at least one; what is left out is named. */
static void reasons(const struct page *p, bool change, int room)
{
    enum hobble_stop reason[HOBBLE_STOP_COUNT];
    const int all = reasons_of(p->a, reason);
    char line[TEXT];
    int shown = 0;
    for (; shown < all; shown++) {
        reason_text(p, reason[shown], change, line);
        const int needs = hb_screen_needs(p->s, line);
        if (shown > 0 && needs + (all > shown + 1) > room)
            break;
        hb_screen_add(p->s, line);
        room -= needs;
    }
    if (all == shown)
        return;
    const int left = all - shown;
    const struct hb_scope scope = left_out(p, &left);
    hb_say(HB_SAY_RANGE_REASONS_LEFT, &scope, line, sizeof line);
    for (int i = shown; i < all; i++) {
        struct hb_scope list;
        const struct hb_scope one = reason_scope(p, &list, reason[i]);
        append(p, i > shown ? HB_SAY_RANGE_REASON_NEXT : HB_SAY_RANGE_REASON_FIRST, &one, line);
    }
    hb_screen_add(p->s, line);
}

/* Where room is short the words to say go first, then what would change the reasons: --full has
 * both. */
static void stand(const struct page *p)
{
    enum hobble_stop reason[HOBBLE_STOP_COUNT];
    const int all = reasons_of(p->a, reason);
    char call[TEXT], why[TEXT];
    add(p, HB_SAY_RANGE_NOW);
    const int room = HB_SCREEN_LINES - 2 - p->s->count;
    reason_text(p, reason[0], true, why);
    const int after = hb_screen_needs(p->s, why) + (all > 1);
    hb_say(HB_SAY_RANGE_CALL_SHORTER, &p->scope, call, sizeof call);
    if (hb_screen_needs(p->s, call) + after > room)
        hb_say(HB_SAY_RANGE_CALL_WORDS, &p->scope, call, sizeof call);
    const int left = room - hb_screen_needs(p->s, call);
    hb_screen_add(p->s, call);
    reasons(p, after <= left, left);
}

/* ---- all of it ------------------------------------------------------------------------------- */

static void afterwards(const struct page *p)
{
    const bool scrap = p->a->condition == HOBBLE_SCRAP;
    char line[TEXT];
    hb_say(scrap ? HB_SAY_RANGE_THEN_SCRAP : HB_SAY_RANGE_THEN_INSPECT, &p->scope, line,
           sizeof line);
    if (p->a->rule_count > 0)
        append(p, HB_SAY_RANGE_THEN_WHY, &p->scope, line);
    hb_screen_add(p->s, line);
}

void hb_range_first(struct hb_screen *s, const hobble_case *c, const struct hobble_answer *answer,
                    bool us)
{
    const struct page p = {s, answer, hb_answer_scope(&hb_range_answer, c, answer, us)};
    changed(&p);
    whose(&p);
    assumed(&p);
    verdict(&p);
    if (answer->verdict == HOBBLE_STOP)
        stand(&p);
    else
        drive_on(&p);
    afterwards(&p);
    add(&p, HB_SAY_RANGE_LAST);
}

/* Bytes of the verdict's word where a line begins with it and two blanks; 0: with another. */
static size_t verdict_word(const char *line, enum hb_message word)
{
    const char *text = hb_message_text(word);
    const size_t length = strlen(text);
    return strncmp(line, text, length) == 0 && strncmp(line + length, "  ", 2) == 0 ? length : 0;
}

void hb_range_first_print(FILE *f, const struct hb_screen *s, bool last)
{
    static const struct {
        enum hb_message word;
        const char *ink;
    } ink[] = {
        {HB_SAY_RANGE_STOP, "31"}, {HB_SAY_RANGE_GO, "32"}, {HB_SAY_RANGE_GO_THEN_STOP, "33"}};
    for (int i = 0; i < s->count - !last; i++) {
        size_t coloured = 0, k = 0;
        for (; s->colour && k < 3 && coloured == 0; k++)
            coloured = verdict_word(s->line[i], ink[k].word);
        if (coloured > 0)
            fprintf(f, "\033[1;%sm%.*s\033[0m", ink[k - 1].ink, (int)coloured, s->line[i]);
        fprintf(f, "%s\n", s->line[i] + coloured);
    }
}
