/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test_profile.c - profiles, journeys and settings one at a time. Expectations come from the
 * parameter table and from what the headers of src/input promise; vector files name their own. */
#include "input/config_text.h"
#include "input/profile.h"
#include "input/quantity.h"
#include "report/describe/answers.h"
#include "report/describe/profile_rows.h"
#include "report/json/render.h"
#include "tsv.h"

#include <check.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

Suite *profile_suite(void);

enum { BAD_FILES = 30, PATH_SIZE = 700 };

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

static void data_path(const char *name, char path[PATH_SIZE])
{
    const char *folder = getenv("HB_TEST_DATA");
    snprintf(path, PATH_SIZE, "%s/profiles/%s", folder && *folder ? folder : TEST_DATA_DIR, name);
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

static const struct hobble_param *row_at(int row)
{
    return &hobble_param_table(NULL)[row];
}

static int rows(void)
{
    size_t count;
    hobble_param_table(&count);
    return (int)count;
}

static bool same_number(double a, double b)
{
    return (isnan(a) && isnan(b)) || !(a < b || a > b || isnan(a) || isnan(b));
}

/* Everything but origins. */
static void check_same_case(const hobble_case *a, const hobble_case *b)
{
    for (int i = 0; i < rows(); i++) {
        const char *key = row_at(i)->key;
        ck_assert_msg(same_number(hobble_case_number(a, i), hobble_case_number(b, i)), "%s", key);
        ck_assert_msg(same_number(hobble_case_spread(a, i), hobble_case_spread(b, i)), "%s", key);
        ck_assert_msg(hobble_case_given(a, i) == hobble_case_given(b, i), "%s", key);
        ck_assert_msg(hobble_case_provenance(a, i) == hobble_case_provenance(b, i), "%s", key);
        ck_assert_str_eq(hobble_case_text(a, i), hobble_case_text(b, i));
        ck_assert_str_eq(hobble_case_source(a, i), hobble_case_source(b, i));
    }
}

static void check_fault(const struct hobble_fault *f, size_t row, const char *file)
{
    const char *key = tsv_cell(&table, row, 2), *status = tsv_cell(&table, row, 3);
    double line = -1.0;
    ck_assert(tsv_number(&table, row, 1, &line));
    ck_assert_msg(f->line == (int)line, "%s: %s: line %d", file, f->key, f->line);
    ck_assert_msg(strcmp(f->key, strcmp(key, "-") == 0 ? "" : key) == 0, "%s: key '%s'", file,
                  f->key);
    ck_assert_msg(strcmp(status_name(f->status), status) == 0, "%s:%d: %s", file, f->line,
                  status_name(f->status));
    ck_assert_msg(strstr(f->allowed, tsv_cell(&table, row, 4)) && *f->allowed, "%s:%d: '%s'", file,
                  f->line, f->allowed);
    ck_assert_msg(strlen(f->file) >= strlen(file) &&
                      strcmp(f->file + strlen(f->file) - strlen(file), file) == 0,
                  "%s: named '%s'", file, f->file);
}

START_TEST(bad_profiles_are_refused)
{
    hobble_case *untouched = hobble_case_clone(c);
    size_t files = 0;
    load("profiles/bad.tsv", 5, BAD_FILES);
    for (size_t row = 0; row < table.rows; files++) {
        char name[128], path[PATH_SIZE];
        const char *file = tsv_cell(&table, row, 0);
        size_t wanted = 0;
        snprintf(name, sizeof name, "bad/%s", file);
        data_path(name, path);
        memset(&faults, 0, sizeof faults);
        const enum hobble_status status = hb_profile_read(path, c, &faults);
        for (; row < table.rows && strcmp(tsv_cell(&table, row, 0), file) == 0; row++, wanted++) {
            ck_assert_msg(wanted < faults.count, "%s: only %zu faults", file, faults.count);
            check_fault(&faults.item[wanted], row, file);
        }
        ck_assert_msg(faults.count == wanted, "%s: %zu faults", file, faults.count);
        ck_assert_msg(status == faults.item[0].status, "%s: status", file);
        ck_assert_int_eq(hb_profile_read(path, c, NULL), status);
        check_same_case(c, untouched);
    }
    ck_assert_uint_ge(files, BAD_FILES);
    hobble_case_free(untouched);
    tsv_free(&table);
}
END_TEST

START_TEST(good_profiles_are_read)
{
    static const char *const names[] = {"good/crlf.cfg", "good/bom.cfg", "good/no-last-newline.cfg",
                                        "good/units.cfg", "good/utf8.cfg"};
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        char path[PATH_SIZE];
        hobble_case *fresh = hobble_case_new();
        data_path(names[i], path);
        ck_assert_msg(hb_profile_read(path, fresh, &faults) == HOBBLE_OK, "%s:%d: %s %s", names[i],
                      faults.item[0].line, faults.item[0].key, faults.item[0].allowed);
        ck_assert_double_eq_tol(hobble_case_number(fresh, hobble_param_find("age")), 3.0, 1e-12);
        ck_assert_double_eq_tol(hobble_case_number(fresh, hobble_param_find("rim_mass")), 9.0,
                                1e-12);
        ck_assert_uint_eq(faults.count, 0);
        hobble_case_free(fresh);
    }
}
END_TEST

