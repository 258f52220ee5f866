/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test_shapley.c - Shapley effects from a sample against closed forms. */
#include "study/shapley.h"

#include <check.h>
#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>
#include <math.h>
#include <stdlib.h>

Suite *shapley_suite(void);

enum { ROWS = 20000, INPUTS = 3 };

static double x[ROWS * 24], y[ROWS];

/* Independent standard normals, mixed by rows of a triangle: covariance mix * mix'. */
static void draw(const double mix[INPUTS][INPUTS], double (*of)(const double *))
{
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
    for (size_t r = 0; r < ROWS; r++) {
        double z[INPUTS];
        for (int i = 0; i < INPUTS; i++)
            z[i] = gsl_ran_ugaussian(rng);
        for (int i = 0; i < INPUTS; i++) {
            x[r * INPUTS + (size_t)i] = 7.0; /* a mean that must not matter */
            for (int k = 0; k <= i; k++)
                x[r * INPUTS + (size_t)i] += mix[i][k] * z[k];
        }
        const double centred[INPUTS] = {x[r * INPUTS] - 7.0, x[r * INPUTS + 1] - 7.0,
                                        x[r * INPUTS + 2] - 7.0};
        y[r] = of(centred);
    }
    gsl_rng_free(rng);
}

static const double apart[INPUTS][INPUTS] = {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}};
/* correlation 0.6 between the first two, and the third of twice the deviation alone */
static const double tied[INPUTS][INPUTS] = {{1, 0, 0}, {0.6, 0.8, 0}, {0, 0, 2}};
/* all tied: correlations 0.6, 0.5 and 0.5 * 0.6 + 0.8 * 0.4 = 0.62 */
static const double all_tied[INPUTS][INPUTS] = {
    {1, 0, 0}, {0.6, 0.8, 0}, {0.5, 0.4, 0.768114574786861}};

static double linear(const double *c)
{
    return c[0] + 2.0 * c[1] - 0.5 * c[2];
}

static double curved(const double *c)
{
    return c[0] + c[1] * c[1] + c[0] * c[2];
}

static double squared(const double *c)
{
    return c[0] * c[0];
}

static double cubed(const double *c)
{
    return c[0] + c[1] * (c[1] * c[1] - 3.0);
}

/* Sampling: a share of ROWS pairs has a standard error of at most about 2 / sqrt(ROWS) for a normal
 * y and a few times that for squares, whose fourth moments are large; three of them. */
#define SURE 0.045

static void check(const double exact[INPUTS], double explained)
{
    double share[INPUTS], told, sum = 0.0;
    ck_assert_int_eq(hb_shapley(x, y, ROWS, ROWS, INPUTS, share, &told), HOBBLE_OK);
    for (int i = 0; i < INPUTS; i++) {
        ck_assert_double_eq_tol(share[i], exact[i], SURE);
        sum += share[i];
    }
    ck_assert_double_eq_tol(sum, told, 1e-9);
    ck_assert_double_eq_tol(told, explained, SURE);
}

/* x0 + x1^2 + x0 x2 of independent standard normals: parts 1, 2 and 1, the last of which two inputs
 * share (Owen, SIAM/ASA J. Uncertain. Quantif. 2 (2014) 245, theorem 1: each part of the variance
 * is split evenly among its inputs). */
START_TEST(independent_inputs)
{
    draw(apart, curved);
    check((const double[]){1.5 / 4, 2.0 / 4, 0.5 / 4}, 1.0);
}
END_TEST

/* What the polynomial cannot follow is left over, not shared out: x1^3 - 3 x1 is square to all of
 * second degree and has variance 6. */
START_TEST(unexplained)
{
    draw(apart, cubed);
    check((const double[]){1.0 / 7, 0.0, 0.0}, 1.0 / 7);
}
END_TEST

/* Two tied inputs and one apart (Owen and Prieur, SIAM/ASA J. Uncertain. Quantif. 5 (2017) 986, the
 * linear Gaussian case of two): share of the first in b1 x1 + b2 x2
 *   b1^2 s1^2 (1 - r^2 / 2) + r b1 b2 s1 s2 + b2^2 s2^2 r^2 / 2. */
START_TEST(two_tied)
{
    const double b1 = 1.0, b2 = 2.0, r = 0.6, all = b1 * b1 + b2 * b2 + 2 * r * b1 * b2 + 1.0;
    draw(tied, linear);
    check((const double[]){(b1 * b1 * (1 - r * r / 2) + r * b1 * b2 + b2 * b2 * r * r / 2) / all,
                           (b2 * b2 * (1 - r * r / 2) + r * b1 * b2 + b1 * b1 * r * r / 2) / all,
                           1.0 / all},
          1.0);
}
END_TEST

/* The square of one of two tied inputs: of the other one x1^2 is expected to be r^2 x2^2 + const, a
 * variance of 2 r^4, half of which is its own (definition; r = 0.6). */
START_TEST(square_of_a_tied_one)
{
    const double r4 = pow(0.6, 4);
    draw(tied, squared);
    check((const double[]){1.0 - r4 / 2, r4 / 2, 0.0}, 1.0);
}
END_TEST

/* Variance of what is expected of a linear form of normals when those of a set are known, by the
 * definition: all of it less that of the form given them, which is a determinant over another
 * (Schur). */
static double determinant(double (*a)[INPUTS + 1], int n)
{
    double d = 1.0;
    for (int i = 0; i < n; i++) {
        d *= a[i][i];
        for (int k = i + 1; k < n; k++) {
            const double by = a[k][i] / a[i][i];
            for (int m = i; m < n; m++)
                a[k][m] -= by * a[i][m];
        }
    }
    return d;
}

