/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test_likelihood.c - what a piece of evidence says of a type. Outside source: the same integrals
 * by GSL's adaptive quadrature, its Beta density and its Cholesky factors; whole posteriors by
 * simulation-based calibration (Talts, Betancourt, Simpson, Vehtari and Gelman, "Validating
 * Bayesian inference algorithms with simulation-based calibration", arXiv 1804.06788, 2018). */
#include "advice/likelihood.h"
#include "advice/reweigh.h"
#include "random_case.h"

#include <check.h>
#include <gsl/gsl_blas.h>
#include <gsl/gsl_cdf.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_integration.h>
#include <gsl/gsl_linalg.h>
#include <gsl/gsl_randist.h>
#include <gsl/gsl_sf_erf.h>
#include <math.h>

Suite *likelihood_suite(void);

enum { TYPES = 300, ROOM = 2000 };

static struct random_source source;

static void setup(void)
{
    source.state = 5;
    gsl_set_error_handler_off();
}

/* ---- the normal distribution ----------------------------------------------------------------- */

/* GSL's logarithm of erfc is good into the far tail; on the other side it cancels. */
START_TEST(normal_and_its_tail)
{
    for (double x = -300.0; x < 4.0; x += 0.37)
        ck_assert_double_eq_tol(hb_log_normal(x) / (gsl_sf_log_erfc(-x / M_SQRT2) - M_LN2), 1.0,
                                1e-7);
}
END_TEST

/* ---- a unit's fate --------------------------------------------------------------------------- */

START_TEST(fate_between_and_beyond)
{
    const struct hb_fate f = {{0.5, 0.1, -0.5}, 0.2};
    static const double ln_unit[] = {-0.2, -0.1, 0.0, 0.1, 0.2, -0.6, 1.0};
    static const double q[] = {0.5, 0.3, 0.1, -0.2, -0.5, 1.3, -2.9};
    for (int i = 0; i < 7; i++)
        ck_assert_double_eq_tol(hb_fate_of(&f, ln_unit[i]), q[i], 1e-12);
}
END_TEST

struct problem {
    struct hb_fate fate;
    struct hb_units units;
    double level, error;
};

/* Steep, flat and bent ones. */
static struct problem random_problem(void)
{
    const double first = random_between(&source, 0.0, 1.5),
                 second = random_between(&source, 0, 1.5);
    struct problem p = {.fate.spread = 0.3};
    p.fate.q[1] = random_between(&source, -0.8, 0.8);
    p.fate.q[0] = p.fate.q[1] + 0.3 * first;
    p.fate.q[2] = p.fate.q[1] - 0.3 * second;
    p.units.mean = random_between(&source, -0.6, 0.2);
    p.units.sigma = random_between(&source, 0.2, 0.5);
    p.level = random_below(&source, 2) ? 0.0 : -M_LN2;
    p.error = random_between(&source, 0.005, 0.3);
    return p;
}

static double q_of(const struct problem *p, double z)
{
    return hb_fate_of(&p->fate, p->units.mean + p->units.sigma * z);
}

static double carries_there(double z, void *of)
{
    const struct problem *p = of;
    return gsl_ran_ugaussian_pdf(z) * gsl_cdf_ugaussian_P((p->level - q_of(p, z)) / p->error);
}

static double ends_there(double z, void *of)
{
    const struct problem *p = of;
    return gsl_ran_ugaussian_pdf(z) * gsl_ran_gaussian_pdf(q_of(p, z), p->error);
}

static double integral(double (*f)(double, void *), struct problem *p)
{
    gsl_integration_workspace *room = gsl_integration_workspace_alloc(ROOM);
    const gsl_function g = {f, p};
    double sum = 0.0, part, miss;
    for (double from = -9.0; from < 9.0; from += 0.5) { /* so that no narrow peak is passed over */
        gsl_integration_qags(&g, from, from + 0.5, 1e-15, 1e-9, ROOM, room, &part, &miss);
        sum += part;
    }
    gsl_integration_workspace_free(room);
    return sum;
}

START_TEST(chances_are_the_integrals)
{
    double worst = 0.0, worst_density = 0.0;
    for (int n = 0; n < TYPES; n++) {
        struct problem p = random_problem();
        const double must = integral(carries_there, &p), density = integral(ends_there, &p);
        const double got = exp(hb_log_carries(&p.fate, &p.units, p.level, p.error));
        const double other = exp(hb_log_ended(&p.fate, &p.units, p.level, p.error));
        const double ends = exp(hb_log_ends_at(&p.fate, &p.units, p.error));
        worst = fmax(worst, fmax(fabs(got - must), fabs(other - (1.0 - must))));
        if (must > 1e-4)
            worst = fmax(worst, 0.1 * fabs(got / must - 1.0));
        worst_density = fmax(worst_density, fabs(ends - density) / (density + 1e-3));
    }
    ck_assert_msg(worst < 1e-4, "%g", worst);
    ck_assert_msg(worst_density < 1e-6, "%g", worst_density);
}
END_TEST

/* Destroyed but carrying: with the two other fates of a distance it makes all. */
START_TEST(fates_add_up)
{
    for (int n = 0; n < TYPES; n++) {
        const struct problem p = random_problem();
        const double whole = exp(hb_log_carries(&p.fate, &p.units, -M_LN2, p.error));
        const double hollow = exp(hb_log_destroyed(&p.fate, &p.units, p.error));
        const double ended = exp(hb_log_ended(&p.fate, &p.units, 0.0, p.error));
        ck_assert_double_eq_tol(whole + hollow + ended, 1.0, 2e-4);
    }
}
END_TEST

/* A straight q makes everything normal: closed forms, far into the tails. */
START_TEST(straight_ones_are_normal)
{
    for (double q = -9.0; q <= 9.0; q += 0.25) {
        const struct hb_fate f = {{q + 0.3, q, q - 0.3}, 0.3};
        const struct hb_units all = {-0.1, 0.4}, one = {-0.1, 0.0};
        const double mean = q + 0.1, wide = hypot(0.4, 0.03);
        const double carries = gsl_sf_log_erfc(mean / wide / M_SQRT2) - M_LN2;
        ck_assert_double_eq_tol(hb_log_carries(&f, &all, 0.0, 0.03), carries,
                                1e-4 + 1e-3 * fabs(carries));
        ck_assert_double_eq_tol(hb_log_ended(&f, &all, 0.0, 0.03),
                                gsl_sf_log_erfc(-mean / wide / M_SQRT2) - M_LN2,
                                1e-4 + 1e-3 * fabs(mean * mean / wide / wide));
        ck_assert_double_eq_tol(hb_log_ends_at(&f, &all, 0.03),
                                -0.5 * pow(mean / wide, 2) - log(wide) - 0.5 * log(2.0 * M_PI),
                                1e-8 * (1.0 + mean * mean / wide / wide));
        ck_assert_double_eq_tol(hb_log_carries(&f, &one, 0.0, 0.03),
                                gsl_sf_log_erfc(mean / 0.03 / M_SQRT2) - M_LN2,
                                1e-6 * (1.0 + pow(mean / 0.03, 2)));
        ck_assert_double_eq_tol(hb_log_ends_at(&f, &one, 0.03),
                                -0.5 * pow(mean / 0.03, 2) - log(0.03) - 0.5 * log(2.0 * M_PI),
                                1e-6 * (1.0 + pow(mean / 0.03, 2)));
        ck_assert(isfinite(hb_log_destroyed(&f, &all, 0.03)));
    }
}
END_TEST

/* The longer it survived the stronger it is, the earlier it ended the weaker: between two types the
 * one that is stronger gains with distance. Source: knowledge of order alone. */
START_TEST(longer_speaks_for_stronger)
{
    const struct hb_units all = {0.0, 0.3};
    double before = -HUGE_VAL;
    for (double way = -2.0; way <= 2.0; way += 0.05) {
        const struct hb_fate weak = {{way + 0.3, way, way - 0.3}, 0.3},
                             strong = {{way, way - 0.3, way - 0.6}, 0.3};
        const double gain =
            hb_log_carries(&strong, &all, 0.0, 0.03) - hb_log_carries(&weak, &all, 0.0, 0.03);
        ck_assert_msg(gain > before - 2e-4, "%g: %g after %g", way, gain, before);
        before = gain;
    }
}
END_TEST

/* ---- figures, marks, temperatures ------------------------------------------------------------ */

START_TEST(figures_are_beta)
{
    for (double share = 0.001; share < 1.0; share += 0.013)
        ck_assert_double_eq_tol(hb_log_stated(share), log(gsl_ran_beta_pdf(share, 1.5, 12.0)),
                                1e-9);
    ck_assert(isfinite(hb_log_stated(0.0)) && isfinite(hb_log_stated(1.0)));
    ck_assert(hb_log_stated(0.0) <= hb_log_stated(1e-5));
}
END_TEST

/* Against the library's functions, far into both tails. Bound: rounding. */
START_TEST(chances_are_those_of_gsl)
{
    for (double share = 0.0; share <= 1.0; share += 0.00371)
        ck_assert_double_eq_tol(hb_stated_at_most(share), gsl_cdf_beta_P(share, 1.5, 12.0), 1e-13);
    ck_assert_double_eq_tol(hb_stated_at_most(1.0), 1.0, 1e-13);
    ck_assert(hb_stated_at_most(-1.0) == 0.0 && hb_stated_at_most(2.0) <= 1.0);
    for (double x = -300.0; x <= 300.0; x += fmax(0.01, 0.05 * fabs(x)))
        ck_assert_double_eq_tol(hb_reading_at_most(x), gsl_cdf_tdist_P(x, HB_READING_FREEDOM),
                                1e-13);
}
END_TEST

START_TEST(marks_are_powers)
{
    const double one = log(gsl_cdf_ugaussian_P(-log(0.6) / 0.3));
    ck_assert_double_eq_tol(hb_log_approved(0.6, 0.3, 1), one, 1e-9);
    ck_assert_double_eq_tol(hb_log_approved(0.6, 0.3, 10), 10.0 * one, 1e-8);
    ck_assert_double_eq_tol(hb_log_approved(1.0, 0.3, 3), -3.0 * M_LN2, 1e-9);
}
END_TEST

/* miss' C^-1 miss by GSL's Cholesky factor of the whole matrix. */
static double form(const double *miss, int n, double offset, double scatter)
{
    gsl_matrix *m = gsl_matrix_alloc((size_t)n, (size_t)n);
    gsl_vector *x = gsl_vector_alloc((size_t)n);
    double sum;
    for (int i = 0; i < n; i++) {
        gsl_vector_set(x, (size_t)i, miss[i]);
        for (int k = 0; k < n; k++)
            gsl_matrix_set(m, (size_t)i, (size_t)k,
                           offset * offset + (i == k ? scatter * scatter : 0.0));
    }
    gsl_linalg_cholesky_decomp1(m);
    gsl_blas_dtrsv(CblasLower, CblasNoTrans, CblasNonUnit, m, x);
    gsl_blas_ddot(x, x, &sum);
    gsl_matrix_free(m);
    gsl_vector_free(x);
    return sum;
}

/* Student's t of covariance C has the scale C (f - 2) / f: its kernel, from its definition. */
START_TEST(temperatures_are_student)
{
    double miss[64];
    for (int n = 1; n <= 64; n += 7)
        for (int k = 0; k < 20; k++) {
            const double offset = random_between(&source, 0.1, 9),
                         own = random_between(&source, 0.1, 9);
            for (int i = 0; i < n; i++)
                miss[i] = random_between(&source, -20.0, 20.0);
            const double must = -0.5 * (4.0 + n) * log1p(form(miss, n, offset, own) / 2.0);
            ck_assert_double_eq_tol(hb_log_readings(miss, n, offset, own), must, 1e-9 * fabs(must));
        }
    ck_assert_double_eq(hb_log_readings(miss, 0, 1.0, 1.0), 0.0);
}
END_TEST

/* Ten thousand readings of one sensor that is off together say no more than its offset. */
START_TEST(offset_is_shared)
{
    double miss[64];
    for (int i = 0; i < 64; i++)
        miss[i] = 3.0;
    ck_assert_double_eq_tol(hb_log_readings(miss, 64, 3.0, 0.1) / (0.5 * 68.0), -log1p(0.5), 1e-4);
    ck_assert(hb_log_readings(miss, 64, 3.0, 2.0) > hb_log_readings(miss, 64, 0.1, 2.0) + 20.0);
}
END_TEST

/* ---- simulation-based calibration ------------------------------------------------------------ */

/* A model small enough to be simulated: ln R = margin - ln(load) + ln U. Runs are drawn from it,
 * the sample is weighed by them, and the rank of the truth in what is left is even. */
enum { REPEATS = 400, MEMBERS = 400, BINS = 20, KEPT = BINS - 1 };

static double simulated(double margin, double way, int kind)
{
    (void)way;
    return margin + 0.3 * random_normal(&source) +
           (kind == 1 ? 0.03 * random_normal(&source) : 0.0);
}

/* One run of a unit of this type: to where it was driven, and what had become of it there. */
struct told {
    int kind; /* 0 survived, 1 ended, 2 destroyed but carrying, 3 ended before */
    double way;
};

static struct told tell(double margin)
{
    struct told t = {random_below(&source, 2), random_between(&source, -0.5, 0.6)};
    if (t.kind == 1) {
        t.way = simulated(margin, 0.0, 1);
        return t;
    }
    const double ends = simulated(margin, t.way, 0), seen = t.way + 0.03 * random_normal(&source);
    t.kind = seen > ends ? 3 : seen > ends - M_LN2 ? 2 : 0;
    return t;
}

static double said(const struct told *t, double margin)
{
    const double q = t->way - margin;
    const struct hb_fate f = {{q + 0.3, q, q - 0.3}, 0.3};
    const struct hb_units all = {0.0, 0.3};
    return t->kind == 0   ? hb_log_carries(&f, &all, -M_LN2, 0.03)
           : t->kind == 1 ? hb_log_ends_at(&f, &all, 0.03)
           : t->kind == 2 ? hb_log_destroyed(&f, &all, 0.03)
                          : hb_log_ended(&f, &all, 0.0, 0.03);
}

static int rank_of_truth(int items)
{
    double margin[MEMBERS], log_likelihood[MEMBERS] = {0.0}, weight[MEMBERS],
                            truth = 0.4 * random_normal(&source);
    size_t order[MEMBERS], picked[MEMBERS];
    int rank = 0;
    for (int i = 0; i < MEMBERS; i++) {
        margin[i] = 0.4 * random_normal(&source);
        order[i] = (size_t)i;
    }
    for (int n = 0; n < items; n++) {
        const struct told t = tell(truth);
        for (int i = 0; i < MEMBERS; i++)
            log_likelihood[i] += said(&t, margin[i]);
    }
    hb_weigh(log_likelihood, MEMBERS, 1.0, weight);
    hb_resample(weight, order, MEMBERS, random_between(&source, 0.0, 1.0), picked);
    for (int i = 0; i < KEPT; i++) /* members stand in no order, so these are as good as any */
        rank += margin[picked[random_below(&source, MEMBERS)]] < truth;
    return rank;
}

START_TEST(ranks_are_even)
{
    static const int items[] = {0, 1, 3, 10};
    for (int k = 0; k < 4; k++) {
        int bin[BINS] = {0};
        double square = 0.0;
        for (int n = 0; n < REPEATS; n++)
            bin[rank_of_truth(items[k])]++;
        for (int i = 0; i < BINS; i++)
            square += pow(bin[i] - (double)REPEATS / BINS, 2) / ((double)REPEATS / BINS);
        /* of four tests one in a thousand would fail by chance; the seed is fixed */
        ck_assert_msg(gsl_cdf_chisq_Q(square, BINS - 1) > 2.5e-4, "%d items: chi square %g",
                      items[k], square);
    }
}
END_TEST

Suite *likelihood_suite(void)
{
    Suite *suite = suite_create("likelihood");
    TCase *tests = tcase_create("likelihood");
    tcase_add_checked_fixture(tests, setup, NULL);
    tcase_set_timeout(tests, 60);
    tcase_add_test(tests, normal_and_its_tail);
    tcase_add_test(tests, fate_between_and_beyond);
    tcase_add_test(tests, chances_are_the_integrals);
    tcase_add_test(tests, fates_add_up);
    tcase_add_test(tests, straight_ones_are_normal);
    tcase_add_test(tests, longer_speaks_for_stronger);
    tcase_add_test(tests, figures_are_beta);
    tcase_add_test(tests, chances_are_those_of_gsl);
    tcase_add_test(tests, marks_are_powers);
    tcase_add_test(tests, temperatures_are_student);
    tcase_add_test(tests, offset_is_shared);
    tcase_add_test(tests, ranks_are_even);
    suite_add_tcase(suite, tests);
    return suite;
}
