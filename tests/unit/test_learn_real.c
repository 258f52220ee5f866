/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test_learn_real.c - the advice after something is learnt, on real questions: against nested Monte
 * Carlo, and what must hold of all of them. */
#include "ask.h"
#include "study/learn.h"
#include "study/posterior.h"

#include <check.h>
#include <gsl/gsl_cdf.h>
#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

Suite *learn_real_suite(void);

#define CAP (80 * KM)
#define FAR 10.0

static double under(double cap, double way)
{
    return fmin(way, cap) < 5 * KM ? 0.0 : fmin(way, cap);
}

struct real {
    hobble_case *c;
    struct hb_study study;
    struct hobble_why why;
};

static void open_real(hobble_case *c, int threads, struct real *r)
{
    r->c = c;
    r->why = (struct hobble_why){0};
    ck_assert_int_eq(hb_study_open(c, threads, &r->study, NULL), HOBBLE_OK);
    ck_assert_int_eq(hb_learn(c, threads, &r->study, &r->why, NULL), HOBBLE_OK);
}

static void close_real(struct real *r)
{
    hb_study_close(&r->study);
    hobble_case_free(r->c);
}

static const struct hobble_learnt *of(const struct hobble_why *why, enum hobble_learn what)
{
    for (int i = 0; i < why->learn_count; i++)
        if (why->learn[i].what == what)
            return &why->learn[i];
    return NULL;
}

/* What the members have left from now, as advice is given; returns how many count. */
static size_t drive(struct hb_study *s, double *left)
{
    struct hb_plan plan;
    hb_plan_advised(&s->question, 0.0, &plan);
    hb_ensemble_drive(&s->ensemble, &plan);
    size_t n = 0;
    for (size_t i = 0; i < s->ensemble.arrays.members; i++)
        if (hb_ensemble_counts(&s->ensemble, i))
            left[n++] = hb_ensemble_remaining(&s->ensemble, &plan, i);
    return n;
}

/* What is allowed from now on: the rule's distance less what was driven. */
static double allowed_now(const hobble_case *c)
{
    const struct hobble_answer a = ask(c);
    return a.cap - a.run_seen - a.run_unseen;
}

struct weighed {
    double left, weight;
};

static int by_left(const void *a, const void *b)
{
    const struct weighed *x = a, *y = b;
    return (x->left > y->left) - (x->left < y->left);
}

/* The low quantile of tyres of unequal weight. */
static double weighed_p5(struct weighed *w, size_t n)
{
    double all = 0.0, sum = 0.0;
    size_t i = 0;
    for (size_t k = 0; k < n; k++)
        all += w[k].weight;
    qsort(w, n, sizeof *w, by_left);
    while (i + 1 < n && (sum += w[i].weight) < 0.05 * all)
        i++;
    return w[i].left;
}

enum { MEMBERS = 4000, DRUM_MEMBERS = 2000 };

/* Nested Monte Carlo: 500 readings of the axle scale from the prior, the tyres weighed by what each
 * is likely to read (closed form, a normal law), their low quantile, its mean. The tyres are the
 * same, so what is left is the smoothing's error and the weighed quantile's: about a third of 3000
 * tyres weigh with any reading, 4 % in ln P5, and a sixth of them with another, so that the mean is
 * sure to 2 %; twice that is allowed. */
