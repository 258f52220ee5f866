/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test_study.c - the parts that studies are made of: order statistics, the middle tyre of each size
 * in its approval test, and what happens when memory runs out. */
#include "advice/ensemble.h"
#include "ask.h"
#include "core/const.h"
#include "failing_alloc.h"
#include "random_case.h"
#include "solve/reference.h"
#include "study/study.h"

#include <check.h>
#include <gsl/gsl_statistics_double.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

Suite *study_suite(void);

#define NEED(held, ...)                                                                            \
    do {                                                                                           \
        if (!(held))                                                                               \
            ck_abort_msg(__VA_ARGS__);                                                             \
    } while (0)

/* ---- order statistics
 * ---------------------------------------------------------------------------- */

/* Source: counted by hand. The values are 1..n in a shuffled order; of n values the place of a
 * share p is p (n - 1) from nought, rounded down. */
START_TEST(quantile_by_hand)
{
    static const struct {
        size_t n;
        double p, value;
    } rows[] = {{1, 0.05, 1},    {1, 0.95, 1},  {2, 0.5, 1},    {3, 0.5, 2},    {20, 0.05, 1},
                {21, 0.05, 2},   {20, 0.5, 10}, {20, 0.95, 19}, {101, 0.05, 6}, {101, 0.5, 51},
                {101, 0.95, 96}, {101, 0, 1},   {101, 1, 101},  {100, 0.05, 5}, {100, 0.95, 95}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        double values[101];
        for (size_t k = 0; k < rows[i].n; k++) /* 37 shares no factor with any n above */
            values[k] = 1.0 + (double)((k * 37 + 11) % rows[i].n);
        ck_assert(hb_quantile(values, rows[i].n, rows[i].p) == rows[i].value);
    }
}
END_TEST

/* Source: GSL's interpolated quantile, which a low quantile must never exceed. */
START_TEST(quantile_never_flatters)
{
    struct random_source r = {.state = 1};
    for (int k = 0; k < 300; k++) {
        double values[200];
        const size_t n = 1 + (size_t)random_below(&r, 200);
        for (size_t i = 0; i < n; i++)
            values[i] = random_normal(&r);
        const double p = k % 2 ? 0.05 : random_between(&r, 0.0, 1.0);
        const double ours = hb_quantile(values, n, p);
        ck_assert(ours <= gsl_stats_quantile_from_sorted_data(values, 1, n, p) + 1e-12);
        size_t below = 0;
        for (size_t i = 0; i < n; i++)
            below += values[i] < ours;
        ck_assert((double)below <= p * (double)n);
    }
}
END_TEST

