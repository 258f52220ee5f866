/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test_question.c - what was driven before now, what is known of a unit, and questions that
 * contradict themselves. */
#include "advice/question.h"
#include "ask.h"
#include "core/const.h"
#include "solve/reference.h"
#include "study/study.h"

#include <check.h>
#include <math.h>
#include <string.h>

Suite *question_suite(void);

#define NEED(held, ...)                                                                            \
    do {                                                                                           \
        if (!(held))                                                                               \
            ck_abort_msg(__VA_ARGS__);                                                             \
    } while (0)

/* ---- the pressure is a history --------------------------------------------------------------- */

/* One leg that begins inflated and leaks: what is counted of it, s. */
static double counted_of(hobble_case *c, double pressure, double seconds, double leak)
{
    struct hb_question q;
    const struct hobble_leg leg = {80 * KMH,  NOT_GIVEN, seconds, NOT_GIVEN,
                                   NOT_GIVEN, pressure,  leak};
    ask_set(c, "unseen", 0.0);
    ck_assert_int_eq(hobble_case_add_leg(c, &leg, NULL), HOBBLE_OK);
    ck_assert_int_eq(hb_question_make(&c->settings, c->leg, c->legs, &q, NULL), HOBBLE_OK);
    hobble_case_free(c);
    ck_assert_uint_le(q.past.count, 1);
    return q.past.count > 0 ? q.past.leg[0].extent : 0.0;
}

/* Sources: low is 20 % below the warm pressure (UN R141, second-hand), whenever this vehicle warns.
 * A leak of time constant tau falls as exp(-t / tau): the way down takes tau ln(p / p_low), and
 * only what comes after it is driven with too little air. */
START_TEST(inflated_running_counts_nothing)
{
    static const double rows[][3] = {/* min of leak, drop, min driven */
                                     {30, 0.2, 20},
                                     {30, 0.25, 20},
                                     {5, 0.2, 2},
                                     {600, 0.2, 100},
                                     {1, 0.2, 1}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        const double tau = rows[i][0] * MINUTE, time = rows[i][2] * MINUTE;
        hobble_case *c = ask_vouched(20);
        ask_set(c, "warning_drop", rows[i][1]);
        ask_set(c, "pressure_inflated", 240.0);
        const double wanted = fmax(time - tau * log(1.0 / 0.8), 0.0);
        ck_assert_double_eq_tol(counted_of(c, 240e3, time, tau), wanted, 1e-6 * tau);
    }
}
END_TEST

/* Source: isothermal outflow of a choked orifice: the absolute pressure falls exponentially, and a
 * hole of twice the diameter empties four times as fast (gas dynamics, textbook). */
START_TEST(hole_before_the_warning)
{
    double above[2];
    const double time = 3000.0;
    for (int i = 0; i < 2; i++) {
        hobble_case *c = ask_vouched(20);
        ask_set(c, "hole", i ? 1.0 : 0.5);
        above[i] = time - counted_of(c, 230e3, time, NOT_GIVEN);
    }
    ck_assert_double_eq_tol(above[0] / above[1], 4.0, 1e-6);
    /* m' = 0.6 A p sqrt(1.4 / (R T)) (2 / 2.4)^3 and m = p V / (R T), V as the library says */
    struct hobble_marking marking;
    ck_assert_int_eq(hobble_marking_parse("205/55 RF16 91V", &marking, NULL), HOBBLE_OK);
    const double area = 0.25 * HB_PI * 1e-3 * 1e-3, gas = 287.05 * 298.15;
    const double rate =
        0.6 * area * sqrt(1.4 * gas) * pow(2.0 / 2.4, 3.0) / hb_cavity_volume(&marking);
    const double from = 230e3 + 101325.0, to = 0.8 * 230e3 + 101325.0;
    ck_assert_double_eq_tol(above[1], log(from / to) / rate, 1e-3 * above[1]);
}
END_TEST

/* Until the warning nobody slows down, and what nobody stated is driven at 100 km/h or more
 * (assumed). A time that is stated is driven at the speed that is stated; stood it was not. Source:
 * UN R141, within 10 min for one wheel (second-hand); common practice, no source. */
