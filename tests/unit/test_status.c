/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test_status.c - statuses, the list of faults, and text made fit to be shown in one. */
#include "hobble.h"

#include <check.h>
#include <string.h>

Suite *status_suite(void);

/* Exit statuses: sysexits.h (EX_USAGE 64, EX_DATAERR 65, EX_NOINPUT 66, EX_SOFTWARE 70,
 * EX_IOERR 74). */
START_TEST(statuses)
{
    static const struct {
        enum hobble_status status;
        int exit;
    } rows[] = {{HOBBLE_OK, 0},          {HOBBLE_E_USAGE, 64},    {HOBBLE_E_SYNTAX, 65},
                {HOBBLE_E_NO_INPUT, 66}, {HOBBLE_E_MEMORY, 70},   {HOBBLE_E_ENERGY, 70},
                {HOBBLE_E_WRITE, 74},    {HOBBLE_E_INTERNAL, 70}, {HOBBLE_E_UNSUPPORTED, 65}};

    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
        ck_assert_int_eq(hobble_status_exit(rows[i].status), rows[i].exit);
    for (int s = 0; s < HOBBLE_STATUS_COUNT; s++) {
        ck_assert_str_ne(hobble_status_text((enum hobble_status)s), "");
        ck_assert_str_ne(hobble_status_text((enum hobble_status)s), "unknown status");
    }
    ck_assert_str_eq(hobble_status_text(HOBBLE_E_WRITE), "cannot be written");
    ck_assert_str_eq(hobble_status_text(HOBBLE_STATUS_COUNT), "unknown status");
    ck_assert_str_eq(hobble_status_text((enum hobble_status) - 1), "unknown status");
    ck_assert_int_eq(hobble_status_exit((enum hobble_status) - 1), 70);
    ck_assert_int_eq(hobble_status_exit((enum hobble_status)9999), 70);
}
END_TEST

START_TEST(fault_sink)
{
    static struct hobble_faults sink;
    struct hobble_fault fault = {.status = HOBBLE_E_RANGE, .key = "first"};

    memset(&sink, 0, sizeof sink);
    memset(fault.given, 'g', sizeof fault.given); /* not terminated */
    ck_assert_int_eq(hobble_faults_add(NULL, &fault), HOBBLE_E_RANGE);
    ck_assert_int_eq(hobble_faults_add(&sink, NULL), HOBBLE_E_INTERNAL);
    ck_assert_uint_eq(sink.count, 0);
    for (int i = 0; i < HOBBLE_FAULTS_KEPT + 5; i++) {
        fault.line = i + 1;
        ck_assert_int_eq(hobble_faults_add(&sink, &fault), HOBBLE_E_RANGE);
    }
    ck_assert_uint_eq(sink.count, HOBBLE_FAULTS_KEPT + 5);
    for (int i = 0; i < HOBBLE_FAULTS_KEPT; i++)
        ck_assert_int_eq(sink.item[i].line, i + 1);
    ck_assert_str_eq(sink.item[0].key, "first");
    ck_assert_uint_eq(strlen(sink.item[0].given), HOBBLE_FAULT_TEXT - 1);
}
END_TEST

/* Broken forms: RFC 3629, section 3 and 10. Controls: Unicode categories Cc, Zl, Zp and the
 * property Bidi_Control. */
START_TEST(fault_text)
{
    static const char *const rows[][2] = {
        {"plain", "plain"},
        {"", ""},
        {"a\tb\nc\x7f\x1b[31m", "a?b?c??[31m"},
        {"\xC3\xA4\xE2\x82\xAC\xF0\x9F\x98\x80", "\xC3\xA4\xE2\x82\xAC\xF0\x9F\x98\x80"},
        {"\xC2\x85x\xC2\xA0", "?x\xC2\xA0"},
        {"\xE2\x80\xAE\xE2\x80\xA8\xE2\x81\xA6\xD8\x9C|", "????|"},
        {"\x80\xFF\xC3", "???"},
        {"\xC0\xAF\xC1\xBF", "????"},
        {"\xE0\x80\xAF|\xED\xA0\x80", "???|???"},
        {"\xF4\x90\x80\x80\xF8", "?????"},
        {"\xE2\x82(", "?"
                      "?("},
    };
    char out[HOBBLE_FAULT_TEXT];
    char text[400];

    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        hobble_fault_text(out, rows[i][0]);
        ck_assert_str_eq(out, rows[i][1]);
    }
    hobble_fault_text(out, NULL);
    ck_assert_str_eq(out, "");
    for (size_t lead = 0; lead < 4; lead++) { /* a cut never splits a character */
        memset(text, 'x', lead);
        for (size_t i = 0; i < 80; i++)
            memcpy(text + lead + 4 * i, "\xF0\x9F\x98\x80", 5);
        hobble_fault_text(out, text);
        ck_assert_uint_eq(strlen(out), lead + (HOBBLE_FAULT_TEXT - 1 - lead) / 4 * 4);
        ck_assert_int_eq(strncmp(out, text, strlen(out)), 0);
    }
}
END_TEST

Suite *status_suite(void)
{
    Suite *suite = suite_create("status");
    TCase *faults = tcase_create("statuses and faults");

    tcase_add_test(faults, statuses);
    tcase_add_test(faults, fault_sink);
    tcase_add_test(faults, fault_text);
    suite_add_tcase(suite, faults);
    return suite;
}
