/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test_reweigh.c - weights, tempering, resampling and moves. Effective sample size: Kong, Liu and
 * Wong, J. Am. Stat. Assoc. 89 (1994) 278; systematic resampling: Kitagawa 1996; the others as
 * named in src/advice/reweigh.c. Expectations are worked out by hand or by GSL's statistics. */
#include "advice/reweigh.h"
#include "random_case.h"

#include <check.h>
#include <gsl/gsl_math.h>
#include <gsl/gsl_statistics_double.h>
#include <math.h>
#include <string.h>

Suite *reweigh_suite(void);

enum { MANY = 20000 };

START_TEST(effective_sizes)
{
    static const double even[] = {-700, -700, -700, -700},
                        steps[] = {0.0, M_LN2, 1.0986122886681098};
    static const double one[] = {0.0, -800.0, -(double)INFINITY, (double)NAN},
                        none[] = {-(double)INFINITY, (double)NAN};
    double w[4];
    ck_assert_double_eq_tol(hb_weigh(even, 4, 1.0, w), 4.0, 1e-12);
    ck_assert_double_eq_tol(hb_weigh(steps, 3, 1.0, w), 36.0 / 14.0, 1e-12); /* 1 : 2 : 3 */
    ck_assert_double_eq_tol(w[2], 0.5, 1e-12);
    ck_assert_double_eq_tol(hb_weigh(steps, 3, 2.0, w), 196.0 / 98.0, 1e-12); /* 1 : 4 : 9 */
    ck_assert_double_eq_tol(hb_weigh(steps, 3, 0.0, w), 3.0, 1e-12);
    ck_assert_double_eq_tol(hb_weigh(one, 4, 1.0, w), 1.0, 1e-12);
    ck_assert_double_eq(w[2], 0.0);
    ck_assert_double_eq(w[3], 0.0);
    ck_assert_double_eq(hb_weigh(none, 2, 1.0, w), 0.0);
    ck_assert_double_eq(w[0] + w[1], 0.0);
}
END_TEST

/* For ln w = -a x^2 / 2 over even quantiles of a normal the effective share is known: with power p
 * it is sqrt(1 + 2 a p) / (1 + a p). */
START_TEST(powers_reach_their_share)
{
    static double log_w[MANY], room[MANY];
    struct random_source source = {3};
    for (int i = 0; i < MANY; i++)
        log_w[i] = -0.5 * 400.0 * pow(random_normal(&source), 2);
    const double power = hb_temper(log_w, MANY, 1.0, 0.5, room);
    const double a = 400.0 * power;
    ck_assert_double_eq_tol(sqrt(1.0 + 2.0 * a) / (1.0 + a), 0.5, 0.02);
    ck_assert_double_eq_tol(hb_weigh(log_w, MANY, power, room), 0.5 * MANY, 2.0);
    ck_assert_double_eq(hb_temper(log_w, MANY, 1e-3, 0.5, room), 1e-3); /* no need to go slower */
    for (int i = 0; i < MANY; i++)
        log_w[i] = i == 0 ? 0.0 : (double)-INFINITY;
    ck_assert(hb_temper(log_w, MANY, 1.0, 0.5, room) > 0.0); /* it moves on even so */
}
END_TEST

/* Each is picked as often as its weight says, to within one; in its order. */
START_TEST(picks_follow_the_weights)
{
    enum { N = 500 };
    static double w[N];
    static size_t order[N], picked[N];
    struct random_source source = {4};
    double sum = 0.0;
    for (size_t i = 0; i < N; i++) {
        order[i] = N - 1 - i;
        sum += w[i] = i % 7 ? pow(random_between(&source, 0.0, 1.0), 4) : 0.0;
    }
    for (double shift = 0.05; shift < 1.0; shift += 0.1) {
        int often[N] = {0};
        hb_resample(w, order, N, shift, picked);
        for (size_t i = 0; i < N; i++) {
            often[picked[i]]++;
            ck_assert(i == 0 || picked[i] <= picked[i - 1]);
        }
        for (size_t i = 0; i < N; i++)
            ck_assert(fabs(often[i] - N * w[i] / sum) < 1.0 + 1e-9);
    }
    for (size_t i = 0; i < N; i++) /* even weights change nothing */
        w[i] = 0.25;
    hb_resample(w, order, N, 0.5, picked);
    ck_assert(memcmp(order, picked, sizeof order) == 0);
}
END_TEST

/* splitmix64 as the tests have it, and apart from it the statistics of what is drawn. */
START_TEST(dice_are_even_and_apart)
{
    static double normal[MANY], other[MANY];
    struct hb_dice plain = {42}, a = hb_dice_begin(1, 7), b = hb_dice_begin(1, 8),
                   again = hb_dice_begin(1, 7);
    struct random_source same = {42};
    for (int i = 0; i < 100; i++)
        ck_assert(hb_dice_word(&plain) == random_word(&same));
    for (int i = 0; i < MANY; i++) {
        normal[i] = hb_dice_normal(&a);
        other[i] = hb_dice_normal(&b);
        ck_assert(normal[i] >= hb_dice_normal(&again) && isfinite(normal[i]));
    }
    const double noise = 1.0 / sqrt(MANY);
    ck_assert_double_eq_tol(gsl_stats_mean(normal, 1, MANY), 0.0, 4.0 * noise);
    ck_assert_double_eq_tol(gsl_stats_variance(normal, 1, MANY), 1.0, 6.0 * noise);
    ck_assert_double_eq_tol(gsl_stats_kurtosis(normal, 1, MANY), 0.0, 20.0 * noise);
    ck_assert_double_eq_tol(gsl_stats_correlation(normal, 1, other, 1, MANY), 0.0, 4.0 * noise);
    ck_assert_double_eq_tol(gsl_stats_correlation(normal, 1, normal + 1, 1, MANY - 1), 0.0,
                            4.0 * noise);
}
END_TEST

/* A chain of steps stays standard normal, is as like the one before as was said, and leaves alone
 * what it is told to. */
START_TEST(steps_leave_the_prior)
{
    static double path[MANY];
    const bool moves[2] = {true, false};
    const double along = 0.8;
    double at[2] = {0.0, 0.25}, next[2];
    struct hb_dice dice = hb_dice_begin(9, 9);
    for (int i = 0; i < MANY; i++) {
        hb_step(at, moves, 2, along, &dice, next);
        ck_assert_double_eq(next[1], 0.25);
        memcpy(at, next, sizeof at);
        path[i] = at[0];
    }
    const double noise = sqrt((1.0 + along) / (1.0 - along) / MANY); /* of a chain */
    ck_assert_double_eq_tol(gsl_stats_mean(path, 1, MANY), 0.0, 4.0 * noise);
    ck_assert_double_eq_tol(gsl_stats_variance(path, 1, MANY), 1.0, 6.0 * noise);
    ck_assert_double_eq_tol(gsl_stats_correlation(path, 1, path + 1, 1, MANY - 1), along, 0.03);
}
END_TEST

Suite *reweigh_suite(void)
{
    Suite *suite = suite_create("reweigh");
    TCase *tests = tcase_create("reweigh");
    tcase_add_test(tests, effective_sizes);
    tcase_add_test(tests, powers_reach_their_share);
    tcase_add_test(tests, picks_follow_the_weights);
    tcase_add_test(tests, dice_are_even_and_apart);
    tcase_add_test(tests, steps_leave_the_prior);
    suite_add_tcase(suite, tests);
    return suite;
}
