/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test_learn.c - the advice after something is learnt, against closed forms and, on real questions,
 * against nested Monte Carlo. */
#include "ask.h"
#include "study/learn.h"
#include "study/posterior.h"
#include "study/quantile_by.h"

#include <check.h>
#include <gsl/gsl_cdf.h>
#include <gsl/gsl_integration.h>
#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

Suite *learn_suite(void);

enum { TYRES = 3000, SEEDS = 25 };
#define CAP    (80 * KM)
#define MIDDLE (100 * KM)
#define SPREAD 0.7 /* of ln range */
#define FAR    10.0

/* ---- closed forms ---------------------------------------------------------------------------- */

/* ln range and reading jointly normal; readings above stop (in deviations) read as stop. */
struct pair {
    double middle, rho, stop;
};

static double under(double cap, double way)
{
    return fmin(way, cap) < 5 * KM ? 0.0 : fmin(way, cap);
}

static double allow(double way)
{
    return under(CAP, way);
}

static double p5(double mean, double deviation)
{
    return exp(mean + deviation * gsl_cdf_ugaussian_Pinv(0.05));
}

static double integral(double (*f)(double, void *), const void *p, double from, double to)
{
    double sum, error;
    gsl_integration_workspace *room = gsl_integration_workspace_alloc(2000);
    gsl_function g = {f, NULL};
    union {
        const void *from;
        void *to;
    } any = {p};
    g.params = any.to;
    gsl_integration_qag(&g, from, to, 0.0, 1e-5, 2000, GSL_INTEG_GAUSS21, room, &sum, &error);
    gsl_integration_workspace_free(room);
    return sum;
}

static double after(double z, void *pair)
{
    const struct pair *p = pair;
    const double rest = sqrt(1.0 - p->rho * p->rho);
    return gsl_ran_ugaussian_pdf(z) *
           allow(p5(log(p->middle) + SPREAD * p->rho * z, SPREAD * rest));
}

/* A chance that a tyre ends before way, its reading above the stop. */
struct tail {
    const struct pair *p;
    double way;
};

static double ends(double z, void *tail)
{
    const struct tail *t = tail;
    const double x =
        (log(t->way / t->p->middle) / SPREAD - t->p->rho * z) / sqrt(1.0 - t->p->rho * t->p->rho);
    return gsl_ran_ugaussian_pdf(z) * gsl_cdf_ugaussian_P(x);
}

static double expected(const struct pair *p)
{
    const double above = gsl_cdf_ugaussian_Q(p->stop);
    double sum = integral(after, p, -8.0, fmin(p->stop, 8.0)), low = 1.0, high = 1e6;
    for (int i = 0; i < 60 && above > 1e-12; i++) {
        const struct tail t = {p, sqrt(low * high)};
        if (integral(ends, &t, p->stop, 9.0) < 0.05 * above)
            low = t.way;
        else
            high = t.way;
    }
    return sum + above * allow(low);
}

static void draw(const struct pair *p, unsigned long seed, struct hb_heard *heard)
{
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
    gsl_rng_set(rng, seed);
    for (size_t i = 0; i < TYRES; i++) {
        const double z = gsl_ran_ugaussian(rng), e = gsl_ran_ugaussian(rng);
        const double x = p->rho * z + sqrt(1.0 - p->rho * p->rho) * e;
        heard[i] = (struct hb_heard){fmin(z, p->stop), p->middle * exp(SPREAD * x), FAR, i};
    }
    gsl_rng_free(rng);
}

static struct hb_learnt learn(struct hb_heard *heard, size_t n, double stands, double bar)
{
    struct hb_learnt learnt = {0};
    const struct hb_bounds bounds = {stands, CAP, bar};
    ck_assert_int_eq(hb_learn_by(heard, n, &bounds, &learnt), HOBBLE_OK);
    return learnt;
}

/* Closed form, by integration over the reading. Over the seeds the mean is right to three of its
 * standard errors; where the reading says it all (rho = 1), the scores of 3000 ranks, which are not
 * the readings themselves, are taken for scatter: up to 2 % less is allowed there, never more. */