/* ---- files that are none ------------------------------------------------------------------- */

static void check_no_file(const char *path, enum hobble_status wanted)
{
    memset(&faults, 0, sizeof faults);
    ck_assert_msg(hb_profile_read(path, c, &faults) == wanted, "%s", path);
    ck_assert_uint_eq(faults.count, 1);
    ck_assert_str_eq(faults.item[0].file, path);
    ck_assert_str_ne(faults.item[0].allowed, "");
    char *bytes = NULL;
    size_t size = 0;
    ck_assert_int_eq(hb_file_read(path, &bytes, &size, NULL), wanted);
    ck_assert(bytes == NULL);
}

/* A pipe that nobody writes to would hold up a plain open for ever: Check's own time limit fails
 * the test then. */
START_TEST(no_regular_file)
{
    char folder[] = "profile-test-XXXXXX", path[PATH_SIZE];
    ck_assert(mkdtemp(folder) != NULL);
    check_no_file(folder, HOBBLE_E_NO_INPUT);
    check_no_file("/dev/zero", HOBBLE_E_NO_INPUT);
    check_no_file("", HOBBLE_E_NO_INPUT);
    snprintf(path, sizeof path, "%s/missing.cfg", folder);
    check_no_file(path, HOBBLE_E_NO_INPUT);
    snprintf(path, sizeof path, "%s/pipe.cfg", folder);
    ck_assert_int_eq(mkfifo(path, 0600), 0);
    check_no_file(path, HOBBLE_E_NO_INPUT);
    unlink(path);
    snprintf(path, sizeof path, "%s/big.cfg", folder);
    FILE *big = fopen(path, "wb");
    ck_assert(big != NULL);
    ck_assert_int_eq(ftruncate(fileno(big), 1L << 30), 0); /* 1 GiB that takes no room */
    fclose(big);
    check_no_file(path, HOBBLE_E_TOO_LARGE);
    unlink(path);
    rmdir(folder);
}
END_TEST

/* ---- round trip ---------------------------------------------------------------------------- */

static char *written(const hobble_case *from, enum hobble_group group, size_t *size)
{
    char *text = NULL;
    FILE *out = open_memstream(&text, size);
    ck_assert(out != NULL);
    ck_assert_int_eq(hb_profile_write(out, from, group), HOBBLE_OK);
    fclose(out);
    return text;
}

