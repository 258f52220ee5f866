/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test_property.c - what must hold for every question, tried on random valid ones.
 * Source of the directions: more load, more speed and warmer air make more heat in a flexing wall
 * or take less away, and air in the tyre carries load (any tyre textbook); so does the program's
 * own promise, which these tests try to break. HOBBLE_PROPERTY_CASES asks for more profiles. */
#include "advice/advise.h"
#include "ask.h"
#include "random_case.h"
#include "study/study.h"

#include <check.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

Suite *property_suite(void);

#define NEED(held, ...)                                                                            \
    do {                                                                                           \
        if (!(held))                                                                               \
            ck_abort_msg(__VA_ARGS__);                                                             \
    } while (0)

/* Relative: the agreement of the integrator with the reference solver, which the suite on the
 * reference checks; two runs of nearly the same tyre can differ by that without meaning it. */
#define TIME_STEP 1e-3

enum { CASES = 6, MEMBERS = 48 };

/* ---- random profiles ---------------------------------------------------------------------------
 */

/* Numbers of the tyre that a profile may carry, moved by up to a third each way, within their
 * limits; and its spreads by up to a half. */
static void random_profile(struct random_source *r, hobble_case *c)
{
    static const char *const markings[] = {"185/65 RF15 88H", "205/55 RF16 91V",  "225/45 RF17 94W",
                                           "275/40 RF17 98W", "235/65 RF17 108V", "245/30 RF20 90Y",
                                           "315/35 RF20 110Y"};
    size_t count;
    const struct hobble_param *row = hobble_param_table(&count);
    const int size = random_below(r, 7);
    ask_text(c, "marking", markings[size]);
    /* the softer wall of extended mobility is not calibrated for the lowest section */
    const bool firm = random_below(r, 5) > 0 || size == 5;
    ask_word(c, "construction", firm ? "self_supporting" : "extended_mobility");
    for (size_t i = 0; i < count; i++) {
        const struct hobble_param *p = &row[i];
        if (p->group != HOBBLE_TYRE || p->kind != HOBBLE_NUMBER || isnan(p->value))
            continue;
        const double factor = random_between(r, 0.75, 1.33);
        if (random_below(r, 2) && strcmp(p->key, "loss_100c") != 0)
            ask_set(c, p->key, fmin(fmax(p->value * factor, p->min), p->max));
        if (p->stage != HOBBLE_NOT_DRAWN && random_below(r, 2))
            ask_spread(c, p->key, p->spread * random_between(r, 0.5, 1.5));
    }
    if (hobble_case_number(c, hobble_param_find("loss_25c")) < 0.04)
        ask_set(c, "loss_25c", 0.04);
}

static void random_trip(struct random_source *r, hobble_case *c)
{
    ask_set(c, "load_share", random_between(r, 0.35, 0.95));
    ask_set(c, "ambient", random_between(r, -20.0, 45.0));
    ask_set(c, "speed", random_between(r, 30.0, 120.0));
    ask_set(c, "pressure", random_below(r, 2) ? 0.0 : random_between(r, 0.0, 150.0));
    const bool moved = random_below(r, 4) > 0; /* what stood was not driven unseen */
    ask_set(c, "speed_before", moved ? random_between(r, 40.0, 140.0) : 0.0);
    ask_set(c, "unseen", random_below(r, 2) || !moved ? 0.0 : random_between(r, 0.0, 12.0));
    ask_set(c, "age", random_between(r, 0.0, 8.0));
    ask_word(c, "ran_flat", "no");
    ask_word(c, "repaired", "no");
    ask_set(c, "seed", random_below(r, 1000));
}

static hobble_case *random_question(struct random_source *r, int members)
{
    hobble_case *c = hobble_case_new();
    ck_assert_ptr_nonnull(c);
    random_profile(r, c);
    random_trip(r, c);
    ask_set(c, "members", members);
    return c;
}

/* ---- ranges move one way -----------------------------------------------------------------------
 */

static const struct {
    const char *key;
    double low, high;
    bool falls; /* the range never rises along it; else it never falls */
} sweep[] = {{"load_share", 0.3, 1.0, true},
             {"ambient", -20.0, 45.0, true},
             {"speed", 10.0, 180.0, true},
             {"pressure", 0.0, 175.0, false}};
enum { SWEEPS = sizeof sweep / sizeof *sweep, PLACES = 5, QUANTILES = 4 };

struct quantile {
    double value;
    bool censored; /* more than the value: the horizon cut it */
};