static double explained_by(const double (*covariance)[INPUTS], const double *b, int set)
{
    int in[INPUTS], n = 0;
    double whole = 0.0, with_y[INPUTS] = {0};
    for (int i = 0; i < INPUTS; i++)
        for (int k = 0; k < INPUTS; k++) {
            with_y[i] += covariance[i][k] * b[k];
            whole += b[i] * covariance[i][k] * b[k];
        }
    for (int i = 0; i < INPUTS; i++)
        if (set >> i & 1)
            in[n++] = i;
    double small[INPUTS + 1][INPUTS + 1], big[INPUTS + 1][INPUTS + 1];
    for (int i = 0; i < n; i++) {
        for (int k = 0; k < n; k++)
            small[i][k] = big[i][k] = covariance[in[i]][in[k]];
        big[i][n] = big[n][i] = with_y[in[i]];
    }
    big[n][n] = whole;
    return whole - determinant(big, n + 1) / determinant(small, n);
}

/* Three that are all tied, against the definition over all subsets (Shapley's weights for three:
 * 1/3, 1/6, 1/6, 1/3). */
START_TEST(three_tied)
{
    static const double b[INPUTS] = {1.0, 2.0, -0.5};
    double covariance[INPUTS][INPUTS] = {{0}}, exact[INPUTS];
    for (int i = 0; i < INPUTS; i++)
        for (int k = 0; k < INPUTS; k++)
            for (int m = 0; m < INPUTS; m++)
                covariance[i][k] += all_tied[i][m] * all_tied[k][m];
    const double(*c)[INPUTS] = (const double(*)[INPUTS])covariance;
    const double whole = explained_by(c, b, 7);
    for (int i = 0; i < INPUTS; i++) {
        exact[i] = 0.0;
        for (int set = 0; set < 8; set++)
            if (!(set >> i & 1)) {
                const bool one = set == 1 || set == 2 || set == 4;
                exact[i] += (explained_by(c, b, set | 1 << i) - explained_by(c, b, set)) *
                            (one ? 1.0 / 6 : 1.0 / 3) / whole;
            }
    }
    draw(all_tied, linear);
    check(exact, 1.0);
}
END_TEST

/* Twenty-one inputs of which a few matter, on as many rows as a driver's question has: as above,
 * three standard errors of 3000 rows. Fewer rows: no products, no squares; many rows
 * that are worth few: nothing (shapley.h). */
START_TEST(few_rows)
{
    enum { MANY = 21 };
    static const struct {
        size_t rows;
        double first, second, third; /* of the parts 1, 2 and 1 above */
    } sizes[] = {
        {3000, 1.5 / 4, 2.0 / 4, 0.5 / 4}, {1000, 1.0 / 4, 2.0 / 4, 0.0}, {200, 1.0 / 4, 0.0, 0.0}};
    double share[MANY], told;
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
    for (size_t r = 0; r < ROWS; r++) {
        for (size_t i = 0; i < MANY; i++)
            x[r * MANY + i] = gsl_ran_ugaussian(rng);
        const double c[] = {x[r * MANY + 4], x[r * MANY + 20], x[r * MANY]};
        y[r] = curved(c);
    }
    gsl_rng_free(rng);
    for (size_t k = 0; k < sizeof sizes / sizeof *sizes; k++) {
        const double sure = SURE * sqrt(ROWS / (double)sizes[k].rows);
        ck_assert_int_eq(hb_shapley(x, y, sizes[k].rows, (double)sizes[k].rows, MANY, share, &told),
                         HOBBLE_OK);
        ck_assert_double_eq_tol(share[4], sizes[k].first, sure);
        ck_assert_double_eq_tol(share[20], sizes[k].second, sure);
        ck_assert_double_eq_tol(share[0], sizes[k].third, sure);
        ck_assert_double_eq_tol(share[9], 0.0, sure);
    }
    ck_assert_int_eq(hb_shapley(x, y, ROWS, 100.0, MANY, share, &told), HOBBLE_OK);
    ck_assert(isnan(told) && isnan(share[0]) && isnan(share[20]));
    rng = gsl_rng_alloc(gsl_rng_mt19937);
    gsl_rng_set(rng, 2);
    for (size_t r = 0; r < 3000; r++)
        y[r] = gsl_ran_ugaussian(rng); /* of nothing but chance 253 terms have 253 of 3000 */
    gsl_rng_free(rng);
    ck_assert_int_eq(hb_shapley(x, y, 3000, 3000.0, MANY, share, &told), HOBBLE_OK);
    ck_assert(isnan(told) || told < 3.0 * sqrt(2.0 * 253.0) / 3000.0); /* chi-square */
    for (size_t r = 0; r < ROWS; r++)
        y[r] = 2.0; /* no variance, no shares of it */
    ck_assert_int_eq(hb_shapley(x, y, ROWS, ROWS, MANY, share, &told), HOBBLE_OK);
    ck_assert(isnan(told) && isnan(share[0]) && isnan(share[20]));
}
END_TEST

Suite *shapley_suite(void)
{
    Suite *suite = suite_create("shapley");
    TCase *all = tcase_create("shapley");
    tcase_set_timeout(all, 120.0); /* sanitizers and valgrind are slow */
    tcase_add_test(all, independent_inputs);
    tcase_add_test(all, unexplained);
    tcase_add_test(all, two_tied);
    tcase_add_test(all, square_of_a_tied_one);
    tcase_add_test(all, three_tied);
    tcase_add_test(all, few_rows);
    suite_add_tcase(suite, all);
    return suite;
}