START_TEST(axle_weighed)
{
    static double left[MEMBERS];
    static struct weighed w[MEMBERS];
    static const double loads[] = {0.6, 0.7, 0.8};
    for (size_t k = 0; k < sizeof loads / sizeof *loads; k++) {
        struct real r;
        hobble_case *c = ask_vouched(MEMBERS);
        ask_set(c, "load_share", loads[k]);
        open_real(c, 1, &r);
        const struct hb_arrays *a = &r.study.ensemble.arrays;
        const size_t n = drive(&r.study, left);
        const double cap = allowed_now(c);
        double sum = 0.0;
        enum { READINGS = 500 };
        gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
        for (int j = 0; j < READINGS; j++) {
            size_t at = gsl_rng_uniform_int(rng, a->members), m = 0;
            while (!hb_ensemble_counts(&r.study.ensemble, at))
                at = (at + 1) % a->members;
            const double reading = a->tyre[at].load_factor * (1.0 + 0.02 * gsl_ran_ugaussian(rng));
            for (size_t i = 0; i < a->members; i++)
                if (hb_ensemble_counts(&r.study.ensemble, i)) {
                    const double load = a->tyre[i].load_factor;
                    w[m] = (struct weighed){left[m],
                                            gsl_ran_gaussian_pdf(reading - load, 0.02 * load)};
                    m++;
                }
            sum += (reading * loads[k] > 1.0 ? 0.0 : under(cap, weighed_p5(w, n))) / READINGS;
        }
        gsl_rng_free(rng);
        const double learnt = of(&r.why, HOBBLE_LEARN_LOAD)->advice;
        printf("axle weighed at %.2f: %.2f km -> %.2f, by nested Monte Carlo %.2f\n", loads[k],
               r.why.advice_now / KM, learnt / KM, sum / KM);
        ck_assert_double_eq_tol(learnt, sum, 0.04 * sum);
        close_real(&r);
    }
}
END_TEST

/* Another unit of each member's type where the item says that it was driven: on the drum as tested;
 * on the road with its own bends, and with what the road has for the type. Where each ends. */
static void run_units(struct hb_study *s, const struct hobble_evidence *item, double *end)
{
    const struct hb_step_control steps = hb_step_control_default();
    const struct hb_arrays *a = &s->ensemble.arrays;
    const bool road = item->on == HOBBLE_RUN_ON_ROAD;
    const double sigma = hb_unit_scatter(&s->settings, 0.0);
    const struct hb_leg leg = {.speed = item->speed,
                               .load = item->load_share * s->question.index_load,
                               .ambient = item->ambient,
                               .kind = HB_UNTIL_END,
                               .set_pressure = true};
    const struct hb_journey journey = {{.running = road,
                                        .speed = leg.speed,
                                        .load = leg.load,
                                        .ambient = leg.ambient,
                                        .pressure = s->question.pressure_inflated},
                                       1,
                                       &leg,
                                       2000 * KM,
                                       172800.0};
    struct hb_tyre *unit = calloc(a->members, sizeof *unit);
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
    for (size_t i = 0; i < a->members; i++) {
        struct hb_draw draw;
        unit[i] = a->test[i];
        unit[i].life_per_metre /= exp(gsl_ran_gaussian(rng, sigma));
        if (!road)
            continue;
        hb_draw(&s->settings, &s->cube[i * (size_t)hb_param_dimensions()], &draw);
        hb_put_on_drum(&unit[i], (double)INFINITY);
        unit[i].life_per_metre /= draw.value[hobble_param_find("life_road")];
        hb_work_harder(&unit[i], fabs(gsl_ran_gaussian(rng, 0.06)));
    }
    s->ensemble.runner.run(&journey, &steps, unit, a->members, a->outcome, NULL, 1);
    for (size_t i = 0; i < a->members; i++)
        end[i] = a->outcome[i].distance;
    gsl_rng_free(rng);
    free(unit);
}

static int by_size(const void *a, const void *b)
{
    const double *x = a, *y = b;
    return (*x > *y) - (*x < *y);
}

/* The advice after a run, on the average of 24 spread evenly over what such runs come to. */
static double after_runs(struct hb_study *s, double cap, struct hobble_evidence *item, double stop)
{
    enum { READINGS = 24 };
    static double left[DRUM_MEMBERS], end[DRUM_MEMBERS], sum[DRUM_MEMBERS];
    static struct weighed w[DRUM_MEMBERS];
    struct hb_ensemble *e = &s->ensemble;
    const size_t n = drive(s, left);
    size_t m = 0;
    double mean = 0.0;
    run_units(s, item, end);
    for (size_t i = 0; i < DRUM_MEMBERS; i++)
        if (hb_ensemble_counts(e, i))
            end[m++] = end[i];
    qsort(end, n, sizeof *end, by_size);
    for (int j = 0; j < READINGS; j++) {
        const double at = end[(size_t)((j + 0.5) / READINGS * (double)n)];
        item->distance = fmin(at, stop);
        item->outcome = at < stop ? HOBBLE_RUN_ENDED : HOBBLE_RUN_SURVIVED;
        for (size_t i = 0; i < DRUM_MEMBERS; i++)
            sum[i] = 0.0;
        ck_assert_int_eq(hb_add_likelihood(item, s->cube, e, sum), HOBBLE_OK);
        m = 0;
        for (size_t i = 0; i < DRUM_MEMBERS; i++)
            if (hb_ensemble_counts(e, i)) {
                w[m] = (struct weighed){left[m], exp(sum[i])};
                m++;
            }
        mean += under(cap, weighed_p5(w, n)) / READINGS;
    }
    return mean;
}

