/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test_recording.c - a recorded drive in flat memory, and the legs that it becomes. Sources: the
 * way is the integral of the speed, its mean over the way not below that over time (Cauchy and
 * Schwarz); unknown counts against (common practice, no source); arithmetic of this file's own. */
#include "ask.h"
#include "random_case.h"
#include "study/recording.h"

#include <check.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

Suite *recording_suite(void);

enum { SAMPLES = 4000, DRIVES = 60 };

static struct hobble_sample sample_at(double time, double kmh, double kpa)
{
    struct hobble_sample s = {.time = time};
    for (int i = 0; i < HOBBLE_LOG_FIELDS; i++)
        s.value[i] = (double)NAN;
    s.value[HOBBLE_LOG_SPEED] = kmh * KMH;
    s.value[HOBBLE_LOG_PRESSURE] = kpa * 1e3;
    return s;
}

/* A drive with stops, gaps, a tyre that loses its air, and a clock that begins anywhere. */
static size_t random_drive(struct random_source *source, struct hobble_sample *s)
{
    const size_t count = (size_t)(2 + random_below(source, SAMPLES - 2));
    double time = random_between(source, 0.0, 2e9), kmh = random_between(source, 0.0, 130.0);
    double kpa = random_between(source, 0.0, 300.0);
    for (size_t i = 0; i < count; i++) {
        const int what = random_below(source, 100);
        time += what == 0 ? random_between(source, 61.0, 900.0) : random_between(source, 0.1, 2.0);
        kmh = what < 3    ? 0.0
              : what < 6  ? random_between(source, 20.0, 130.0)
              : kmh > 0.0 ? fmax(kmh + random_between(source, -2.0, 2.0), 0.0)
                          : 0.0;
        kpa = fmax(kpa - random_between(source, 0.0, 0.5), 0.0);
        s[i] = sample_at(time, kmh, kpa);
        s[i].value[HOBBLE_LOG_AMBIENT] = 290.0 + 5.0 * sin(time / 500.0);
        s[i].unseen = what == 0;
    }
    return count;
}

static hobble_recording *taken(const struct hobble_sample *s, size_t count, size_t cut)
{
    hobble_recording *r = hobble_recording_new();
    for (size_t i = 0; i < count; i++) {
        if (i == cut)
            hobble_recording_next(r);
        ck_assert_int_eq(hobble_recording_take(r, &s[i]), HOBBLE_OK);
    }
    return r;
}

/* What a recording should come to, sample by sample. */
struct sums {
    double way, way_speed, driven, stood, least;
};

static struct sums sums_of(const struct hobble_sample *s, size_t count)
{
    struct sums sum = {.least = s[0].value[HOBBLE_LOG_PRESSURE]};
    for (size_t i = 1; i < count; i++) {
        const double dt = s[i].time - s[i - 1].time;
        const double a = s[i - 1].value[HOBBLE_LOG_SPEED], b = s[i].value[HOBBLE_LOG_SPEED];
        const double v = s[i].unseen && (a < 0.5 || b < 0.5) ? a : (a + b) / 2.0;
        sum.least = fmin(sum.least, s[i].value[HOBBLE_LOG_PRESSURE]);
        if (v < 0.5) {
            sum.stood += dt;
            continue;
        }
        sum.driven += dt;
        sum.way += v * dt;
        sum.way_speed += v * v * dt;
    }
    return sum;
}

START_TEST(all_of_it_is_kept)
{
    struct random_source source = {41};
    struct hobble_sample *s = calloc(SAMPLES, sizeof *s);
    for (int k = 0; k < DRIVES; k++) {
        const size_t count = random_drive(&source, s);
        const struct sums must = sums_of(s, count);
        struct hb_stretches r;
        struct sums got = {.least = HUGE_VAL};
        hobble_recording *recording = taken(s, count, 0);
        ck_assert(hb_recording_stretches(recording, &r));
        ck_assert_uint_le(r.count, HOBBLE_RECORDING_STRETCHES);
        for (size_t i = 0; i < r.count; i++) {
            got.way += r.at[i].way;
            got.way_speed += r.at[i].way_speed;
            got.driven += r.at[i].driven;
            got.stood += r.at[i].stood;
            got.least = fmin(got.least, r.at[i].least);
            ck_assert_double_le(r.at[i].driven + r.at[i].stood, r.wide * (1.0 + 1e-6) + 1e-6);
        }
        /* rounding of times of 2e9 s: 2e-7 s a sample */
        ck_assert_double_eq_tol(got.way, must.way, 1e-6 * must.way + 0.1);
        ck_assert_double_eq_tol(got.way_speed, must.way_speed, 1e-6 * must.way_speed + 1.0);
        ck_assert_double_eq_tol(got.driven, must.driven, 1e-2);
        ck_assert_double_eq_tol(got.stood, must.stood, 1e-2);
        ck_assert(got.least == must.least);
        ck_assert_double_eq_tol(hb_stretches_way(&r, 1e9), must.way, 1e-6 * must.way + 0.1);
        hobble_recording_free(recording);
    }
    free(s);
}
END_TEST

