/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test_ageing.c - how far units of one type differ and what a year takes: the open road-wheel runs
 * (source at the head of tests/data/tyre-ageing.csv) analysed again, the model's levels held
 * against them, and docs/ageing.md read back. */
#include "ageing.h"
#include "hobble.h"
#include "tsv.h"

#include <check.h>
#include <gsl/gsl_cdf.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

Suite *ageing_suite(void);

#define NEAR_DISTANCE                                                                              \
    0.005 /* of a distance: clocks and run-ups of the wheel, of which nothing is said */
#define ALL  "BCDEHL"
#define FOUR "BCDE" /* without H and L, whose used runs scatter most */

enum { MAIN, MAIN_FOUR, HOURS, HOURS_FOUR, STEEPER, FIRST, FIRST_FOUR, READINGS };
static const struct ageing_reading readings[READINGS] = {
    [MAIN] = {"life in km, all types", ALL, ALL, false, 4.0},
    [MAIN_FOUR] = {"life in km, without H and L", ALL, FOUR, false, 4.0},
    [HOURS] = {"life in hours, all types", ALL, ALL, true, 4.0},
    [HOURS_FOUR] = {"life in hours, without H and L", ALL, FOUR, true, 4.0},
    [STEEPER] = {"life in km, all types, power 5", ALL, ALL, false, 5.0},
    [FIRST] = {"only H and L held, life in km, all types", "HL", ALL, false, 4.0},
    [FIRST_FOUR] = {"only H and L held, life in km, without H and L", "HL", FOUR, false, 4.0},
};

static struct ageing_data data;

static void load(void)
{
    char why[200] = "";
    ck_assert_msg(ageing_load(&data, why, sizeof why), "%s", why);
}

static struct ageing_fit fitted(int reading)
{
    struct ageing_fit fit;
    ageing_fit(&data, &readings[reading], &fit);
    return fit;
}

/* Standard error of a standard deviation under the normal law (textbook). */
static double scatter_error(struct ageing_scatter s)
{
    return s.s / sqrt(2.0 * s.freedom);
}

/* ---- the data and the schedule --------------------------------------------------------------- */

/* 66 runs, 21 of them new, six types: counted by hand in the published table. */
START_TEST(the_runs_are_all_there)
{
    size_t fresh = 0;
    load();
    for (size_t i = 0; i < data.runs; i++) {
        fresh += data.run[i].is_new;
        ck_assert(strchr(ALL, data.run[i].type));
        ck_assert_msg(!data.run[i].is_new || data.run[i].age == 0.0, "run %zu: new and aged", i);
    }
    ck_assert_uint_eq(data.runs, 66);
    ck_assert_uint_eq(fresh, 21);
}
END_TEST

/* Both columns are measured, neither went into the schedule but for the top speeds. */
static void count_fits(const char *held, int *speeds, int *distances)
{
    const struct ageing_reading reading = {.held = held, .types = ALL};
    *speeds = *distances = 0;
    for (size_t i = 0; i < data.runs; i++) {
        double speed, distance;
        ageing_schedule(&data, &reading, &data.run[i], &speed, &distance);
        *speeds += speed == data.run[i].speed;
        *distances += fabs(distance / data.run[i].distance - 1.0) <= NEAR_DISTANCE;
    }
}

static const struct {
    const char *name, *held;
} schedules[] = {
    {"every type held at its top speed", ALL}, {"only H and L held", "HL"}, {"none held", ""}};
enum { SCHEDULES = sizeof schedules / sizeof *schedules };

/* The project's earlier derivation of the same schedule had 61 of the 66 distances; with every type
 * held all must fit, or what is read out of the runs is not what was driven. */
START_TEST(the_schedule_fits_the_runs)
{
    int speeds, distances;
    load();
    count_fits("HL", &speeds, &distances);
    ck_assert_int_eq(distances, 61);
    count_fits(ALL, &speeds, &distances);
    ck_assert_int_eq(speeds, 66);
    ck_assert_int_eq(distances, 66);
}
END_TEST

/* A wheel would hold a tyre at the speed of its symbol: the tops must be such speeds (UN R30, as in
 * speed-symbols.tsv). Type C never stayed at one and shows nothing. */
START_TEST(tops_are_speeds_of_symbols)
{
    struct tsv symbols;
    char why[700] = "";
    load();
    ck_assert_msg(tsv_load(&symbols, "speed-symbols.tsv", 2, 10, why, sizeof why), "%s", why);
    for (const char *type = "BDEHL"; *type; type++) {
        double top = 0.0, speed;
        bool found = false;
        for (size_t i = 0; i < data.runs; i++)
            if (data.run[i].type == *type)
                top = fmax(top, data.run[i].speed);
        for (size_t row = 0; row < symbols.rows; row++)
            found |= tsv_number(&symbols, row, 1, &speed) && speed == top;
        ck_assert_msg(found, "type %c was held at %g km/h", *type, top);
    }
    tsv_free(&symbols);
}
END_TEST

/* ---- levels, scatter, trend ------------------------------------------------------------------ */

/* The earlier derivation printed two and three decimals: half a last digit. It held only H and L,
 * which is seen from all six figures agreeing at once. */
