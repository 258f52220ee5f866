/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test_case.c - cases row by row, days and date codes, and the tables themselves. */
#include "advice/date_code.h"
#include "ask.h"
#include "core/param.h"
#include "study/case.h"

#include <check.h>
#include <math.h>
#include <string.h>

Suite *case_suite(void);

/* ---- rows ------------------------------------------------------------------------------------ */

#define SOME_TEXT "205/55 RF16 91V" /* good for every row of text */

/* What is put into a row, the first and the last included, is what is read from it; a row that
 * there is not has nothing. Source: src/hobble.h. */
START_TEST(every_row)
{
    size_t count;
    const struct hobble_param *row = hobble_param_table(&count);
    hobble_case *c = hobble_case_new();
    ck_assert_uint_eq(count, HB_PARAM_COUNT);
    for (int i = 0; i < (int)count; i++) {
        const bool number = row[i].kind == HOBBLE_NUMBER, text = row[i].kind == HOBBLE_TEXT;
        ck_assert(!hobble_case_given(c, i));
        ck_assert_str_eq(hobble_case_source(c, i), row[i].source ? row[i].source : "");
        if (number)
            ck_assert_int_eq(hobble_case_set_number(c, i, row[i].max, "here", NULL), HOBBLE_OK);
        else if (text)
            ck_assert_int_eq(hobble_case_set_text(c, i, SOME_TEXT, "here", NULL), HOBBLE_OK);
        if (!number && !text)
            continue;
        ck_assert(hobble_case_given(c, i));
        ck_assert_str_eq(hobble_case_origin(c, i), "here");
        ck_assert_str_eq(hobble_case_text(c, i), text ? SOME_TEXT : "");
        if (number)
            ck_assert_double_eq(hobble_case_number(c, i), row[i].max);
        ck_assert_int_eq(hobble_case_set_provenance(c, i, HOBBLE_MEMORY, "a book"), HOBBLE_OK);
        if (number)
            ck_assert_str_eq(hobble_case_source(c, i), "a book");
        hobble_case_forget(c, i);
        ck_assert(!hobble_case_given(c, i));
        ck_assert_int_eq(hobble_case_set_provenance(c, i, HOBBLE_MEMORY, "a book"), HOBBLE_OK);
        ck_assert_int_eq(hobble_case_provenance(c, i), HOBBLE_MEMORY);
    }
    for (int i = 0; i < 2; i++) {
        const int none = i ? (int)count : -1;
        ck_assert(isnan(hobble_case_number(c, none)) && hobble_case_spread(c, none) == 0.0);
        ck_assert_str_eq(hobble_case_text(c, none), "");
        ck_assert_str_eq(hobble_case_origin(c, none), "");
        ck_assert_str_eq(hobble_case_source(c, none), "");
        ck_assert(!hobble_case_given(c, none));
        ck_assert_int_eq(hobble_case_provenance(c, none), HOBBLE_ASSUMED);
        ck_assert_int_eq(hobble_case_set_provenance(c, none, HOBBLE_MEMORY, ""), HOBBLE_E_UNKNOWN);
        ck_assert_int_ne(hobble_case_set_number(c, none, 1.0, "", NULL), HOBBLE_OK);
        hobble_case_forget(c, none);
    }
    hobble_case_free(c);
}
END_TEST

/* An assigned case answers for everything as the one that it was assigned from, itself included. */
START_TEST(assigned)
{
    hobble_case *from = ask_vouched(33), *to = hobble_case_new();
    const struct hobble_leg leg = {50 * KMH,  5 * KM, NOT_GIVEN, NOT_GIVEN,
                                   NOT_GIVEN, 60e3,   NOT_GIVEN};
    ck_assert_int_eq(hobble_case_add_leg(from, &leg, NULL), HOBBLE_OK);
    hobble_case_assign(to, from);
    hobble_case_assign(to, to);
    ck_assert_uint_eq(hobble_case_leg_count(to), 1);
    for (int i = 0; i < HB_PARAM_COUNT; i++) {
        const double a = hobble_case_number(from, i), b = hobble_case_number(to, i);
        ck_assert(a == b || (isnan(a) && isnan(b)));
        ck_assert_int_eq(hobble_case_given(from, i), hobble_case_given(to, i));
        ck_assert_str_eq(hobble_case_text(from, i), hobble_case_text(to, i));
    }
    hobble_case_assign(NULL, from);
    hobble_case_assign(to, NULL);
    ck_assert_uint_eq(hobble_case_leg_count(to), 1);
    hobble_case_free(from);
    hobble_case_free(to);
}
END_TEST