/* Read in two parts it is the same drive, to the last bit. */
START_TEST(a_log_in_two_parts_is_one_drive)
{
    struct random_source source = {42};
    struct hobble_sample *s = calloc(SAMPLES, sizeof *s);
    for (int k = 0; k < DRIVES; k++) {
        const size_t count = random_drive(&source, s);
        struct hb_stretches whole, parts;
        hobble_recording *one = taken(s, count, 0);
        hobble_recording *two = taken(s, count, 1 + (size_t)random_below(&source, (int)count - 1));
        ck_assert(hb_recording_stretches(one, &whole) && hb_recording_stretches(two, &parts));
        ck_assert_uint_eq(whole.count, parts.count);
        ck_assert_mem_eq(whole.at, parts.at, whole.count * sizeof whole.at[0]);
        ck_assert_int_eq(hb_recording_left_out(two), 0);
        hobble_recording_free(one);
        hobble_recording_free(two);
    }
    free(s);
}
END_TEST

/* Speeds in one log and the air in another beside it are as good as both in one, whichever is read
 * first; speeds that both have count once. */
START_TEST(logs_beside_each_other)
{
    struct random_source source = {43};
    struct hobble_sample *s = calloc(SAMPLES, sizeof *s);
    for (int k = 0; k < DRIVES; k++) {
        const size_t count = random_drive(&source, s);
        struct hb_stretches must, got;
        hobble_recording *one = taken(s, count, 0), *two = hobble_recording_new();
        const bool both = k % 3 == 0, air_first = k % 2 == 0;
        for (int part = 0; part < 2; part++) {
            const bool air = (part == 0) == air_first;
            hobble_recording_next(two);
            for (size_t i = 0; i < count; i++) {
                struct hobble_sample half = s[i];
                half.value[HOBBLE_LOG_PRESSURE] =
                    air ? half.value[HOBBLE_LOG_PRESSURE] : (double)NAN;
                half.value[HOBBLE_LOG_SPEED] =
                    air && !both ? (double)NAN : half.value[HOBBLE_LOG_SPEED];
                hobble_recording_take(two, &half);
            }
        }
        ck_assert(hb_recording_stretches(one, &must) && hb_recording_stretches(two, &got));
        ck_assert_uint_eq(got.count, must.count);
        for (size_t i = 0; i < got.count; i++) {
            ck_assert_double_eq_tol(got.at[i].way, must.at[i].way, 1e-6);
            ck_assert(got.at[i].least == must.at[i].least ||
                      (isnan(got.at[i].least) && isnan(must.at[i].least)));
        }
        ck_assert_int_eq(hb_recording_left_out(two), both ? (int)count : 0);
        hobble_recording_free(one);
        hobble_recording_free(two);
    }
    free(s);
}
END_TEST

/* ---- legs -------------------------------------------------------------------------------------
 */

