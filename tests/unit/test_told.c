/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test_told.c - what hobble range prints is read back: every number of the first screen and of
 * --full against the answer it tells, always on the safe side of it; and how much room it takes. */
#include "ask.h"
#include "random_case.h"
#include "read_back.h"
#include "report/describe/message.h"
#include "report/describe/screen.h"
#include "report/describe/words.h"
#include "report/text/answers.h"
#include "report/text/range.h"

#include <check.h>
#include <ctype.h>
#include <stdlib.h>
#include <string.h>

Suite *told_suite(void);

/* ---- the first screen ------------------------------------------------------------------------ */

static bool begins(const char *line, const char *with)
{
    return strncmp(line, with, strlen(with)) == 0;
}

static void read_assumed(const char *line, const struct hobble_answer *a, bool us)
{
    struct expected e[4];
    int n = 0;
    if (strstr(line, "outside"))
        e[n++] = (struct expected){told_degrees(a->ambient, us), NEAR, 1.0};
    if (strstr(line, "load "))
        e[n++] = (struct expected){100.0 * a->load_share, UP, 1.0};
    if (strstr(line, "before the warning"))
        e[n++] = (struct expected){told_length(a->run_unseen, us), UP, FINE};
    read_numbers(line, e, n);
}

static void read_decides(const char *line, const struct hobble_answer *a, bool us)
{
    const struct expected range[] = {{95, EXACT, 1},
                                     {100, EXACT, 1},
                                     {told_length(a->advised.p5, us), DOWN, FINE},
                                     {2000, EXACT, 1},
                                     {48, EXACT, 1}};
    const struct expected cap[] = {{told_length(a->cap, us), DOWN, FINE},
                                   {told_length(a->run_seen + a->run_unseen, us), UP, FINE}};
    if (a->limited_by == HOBBLE_LIMIT_RANGE)
        read_numbers(line, range, strstr(line, "2000") ? 5 : 3);
    else
        read_numbers(line, cap, a->run_seen + a->run_unseen > 0.0 ? 2 : 1);
}

/* One line of the screen, joined with what it was wrapped into. */
static void read_line(const char *line, const struct hobble_answer *a, bool us)
{
    static const char *const constant[] = {"EXAMPLE",    "Tyre:",       "CHANGED", "Now:",
                                           "Call:",      "Why:",        "and ",    "Stop at once",
                                           "Afterwards", "hobble range"};
    const struct expected way[] = {{told_length(a->advised_distance, us), DOWN, FINE},
                                   {told_pace(a->advised_speed, us), DOWN, 1.0},
                                   {a->advised_time / 60.0, DOWN, 1.0}};
    const double percent = 100.0 * a->chance_of_failing;
    const struct expected place[] = {{told_length(a->to, us), NEAR, 2.0}, {percent, UP, 0.1}};
    const struct expected stop[] = {{told_length(a->to, us), DOWN, FINE}};
    const struct expected few[] = {{a->counted, EXACT, 1.0}};
    for (size_t i = 0; i < sizeof constant / sizeof *constant; i++)
        if (begins(line, constant[i]))
            return;
    if (begins(line, "GO"))
        read_numbers(line, way, 3);
    else if (begins(line, "    "))
        read_numbers(line, place, a->verdict == HOBBLE_GO ? 2 : 1);
    else if (begins(line, "Assumed"))
        read_assumed(line, a, us);
    else if (begins(line, "What decides"))
        read_decides(line, a, us);
    else if (begins(line, "Only "))
        read_numbers(line, few, 1);
    else if (begins(line, "STOP  do not"))
        read_numbers(line, stop, !isnan(a->to));
    else
        ck_abort_msg("not known: %s", line);
}

