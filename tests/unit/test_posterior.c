/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test_posterior.c - evidence in the answer, through the real model: what must hold whatever the
 * tyre is. Sources: the rules of probability, where none is named; that evidence counts the same in
 * any order, that a longer run is no worse news, that unknown counts against (docs/evidence.md).
 * That it moves the answer by as much as it should: test_calibration.c. */
#include "advice/condition.h"
#include "ask.h"
#include "core/const.h"
#include "input/profile.h"
#include "simulated.h"
#include "study/case.h"
#include "study/cube.h"
#include "study/posterior.h"

#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

Suite *posterior_suite(void);

enum { MEMBERS = 1000 };

static hobble_case *new_unit(int members)
{
    hobble_case *c = ask_vouched(members);
    ask_set(c, "age", 0.0);
    ask_word(c, "load_known", "weighed");
    ask_set(c, "unseen", 0.0);
    return c;
}

static struct hobble_evidence a_run(enum hobble_run_outcome outcome, double at)
{
    struct hobble_evidence item;
    hobble_evidence_begin(HOBBLE_EVIDENCE_RUN, &item);
    item.load_share = 0.7;
    item.of = HOBBLE_RUN_ANOTHER_UNIT;
    item.outcome = outcome;
    item.distance = at;
    return item;
}

static struct hobble_evidence a_statement(double distance)
{
    struct hobble_evidence item;
    hobble_evidence_begin(HOBBLE_EVIDENCE_STATEMENT, &item);
    hobble_fault_text(item.source, "handbook, invented");
    item.load_share = 0.75;
    item.distance = distance;
    return item;
}

static struct hobble_evidence an_approval(int specimens)
{
    struct hobble_evidence item;
    hobble_evidence_begin(HOBBLE_EVIDENCE_APPROVAL, &item);
    item.specimens = specimens;
    return item;
}

static void add(hobble_case *c, const struct hobble_evidence *item)
{
    ck_assert_int_eq(hobble_case_evidence_add(c, item, NULL), HOBBLE_OK);
}

/* ---- a sample brought to evidence ------------------------------------------------------------ */

struct brought {
    size_t n;
    double way[MEMBERS]; /* rising */
    struct hb_taken_in taken;
};

static void bring(const hobble_case *c, int threads, struct brought *b)
{
    struct hb_study s;
    struct hb_plan plan;
    ck_assert_int_eq(hb_study_open(c, threads, &s, NULL), HOBBLE_OK);
    hb_plan_asked(&s.question, &plan);
    hb_ensemble_drive(&s.ensemble, &plan);
    b->n = 0;
    for (size_t i = 0; i < s.ensemble.arrays.members; i++)
        if (hb_ensemble_counts(&s.ensemble, i))
            b->way[b->n++] = hb_ensemble_remaining(&s.ensemble, &plan, i);
    hb_sort(b->way, b->n);
    b->taken = s.ensemble.taken;
    hb_study_close(&s);
}

static double quantile(const struct brought *b, double p)
{
    return b->way[(size_t)floor(fmax(p, 0.0) * (double)(b->n - 1))];
}

/* A quantile that may be as far down as three standard errors of the difference of two samples of
 * this worth. */
static double at_least(const struct brought *b, double p)
{
    const double n = (double)b->n;
    const double worth = b->taken.items > 0 ? fmin(n, b->taken.effective) : n;
    return quantile(b, p - 3.0 * sqrt(2.0 * p * (1.0 - p) / worth));
}

/* ---- which way it moves ---------------------------------------------------------------------- */

