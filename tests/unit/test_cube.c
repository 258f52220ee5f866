/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test_cube.c - the sample: standard normal whatever it is turned by, and even where it matters. */
#include "ask.h"
#include "core/param.h"
#include "study/cube.h"
#include "study/study.h"

#include <check.h>
#include <gsl/gsl_blas.h>
#include <gsl/gsl_cdf.h>
#include <gsl/gsl_linalg.h>
#include <gsl/gsl_qrng.h>
#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>
#include <gsl/gsl_statistics_double.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

Suite *cube_suite(void);

#define NEED(held, ...)                                                                            \
    do {                                                                                           \
        if (!(held))                                                                               \
            ck_abort_msg(__VA_ARGS__);                                                             \
    } while (0)

enum { POINTS = 1024, D = HB_DIMENSIONS_MAX, BINS = 64 };

/* The tail that one of so many trials falls into once in a thousand times (Bonferroni's
 * inequality). */
static double one_tail(double trials)
{
    return 1e-3 / trials;
}

/* Chi-square of a column over 64 equal parts of the normal law. */
static double chi_square(const double *cube, size_t column, size_t dimensions)
{
    double bin[BINS] = {0.0}, sum = 0.0;
    for (size_t i = 0; i < POINTS; i++)
        bin[(int)(gsl_cdf_ugaussian_P(cube[i * dimensions + column]) * BINS)]++;
    for (int b = 0; b < BINS; b++)
        sum += pow(bin[b] - (double)POINTS / BINS, 2.0) / ((double)POINTS / BINS);
    return sum;
}

/* Source: the normal distribution (GSL). A turned axis mixes axes that are even each. Its mean is a
 * mix of their means: within a third of the standard error of independent draws, 0.031, as the
 * unturned ones are. Its variance has their correlations in it as well: over all columns within
 * the standard error of independent draws, 0.044, and none beyond what one of so many passes once
 * in a thousand times. Chi-square of 64 parts: the same. */
START_TEST(normal_in_every_dimension)
{
    static const unsigned long seeds[] = {1, 2, 77};
    const double columns = 3 * (1 + 2 + 3 + 10 + 17 + 24), error = sqrt(2.0 / POINTS);
    const double most = gsl_cdf_ugaussian_Qinv(0.5 * one_tail(columns)) * error;
    double *cube = malloc(POINTS * D * sizeof *cube), worst = 0.0;
    ck_assert_ptr_nonnull(cube);
    for (size_t s = 0; s < 3; s++)
        for (int dimensions = 1; dimensions <= D; dimensions += dimensions < 3 ? 1 : 7) {
            const size_t n = (size_t)dimensions;
            double squares = 0.0;
            ck_assert_int_eq(hb_cube_fill(cube, POINTS, dimensions, seeds[s]), HOBBLE_OK);
            for (size_t d = 0; d < n; d++) {
                const double mean = gsl_stats_mean(&cube[d], n, POINTS);
                const double variance = gsl_stats_variance(&cube[d], n, POINTS);
                const double chi = chi_square(cube, d, n);
                NEED(fabs(mean) < 0.01 && fabs(variance - 1.0) < most, "%d, column %zu: %g, %g",
                     dimensions, d, mean, variance);
                NEED(chi < gsl_cdf_chisq_Qinv(one_tail(columns), BINS - 1), "%d, column %zu: %g",
                     dimensions, d, chi);
                squares += (variance - 1.0) * (variance - 1.0);
                worst = fmax(worst, chi);
            }
            NEED(squares < dimensions * error * error, "%d: variances off by %g", dimensions,
                 sqrt(squares / dimensions));
        }
    printf("cube: worst chi-square of %d parts %.0f\n", BINS, worst);
    free(cube);
}
END_TEST

/* At the members that a question has where nothing else is asked. Source: the standard error of a
 * correlation of independent draws, 1 / sqrt(n): none of all pairs beyond what one of them passes
 * once in a thousand times, and all together nearer to nought. With fewer members this does not
 * hold: of the unturned sequence some pairs of axes are correlated by up to 0.4 in the first 1024
 * points. */
START_TEST(uncorrelated)
{
    enum { SEEDS = 10 };
    hobble_case *usual = hobble_case_new();
    const size_t n = (size_t)hobble_case_number(usual, hobble_param_find("members"));
    const size_t d = (size_t)hb_param_dimensions();
    const double pairs = (double)(d * (d - 1) / 2), chance = 1.0 / sqrt((double)n);
    const double most = gsl_cdf_ugaussian_Qinv(0.5 * one_tail(SEEDS * pairs)) * chance;
    double *cube = malloc(n * d * sizeof *cube), worst = 0.0;
    ck_assert_ptr_nonnull(cube);
    for (unsigned long seed = 1; seed <= SEEDS; seed++) {
        double squares = 0.0;
        ck_assert_int_eq(hb_cube_fill(cube, n, (int)d, seed), HOBBLE_OK);
        for (size_t a = 0; a < d; a++)
            for (size_t b = 0; b < a; b++) {
                const double r = gsl_stats_correlation(&cube[a], d, &cube[b], d, n);
                squares += r * r;
                worst = fmax(worst, fabs(r));
            }
        ck_assert_double_lt(sqrt(squares / pairs), chance);
    }
    printf("cube: worst correlation %.3f, allowed %.3f\n", worst, most);
    ck_assert_double_lt(worst, most);
    free(cube);
    hobble_case_free(usual);
}
END_TEST