/* The same for a run of another unit, each weighed with the likelihood that a profile's evidence
 * has (its own tests are in test_likelihood.c): on a drum until it ends, and on the road, stopped
 * after 90 km, as hobble.h has them. 24 weighed low quantiles of some 700 of 1500 tyres, 6 % each
 * and alike to a good part, and the smoothing of 1500: 4 % in all, of which twice is allowed. */
START_TEST(another_unit_run)
{
    static const struct {
        enum hobble_learn what;
        enum hobble_run_on on;
        double load_share, celsius, stop;
    } runs[] = {{HOBBLE_LEARN_DRUM_RUN, HOBBLE_RUN_ON_DRUM, 0.65, 38.0, HUGE_VAL},
                {HOBBLE_LEARN_ROAD_RUN, HOBBLE_RUN_ON_ROAD, 0.88, 25.0, 90 * KM}};
    struct hobble_evidence item;
    struct real r;
    hobble_case *c = ask_vouched(DRUM_MEMBERS);
    ask_spread(c, "margin", 0.6); /* so that types differ, and a run tells of its type */
    ask_spread(c, "life_unit", 0.15);
    ask_set(c, "life_use", 0.1);
    ask_word(c, "load_known", "weighed");
    ask_set(c, "load_share", 0.88);
    open_real(c, 2, &r);
    hb_study_close(&r.study); /* its test places are of other units now */
    ck_assert_int_eq(hb_study_open(r.c, 2, &r.study, NULL), HOBBLE_OK);
    for (size_t k = 0; k < sizeof runs / sizeof *runs; k++) {
        hobble_evidence_begin(HOBBLE_EVIDENCE_RUN, &item);
        item.of = HOBBLE_RUN_ANOTHER_UNIT;
        item.on = runs[k].on;
        item.load_share = runs[k].load_share;
        item.speed = 80 * KMH;
        item.ambient = runs[k].celsius + 273.15;
        item.age = 0.0;
        item.reading_error = 0.01;
        const double mean = after_runs(&r.study, allowed_now(r.c), &item, runs[k].stop);
        const double learnt = of(&r.why, runs[k].what)->advice;
        printf("another unit run: %.2f km -> %.2f, by nested Monte Carlo %.2f\n",
               r.why.advice_now / KM, learnt / KM, mean / KM);
        ck_assert_double_eq_tol(learnt, mean, 0.08 * mean);
        ck_assert_double_gt(mean, 1.16 * r.why.advice_now); /* else it would show nothing */
    }
    close_real(&r);
}
END_TEST

/* A slow cold drive at 97 % of the index goes on; an axle that is weighed turns out to be
 * overloaded where its reading is above the index, whatever is left: of the load, guessed as
 * N(1.05, 0.08) of what is stated, read to 2 %, the share of a normal law, to three standard errors
 * of the tyres. */
START_TEST(axle_overloaded)
{
    struct real r;
    hobble_case *c = ask_vouched(1000);
    ask_set(c, "load_share", 0.97);
    ask_set(c, "speed", 40.0);
    ask_set(c, "ambient", -5.0);
    ask_set(c, "unseen", 0.0);
    open_real(c, 1, &r);
    const double above =
        gsl_cdf_gaussian_Q(1.0 / 0.97 - 1.05, hypot(0.08, 0.02 * hypot(1.05, 0.08)));
    const double sure = 3.0 * sqrt(above * (1.0 - above) / r.why.counted);
    ck_assert_double_gt(r.why.advice_now, 30 * KM);
    ck_assert_double_eq_tol(of(&r.why, HOBBLE_LEARN_LOAD)->turns, above, sure);
    close_real(&r);
}
END_TEST

