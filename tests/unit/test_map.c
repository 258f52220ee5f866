/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test_map.c - maps cell by cell. */
#include "ask.h"
#include "random_case.h"
#include "report/picture/map_grid.h"

#include <check.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

Suite *map_suite(void);

static struct hobble_axis axis(const char *key, double from, double to, int count)
{
    return (struct hobble_axis){hobble_param_find(key), from, to, count};
}

static struct hobble_map make(const hobble_case *c, struct hobble_axis x, struct hobble_axis y,
                              int threads)
{
    static struct hobble_faults faults;
    const struct hobble_axis both[2] = {x, y};
    struct hobble_map map;
    faults.count = 0;
    const enum hobble_status status = hobble_map_make(c, both, threads, NULL, NULL, &map, &faults);
    if (status != HOBBLE_OK)
        ck_abort_msg("no map: %s; %s: %s", hobble_status_text(status),
                     faults.count ? faults.item[0].key : "",
                     faults.count ? faults.item[0].allowed : "");
    return map;
}

/* Every cell is what the driver's answer gives for its conditions: another way of driving and
 * counting, so equal but for the order of sums. times: how often types are made. */
static void cells_agree(const char *x, double x0, double x1, const char *y, double y0, double y1,
                        int times)
{
    enum { NX = 3, NY = 2 };
    hobble_case *c = ask_bare(40);
    struct hobble_map m = make(c, axis(x, x0, x1, NX), axis(y, y0, y1, NY), 1);
    ck_assert_int_eq(m.made, times);
    for (int k = 0; k < NX * NY; k++) {
        hobble_case *one = ask_bare(40);
        const bool load = strcmp(x, "load") == 0 || strcmp(y, "load") == 0;
        if (load) { /* in place of the share that ask_bare sets */
            hobble_case_free(one);
            one = hobble_case_new();
            ask_text(one, "marking", "205/55 RF16 91V");
            ask_word(one, "construction", "self_supporting");
            ask_set(one, "members", 40);
        }
        ask_set(one, x, m.value[0][k % NX]);
        ask_set(one, y, m.value[1][k / NX]);
        const struct hobble_answer a = ask_free(one);
        if (a.rim_at_start)
            ck_assert(isnan(m.p5[k]));
        else {
            ck_assert_double_eq_tol(m.p5[k], a.range.p5, 1e-9 * a.range.p5 + 1e-6);
            ck_assert_double_eq_tol(m.p50[k], a.range.p50, 1e-9 * a.range.p50 + 1e-6);
            ck_assert_double_eq_tol(m.p95[k], a.range.p95, 1e-9 * a.range.p95 + 1e-6);
        }
        if (a.speed > 79.9 * KMH && a.speed < 80.1 * KMH) /* the driver's rule is at 80 km/h */
            ck_assert_double_eq_tol(m.share[k], a.share_of_tyres, 1e-12);
        ck_assert_int_eq(m.cut[k], a.rim_at_start ? m.cut[k]
                                                  : a.range.censored5 + 2 * a.range.censored50 +
                                                        4 * a.range.censored95);
        ck_assert_int_eq(m.outside[k] != 0, a.outside_count > 0 || a.load_share > 1.0);
        ck_assert_int_eq(m.share[k] >= fmin(m.needed, 1.0), m.reach[k] >= m.rule_distance);
    }
    hobble_map_free(&m);
    hobble_case_free(c);
}

START_TEST(cells)
{
    cells_agree("speed", 40, 140, "load_share", 0.5, 1.1, 1);
    cells_agree("ambient", -25, 40, "pressure", 0, 150, 1);
    cells_agree("pressure", 0, 60, "speed", 60, 80, 1); /* between 0 and 70 kPa as it is */
    cells_agree("wall_heat", 1500, 2200, "speed", 60, 80, 3);
    cells_agree("run", 0, 60, "unseen", 0, 20, 1);
    cells_agree("load", 2000, 6000, "speed", 60, 100, 1);
    cells_agree("wall_thickness", 9, 15, "speed", 60, 80, 3);
    cells_agree("speed", 60, 100, "loss_25c", 0.04, 0.07, 2);
    cells_agree("load_error", 0.9, 1.2, "film_inner", 8, 25, 6);
}
END_TEST