static void check_round_trip(const hobble_case *from, enum hobble_group group)
{
    size_t size = 0;
    char *text = written(from, group, &size);
    hobble_case *back = hobble_case_new();
    enum hobble_group kind = HOBBLE_STUDY;
    ck_assert_msg(hb_profile_read_text(text, size, "written", HB_ANY_KIND, back, &kind, &faults) ==
                      HOBBLE_OK,
                  "%d: %s: %s", faults.item[0].line, faults.item[0].key, faults.item[0].allowed);
    ck_assert_int_eq(kind, group);
    check_same_case(from, back);
    hobble_case_free(back);
    free(text);
}

/* Gives a row something unlike its default; which: a different value each time. */
static void fill_row(hobble_case *to, int row, int which)
{
    const struct hobble_param *p = row_at(row);
    const double share = (which % 7 + 1) / 9.0;
    char word[64];
    if (p->kind == HOBBLE_NUMBER) {
        const double value = p->min + share * (p->max - p->min);
        const bool whole = p->unit == HOBBLE_UNIT_WHOLE;
        ck_assert_int_eq(hobble_case_set_number(to, row, whole ? ceil(value) : value, "test", NULL),
                         HOBBLE_OK);
    } else if (p->kind == HOBBLE_WORD) {
        hobble_param_word_at(p, which % 2, word, sizeof word);
        ck_assert_int_eq(hobble_case_set_word(to, row, word, "test", NULL), HOBBLE_OK);
    } else {
        const bool marking = strcmp(p->key, "marking") == 0;
        ck_assert_int_eq(
            hobble_case_set_text(to, row,
                                 marking ? "225/45 RF17 94W XL" : "A \"name\" with \\ and \xC3\xA9",
                                 "test", NULL),
            HOBBLE_OK);
    }
    if (p->stage != HOBBLE_NOT_DRAWN)
        ck_assert_int_eq(
            hobble_case_set_spread(to, row, share * fmin(2.0, p->max - p->min), "test", NULL),
            HOBBLE_OK);
    if (p->kind != HOBBLE_TEXT)
        hobble_case_set_provenance(to, row,
                                   (enum hobble_provenance)(which % HOBBLE_PROVENANCE_COUNT),
                                   "A source, with \"quotes\" and \\n; # no comment */");
}

START_TEST(every_key_round_trips)
{
    for (int g = 0; g < HOBBLE_GROUP_COUNT; g++) {
        if (g == HOBBLE_TRIP || g == HOBBLE_STUDY)
            continue;
        hobble_case *full = hobble_case_new();
        const enum hobble_group group = (enum hobble_group)g;
        check_round_trip(full, group); /* nothing given */
        for (int i = 0; i < rows(); i++) {
            if (row_at(i)->group != group)
                continue;
            hobble_case *one = hobble_case_new();
            fill_row(one, i, i);
            check_round_trip(one, group);
            hobble_case_free(one);
            fill_row(full, i, i + 3);
        }
        check_round_trip(full, group);
        hobble_case_free(full);
    }
}
END_TEST

/* A spread alone leaves the value, and what is known of it, as they were; also when no value is
 * given, and also after writing and reading. */
START_TEST(spread_alone_round_trips)
{
    const int drawn = hobble_param_find("loss_25c"), unset = hobble_param_find("wall_thickness");
    ck_assert_int_eq(hb_set_option(c, "loss_25c.spread=0.2", &faults), HOBBLE_OK);
    ck_assert_int_eq(hb_set_option(c, " wall_thickness.spread = 12 % ", &faults), HOBBLE_OK);
    ck_assert_double_eq_tol(hobble_case_spread(c, drawn), 0.2, 1e-15);
    ck_assert_double_eq_tol(hobble_case_spread(c, unset), 0.12, 1e-15);
    ck_assert(same_number(hobble_case_number(c, drawn), row_at(drawn)->value));
    ck_assert(isnan(hobble_case_number(c, unset)));
    ck_assert_int_eq(hobble_case_provenance(c, drawn), row_at(drawn)->provenance);
    ck_assert_str_eq(hobble_case_source(c, drawn), row_at(drawn)->source);
    check_round_trip(c, HOBBLE_TYRE);
    ck_assert_int_eq(hb_profile_write(stderr, c, HOBBLE_TRIP), HOBBLE_E_CONFLICT);
    FILE *full = fopen("/dev/full", "w");
    if (full) {
        ck_assert_int_eq(hb_profile_write(full, c, HOBBLE_TYRE), HOBBLE_E_WRITE);
        fclose(full);
    }
}
END_TEST