/* ln of how much the answer is longer. */
static double longer(const hobble_case *worse, const hobble_case *better, const char *what)
{
    static const double share[] = {0.05, 0.5};
    static struct brought low, high;
    double sum = 0.0;
    bring(worse, 1, &low);
    bring(better, 1, &high);
    ck_assert(low.taken.items == 0 || low.taken.against < 0);
    ck_assert(high.taken.items > 0 && high.taken.against < 0);
    for (int k = 0; k < 2; k++) {
        ck_assert_msg(quantile(&high, share[k]) >= at_least(&low, share[k]), "%s: %g: %g, %g", what,
                      share[k], quantile(&low, share[k]), quantile(&high, share[k]));
        sum += log(quantile(&high, share[k]) / quantile(&low, share[k]));
    }
    return sum / 2.0;
}

static struct hobble_evidence random_run(struct random_source *r, enum hobble_run_outcome outcome)
{
    const double least = outcome == HOBBLE_RUN_SURVIVED ? 90.0 : 70.0; /* else it tells little */
    struct hobble_evidence item = a_run(outcome, 1e3 * random_between(r, least, 1.7 * least));
    item.load_share = random_between(r, 0.7, 0.8);
    item.speed = random_between(r, 70.0, 80.0) / 3.6;
    item.ambient = random_between(r, 0.0, 35.0) + HB_CELSIUS;
    item.on = random_below(r, 2) ? HOBBLE_RUN_ON_DRUM : HOBBLE_RUN_ON_ROAD;
    item.of = random_below(r, 3) ? HOBBLE_RUN_ANOTHER_UNIT : HOBBLE_RUN_THIS_UNIT;
    return item;
}

/* A run that went farther is never worse news; on the average it is better. */
START_TEST(farther_is_no_worse)
{
    static const enum hobble_run_outcome outcomes[] = {HOBBLE_RUN_SURVIVED, HOBBLE_RUN_ENDED,
                                                       HOBBLE_RUN_DESTROYED};
    struct random_source source = {77};
    for (size_t o = 0; o < 3; o++) {
        double sum = 0.0;
        for (int turn = 0; turn < 4; turn++) {
            char what[80];
            struct hobble_evidence item = random_run(&source, outcomes[o]);
            hobble_case *worse = new_unit(MEMBERS), *better = new_unit(MEMBERS);
            snprintf(what, sizeof what, "outcome %zu, case %d", o, turn);
            add(worse, &item);
            item.distance *= random_between(&source, 1.15, 1.5);
            add(better, &item);
            sum += longer(worse, better, what);
            hobble_case_free(worse);
            hobble_case_free(better);
        }
        ck_assert_msg(sum > 0.04, "outcome %zu: %g", o, sum);
    }
}
END_TEST

/* A figure that is higher, and more specimens that passed, neither. */
START_TEST(more_is_no_worse)
{
    static const int specimens[] = {1, 2, 5, 20, 200};
    hobble_case *before = new_unit(MEMBERS);
    struct hobble_evidence item = a_statement(70e3);
    for (size_t i = 0; i < sizeof specimens / sizeof *specimens; i++) {
        hobble_case *more = new_unit(MEMBERS);
        const struct hobble_evidence passed = an_approval(specimens[i]);
        add(more, &passed);
        ck_assert_double_gt(longer(before, more, "specimens"), -0.002);
        hobble_case_free(before);
        before = more;
    }
    hobble_case_free(before);
    hobble_case *low = new_unit(MEMBERS), *high = new_unit(MEMBERS);
    add(low, &item);
    item.distance = 110e3;
    add(high, &item);
    ck_assert_double_gt(longer(low, high, "statement"), 0.02);
    hobble_case_free(low);
    hobble_case_free(high);
}
END_TEST

/* ---- order, files, threads ------------------------------------------------------------------- */

static void check_same(const hobble_case *a, int threads_a, const hobble_case *b, int threads_b)
{
    static struct brought x, y;
    bring(a, threads_a, &x);
    bring(b, threads_b, &y);
    ck_assert_uint_eq(x.n, y.n);
    ck_assert_mem_eq(x.way, y.way, x.n * sizeof *x.way);
    ck_assert_mem_eq(&x.taken.effective, &y.taken.effective, sizeof(double));
    ck_assert_int_eq(x.taken.steps, y.taken.steps);
}

