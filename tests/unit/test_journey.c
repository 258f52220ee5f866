/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test_journey.c - settings one at a time, legs and journeys. Expectations come from what the
 * headers of src/input promise and from the limits of a leg; vector files name their own. */
#include "input/config_text.h"
#include "input/journey.h"
#include "input/profile.h"
#include "tsv.h"

#include <check.h>
#include <stdio.h>
#include <string.h>

Suite *journey_suite(void);

enum { PATH_SIZE = 700 };

static struct tsv table;
static struct hobble_faults faults;
static hobble_case *c;

static void setup(void)
{
    memset(&faults, 0, sizeof faults);
    c = hobble_case_new();
    ck_assert(c != NULL);
}

static void teardown(void)
{
    hobble_case_free(c);
}

static void load(const char *name, size_t fields, size_t least_rows)
{
    char why[PATH_SIZE] = "";
    ck_assert_msg(tsv_load(&table, name, fields, least_rows, why, sizeof why), "%s", why);
}

static const char *status_name(enum hobble_status status)
{
    static const char *const names[] = {
#define NAME(code, text, exit) #code,
        HOBBLE_STATUS_LIST(NAME)
#undef NAME
    };
    return (size_t)status < sizeof names / sizeof names[0] ? names[status] : "?";
}

START_TEST(settings_one_at_a_time)
{
    static const struct {
        const char *text, *key;
        enum hobble_status status;
    } rows_of[] = {
        {"load=415kg", "", HOBBLE_OK},
        {"construction=conventional", "", HOBBLE_OK},
        {"marking=205/55 R16 91V", "", HOBBLE_OK},
        {"leak=2h", "", HOBBLE_OK},
        {"wall_limit.spread=18 F", "", HOBBLE_OK},
        {"tyre_name=a=b", "", HOBBLE_OK},
        {"load", "", HOBBLE_E_SYNTAX},
        {"", "", HOBBLE_E_SYNTAX},
        {"=5", "", HOBBLE_E_UNKNOWN},
        {"weight=5", "weight", HOBBLE_E_UNKNOWN},
        {"load=", "load", HOBBLE_E_SYNTAX},
        {"load=5 km", "load", HOBBLE_E_UNIT},
        {"load=5kg", "load", HOBBLE_E_RANGE},
        {"load.spread=5", "load.spread", HOBBLE_E_CONFLICT},
        {".spread=5", ".spread", HOBBLE_E_UNKNOWN},
        {"Load=500", "Load", HOBBLE_E_UNKNOWN},
        {"trailer=maybe", "trailer", HOBBLE_E_SYNTAX},
        {"marking=", "marking", HOBBLE_E_MISSING},
        {"speed=80,5", "speed", HOBBLE_E_SYNTAX},
        {"tyre_name=\x01", "tyre_name", HOBBLE_E_SYNTAX},
    };
    for (size_t i = 0; i < sizeof rows_of / sizeof rows_of[0]; i++) {
        memset(&faults, 0, sizeof faults);
        const enum hobble_status status = hb_set_option(c, rows_of[i].text, &faults);
        ck_assert_msg(status == rows_of[i].status, "'%s': %s", rows_of[i].text,
                      status_name(status));
        ck_assert_uint_eq(faults.count, rows_of[i].status != HOBBLE_OK);
        ck_assert_str_eq(faults.item[0].key, rows_of[i].key);
        ck_assert_int_eq(hb_set_option(c, rows_of[i].text, NULL), rows_of[i].status);
    }
    /* 415 kg times 9.80665 m/s2 (3rd CGPM, 1901) */
    ck_assert_double_eq_tol(hobble_case_number(c, hobble_param_find("load")), 4069.75975, 1e-9);
    ck_assert_str_eq(hobble_case_origin(c, hobble_param_find("load")), "--set");
    ck_assert_int_eq(hb_set_text(c, "speed", "50mph", "--speed", NULL), HOBBLE_OK);
    ck_assert_str_eq(hobble_case_origin(c, hobble_param_find("speed")), "--speed");
    ck_assert_int_eq(hb_set_option(c, NULL, NULL), HOBBLE_E_SYNTAX);
}
END_TEST

START_TEST(origins_fit)
{
    char buf[20];
    hb_origin("/a/long/way/to/tyre.cfg", 12, buf, sizeof buf);
    ck_assert_str_eq(buf, "tyre.cfg:12");
    hb_origin("/a/a-name-that-is-too-long.cfg", 123, buf, sizeof buf);
    ck_assert_str_eq(buf, "is-too-long.cfg:123");
    ck_assert_uint_lt(strlen(buf), sizeof buf);
}
END_TEST

/* ---- journeys ------------------------------------------------------------------------------ */