START_TEST(unseen_way)
{
    static const double rows[][4] = {/* km/h before, min of delay, min unseen or -1, km wanted */
                                     {100, 10, -1, 100.0 / 6},
                                     {50, 10, -1, 100.0 / 6},
                                     {130, 20, -1, 130.0 / 3},
                                     {0, 10, -1, 100.0 / 6},
                                     {50, 10, 6, 5},
                                     {130, 10, 0, 0},
                                     {0, 10, 0, 0}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        hobble_case *c = ask_vouched(20);
        ask_set(c, "speed_before", rows[i][0]);
        ask_set(c, "warning_delay", rows[i][1]);
        if (rows[i][2] >= 0.0)
            ask_set(c, "unseen", rows[i][2]);
        const struct hobble_answer a = ask_free(c);
        ck_assert_double_eq_tol(a.run_unseen, rows[i][3] * KM, 1e-6);
        ck_assert_int_eq(a.unseen_assumed, rows[i][2] < 0.0);
    }
    hobble_case *c = ask_vouched(20);
    struct hobble_answer a;
    ask_set(c, "speed_before", 0.0);
    ask_set(c, "unseen", 60.0);
    ck_assert_int_eq(hobble_range(c, 1, &a, NULL), HOBBLE_E_CONFLICT);
    hobble_case_free(c);
}
END_TEST

/* The journey of one tyre, all members the same, written by hand and run by the reference solver
 * (GSL's backward differentiation): remaining distance after count - 1 legs. */
static double by_reference(const hobble_case *c, struct hb_leg *leg, size_t count, bool running)
{
    struct hb_study study;
    struct hb_outcome out;
    struct hb_record record[8];
    const struct hb_reference_options options = hb_reference_default();
    ck_assert_int_eq(hb_study_open(c, 1, &study, NULL), HOBBLE_OK);
    for (size_t i = 0; i < count; i++) {
        leg[i].load = study.question.load;
        leg[i].set_pressure = true;
    }
    const struct hb_journey journey = {.start = {.running = running,
                                                 .speed = 100.0 * KMH,
                                                 .load = study.question.load,
                                                 .ambient = 25.0 + HB_CELSIUS,
                                                 .pressure = 230e3},
                                       .count = count,
                                       .leg = leg,
                                       .horizon_distance = 2000.0 * KM,
                                       .horizon_time = 48.0 * 3600.0};
    ck_assert_int_eq(
        hb_reference_run(&journey, &study.ensemble.arrays.tyre[0], &options, &out, record),
        HOBBLE_OK);
    hb_study_close(&study);
    return out.distance - record[count - 2].distance;
}

/* relative: the fast integrator against the reference, with room for its legs */
#define TIME_STEP 2e-3

/* The range is for the history at its own speeds and times. The advice is for one without the stop
 * and with nothing slower than it: neither gives life back. Source: the reference solver. */
START_TEST(history_as_driven)
{
    hobble_case *c = ask_one_tyre();
    const double ambient = 25.0 + HB_CELSIUS;
    ask_set(c, "unseen", 10.0);
    ask_set(c, "run", 12.0);
    ask_set(c, "run_speed", 60.0);
    ask_set(c, "rest", 15.0);
    ask_set(c, "speed", 130.0); /* the advice is for 80 */
    struct hb_leg leg[] = {
        {.speed = 100 * KMH, .ambient = ambient, .kind = HB_FOR_TIME, .extent = 600.0},
        {.speed = 60 * KMH, .ambient = ambient, .kind = HB_FOR_DISTANCE, .extent = 12.0 * KM},
        {.speed = 0.0, .ambient = ambient, .kind = HB_FOR_TIME, .extent = 900.0},
        {.speed = 130 * KMH, .ambient = ambient, .kind = HB_UNTIL_END}};
    const double fast = by_reference(c, leg, 4, true);
    const struct hobble_answer a = ask(c);
    ck_assert_double_eq_tol(a.run_unseen, 600.0 * 100.0 * KMH, 1e-6);
    ck_assert_double_eq_tol(a.run_seen, 12.0 * KM, 1e-6);
    ck_assert_double_eq_tol(a.range.p5, fast, TIME_STEP * fast);
    leg[1].speed = 80 * KMH;
    leg[2] = leg[3];
    leg[2].speed = 80 * KMH;
    const double left = by_reference(c, leg, 3, true);
    ck_assert_double_eq_tol(a.advised.p5, left, TIME_STEP * left);
    ck_assert(a.stops_left_out);
    hobble_case_free(c);
}
END_TEST