/* Slow and light, some quantiles are only known to be beyond what was driven, the higher ones
 * first; cells_agree holds each against the driver's own answer. Source: what censoring means. */
START_TEST(cut_at_the_horizon)
{
    int none = 0, some = 0, all = 0;
    hobble_case *c = ask_vouched(40);
    struct hobble_map m = make(c, axis("speed", 20, 80, 3), axis("load_share", 0.3, 0.75, 4), 1);
    for (int k = 0; k < 12; k++) {
        const int cut = m.cut[k];
        ck_assert(cut == 0 || cut == 4 || cut == 6 || cut == 7);
        none += cut == 0;
        some += cut == 4 || cut == 6;
        all += cut == 7;
    }
    ck_assert_msg(none > 0 && some > 0 && all > 0, "%d %d %d", none, some, all);
    hobble_map_free(&m);
    hobble_case_free(c);
    cells_agree("speed", 50, 80, "load_share", 0.3, 0.4, 1);
    cells_agree("speed", 50, 80, "load_share", 0.5, 0.6, 1);
}
END_TEST

/* An axis takes the place of what says the same in another way, and of nothing else: people go with
 * luggage. Source: the same map of a question without the other. */
START_TEST(axis_takes_the_place)
{
    static const struct {
        const char *said;
        double value;
        struct {
            const char *key;
            double from, to;
        } x;
    } rows[] = {{"leak", 30, {"hole", 1, 3}},
                {"hole", 2, {"leak", 10, 60}},
                {"load", 3000, {"load_share", 0.5, 0.8}},
                {"load_share", 0.5, {"load", 2500, 4000}},
                {"load_share", 0.5, {"people", 1, 3}}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        hobble_case *with = hobble_case_new();
        ask_set(with, "members", 20);
        ask_set(with, "pressure", 60);
        hobble_case *without = hobble_case_clone(with);
        ask_set(with, rows[i].said, rows[i].value);
        const struct hobble_axis x = axis(rows[i].x.key, rows[i].x.from, rows[i].x.to, 3);
        struct hobble_map a = make(with, x, axis("speed", 50, 80, 2), 1);
        struct hobble_map b = make(without, x, axis("speed", 50, 80, 2), 1);
        for (int k = 0; k < 6; k++)
            ck_assert_msg(a.p50[k] == b.p50[k] && a.share[k] == b.share[k], "row %zu", i);
        hobble_map_free(&a);
        hobble_map_free(&b);
        hobble_case_free(with);
        hobble_case_free(without);
    }
    hobble_case *c = hobble_case_new();
    ask_set(c, "members", 20);
    ask_set(c, "people", 1);
    ask_set(c, "luggage", 60);
    struct hobble_map m = make(c, axis("people", 1, 3, 3), axis("speed", 50, 80, 2), 1);
    for (int k = 0; k < 3; k++) {
        ask_set(c, "people", k + 1);
        ask_set(c, "speed", 50);
        const struct hobble_answer one = ask(c);
        ck_assert_double_eq_tol(m.p50[k], one.range.p50, 1e-9 * one.range.p50);
    }
    hobble_map_free(&m);
    hobble_case_free(c);
}
END_TEST

/* No air in an ordinary tyre: it is on its rim (common practice, no source), and there is no range.
 */
START_TEST(rim)
{
    hobble_case *c = ask_bare(30);
    ask_text(c, "marking", "205/55 R16 91V");
    ask_word(c, "construction", "conventional");
    struct hobble_map m = make(c, axis("speed", 40, 80, 2), axis("load_share", 0.9, 1.0, 2), 1);
    for (int k = 0; k < 4; k++)
        ck_assert(isnan(m.p5[k]) && isnan(m.p95[k]) && m.rim[k] > 0.5);
    hobble_map_free(&m);
    hobble_case_free(c);
}
END_TEST

/* Maps and rules are one question: every cell is what hobble_rule says of its conditions, at a rule
 * of its speed, for what bars it as well. Source: the question asked again in another way. */