static void read_list(hobble_case *c, const char *name, const char *list)
{
    static struct hobble_faults faults;
    char text[2000];
    memset(&faults, 0, sizeof faults);
    snprintf(text, sizeof text, "kind = \"tyre\";\nevidence = ( %s );\n", list);
    if (hb_profile_read_text(text, strlen(text), name, HB_ANY_KIND, c, NULL, &faults) != HOBBLE_OK)
        ck_abort_msg("%s: %s", faults.item[0].key, faults.item[0].allowed);
}

#define SAID   "{ kind = \"statement\"; load_share = 0.75; distance = 90; source = \"invented\"; }"
#define AGAIN  "{ kind = \"approval\"; }"
#define PASSED "{ kind = \"approval\"; specimens = 3; }"
#define ENDED                                                                                      \
    "{ kind = \"run\"; of = \"another unit\"; load_share = 0.7; outcome = \"ended\"; at = 95; }"
#define GONE                                                                                       \
    "{ kind = \"run\"; of = \"another unit\"; load_share = 0.72; speed = 70; on = \"drum\"; "      \
    "outcome = \"survived\"; at = 64; "
#define READ                                                                                       \
    "temperatures = ( { channel = \"outer\"; at = ( 10, 20, 40 ); read = ( 70, 82, 86 ); "       \
    "offset = 1; scatter = 1; } ); }"

/* The order means nothing, nor whether a list stands in one file or in two; with weights alone and
 * by degrees. Not one byte differs. */
START_TEST(any_order_says_the_same)
{
    static const char *const list[][3] = {{PASSED, AGAIN, GONE "}"}, {ENDED, GONE READ, SAID}};
    for (size_t k = 0; k < 2; k++) {
        char all[1500];
        static struct brought b;
        hobble_case *one = new_unit(500), *turned = new_unit(500), *split = new_unit(500);
        snprintf(all, sizeof all, "%s, %s, %s", list[k][0], list[k][1], list[k][2]);
        read_list(one, "one.cfg", all);
        snprintf(all, sizeof all, "%s, %s, %s", list[k][2], list[k][0], list[k][1]);
        read_list(turned, "turned.cfg", all);
        read_list(split, "a.cfg", list[k][1]);
        snprintf(all, sizeof all, "%s, %s", list[k][2], list[k][0]);
        read_list(split, "b.cfg", all);
        ck_assert_uint_eq(hobble_case_evidence_count(split), 3);
        bring(one, 1, &b);
        ck_assert_int_eq(b.taken.against, -1);
        ck_assert_int_eq(b.taken.steps > 0, k == 1); /* both ways are seen */
        check_same(one, 1, turned, 1);
        check_same(one, 1, split, 1);
        check_same(one, 1, one, 2);
        hobble_case_free(one);
        hobble_case_free(turned);
        hobble_case_free(split);
    }
}
END_TEST

/* Two times two specimens are four: the same but for rounding. */
START_TEST(parts_make_the_whole)
{
    static struct brought one, two;
    hobble_case *whole = new_unit(MEMBERS), *parts = new_unit(MEMBERS);
    const struct hobble_evidence four = an_approval(4), half = an_approval(2);
    add(whole, &four);
    add(parts, &half);
    add(parts, &half);
    ck_assert_uint_eq(hobble_case_evidence_count(parts), 2);
    bring(whole, 1, &one);
    bring(parts, 1, &two);
    ck_assert_double_eq_tol(one.taken.effective, two.taken.effective, 1e-6);
    ck_assert_double_eq_tol(log(quantile(&one, 0.05) / quantile(&two, 0.05)), 0.0, 0.01);
    hobble_case_free(whole);
    hobble_case_free(parts);
}
END_TEST

/* ---- none ------------------------------------------------------------------------------------ */