/* "12 km at 100 in 36 C, ten minutes stopped, then on at 60" is one question. */
START_TEST(legs_are_one_input)
{
    hobble_case *c = ask_one_tyre(); /* the first leg is what was driven before anybody noticed */
    const double warm = 36.0 + HB_CELSIUS;
    ask_set(c, "speed", 60.0);
    const struct hobble_leg legs[] = {
        {100 * KMH, 12 * KM, NOT_GIVEN, NOT_GIVEN, warm, NOT_GIVEN, NOT_GIVEN},
        {0.0, NOT_GIVEN, 600.0, NOT_GIVEN, NOT_GIVEN, NOT_GIVEN, NOT_GIVEN}};
    for (int i = 0; i < 2; i++)
        ck_assert_int_eq(hobble_case_add_leg(c, &legs[i], NULL), HOBBLE_OK);
    struct hb_leg leg[] = {
        {.speed = 100 * KMH, .ambient = warm, .kind = HB_FOR_DISTANCE, .extent = 12.0 * KM},
        {.speed = 0.0, .ambient = 25 + HB_CELSIUS, .kind = HB_FOR_TIME, .extent = 600.0},
        {.speed = 60 * KMH, .ambient = 25 + HB_CELSIUS, .kind = HB_UNTIL_END}};
    const struct hobble_answer a = ask(c);
    const double rested = by_reference(c, leg, 3, true);
    ck_assert_double_eq_tol(a.range.p5, rested, TIME_STEP * rested);
    leg[1] = leg[2];
    const double left = by_reference(c, leg, 2, true);
    ck_assert_double_eq_tol(a.run_seen + a.run_unseen, 12.0 * KM, 1e-6);
    ck_assert_double_eq_tol(a.advised.p5, left, TIME_STEP * left);
    ck_assert_double_eq_tol(a.advised_distance, fmin(left, 68.0 * KM), TIME_STEP * left);
    hobble_case_free(c);
}
END_TEST

/* The rows say the same as legs do. Source: the other way of asking. */
START_TEST(rows_as_legs)
{
    hobble_case *rows = ask_vouched(60), *legs = ask_vouched(60);
    ask_set(rows, "unseen", 6.0);
    ask_set(rows, "run", 20.0);
    ask_set(rows, "run_speed", 50.0);
    const struct hobble_leg leg[] = {
        {100 * KMH, NOT_GIVEN, 360.0, NOT_GIVEN, NOT_GIVEN, 0.0, NOT_GIVEN},
        {50 * KMH, 20 * KM, NOT_GIVEN, NOT_GIVEN, NOT_GIVEN, NOT_GIVEN, NOT_GIVEN}};
    ask_set(legs, "unseen", 0.0);
    for (int i = 0; i < 2; i++)
        ck_assert_int_eq(hobble_case_add_leg(legs, &leg[i], NULL), HOBBLE_OK);
    const struct hobble_answer a = ask_free(rows), b = ask_free(legs);
    ck_assert_double_eq_tol(a.advised.p5, b.advised.p5, 1e-6 * a.advised.p5);
    ck_assert_double_eq_tol(a.advised_distance, b.advised_distance, 1e-6 * a.advised.p5);
    ck_assert_double_eq_tol(b.run_seen, a.run_seen + a.run_unseen, 1e-6);
}
END_TEST

/* What was driven after the warning does not take back what may have been driven before it, and a
 * leg at the advised speed never makes the advice better (a slow one cools the tyre, as a rest).
 * Source: arithmetic; unknown counts against. */
START_TEST(legs_keep_the_unseen)
{
    const struct hobble_answer none = ask_free(ask_vouched(60));
    for (int km = 1; km <= 9; km += 4) {
        hobble_case *c = ask_vouched(60);
        const struct hobble_leg leg = {80 * KMH,  km * KM,   NOT_GIVEN, NOT_GIVEN,
                                       NOT_GIVEN, NOT_GIVEN, NOT_GIVEN};
        ck_assert_int_eq(hobble_case_add_leg(c, &leg, NULL), HOBBLE_OK);
        const struct hobble_answer a = ask_free(c);
        ck_assert_double_eq_tol(a.run_unseen, none.run_unseen, 1e-9);
        ck_assert_double_eq_tol(a.run_seen, km * KM, 1e-9);
        ck_assert_double_le(a.advised_distance, none.advised_distance);
    }
}
END_TEST

