/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test_marking.c - the sidewall marking, its tables and its geometry. Each vector file names its
 * own source in its head. */
#include "hobble.h"
#include "tsv.h"

#include <check.h>
#include <limits.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

Suite *marking_suite(void);

enum { ROWS_WANTED = 60, MARK_SIZE = 128 };

/* An assertion for the long loops: one of the library's own costs a write to a pipe each time. */
#define NEED(held, ...)                                                                            \
    do {                                                                                           \
        if (!(held))                                                                               \
            ck_abort_msg(__VA_ARGS__);                                                             \
    } while (0)

static struct tsv table;

static void load(const char *name, size_t fields, size_t least_rows)
{
    char why[700] = "";

    ck_assert_msg(tsv_load(&table, name, fields, least_rows, why, sizeof why), "%s", why);
}

static void unload(void)
{
    tsv_free(&table);
}

static double number(size_t row, size_t field)
{
    double value = 0.0;

    ck_assert_msg(tsv_number(&table, row, field, &value), "%s:%d: not a number", table.path,
                  table.line[row]);
    return value;
}

static void marking_text(size_t row, char text[MARK_SIZE])
{
    ck_assert_msg(tsv_unescape(tsv_cell(&table, row, 0), text, MARK_SIZE), "%s:%d: bad escape",
                  table.path, table.line[row]);
}

static bool same_marking(const struct hobble_marking *a, const struct hobble_marking *b)
{
    return fabs(a->width_mm - b->width_mm) < 1e-9 && fabs(a->aspect - b->aspect) < 1e-9 &&
           a->rim_code == b->rim_code && a->load_index == b->load_index &&
           a->speed_symbol == b->speed_symbol && a->z_rated == b->z_rated &&
           a->above_300 == b->above_300 && a->extra_load == b->extra_load &&
           a->p_metric == b->p_metric && a->flat == b->flat;
}

/* The flags field must be exactly one of these words, or several with commas between. */
static void expected_flags(const char *flags, struct hobble_marking *m)
{
    char copy[32] = "";
    char *rest = copy;
    char *word = NULL;

    ck_assert_uint_lt(strlen(flags), sizeof copy);
    memcpy(copy, flags, strlen(flags) + 1);
    while ((word = strtok_r(rest, ",", &rest)) != NULL) {
        if (strcmp(word, "P") == 0)
            m->p_metric = true;
        else if (strcmp(word, "Z") == 0)
            m->z_rated = true;
        else if (strcmp(word, "RF") == 0)
            m->flat = HOBBLE_MARK_RF;
        else if (strcmp(word, "300") == 0)
            m->above_300 = true;
        else if (strcmp(word, "XL") == 0)
            m->extra_load = true;
        else
            ck_assert_str_eq(word, "-");
    }
}

static struct hobble_marking expected_marking(size_t row)
{
    struct hobble_marking m = {.flat = HOBBLE_MARK_NONE};
    char symbol = tsv_cell(&table, row, 5)[0];

    m.width_mm = number(row, 1);
    m.aspect = number(row, 2);
    m.rim_code = (int)number(row, 3);
    m.load_index = (int)number(row, 4);
    m.speed_symbol = symbol;
    if (symbol == '-')
        m.speed_symbol = 0;
    else if (symbol >= 'a')
        ck_abort_msg("symbols are written in upper case in the file");
    expected_flags(tsv_cell(&table, row, 6), &m);
    return m;
}

START_TEST(good_markings_are_read)
{
    load("markings-good.tsv", 8, ROWS_WANTED);
    for (size_t row = 0; row < table.rows; row++) {
        char text[MARK_SIZE];
        struct hobble_marking wanted = expected_marking(row);
        struct hobble_marking got;
        struct hobble_fault fault = {.status = HOBBLE_OK};

        marking_text(row, text);
        memset(&got, 0x5A, sizeof got);
        ck_assert_msg(hobble_marking_parse(text, &got, &fault) == HOBBLE_OK,
                      "line %d: '%s' refused at %d: %s", table.line[row], text, fault.column,
                      fault.allowed);
        ck_assert_msg(same_marking(&wanted, &got), "line %d: '%s' misread", table.line[row], text);
        ck_assert_int_eq(hobble_marking_parse(text, &got, NULL), HOBBLE_OK);
    }
    unload();
}
END_TEST