/* Without evidence the sample is that of the sequence, to the byte. */
START_TEST(none_changes_nothing)
{
    hobble_case *c = new_unit(200);
    struct hb_study s;
    const int d = hb_param_dimensions();
    double *cube = calloc((size_t)(200 * d), sizeof *cube);
    ck_assert_int_eq(hb_study_open(c, 1, &s, NULL), HOBBLE_OK);
    ck_assert_int_eq(hb_cube_fill(cube, 200, d, 1), HOBBLE_OK);
    ck_assert_mem_eq(cube, s.cube, (size_t)(200 * d) * sizeof *cube);
    ck_assert_int_eq(s.ensemble.taken.items, 0);
    hb_study_close(&s);
    free(cube);
    const struct hobble_answer a = ask_free(c);
    ck_assert_mem_eq(&a.range, &a.unconditioned, sizeof a.range);
    ck_assert_int_eq(a.evidence_items, 0);
    ck_assert_int_eq(a.evidence_against, -1);
}
END_TEST

/* What no item speaks of stays as it was drawn: the trip's errors, and without a run of this unit
 * the unit's own. */
START_TEST(the_rest_stays_in_place)
{
    static const char *const stays[] = {"load_error", "speed_error", "ambient_error", "life_unit"};
    hobble_case *c = new_unit(400);
    struct hb_study s, plain;
    const struct hobble_evidence item = a_run(HOBBLE_RUN_ENDED, 80e3);
    const int d = hb_param_dimensions();
    ck_assert_int_eq(hb_study_open(c, 1, &plain, NULL), HOBBLE_OK);
    add(c, &item);
    ck_assert_int_eq(hb_study_open(c, 1, &s, NULL), HOBBLE_OK);
    const int margin = hb_param_dimension(HB_P_MARGIN);
    int moved = 0;
    for (int i = 0; i < 400; i++) {
        for (size_t k = 0; k < sizeof stays / sizeof *stays; k++) {
            const int row = hobble_param_find(stays[k]);
            const int at = i * d + hb_param_dimension((enum hb_param_id)row);
            ck_assert_mem_eq(&s.cube[at], &plain.cube[at], sizeof(double));
        }
        moved += s.cube[i * d + margin] != plain.cube[i * d + margin];
    }
    ck_assert_int_gt(moved, 40);
    hb_study_close(&s);
    hb_study_close(&plain);
    hobble_case_free(c);
}
END_TEST

/* ---- what cannot be -------------------------------------------------------------------------- */

START_TEST(what_cannot_be_is_named)
{
    struct hobble_evidence wrong = a_run(HOBBLE_RUN_ENDED, 1e3),
                           far = a_run(HOBBLE_RUN_SURVIVED, 0);
    const struct hobble_evidence passed = an_approval(2), said = a_statement(80e3),
                                 gone = a_run(HOBBLE_RUN_SURVIVED, 64e3);
    wrong.load_share = 0.3;
    wrong.on = HOBBLE_RUN_ON_DRUM;
    wrong.reading_error = 0.01;
    far.load_share = 1.0;
    far.distance = 1000e3;
    struct hobble_evidence hot = gone;
    const double time[] = {600.0, 1200.0, 1800.0}, celsius[] = {290.0, 295.0, 299.0};
    hobble_evidence_readings(&hot, HOBBLE_CHANNEL_OUTER, time, celsius, 3, NULL);
    const struct hobble_evidence bad[] = {wrong, far, hot};
    for (int k = 0; k < 3; k++)
        for (int place = 0; place < 4; place += 3) {
            hobble_case *c = new_unit(k == 0 ? 400 : 20);
            const struct hobble_evidence *good[] = {&passed, &said, &gone};
            for (int i = 0, next = 0; i < 4; i++)
                add(c, i == place ? &bad[k] : good[next++]);
            const struct hobble_answer a = ask_free(c);
            ck_assert_msg(a.evidence_against == place, "%d: %d", k, a.evidence_against);
            ck_assert(a.stop[HOBBLE_STOP_EVIDENCE]);
            ck_assert_int_eq(a.verdict, HOBBLE_STOP);
            ck_assert_double_eq(a.advised_distance, 0.0);
            ck_assert_double_eq(a.range.p5 + a.range.p50 + a.range.p95, 0.0);
            ck_assert_double_eq(a.advised.p50, 0.0);
            ck_assert(!a.rule_holds);
        }
}
END_TEST