START_TEST(legs_look_no_better_than_the_drive)
{
    struct random_source source = {44};
    struct hobble_sample *s = calloc(SAMPLES, sizeof *s);
    int merged = 0;
    for (int k = 0; k < DRIVES; k++) {
        const size_t count = random_drive(&source, s);
        const struct sums must = sums_of(s, count);
        const double low = random_between(&source, 0.0, 250e3);
        struct hb_stretches r;
        struct hobble_leg leg[HOBBLE_LEGS_MAX];
        hobble_recording *recording = taken(s, count, 0);
        ck_assert(hb_recording_stretches(recording, &r) && hb_stretches_air(&r, 0.0, 0.0));
        const size_t legs = hb_stretches_legs(&r, low, leg);
        double way = 0.0, way_speed = 0.0, stood = 0.0, least = HUGE_VAL, below = 0.0,
               must_below = 0.0;
        ck_assert_uint_le(legs, HOBBLE_LEGS_MAX);
        merged += legs == HOBBLE_LEGS_MAX;
        for (size_t i = 0; i < legs; i++) {
            const bool stands = leg[i].speed == 0.0;
            ck_assert(isnan(leg[i].time) != isnan(leg[i].distance) && isnan(leg[i].leak));
            way += stands ? 0.0 : leg[i].distance;
            way_speed += stands ? 0.0 : leg[i].distance * leg[i].speed;
            stood += stands ? leg[i].time : 0.0;
            least = fmin(least, leg[i].pressure);
            below += !stands && leg[i].pressure < low ? leg[i].distance : 0.0;
        }
        for (size_t i = 0; i < r.count; i++)
            must_below += r.at[i].least < low ? r.at[i].way : 0.0;
        /* a way of less than 1 m counts as that, in at most every stretch */
        const double room = HOBBLE_RECORDING_STRETCHES;
        ck_assert_double_ge(way, must.way - 0.1);
        ck_assert_double_le(way, must.way + room);
        ck_assert_double_ge(way_speed, must.way_speed * (1.0 - 1e-6) - 1.0);
        ck_assert_double_le(stood, must.stood + 1e-2);
        ck_assert(must.way < 1.0 || least == must.least);
        ck_assert_double_ge(below, must_below - 0.1);
        hobble_recording_free(recording);
    }
    ck_assert_int_ge(merged, DRIVES / 2);
    free(s);
}
END_TEST

/* A stop that is long enough to cool stays one; the legs about it keep their speeds. */
START_TEST(what_differs_stays_apart)
{
    static const struct {
        double kmh, minutes;
    } drive[] = {{100, 20}, {0, 15}, {60, 30}, {0, 10}, {80, 10}};
    hobble_recording *recording = hobble_recording_new();
    double time = 1e9;
    for (size_t i = 0; i < sizeof drive / sizeof *drive; i++)
        for (int k = 0; k < 60 * (int)drive[i].minutes; k++, time += 1.0) {
            const struct hobble_sample s = sample_at(time, drive[i].kmh, 0.0);
            hobble_recording_take(recording, &s);
        }
    struct hb_stretches r;
    struct hobble_leg leg[HOBBLE_LEGS_MAX];
    ck_assert(hb_recording_stretches(recording, &r));
    const size_t legs = hb_stretches_legs(&r, 100e3, leg);
    double at[3] = {0.0}, stood = 0.0, part = 0.0;
    int stops = 0;
    for (size_t i = 0; i < legs; i++) {
        if (leg[i].speed == 0.0) {
            part = i > 0 && leg[i - 1].speed == 0.0 ? part + leg[i].time : leg[i].time;
            stood += leg[i].time;
            stops += i == 0 || leg[i - 1].speed > 0.0;
        } else
            at[leg[i].speed > 90 * KMH ? 0 : leg[i].speed > 70 * KMH ? 2 : 1] += leg[i].distance;
    }
    ck_assert_int_eq(stops, 2);
    ck_assert_double_gt(stood, 0.9 * 25 * 60.0);
    ck_assert_double_le(stood, 25 * 60.0);
    ck_assert_double_eq_tol(at[0] + at[1] + at[2], 1e3 * (100 * 20 + 60 * 30 + 80 * 10) / 60,
                            200.0);
    ck_assert_double_eq_tol(at[1], 30e3, 1500.0); /* a stretch either side is neither */
    hobble_recording_free(recording);
}
END_TEST

/* ---- moments ----------------------------------------------------------------------------------
 */