/* What is read worse is never worth more (Blackwell: a reading with more noise is a garbling of
 * it), to the estimate's own scatter, of which 2 % of the advice is allowed: the errors are the
 * same draws, so that two neighbours scatter together. Never more than all that is left were known,
 * of which min(P5, cap) <= E min(left, cap) / 0.95 is the bound (Markov). */
START_TEST(read_worse_is_worth_less)
{
    static const double errors[] = {0.0, 0.01, 0.02, 0.04, 0.08, 0.2, 1.0};
    static double left[MEMBERS], noise[MEMBERS];
    static struct hb_heard heard[MEMBERS];
    struct hb_study s;
    hobble_case *c = ask_vouched(MEMBERS);
    ck_assert_int_eq(hb_study_open(c, 1, &s, NULL), HOBBLE_OK);
    const size_t n = drive(&s, left);
    double before = 0.0, bound = 0.0;
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
    for (size_t i = 0; i < n; i++) {
        noise[i] = gsl_ran_ugaussian(rng);
        bound += fmin(left[i], CAP) / 0.95 / (double)n;
    }
    gsl_rng_free(rng);
    for (size_t k = 0; k < sizeof errors / sizeof *errors; k++) {
        size_t m = 0;
        for (size_t i = 0; i < s.ensemble.arrays.members; i++)
            if (hb_ensemble_counts(&s.ensemble, i)) {
                const double load = s.ensemble.arrays.tyre[i].load_factor;
                heard[m] = (struct hb_heard){load * (1.0 + errors[k] * noise[m]), left[m], FAR, m};
                m++;
            }
        const struct hb_bounds bounds = {1.0, CAP, HUGE_VAL, (double)n};
        struct hb_learnt learnt;
        ck_assert_int_eq(hb_learn_by(heard, n, &bounds, &learnt), HOBBLE_OK);
        const double advice = learnt.advice;
        ck_assert_double_le(advice, bound);
        if (k > 0 && advice > 1.02 * before)
            ck_abort_msg("error %g: %g km, %g with less", errors[k], advice / KM, before / KM);
        before = advice;
    }
    hb_study_close(&s);
    hobble_case_free(c);
}
END_TEST

static hobble_case *with_evidence(void)
{
    hobble_case *c = ask_bare(400);
    struct hobble_evidence item;
    hobble_evidence_begin(HOBBLE_EVIDENCE_RUN, &item);
    snprintf(item.source, sizeof item.source, "simulated");
    item.of = HOBBLE_RUN_ANOTHER_UNIT;
    item.outcome = HOBBLE_RUN_SURVIVED;
    item.load_share = 0.75;
    item.speed = 80 * KMH;
    item.ambient = 298.15;
    item.distance = 90 * KM;
    ck_assert_int_eq(hobble_case_evidence_add(c, &item, NULL), HOBBLE_OK);
    return c;
}

static hobble_case *with_legs(void)
{
    hobble_case *c = ask_bare(400);
    struct hobble_leg leg = {.speed = 60 * KMH,
                             .distance = 8 * KM,
                             .time = NOT_GIVEN,
                             .load = NOT_GIVEN,
                             .ambient = NOT_GIVEN,
                             .pressure = 0.0,
                             .leak = NOT_GIVEN};
    ck_assert_int_eq(hobble_case_add_leg(c, &leg, NULL), HOBBLE_OK);
    ask_set(c, "load_share", 0.55);
    return c;
}

static hobble_case *with_a_rest(void)
{
    hobble_case *c = ask_vouched(400);
    ask_set(c, "load_share", 0.5);
    ask_set(c, "run", 6.0);
    ask_set(c, "rest", 60.0);
    return c;
}

static hobble_case *with_twenty(void)
{
    return ask_vouched(20);
}

static hobble_case *with_a_stop(void)
{
    hobble_case *c = ask_bare(400);
    ask_set(c, "load_share", 0.95);
    return c;
}

static hobble_case *with_the_rim(void)
{
    hobble_case *c = ask_vouched(400);
    ask_set(c, "load_share", 1.0);
    return c;
}

/* Of all kinds of questions: now is the driver's own advice; what is to be expected stands before
 * what is so at best, the most first; no advice is longer than is allowed or than if all were known
 * (the bound above); nothing is read after more of a drive than is advised; two threads give the
 * same bytes. */