/* A sample too small to temper well still answers or says that it cannot. */
START_TEST(few_members_do_no_harm)
{
    for (int k = 0; k < 2; k++) {
        hobble_case *c = new_unit(20);
        read_list(c, "x.cfg", k ? ENDED ", " GONE READ : SAID);
        const struct hobble_answer a = ask_free(c);
        ck_assert(a.stop[HOBBLE_STOP_EVIDENCE] ||
                  (a.range.p5 > 0.0 && a.evidence_effective >= 2.5));
    }
}
END_TEST

/* ---- this very tyre -------------------------------------------------------------------------- */

/* A run of this tyre that is not the drive in question: it ran flat, and is scrap (the rule of
 * hobble condition, docs/condition.md). */
START_TEST(a_tyre_that_ran_is_scrap)
{
    static const struct {
        enum hobble_run_outcome outcome;
        double at, run; /* km */
        bool scrap;
    } cases[] = {{HOBBLE_RUN_SURVIVED, 20, 0, true},   {HOBBLE_RUN_SURVIVED, 20, 10, true},
                 {HOBBLE_RUN_SURVIVED, 20, 20, false}, {HOBBLE_RUN_SURVIVED, 20, 21, false},
                 {HOBBLE_RUN_DESTROYED, 20, 21, true}, {HOBBLE_RUN_ENDED, 20, 21, true}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++)
        for (int other = 0; other < 2; other++) {
            hobble_case *c = new_unit(60);
            struct hobble_condition_answer bench;
            struct hobble_evidence item = a_run(cases[i].outcome, cases[i].at * KM);
            struct hobble_rule_answer rule;
            item.of = other ? HOBBLE_RUN_ANOTHER_UNIT : HOBBLE_RUN_THIS_UNIT;
            ask_set(c, "run", cases[i].run);
            add(c, &item);
            const struct hobble_answer a = ask(c);
            ck_assert_int_eq(a.stop[HOBBLE_STOP_CONDEMNED], cases[i].scrap && !other);
            ck_assert_int_eq(hobble_rule(c, 60 * KMH, 5 * KM, 1, &rule, NULL), HOBBLE_OK);
            ck_assert_int_eq(rule.stop[HOBBLE_STOP_PAST], cases[i].scrap && !other);
            ck_assert_int_eq(hobble_condition_judge(c, 1, &bench, NULL), HOBBLE_OK);
            bool before = false;
            for (int k = 0; k < bench.rule_count; k++)
                before = before || strcmp(bench.rule[k].id, "flat_before") == 0;
            ck_assert_int_eq(before, cases[i].scrap && !other);
            hobble_case_free(c);
        }
}
END_TEST

/* Nothing that is known of a type makes a verdict on a tyre milder, or raises a cap. */
START_TEST(nothing_clears_a_tyre)
{
    hobble_case *c = new_unit(400), *plain = new_unit(400);
    struct hb_study s;
    for (double at = 90e3; at < 200e3; at += 50e3) {
        const struct hobble_evidence item = a_run(HOBBLE_RUN_SURVIVED, at);
        add(c, &item);
    }
    struct hobble_answer a = ask(c);
    ck_assert_double_gt(a.range.p5, 1.1 * a.unconditioned.p5);
    ck_assert_double_le(a.advised_distance, 80e3);
    ck_assert_double_eq(a.cap, 80e3);
    ck_assert_int_eq(hb_study_open(plain, 1, &s, NULL), HOBBLE_OK);
    struct hobble_answer without = a;
    memset(&without.drive, 0, sizeof without.drive);
    hb_advise_after(&s.ensemble, &without);
    ck_assert_double_eq(a.drive.life_p95, without.drive.life_p95);
    ck_assert_double_eq(a.drive.peak_p95, without.drive.peak_p95);
    ck_assert_int_eq(a.condition, without.condition);
    hb_study_close(&s);
    hobble_case_free(c);
    hobble_case_free(plain);
}
END_TEST