START_TEST(an_independent_derivation_agrees)
{
    load();
    const struct ageing_fit all = fitted(FIRST), four = fitted(FIRST_FOUR);
    ck_assert_double_eq_tol(all.fresh.s, 0.29, 0.005);
    ck_assert_double_eq_tol(all.used.s, 0.55, 0.005);
    ck_assert_double_eq_tol(four.fresh.s, 0.31, 0.005);
    ck_assert_double_eq_tol(four.used.s, 0.36, 0.005);
    ck_assert_double_eq_tol(all.trend, -0.117, 0.0005);
    ck_assert_double_eq_tol(all.trend_error, 0.036, 0.0005);
}
END_TEST

/* Frisch and Waugh, Econometrica 1 (1933) 387: with a level a type, the trend is that of deviations
 * from the types' means. Another way to the same numbers than the regression. */
START_TEST(the_trend_is_that_of_deviations)
{
    load();
    for (int k = 0; k < READINGS; k++) {
        const struct ageing_reading *reading = &readings[k];
        const struct ageing_fit fit = fitted(k);
        double xx = 0.0, xy = 0.0, yy = 0.0;
        for (const char *type = reading->types; *type; type++) {
            double n = 0.0, x = 0.0, y = 0.0;
            for (int pass = 0; pass < 2; pass++)
                for (size_t i = 0; i < data.runs; i++) {
                    const struct ageing_run *run = &data.run[i];
                    if (run->type != *type)
                        continue;
                    const double life = ageing_life(&data, reading, run);
                    if (pass == 0) {
                        n++, x += run->age, y += life;
                        continue;
                    }
                    xx += (run->age - x / n) * (run->age - x / n);
                    xy += (run->age - x / n) * (life - y / n);
                    yy += (life - y / n) * (life - y / n);
                }
        }
        ck_assert_double_eq_tol(fit.trend, xy / xx, 1e-10);
        ck_assert_double_eq_tol(fit.spread, sqrt((yy - xy * xy / xx) / fit.freedom), 1e-10);
        ck_assert_double_eq_tol(fit.trend_error, fit.spread / sqrt(xx), 1e-10);
    }
}
END_TEST

/* ---- the model's levels against the bands ---------------------------------------------------- */

enum { NEW, USED_ABOUT, USED, TREND, QUANTITIES };
static const struct {
    const char *name, *key;
    double level; /* until the table has the key */
    bool must;    /* what the key means; the others are told */
} quantities[QUANTITIES] = {
    [NEW] = {"scatter, new", "unit_scatter_new", 0.30, true},
    [USED_ABOUT] = {"scatter, used, trend taken out", "unit_scatter_used", 0.45, true},
    [USED] = {"scatter, used, as they are", "unit_scatter_used", 0.45, false},
    [TREND] = {"trend a year", "unit_ageing", -0.10, true},
};

/* The scatters are written without a sign, the trend as what a year takes, whatever its sign. */
static double level_of(int quantity)
{
    const int row = hobble_param_find(quantities[quantity].key);
    const double level = row < 0 ? quantities[quantity].level : hobble_param_table(NULL)[row].value;
    return quantity == TREND ? -fabs(level) : level;
}

struct bands {
    double value, low, high; /* by the normal law: chi-square, Student's t */
    double low_again, high_again;
};

static struct bands scatter_bands(struct ageing_scatter s)
{
    return (struct bands){s.s, s.s * sqrt(s.freedom / gsl_cdf_chisq_Pinv(0.975, s.freedom)),
                          s.s * sqrt(s.freedom / gsl_cdf_chisq_Pinv(0.025, s.freedom)), s.low,
                          s.high};
}

static void all_bands(struct bands b[QUANTITIES])
{
    struct ageing_fit fit = fitted(MAIN);
    ageing_resample(&data, &readings[MAIN], 4000, &fit);
    const double reach = gsl_cdf_tdist_Pinv(0.975, fit.freedom) * fit.trend_error;
    b[NEW] = scatter_bands(fit.fresh);
    b[USED] = scatter_bands(fit.used);
    b[USED_ABOUT] = scatter_bands(fit.used_about);
    b[TREND] = (struct bands){fit.trend, fit.trend - reach, fit.trend + reach, fit.trend_low,
                              fit.trend_high};
}

START_TEST(the_levels_lie_in_the_bands)
{
    struct bands b[QUANTITIES];
    load();
    all_bands(b);
    for (int q = 0; q < QUANTITIES; q++) {
        const double level = level_of(q);
        ck_assert_msg(!quantities[q].must || (b[q].low <= level && level <= b[q].high),
                      "%s: %s is %g, the runs say %.3f to %.3f", quantities[q].name,
                      quantities[q].key, level, b[q].low, b[q].high);
    }
}
END_TEST

/* ---- the page -------------------------------------------------------------------------------- */

static char page[20000];

static void read_page(void)
{
    FILE *f = fopen(TEST_DATA_DIR "/../../docs/ageing.md", "r");
    ck_assert_msg(f != NULL, "docs/ageing.md cannot be opened");
    const size_t n = fread(page, 1, sizeof page - 1, f);
    (void)fclose(f);
    ck_assert_uint_lt(n, sizeof page - 1);
    page[n] = '\0';
}