/* A vehicle whose wheel is not stated, and whose other axle is overloaded. Source: unknown counts
 * against; the permitted axle mass is the maker's. */
START_TEST(heavier_axle)
{
    struct hobble_answer a[3];
    static const char *const wheel[] = {NULL, "front_left", "rear_left"};
    for (int i = 0; i < 3; i++) {
        hobble_case *c = hobble_case_new();
        ask_set(c, "members", 40.0);
        ask_set(c, "people", 2.0);
        ask_set(c, "luggage", 300.0);
        if (wheel[i])
            ask_word(c, "wheel", wheel[i]);
        a[i] = ask_free(c);
    }
    ck_assert_double_eq_tol(a[0].load, fmax(a[1].load, a[2].load), 1e-9);
    ck_assert(a[0].wheel_assumed && !a[1].wheel_assumed);
    hobble_case *c = hobble_case_new();
    ask_set(c, "members", 40.0);
    ask_set(c, "people", 2.0);
    ask_set(c, "luggage", 2000.0);
    ask_word(c, "wheel", "front_left");
    const struct hobble_answer over = ask_free(c);
    ck_assert(over.stop[HOBBLE_STOP_AXLE] && over.verdict == HOBBLE_STOP);
    ck_assert(!a[1].stop[HOBBLE_STOP_AXLE]);
}
END_TEST

/* Who drove faster before now has used more: the same distance at 120 and at 40. Source: more
 * speed, more heat (any tyre textbook); nothing heals while parked: life is used by turning. */
START_TEST(history_uses_life)
{
    struct hobble_answer a[2], rested[3];
    for (int i = 0; i < 2; i++) {
        hobble_case *c = ask_vouched(60);
        ask_set(c, "load_share", 0.5);
        ask_set(c, "run", 20.0);
        ask_set(c, "run_speed", i ? 120.0 : 40.0);
        a[i] = ask_free(c);
    }
    ck_assert_double_gt(a[1].life_now_p50, 1.3 * a[0].life_now_p50);
    ck_assert_double_lt(a[1].advised.p5, a[0].advised.p5);
    for (int i = 0; i < 3; i++) {
        hobble_case *c = ask_vouched(60);
        ask_set(c, "load_share", 0.5); /* one that is at its end stays as it was then */
        ask_set(c, "run", 20.0);
        ask_set(c, "rest", i * 1000.0);
        rested[i] = ask_free(c);
        ck_assert(isfinite(rested[i].advised.p50) && isfinite(rested[i].now_p50));
        ck_assert(rested[i].life_now_p50 == rested[0].life_now_p50);
    }
    ck_assert_double_gt(rested[0].now_p50, 350.0);
    ck_assert_double_eq_tol(rested[2].now_p50, rested[2].ambient, 0.5);
}
END_TEST

/* What the gauge shows is what there is; what no gauge showed is taken for nothing, whatever leaks.
 * Source: unknown counts against (common practice, no source). */
START_TEST(gauge_and_leak)
{
    double now[3];
    for (int i = 0; i < 3; i++) {
        hobble_case *c = ask_vouched(20);
        ask_set(c, "leak", 30.0);
        if (i > 0)
            ask_set(c, "pressure", i == 1 ? 100.0 : 160.0);
        now[i] = ask_free(c).pressure_now;
    }
    ck_assert(now[0] == 0.0);
    ck_assert_double_eq_tol(now[1], 100e3, 1e-6);
    ck_assert_double_eq_tol(now[2], 160e3, 1e-6);
    /* air on the way tells nothing of now, when no gauge was read and nothing is said to leak */
    hobble_case *c = ask_vouched(20);
    const struct hobble_leg leg = {80 * KMH,  5 * KM, NOT_GIVEN, NOT_GIVEN,
                                   NOT_GIVEN, 150e3,  NOT_GIVEN};
    ck_assert_int_eq(hobble_case_add_leg(c, &leg, NULL), HOBBLE_OK);
    ck_assert(ask(c).pressure_now == 0.0);
    ask_set(c, "pressure", 120.0);
    ck_assert_double_eq_tol(ask_free(c).pressure_now, 120e3, 1e-6);
}
END_TEST

/* A leak that was stated of one leg goes on: before now and from now, as if stated of all. Source:
 * a hole does not close (common practice, no source). */
