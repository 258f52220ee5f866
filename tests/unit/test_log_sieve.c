/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test_log_sieve.c - odd logs, and the same drive however it is cut. Sources: common practice, no
 * source, for what is odd; WGS 84 and Helmert's series for ways by places. */
#include "logs.h"

#include <check.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

Suite *log_sieve_suite(void);

#define KELVIN 273.15

static struct taken_log *of(const char *text)
{
    return log_read(text, strlen(text), NULL);
}

static void check_sample(const struct taken_log *t, size_t place, int field, double si)
{
    ck_assert_uint_lt(place, t->count);
    ck_assert_double_eq_tol(t->sample[place].value[field], si, 1e-9 * fabs(si) + 1e-9);
}

/* ---- the sieve --------------------------------------------------------------------------------
 */

enum { EVEN = 1500 };

/* Even driving, with one thing wrong in the middle. */
static struct taken_log *with(int what)
{
    static char text[LOG_TEXT_MOST];
    size_t n = log_put(text, 0, "time,speed_kmh,p_kpa,inner_c,cavity_c\n");
    for (int i = 0; i < EVEN; i++) {
        double time = i, speed = 80.0 + 0.01 * (i % 7), kpa = 200.0 - 0.01 * i;
        double inner = 60.0 + 0.005 * i, cavity = 40.0 + 0.003 * i;
        time += what == HOBBLE_LOG_GAP && i >= 700 ? 90.0 : 0.0;
        time -= what == HOBBLE_LOG_REPEATED && i == 700 ? 1.0 : 0.0;
        time -= what == HOBBLE_LOG_TIME_BACK && i == 700 ? 5.0 : 0.0;
        time -= what == HOBBLE_LOG_CLOCK_JUMP && i >= 700 ? 3600.0 : 0.0;
        speed = what == HOBBLE_LOG_ACCELERATION && i == 700 ? 180.0 : speed;
        inner = what == HOBBLE_LOG_JUMP && i == 700 ? 150.0 : inner;
        cavity = what == HOBBLE_LOG_STUCK && i >= 700 ? 42.0 : cavity;
        n = log_put(text, n, "%.1f,%.2f,%.2f,%.3f,%.3f\n", time, speed, kpa, inner, cavity);
        if (what == HOBBLE_LOG_UNREADABLE && i == 700)
            n = log_put(text, n, "what?\n");
    }
    return log_read(text, n, NULL);
}

START_TEST(each_oddity_is_seen_once_and_where)
{
    static const enum hobble_log_oddity odd[] = {
        HOBBLE_LOG_ODDITIES,  HOBBLE_LOG_GAP,        HOBBLE_LOG_REPEATED,
        HOBBLE_LOG_TIME_BACK, HOBBLE_LOG_CLOCK_JUMP, HOBBLE_LOG_ACCELERATION,
        HOBBLE_LOG_JUMP,      HOBBLE_LOG_STUCK,      HOBBLE_LOG_UNREADABLE};
    static const int left_out[HOBBLE_LOG_ODDITIES + 1] = {
        [HOBBLE_LOG_REPEATED] = 1, [HOBBLE_LOG_TIME_BACK] = 1};
    for (size_t i = 0; i < sizeof odd / sizeof *odd; i++) {
        struct taken_log *t = with((int)odd[i]);
        ck_assert_int_eq(t->status, HOBBLE_OK);
        for (int k = 0; k < HOBBLE_LOG_ODDITIES; k++)
            ck_assert_msg(t->tally.count[k] == (k == (int)odd[i]), "%d: %zu of %d", (int)odd[i],
                          t->tally.count[k], k);
        ck_assert_uint_eq(t->count, EVEN - (size_t)left_out[odd[i]]);
        const size_t at = odd[i] == HOBBLE_LOG_STUCK ? 702 + 601 : 702;
        if (odd[i] < HOBBLE_LOG_ODDITIES && odd[i] != HOBBLE_LOG_UNREADABLE)
            ck_assert_uint_eq(t->tally.first[odd[i]].line, at);
        const struct hobble_sample *s = t->sample;
        for (size_t k = 1; k < t->count; k++)
            ck_assert(s[k].time > s[k - 1].time && s[k].time < s[k - 1].time + 100.0);
        ck_assert(s[700].unseen == (odd[i] == HOBBLE_LOG_GAP || odd[i] == HOBBLE_LOG_CLOCK_JUMP));
        ck_assert(isnan(s[700].value[HOBBLE_LOG_SPEED]) == (odd[i] == HOBBLE_LOG_ACCELERATION));
        ck_assert(isnan(s[700].value[HOBBLE_LOG_INNER]) == (odd[i] == HOBBLE_LOG_JUMP));
        ck_assert(isnan(s[1400].value[HOBBLE_LOG_CAVITY]) == (odd[i] == HOBBLE_LOG_STUCK));
        free(t);
    }
}
END_TEST