/* A mark that hardly any type of the profile could have is a contradiction, whatever runs tell of
 * the few that could. */
START_TEST(evidence_hides_no_contradiction)
{
    for (int with = 0; with < 2; with++) {
        hobble_case *c = new_unit(400);
        const struct hobble_evidence item = a_run(HOBBLE_RUN_SURVIVED, 30e3);
        ask_set(c, "wall_limit", 120.0);
        ask_set(c, "loss_25c", 0.06);
        if (with)
            add(c, &item);
        const struct hobble_answer a = ask_free(c);
        ck_assert_int_gt(a.passed, 0);
        ck_assert_int_lt(a.passed, 20);
        ck_assert(a.stop[HOBBLE_STOP_CONTRADICTION]);
        ck_assert_double_eq(a.range.p50, 0.0);
    }
}
END_TEST

/* ---- temperatures ---------------------------------------------------------------------------- */

static double mean_of(const hobble_case *c, enum hb_param_id id)
{
    struct hb_study s;
    double sum = 0.0;
    ck_assert_int_eq(hb_study_open(c, 1, &s, NULL), HOBBLE_OK);
    ck_assert_int_lt(s.ensemble.taken.against, 0);
    for (size_t i = 0; i < s.ensemble.arrays.members; i++)
        sum += s.cube[i * (size_t)hb_param_dimensions() + (size_t)hb_param_dimension(id)];
    sum /= (double)s.ensemble.arrays.members;
    hb_study_close(&s);
    return sum;
}

/* A tyre that is as the middle but for one row, so many standard deviations out: what would be read
 * on the way, without an error. */
static struct hobble_evidence readings_of(enum hb_param_id id, double z,
                                          enum hobble_channel channel)
{
    struct hb_study s;
    struct hb_plan plan;
    struct hb_record record[3];
    struct hb_leg leg[3];
    struct hobble_evidence item = a_run(HOBBLE_RUN_SURVIVED, 40e3);
    const struct hb_step_control steps = hb_step_control_default();
    struct hb_outcome out;
    double time[3], celsius[3];
    hobble_case *c = new_unit(20);
    ck_assert_int_eq(hb_study_open(c, 1, &s, NULL), HOBBLE_OK);
    memset(s.cube, 0, 20 * (size_t)hb_param_dimensions() * sizeof *s.cube);
    s.cube[hb_param_dimension(id)] = z;
    ck_assert_int_eq(hb_ensemble_make(s.cube, &s.ensemble), HOBBLE_OK);
    hb_plan_asked(&s.question, &plan);
    for (int k = 0; k < 3; k++) {
        leg[k] = (struct hb_leg){.speed = item.speed,
                                 .load = item.load_share * s.question.index_load,
                                 .ambient = item.ambient,
                                 .extent = 600.0,
                                 .kind = HB_FOR_TIME,
                                 .set_pressure = k == 0,
                                 .goes_on = k > 0};
        time[k] = 600.0 * (k + 1);
    }
    const struct hb_journey journey = {
        {true, item.speed, leg[0].load, item.ambient, s.question.pressure_inflated},
        3,
        leg,
        1e6,
        1e6};
    hb_integrate_many(&journey, &steps, &s.ensemble.arrays.tyre[0], 1, &out, record);
    for (int k = 0; k < 3; k++)
        celsius[k] = (channel == HOBBLE_CHANNEL_OUTER    ? record[k].outer
                      : channel == HOBBLE_CHANNEL_CAVITY ? record[k].cavity
                                                         : record[k].inner) -
                     HB_CELSIUS;
    ck_assert_int_eq(hobble_evidence_readings(&item, channel, time, celsius, 3, NULL), HOBBLE_OK);
    item.channel[channel].offset = item.channel[channel].scatter = 1.0;
    hb_study_close(&s);
    hobble_case_free(c);
    return item;
}