static void quantiles(const struct hobble_answer *a, struct quantile q[QUANTILES])
{
    const struct quantile all[QUANTILES] = {{a->range.p5, a->range.censored5},
                                            {a->range.p50, a->range.censored50},
                                            {a->unconditioned.p5, a->unconditioned.censored5},
                                            {a->unconditioned.p50, a->unconditioned.censored50}};
    memcpy(q, all, sizeof all);
}

/* How far more exceeds less, relative; 0 where either order is possible. */
static double rise(struct quantile less, struct quantile more)
{
    if (less.censored) /* really more than it says */
        return 0.0;
    return more.value > less.value ? (more.value - less.value) / fmax(less.value, 100.0) : 0.0;
}

/* The largest move the wrong way along one sweep. */
static double worst_along(struct random_source *r, const hobble_case *c, int s)
{
    static const char *const names[QUANTILES] = {"P5", "P50", "unconditioned P5",
                                                 "unconditioned P50"};
    struct quantile before[QUANTILES], now[QUANTILES];
    double worst = 0.0;
    hobble_case *other = hobble_case_clone(c);
    for (int i = 0; i < PLACES; i++) {
        /* one place in each part of the way, anywhere in it */
        const double at = (i + random_between(r, 0.0, 1.0)) / PLACES;
        ask_set(other, sweep[s].key, sweep[s].low + (sweep[s].high - sweep[s].low) * at);
        const struct hobble_answer a = ask(other);
        quantiles(&a, now);
        for (int q = 0; q < QUANTILES && i > 0; q++) {
            const double by = sweep[s].falls ? rise(before[q], now[q]) : rise(now[q], before[q]);
            if (by > TIME_STEP)
                printf("property: %s along %s, place %d: %.1f km, then %.1f km\n", names[q],
                       sweep[s].key, i, before[q].value / KM, now[q].value / KM);
            worst = fmax(worst, by);
        }
        memcpy(before, now, sizeof now);
    }
    hobble_case_free(other);
    return worst;
}

START_TEST(ranges_move_one_way)
{
    const int cases = random_count("HOBBLE_PROPERTY_CASES", CASES);
    double worst[SWEEPS] = {0.0};
    int misses = 0;
    for (int k = 0; k < cases; k++) {
        struct random_source r = {.state = (uint64_t)k};
        hobble_case *c = random_question(&r, MEMBERS);
        for (int s = 0; s < SWEEPS; s++) {
            const double by = worst_along(&r, c, s);
            worst[s] = fmax(worst[s], by);
            if (by > TIME_STEP) {
                printf("property: case %d misses along %s by %.3g %%\n", k, sweep[s].key,
                       100.0 * by);
                misses++;
            }
        }
        hobble_case_free(c);
    }
    for (int s = 0; s < SWEEPS; s++)
        printf("property: %d profiles, largest wrong move along %s %.3g %%\n", cases, sweep[s].key,
               100.0 * worst[s]);
    NEED(misses == 0, "%d sweeps move the wrong way; see above", misses);
}
END_TEST

/* ---- single tyres: counted, with sizes
 * ------------------------------------------------------------ */

static void drive_all(struct hb_study *s, double speed, double load, double *left)
{
    struct hb_plan plan;
    const struct hb_way way = {speed, load, 0.0, false, HB_AS_DRIVEN};
    hb_plan_from_now(&s->question, &way, &plan);
    hb_ensemble_drive(&s->ensemble, &plan);
    for (size_t i = 0; i < s->ensemble.arrays.members; i++) {
        left[i] = hb_ensemble_remaining(&s->ensemble, &plan, i);
        if (s->ensemble.arrays.outcome[i].end == HB_END_HORIZON)
            left[i] = HUGE_VAL;
    }
}

struct tally {
    long pairs, violations;
    double worst;
};

static void compare(const double *less, const double *more, struct tally *t)
{
    for (int i = 0; i < MEMBERS; i++) {
        t->pairs++;
        if (isfinite(less[i]) && isfinite(more[i]) && less[i] > more[i] * (1.0 + TIME_STEP) + 1.0) {
            t->violations++;
            t->worst = fmax(t->worst, less[i] / fmax(more[i], 100.0) - 1.0);
        }
    }
}

/* A single tyre may go farther a little faster (a colder start lasts longer in distance, the film
 * of air grows with speed): how often, and by how much, is printed. What must hold is for quantiles
 * of many tyres, above. A tenth of all pairs would be no rare exception any more: assumed. */