START_TEST(what_else_stands_there_is_noted)
{
    load("markings-skipped.tsv", 5, 30);
    for (size_t row = 0; row < table.rows; row++) {
        char text[MARK_SIZE], printed[MARK_SIZE];
        struct hobble_marking got;
        struct hobble_fault fault = {.status = HOBBLE_OK};

        marking_text(row, text);
        ck_assert_msg(hobble_marking_parse(text, &got, &fault) == HOBBLE_OK,
                      "line %d: '%s' refused at %d: %s", table.line[row], text, fault.column,
                      fault.allowed);
        ck_assert_int_eq(hobble_marking_print(&got, printed, sizeof printed), HOBBLE_OK);
        ck_assert_str_eq(printed, tsv_cell(&table, row, 1));
        ck_assert_str_eq(got.skipped, tsv_cell(&table, row, 2));
        ck_assert_str_eq(got.unknown_words ? "yes" : "no", tsv_cell(&table, row, 3));
        /* run-flat by the size alone: F behind R, before the rim code */
        ck_assert_msg((got.flat == HOBBLE_MARK_RF) == (strstr(text, " RF16") != NULL), "%s", text);
    }
    unload();
}
END_TEST

static const char *status_name(enum hobble_status status)
{
    static const char *const names[] = {
#define NAME(code, text, exit) #code,
        HOBBLE_STATUS_LIST(NAME)
#undef NAME
    };
    return (size_t)status < sizeof names / sizeof names[0] ? names[status] : "?";
}

static int characters(const char *text)
{
    int count = 0;

    for (; *text != '\0'; text++)
        count += ((unsigned char)*text & 0xC0U) != 0x80U;
    return count;
}

/* Parses a text that must be refused; checks what every refusal owes its reader. */
static struct hobble_fault refusal(const char *text)
{
    struct hobble_marking out;
    struct hobble_marking before;
    struct hobble_fault fault;
    char shown[HOBBLE_FAULT_TEXT];
    enum hobble_status status = HOBBLE_OK;

    memset(&out, 0x5A, sizeof out);
    memcpy(&before, &out, sizeof out);
    memset(&fault, 0x5A, sizeof fault);
    status = hobble_marking_parse(text, &out, &fault);
    hobble_fault_text(shown, text);
    NEED(status != HOBBLE_OK, "'%s' was accepted", shown);
    NEED(memcmp(&before, &out, sizeof out) == 0, "'%s': output touched", shown);
    NEED(status == fault.status, "'%s': status", shown);
    /* EX_DATAERR of sysexits.h */
    NEED(hobble_status_exit(status) == 65, "'%s': exit", shown);
    NEED(fault.column >= 1 && fault.column <= characters(shown) + 1, "'%s': column %d", shown,
         fault.column);
    NEED(strcmp(fault.given, shown) == 0, "'%s' shown as '%s'", shown, fault.given);
    NEED(fault.allowed[0] != '\0' && fault.key[0] != '\0', "'%s': no reason", shown);
    NEED(strlen(fault.allowed) < HOBBLE_FAULT_TEXT - 1, "cut: %s", fault.allowed);
    NEED(hobble_marking_parse(text, &out, NULL) == status, "'%s': no fault kept", shown);
    return fault;
}

START_TEST(bad_markings_are_refused)
{
    load("markings-bad.tsv", 5, ROWS_WANTED);
    for (size_t row = 0; row < table.rows; row++) {
        char text[MARK_SIZE];
        struct hobble_fault fault;

        marking_text(row, text);
        fault = refusal(text);
        ck_assert_msg(strcmp(status_name(fault.status), tsv_cell(&table, row, 1)) == 0,
                      "line %d: '%s': %s", table.line[row], text, status_name(fault.status));
        ck_assert_msg(fault.column == (int)number(row, 2), "line %d: '%s': column %d",
                      table.line[row], text, fault.column);
        ck_assert_msg(tsv_cell(&table, row, 3)[0] != '\0' &&
                          strstr(fault.allowed, tsv_cell(&table, row, 3)) != NULL,
                      "line %d: '%s': allowed '%s'", table.line[row], text, fault.allowed);
    }
    unload();
}
END_TEST

/* Upper case without spaces: two texts that differ in nothing else say the same. */
static void squeeze(const char *text, char out[MARK_SIZE])
{
    size_t used = 0;

    for (; *text != '\0' && used < MARK_SIZE - 1; text++)
        if (*text != ' ')
            out[used++] = *text >= 'a' && *text <= 'z' ? (char)(*text - 'a' + 'A') : *text;
    out[used] = '\0';
}

/* What was not used stands behind what was, XL apart: the one begins the text, and both together
 * have its characters. */