/* The sequence before it is turned: GSL's, moved along each axis by what GSL's generator draws. */
static void unturned(double *x, size_t count, size_t dimensions, unsigned long seed)
{
    double shift[D], point[D];
    gsl_qrng *sobol = gsl_qrng_alloc(gsl_qrng_sobol, (unsigned)dimensions);
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
    ck_assert(sobol && rng);
    gsl_rng_set(rng, seed);
    for (size_t d = 0; d < dimensions; d++)
        shift[d] = gsl_rng_uniform(rng);
    for (size_t i = 0; i < count; i++) {
        gsl_qrng_get(sobol, point);
        for (size_t d = 0; d < dimensions; d++) {
            double u = point[d] + shift[d];
            u -= floor(u);
            x[i * dimensions + d] = gsl_cdf_ugaussian_Pinv(fmin(fmax(u, 1e-9), 1.0 - 1e-9));
        }
    }
    gsl_rng_free(rng);
    gsl_qrng_free(sobol);
}

/* Rows of the turn, y = Q x for each point: least squares over all of them. */
static void solve_turn(const double *x, const double *y, size_t count, gsl_matrix *turn)
{
    const gsl_matrix_const_view from = gsl_matrix_const_view_array(x, count, D);
    gsl_matrix *square = gsl_matrix_alloc(D, D);
    gsl_vector *right = gsl_vector_alloc(D);
    gsl_blas_dgemm(CblasTrans, CblasNoTrans, 1.0, &from.matrix, &from.matrix, 0.0, square);
    gsl_linalg_cholesky_decomp1(square);
    for (size_t row = 0; row < D; row++) {
        gsl_vector_view q = gsl_matrix_row(turn, row);
        const gsl_vector_const_view to = gsl_vector_const_view_array_with_stride(&y[row], D, count);
        gsl_blas_dgemv(CblasTrans, 1.0, &from.matrix, &to.vector, 0.0, right);
        gsl_linalg_cholesky_solve(square, right, &q.vector);
    }
    gsl_vector_free(right);
    gsl_matrix_free(square);
}

/* What is done to the sequence is one turn or mirror, the same for all points and seeds: linear,
 * and its own inverse when transposed; but for the rounding of its numbers. Source: GSL's linear
 * algebra, its sequence and generator. */
START_TEST(turned_and_nothing_else)
{
    enum { N = 300 };
    static double x[N * D], y[N * D];
    gsl_matrix *turn = gsl_matrix_alloc(D, D), *square = gsl_matrix_alloc(D, D);
    for (unsigned long seed = 1; seed < 4; seed++) {
        unturned(x, N, D, seed);
        ck_assert_int_eq(hb_cube_fill(y, N, D, seed), HOBBLE_OK);
        if (seed == 1)
            solve_turn(x, y, N, turn);
        for (size_t i = 0; i < N; i++)
            for (size_t row = 0; row < D; row++) {
                double sum = 0.0;
                for (size_t k = 0; k < D; k++)
                    sum += gsl_matrix_get(turn, row, k) * x[i * D + k];
                NEED(fabs(sum - y[i * D + row]) < 1.0 / HB_CUBE_PARTS,
                     "seed %lu, point %zu, axis %zu: %g", seed, i, row, sum - y[i * D + row]);
            }
    }
    gsl_blas_dgemm(CblasNoTrans, CblasTrans, 1.0, turn, turn, 0.0, square);
    for (size_t i = 0; i < D; i++)
        for (size_t k = 0; k < D; k++)
            NEED(fabs(gsl_matrix_get(square, i, k) - (i == k)) < 1.0 / HB_CUBE_PARTS,
                 "%zu, %zu: %g", i, k, gsl_matrix_get(square, i, k));
    gsl_matrix_free(turn);
    gsl_matrix_free(square);
}
END_TEST

START_TEST(seeds_and_limits)
{
    enum { N = 50, M = 20 };
    double a[N * M], b[N * M], one[1] = {-7.0};
    ck_assert_int_eq(hb_cube_fill(a, N, M, 3), HOBBLE_OK);
    ck_assert_int_eq(hb_cube_fill(b, N, M, 3), HOBBLE_OK);
    ck_assert(memcmp(a, b, sizeof a) == 0);
    ck_assert_int_eq(hb_cube_fill(b, N, M, 4), HOBBLE_OK);
    for (int d = 0; d < M; d++)
        ck_assert(a[d] != b[d]);
    static const int refused[] = {-1, 0, D + 1, 40, 41}; /* GSL's own limit is 40, silently */
    for (int i = 0; i < 5; i++)
        ck_assert_int_eq(hb_cube_fill(one, 1, refused[i], 1), HOBBLE_E_RANGE);
    ck_assert(one[0] == -7.0);
    ck_assert_int_le(hb_param_dimensions(), HB_DIMENSIONS_MAX);
}
END_TEST

