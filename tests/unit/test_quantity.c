/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test_quantity.c - numbers with units. The sources of the factors are in the vector files. */
#include "input/quantity.h"
#include "tsv.h"

#include <check.h>
#include <locale.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

Suite *quantity_suite(void);

enum { ROWS_WANTED = 40, TEXT_SIZE = 128 };

static struct tsv table;

static void load(const char *name, size_t fields)
{
    char why[700] = "";
    ck_assert_msg(tsv_load(&table, name, fields, ROWS_WANTED, why, sizeof why), "%s", why);
}

static enum hobble_unit unit_of(const char *symbol)
{
    for (int u = 0; u < HOBBLE_UNIT_COUNT; u++)
        if (strcmp(hobble_unit_symbol((enum hobble_unit)u), symbol) == 0)
            return (enum hobble_unit)u;
    ck_abort_msg("no unit '%s'", symbol);
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

START_TEST(good_quantities_are_read)
{
    load("quantities-good.tsv", 5);
    for (size_t row = 0; row < table.rows; row++) {
        char text[TEXT_SIZE];
        double wanted, got = (double)NAN;
        struct hobble_fault fault = {0};
        const enum hobble_unit unit = unit_of(tsv_cell(&table, row, 1));
        const bool spread = strcmp(tsv_cell(&table, row, 2), "spread") == 0;
        const bool warm = unit == HOBBLE_UNIT_CELSIUS;
        ck_assert(tsv_unescape(tsv_cell(&table, row, 0), text, sizeof text));
        ck_assert(tsv_number(&table, row, 3, &wanted));
        ck_assert_msg(hb_quantity_parse(text, unit, spread ? HB_DIFFERENCE : HB_QUANTITY, &got,
                                        &fault) == HOBBLE_OK,
                      "line %d: '%s' refused: %s", table.line[row], text, fault.allowed);
        const double tolerance = warm ? 1e-13 : 1e-15 * fabs(wanted);
        ck_assert_msg(fabs(got - wanted) <= tolerance, "line %d: '%s' read as %.17g",
                      table.line[row], text, got);
    }
    tsv_free(&table);
}
END_TEST

START_TEST(bad_quantities_are_refused)
{
    load("quantities-bad.tsv", 5);
    for (size_t row = 0; row < table.rows; row++) {
        char text[TEXT_SIZE], shown[HOBBLE_FAULT_TEXT];
        double column, got = -1.5;
        struct hobble_fault fault;
        memset(&fault, 0x5A, sizeof fault);
        const enum hobble_unit unit = unit_of(tsv_cell(&table, row, 1));
        ck_assert(tsv_unescape(tsv_cell(&table, row, 0), text, sizeof text));
        ck_assert(tsv_number(&table, row, 3, &column));
        const enum hobble_status status = hb_quantity_parse(text, unit, HB_QUANTITY, &got, &fault);
        ck_assert_msg(strcmp(status_name(status), tsv_cell(&table, row, 2)) == 0,
                      "line %d: '%s': %s", table.line[row], text, status_name(status));
        ck_assert_msg(fault.column == (int)column, "line %d: '%s': column %d", table.line[row],
                      text, fault.column);
        ck_assert_msg(strstr(fault.allowed, tsv_cell(&table, row, 4)) != NULL,
                      "line %d: '%s': allowed '%s'", table.line[row], text, fault.allowed);
        hobble_fault_text(shown, text);
        ck_assert_str_eq(fault.given, shown);
        ck_assert(fault.status == status && got < -1.0);
        ck_assert_int_eq(hb_quantity_parse(text, unit, HB_QUANTITY, &got, NULL), status);
    }
    tsv_free(&table);
    ck_assert_int_eq(hb_quantity_parse(NULL, HOBBLE_UNIT_NEWTON, HB_QUANTITY, NULL, NULL),
                     HOBBLE_E_SYNTAX);
}
END_TEST

/* Every unit accepts its own symbol and lists it, and what is printed exactly reads back exactly:
 * 17 digits give every double back (IEEE 754-2019, 5.12.2). */
START_TEST(every_unit_round_trips)
{
    static const double values[] = {0.0,       1.0,          80.0, -12.5,  0.1,
                                    1.0 / 3.0, 4294967376.0, 1e-7, 6.02e23};
    for (int u = 0; u < HOBBLE_UNIT_COUNT; u++) {
        const enum hobble_unit unit = (enum hobble_unit)u;
        char list[HOBBLE_FAULT_TEXT], text[64];
        hb_quantity_units(unit, list, sizeof list);
        ck_assert(unit == HOBBLE_UNIT_NONE || strstr(list, hobble_unit_symbol(unit)));
        for (size_t i = 0; i < sizeof values / sizeof values[0]; i++) {
            double again = (double)NAN;
            ck_assert_int_eq(hb_quantity_print(values[i], unit, false, 17, text, sizeof text), 0);
            ck_assert_int_eq(hb_quantity_parse(text, unit, HB_QUANTITY, &again, NULL), 0);
            ck_assert_msg(memcmp(&again, &values[i], sizeof again) == 0, "'%s': %.17g", text,
                          again);
        }
    }
}
END_TEST

START_TEST(values_are_printed)
{
    /* Exact text is layout; figures from the factors of NIST SP 811, appendix B. */
    static const struct {
        double value;
        enum hobble_unit unit;
        bool us;
        int digits;
        const char *text;
    } rows[] = {
        {80, HOBBLE_UNIT_KM_PER_HOUR, false, 3, "80 km/h"},
        {80, HOBBLE_UNIT_KM_PER_HOUR, true, 3, "49.7 mph"},
        {45.06, HOBBLE_UNIT_KILOMETRE, false, 2, "45 km"},
        {45.061632, HOBBLE_UNIT_KILOMETRE, true, 4, "28 mi"},
        {35, HOBBLE_UNIT_CELSIUS, true, 4, "95 F"},
        {220, HOBBLE_UNIT_KILOPASCAL, true, 3, "31.9 psi"},
        {75, HOBBLE_UNIT_KILOGRAM, true, 4, "165.3 lb"},
        {4100, HOBBLE_UNIT_NEWTON, true, 4, "921.7 lbf"},
        {12.7, HOBBLE_UNIT_MILLIMETRE, true, 3, "0.5 in"},
        {12, HOBBLE_UNIT_MINUTE, true, 3, "12 min"},
        {2, HOBBLE_UNIT_KELVIN, true, 3, "2 K"},
        {0.75, HOBBLE_UNIT_NONE, false, 3, "0.75"},
        {123456, HOBBLE_UNIT_NONE, false, 3, "123456"},
        {(double)NAN, HOBBLE_UNIT_NEWTON, false, 3, "not given"},
    };
    char text[64];
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        ck_assert_int_eq(hb_quantity_print(rows[i].value, rows[i].unit, rows[i].us, rows[i].digits,
                                           text, sizeof text),
                         HOBBLE_OK);
        ck_assert_str_eq(text, rows[i].text);
    }
    ck_assert_int_eq(hb_quantity_print(80, HOBBLE_UNIT_KM_PER_HOUR, false, 3, text, 7),
                     HOBBLE_E_TOO_LARGE);
    ck_assert_int_eq(hb_quantity_print((double)NAN, HOBBLE_UNIT_NEWTON, false, 3, text, 9),
                     HOBBLE_E_TOO_LARGE);
}
END_TEST

