/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test_history.c - what of the past is known, and what the bench's words make of it. Sources: the
 * order of events in src/advice/history.h; unknown counts against (common practice, no source);
 * arithmetic. */
#include "advice/question.h"
#include "ask.h"
#include "study/case.h"

#include <check.h>
#include <math.h>
#include <stdbool.h>

Suite *history_suite(void);

static struct hb_question question_of(hobble_case *c)
{
    struct hb_question q;
    ck_assert_int_eq(hb_question_make(&c->settings, c->leg, c->legs, &q, NULL), HOBBLE_OK);
    return q;
}

static void drove(hobble_case *c, double kmh, double minutes, double load, double celsius,
                  double pressure)
{
    const struct hobble_leg leg = {kmh * KMH,        NOT_GIVEN, minutes * MINUTE, load,
                                   celsius + 273.15, pressure,  NOT_GIVEN};
    ck_assert_int_eq(hobble_case_add_leg(c, &leg, NULL), HOBBLE_OK);
}

/* ---- with air -------------------------------------------------------------------------------- */

/* What was driven with air warms the tyre as its worst part does, and is no way without air: the
 * fastest, the heaviest and the hottest, wherever they stand. */
START_TEST(worst_of_what_was_inflated)
{
    for (int last = 0; last < 2; last++) {
        hobble_case *c = ask_bare(20);
        ask_set(c, "unseen", 0.0);
        ask_set(c, "speed_before", 40.0);
        for (int i = 0; i < 2; i++)
            drove(c, i == last ? 110.0 : 90.0, 10.0, i == last ? 5000.0 : 2000.0,
                  i == last ? 40.0 : 10.0, 250e3);
        const struct hb_question q = question_of(c);
        ck_assert_uint_eq(q.past.count, 0);
        ck_assert_double_eq_tol(q.past.start_speed, 110.0 * KMH, 1e-9);
        ck_assert_double_eq_tol(q.past.start_load, 5000.0, 1e-9);
        ck_assert_double_eq_tol(q.past.start_ambient, 313.15, 1e-9);
        ck_assert(q.past.run_seen == 0.0 && q.past.fastest == 0.0);
        hobble_case_free(c);
    }
    /* slower, lighter, cooler than what is stated of all: that counts on */
    hobble_case *c = ask_bare(20);
    ask_set(c, "unseen", 0.0);
    ask_set(c, "speed_before", 120.0);
    drove(c, 50.0, 10.0, 2000.0, 10.0, 250e3);
    const struct hb_question q = question_of(c);
    ck_assert_double_eq_tol(q.past.start_speed, 120.0 * KMH, 1e-9);
    ck_assert_double_eq_tol(q.past.start_load, q.load, 1e-9);
    ck_assert_double_eq_tol(q.past.start_ambient, q.ambient, 1e-9);
    hobble_case_free(c);
}
END_TEST

/* A leg that begins inflated at 240 kPa and leaks with a time constant of 30 min is low, at 80 % of
 * it (UN R141, second-hand), after 1800 ln(1/0.8) s. What is left of it counts from a hundredth of
 * a second on (src/advice/history.c): less is no drive with too little air, and no speed of one. */
START_TEST(low_at_its_very_end)
{
    const double low = 1800.0 * log(1.0 / 0.8);
    for (int over = 0; over < 2; over++) {
        hobble_case *c = ask_bare(20);
        ask_set(c, "unseen", 0.0);
        ask_set(c, "pressure_inflated", 240.0);
        ask_set(c, "leak", 30.0);
        drove(c, 90.0, (low + (over ? 0.02 : 0.005)) / MINUTE, NOT_GIVEN, NOT_GIVEN, 240e3);
        const struct hb_history h = question_of(c).past;
        ck_assert_int_eq((int)h.count, over);
        ck_assert_double_eq_tol(h.fastest, over ? 90.0 * KMH : 0.0, 1e-9);
        ck_assert_double_eq_tol(h.run_seen, over ? 0.02 * 90.0 * KMH : 0.0, 1e-6);
        hobble_case_free(c);
    }
}
END_TEST

/* ---- the bench ------------------------------------------------------------------------------- */

/* 10 km at no more than 50 km/h: of all speeds that are stated the highest is what that way is
 * taken for, as nobody knows of which part it was. */
START_TEST(highest_stated_speed)
{
    static const struct {
        const char *key;
        double kmh, counted;
    } rows[] = {{NULL, 0, 50},
                {"run_speed", 70, 70},
                {"run_speed", 30, 50},
                {"speed_before", 90, 90},
                {"speed_before", 20, 50}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        hobble_case *c = ask_bare(20);
        ask_set(c, "low_distance", 10.0);
        ask_set(c, "low_speed", 50.0);
        if (rows[i].key)
            ask_set(c, rows[i].key, rows[i].kmh);
        const struct hb_question q = question_of(c);
        ck_assert_uint_eq(q.past.count, 1);
        ck_assert(q.past.collapsed);
        ck_assert_double_eq_tol(q.past.leg[0].speed, rows[i].counted * KMH, 1e-9);
        ck_assert_double_eq_tol(q.past.leg[0].extent, 10.0 * KM, 1e-6);
        ck_assert_double_eq_tol(q.past.run_seen + q.past.run_unseen, 10.0 * KM, 1e-6);
        hobble_case_free(c);
    }
}
END_TEST

/* A lowest pressure was read at some time of the way, and a leak of time constant tau goes on for
 * as long as the way can have taken: at the slowest speed that is stated, with the stops. */