static void read_first(const struct hb_screen *s, const struct hobble_answer *a, bool us)
{
    char line[2 * HB_SCREEN_BYTES];
    bool verdict = false;
    for (int i = 0; i < s->count;) {
        snprintf(line, sizeof line, "%s", s->line[i++]);
        while (i < s->count && begins(s->line[i], "  ") && !begins(s->line[i], "    ")) {
            strncat(line, s->line[i], sizeof line - strlen(line) - 1);
            i++;
        }
        read_line(line, a, us);
        verdict = verdict || begins(line, a->verdict == HOBBLE_STOP ? "STOP  " : "GO");
        ck_assert(begins(line, "GO, THEN STOP") ==
                  (a->verdict == HOBBLE_GO_THEN_STOP && begins(line, "GO")));
    }
    ck_assert(verdict);
    ck_assert_str_eq(s->line[s->count - 1], hb_message_text(HB_SAY_RANGE_LAST));
}

/* ---- the rest -------------------------------------------------------------------------------- */

/* Where a phrase stands, wherever it was wrapped; *length: of what stands there. NULL: nowhere. */
static char *find(char *text, const char *phrase, size_t *length)
{
    for (; *text; text++) {
        const char *at = text, *p = phrase;
        while (*p && (*p == *at || (*p == ' ' && isspace((unsigned char)*at)))) {
            const bool blank = *p == ' ';
            p++, at++;
            while (blank && *p == ' ')
                p++;
            while (blank && isspace((unsigned char)*at))
                at++;
        }
        *length = (size_t)(at - text);
        if (!*p)
            return text;
    }
    return NULL;
}

/* Bytes of the line, with those it was wrapped into where joined. */
static size_t paragraph(const char *at, bool joined)
{
    size_t n = 0;
    for (; at[n]; n++)
        if (at[n] == '\n' &&
            !(joined && strncmp(at + n + 1, "  ", 2) == 0 &&
              (islower((unsigned char)at[n + 3]) || isdigit((unsigned char)at[n + 3]))))
            break;
    return n;
}

/* Reads the numbers behind a phrase, and takes all of it out: what is left at the end was never
 * expected. */
static bool read_if(char *text, const char *with, bool joined, const struct expected *e, int count)
{
    char line[1000];
    size_t skip;
    char *at = find(text, with, &skip);
    if (!at)
        return false;
    const size_t n = paragraph(at, joined);
    ck_assert(skip <= n && n < sizeof line);
    snprintf(line, sizeof line, "%.*s", (int)(n - skip), at + skip);
    read_numbers(line, e, count);
    memset(at, '#', n);
    return true;
}

static void read_must(char *text, const char *with, const struct expected *e, int count)
{
    ck_assert_msg(read_if(text, with, false, e, count), "no %s", with);
}

static void read_band(char *text, const char *name, const struct hobble_band *b, bool us)
{
    const struct expected e[] = {{told_length(b->p5, us), DOWN, FINE},
                                 {told_length(b->p50, us), DOWN, FINE},
                                 {told_length(b->p95, us), DOWN, FINE}};
    read_must(text, name, e, 3);
}

static void read_table(char *text, const struct hobble_answer *a, bool us)
{
    const struct {
        const char *name;
        struct expected e;
    } row[] = {
        {"load on the wheel ", {told_force(a->load, us), UP, 1.0}},
        {"of its load index", {100.0 * a->load_share, UP, 1.0}},
        {"outside air", {told_degrees(a->ambient, us), NEAR, 1.0}},
        {"hottest wall, now", {told_degrees(a->now_p50, us), UP, 1.0}},
        {"hottest wall on the way, half", {told_degrees(a->peak_p50, us), UP, 1.0}},
        {"hottest wall on the way, 95 of 100", {told_degrees(a->peak_p95, us), UP, 1.0}},
        {"wall limit", {told_degrees(a->limit, us), DOWN, 1.0}},
        {"life used, now", {100.0 * a->life_now_p50, UP, 1.0}},
        {"life used, after the advised way", {100.0 * a->life_at_advised_p50, UP, 1.0}},
        {"tyres that the advice rests on", {a->counted, EXACT, 1.0}},
    };
    const struct expected rule[] = {{100.0 * a->share_of_tyres, DOWN, 0.1},
                                    {100.0 * a->required_share, EXACT, 1.0}};
    const struct expected types[] = {{a->passed, EXACT, 1.0}, {a->tested, EXACT, 1.0}};
    const struct expected solvers[] = {{100.0 * a->solver_difference, UP, 0.01}};
    const double miss = fmax(a->energy_closure, 1e-300);
    const struct expected ledger[] = {{a->energy_closure, NEAR, pow(10.0, floor(log10(miss)))}};
    for (size_t i = 0; i < sizeof row / sizeof *row; i++)
        read_must(text, row[i].name, &row[i].e, 1);
    read_must(text, us ? "49 mi at 49 mph (80 km) is made by" : "80 km at 80 km/h is made by", rule,
              2);
    if (a->tested > 0)
        read_must(text, "sampled types that pass approval", types, 2);
    if (!isnan(a->solver_difference))
        read_must(text, "solvers differ by", solvers, 1);
    read_must(text, "energy ledger misses by", ledger, 1);
}