START_TEST(jointly_normal)
{
    static struct hb_heard heard[TYRES];
    static const struct pair pairs[] = {{MIDDLE, 0.0, HUGE_VAL},    {MIDDLE, 0.2, HUGE_VAL},
                                        {MIDDLE, 0.5, HUGE_VAL},    {MIDDLE, 0.9, HUGE_VAL},
                                        {MIDDLE, 1.0, HUGE_VAL},    {20 * KM, 0.5, HUGE_VAL},
                                        {16.2 * KM, 0.7, HUGE_VAL}, {MIDDLE, 0.5, 0.3},
                                        {MIDDLE, 0.8, -0.5},        {0.2 * MIDDLE, 0.9, HUGE_VAL}};
    for (size_t k = 0; k < sizeof pairs / sizeof *pairs; k++) {
        double sum = 0.0, squares = 0.0;
        const double exact = expected(&pairs[k]);
        for (unsigned long seed = 1; seed <= SEEDS; seed++) {
            draw(&pairs[k], seed, heard);
            const double advice = learn(heard, TYRES, 1.0, HUGE_VAL).advice;
            sum += advice / SEEDS;
            squares += advice * advice / SEEDS;
        }
        const double error = sqrt((squares - sum * sum) / SEEDS);
        printf("middle %.0f km, rho %.1f: %.2f km, estimated %.2f +- %.2f\n", pairs[k].middle / KM,
               pairs[k].rho, exact / KM, sum / KM, error / KM);
        const double less = pairs[k].rho < 1.0 ? 0.0 : 0.02 * exact;
        if (sum > exact + 3.0 * error || sum < exact - 3.0 * error - less)
            ck_abort_msg("pair %zu: %g, not %g +- %g", k, sum, exact, error);
    }
}
END_TEST

/* A reading that tells nothing gives the plain low quantile at every tyre, also where STOP is near:
 * by Schwarz's criterion a term that is nothing gets in once in two hundred times (chi-square of
 * one degree beyond ln 3000), one of three in seventy; one of 25 in two may then be. */
START_TEST(nothing_told)
{
    static struct hb_heard heard[TYRES];
    static double left[TYRES];
    static const double middles[] = {MIDDLE, 16.2 * KM, 15 * KM};
    for (size_t k = 0; k < sizeof middles / sizeof *middles; k++) {
        const struct pair p = {middles[k], 0.0, HUGE_VAL};
        int unlike = 0;
        for (unsigned long seed = 1; seed <= SEEDS; seed++) {
            draw(&p, seed, heard);
            for (size_t i = 0; i < TYRES; i++)
                left[i] = heard[i].left;
            const double now = allow(hb_quantile(left, TYRES, 0.05));
            const struct hb_learnt learnt = learn(heard, TYRES, now, HUGE_VAL);
            unlike += fabs(learnt.advice - now) > 1e-6 * now || learnt.turns > 1e-12;
        }
        ck_assert_int_le(unlike, 2);
    }
}
END_TEST

/* The regression's own definition: a share p lies below the curve, to a tyre for each of its terms
 * and one more (Koenker and Bassett, Econometrica 46 (1978) 33, theorem 3.4), in each half of the
 * readings to three standard errors; and a curved quantile is followed: sinh has no end of odd
 * powers, of which three are taken. */
START_TEST(a_share_lies_below)
{
    static double x[TYRES], y[TYRES], by[TYRES];
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
    for (size_t i = 0; i < TYRES; i++) {
        const double z = gsl_cdf_ugaussian_Pinv(((double)i + 0.5) / TYRES);
        x[i] = exp(z); /* any scale: ranks are all that is looked at */
        y[i] = exp(0.3 * sinh(z) + (0.2 + 0.1 * gsl_cdf_ugaussian_P(z)) * gsl_ran_ugaussian(rng));
    }
    gsl_rng_free(rng);
    static const double shares[] = {0.05, 0.5, 0.01};
    for (int k = 0; k < 3; k++) {
        const double p = shares[k];
        int below[2] = {0, 0};
        ck_assert_int_eq(hb_quantile_by(x, y, TYRES, p, by), HOBBLE_OK);
        for (size_t i = 0; i < TYRES; i++)
            below[i >= TYRES / 2] += y[i] < by[i];
        ck_assert_double_eq_tol(below[0] + below[1], p * TYRES, 5.0);
        ck_assert_double_eq_tol(below[0], 0.5 * p * TYRES, 3.0 * sqrt(0.5 * p * (1 - p) * TYRES));
        for (size_t i = TYRES / 20; i < TYRES - TYRES / 20; i++) {
            const double z = log(x[i]);
            const double exact =
                0.3 * sinh(z) + (0.2 + 0.1 * gsl_cdf_ugaussian_P(z)) * gsl_cdf_ugaussian_Pinv(p);
            /* four terms of as many tyres: standard error about 2 sqrt(p (1 - p) / n) / density */
            const double density = gsl_ran_ugaussian_pdf(gsl_cdf_ugaussian_Pinv(p)) / 0.25;
            ck_assert_double_eq_tol(log(by[i]), exact,
                                    3.0 * 2.0 * sqrt(p * (1 - p) / TYRES) / density + 0.01);
        }
    }
}
END_TEST