/* What is odd five times running is believed: then it was the reading before that was wrong. */
START_TEST(a_new_level_is_believed)
{
    static char text[LOG_TEXT_MOST];
    size_t n = log_put(text, 0, "time,speed_kmh,inner_c\n");
    for (int i = 0; i < 40; i++)
        n = log_put(text, n, "%d,%d,%d\n", i, i < 20 ? 30 : 90, i < 20 ? 20 : 90);
    struct taken_log *t = log_read(text, n, NULL);
    ck_assert_uint_eq(t->tally.count[HOBBLE_LOG_ACCELERATION], 1); /* 16.7 m/s, in 2 s possible */
    ck_assert_uint_eq(t->tally.count[HOBBLE_LOG_JUMP], 4);
    check_sample(t, 21, HOBBLE_LOG_SPEED, 25.0);
    check_sample(t, 24, HOBBLE_LOG_INNER, 90.0 + KELVIN);
    ck_assert(isnan(t->sample[23].value[HOBBLE_LOG_INNER]));
    free(t);
}
END_TEST

/* Of one time, what was not told yet is taken. */
START_TEST(two_of_one_time)
{
    struct taken_log *t = of("time,speed_kmh,p_kpa\n1,36,\n1,,100\n1,99,120\n2,36,100\n");
    ck_assert_uint_eq(t->count, 3);
    ck_assert_uint_eq(t->tally.count[HOBBLE_LOG_REPEATED], 1);
    check_sample(t, 1, HOBBLE_LOG_PRESSURE, 100e3);
    ck_assert(isnan(t->sample[1].value[HOBBLE_LOG_SPEED]));
    free(t);
}
END_TEST

/* Speed by places alone: the way of a steady drive is right, and places that wander at rest make
 * none. The arc of a meridian from 47 to 48 degrees is 111 182 m on WGS 84 (series of Helmert,
 * computed here). */
START_TEST(ways_by_places)
{
    const double a = 6378137.0, n = (1 / 298.257223563) / (2 - 1 / 298.257223563);
    const double from = 47.0 * 3.14159265358979323846 / 180.0, to = 48.0 / 47.0 * from;
    const double arc = a / (1 + n) *
                       ((1 + n * n / 4 + n * n * n * n / 64) * (to - from) -
                        1.5 * (n - n * n * n / 8) * (sin(2 * to) - sin(2 * from)) +
                        15.0 / 16.0 * (n * n - n * n * n * n / 4) * (sin(4 * to) - sin(4 * from)));
    struct random_source source = {9};
    for (int rest = 0; rest < 2; rest++) {
        static char text[LOG_TEXT_MOST];
        size_t size = log_put(text, 0, "time,lat,lon\n");
        for (int i = 0; i <= 3600; i++) /* 30.9 m/s, with 2.5 m of wandering */
            size =
                log_put(text, size, "%d,%.7f,%.7f\n", i,
                        47.0 + (rest ? 0.0 : i / 3600.0) + 2.5 / 111182.0 * random_normal(&source),
                        11.0 + 2.5 / 75000.0 * random_normal(&source));
        struct taken_log *t = log_read(text, size, NULL);
        double way = 0.0;
        for (size_t i = 1; i < t->count; i++) {
            const double v = t->sample[i].value[HOBBLE_LOG_SPEED];
            way += isnan(v) ? 0.0 : v;
        }
        /* the first 5 s tell no speed: 0.14 %; what wanders across, (2.5 m * 1.4 / 155 m)^2 / 2 */
        if (rest)
            ck_assert_double_lt(way, 30.0);
        else
            ck_assert_double_eq_tol(way, arc * 3595.0 / 3600.0, 0.001 * arc);
        free(t);
    }
}
END_TEST

/* ---- properties -------------------------------------------------------------------------------
 */

static size_t random_drive(struct random_source *source, struct hobble_sample *s)
{
    const size_t count = (size_t)(2 + random_below(source, 200));
    double time = 1.6e9 + random_below(source, 100000000), speed = 20.0, kpa = 240.0;
    for (size_t i = 0; i < count; i++) {
        time += random_below(source, 50) == 0 ? 100.0 : 1.0 + random_below(source, 2);
        speed = fmax(speed + random_between(source, -2.0, 2.0), 0.0);
        kpa = fmax(kpa - random_between(source, 0.0, 3.0), 0.0);
        s[i] = log_moment(time);
        s[i].value[HOBBLE_LOG_SPEED] = speed;
        s[i].value[HOBBLE_LOG_LATITUDE] = -33.0 + 1e-5 * (double)i;
        s[i].value[HOBBLE_LOG_LONGITUDE] = 151.0 + 1e-5 * (double)i;
        s[i].value[HOBBLE_LOG_PRESSURE] = kpa * 1e3;
        s[i].value[HOBBLE_LOG_CAVITY] = 310.0 + 0.1 * (double)(i % 40);
        s[i].mark = random_below(source, 40) == 0 ? HOBBLE_LOG_WARNING : HOBBLE_LOG_NO_MARK;
    }
    return count;
}