/* The sentence on what decides, as the first screen has it. */
static void read_decided(char *text, const struct hobble_answer *a, bool us)
{
    static const char *const begins[] = {"95 of 100 such tyres", "the rule allows",
                                         "the maker allows", "the fleet's own rule allows",
                                         "without a maker's figure"};
    char line[1000];
    size_t skip, found = 0;
    for (size_t i = 0; i < sizeof begins / sizeof *begins && a->verdict != HOBBLE_STOP; i++) {
        char *at = find(text, begins[i], &skip);
        if (!at)
            continue;
        const size_t n = paragraph(at, true);
        snprintf(line, sizeof line, "%.*s", (int)n, at);
        read_decides(line, a, us);
        memset(at, '#', n);
        found++;
    }
    ck_assert_uint_eq(found, a->verdict != HOBBLE_STOP);
}

/* Takes out a sentence that holds no number of the answer. */
static void take_out(char *text, const char *sentence)
{
    size_t length;
    for (char *at; strlen(sentence) > 8 && (at = find(text, sentence, &length)) != NULL;)
        memset(at, '#', length);
}

static const char *or_else(const hobble_case *c, const char *key, const char *otherwise)
{
    const char *is = hobble_case_text(c, hobble_param_find(key));
    return *is ? is : otherwise;
}

static size_t letters(const char *text)
{
    size_t n = 0;
    for (; *text; text++)
        n += *text != ' ';
    return n;
}

/* The messages without a place that have at least so many letters. */
static void take_out_messages(char *text, size_t least)
{
    for (int i = 0; i < HB_MESSAGES; i++) {
        const char *message = hb_message_text((enum hb_message)i);
        if (!strchr(message, '{') && letters(message) >= least)
            take_out(text, message);
    }
}

/* All that may stand there besides: constants, and whom to call. No other number is left. */
static void nothing_else(char *text, const hobble_case *c, const struct hobble_answer *a)
{
    char marking[64], call[500];
    for (int i = 0; i < a->rule_count; i++) {
        take_out(text, a->rule[i].reason);
        take_out(text, a->rule[i].source);
    }
    if (a->stop[HOBBLE_STOP_CONDEMNED]) {
        take_out(text, a->condemned.reason);
        take_out(text, a->condemned.source);
    }
    for (int i = 0; i < HOBBLE_STOP_COUNT; i++) {
        take_out(text, hobble_stop_sentence((enum hobble_stop)i));
        take_out(text, hobble_stop_remedy((enum hobble_stop)i));
    }
    hobble_marking_print(&a->marking, marking, sizeof marking);
    snprintf(call, sizeof call, "Call: %s. Say: the place, %s, %s, %s",
             or_else(c, "recovery_number", "a recovery service"),
             hobble_case_given(c, hobble_param_find("wheel")) ? "rear left" : "which wheel",
             a->example ? "the tyre's marking" : marking,
             or_else(c, "vehicle_name", "which vehicle"));
    take_out(text, call);
    take_out_messages(text, 40); /* before a shorter one that is a part of it */
    take_out_messages(text, 0);
    for (size_t i = 0; hb_caution(i); i++)
        take_out(text, hb_caution(i));
    const char *left = strpbrk(text, "0123456789");
    ck_assert_msg(left == NULL, "nobody knows what this is: %.60s", left ? left : "");
}