START_TEST(single_tyres)
{
    struct tally speed = {0}, load = {0};
    for (int k = 0; k < random_count("HOBBLE_PROPERTY_CASES", CASES); k++) {
        struct random_source r = {.state = (uint64_t)k};
        struct hb_study s;
        double before[MEMBERS], now[MEMBERS];
        hobble_case *c = random_question(&r, MEMBERS);
        ck_assert_int_eq(hb_study_open(c, 1, &s, NULL), HOBBLE_OK);
        for (int i = 0; i <= 8; i++, memcpy(before, now, sizeof now)) {
            drive_all(&s, (10.0 + 21.25 * i) * KMH, s.question.load, now);
            if (i > 0)
                compare(now, before, &speed);
        }
        for (int i = 0; i <= 4; i++, memcpy(before, now, sizeof now)) {
            drive_all(&s, s.question.speed, (0.3 + 0.175 * i) * s.question.index_load, now);
            if (i > 0)
                compare(now, before, &load);
        }
        hb_study_close(&s);
        hobble_case_free(c);
    }
    printf("property: single tyres, faster goes farther in %ld of %ld pairs, by up to %.3g %%\n",
           speed.violations, speed.pairs, 100.0 * speed.worst);
    printf("property: single tyres, heavier goes farther in %ld of %ld pairs, by up to %.3g %%\n",
           load.violations, load.pairs, 100.0 * load.worst);
    ck_assert_int_gt(speed.pairs, 0);
    ck_assert(10 * speed.violations < speed.pairs && 10 * load.violations < load.pairs);
}
END_TEST

/* ---- kilometres accumulate ----------------------------------------------------------------------
 */

/* Source: what was driven is driven; the rule counts it (arithmetic). */
START_TEST(advice_never_rises_on_the_way)
{
    int positive = 0;
    for (int k = 0; k < CASES; k++) {
        struct random_source r = {.state = 1000u + (uint64_t)k};
        hobble_case *c = random_question(&r, 32);
        double before = HUGE_VAL;
        ask_set(c, "load_share", random_between(&r, 0.35, 0.8));
        ask_set(c, "run_speed", random_between(&r, 30.0, 100.0));
        for (int run = 0; run <= 80; run += 10) {
            ask_set(c, "run", run);
            const struct hobble_answer a = ask(c);
            NEED(a.advised_distance <= before * (1.0 + TIME_STEP), "case %d: %g m, then %g m at %d",
                 k, before, a.advised_distance, run);
            NEED(a.advised_distance == 0.0 ||
                     a.run_seen + a.run_unseen + a.advised_distance <= a.cap * (1.0 + 1e-12),
                 "case %d at %d km: over the cap", k, run);
            before = a.advised_distance;
            positive += a.advised_distance > 0.0;
        }
        hobble_case_free(c);
    }
    ck_assert_int_gt(positive, CASES);
}
END_TEST

/* ---- the same question, the same bytes
 * ----------------------------------------------------------- */

static bool same_number(double x, double y)
{
    return memcmp(&x, &y, sizeof x) == 0;
}

#define NUMBERS(X)                                                                                 \
    X(advised_speed)                                                                               \
    X(advised_distance)                                                                            \
    X(advised_time)                                                                                \
    X(cap)                                                                                         \
    X(load)                                                                                        \
    X(pressure_now)                                                                                \
    X(run_seen)                                                                                    \
    X(run_unseen)                                                                                  \
    X(range.p5)                                                                                    \
    X(range.p50)                                                                                   \
    X(range.p95)                                                                                   \
    X(unconditioned.p5)                                                                            \
    X(unconditioned.p50)                                                                           \
    X(unconditioned.p95)                                                                           \
    X(advised.p5)                                                                                  \
    X(advised.p50)                                                                                 \
    X(advised.p95)                                                                                 \
    X(if_vouched)                                                                                  \
    X(to)                                                                                          \
    X(chance_of_failing)                                                                           \
    X(sampling_error)                                                                              \
    X(share_of_tyres)                                                                              \
    X(now_p50)                                                                                     \
    X(peak_p50)                                                                                    \
    X(peak_p95)                                                                                    \
    X(life_now_p50)                                                                                \
    X(life_at_advised_p50)                                                                         \
    X(rim_share)                                                                                   \
    X(near_rim_share)                                                                              \
    X(energy_closure)                                                                              \
    X(solver_difference)