/* ---- every row's limits -------------------------------------------------------------------- */

static enum hobble_status set_exact(int row, const char *key_end, double value)
{
    char text[200], number[40];
    hb_number_print(value, 17, number, sizeof number);
    snprintf(text, sizeof text, "%s%s=%s", row_at(row)->key, key_end, number);
    return hb_set_option(c, text, &faults);
}

static enum hobble_status read_exact(int row, double value)
{
    char text[300], number[40];
    hb_number_print(value, 17, number, sizeof number);
    const int n = snprintf(text, sizeof text, "kind = \"%s\"; %s = %s;",
                           hobble_group_word(row_at(row)->group), row_at(row)->key, number);
    return hb_profile_read_text(text, (size_t)n, "text", HB_ANY_KIND, c, NULL, NULL);
}

START_TEST(every_row_keeps_its_limits)
{
    int checked = 0;
    for (int i = 0; i < rows(); i++) {
        const struct hobble_param *p = row_at(i);
        if (p->kind != HOBBLE_NUMBER)
            continue;
        const double ends[] = {p->min, p->max};
        const double beyond[] = {nextafter(p->min, -1e9), nextafter(p->max, 1e9)};
        for (int e = 0; e < 2; e++) {
            const bool filed = p->group != HOBBLE_TRIP && p->group != HOBBLE_STUDY;
            memset(&faults, 0, sizeof faults);
            ck_assert_msg(set_exact(i, "", ends[e]) == HOBBLE_OK, "%s at %g", p->key, ends[e]);
            ck_assert_msg(same_number(hobble_case_number(c, i), ends[e]), "%s", p->key);
            ck_assert_msg(set_exact(i, "", beyond[e]) == HOBBLE_E_RANGE, "%s beyond", p->key);
            ck_assert_msg(strstr(faults.item[0].allowed, hobble_unit_symbol(p->unit)) &&
                              strcmp(faults.item[0].key, p->key) == 0,
                          "%s: %s", p->key, faults.item[0].allowed);
            ck_assert_str_eq(faults.item[0].file, "--set");
            ck_assert_msg(same_number(hobble_case_number(c, i), ends[e]), "%s kept", p->key);
            ck_assert_msg(!filed || read_exact(i, ends[e]) == HOBBLE_OK, "%s", p->key);
            ck_assert_msg(!filed || read_exact(i, beyond[e]) == HOBBLE_E_RANGE, "%s", p->key);
            checked++;
        }
    }
    ck_assert_int_ge(checked, 100);
}
END_TEST

START_TEST(spreads_keep_their_limits)
{
    int checked = 0;
    for (int i = 0; i < rows(); i++) {
        const struct hobble_param *p = row_at(i);
        if (p->kind != HOBBLE_NUMBER)
            continue;
        if (p->stage == HOBBLE_NOT_DRAWN) {
            ck_assert_msg(set_exact(i, ".spread", 0.0) == HOBBLE_E_CONFLICT, "%s", p->key);
            continue;
        }
        const double most = p->shape == HOBBLE_LOGNORMAL ? 2.0 : p->max - p->min;
        ck_assert_msg(set_exact(i, ".spread", most) == HOBBLE_OK, "%s", p->key);
        ck_assert_msg(set_exact(i, ".spread", nextafter(most, 1e9)) == HOBBLE_E_RANGE, "%s",
                      p->key);
        ck_assert_msg(set_exact(i, ".spread", -1e-300) == HOBBLE_E_RANGE, "%s", p->key);
        checked++;
    }
    ck_assert_int_ge(checked, 10);
}
END_TEST

/* ---- text limits --------------------------------------------------------------------------- */

