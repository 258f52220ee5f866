/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test_learn.c - the advice after something is learnt, against closed forms. */
#include "study/learn.h"
#include "study/quantile_by.h"

#include <check.h>
#include <gsl/gsl_cdf.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_integration.h>
#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>
#include <math.h>
#include <stdio.h>

Suite *learn_suite(void);

enum { TYRES = 3000, SEEDS = 25 };
#define KM     1000.0
#define CAP    (80 * KM)
#define MIDDLE (100 * KM)
#define SPREAD 0.7 /* of ln range */
#define FAR    10.0

/* ---- closed forms ---------------------------------------------------------------------------- */

/* ln range and reading jointly normal; readings above stop (in deviations) read as stop. */
struct pair {
    double middle, rho, stop;
};

static double allow(double way)
{
    return fmin(way, CAP) < 5 * KM ? 0.0 : fmin(way, CAP);
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
    const struct hb_bounds bounds = {stands, CAP, bar, (double)n};
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
        ck_assert_int_eq(hb_quantile_by(x, y, TYRES, TYRES, p, by), HOBBLE_OK);
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

/* A sample in which each stands twenty times is worth a twentieth: what one of 150 tyres tells is
 * not believed when 3000 copies tell it (the rule above, for what it is worth). */
START_TEST(copies_tell_nothing_more)
{
    static struct hb_heard heard[TYRES];
    static double left[TYRES];
    const struct pair p = {MIDDLE, 0.9, HUGE_VAL};
    const struct hb_bounds bounds = {30 * KM, CAP, HUGE_VAL, TYRES / 20};
    struct hb_learnt learnt;
    draw(&p, 5, heard);
    for (size_t i = TYRES / 20; i < TYRES; i++) {
        heard[i] = heard[i % (TYRES / 20)];
        heard[i].reading += 1e-9 * (double)i; /* read each for itself */
        heard[i].place = i;
    }
    for (size_t i = 0; i < TYRES; i++)
        left[i] = heard[i].left;
    ck_assert_int_eq(hb_learn_by(heard, TYRES, &bounds, &learnt), HOBBLE_OK);
    const double now = allow(hb_quantile(left, TYRES, 0.05));
    ck_assert_double_eq_tol(learnt.advice, now, 1e-9 * now);
}
END_TEST

/* All read the same: that is nothing told (definition). */
START_TEST(all_alike)
{
    static struct hb_heard heard[TYRES];
    static double left[TYRES];
    const struct pair p = {MIDDLE, 0.9, HUGE_VAL};
    gsl_set_error_handler_off(); /* as every study has it */
    draw(&p, 6, heard);
    for (size_t i = 0; i < TYRES; i++) {
        heard[i].reading = 7.0;
        left[i] = heard[i].left;
    }
    const double now = allow(hb_quantile(left, TYRES, 0.05));
    ck_assert_double_eq_tol(learn(heard, TYRES, now, HUGE_VAL).advice, now, 1e-9 * now);
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

Suite *learn_suite(void)
{
    Suite *suite = suite_create("learn");
    TCase *all = tcase_create("learn");
    tcase_set_timeout(all, 240.0); /* sanitizers and valgrind are slow */
    tcase_add_test(all, jointly_normal);
    tcase_add_test(all, nothing_told);
    tcase_add_test(all, a_share_lies_below);
    tcase_add_test(all, few_tyres);
    tcase_add_test(all, copies_tell_nothing_more);
    tcase_add_test(all, all_alike);
    tcase_add_test(all, overload_and_rim_stop);
    suite_add_tcase(suite, all);
    return suite;
}