/* Fewer than two hundred tyres tell nothing of a low quantile by a reading (five below it for each
 * of two terms): their plain one stays, by definition of hb_quantile. */
START_TEST(few_tyres)
{
    static struct hb_heard heard[TYRES];
    double left[199];
    const struct pair p = {MIDDLE, 0.9, HUGE_VAL};
    for (size_t n = 1; n < 200; n += 18) {
        draw(&p, n, heard);
        for (size_t i = 0; i < n; i++)
            left[i] = heard[i].left;
        const double now = allow(hb_quantile(left, n, 0.05));
        const struct hb_learnt learnt = learn(heard, n, now, HUGE_VAL);
        ck_assert_double_eq_tol(learnt.advice, now, 1e-9 * now);
        ck_assert_double_eq(learnt.turns, 0.0);
    }
}
END_TEST

/* STOP for an overload where the reading is above the bar, whatever is left; for the rim where more
 * than five of a hundred tyres that read so are within 1.3 of it, or one of them on it (the limits
 * are those of hobble range). Where the reading tells nothing, all or none. */
START_TEST(overload_and_rim_stop)
{
    static struct hb_heard heard[TYRES];
    const struct pair p = {MIDDLE, 0.0, HUGE_VAL};
    static const struct {
        int each;     /* one of so many is near the rim */
        double clear; /* how near */
        bool stops;
    } rim[] = {
        {30, 1.2, false}, {14, 1.2, true}, {14, 1.4, false}, {150, 0.9, false}, {60, 0.9, true}};
    for (size_t k = 0; k < sizeof rim / sizeof *rim; k++) {
        draw(&p, 3, heard);
        for (size_t i = 0; i < TYRES; i += (size_t)rim[k].each)
            heard[i].clear = rim[k].clear;
        const struct hb_learnt learnt = learn(heard, TYRES, 30 * KM, HUGE_VAL);
        ck_assert_double_eq_tol(learnt.turns, rim[k].stops ? 1.0 : 0.0, 1e-9);
    }
    draw(&p, 3, heard);
    double above = 0.0;
    for (size_t i = 0; i < TYRES; i++)
        above += heard[i].reading > 0.5;
    const struct hb_learnt learnt = learn(heard, TYRES, 30 * KM, 0.5);
    ck_assert_double_eq_tol(learnt.turns, above / TYRES, 1e-9);
    /* clear falls as exp(-reading / 2 + error): near in five of a hundred where the mean is 1.645
     * errors above ln 1.3, so STOP is a share of a normal law; three standard errors of the curve
     */
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
    for (size_t i = 0; i < TYRES; i++)
        heard[i].clear = exp(1.0 - 0.5 * heard[i].reading + 0.1 * gsl_ran_ugaussian(rng));
    gsl_rng_free(rng);
    const double from = (1.0 - log(1.3) + 0.1 * gsl_cdf_ugaussian_Pinv(0.05)) / 0.5;
    ck_assert_double_eq_tol(learn(heard, TYRES, 30 * KM, HUGE_VAL).turns, gsl_cdf_ugaussian_Q(from),
                            0.02);
}
END_TEST

/* ---- real questions -------------------------------------------------------------------------- */

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