static enum hobble_status read_names(int names)
{
    char *text = malloc((size_t)names * 12 + 1);
    size_t used = 0;
    ck_assert(text != NULL);
    for (int i = 0; i < names; i++)
        used += (size_t)snprintf(text + used, 12, "k%d=1\n", i);
    memset(&faults, 0, sizeof faults);
    const enum hobble_status status =
        hb_profile_read_text(text, used, "names", HB_ANY_KIND, c, NULL, &faults);
    free(text);
    return status;
}

START_TEST(limits_of_a_text)
{
    char *text = malloc(HB_FILE_MAX + 1);
    ck_assert(text != NULL);
    ck_assert_int_eq(read_names(HB_NAMES_MAX), HOBBLE_E_MISSING); /* only the kind is missed */
    ck_assert_int_eq(read_names(HB_NAMES_MAX + 1), HOBBLE_E_TOO_LARGE);
    memset(text, '\n', HB_FILE_MAX + 1);
    ck_assert_int_eq(hb_profile_read_text(text, HB_FILE_MAX + 1, "x", HB_ANY_KIND, c, NULL, NULL),
                     HOBBLE_E_TOO_LARGE);
    memcpy(text, "kind=\"tyre\"", 11);
    ck_assert_int_eq(hb_profile_read_text(text, HB_FILE_MAX, "x", HB_ANY_KIND, c, NULL, NULL),
                     HOBBLE_OK);
    free(text);
}
END_TEST

/* ---- what is told ---------------------------------------------------------------------------- */

/* A number of an item, or that it is not there. */
static void told(const json_t *item, const char *key, bool is_there, double must)
{
    const json_t *value = json_object_get(item, key);
    const char *of = json_string_value(json_object_get(item, "key"));
    ck_assert_msg(is_there == (value != NULL), "%s of %s", key, of);
    if (is_there && isnan(must))
        ck_assert_msg(json_is_null(value), "%s of %s", key, of);
    else if (is_there)
        ck_assert_msg(json_is_number(value) && fabs(json_number_value(value) - must) <= 0.0,
                      "%s of %s", key, of);
}

static int numbers(const json_t *item)
{
    const char *key;
    json_t *value;
    int n = 0;
    json_object_foreach((json_t *)item, key, value) n +=
        json_is_number(value) || json_is_null(value);
    return n;
}

/* Source: the parameter table itself; numbers stand in the table's units. */
START_TEST(keys_are_the_table)
{
    size_t rows;
    const struct hobble_param *p = hobble_param_table(&rows);
    json_t *json = hb_render_json(&hb_profile_keys_answer, c, NULL);
    const json_t *list = json_object_get(json, "keys");
    ck_assert_str_eq(json_string_value(json_object_get(json, "action")), "keys");
    ck_assert_uint_eq(json_array_size(list), rows);
    for (size_t i = 0; i < rows; i++) {
        const json_t *item = json_array_get(list, i);
        const bool number = p[i].kind == HOBBLE_NUMBER;
        const bool drawn = number && p[i].stage != HOBBLE_NOT_DRAWN;
        ck_assert_str_eq(json_string_value(json_object_get(item, "key")), p[i].key);
        ck_assert_str_eq(json_string_value(json_object_get(item, "meaning")), p[i].meaning);
        if (number)
            told(item, "built_in", true, p[i].value);
        told(item, "least", number, p[i].min);
        told(item, "most", number, p[i].max);
        told(item, "spread", drawn, p[i].spread);
        ck_assert_int_eq(numbers(item), number ? 3 + drawn : 0);
        if (p[i].kind == HOBBLE_WORD) { /* its words put together again */
            char words[PATH_SIZE] = "";
            size_t k;
            json_t *word;
            json_array_foreach(json_object_get(item, "words"), k, word)
            {
                const size_t used = strlen(words);
                snprintf(words + used, sizeof words - used, "%s%s", k > 0 ? "|" : "",
                         json_string_value(word));
            }
            ck_assert_str_eq(words, p[i].words);
        }
    }
    json_decref(json);
}
END_TEST