START_TEST(cells_hold_as_the_rule)
{
    static const char *const words[][2] = {
        {"ran_flat", "no"}, {"ran_flat", "yes"}, {"repaired", "yes"}, {"trailer", "yes"}};
    struct random_source source = {20};
    int held = 0, not = 0, doubtful = 0;
    for (int n = 0; n < 12; n++) {
        hobble_case *c = ask_vouched(n % 3 == 0 ? 40 : 150); /* 40 are too few to be sure */
        const char *const *word = words[n % 6 < 4 ? n % 6 : 0];
        const double load = random_between(&source, 0.45, 0.7), wide = n % 2 ? 0.02 : 0.3;
        ask_word(c, word[0], word[1]);
        if (n % 5 == 4)
            ask_set(c, "maker_distance", 60.0);
        struct hobble_map m =
            make(c, axis("load_share", load, load + wide, 4),
                 n % 2 ? axis("ambient", 15, 48, 3) : axis("speed", 50, 80, 3), 1);
        for (int k = 0; k < 12; k++) {
            hobble_case *one = hobble_case_clone(c);
            struct hobble_rule_answer a;
            ask_set(one, "load_share", m.value[0][k % 4]);
            ask_set(one, n % 2 ? "ambient" : "speed", m.value[1][k / 4]);
            const double speed = hobble_case_number(one, hobble_param_find("speed")) * KMH;
            ck_assert_int_eq(hobble_rule(one, speed, 80 * KM, 1, &a, NULL), HOBBLE_OK);
            ck_assert_msg(a.holds == (m.holds[k] != 0), "question %d, cell %d: rule %d, map %d", n,
                          k, a.holds, m.holds[k]);
            ck_assert_double_eq_tol(m.share[k], a.share, 1e-12);
            ck_assert_int_eq(a.counted, m.counted);
            held += a.holds;
            not += !a.holds;
            doubtful += a.share >= a.required && !a.holds;
            hobble_case_free(one);
        }
        hobble_map_free(&m);
        hobble_case_free(c);
    }
    ck_assert_int_gt(held, 10);
    ck_assert_int_gt(not, 10);
    ck_assert_int_gt(doubtful, 10); /* where the plain share would say that it holds */
}
END_TEST

START_TEST(threads)
{
    hobble_case *c = ask_bare(60);
    struct hobble_map one = make(c, axis("speed", 40, 120, 5), axis("load_share", 0.5, 1.0, 5), 1);
    struct hobble_map two = make(c, axis("speed", 40, 120, 5), axis("load_share", 0.5, 1.0, 5), 2);
    ck_assert_int_eq(memcmp(one.p5, two.p5, 25 * sizeof *one.p5), 0);
    ck_assert_int_eq(memcmp(one.reach, two.reach, 25 * sizeof *one.reach), 0);
    hobble_map_free(&one);
    hobble_map_free(&two);
    hobble_case_free(c);
}
END_TEST

static void remember(void *context, double done)
{
    double *last = context;
    ck_assert(done >= *last && done <= 1.0);
    *last = done;
}

START_TEST(progress)
{
    hobble_case *c = ask_bare(20);
    const struct hobble_axis both[2] = {axis("speed", 40, 120, 4), axis("load_share", 0.5, 1, 4)};
    struct hobble_map m;
    double last = 0.0;
    ck_assert_int_eq(hobble_map_make(c, both, 1, remember, &last, &m, NULL), HOBBLE_OK);
    ck_assert_double_eq(last, 1.0);
    hobble_map_free(&m);
    hobble_case_free(c);
}
END_TEST