/* What is read of a tyre pulls the sample to how that tyre is. */
START_TEST(readings_pull_the_right_way)
{
    static const struct {
        enum hb_param_id id;
        enum hobble_channel channel;
    } cases[] = {{HB_P_FILM_OUTER, HOBBLE_CHANNEL_OUTER}, {HB_P_LOSS_25C, HOBBLE_CHANNEL_INNER}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++)
        for (double z = -1.5; z < 2.0; z += 3.0) {
            hobble_case *c = new_unit(500);
            const struct hobble_evidence item = readings_of(cases[i].id, z, cases[i].channel);
            add(c, &item);
            const double pulled = mean_of(c, cases[i].id) / z;
            ck_assert_msg(pulled > 0.15 && pulled < 1.1, "%zu, %g: %g", i, z, pulled);
            hobble_case_free(c);
        }
}
END_TEST

/* The worse a sensor is known, the less it moves: by its offset and by its scatter. */
START_TEST(worse_sensors_move_less)
{
    static const double wide[] = {0.5, 2.0, 5.0, 12.0, 40.0};
    struct hobble_evidence item = readings_of(HB_P_FILM_OUTER, 2.0, HOBBLE_CHANNEL_OUTER);
    for (int of_offset = 0; of_offset < 2; of_offset++) {
        double before = HUGE_VAL, first = 0.0;
        for (size_t k = 0; k < sizeof wide / sizeof *wide; k++) {
            hobble_case *c = new_unit(MEMBERS);
            item.channel[HOBBLE_CHANNEL_OUTER].offset = of_offset ? wide[k] : 1.0;
            item.channel[HOBBLE_CHANNEL_OUTER].scatter = of_offset ? 5.0 : wide[k];
            add(c, &item);
            const double moved = fabs(mean_of(c, HB_P_FILM_OUTER));
            /* one tenth: two samples of a thousand have means 1 / sqrt(500) apart, twice that */
            ck_assert_msg(moved < before + 0.1, "%d, %g K: %g after %g", of_offset, wide[k], moved,
                          before);
            before = moved;
            first = fmax(first, moved);
            hobble_case_free(c);
        }
        ck_assert_double_lt(before, 0.4 * first);
    }
}
END_TEST

Suite *posterior_suite(void)
{
    Suite *suite = suite_create("posterior");
    TCase *tests = tcase_create("posterior");
    tcase_set_timeout(tests, 120);
    tcase_add_test(tests, farther_is_no_worse);
    tcase_add_test(tests, more_is_no_worse);
    tcase_add_test(tests, any_order_says_the_same);
    tcase_add_test(tests, parts_make_the_whole);
    tcase_add_test(tests, none_changes_nothing);
    tcase_add_test(tests, the_rest_stays_in_place);
    tcase_add_test(tests, what_cannot_be_is_named);
    tcase_add_test(tests, few_members_do_no_harm);
    tcase_add_test(tests, a_tyre_that_ran_is_scrap);
    tcase_add_test(tests, nothing_clears_a_tyre);
    tcase_add_test(tests, evidence_hides_no_contradiction);
    tcase_add_test(tests, readings_pull_the_right_way);
    tcase_add_test(tests, worse_sensors_move_less);
    suite_add_tcase(suite, tests);
    return suite;
}
