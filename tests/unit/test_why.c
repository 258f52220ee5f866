/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test_why.c - shares in a variance against closed forms, and of a tyre's range. */
#include "ask.h"
#include "study/sobol.h"
#include "study/study.h"

#include <check.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

Suite *why_suite(void);

enum { DIMENSIONS_MOST = HOBBLE_INDICES_MAX };
#define PI 3.14159265358979323846

/* A function of points in the unit cube, and its shares in closed form. */
struct function {
    double (*value)(const double *u, int dimensions);
    int dimensions;
    double first[DIMENSIONS_MOST], total[DIMENSIONS_MOST];
};

static enum hobble_status run(void *context, const double *point, size_t count, double *out)
{
    const struct function *f = context;
    for (size_t i = 0; i < count; i++)
        out[i] = f->value(&point[i * (size_t)f->dimensions], f->dimensions);
    return HOBBLE_OK;
}

static struct hb_sobol_result shares(struct function *f, size_t base, unsigned long seed)
{
    struct hb_sobol_result result;
    const struct hb_sobol_job job = {.dimensions = f->dimensions,
                                     .outputs = 1,
                                     .base = base,
                                     .seed = seed,
                                     .run = run,
                                     .context = f};
    ck_assert_int_eq(hb_sobol_run(&job, &result), HOBBLE_OK);
    return result;
}

/* ---- the two functions ----------------------------------------------------------------------- */

/* Ishigami and Homma, Proc. ISUMA 1990, 398; a = 7, b = 0.1. */
static double ishigami(const double *u, int dimensions)
{
    (void)dimensions;
    const double x[] = {PI * (2 * u[0] - 1), PI * (2 * u[1] - 1), PI * (2 * u[2] - 1)};
    return sin(x[0]) + 7.0 * pow(sin(x[1]), 2) + 0.1 * pow(x[2], 4) * sin(x[0]);
}

/* Closed form: Sobol' and Levitan, Comput. Phys. Commun. 117 (1999) 52 (a and b as above). */
static struct function ishigami_closed(void)
{
    const double a = 7.0, b = 0.1, pi4 = pow(PI, 4), pi8 = pow(PI, 8);
    const double v1 = 0.5 * pow(1.0 + b * pi4 / 5.0, 2), v2 = a * a / 8.0;
    const double v13 = 8.0 * b * b * pi8 / 225.0, v = v1 + v2 + v13;
    return (struct function){ishigami, 3, {v1 / v, v2 / v, 0.0}, {(v1 + v13) / v, v2 / v, v13 / v}};
}

/* Sobol's g-function; closed form in Saltelli and Sobol', Matem. Modelirovanie 7 (1995) 16: partial
 * variances 1 / (3 (1 + a_i)^2), products for those together. */
static const double weights[DIMENSIONS_MOST] = {0,  1,  4.5, 9,  99, 99, 99, 99, 99, 99, 99, 99,
                                                99, 99, 99,  99, 99, 99, 99, 99, 99, 99, 99, 99};

static double g_function(const double *u, int dimensions)
{
    double product = 1.0;
    for (int i = 0; i < dimensions; i++)
        product *= (fabs(4.0 * u[i] - 2.0) + weights[i]) / (1.0 + weights[i]);
    return product;
}

static struct function g_closed(int dimensions)
{
    struct function f = {.value = g_function, .dimensions = dimensions};
    double all = 1.0;
    for (int i = 0; i < dimensions; i++)
        all *= 1.0 + 1.0 / (3.0 * pow(1.0 + weights[i], 2));
    for (int i = 0; i < dimensions; i++) {
        const double part = 1.0 / (3.0 * pow(1.0 + weights[i], 2));
        f.first[i] = part / (all - 1.0);
        f.total[i] = part * all / (1.0 + part) / (all - 1.0);
    }
    return f;
}

/* The same with the inputs in the other order: those that matter come last. */
static double g_turned(const double *u, int dimensions)
{
    double turned[DIMENSIONS_MOST];
    for (int i = 0; i < dimensions; i++)
        turned[i] = u[dimensions - 1 - i];
    return g_function(turned, dimensions);
}