static bool all_of_it(const char *text, const char *printed, const char *skipped)
{
    int count[256] = {0};
    const size_t length = strlen(printed);
    const size_t xl = length > 2 && strcmp(printed + length - 2, "XL") == 0 ? 2 : 0;

    for (const char *p = text; *p != '\0'; p++)
        count[(unsigned char)*p]++;
    for (const char *p = printed; *p != '\0'; p++)
        count[(unsigned char)*p]--;
    for (const char *p = skipped; *p != '\0'; p++)
        count[(unsigned char)*p]--;
    for (int i = 0; i < 256; i++)
        if (count[i] != 0)
            return false;
    return strncmp(text, printed, length - xl) == 0;
}

/* What was read must print as what was written, spaces and case apart, and read back the same. */
static void check_round_trip(const char *text, const struct hobble_marking *m)
{
    char printed[MARK_SIZE];
    char a[MARK_SIZE];
    char b[MARK_SIZE];
    char rest[MARK_SIZE];
    struct hobble_marking again = {.flat = HOBBLE_MARK_NONE};

    NEED(hobble_marking_print(m, printed, sizeof printed) == HOBBLE_OK, "'%s'", text);
    squeeze(text, a);
    squeeze(printed, b);
    squeeze(m->skipped, rest);
    NEED(*rest ? all_of_it(a, b, rest) : strcmp(a, b) == 0, "'%s' printed as '%s', '%s' skipped",
         text, printed, rest);
    NEED(hobble_marking_parse(printed, &again, NULL) == HOBBLE_OK, "'%s'", printed);
    NEED(same_marking(m, &again), "'%s' reads back otherwise", printed);
}

START_TEST(printed_markings_read_back)
{
    load("markings-good.tsv", 8, ROWS_WANTED);
    for (size_t row = 0; row < table.rows; row++) {
        char text[MARK_SIZE];
        struct hobble_marking m = expected_marking(row);

        marking_text(row, text);
        check_round_trip(text, &m);
    }
    unload();
}
END_TEST

/* The layout of the usual form: exact text, as the header promises it. */
START_TEST(printed_layout)
{
    struct hobble_marking m = {.width_mm = 275, .aspect = 40, .rim_code = 20, .load_index = 106};
    char buf[32];

    ck_assert_int_eq(hobble_marking_print(&m, buf, sizeof buf), HOBBLE_OK);
    ck_assert_str_eq(buf, "275/40 R20 106");
    m.speed_symbol = 'Y';
    m.z_rated = m.above_300 = m.extra_load = m.p_metric = true;
    m.flat = HOBBLE_MARK_RF;
    ck_assert_int_eq(hobble_marking_print(&m, buf, sizeof buf), HOBBLE_OK);
    ck_assert_str_eq(buf, "P275/40 ZRF20 (106Y) XL");
    memset(buf, 'x', sizeof buf);
    ck_assert_int_eq(hobble_marking_print(&m, buf, 24), HOBBLE_OK); /* 23 characters and NUL */
    ck_assert_int_eq(buf[24], 'x');
    memset(buf, 'x', sizeof buf);
    ck_assert_int_eq(hobble_marking_print(&m, buf, 23), HOBBLE_E_TOO_LARGE);
    ck_assert_str_eq(buf, "");
    ck_assert_int_eq(buf[23], 'x');
    ck_assert_int_ne(hobble_marking_print(&m, buf, 0), HOBBLE_OK);
    ck_assert_int_ne(hobble_marking_print(&m, NULL, 9), HOBBLE_OK);
    ck_assert_int_ne(hobble_marking_print(NULL, buf, sizeof buf), HOBBLE_OK);
}
END_TEST

static void wreck(struct hobble_marking *m, int how)
{
    static const double widths[] = {
        (double)NAN, (double)INFINITY, -205, 204, 200, 205.5, 1e300, 115, 365};
    static const double aspects[] = {(double)NAN, -(double)INFINITY, 0, 20, 90, 57, 55.5, -1e300};

    if (how < 9)
        m->width_mm = widths[how];
    else if (how < 17)
        m->aspect = aspects[how - 9];
    else if (how < 20)
        m->rim_code = (const int[]){12, 25, INT_MIN}[how - 17];
    else if (how < 23)
        m->load_index = (const int[]){49, 126, INT_MAX}[how - 20];
    else if (how < 26)
        m->speed_symbol = (const char[]){'Z', 'v', ' '}[how - 23];
    else if (how == 26)
        m->above_300 = true; /* with V */
    else
        m->z_rated = true; /* with V */
}