/* A decimal comma in the locale must not change a reading. Locales differ between machines: the
 * first of these that is there is taken, and none means that there is nothing to disturb. */
START_TEST(locale_changes_nothing)
{
    static const char *const names[] = {"de_DE.UTF-8", "de_DE.utf8", "fr_FR.UTF-8", "de_DE"};
    double got = 0.0;
    char text[32];
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++)
        if (setlocale(LC_ALL, names[i]))
            break;
    ck_assert_int_eq(hb_quantity_parse("4.1kN", HOBBLE_UNIT_NEWTON, HB_QUANTITY, &got, NULL), 0);
    ck_assert_double_eq_tol(got, 4100.0, 1e-9);
    ck_assert_int_eq(hb_quantity_parse("4,1kN", HOBBLE_UNIT_NEWTON, HB_QUANTITY, &got, NULL),
                     HOBBLE_E_SYNTAX);
    ck_assert_int_eq(hb_quantity_print(0.5, HOBBLE_UNIT_NONE, false, 3, text, sizeof text), 0);
    ck_assert_str_eq(text, "0.5");
    setlocale(LC_ALL, "C");
}
END_TEST

Suite *quantity_suite(void)
{
    Suite *suite = suite_create("quantity");
    TCase *tests = tcase_create("quantity");
    tcase_add_test(tests, good_quantities_are_read);
    tcase_add_test(tests, bad_quantities_are_refused);
    tcase_add_test(tests, every_unit_round_trips);
    tcase_add_test(tests, values_are_printed);
    tcase_add_test(tests, locale_changes_nothing);
    suite_add_tcase(suite, tests);
    return suite;
}