/* A leg says one of way and time, and a stop its time. Source: src/hobble.h. */
START_TEST(legs)
{
    const double none = NOT_GIVEN;
    const struct {
        double speed, distance, time;
        bool good;
    } rows[] = {{10, 5000, none, true},    {10, none, 60, true},      {0, none, 60, true},
                {10, 5000, 60, false},     {10, none, none, false},   {0, 5000, none, false},
                {none, 5000, none, false}, {10, 0.9, none, false},    {10, 1.0, none, true},
                {10, 2000e3, none, true},  {10, 2001e3, none, false}, {10, none, 0.5, false},
                {10, none, 0.6, true},     {10, none, 172800, true},  {10, none, 172900, false},
                {69.4, none, 60, true},    {69.5, none, 60, false}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        hobble_case *c = hobble_case_new();
        const struct hobble_leg leg = {
            rows[i].speed, rows[i].distance, rows[i].time, none, none, none, none};
        const bool good = hobble_case_add_leg(c, &leg, NULL) == HOBBLE_OK;
        ck_assert_msg(good == rows[i].good, "row %zu", i);
        ck_assert_uint_eq(hobble_case_leg_count(c), good);
        hobble_case_free(c);
    }
    hobble_case *c = hobble_case_new();
    const struct hobble_leg leg = {10, 5000, none, none, none, none, none};
    for (int i = 0; i < 32; i++)
        ck_assert_int_eq(hobble_case_add_leg(c, &leg, NULL), HOBBLE_OK);
    ck_assert_int_eq(hobble_case_add_leg(c, &leg, NULL), HOBBLE_E_TOO_LARGE);
    hobble_case_free(c);
}
END_TEST

/* ---- days ------------------------------------------------------------------------------------ */

#define NO_DAY 1000000L

/* Gregorian calendar: every fourth year, not the hundreds, but the four hundreds. Days since
 * 1970-01-01 of the others: POSIX, seconds since the Epoch (4.16), over 86 400. */
START_TEST(calendar)
{
    static const struct {
        const char *day;
        long days;
    } rows[] = {{"1970-01-01", 0},      {"1970-12-31", 364},     {"1972-02-29", 789},
                {"2000-02-29", 11016},  {"2000-03-01", 11017},   {"2001-09-09", 11574},
                {"2024-02-29", 19782},  {"2024-12-31", 20088},   {"2038-01-19", 24855},
                {"2100-02-28", 47540},  {"2100-03-01", 47541},   {"2100-02-29", NO_DAY},
                {"2023-02-29", NO_DAY}, {"2023-04-31", NO_DAY},  {"2023-06-30", 19538},
                {"2023-11-31", NO_DAY}, {"2023-00-10", NO_DAY},  {"2023-13-10", NO_DAY},
                {"2023-10-00", NO_DAY}, {"2023-01-31", 19388},   {"2199-12-31", 84005},
                {"2200-01-01", NO_DAY}, {"1900-01-01", -25567},  {"1899-12-31", NO_DAY},
                {"2023-1-10", NO_DAY},  {"2023/10-10", NO_DAY},  {"2023-10/10", NO_DAY},
                {"2023-10-1x", NO_DAY}, {"2023-10-100", NO_DAY}, {"1969-12-31", -1}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        long days = 77;
        const bool is = hb_date_read(rows[i].day, &days);
        const bool none = rows[i].days == NO_DAY;
        ck_assert_msg(is == !none && days == (none ? 77 : rows[i].days), "%s: %ld", rows[i].day,
                      days);
    }
}
END_TEST