START_TEST(all_kinds_of_questions)
{
    static hobble_case *(*const make[])(void) = {with_evidence, with_legs,   with_a_rest,
                                                 with_twenty,   with_a_stop, with_the_rim};
    static double left[400];
    struct real r, two;
    hobble_case *c = make[_i]();
    const struct hobble_answer answer = ask(c);
    open_real(hobble_case_clone(c), 1, &r);
    open_real(c, 2, &two);
    const size_t n = drive(&r.study, left);
    const double cap = answer.cap - answer.run_seen - answer.run_unseen;
    double known = 0.0;
    for (size_t i = 0; i < n; i++)
        known += fmin(left[i], cap) / 0.95 / (double)n;
    ck_assert_double_eq(r.why.advice_now, answer.advised_distance);
    ck_assert_int_eq(r.why.counted, answer.counted);
    ck_assert_int_gt(r.why.learn_count, 0);
    ck_assert_int_eq(r.why.learn_count, two.why.learn_count);
    for (int i = 0; i < r.why.learn_count; i++) {
        const struct hobble_learnt *x = &r.why.learn[i], *y = &two.why.learn[i], *last = x - 1;
        ck_assert(x->what == y->what && x->at_best == y->at_best);
        ck_assert_double_eq(x->advice, y->advice);
        ck_assert(i == 0 || last->at_best < x->at_best ||
                  (last->at_best == x->at_best && last->advice >= x->advice));
        ck_assert_double_le(x->advice, 80 * KM);
        ck_assert(x->at_best ? isnan(x->turns) : x->turns >= 0.0 && x->turns <= 1.0);
        ck_assert(x->at_best || x->advice <= known);
    }
    const bool as_far = answer.advised_distance >= 900.0 * answer.advised_speed;
    ck_assert_int_eq(of(&r.why, HOBBLE_LEARN_WALL) != NULL, as_far);
    ck_assert_int_eq(of(&r.why, HOBBLE_LEARN_CAVITY) != NULL, as_far);
    ck_assert_int_eq(of(&r.why, HOBBLE_LEARN_PAST) != NULL, !answer.all_stated);
    ck_assert_int_eq(of(&r.why, HOBBLE_LEARN_UNSEEN) != NULL, answer.unseen_assumed);
    close_real(&r);
    close_real(&two);
}
END_TEST

/* STOP for what is no matter of distance or load: no measurement is offered as a way out of it. */
START_TEST(nothing_is_offered)
{
    static const struct {
        const char *key, *word;
        double value;
    } stops[] = {{"construction", "conventional", 0},
                 {"construction", "extended_mobility", 0},
                 {"construction", "sealant_lined", 0},
                 {"load_share", NULL, 1.02},
                 {"flat_tyres", NULL, 2},
                 {"trailer", "yes", 0},
                 {"run", NULL, 79},
                 {"ran_flat", "yes", 0},
                 {"ambient", NULL, 50}};
    for (size_t i = 0; i < sizeof stops / sizeof *stops; i++) {
        struct real r;
        hobble_case *c = ask_vouched(100);
        ask_set(c, "load_share", 0.5);
        if (stops[i].word)
            ask_word(c, stops[i].key, stops[i].word);
        else
            ask_set(c, stops[i].key, stops[i].value);
        const bool stands = ask(c).verdict == HOBBLE_STOP;
        open_real(c, 1, &r);
        ck_assert_int_eq(stands, i != 1); /* extended mobility may go on */
        ck_assert_int_eq(r.why.stop_stands, stands);
        ck_assert_int_eq(r.why.learn_count > 0, !stands);
        close_real(&r);
    }
}
END_TEST

Suite *learn_real_suite(void)
{
    Suite *suite = suite_create("learn_real");
    TCase *all = tcase_create("learn_real");
    tcase_set_timeout(all, 240.0); /* sanitizers and valgrind are slow */
    tcase_add_test(all, axle_weighed);
    tcase_add_test(all, axle_overloaded);
    tcase_add_test(all, another_unit_run);
    tcase_add_test(all, read_worse_is_worth_less);
    tcase_add_loop_test(all, all_kinds_of_questions, 0, 6);
    tcase_add_test(all, nothing_is_offered);
    suite_add_tcase(suite, all);
    return suite;
}