/* Source: what was set, in the table's units. */
START_TEST(values_are_the_case)
{
    const struct hb_profile_shown shown = {"x", HOBBLE_TYRE};
    size_t rows, place = 0;
    const struct hobble_param *p = hobble_param_table(&rows);
    for (size_t i = 0; i < rows; i++)
        if (p[i].group == HOBBLE_TYRE && p[i].kind == HOBBLE_NUMBER)
            ck_assert_int_eq(hobble_case_set_number(c, (int)i, 0.25 * p[i].min + 0.75 * p[i].max,
                                                    "test", &faults),
                             HOBBLE_OK);
    json_t *json = hb_render_json(&hb_profile_show_answer, c, &shown);
    for (size_t i = 0; i < rows; i++) {
        if (p[i].group != HOBBLE_TYRE)
            continue;
        const json_t *item = json_array_get(json_object_get(json, "values"), place++);
        const bool drawn = p[i].stage != HOBBLE_NOT_DRAWN;
        ck_assert_str_eq(json_string_value(json_object_get(item, "key")), p[i].key);
        if (p[i].kind == HOBBLE_NUMBER)
            told(item, "value", true, hobble_case_number(c, (int)i));
        told(item, "spread", drawn, hobble_case_spread(c, (int)i));
        ck_assert_int_eq(numbers(item), (p[i].kind == HOBBLE_NUMBER) + drawn);
        ck_assert_str_eq(json_string_value(json_object_get(item, "set_by")),
                         hobble_case_origin(c, (int)i));
    }
    ck_assert_uint_eq(json_array_size(json_object_get(json, "values")), place);
    json_decref(json);
}
END_TEST

START_TEST(faults_are_the_sink)
{
    const struct hb_profile_checked checked = {"mine.cfg", &faults};
    for (int i = 0; i < HOBBLE_FAULTS_KEPT + 3; i++) {
        struct hobble_fault f = {.status = HOBBLE_E_RANGE, .line = 10 + i};
        hobble_fault_text(f.key, "load");
        hobble_fault_text(f.meant, i % 2 ? "loads" : "");
        hobble_faults_add(&faults, &f);
    }
    json_t *json = hb_render_json(&hb_profile_check_answer, c, &checked);
    const json_t *list = json_object_get(json, "faults");
    ck_assert_int_eq(json_integer_value(json_object_get(json, "faults_found")),
                     HOBBLE_FAULTS_KEPT + 3);
    ck_assert_uint_eq(json_array_size(list), HOBBLE_FAULTS_KEPT);
    for (int i = 0; i < HOBBLE_FAULTS_KEPT; i++) {
        const json_t *item = json_array_get(list, (size_t)i);
        ck_assert_int_eq(json_integer_value(json_object_get(item, "line")), 10 + i);
        ck_assert_int_eq(json_object_get(item, "did_you_mean") != NULL, i % 2);
    }
    json_decref(json);
}
END_TEST

Suite *profile_suite(void)
{
    Suite *suite = suite_create("profile");
    TCase *tests = tcase_create("profile");
    tcase_add_checked_fixture(tests, setup, teardown);
    tcase_set_timeout(tests, 60);
    tcase_add_test(tests, bad_profiles_are_refused);
    tcase_add_test(tests, good_profiles_are_read);
    tcase_add_test(tests, no_regular_file);
    tcase_add_test(tests, every_key_round_trips);
    tcase_add_test(tests, spread_alone_round_trips);
    tcase_add_test(tests, every_row_keeps_its_limits);
    tcase_add_test(tests, spreads_keep_their_limits);
    tcase_add_test(tests, limits_of_a_text);
    tcase_add_test(tests, keys_are_the_table);
    tcase_add_test(tests, values_are_the_case);
    tcase_add_test(tests, faults_are_the_sink);
    suite_add_tcase(suite, tests);
    return suite;
}