START_TEST(leak_goes_on_for_all_of_the_way)
{
    static const struct {
        double low, run, run_kmh, rest, seconds; /* km, km, km/h, min; how long it can have been */
    } rows[] = {{10, 0, 0, 0, 720},    {10, 5, 30, 0, 1200}, {10, 5, 70, 0, 720},
                {10, 5, 30, 10, 1800}, {0, 5, 30, 0, 600},   {0, 5, 30, 10, 1200},
                {0, 0, 0, 10, 600}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        hobble_case *c = ask_bare(20);
        ask_set(c, "unseen", 0.0);
        ask_set(c, "low_distance", rows[i].low);
        ask_set(c, "low_speed", 50.0);
        ask_set(c, "lowest_pressure", 150.0);
        ask_set(c, "leak", 40.0);
        if (rows[i].run > 0.0) {
            ask_set(c, "run", rows[i].run);
            ask_set(c, "run_speed", rows[i].run_kmh);
        }
        if (rows[i].rest > 0.0)
            ask_set(c, "rest", rows[i].rest);
        const struct hb_question q = question_of(c);
        ck_assert_double_eq_tol(q.past.lowest, 150e3 * exp(-rows[i].seconds / 2400.0), 1.0);
        hobble_case_free(c);
    }
}
END_TEST

/* ---- what is known --------------------------------------------------------------------------- */

struct said {
    const char *key;
    double value;
};
enum { SAID = 4, DISTANCE = 1, SPEED = 2, PRESSURE = 4 };

/* What is stated, and what of the drive is known by it. A leg: 30 km/h, 10 min, without a pressure,
 * with 150 kPa or with 60 kPa. */
static const struct {
    struct said said[SAID];
    double leg[2]; /* kPa; below 0: not stated; 0: no leg */
    int known;
} told[] = {
    {{{NULL, 0}}, {0, 0}, 0},
    {{{"low_distance", 5}}, {0, 0}, DISTANCE},
    {{{"low_speed", 50}}, {0, 0}, SPEED},
    {{{"lowest_pressure", 150}}, {0, 0}, PRESSURE},
    /* a gauge tells of now; flat now was flat */
    {{{"pressure", 71}}, {0, 0}, 0},
    {{{"pressure", 69}}, {0, 0}, PRESSURE},
    {{{"flat_tyres", 1}}, {0, 0}, PRESSURE},
    /* before the warning and since: both are needed */
    {{{"unseen", 4}}, {0, 0}, 0},
    {{{"run", 5}}, {0, 0}, 0},
    {{{"unseen", 4}, {"run", 5}}, {0, 0}, DISTANCE},
    {{{"unseen", 4}, {"run", 5}, {"run_speed", 60}}, {0, 0}, DISTANCE},
    {{{"unseen", 4}, {"run", 5}, {"speed_before", 60}}, {0, 0}, DISTANCE},
    {{{"unseen", 4}, {"run", 5}, {"speed_before", 60}, {"run_speed", 60}},
     {0, 0},
     DISTANCE | SPEED},
    {{{"unseen", 0}, {"run", 5}, {"run_speed", 60}}, {0, 0}, DISTANCE | SPEED},
    {{{"unseen", 0}, {"run", 0}}, {0, 0}, DISTANCE | SPEED},
    {{{"unseen", 4}, {"speed_before", 60}}, {-1, 0}, DISTANCE | SPEED},
    {{{"unseen", 4}}, {-1, 0}, DISTANCE},
    {{{NULL, 0}}, {-1, 0}, 0},
    /* every part's pressure, and nothing unseen; or one part below 70 kPa, which is flat */
    {{{"unseen", 0}}, {150, 0}, DISTANCE | SPEED | PRESSURE},
    {{{"unseen", 0}}, {150, -1}, DISTANCE | SPEED},
    {{{"unseen", 0}}, {-1, 150}, DISTANCE | SPEED},
    {{{"unseen", 4}}, {150, 0}, DISTANCE},
    {{{NULL, 0}}, {150, 0}, 0},
    {{{NULL, 0}}, {-1, 60}, PRESSURE},
    {{{NULL, 0}}, {60, -1}, PRESSURE},
    {{{"unseen", 4}}, {150, 60}, DISTANCE | PRESSURE},
};

START_TEST(known_by_what_is_stated)
{
    for (size_t i = 0; i < sizeof told / sizeof *told; i++) {
        hobble_case *c = ask_bare(20);
        for (int k = 0; k < SAID && told[i].said[k].key; k++)
            ask_set(c, told[i].said[k].key, told[i].said[k].value);
        for (int k = 0; k < 2; k++)
            if (told[i].leg[k] != 0.0)
                drove(c, 30.0, 10.0, NOT_GIVEN, NOT_GIVEN,
                      told[i].leg[k] < 0.0 ? NOT_GIVEN : told[i].leg[k] * 1e3);
        const struct hb_history h = question_of(c).past;
        const int known = (h.distance_known ? DISTANCE : 0) + (h.speed_known ? SPEED : 0) +
                          (h.pressure_known ? PRESSURE : 0);
        ck_assert_msg(known == told[i].known, "row %zu: %d, not %d", i, known, told[i].known);
        hobble_case_free(c);
    }
}
END_TEST

Suite *history_suite(void)
{
    Suite *suite = suite_create("history");
    TCase *all = tcase_create("history");
    tcase_add_test(all, worst_of_what_was_inflated);
    tcase_add_test(all, low_at_its_very_end);
    tcase_add_test(all, highest_stated_speed);
    tcase_add_test(all, leak_goes_on_for_all_of_the_way);
    tcase_add_test(all, known_by_what_is_stated);
    suite_add_tcase(suite, all);
    return suite;
}
