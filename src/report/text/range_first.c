/* SPDX-License-Identifier: GPL-3.0-or-later */
/* range_first.c - the first screen of an answer: what somebody beside a road has to read. Whatever
 * does not fit is said by --full, never squeezed. */
#include "report/describe/figure.h"
#include "report/describe/range_words.h"
#include "report/describe/screen.h"
#include "report/describe/words.h"
#include "report/text/range.h"

#include <math.h>
#include <string.h>

enum { PART = 200, TEXT = 480 };

struct page {
    struct hb_screen *s;
    const hobble_case *c;
    const struct hobble_answer *a;
    bool us;
};

/* ---- whose tyre, and what was assumed -------------------------------------------------------- */

static void changed(const struct page *p)
{
    char line[TEXT] = "CHANGED BY HAND:", more[96];
    size_t place = 0, left = 0;
    for (const char *key = hb_changed_by_hand(p->c, &place); key;
         key = hb_changed_by_hand(p->c, &place)) {
        snprintf(more, sizeof more, " %s", key);
        /* there must be room for " and 99 more" */
        left += left > 0 || hb_screen_columns(line) + hb_screen_columns(more) > p->s->width - 12 ||
                !hb_screen_append(p->s, line, sizeof line, more);
    }
    if (left > 0) {
        snprintf(more, sizeof more, " and %zu more", left);
        hb_screen_append(p->s, line, sizeof line, more);
    }
    if (strlen(line) > strlen("CHANGED BY HAND:"))
        hb_screen_add(p->s, line);
}

static void whose(const struct page *p)
{
    char marking[64], name[HOBBLE_FAULT_TEXT], line[TEXT];
    hobble_marking_print(&p->a->marking, marking, sizeof marking);
    hobble_fault_text(name, hobble_case_text(p->c, hobble_param_find("tyre_name")));
    if (p->a->example)
        snprintf(line, sizeof line, "EXAMPLE, not your tyre: built-in values, %s", marking);
    else
        snprintf(line, sizeof line, "%s: %s%s%s",
                 p->a->example_load ? "EXAMPLE, not your load; tyre" : "Tyre", marking,
                 *name ? ", " : "", name);
    hb_screen_add_cut(p->s, line);
}

/* The value that was taken, and the option that states it. */
static void assumed_text(const struct page *p, int row, char *buf, size_t size)
{
    const struct hobble_param *param = &hobble_param_table(NULL)[row];
    char value[64];
    if (strcmp(param->key, "ambient") == 0) {
        hb_quantity_text(p->a->ambient, HOBBLE_UNIT_CELSIUS, p->us, 0, value, sizeof value);
        snprintf(buf, size, "%s outside (--ambient)", value);
    } else if (strcmp(param->key, "load") == 0) {
        snprintf(buf, size, "load %.0f %% of the index (--load)",
                 hb_percent_up(p->a->load_share, 0));
    } else {
        snprintf(buf, size, "no %s (--%s)", param->key, param->key);
    }
}

/* What is usual comes first; what was taken at its worst, only where there is room. */
static void assumed(const struct page *p)
{
    const struct hobble_answer *a = p->a;
    char line[TEXT] = "", part[PART], way[HB_FIGURE];
    for (int i = 0; i < a->assumed_count; i++) {
        const size_t n = strlen(line);
        assumed_text(p, a->assumed[i], part, sizeof part);
        snprintf(line + n, sizeof line - n, "%s%s", n > 0 ? ", " : "Assumed: ", part);
    }
    hb_distance_up(a->run_unseen, p->us, way);
    snprintf(part, sizeof part, "%s before the warning (--unseen)", way);
    const struct {
        bool holds;
        const char *text;
    } worst[] = {
        {a->taken_as_empty, "no air (--leak)"},
        {a->unseen_assumed && a->run_unseen > 0.0, part},
        {a->wheel_assumed, "heavier axle (--wheel)"},
    };
    for (size_t i = 0; i < sizeof worst / sizeof *worst; i++) {
        char more[TEXT];
        snprintf(more, sizeof more, "%s%s", *line ? ", " : "Assumed: ", worst[i].text);
        if (worst[i].holds)
            hb_screen_append(p->s, line, sizeof line, more);
    }
    if (*line)
        hb_screen_add(p->s, line);
    if (!hobble_too_few(a->counted))
        return;
    snprintf(part, sizeof part, "Only %d tyres counted: too few for advice (--members).",
             a->counted);
    hb_screen_add(p->s, part);
}

/* ---- the verdict ----------------------------------------------------------------------------- */

static void verdict(const struct page *p)
{
    const struct hobble_answer *a = p->a;
    char way[HB_FIGURE], pace[HB_FIGURE], line[TEXT];
    if (a->verdict == HOBBLE_STOP) {
        hb_place_text(a->to, 0.0, p->us, way, sizeof way);
        snprintf(line, sizeof line, "STOP  do not drive on with this tyre%s%s%s",
                 isnan(a->to) ? "" : " (", isnan(a->to) ? "" : way,
                 isnan(a->to) ? "" : ": out of reach)");
        hb_screen_add(p->s, line);
        return;
    }
    hb_distance_down(a->advised_distance, p->us, way);
    hb_speed_down(a->advised_speed, p->us, pace);
    snprintf(line, sizeof line, "%s  at most %s, at most %s, about %.0f min",
             a->verdict == HOBBLE_GO ? "GO" : "GO, THEN STOP", way, pace,
             floor(a->advised_time / 60.0));
    hb_screen_add(p->s, line);
}