/* Where other units end on the drum from a cold start at 80 km/h: a unit of each member's type. */
static void run_units(struct hb_study *s, double *end)
{
    const struct hb_step_control steps = hb_step_control_default();
    const struct hb_arrays *a = &s->ensemble.arrays;
    const double room = 38.0 + 273.15, sigma = hb_unit_scatter(&s->settings, 0.0);
    const struct hb_leg leg = {.speed = 80 * KMH,
                               .load = 0.65 * s->question.index_load,
                               .ambient = room,
                               .kind = HB_UNTIL_END,
                               .set_pressure = true};
    const struct hb_journey journey = {
        {.speed = 80 * KMH, .load = leg.load, .ambient = room}, 1, &leg, 2000 * KM, 172800.0};
    struct hb_tyre *unit = calloc(a->members, sizeof *unit);
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
    for (size_t i = 0; i < a->members; i++) {
        unit[i] = a->test[i];
        unit[i].life_per_metre /= exp(gsl_ran_gaussian(rng, sigma));
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

/* The same for a run of another unit on a drum: 24 readings spread evenly over what such runs come
 * to, each weighed with the likelihood that a profile's evidence has (its own tests are in
 * test_likelihood.c). 24 weighed low quantiles of some 700 of 1500 tyres, 6 % each and alike to a
 * good part, and the smoothing of 1500: 4 % in all, of which twice is allowed. */
START_TEST(drum_run)
{
    enum { READINGS = 24 };
    static double left[DRUM_MEMBERS], end[DRUM_MEMBERS], sum[DRUM_MEMBERS];
    static struct weighed w[DRUM_MEMBERS];
    struct real r;
    open_real(ask_vouched(DRUM_MEMBERS), 2, &r);
    const double learnt = of(&r.why, HOBBLE_LEARN_DRUM_RUN)->advice;
    hb_study_close(&r.study); /* its test places are of other units now */
    ck_assert_int_eq(hb_study_open(r.c, 2, &r.study, NULL), HOBBLE_OK);
    struct hb_ensemble *e = &r.study.ensemble;
    const size_t n = drive(&r.study, left);
    run_units(&r.study, end);
    size_t m = 0;
    for (size_t i = 0; i < DRUM_MEMBERS; i++)
        if (hb_ensemble_counts(e, i))
            end[m++] = end[i];
    qsort(end, n, sizeof *end, by_size);
    struct hobble_evidence item;
    hobble_evidence_begin(HOBBLE_EVIDENCE_RUN, &item);
    item.of = HOBBLE_RUN_ANOTHER_UNIT;
    item.on = HOBBLE_RUN_ON_DRUM;
    item.outcome = HOBBLE_RUN_ENDED;
    item.load_share = 0.65;
    item.speed = 80 * KMH;
    item.ambient = 38.0 + 273.15;
    item.age = 0.0;
    item.reading_error = 0.01;
    double mean = 0.0;
    const double cap = allowed_now(r.c);
    for (int j = 0; j < READINGS; j++) {
        item.distance = end[(size_t)((j + 0.5) / READINGS * (double)n)];
        for (size_t i = 0; i < DRUM_MEMBERS; i++)
            sum[i] = 0.0;
        ck_assert_int_eq(hb_add_likelihood(&item, r.study.cube, e, sum), HOBBLE_OK);
        m = 0;
        for (size_t i = 0; i < DRUM_MEMBERS; i++)
            if (hb_ensemble_counts(e, i)) {
                w[m] = (struct weighed){left[m], exp(sum[i])};
                m++;
            }
        mean += under(cap, weighed_p5(w, n)) / READINGS;
    }
    printf("run on a drum: %.2f km -> %.2f, by nested Monte Carlo %.2f\n", r.why.advice_now / KM,
           learnt / KM, mean / KM);
    ck_assert_double_eq_tol(learnt, mean, 0.08 * mean);
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
    double before = 0.0, rng_bound = 0.0;
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
    for (size_t i = 0; i < n; i++) {
        noise[i] = gsl_ran_ugaussian(rng);
        rng_bound += fmin(left[i], CAP) / 0.95 / (double)n;
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
        const double advice = learn(heard, n, 1.0, HUGE_VAL).advice;
        ck_assert_double_le(advice, rng_bound);
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

Suite *learn_suite(void)
{
    Suite *suite = suite_create("learn");
    TCase *all = tcase_create("learn");
    tcase_set_timeout(all, 240.0); /* sanitizers and valgrind are slow */
    tcase_add_test(all, jointly_normal);
    tcase_add_test(all, nothing_told);
    tcase_add_test(all, a_share_lies_below);
    tcase_add_test(all, few_tyres);
    tcase_add_test(all, overload_and_rim_stop);
    tcase_add_test(all, axle_weighed);
    tcase_add_test(all, drum_run);
    tcase_add_test(all, read_worse_is_worth_less);
    tcase_add_loop_test(all, all_kinds_of_questions, 0, 6);
    tcase_add_test(all, nothing_is_offered);
    suite_add_tcase(suite, all);
    return suite;
}