/* The row of a table that begins with this name must say these numbers, in this order, to the
 * digits shown (half a last digit, and a little for rounding), and then the words. */
static void check_row(const char *name, const double *value, int count, const char *words)
{
    char start[100], should[300] = "";
    (void)snprintf(start, sizeof start, "\n| %s |", name);
    for (int i = 0; i < count; i++)
        (void)snprintf(should + strlen(should), sizeof should - strlen(should), " %.3f", value[i]);
    char *at = strstr(page, start);
    ck_assert_msg(at != NULL, "docs/ageing.md has no row '%s':%s %s", name, should, words);
    at += strlen(start);
    char *end = strchr(at, '\n');
    ck_assert_ptr_nonnull(end);
    for (int i = 0; i < count; i++) {
        at += strcspn(at, "-0123456789\n");
        char *after = at;
        const double shown = strtod(at, &after);
        ck_assert_msg(after > at && after <= end, "'%s': numbers are missing:%s", name, should);
        const char *dot = memchr(at, '.', (size_t)(after - at));
        const double digit = dot ? pow(10.0, -(double)(after - dot - 1)) : 1.0;
        ck_assert_msg(fabs(shown - value[i]) <= 0.51 * digit, "'%s' says %g, computed:%s", name,
                      shown, should);
        at = after;
    }
    ck_assert_msg(at + strcspn(at, "-0123456789") >= end, "'%s' says more than:%s", name, should);
    char *said = strstr(at, words);
    ck_assert_msg(said && said < end, "'%s' does not say '%s'", name, words);
}

START_TEST(the_page_tells_the_schedules)
{
    int speeds, distances;
    load();
    read_page();
    for (int i = 0; i < SCHEDULES; i++) {
        count_fits(schedules[i].held, &speeds, &distances);
        const double row[] = {speeds, distances};
        check_row(schedules[i].name, row, 2, "|");
    }
    double belts = 0.0;
    for (size_t i = 0; i < data.runs; i++)
        belts += data.run[i].names_belt;
    check_row("codes with BE, B1 or B2 in them", (const double[]){belts, 66.0}, 2, "|");
}
END_TEST

START_TEST(the_page_tells_the_readings)
{
    load();
    read_page();
    for (int k = 0; k < READINGS; k++) {
        const struct ageing_fit f = fitted(k);
        const double row[] = {
            f.fresh.s,      scatter_error(f.fresh),      f.used.s, scatter_error(f.used),
            f.used_about.s, scatter_error(f.used_about), f.trend,  f.trend_error};
        check_row(readings[k].name, row, 8, "|");
    }
}
END_TEST

START_TEST(the_page_tells_the_bands)
{
    struct bands b[QUANTITIES];
    char words[40];
    load();
    read_page();
    all_bands(b);
    for (int q = 0; q < QUANTITIES; q++) {
        const double level = level_of(q);
        const double row[] = {b[q].value,     b[q].low,        b[q].high,
                              b[q].low_again, b[q].high_again, level};
        (void)snprintf(words, sizeof words, "| %s | %s |",
                       b[q].low <= level && level <= b[q].high ? "yes" : "no",
                       b[q].low_again <= level && level <= b[q].high_again ? "yes" : "no");
        check_row(quantities[q].name, row, 6, words);
    }
}
END_TEST

/* The runs farthest from the fit stay in; the page names them. */
START_TEST(the_page_tells_the_outliers)
{
    load();
    read_page();
    struct ageing_fit fit = fitted(MAIN);
    for (int rank = 1; rank <= 4; rank++) {
        size_t far = 0;
        char name[20];
        for (size_t i = 1; i < data.runs; i++)
            if (fabs(fit.residual[i]) > fabs(fit.residual[far]))
                far = i;
        const struct ageing_run *run = &data.run[far];
        (void)snprintf(name, sizeof name, "%d, type %c", rank, run->type);
        const double row[] = {run->age, run->hours, fit.residual[far],
                              fabs(fit.residual[far]) / fit.spread};
        check_row(name, row, 4, "|");
        fit.residual[far] = 0.0;
    }
}
END_TEST

Suite *ageing_suite(void)
{
    Suite *suite = suite_create("ageing");
    TCase *tests = tcase_create("ageing");
    tcase_add_test(tests, the_runs_are_all_there);
    tcase_add_test(tests, the_schedule_fits_the_runs);
    tcase_add_test(tests, tops_are_speeds_of_symbols);
    tcase_add_test(tests, an_independent_derivation_agrees);
    tcase_add_test(tests, the_trend_is_that_of_deviations);
    tcase_add_test(tests, the_levels_lie_in_the_bands);
    tcase_add_test(tests, the_page_tells_the_schedules);
    tcase_add_test(tests, the_page_tells_the_readings);
    tcase_add_test(tests, the_page_tells_the_bands);
    tcase_add_test(tests, the_page_tells_the_outliers);
    suite_add_tcase(suite, tests);
    return suite;
}