static int in_order(const void *a, const void *b)
{
    const double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

/* Source: the C library's qsort. */
START_TEST(sort_as_qsort)
{
    struct random_source r = {.state = 2};
    for (int k = 0; k < 2000; k++) {
        double ours[300], theirs[300];
        const size_t n = (size_t)random_below(&r, k < 1000 ? 8 : 300);
        const bool few = random_below(&r, 2); /* many equal values */
        for (size_t i = 0; i < n; i++)
            ours[i] = few ? random_below(&r, 5) - 2 : random_normal(&r);
        if (n > 2)
            ours[random_below(&r, (int)n)] = k % 2 ? HUGE_VAL : -HUGE_VAL;
        memcpy(theirs, ours, sizeof ours);
        hb_sort(ours, n);
        qsort(theirs, n, sizeof *theirs, in_order);
        for (size_t i = 0; i < n; i++)
            ck_assert(ours[i] == theirs[i]);
    }
}
END_TEST

/* ---- sizes
 * ------------------------------------------------------------------------------------------ */

static const char *const sizes[] = {"185/65 RF15 88H", "205/55 RF16 91V",  "225/45 RF17 94W",
                                    "275/40 RF17 98W", "235/65 RF17 108V", "245/30 RF20 90Y",
                                    "315/35 RF20 110Y"};

/* Source: flat-tyre running mode of UN R30 (from memory, unconfirmed): 65 % of the index, 38 degC,
 * a drum of 1.70 m, 5 min up to 80 km/h and 60 min there, height changed by no more than 20 %. What
 * passes it with time to spare ends between 80 and 115 min (assumed), and is not lower by 20 %
 * before 65 min. On both solvers. */
START_TEST(size_in_its_test)
{
    struct hb_settings settings;
    struct hobble_marking marking;
    struct hb_life_reference life;
    struct hb_draw draw;
    struct hb_tyre tyre;
    struct hb_drum_test test;
    struct hb_outcome out[2], part[2];
    struct hb_record record[2][HB_DRUM_LEGS];
    const struct hb_step_control steps = hb_step_control_default();
    const struct hb_reference_options options = hb_reference_default();

    hb_settings_default(&settings);
    settings.row[HB_P_CONSTRUCTION].value = HB_SELF_SUPPORTING;
    ck_assert_int_eq(hobble_marking_parse(sizes[_i], &marking, NULL), HOBBLE_OK);
    ck_assert_int_eq(hb_calibrate(&settings, &marking, &life), HOBBLE_OK);
    hb_draw(&settings, NULL, &draw);
    hb_build(&settings, &marking, &draw, &life, &tyre);
    hb_put_on_drum(&tyre, HB_DRUM_RADIUS);
    hb_drum_test(&marking, 150.0 * MINUTE, &test);
    ck_assert_double_eq_tol(test.leg[1].load,
                            0.65 * 9.80665 * hobble_load_index_kg(marking.load_index), 1e-9);
    ck_assert_double_eq_tol(test.leg[1].speed, 80.0 * KMH, 1e-12);
    ck_assert_double_eq_tol(test.leg[1].ambient, 311.15, 1e-9);
    hb_integrate_many(&test.journey, &steps, &tyre, 1, &out[0], NULL);
    ck_assert_int_eq(hb_reference_run(&test.journey, &tyre, &options, &out[1], NULL), HOBBLE_OK);
    hb_drum_test(&marking, 65.0 * MINUTE, &test);
    hb_integrate_many(&test.journey, &steps, &tyre, 1, &part[0], record[0]);
    ck_assert_int_eq(hb_reference_run(&test.journey, &tyre, &options, &part[1], record[1]),
                     HOBBLE_OK);
    for (int i = 0; i < 2; i++) {
        const double minutes = out[i].time / MINUTE - 5.0;
        const double before = tyre.section_height - part[i].deflection_start;
        const double after = tyre.section_height - record[i][1].deflection;
        ck_assert_int_ne(out[i].end, HB_END_NONE);
        NEED(minutes >= 80.0 && minutes <= 115.0, "%s ends after %.1f min", sizes[_i], minutes);
        NEED(part[i].end == HB_END_NONE && before - after <= 0.2 * before,
             "%s: from %.1f to %.1f mm in 65 min", sizes[_i], 1e3 * before, 1e3 * after);
    }
}
END_TEST

/* ---- memory
 * ----------------------------------------------------------------------------------------- */

static enum hobble_status try_case(const hobble_case *from)
{
    hobble_case *made = hobble_case_new(), *copy = hobble_case_clone(from);
    const bool both = made && copy;
    hobble_case_free(made);
    hobble_case_free(copy);
    return both ? HOBBLE_OK : HOBBLE_E_MEMORY;
}

static enum hobble_status try_study(const hobble_case *c)
{
    struct hb_study study;
    const enum hobble_status status = hb_study_open(c, 1, &study, NULL);
    hb_study_close(&study);
    return status;
}

static struct hobble_faults sink;

static enum hobble_status try_range(const hobble_case *c)
{
    struct hobble_answer answer;
    memset(&answer, 0x5a, sizeof answer);
    const enum hobble_status status = hobble_range(c, 1, &answer, &sink);
    for (size_t i = 0; status != HOBBLE_OK && i < sizeof answer; i++)
        if (((const unsigned char *)&answer)[i] != 0x5a)
            return HOBBLE_E_INTERNAL; /* written in spite of the fault */
    /* the check by the second solver may be left out, and then says so */
    return status == HOBBLE_OK && isnan(answer.solver_difference) ? HOBBLE_E_MEMORY : status;
}

static enum hobble_status try_trace(const hobble_case *c)
{
    static struct hobble_trace_point point[HOBBLE_TRACE_POINTS];
    return hobble_trace(c, 1, 20.0 * KM, point, &sink);
}

static const struct {
    const char *name;
    enum hobble_status (*run)(const hobble_case *);
    long least; /* requests that it is known to make: each gets its turn to fail */
} users[] = {{"case", try_case, 2},
             {"study", try_study, 7},
             {"range", try_range, 7},
             {"trace", try_trace, 8}};

/* Source: C17 7.22.3: any request may return a null pointer. Each in turn is refused; the answer is
 * out of memory, nothing is kept, and the next question is answered as if nothing had been. */
START_TEST(memory_runs_out)
{
    hobble_case *c = ask_vouched(20);
    long open, n = 0;
    for (bool refused = true; refused; n++) {
        failing_alloc_arm(n + 1);
        const enum hobble_status status = users[_i].run(c);
        refused = failing_alloc_disarm(&open);
        NEED(status == (refused ? HOBBLE_E_MEMORY : HOBBLE_OK), "%s, request %ld: %s",
             users[_i].name, n + 1, hobble_status_text(status));
        NEED(open == 0, "%s, request %ld refused: %ld not released", users[_i].name, n + 1, open);
        ck_assert_int_lt(n, 1000);
    }
    NEED(n > users[_i].least, "%s: only %ld requests were seen", users[_i].name, n - 1);
    hobble_case_free(c);
}
END_TEST

Suite *study_suite(void)
{
    Suite *s = suite_create("study");
    TCase *t = tcase_create("study");
    tcase_set_timeout(t, 120.0); /* sanitizers and valgrind are slow */
    tcase_add_test(t, quantile_by_hand);
    tcase_add_test(t, quantile_never_flatters);
    tcase_add_test(t, sort_as_qsort);
    tcase_add_loop_test(t, size_in_its_test, 0, (int)(sizeof sizes / sizeof *sizes));
    tcase_add_loop_test(t, memory_runs_out, 0, (int)(sizeof users / sizeof *users));
    suite_add_tcase(s, t);
    return s;
}