static void read_full(char *text, const struct hobble_answer *a, bool us)
{
    const bool stop = a->verdict == HOBBLE_STOP;
    const struct expected driven[] = {{told_length(a->run_unseen, us), UP, FINE},
                                      {told_length(a->run_seen, us), UP, FINE}};
    const struct expected vouched[] = {{told_length(a->if_vouched, us), DOWN, FINE}};
    const struct expected few[] = {{a->counted, EXACT, 1.0}};
    const struct expected chance[] = {{100.0 * a->chance_of_failing, UP, 0.1},
                                      {100.0 * a->sampling_error, UP, 0.1}};
    /* STOP has nothing that could be read as leave */
    ck_assert(!stop || (!strstr(text, "Stop at once at") && !strstr(text, "Slower") &&
                        !strstr(text, "were good") && !strstr(text, "Chance")));
    ck_assert_int_eq(strstr(text, "What to do now") != NULL, stop);
    ck_assert_int_eq(read_if(text, "Already driven and counted", false, driven, 2),
                     a->run_seen + a->run_unseen > 0.0);
    ck_assert_int_eq(read_if(text, "(if it were good: ", true, vouched, 1),
                     !stop && !a->all_stated && a->tested > 0);
    ck_assert_int_eq(read_if(text, "Chance of not reaching", false, chance, 2),
                     a->verdict == HOBBLE_GO && !isnan(a->to));
    read_decided(text, a, us);
    ck_assert_int_eq(read_if(text, "Only ", true, few, 1), hobble_too_few(a->counted));
    for (int i = 0; i < a->more_count && !stop; i++) {
        const struct hobble_more *m = &a->more[i];
        const struct expected e[] = {
            {m->slower ? told_pace(m->speed, us) : told_force(m->load, us), DOWN, 1.0},
            {told_length(m->distance, us), DOWN, FINE}};
        read_must(text, m->slower ? "Slower, " : "Lighter, ", e, 2);
    }
    if (!a->rim_at_start && !a->stop[HOBBLE_STOP_CONTRADICTION]) {
        char name[64];
        snprintf(name, sizeof name, "range from now at %.0f %s",
                 floor(told_pace(a->speed, us) + 1e-6), us ? "mph" : "km/h");
        read_band(text, name, &a->range, us);
        ck_assert_int_eq(strstr(text, "without the profile's evidence") != NULL,
                         a->evidence_items > 0);
        if (a->evidence_items > 0)
            read_band(text, "without the profile's evidence", &a->unconditioned, us);
    }
    read_table(text, a, us);
}

/* ---- questions ------------------------------------------------------------------------------- */

static char *full_text(const hobble_case *c, const struct hobble_answer *a, bool us)
{
    char *text = NULL;
    size_t size = 0;
    FILE *f = open_memstream(&text, &size);
    ck_assert_ptr_nonnull(f);
    hb_range_full(f, c, a, us);
    fclose(f);
    return text;
}

static void read_rim(const hobble_case *c, const struct hobble_answer *a, bool us)
{
    const struct expected e[] = {{100.0 * a->rim_share, NEAR, 0.1},
                                 {1.3, EXACT, 1.0}, /* times the deflection: the rule's own */
                                 {100.0 * a->near_rim_share, NEAR, 0.1}};
    char *text = NULL;
    size_t size = 0;
    FILE *f = open_memstream(&text, &size);
    ck_assert_ptr_nonnull(f);
    hb_range_rim(f, c, a, us);
    fclose(f);
    read_numbers(text, e, 3);
    free(text);
}

START_TEST(read_back)
{
    struct random_source source = {7};
    int verdicts[3] = {0};
    const int count = random_count("HOBBLE_TOLD", 120);
    for (int i = 0; i < count; i++) {
        hobble_case *c = ask_random(&source);
        const struct hobble_answer a = ask(c);
        verdicts[a.verdict]++;
        for (int us = 0; us < 2; us++) {
            struct hb_screen s = {.width = HB_SCREEN_WIDEST};
            hb_range_first(&s, c, &a, us);
            read_first(&s, &a, us);
            char *text = full_text(c, &a, us);
            read_full(text, &a, us);
            nothing_else(text, c, &a);
            read_rim(c, &a, us);
            free(text);
        }
        hobble_case_free(c);
    }
    for (int v = 0; v < 3; v++)
        ck_assert_int_gt(verdicts[v], count / 20);
}
END_TEST