/* Weeks of seven days from 29 December before; three figures are of the 1980s. Source: as in
 * src/advice/date_code.h; arithmetic with the days above. */
START_TEST(codes)
{
    long days = 77, again = 0;
    ck_assert(hb_date_code_read("0124", &days) && hb_date_read("2023-12-29", &again));
    ck_assert_int_eq(days, again);
    ck_assert(hb_date_code_read("5324", &days));
    ck_assert_int_eq(days, again + 7 * 52);
    ck_assert(hb_date_code_read("0100", &days) && hb_date_read("1999-12-29", &again));
    ck_assert_int_eq(days, again);
    ck_assert(hb_date_code_read("105", &days) && hb_date_read("1984-12-29", &again));
    ck_assert_int_eq(days, again + 7 * 9);
    static const char *const bad[] = {"0024", "5424", "01", "01245", "0a24", "01-4", ""};
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++)
        ck_assert(!hb_date_code_read(bad[i], &days));
}
END_TEST

/* Week 26 of 2022 begins on 22 June; 740 days to 1 July 2024, of 365.25 a year (arithmetic). */
START_TEST(age_by_code)
{
    double years = -7.0;
    hobble_case *c = hobble_case_new();
    ask_text(c, "inspection_date", "2024-07-01");
    ck_assert_int_eq(hobble_case_age_by_code(c, &years, NULL), HOBBLE_E_MISSING);
    ck_assert_double_eq(years, -7.0);
    ask_text(c, "date_code", "2622");
    ck_assert_int_eq(hobble_case_age_by_code(c, &years, NULL), HOBBLE_OK);
    ck_assert_double_eq_tol(years, 740.0 / 365.25, 1e-9);
    ask_text(c, "date_code", "2699");
    ck_assert_int_ne(hobble_case_age_by_code(c, &years, NULL), HOBBLE_OK);
    hobble_case_free(c);
}
END_TEST

/* ---- the tables ------------------------------------------------------------------------------ */

/* A built-in value is within the limits that its row asks of everybody (definition of a limit). */
START_TEST(built_in_within_limits)
{
    size_t count, fleet;
    const struct hobble_param *row = hobble_param_table(&count);
    for (size_t i = 0; i < count; i++)
        if (row[i].kind == HOBBLE_NUMBER) {
            ck_assert_msg(row[i].min < row[i].max, "%s", row[i].key);
            ck_assert_msg(isnan(row[i].value) ||
                              (row[i].value >= row[i].min && row[i].value <= row[i].max),
                          "%s", row[i].key);
        }
    const struct hobble_fleet_row *number = hobble_fleet_table(&fleet);
    ck_assert_uint_le(fleet, HOBBLE_FLEET_NUMBERS);
    double kinds = 0.0;
    for (size_t i = 0; i < fleet; i++) {
        ck_assert_msg(number[i].min < number[i].max && number[i].value >= number[i].min &&
                          number[i].value <= number[i].max,
                      "%s", number[i].key);
        ck_assert_int_eq(hobble_fleet_find(number[i].key), (int)i);
        if (strncmp(number[i].key, "share_", 6) == 0)
            kinds += number[i].value;
    }
    ck_assert_double_eq_tol(kinds, 1.0, 1e-12); /* kinds of punctures */
    ck_assert_int_eq(hobble_fleet_find("no such row"), -1);
    /* the rule is 80 km at 80 km/h at most (UN R30, second-hand): no fleet says more */
    ck_assert_double_eq(number[hobble_fleet_find("speed_limit")].max, 80.0);
    ck_assert_double_eq(number[hobble_fleet_find("distance_limit")].max, 80.0);
}
END_TEST

Suite *case_suite(void)
{
    Suite *suite = suite_create("case");
    TCase *all = tcase_create("case");
    tcase_add_test(all, every_row);
    tcase_add_test(all, assigned);
    tcase_add_test(all, legs);
    tcase_add_test(all, calendar);
    tcase_add_test(all, codes);
    tcase_add_test(all, age_by_code);
    tcase_add_test(all, built_in_within_limits);
    suite_add_tcase(suite, all);
    return suite;
}