static void need_same(const struct hobble_answer *x, const struct hobble_answer *y)
{
#define SAME(field)                                                                                \
    NEED(same_number(x->field, y->field), #field ": %.17g, %.17g", x->field, y->field);
    NUMBERS(SAME)
#undef SAME
    for (int i = 0; i < HOBBLE_END_COUNT; i++)
        ck_assert(same_number(x->share_ended[i], y->share_ended[i]));
    ck_assert(memcmp(x->stop, y->stop, sizeof x->stop) == 0);
    ck_assert(x->verdict == y->verdict && x->limited_by == y->limited_by);
    ck_assert(x->tested == y->tested && x->passed == y->passed && x->more_count == y->more_count);
    for (int i = 0; i < x->more_count; i++)
        ck_assert(same_number(x->more[i].distance, y->more[i].distance));
}

START_TEST(same_bytes)
{
    struct random_source r = {.state = 77};
    hobble_case *c = random_question(&r, 203); /* not a multiple of anything */
    ask_set(c, "to", 60.0);
    struct hobble_answer first, again;
    ck_assert_int_eq(hobble_range(c, 1, &first, NULL), HOBBLE_OK);
    static const int threads[] = {1, 2, 0};
    for (int i = 0; i < 3; i++) {
        ck_assert_int_eq(hobble_range(c, threads[i], &again, NULL), HOBBLE_OK);
        need_same(&first, &again);
    }
    hobble_case_free(c);
}
END_TEST

/* Source: the error of a share (binomial); two seeds agree within four of both together, once in
 * 16 000 not, and yet are not the same sample. Evenly laid points do better than chance. */
START_TEST(seeds)
{
    hobble_case *c = ask_vouched(400);
    ask_set(c, "to", ask(c).advised.p50 / KM);
    const struct hobble_answer first = ask(c);
    for (int seed = 2; seed < 6; seed++) {
        ask_set(c, "seed", seed);
        const struct hobble_answer other = ask(c);
        const double ending = ask_ending_before(c, first.to);
        ck_assert_double_eq_tol(0.5, ending, 4.0 * sqrt(0.25 / first.passed + 0.25 / other.passed));
        const double passing = sqrt(2.0 * 0.25 / 400.0);
        ck_assert_double_eq_tol(first.passed / 400.0, other.passed / 400.0, 4.0 * passing);
        ck_assert(first.advised.p50 != other.advised.p50);
    }
    hobble_case_free(c);
}
END_TEST

/* Drive, stop, drive: numbers stay finite, life neither heals nor is used while parked. */
START_TEST(parked)
{
    const struct hb_step_control steps = hb_step_control_default();
    struct random_source r = {.state = 5};
    int alive = 0;
    for (int k = 0; k < 200; k++) {
        struct random_case made;
        struct hb_record record[3];
        struct hb_outcome out;
        random_case(&r, RANDOM_PLAIN, &made);
        struct hb_leg leg[3] = {made.leg[0], made.leg[0], made.leg[0]};
        leg[0].kind = leg[1].kind = HB_FOR_TIME;
        leg[0].extent = random_between(&r, 10.0, 3600.0);
        leg[1].extent = random_between(&r, 1.0, 172800.0);
        leg[1].speed = 0.0;
        leg[1].set_pressure = leg[2].set_pressure = false;
        struct hb_journey journey = made.journey;
        journey.leg = leg;
        journey.count = 3;
        hb_integrate_many(&journey, &steps, &made.tyre, 1, &out, record);
        const double numbers[] = {out.distance, out.life, out.peak, record[1].hottest,
                                  record[2].inner};
        for (int i = 0; i < 5; i++)
            NEED(isfinite(numbers[i]), "%s: number %d", made.text, i);
        NEED(same_number(record[1].life, record[0].life), "%s: life %.17g, parked %.17g", made.text,
             record[0].life, record[1].life);
        NEED(record[1].distance == record[0].distance && record[2].life >= record[1].life, "%s",
             made.text);
        alive += record[2].distance > record[1].distance;
    }
    ck_assert_int_gt(alive, 50);
}
END_TEST

Suite *property_suite(void)
{
    Suite *s = suite_create("property");
    TCase *t = tcase_create("property");
    tcase_set_timeout(t, 600.0); /* sanitizers and valgrind are slow; more cases may be asked for */
    tcase_add_test(t, ranges_move_one_way);
    tcase_add_test(t, single_tyres);
    tcase_add_test(t, advice_never_rises_on_the_way);
    tcase_add_test(t, same_bytes);
    tcase_add_test(t, seeds);
    tcase_add_test(t, parked);
    suite_add_tcase(s, t);
    return s;
}