static struct function g_turned_closed(int dimensions)
{
    const struct function f = g_closed(dimensions);
    struct function g = {.value = g_turned, .dimensions = dimensions};
    for (int i = 0; i < dimensions; i++) {
        g.first[i] = f.first[dimensions - 1 - i];
        g.total[i] = f.total[dimensions - 1 - i];
    }
    return g;
}

static double worst_miss(const struct function *f, const struct hb_sobol_result *r)
{
    double worst = 0.0;
    for (int i = 0; i < f->dimensions; i++) {
        worst = fmax(worst, fabs(r->index[0][i].first - f->first[i]));
        worst = fmax(worst, fabs(r->index[0][i].total - f->total[i]));
    }
    return worst;
}

/* The closed form as it is printed: S 0.3139 0.4424 0, T 0.5576 0.4424 0.2437 (to four digits). */
START_TEST(ishigami_as_printed)
{
    static const double first[] = {0.3139, 0.4424, 0.0}, total[] = {0.5576, 0.4424, 0.2437};
    const struct function f = ishigami_closed();
    for (int i = 0; i < 3; i++) {
        ck_assert_double_eq_tol(f.first[i], first[i], 5e-5);
        ck_assert_double_eq_tol(f.total[i], total[i], 5e-5);
    }
}
END_TEST

/* A sequence has to be better than independent draws, whose standard error in an index is about
 * 1 / sqrt(base) (estimators with a spread near one); and four times the points bring the worst
 * miss, averaged over seeds, down by more than the factor of two that they would. */
static void closes_in(struct function f, size_t base, unsigned long seeds)
{
    double coarse = 0.0, fine = 0.0;
    for (unsigned long seed = 1; seed <= seeds; seed++) {
        const struct hb_sobol_result few = shares(&f, base / 4, seed);
        const struct hb_sobol_result many = shares(&f, base, seed);
        coarse += worst_miss(&f, &few) / (double)seeds;
        fine += worst_miss(&f, &many) / (double)seeds;
        if (worst_miss(&f, &many) > 1.0 / sqrt((double)base))
            ck_abort_msg("seed %lu misses by %g", seed, worst_miss(&f, &many));
    }
    printf("%d inputs: worst miss %.5f with %zu points, %.5f with %zu\n", f.dimensions, coarse,
           base / 4, fine, base);
    if (fine > 0.5 * coarse)
        ck_abort_msg("misses %g, and %g with four times the points", coarse, fine);
}

START_TEST(ishigami_closes_in)
{
    closes_in(ishigami_closed(), 4096, 8);
}
END_TEST

START_TEST(g_function_closes_in)
{
    closes_in(g_closed(6), 4096, 8);
    closes_in(g_closed(20), 16384, 3); /* the 40 dimensions of GSL's sequence */
}
END_TEST

/* Beyond the sequence's 40 the last inputs of one sample are pseudo-random: as good as independent
 * draws (above), whether the inputs that matter come first or last. */
START_TEST(more_than_the_sequence_has)
{
    struct function both[] = {g_closed(DIMENSIONS_MOST), g_turned_closed(DIMENSIONS_MOST)};
    for (int k = 0; k < 2; k++)
        for (unsigned long seed = 1; seed <= 3; seed++) {
            const struct hb_sobol_result r = shares(&both[k], 4096, seed);
            if (worst_miss(&both[k], &r) > 1.0 / sqrt(4096.0))
                ck_abort_msg("seed %lu misses by %g", seed, worst_miss(&both[k], &r));
        }
}
END_TEST

/* 95 % intervals hold the closed form in at least 90 % of the cases: points of a sequence miss by
 * less than the independent draws that the bootstrap takes them for, so more than 95 is expected,
 * and 90 leaves room for 40 seeds. */