START_TEST(impossible_markings_are_not_printed)
{
    for (int how = 0; how < 28; how++) {
        struct hobble_marking m = {
            .width_mm = 205, .aspect = 55, .rim_code = 16, .load_index = 91, .speed_symbol = 'V'};
        char buf[64] = "x";

        ck_assert_int_eq(hobble_marking_print(&m, buf, sizeof buf), HOBBLE_OK);
        ck_assert(hobble_marking_geometry(&m).free_radius > 0.0);
        wreck(&m, how);
        ck_assert_msg(hobble_marking_print(&m, buf, sizeof buf) == HOBBLE_E_RANGE, "case %d: %s",
                      how, buf);
        ck_assert_str_eq(buf, "");
        ck_assert(fabs(hobble_marking_geometry(&m).free_radius) <= 0.0);
    }
}
END_TEST

static size_t accepted_mutants;

static void try_mutant(const char *text)
{
    struct hobble_marking m;

    if (hobble_marking_parse(text, &m, NULL) == HOBBLE_OK) {
        accepted_mutants++;
        check_round_trip(text, &m);
    } else {
        (void)refusal(text);
    }
}

static void mutate(const char *text)
{
    size_t length = strlen(text);
    char mutant[MARK_SIZE + 2];

    for (size_t at = 0; at <= length; at++) {
        for (int byte = 1; byte < 256; byte++) {
            memcpy(mutant, text, at);
            mutant[at] = (char)(unsigned char)byte;
            memcpy(mutant + at + 1, text + at, length - at + 1); /* inserted */
            try_mutant(mutant);
            if (at < length) {
                memcpy(mutant + at + 1, text + at + 1, length - at); /* replaced */
                try_mutant(mutant);
            }
        }
        if (at < length) {
            memcpy(mutant, text, at);
            memcpy(mutant + at, text + at + 1, length - at); /* deleted */
            try_mutant(mutant);
        }
    }
}

/* Property: whatever one wrong key stroke makes of a marking is refused with a place, or is a
 * marking that says exactly what is written. Follows from the form itself, no outside number. */
START_TEST(mutants_are_read_as_written_or_refused)
{
    accepted_mutants = 0;
    load("markings-good.tsv", 8, ROWS_WANTED);
    for (size_t row = 0; row < table.rows; row++) {
        char text[MARK_SIZE];

        marking_text(row, text);
        mutate(text);
    }
    /* Case, spaces and other valid digits alone make more than one a position. */
    ck_assert_uint_gt(accepted_mutants, table.rows * 10);
    unload();
}
END_TEST

START_TEST(hostile_arguments)
{
    struct hobble_marking out = {.rim_code = 7};
    struct hobble_fault fault = {.status = HOBBLE_OK};
    static char huge[100000];

    ck_assert_int_eq(hobble_marking_parse(NULL, &out, &fault), HOBBLE_E_MISSING);
    ck_assert_int_eq(fault.column, 1);
    ck_assert_int_eq(hobble_marking_parse(NULL, &out, NULL), HOBBLE_E_MISSING);
    ck_assert_int_ne(hobble_marking_parse("205/55 R16 91V", NULL, &fault), HOBBLE_OK);
    memset(huge, '2', sizeof huge - 1);
    ck_assert_int_eq(refusal(huge).status, HOBBLE_E_TOO_LARGE);
    memset(huge, '\xFF', sizeof huge - 1);
    ck_assert_int_eq(refusal(huge).status, HOBBLE_E_TOO_LARGE);
    ck_assert_int_eq(out.rim_code, 7);
}
END_TEST

/* Table: load-index.tsv. The formula beside it is the series behind the index, ten steps of which
 * are a third of a decade less a little; 1.75 % is what rounding to the printed loads leaves. */
START_TEST(load_indices)
{
    load("load-index.tsv", 2, ROWS_WANTED);
    ck_assert_uint_eq(table.rows, 76);
    for (size_t row = 0; row < table.rows; row++) {
        int index = (int)number(row, 0);
        double kg = number(row, 1);

        ck_assert_int_eq(index, 50 + (int)row);
        ck_assert_double_eq_tol(hobble_load_index_kg(index), kg, 1e-9);
        ck_assert_double_eq_tol(hobble_load_index_kg(index) / (45.0 * pow(10.0, index / 80.0)), 1.0,
                                0.0175);
    }
    unload();
    for (int i = 0; i < 6; i++)
        ck_assert_double_eq_tol(
            hobble_load_index_kg((const int[]){49, 126, 0, -1, INT_MIN, INT_MAX}[i]), 0.0, 1e-12);
}
END_TEST