START_TEST(a_leak_goes_on)
{
    for (int i = 0; i < 3; i++) {
        struct hb_question q;
        hobble_case *c = ask_vouched(20);
        ask_set(c, "pressure", 180.0);
        const double tau[] = {NOT_GIVEN, 3600.0, 60.0}; /* of the first leg; the row says an hour */
        const struct hobble_leg legs[] = {
            {50 * KMH, 0.5 * KM, NOT_GIVEN, NOT_GIVEN, NOT_GIVEN, 180e3, tau[i]},
            {50 * KMH, 0.5 * KM, NOT_GIVEN, NOT_GIVEN, NOT_GIVEN, NOT_GIVEN, NOT_GIVEN}};
        ask_set(c, "leak", 60.0);
        for (int k = 0; k < 2; k++)
            ck_assert_int_eq(hobble_case_add_leg(c, &legs[k], NULL), HOBBLE_OK);
        ck_assert_int_eq(hb_question_make(&c->settings, c->leg, c->legs, &q, NULL), HOBBLE_OK);
        const double worst = i == 2 ? 60.0 : 3600.0, time = 2.0 * 0.5 * KM / (50 * KMH);
        ck_assert_double_eq_tol(q.past.leak_rate, 1.0 / worst, 1e-12);
        ck_assert_double_eq_tol(q.past.now, 180e3 * exp(-time / worst), 1.0);
        hobble_case_free(c);
    }
}
END_TEST

/* ---- what is known of a unit -----------------------------------------------------------------
 */

/* What is left open is open, of whichever of the three, and no age says more than another. Stated
 * or not, the types are the same and tied to their test. Source: the mark speaks of the type; what
 * is unknown counts against (common practice, no source). */
START_TEST(stated_by_three)
{
    static const char *const words[] = {NULL, "unknown", "no", "yes"};
    static const double ages[] = {NOT_GIVEN, 0.0, 5.0, 5.01, 12.0};
    for (int age = 0; age < 5; age++)
        for (int flat = 0; flat < 4; flat++)
            for (int repaired = age == 1 || age == 3 ? 0 : 2; repaired < 4; repaired++) {
                hobble_case *c = ask_bare(20);
                ask_set(c, "load_share", 0.5);
                if (age > 0)
                    ask_set(c, "age", ages[age]);
                if (flat > 0)
                    ask_word(c, "ran_flat", words[flat]);
                if (repaired > 0)
                    ask_word(c, "repaired", words[repaired]);
                const struct hobble_answer a = ask_free(c);
                ck_assert_int_eq(a.all_stated, age > 0 && flat >= 2 && repaired >= 2);
                ck_assert(a.conditioned && a.passed > 0 && a.counted == a.passed);
                ck_assert(a.range.p5 == a.unconditioned.p5 && a.range.p50 == a.unconditioned.p50);
                ck_assert_double_le(a.advised_distance, a.if_vouched);
                ck_assert(!a.all_stated || a.if_vouched == a.advised_distance);
            }
}
END_TEST

/* The built-in example is new and whole; what is said of it counts, also that something is not
 * known. Source: unknown counts against (common practice, no source). */
START_TEST(example_is_new)
{
    hobble_case *c = hobble_case_new();
    ask_set(c, "members", 60);
    const struct hobble_answer plain = ask(c);
    ck_assert(plain.all_stated && plain.advised.p5 > 0.0);
    hobble_case *said = hobble_case_clone(c);
    ask_set(said, "age", 0.0);
    ask_word(said, "ran_flat", "no");
    ask_word(said, "repaired", "no");
    ck_assert(ask_free(said).advised.p5 == plain.advised.p5);
    ask_set(c, "age", 6.0);
    const struct hobble_answer old = ask(c);
    ck_assert(old.all_stated && old.advised.p5 < plain.advised.p5);
    static const char *const rows[] = {"repaired", "ran_flat"};
    for (int i = 0; i < 2; i++) {
        hobble_case *open = hobble_case_clone(c);
        ask_word(open, rows[i], "unknown");
        const struct hobble_answer a = ask_free(open);
        ck_assert(!a.all_stated && a.advised.p5 < old.advised.p5);
    }
    hobble_case_free(c);
}
END_TEST

/* ---- questions that contradict themselves; loads ------------------------------------------------
 */