/* The project's own rule: at most twelve lines, none wider than the terminal. */
START_TEST(room)
{
    static const int widths[] = {80, 60};
    struct random_source source = {11};
    int most[2][3] = {{0}};
    for (int i = 0; i < 150; i++) {
        hobble_case *c = ask_random(&source);
        const struct hobble_answer a = ask(c);
        for (int k = 0; k < 2; k++) {
            struct hb_screen s = {.width = widths[k]};
            hb_range_first(&s, c, &a, i % 2);
            for (int line = 0; line < s.count; line++)
                ck_assert_int_le(hb_screen_columns(s.line[line]), widths[k]);
            if (s.count > most[k][a.verdict])
                most[k][a.verdict] = s.count;
        }
        hobble_case_free(c);
    }
    if (getenv("HOBBLE_TOLD"))
        fprintf(stderr, "80: stop %d go %d then %d; 60: stop %d go %d then %d\n", most[0][0],
                most[0][1], most[0][2], most[1][0], most[1][1], most[1][2]);
    for (int v = 0; v < 3; v++)
        ck_assert_int_le(most[0][v], HB_SCREEN_LINES);
    ck_assert_int_le(most[1][HOBBLE_GO], HB_SCREEN_LINES);
    ck_assert_int_le(most[1][HOBBLE_GO_THEN_STOP], HB_SCREEN_LINES);
    /* all of what STOP has to say, narrow, with values set by hand and too few tyres */
    ck_assert_int_le(most[1][HOBBLE_STOP], 15);
}
END_TEST

/* A place beyond the advice never looks as if it were within. Source: arithmetic. */
START_TEST(place_beyond)
{
    for (int us = 0; us < 2; us++) {
        hobble_case *c = ask_vouched(60);
        struct hb_screen s = {.width = HB_SCREEN_WIDEST};
        double way = 0.0, place = 0.0;
        ask_set(c, "load_share", 0.4);
        /* a little above a whole one that is advised too */
        const double mile = us ? 1609.344 : KM, whole = floor(ask(c).advised_distance / mile);
        ask_set(c, "maker_distance", (whole + 0.1) * mile / KM);
        ask_set(c, "unseen", 0.0);
        ask_set(c, "to", (whole + 0.2) * mile / KM);
        const struct hobble_answer a = ask(c);
        ck_assert_int_eq(a.verdict, HOBBLE_GO_THEN_STOP);
        hb_range_first(&s, c, &a, us);
        for (int i = 0; i < s.count; i++) {
            const char *most = strstr(s.line[i], "at most "),
                       *asked = strstr(s.line[i], "asked for, ");
            way = most ? strtod(most + strlen("at most "), NULL) : way;
            place = asked ? strtod(asked + strlen("asked for, "), NULL) : place;
        }
        ck_assert_double_eq_tol(way, whole, 1e-9);
        ck_assert_double_eq_tol(place, whole + 0.2, 1e-6);
        hobble_case_free(c);
    }
}
END_TEST

/* The picture's lines end where the advice says: after a rest both leave the rest out. Source: the
 * meaning of a low quantile, 95 of 100 carry at least so far. */
START_TEST(trace_of_the_advice)
{
    struct hobble_trace_point point[HOBBLE_TRACE_POINTS];
    hobble_case *c = ask_bare(300);
    ask_set(c, "load_share", 0.8);
    ask_set(c, "unseen", 2.0);
    ask_set(c, "run", 5.0);
    ask_set(c, "rest", 180.0);
    const struct hobble_answer a = ask(c);
    ck_assert(a.stops_left_out);
    for (int beyond = 0; beyond < 2; beyond++) {
        const double way = a.advised.p5 * (beyond ? 1.002 : 0.998);
        ck_assert_int_eq(hobble_trace(c, 1, way, point, NULL), HOBBLE_OK);
        const double alive = point[HOBBLE_TRACE_POINTS - 1].alive;
        ck_assert_msg(beyond ? alive < 0.95 + 1e-9 : alive > 0.95 - 1e-9, "%g carry %g m", alive,
                      way);
    }
    hobble_case_free(c);
}
END_TEST