START_TEST(speed_symbols)
{
    char seen[32] = "";

    load("speed-symbols.tsv", 2, 15);
    ck_assert_uint_eq(table.rows, 15);
    for (size_t row = 0; row < table.rows; row++) {
        const char *symbol = tsv_cell(&table, row, 0);

        ck_assert_uint_eq(strlen(symbol), 1);
        seen[row] = symbol[0];
        ck_assert_double_eq_tol(hobble_speed_symbol_kmh(symbol[0]), number(row, 1), 1e-9);
    }
    unload();
    for (int c = CHAR_MIN; c <= CHAR_MAX; c++)
        if (c == 0 || strchr(seen, c) == NULL)
            ck_assert_double_eq_tol(hobble_speed_symbol_kmh((char)c), 0.0, 1e-12);
}
END_TEST

/* Table: rim-codes.tsv, and beside it the inch of exactly 25.4 mm (international yard, 1959). */
START_TEST(rim_codes)
{
    load("rim-codes.tsv", 2, 12);
    ck_assert_uint_eq(table.rows, 12);
    for (size_t row = 0; row < table.rows; row++) {
        int code = (int)number(row, 0);

        ck_assert_int_eq(code, 13 + (int)row);
        ck_assert_double_eq_tol(hobble_rim_diameter(code), number(row, 1) / 1000.0, 1e-12);
        ck_assert_double_eq_tol(hobble_rim_diameter(code), code * 0.0254, 0.0005 + 1e-12);
    }
    unload();
    for (int i = 0; i < 6; i++)
        ck_assert_double_eq_tol(
            hobble_rim_diameter((const int[]){12, 25, 0, -16, INT_MIN, INT_MAX}[i]), 0.0, 1e-12);
}
END_TEST

/* 205/55 R16: published H 113 mm and D 632 mm (UN R30 tables; from memory, unconfirmed). The table
 * rounds H to the millimetre and adds it twice, so 0.5 mm on H and 1 mm on D. */
START_TEST(geometry_of_the_worked_example)
{
    struct hobble_marking m;
    struct hobble_geometry g;

    ck_assert_int_eq(hobble_marking_parse("205/55 R16 91V", &m, NULL), HOBBLE_OK);
    g = hobble_marking_geometry(&m);
    ck_assert_double_eq_tol(g.section_height, 0.113, 0.0005);
    ck_assert_double_eq_tol(g.overall_diameter, 0.632, 0.001);
    ck_assert_double_eq_tol(g.section_height, 0.11275, 1e-15); /* 205*55/100, arithmetic */
    ck_assert(hobble_marking_geometry(NULL).free_radius <= 0.0);
}
END_TEST

/* H = S*a/100 and D = d + 2H: UN R30, section 6 (from memory, unconfirmed). 1e-15 m is some ulp of
 * half a metre: nothing but rounding. */
START_TEST(geometry_of_every_good_marking)
{
    load("markings-good.tsv", 8, ROWS_WANTED);
    for (size_t row = 0; row < table.rows; row++) {
        struct hobble_marking m = expected_marking(row);
        struct hobble_geometry g = hobble_marking_geometry(&m);
        double height = number(row, 1) * number(row, 2) / 100.0 / 1000.0;
        double rim = floor(number(row, 3) * 25.4 + 0.5) / 1000.0;

        ck_assert_double_eq_tol(g.section_width, number(row, 1) / 1000.0, 1e-15);
        ck_assert_double_eq_tol(g.section_height, height, 1e-15);
        ck_assert_double_eq_tol(g.rim_diameter, rim, 1e-15);
        ck_assert_double_eq_tol(g.overall_diameter, rim + 2.0 * height, 1e-15);
        ck_assert_double_eq_tol(g.free_radius, 0.5 * rim + height, 1e-15);
    }
    unload();
}
END_TEST

Suite *marking_suite(void)
{
    Suite *suite = suite_create("marking");
    TCase *reading = tcase_create("reading");
    TCase *tables = tcase_create("tables and geometry");

    tcase_set_timeout(reading, 120); /* the mutants, under valgrind or a sanitizer */
    tcase_add_test(reading, good_markings_are_read);
    tcase_add_test(reading, what_else_stands_there_is_noted);
    tcase_add_test(reading, bad_markings_are_refused);
    tcase_add_test(reading, printed_markings_read_back);
    tcase_add_test(reading, printed_layout);
    tcase_add_test(reading, impossible_markings_are_not_printed);
    tcase_add_test(reading, mutants_are_read_as_written_or_refused);
    tcase_add_test(reading, hostile_arguments);
    tcase_add_test(tables, load_indices);
    tcase_add_test(tables, speed_symbols);
    tcase_add_test(tables, rim_codes);
    tcase_add_test(tables, geometry_of_the_worked_example);
    tcase_add_test(tables, geometry_of_every_good_marking);
    suite_add_tcase(suite, reading);
    suite_add_tcase(suite, tables);
    return suite;
}