START_TEST(bad_journeys_are_refused)
{
    load("profiles/journeys-bad.tsv", 5, 20);
    for (size_t row = 0; row < table.rows; row++) {
        char text[500];
        double line = -1.0;
        const char *key = tsv_cell(&table, row, 2);
        ck_assert(tsv_unescape(tsv_cell(&table, row, 0), text, sizeof text));
        ck_assert(tsv_number(&table, row, 1, &line));
        memset(&faults, 0, sizeof faults);
        const enum hobble_status status =
            hb_journey_read_text(text, strlen(text), "text", c, &faults);
        const struct hobble_fault *f = &faults.item[0];
        ck_assert_msg(strcmp(status_name(status), tsv_cell(&table, row, 3)) == 0, "line %d: %s",
                      table.line[row], status_name(status));
        ck_assert_msg(faults.count == 1 && f->status == status, "line %d: %zu faults",
                      table.line[row], faults.count);
        ck_assert_msg(f->line == (int)line && strcmp(f->key, key) == 0, "line %d: %d '%s'",
                      table.line[row], f->line, f->key);
        ck_assert_msg(strstr(f->allowed, tsv_cell(&table, row, 4)) != NULL, "line %d: '%s'",
                      table.line[row], f->allowed);
    }
    tsv_free(&table);
}
END_TEST

/* A case takes HOBBLE_LEGS_MAX legs: how many more it takes tells how many it has. */
static int legs_left(const hobble_case *from)
{
    hobble_case *copy = hobble_case_clone(from);
    int left = 0;
    ck_assert(copy != NULL);
    while (hb_leg_option(copy, "stop=1min", NULL) == HOBBLE_OK)
        left++;
    hobble_case_free(copy);
    return left;
}

START_TEST(journeys_are_read)
{
    static const char good[] =
        "kind = \"journey\";\nlegs = (\n"
        "{ distance = \"12 km\"; speed = \"100 km/h\"; ambient = \"36 C\"; pressure = \"0 kPa\"; "
        "},\n"
        "{ stop = \"10 min\" },\n"
        "{ time = 5; speed = 50; load = \"415 kg\"; leak = \"2h\"; ambient = 10.5 } )";
    static const char half[] = "legs = ( { stop = 5 }, { stop = -5 } );";
    ck_assert_int_eq(legs_left(c), HOBBLE_LEGS_MAX);
    ck_assert_int_eq(hb_journey_read_text(half, sizeof half - 1, "half", c, NULL), HOBBLE_E_RANGE);
    ck_assert_int_eq(legs_left(c), HOBBLE_LEGS_MAX);
    ck_assert_int_eq(hb_journey_read_text(good, sizeof good - 1, "good", c, &faults), HOBBLE_OK);
    ck_assert_int_eq(legs_left(c), HOBBLE_LEGS_MAX - 3);
    for (int i = 0; i < 10; i++)
        ck_assert_int_eq(hb_journey_read_text(good, sizeof good - 1, "good", c, NULL),
                         i < 9 ? HOBBLE_OK : HOBBLE_E_TOO_LARGE);
    ck_assert_int_eq(legs_left(c), HOBBLE_LEGS_MAX - 30);
}
END_TEST

START_TEST(leg_options)
{
    load("profiles/legs.tsv", 4, 14);
    for (size_t row = 0; row < table.rows; row++) {
        const char *text = tsv_cell(&table, row, 0), *key = tsv_cell(&table, row, 1);
        const int before = legs_left(c);
        memset(&faults, 0, sizeof faults);
        const enum hobble_status status = hb_leg_option(c, text, &faults);
        ck_assert_msg(strcmp(status_name(status), tsv_cell(&table, row, 2)) == 0, "'%s': %s", text,
                      status_name(status));
        ck_assert_int_eq(legs_left(c), before - (status == HOBBLE_OK));
        if (status == HOBBLE_OK) {
            ck_assert_uint_eq(faults.count, 0);
            continue;
        }
        ck_assert_msg(strcmp(faults.item[0].key, key) == 0, "'%s': %s", text, faults.item[0].key);
        ck_assert_str_eq(faults.item[0].file, "--leg");
        ck_assert_msg(strstr(faults.item[0].allowed, tsv_cell(&table, row, 3)) != NULL, "'%s': %s",
                      text, faults.item[0].allowed);
    }
    ck_assert_int_eq(hb_leg_option(c, "", NULL), HOBBLE_E_MISSING);
    ck_assert_int_eq(hb_leg_option(c, NULL, NULL), HOBBLE_E_MISSING);
    tsv_free(&table);
}
END_TEST

START_TEST(no_journey_file)
{
    ck_assert_int_eq(hb_journey_read("/dev/zero", c, &faults), HOBBLE_E_NO_INPUT);
    ck_assert_int_eq(hb_journey_read("no/such.cfg", c, &faults), HOBBLE_E_NO_INPUT);
    ck_assert_uint_eq(faults.count, 2);
}
END_TEST

Suite *journey_suite(void)
{
    Suite *suite = suite_create("journey");
    TCase *tests = tcase_create("journey");
    tcase_add_checked_fixture(tests, setup, teardown);
    tcase_add_test(tests, settings_one_at_a_time);
    tcase_add_test(tests, origins_fit);
    tcase_add_test(tests, bad_journeys_are_refused);
    tcase_add_test(tests, journeys_are_read);
    tcase_add_test(tests, leg_options);
    tcase_add_test(tests, no_journey_file);
    suite_add_tcase(suite, tests);
    return suite;
}