START_TEST(intervals_hold)
{
    struct function f = ishigami_closed();
    int cases = 0, held = 0;
    for (unsigned long seed = 1; seed <= 40; seed++) {
        const struct hb_sobol_result r = shares(&f, 512, seed);
        for (int i = 0; i < 3; i++) {
            const struct hb_sobol_index *x = &r.index[0][i];
            ck_assert(x->first_low <= x->first && x->first <= x->first_high);
            ck_assert(x->total_low <= x->total && x->total <= x->total_high);
            held += x->first_low <= f.first[i] && f.first[i] <= x->first_high;
            held += x->total_low <= f.total[i] && f.total[i] <= x->total_high;
            cases += 2;
        }
    }
    if (held < 0.9 * cases)
        ck_abort_msg("%d of %d intervals hold the closed form", held, cases);
}
END_TEST

static double ishigami_moved(const double *u, int dimensions)
{
    return ishigami(u, dimensions) + 1000.0;
}

/* What is added to all values changes no share of their variance and no interval of one; the mean
 * is more by it (definition of a variance; tolerance: figures that are lost to 1000). */
START_TEST(moved_by_a_constant)
{
    struct function f = ishigami_closed(), g = f;
    g.value = ishigami_moved;
    const struct hb_sobol_result a = shares(&f, 512, 3), b = shares(&g, 512, 3);
    ck_assert_double_eq_tol(b.mean[0] - a.mean[0], 1000.0, 1e-6);
    ck_assert_double_eq_tol(b.deviation[0], a.deviation[0], 1e-6);
    for (int i = 0; i < 3; i++) {
        const struct hb_sobol_index *x = &a.index[0][i], *y = &b.index[0][i];
        ck_assert_double_eq_tol(x->first, y->first, 1e-6);
        ck_assert_double_eq_tol(x->first_low, y->first_low, 1e-6);
        ck_assert_double_eq_tol(x->first_high, y->first_high, 1e-6);
        ck_assert_double_eq_tol(x->total, y->total, 1e-6);
        ck_assert_double_eq_tol(x->total_low, y->total_low, 1e-6);
        ck_assert_double_eq_tol(x->total_high, y->total_high, 1e-6);
    }
}
END_TEST

static double nothing(const double *u, int dimensions)
{
    (void)u;
    (void)dimensions;
    return 3.0;
}

/* No variance: no shares of it (definition). Limits: those that sobol.h states. */
START_TEST(limits)
{
    struct function f = {.value = nothing, .dimensions = 2};
    const struct hb_sobol_result r = shares(&f, 64, 1);
    ck_assert(isnan(r.index[0][0].first) && isnan(r.index[0][1].total_high));
    ck_assert_double_eq(r.deviation[0], 0.0);
    static const struct {
        int dimensions, outputs;
        size_t base;
    } bad[] = {{0, 1, 64}, {HOBBLE_INDICES_MAX + 1, 1, 64}, {2, 0, 64}, {2, 5, 64}, {2, 1, 15},
               {-1, 1, 64}};
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
        struct hb_sobol_result unused;
        const struct hb_sobol_job job = {.dimensions = bad[i].dimensions,
                                         .outputs = bad[i].outputs,
                                         .base = bad[i].base,
                                         .run = run,
                                         .context = &f};
        ck_assert_int_eq(hb_sobol_run(&job, &unused), HOBBLE_E_RANGE);
    }
}
END_TEST

/* ---- a tyre ---------------------------------------------------------------------------------- */

static struct hobble_why find(const hobble_case *c, int threads)
{
    struct hobble_why why;
    ck_assert_int_eq(hobble_why_find(c, threads, &why, NULL), HOBBLE_OK);
    return why;
}

/* With one unknown all variance is its own (definition): exactly in the others' totals; in its own
 * within three standard errors of independent draws from a normal law, for which the estimators
 * have the variances 3 / base (first) and 2 / base (total). What is shared among the tyres of the
 * advice as well, less what 40 terms of chance have of 1000 tyres. */