/* Source: arithmetic; each of these says one thing twice, or needs another. */
START_TEST(contradictions)
{
    static const struct {
        const char *a, *b;
        double x, y;
        enum hobble_status status;
    } rows[] = {{"load", "load_share", 4000, 0.7, HOBBLE_E_CONFLICT},
                {"load", "people", 4000, 2, HOBBLE_E_CONFLICT},
                {"load_share", "people", 0.7, 2, HOBBLE_E_CONFLICT},
                {"leak", "hole", 30, 1, HOBBLE_E_CONFLICT},
                {"people", "seats_rear", 6, 3, HOBBLE_E_CONFLICT},
                {"luggage", "seats_rear", 50, 3, HOBBLE_E_MISSING},
                {"loss_25c", "loss_100c", 0.04, 0.05, HOBBLE_E_CONFLICT}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        static struct hobble_faults faults;
        struct hobble_answer a;
        hobble_case *c = hobble_case_new();
        faults.count = 0;
        memset(&a, 0x5a, sizeof a);
        ask_set(c, rows[i].a, rows[i].x);
        ask_set(c, rows[i].b, rows[i].y);
        ck_assert_int_eq(hobble_range(c, 1, &a, &faults), rows[i].status);
        ck_assert_uint_eq(faults.count, 1);
        ck_assert_str_ne(faults.item[0].key, "");
        ck_assert_str_ne(faults.item[0].allowed, "");
        for (size_t k = 0; k < sizeof a; k++)
            NEED(((const unsigned char *)&a)[k] == 0x5a, "an answer was written for a fault");
        hobble_case_free(c);
    }
    hobble_case *c = ask_vouched(20); /* RF, yet stated to be something else */
    hobble_case_set_word(c, hobble_param_find("construction"), "conventional", "test", NULL);
    struct hobble_answer a;
    ck_assert_int_eq(hobble_range(c, 1, &a, NULL), HOBBLE_E_CONFLICT);
    hobble_case_free(c);
}
END_TEST

/* Source: arithmetic (moments are shares of masses); one wheel carries half its axle. */
START_TEST(wheel_load)
{
    static const struct {
        const char *wheel;
        double people, luggage, kg;
    } rows[] = {{"front_left", 1, 0, 720 + 37.5},
                {"front_right", 4, 60, 720 + 75 + 0.2 * 150},
                {"rear_left", 4, 60, 530 + 75 + 0.8 * 150 + 60},
                {"rear_right", 2, 0, 530 + 75},
                {"rear_left", NOT_GIVEN, NOT_GIVEN, 1000}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        hobble_case *c = hobble_case_new();
        ask_set(c, "members", 20);
        ask_word(c, "wheel", rows[i].wheel);
        if (isnan(rows[i].people))
            ask_set(c, "rear_kerb", 530.0); /* a vehicle is known, its people are not */
        else
            ask_set(c, "people", rows[i].people);
        if (rows[i].luggage > 0.0)
            ask_set(c, "luggage", rows[i].luggage);
        const struct hobble_answer a = ask_free(c);
        ck_assert_double_eq_tol(a.load, 0.5 * 9.80665 * rows[i].kg, 1e-6);
        ck_assert_double_eq_tol(a.load_share, 0.5 * rows[i].kg / 615.0, 1e-9); /* index 91 */
    }
}
END_TEST

Suite *question_suite(void)
{
    Suite *s = suite_create("question");
    TCase *t = tcase_create("question");
    tcase_set_timeout(t, 120.0); /* sanitizers and valgrind are slow */
    tcase_add_test(t, inflated_running_counts_nothing);
    tcase_add_test(t, unseen_way);
    tcase_add_test(t, a_leak_goes_on);
    tcase_add_test(t, hole_before_the_warning);
    tcase_add_test(t, history_as_driven);
    tcase_add_test(t, legs_are_one_input);
    tcase_add_test(t, rows_as_legs);
    tcase_add_test(t, legs_keep_the_unseen);
    tcase_add_test(t, heavier_axle);
    tcase_add_test(t, history_uses_life);
    tcase_add_test(t, gauge_and_leak);
    tcase_add_test(t, stated_by_three);
    tcase_add_test(t, example_is_new);
    tcase_add_test(t, contradictions);
    tcase_add_test(t, wheel_load);
    suite_add_tcase(s, t);
    return s;
}