/* Written in any format a drive is read as it was. */
START_TEST(what_was_written_is_read)
{
    struct random_source source = {11};
    static struct hobble_sample s[LOG_SAMPLES_MOST];
    char *text = malloc(LOG_TEXT_MOST);
    for (int k = 0; k < 40; k++) {
        const size_t count = random_drive(&source, s);
        for (int format = HOBBLE_LOG_CSV; format <= HOBBLE_LOG_JSON; format++) {
            const size_t size = log_write((enum hobble_log_format)format, s, count, text);
            struct taken_log *t = log_read(text, size, NULL);
            ck_assert_msg(t->status == HOBBLE_OK, "%d: %s", format, t->faults.item[0].given);
            ck_assert_uint_eq(t->count, count);
            for (size_t i = 0; i < count; i++) {
                const double *got = t->sample[i].value, *must = s[i].value;
                ck_assert(t->sample[i].time == s[i].time && t->sample[i].mark == s[i].mark);
                ck_assert_double_eq_tol(got[HOBBLE_LOG_SPEED], must[HOBBLE_LOG_SPEED], 5e-4);
                ck_assert_double_eq_tol(got[HOBBLE_LOG_PRESSURE], must[HOBBLE_LOG_PRESSURE], 51.0);
                ck_assert_double_eq_tol(got[HOBBLE_LOG_CAVITY], must[HOBBLE_LOG_CAVITY], 0.051);
                ck_assert_double_eq_tol(got[HOBBLE_LOG_LATITUDE], must[HOBBLE_LOG_LATITUDE], 1e-6);
                ck_assert_double_eq_tol(got[HOBBLE_LOG_LONGITUDE], must[HOBBLE_LOG_LONGITUDE],
                                        1e-6);
            }
            free(t);
        }
    }
    free(text);
}
END_TEST

/* However the bytes are cut, and at whatever line the file is: the same drive. */
START_TEST(cut_anywhere_it_is_the_same_drive)
{
    struct random_source source = {12};
    static struct hobble_sample s[LOG_SAMPLES_MOST];
    char *text = malloc(LOG_TEXT_MOST), *rest = malloc(LOG_TEXT_MOST);
    for (int k = 0; k < 60; k++) {
        const size_t count = random_drive(&source, s);
        for (int format = HOBBLE_LOG_CSV; format <= HOBBLE_LOG_JSON; format++) {
            const size_t size = log_write((enum hobble_log_format)format, s, count, text);
            if (random_below(&source, 2) == 0)
                for (int bad = 0; bad < 5; bad++) /* and with damage */
                    text[(size_t)random_below(&source, (int)size)] =
                        (char)(1 + random_below(&source, 255));
            struct taken_log *whole = log_read(text, size, NULL);
            struct taken_log *pieces = log_read_pieces(text, size, &source);
            ck_assert_msg(log_same(whole, pieces), "format %d: %zu and %zu", format, whole->count,
                          pieces->count);
            free(pieces);
            free(whole);
        }
        for (int format = HOBBLE_LOG_NMEA; format <= HOBBLE_LOG_JSON; format++) {
            const size_t size = log_write((enum hobble_log_format)format, s, count, text);
            size_t cut = (size_t)random_below(&source, (int)size);
            while (cut > 0 && text[cut - 1] != '\n')
                cut--;
            if (cut == 0)
                continue;
            struct taken_log *whole = log_read(text, size, NULL);
            struct taken_log *two = log_read_two(text, cut, text + cut, size - cut);
            /* a time of day that the cut went through is two samples with what one had */
            ck_assert_uint_ge(two->count, whole->count);
            ck_assert_uint_le(two->count, whole->count + 1);
            for (int i = 0; i < HOBBLE_LOG_FIELDS; i++)
                ck_assert_uint_eq(two->tally.held[i], whole->tally.held[i]);
            free(whole);
            free(two);
        }
    }
    free(text);
    free(rest);
}
END_TEST

Suite *log_sieve_suite(void)
{
    Suite *suite = suite_create("log_sieve");
    TCase *tcase = tcase_create("log_sieve");
    tcase_set_timeout(tcase, 120);
    tcase_add_test(tcase, each_oddity_is_seen_once_and_where);
    tcase_add_test(tcase, a_new_level_is_believed);
    tcase_add_test(tcase, two_of_one_time);
    tcase_add_test(tcase, ways_by_places);
    tcase_add_test(tcase, what_was_written_is_read);
    tcase_add_test(tcase, cut_anywhere_it_is_the_same_drive);
    suite_add_tcase(suite, tcase);
    return suite;
}