START_TEST(refuses)
{
    const struct hobble_axis speed = axis("speed", 40, 120, 4);
    const struct {
        struct hobble_axis x, y;
        enum hobble_status status;
    } bad[] = {
        {speed, speed, HOBBLE_E_CONFLICT},
        {axis("load", 2000, 4000, 3), axis("load_share", 0.5, 1, 3), HOBBLE_E_CONFLICT},
        {axis("people", 1, 3, 3), axis("load", 2000, 4000, 3), HOBBLE_E_CONFLICT},
        {axis("leak", 1, 10, 3), axis("hole", 1, 3, 3), HOBBLE_E_CONFLICT},
        {axis("luggage", 0, 50, 3), axis("load_share", 0.5, 1, 3), HOBBLE_E_CONFLICT},
        {speed, axis("load_share", 0.5, 1, 1), HOBBLE_E_RANGE},
        {speed, axis("load_share", 0.5, 1, HOBBLE_AXIS_MAX + 1), HOBBLE_E_RANGE},
        {speed, axis("load_share", 1, 0.5, 4), HOBBLE_E_RANGE},
        {speed, axis("load_share", 0.5, (double)NAN, 4), HOBBLE_E_RANGE},
        {speed, axis("load_share", 0.5, 2.5, 4), HOBBLE_E_RANGE},
        {speed, axis("marking", 0, 1, 4), HOBBLE_E_UNSUPPORTED},
        {speed, axis("members", 20, 100, 4), HOBBLE_E_UNSUPPORTED},
        {speed, axis("to", 1, 100, 4), HOBBLE_E_UNSUPPORTED},
        {speed, axis("tread_depth", 1, 5, 4), HOBBLE_E_UNSUPPORTED},
        {speed, axis("no such row", 1, 5, 4), HOBBLE_E_UNSUPPORTED},
        {{100000, 1, 2, 2}, speed, HOBBLE_E_UNSUPPORTED},
        {speed, axis("people", 1, 5, 4), HOBBLE_E_RANGE},     /* not whole at every step */
        {speed, axis("people", 1, 19, 4), HOBBLE_E_CONFLICT}, /* more than the built-in seats */
    };
    hobble_case *c = ask_bare(20);
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
        const struct hobble_axis both[2] = {bad[i].x, bad[i].y};
        struct hobble_map m = {.made = -7};
        static struct hobble_faults faults;
        faults.count = 0;
        const enum hobble_status status = hobble_map_make(c, both, 1, NULL, NULL, &m, &faults);
        if (status != bad[i].status || faults.count == 0 || m.made != -7)
            ck_abort_msg("row %zu: %s", i, hobble_status_text(status));
    }
    hobble_case_free(c);
}
END_TEST

/* Between the cells nothing is made up: a bilinear surface takes its extremes at its nodes
 * (definition), and is the cell's value there. Nothing below 100 m is drawn. */
START_TEST(between_cells)
{
    hobble_case *c = ask_bare(40);
    struct hobble_map m = make(c, axis("speed", 40, 120, 5), axis("load_share", 0.5, 1.0, 4), 1);
    struct hb_map_grid *grid = hb_map_grid_new(&m, m.p5);
    ck_assert_ptr_nonnull(grid);
    double least = HUGE_VAL, most = 0.0;
    for (int k = 0; k < 20; k++) {
        const double value = fmax(m.p5[k], 100.0);
        least = fmin(least, value);
        most = fmax(most, value);
        ck_assert_double_eq_tol(hb_map_grid_at(grid, k % 5 / 4.0, k / 5 / 3.0), value,
                                1e-9 * value);
    }
    for (int i = 0; i <= 100; i++)
        for (int k = 0; k <= 100; k++) {
            const double here = hb_map_grid_at(grid, i / 100.0, k / 100.0);
            ck_assert(here >= least * (1 - 1e-9) && here <= most * (1 + 1e-9));
        }
    hb_map_grid_free(grid);
    hobble_map_free(&m);
    hobble_case_free(c);
}
END_TEST

Suite *map_suite(void)
{
    Suite *suite = suite_create("map");
    TCase *all = tcase_create("map");
    tcase_set_timeout(all, 120.0); /* sanitizers and valgrind are slow */
    tcase_add_test(all, cells);
    tcase_add_test(all, cells_hold_as_the_rule);
    tcase_add_test(all, cut_at_the_horizon);
    tcase_add_test(all, axis_takes_the_place);
    tcase_add_test(all, rim);
    tcase_add_test(all, threads);
    tcase_add_test(all, progress);
    tcase_add_test(all, refuses);
    tcase_add_test(all, between_cells);
    suite_add_tcase(suite, all);
    return suite;
}