/* ---- set by hand: every door ----------------------------------------------------------------- */

static bool changed(const hobble_case *c, const char *wanted)
{
    size_t place = 0;
    for (const char *key = hb_changed_by_hand(c, &place); key; key = hb_changed_by_hand(c, &place))
        if (strcmp(key, wanted) == 0)
            return true;
    return false;
}

static void put(hobble_case *c, const char *key, double value, const char *origin)
{
    ck_assert_int_eq(hobble_case_set_number(c, hobble_param_find(key), value, origin, NULL),
                     HOBBLE_OK);
}

static void mark(hobble_case *c, const char *origin)
{
    ck_assert_int_eq(
        hobble_case_set_text(c, hobble_param_find("marking"), "205/55 RF16 91V", origin, NULL),
        HOBBLE_OK);
}

/* Source: what a tyre is and how it behaves belong together only where one file says both. */
START_TEST(set_by_hand)
{
    static const struct {
        const char *marking, *key, *origin;
        bool changed;
    } rows[] = {
        {"mine.cfg:2", "stiffness_flat", "mine.cfg:9", false}, /* the tyre's profile */
        {"mine.cfg:2", "stiffness_flat", "other.cfg:9",
         true}, /* --profile, of a bench or another */
        {"mine.cfg:2", "stiffness_flat", "mine.cfgs:9", true},
        {"mine.cfg:", "stiffness_flat", "mine.cfg:", true}, /* no line, no place in a file */
        {"mine.cfg:2", "stiffness_flat", "mine.cfg:x", true},
        {"mine.cfg:2", "stiffness_flat", "--set", true},
        {"mine.cfg:2", "stiffness_flat", "", true}, /* a program */
        {"mine.cfg:2", "stiffness_flat", "test", true},
        {"test", "stiffness_flat", "test", true},
        {"--tyre", "stiffness_flat", "--set", true},
        {"--tyre", "stiffness_flat", "mine.cfg:9", true}, /* another tyre than the file's */
        {"mine.cfg:2", "load_error", "mine.cfg:9", true}, /* not of the tyre: a bench's file */
        {"mine.cfg:2", "load_error", "car.cfg:3", true},  /* a vehicle's file */
        {"mine.cfg:2", "speed_error", "--speed-error", true},
        {"mine.cfg:2", "ambient_error", "test", true},
        {"mine.cfg:2", "age", "--age", false}, /* stated, not the model's */
        {"mine.cfg:2", "maker_distance", "--maker-distance", false},
        {"mine.cfg:2", "speed", "--speed", false},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        const int row = hobble_param_find(rows[i].key);
        const struct hobble_param *p = &hobble_param_table(NULL)[row];
        hobble_case *c = hobble_case_new();
        mark(c, rows[i].marking);
        ck_assert(!changed(c, rows[i].key));
        put(c, rows[i].key, isnan(p->value) ? 0.5 * (p->min + p->max) : p->value, rows[i].origin);
        ck_assert_msg(changed(c, rows[i].key) == rows[i].changed, "%s by %s, marking by %s",
                      rows[i].key, rows[i].origin, rows[i].marking);
        hobble_case_free(c);
    }
}
END_TEST

Suite *told_suite(void)
{
    Suite *suite = suite_create("told");
    TCase *all = tcase_create("told");
    tcase_set_timeout(all, 300.0);
    tcase_add_test(all, read_back);
    tcase_add_test(all, room);
    tcase_add_test(all, place_beyond);
    tcase_add_test(all, trace_of_the_advice);
    tcase_add_test(all, set_by_hand);
    suite_add_tcase(suite, all);
    return suite;
}