/* P5 of the advised drive by the sample that is in a study. */
static double p5_of(struct hb_study *s)
{
    struct hb_plan plan;
    ck_assert_int_eq(hb_ensemble_make(s->cube, &s->ensemble), HOBBLE_OK);
    hb_plan_advised(&s->question, 0.0, &plan);
    hb_ensemble_drive(&s->ensemble, &plan);
    return hb_ensemble_band(&s->ensemble, &plan).p5;
}

/* What the turning is for: from seed to seed the P5 of the built-in question scatters less than
 * with as many pseudo-random tyres. Source: the ratio of two variances (F distribution, GSL), surer
 * than one in a thousand. */
START_TEST(steadier_than_chance)
{
    enum { SEEDS = 40, MEMBERS = 1000 };
    double even[SEEDS], chance[SEEDS];
    hobble_case *c = hobble_case_new();
    struct hb_study s;
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
    ask_set(c, "members", MEMBERS);
    ck_assert_int_eq(hb_study_open(c, 1, &s, NULL), HOBBLE_OK);
    const int dimensions = hb_param_dimensions();
    gsl_rng_set(rng, 12);
    for (size_t i = 0; i < SEEDS; i++) {
        ck_assert_int_eq(hb_cube_fill(s.cube, MEMBERS, dimensions, 100 + i), HOBBLE_OK);
        even[i] = p5_of(&s);
        for (size_t k = 0; k < (size_t)(MEMBERS * dimensions); k++)
            s.cube[k] = gsl_ran_ugaussian(rng);
        chance[i] = p5_of(&s);
    }
    const double mean = gsl_stats_mean(even, 1, SEEDS),
                 by_chance = gsl_stats_mean(chance, 1, SEEDS);
    const double ratio = gsl_stats_variance(chance, 1, SEEDS) / gsl_stats_variance(even, 1, SEEDS);
    printf("P5 of %d tyres: %.2f km +- %.2f %%, by chance %.2f km +- %.2f %%\n", MEMBERS, mean / KM,
           100.0 * gsl_stats_sd(even, 1, SEEDS) / mean, by_chance / KM,
           100.0 * gsl_stats_sd(chance, 1, SEEDS) / by_chance);
    ck_assert_double_gt(ratio, gsl_cdf_fdist_Qinv(1e-3, SEEDS - 1, SEEDS - 1));
    /* and is the same quantile: within four standard errors of the difference */
    const double error =
        sqrt((gsl_stats_variance(chance, 1, SEEDS) + gsl_stats_variance(even, 1, SEEDS)) / SEEDS);
    ck_assert_double_eq_tol(mean, by_chance, 4.0 * error);
    gsl_rng_free(rng);
    hb_study_close(&s);
    hobble_case_free(c);
}
END_TEST

/* The sequence's first axis, which is its evenest, is turned into the way of range: the tyres of
 * the built-in question stand along it nearly in the order of their ranges. Source: Spearman's rank
 * correlation (GSL); of an axis that was left where it is it would be 0.5 at most. */
START_TEST(first_axis_is_range)
{
    enum { N = 2000 };
    static double x[N * D], first[N], range[N], work[2 * N];
    hobble_case *c = hobble_case_new();
    struct hb_study s;
    struct hb_plan plan;
    const size_t d = (size_t)hb_param_dimensions();
    ask_set(c, "members", N);
    ck_assert_int_eq(hb_study_open(c, 1, &s, NULL), HOBBLE_OK);
    hb_plan_advised(&s.question, 0.0, &plan);
    hb_ensemble_drive(&s.ensemble, &plan);
    unturned(x, N, d, (unsigned long)hobble_case_number(c, hobble_param_find("seed")));
    size_t n = 0;
    for (size_t i = 0; i < N; i++)
        if (hb_ensemble_counts(&s.ensemble, i)) {
            first[n] = x[i * d];
            range[n++] = hb_ensemble_remaining(&s.ensemble, &plan, i);
        }
    const double along = gsl_stats_spearman(first, 1, range, 1, n, work);
    printf("cube: rank correlation of range with the first axis %.3f\n", along);
    ck_assert_double_gt(along, 0.8);
    hb_study_close(&s);
    hobble_case_free(c);
}
END_TEST

Suite *cube_suite(void)
{
    Suite *s = suite_create("cube");
    TCase *t = tcase_create("cube");
    tcase_set_timeout(t, 120.0); /* sanitizers and valgrind are slow */
    tcase_add_test(t, normal_in_every_dimension);
    tcase_add_test(t, uncorrelated);
    tcase_add_test(t, turned_and_nothing_else);
    tcase_add_test(t, seeds_and_limits);
    tcase_add_test(t, steadier_than_chance);
    tcase_add_test(t, first_axis_is_range);
    suite_add_tcase(s, t);
    return s;
}