START_TEST(moments_are_to_the_sample)
{
    hobble_recording *r = hobble_recording_new();
    for (int i = 0; i <= 3000; i++) {
        struct hobble_sample s = sample_at(5e8 + i, 72.0, 230.0 - 0.1 * i);
        s.mark = i == 700 || i == 900 ? HOBBLE_LOG_WARNING : HOBBLE_LOG_NO_MARK;
        hobble_recording_take(r, &s);
    }
    struct hb_stretches at;
    ck_assert(hb_recording_stretches(r, &at));
    ck_assert_double_eq(hb_recording_mark(r, HOBBLE_LOG_WARNING), 700.0);
    ck_assert(isnan(hb_recording_mark(r, HOBBLE_LOG_ENDED)));
    ck_assert_double_eq(hb_recording_below(r, 70e3), 1601.0);
    ck_assert_double_eq(hb_recording_below(r, 69.5e3), 1601.0); /* by the kPa above */
    ck_assert_double_eq(hb_recording_below(r, 184e3), 461.0);
    ck_assert_double_eq(hb_recording_below(r, 230e3), 1.0);
    ck_assert_double_eq(hb_recording_below(r, 300e3), 0.0);
    ck_assert_double_eq_tol(hb_stretches_way(&at, 461.0), 461.0 * 20.0, 1e-3);
    hobble_recording_free(r);
}
END_TEST

/* Where speeds begin late or end early, what is known holds to the ends. */
START_TEST(speeds_hold_to_the_ends)
{
    hobble_recording *r = hobble_recording_new();
    for (int i = 0; i < 1000; i++) {
        struct hobble_sample s = sample_at(i, i < 500 ? 36.0 : 72.0, 0.0);
        if (i < 100 || i > 800)
            s.value[HOBBLE_LOG_SPEED] = (double)NAN;
        hobble_recording_take(r, &s);
    }
    struct hb_stretches at;
    ck_assert(hb_recording_stretches(r, &at));
    ck_assert_double_eq_tol(hb_stretches_way(&at, 1e9), 10.0 * 499 + 15.0 + 20.0 * 499, 1e-6);
    hobble_recording_free(r);
    r = hobble_recording_new();
    ck_assert(!hb_recording_stretches(r, &at));
    struct hobble_sample s = sample_at(3.0, 1.0, 100.0);
    s.value[HOBBLE_LOG_SPEED] = (double)NAN;
    hobble_recording_take(r, &s);
    ck_assert(!hb_recording_stretches(r, &at));
    hobble_recording_free(r);
}
END_TEST

/* Between readings the lower one counts; before the first there was as much; the last holds for two
 * minutes; without any the air was sound until a moment, and is not known after it. */
START_TEST(what_is_known_of_the_air)
{
    enum { MANY = 12 };
    struct hb_stretches r = {.wide = 50.0, .count = MANY}, none;
    const double no = (double)NAN;
    const double read[MANY] = {no, 150e3, no, 40e3, no, 90e3, no, -3e3, no, no, no, no};
    const double must[MANY] = {150e3, 150e3, 40e3, 40e3, 40e3, 90e3, 0, 0, 0, 0, no, no};
    for (size_t i = 0; i < MANY; i++)
        r.at[i].least = no;
    none = r;
    for (size_t i = 0; i < MANY; i++)
        r.at[i].least = read[i];
    ck_assert(hb_stretches_air(&r, 600.0, 230e3));
    for (size_t i = 0; i < MANY; i++)
        ck_assert_msg(r.at[i].least == must[i] || (isnan(must[i]) && isnan(r.at[i].least)),
                      "%zu: %g", i, r.at[i].least);
    ck_assert(!hb_stretches_air(&none, 170.0, 230e3));
    for (size_t i = 0; i < MANY; i++)
        ck_assert(i < 3 ? none.at[i].least == 230e3 : isnan(none.at[i].least));
}
END_TEST

Suite *recording_suite(void)
{
    Suite *suite = suite_create("recording");
    TCase *tcase = tcase_create("recording");
    tcase_add_test(tcase, all_of_it_is_kept);
    tcase_add_test(tcase, a_log_in_two_parts_is_one_drive);
    tcase_add_test(tcase, logs_beside_each_other);
    tcase_add_test(tcase, legs_look_no_better_than_the_drive);
    tcase_add_test(tcase, what_differs_stays_apart);
    tcase_add_test(tcase, moments_are_to_the_sample);
    tcase_add_test(tcase, speeds_hold_to_the_ends);
    tcase_add_test(tcase, what_is_known_of_the_air);
    suite_add_tcase(suite, tcase);
    return suite;
}