START_TEST(one_unknown)
{
    enum { BASE = 1000 };
    static const char *const keys[] = {"load_error", "loss_25c", "film_inner", "life_unit"};
    for (size_t i = 0; i < sizeof keys / sizeof *keys; i++) {
        hobble_case *c = ask_bare(BASE);
        const int row = hobble_param_find(keys[i]);
        ask_no_spread(c);
        ask_spread(c, keys[i], hobble_param_table(NULL)[row].spread);
        const struct hobble_why why = find(c, 1);
        for (int k = 0; k < why.count; k++) {
            const struct hobble_index *x = &why.index[HOBBLE_WHY_RANGE][k];
            ck_assert_double_eq_tol(x->shapley, x->row == row ? why.explained : 0.0, 0.05);
            if (x->row != row) {
                ck_assert_double_eq(x->total, 0.0);
                continue;
            }
            ck_assert_double_eq_tol(x->total, 1.0, 3.0 * sqrt(2.0 / BASE));
            ck_assert_double_eq_tol(x->first, 1.0, 3.0 * sqrt(3.0 / BASE));
        }
        const bool measured = strcmp(keys[i], "life_unit") != 0;
        ck_assert_int_eq(why.first_row, measured ? row : -1);
        hobble_case_free(c);
    }
}
END_TEST

START_TEST(nothing_unknown)
{
    hobble_case *c = ask_one_tyre();
    const struct hobble_why why = find(c, 1);
    for (int k = 0; k < HOBBLE_WHY_OUTPUTS; k++)
        for (int i = 0; i < why.count; i++)
            ck_assert(isnan(why.index[k][i].first) && isnan(why.index[k][i].total));
    ck_assert_int_eq(why.first_row, -1);
    hobble_case_free(c);
}
END_TEST

/* Share of all the types that were drawn, also those that cannot be tied to their test, which
 * arrive: drawn, driven and counted here. */
static double arriving(const hobble_case *c, double distance)
{
    struct hb_study s;
    struct hb_plan plan;
    double n = 0, arrived = 0;
    ck_assert_int_eq(hb_study_open(c, 1, &s, NULL), HOBBLE_OK);
    hb_plan_advised(&s.question, 0.0, &plan);
    hb_ensemble_drive(&s.ensemble, &plan);
    for (size_t i = 0; i < s.ensemble.arrays.members; i++, n++)
        arrived += hb_ensemble_remaining(&s.ensemble, &plan, i) >= distance;
    hb_study_close(&s);
    return arrived / n;
}

/* The share that arrives is that of all types, within three standard errors of both samples; and
 * any number of threads gives the same bytes. */
START_TEST(all_types_and_threads)
{
    hobble_case *c = ask_bare(1000);
    ask_set(c, "to", 60.0);
    const struct hobble_why one = find(c, 1), two = find(c, 2);
    const double p = arriving(c, 60.0 * KM), sigma = sqrt(p * (1 - p) * (1.0 / 1000 + 1.0 / 2000));
    ck_assert_double_eq_tol(one.mean[HOBBLE_WHY_ARRIVAL], p, 3.0 * sigma);
    ck_assert_double_eq_tol(one.distance, 60.0 * KM, 1e-6);
    ck_assert_int_eq(one.runs, 1000 * (one.count + 2));
    for (int k = 0; k < HOBBLE_WHY_OUTPUTS; k++)
        for (int i = 0; i < one.count; i++) {
            ck_assert_double_eq(one.index[k][i].total, two.index[k][i].total);
            ck_assert_double_eq(one.index[k][i].first_low, two.index[k][i].first_low);
        }
    hobble_case_free(c);
}
END_TEST

Suite *why_suite(void)
{
    Suite *suite = suite_create("why");
    TCase *all = tcase_create("why");
    tcase_set_timeout(all, 120.0); /* sanitizers and valgrind are slow */
    tcase_add_test(all, ishigami_as_printed);
    tcase_add_test(all, ishigami_closes_in);
    tcase_add_test(all, g_function_closes_in);
    tcase_add_test(all, more_than_the_sequence_has);
    tcase_add_test(all, intervals_hold);
    tcase_add_test(all, moved_by_a_constant);
    tcase_add_test(all, limits);
    tcase_add_test(all, one_unknown);
    tcase_add_test(all, nothing_unknown);
    tcase_add_test(all, all_types_and_threads);
    suite_add_tcase(suite, all);
    return suite;
}