static void destination(const struct page *p)
{
    const struct hobble_answer *a = p->a;
    char to[HB_FIGURE], line[TEXT];
    if (isnan(a->to) || a->verdict == HOBBLE_STOP)
        return;
    hb_place_text(a->to, a->advised_distance, p->us, to, sizeof to);
    if (a->verdict == HOBBLE_GO_THEN_STOP)
        snprintf(line, sizeof line, "    then stop: the place asked for, %s away, is beyond it",
                 to);
    else
        snprintf(line, sizeof line, "    %s away is within it; chance of not reaching it %.1f %%",
                 to, hb_percent_up(a->chance_of_failing, 1));
    hb_screen_add(p->s, line);
}

/* ---- driving on ------------------------------------------------------------------------------ */

static void drive_on(const struct page *p)
{
    const struct hobble_answer *a = p->a;
    char line[TEXT] = "What decides: ", more[TEXT];
    hb_decides_text(a, p->us, line + strlen(line), sizeof line - strlen(line));
    if (!a->conditioned && a->tested > 0)
        snprintf(more, sizeof more, "; age, past not stated");
    else
        snprintf(more, sizeof more, "; then %s", hb_usual_end(a));
    if (a->limited_by == HOBBLE_LIMIT_RANGE)
        hb_screen_append(p->s, line, sizeof line, more);
    hb_screen_add(p->s, line);
    hb_screen_add(p->s,
                  "Stop at once at: growing vibration, hot smell or smoke, pulling, new noise");
}

/* ---- standing -------------------------------------------------------------------------------- */

/* The first sentence of a rule's reason. */
static void first_sentence(const char *reason, char *buf, size_t size)
{
    const size_t length = strcspn(reason, ":.");
    snprintf(buf, size, "%.*s", (int)length, reason);
}

static void reason_text(const struct hobble_answer *a, enum hobble_stop reason, bool change,
                        char *buf, size_t size)
{
    char remedy[PART], scrap[PART];
    const char *sentence = hobble_stop_sentence(reason);
    hb_remedy_text(reason, remedy, sizeof remedy);
    if (reason == HOBBLE_STOP_CONDEMNED && a->condemned.reason) {
        first_sentence(a->condemned.reason, scrap, sizeof scrap);
        snprintf(buf, size, "Why: scrap before this drive: %s", scrap);
    } else {
        snprintf(buf, size, "Why: %.*s", (int)strlen(sentence) - 1, sentence);
    }
    const size_t n = strlen(buf);
    snprintf(buf + n, size - n, "%s%s", change ? "; " : ".", change ? remedy : "");
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
    char line[TEXT], word[64], more[80];
    int shown = 0;
    for (; shown < all; shown++) {
        reason_text(p->a, reason[shown], change, line, sizeof line);
        const int needs = hb_screen_needs(p->s, line);
        if (shown > 0 && needs + (all > shown + 1) > room)
            break;
        hb_screen_add(p->s, line);
        room -= needs;
    }
    if (all == shown)
        return;
    snprintf(line, sizeof line, "and %d more (--full):", all - shown);
    for (int i = shown; i < all; i++) {
        hb_words_spaced(hobble_stop_word(reason[i]), word, sizeof word);
        snprintf(more, sizeof more, "%s %s", i > shown ? "," : "", word);
        hb_screen_append(p->s, line, sizeof line, more);
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
    hb_screen_add(p->s, hb_stop_now);
    const int room = HB_SCREEN_LINES - 2 - p->s->count;
    reason_text(p->a, reason[0], true, why, sizeof why);
    const int after = hb_screen_needs(p->s, why) + (all > 1);
    hb_call_text(p->c, p->a, HB_CALL_SHORTER, call, sizeof call);
    if (hb_screen_needs(p->s, call) + after > room)
        hb_call_text(p->c, p->a, HB_CALL_WORDS, call, sizeof call);
    const int left = room - hb_screen_needs(p->s, call);
    hb_screen_add(p->s, call);
    reasons(p, after <= left, left);
}

/* ---- all of it ------------------------------------------------------------------------------- */

static void afterwards(const struct page *p)
{
    const struct hobble_answer *a = p->a;
    char line[TEXT], why[PART], more[TEXT];
    snprintf(line, sizeof line, "Afterwards: %s",
             a->condition == HOBBLE_SCRAP ? "scrap the tyre" : "have it taken off and inspected");
    if (a->rule_count > 0) {
        first_sentence(a->rule[0].reason, why, sizeof why);
        snprintf(more, sizeof more, ". %s.", why);
        hb_screen_append(p->s, line, sizeof line, more);
    }
    hb_screen_add(p->s, line);
}

void hb_range_first(struct hb_screen *s, const hobble_case *c, const struct hobble_answer *answer,
                    bool us)
{
    const struct page p = {s, c, answer, us};
    changed(&p);
    whose(&p);
    assumed(&p);
    verdict(&p);
    destination(&p);
    if (answer->verdict == HOBBLE_STOP)
        stand(&p);
    else
        drive_on(&p);
    afterwards(&p);
    hb_screen_add(s, HB_RANGE_LAST);
}

void hb_range_first_print(FILE *f, const struct hb_screen *s, bool last)
{
    static const struct {
        const char *word, *ink;
    } ink[] = {{"STOP  ", "31"}, {"GO  ", "32"}, {"GO, THEN STOP  ", "33"}};
    for (int i = 0; i < s->count - !last; i++) {
        size_t coloured = 0, k = 0;
        for (; s->colour && k < 3 && coloured == 0; k++)
            if (strncmp(s->line[i], ink[k].word, strlen(ink[k].word)) == 0)
                coloured = strlen(ink[k].word) - 2;
        if (coloured > 0)
            fprintf(f, "\033[1;%sm%.*s\033[0m", ink[k - 1].ink, (int)coloured, s->line[i]);
        fprintf(f, "%s\n", s->line[i] + coloured);
    }
}
