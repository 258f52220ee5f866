/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test_evidence.c - the list of evidence on its way in and out. Expectations come from the table of
 * its keys and from what hobble/evidence.h and docs/evidence.md promise; no outside source. */
#include "hobble.h"
#include "input/profile.h"
#include "input/runs.h"
#include "random_case.h"
#include "report/describe/answers.h"
#include "report/describe/profile_rows.h"
#include "report/json/render.h"

#include <check.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

Suite *evidence_suite(void);

enum { LISTS = 300, LONG = 10000 };

static struct hobble_faults faults;
static hobble_case *c;
static struct random_source source;

static void setup(void)
{
    memset(&faults, 0, sizeof faults);
    source.state = 11;
    c = hobble_case_new();
    ck_assert(c != NULL);
}

static void teardown(void)
{
    hobble_case_free(c);
}

static bool same(double a, double b)
{
    return (isnan(a) && isnan(b)) || (a >= b && a <= b);
}

/* ---- random items ---------------------------------------------------------------------------- */

static void fill_row(const struct hobble_evidence_row *row, void *item)
{
    const struct hobble_param *p = &row->param;
    char word[64];
    int words = 0;
    if (p->kind == HOBBLE_TEXT)
        return;
    do
        hobble_param_word_at(p, words, word, sizeof word);
    while (*word && ++words);
    const double shown = random_between(&source, p->min, p->max);
    const double si = hobble_unit_to_si(p->unit, shown);
    const int whole = p->kind == HOBBLE_WORD ? random_below(&source, words) : (int)shown;
    char *to = (char *)item + row->at;
    if (p->kind == HOBBLE_WORD || p->unit == HOBBLE_UNIT_WHOLE)
        memcpy(to, &whole, sizeof whole);
    else
        memcpy(to, &si, sizeof si);
}

static void fill_readings(struct hobble_evidence *item, int channel)
{
    double time[90], celsius[90];
    const size_t count = (size_t)random_below(&source, 90);
    const double end = fmin(item->distance / item->speed, 2880.0 * 60.0);
    for (size_t i = 0; i < count; i++) {
        time[i] = end * ((double)i + random_between(&source, 0.1, 0.9)) / 90.0;
        time[i] = hobble_unit_to_si(HOBBLE_UNIT_MINUTE, time[i] / 60.0); /* as files have it */
        celsius[i] = random_between(&source, -40.0, 300.0);
    }
    ck_assert_int_eq(
        hobble_evidence_readings(item, (enum hobble_channel)channel, time, celsius, count, &faults),
        HOBBLE_OK);
}

static void random_item(struct hobble_evidence *item)
{
    static const char *const texts[] = {"a handbook", "A \"stand\" with \\ and \xC3\xA9; # no }"};
    size_t rows;
    const struct hobble_evidence_row *row = hobble_evidence_table(&rows);
    const enum hobble_evidence_kind kind =
        (enum hobble_evidence_kind)random_below(&source, HOBBLE_EVIDENCE_KINDS);
    hobble_evidence_begin(kind, item);
    hobble_fault_text(item->source, texts[random_below(&source, 2)]);
    for (size_t i = 0; i < rows; i++)
        if (row[i].kinds >> kind & 1u && row[i].place == HOBBLE_IN_ITEM)
            fill_row(&row[i], item);
    item->kind = kind; /* which is a row too */
    if (kind != HOBBLE_EVIDENCE_RUN)
        return;
    if (item->of == HOBBLE_RUN_THIS_UNIT)
        item->age = 0.0;
    for (int k = 0; k < HOBBLE_CHANNELS; k++) {
        for (size_t i = 0; i < rows; i++)
            if (row[i].place == HOBBLE_IN_CHANNEL)
                fill_row(&row[i], &item->channel[k]);
        if (random_below(&source, 2))
            fill_readings(item, k);
    }
}

/* ---- round trip ------------------------------------------------------------------------------ */

static void check_readings(const struct hobble_readings *a, const struct hobble_readings *b)
{
    ck_assert_int_eq(a->count, b->count);
    ck_assert(same(a->offset, b->offset) && same(a->scatter, b->scatter));
    for (int i = 0; i < a->count; i++)
        ck_assert(same(a->time[i], b->time[i]) && same(a->celsius[i], b->celsius[i]));
}

/* Everything but where it came from. */
static void check_same_item(const struct hobble_evidence *a, const struct hobble_evidence *b)
{
    ck_assert_int_eq(a->kind, b->kind);
    ck_assert_str_eq(a->source, b->source);
    ck_assert_int_eq(a->specimens, b->specimens);
    ck_assert_msg(same(a->load_share, b->load_share), "load");
    ck_assert_msg(same(a->speed, b->speed), "speed %.17g %.17g", a->speed, b->speed);
    ck_assert_msg(same(a->ambient, b->ambient), "ambient %.17g %.17g", a->ambient, b->ambient);
    ck_assert_msg(same(a->distance, b->distance), "way %.17g %.17g", a->distance, b->distance);
    ck_assert_int_eq(a->of, b->of);
    ck_assert_int_eq(a->on, b->on);
    ck_assert_int_eq(a->outcome, b->outcome);
    ck_assert(same(a->age, b->age) && same(a->reading_error, b->reading_error));
    ck_assert(same(a->correlation, b->correlation));
    for (int k = 0; k < HOBBLE_CHANNELS; k++)
        check_readings(&a->channel[k], &b->channel[k]);
}

static void check_same_lists(const hobble_case *a, const hobble_case *b)
{
    ck_assert_uint_eq(hobble_case_evidence_count(a), hobble_case_evidence_count(b));
    for (size_t i = 0; i < hobble_case_evidence_count(a); i++)
        check_same_item(hobble_case_evidence_at(a, i), hobble_case_evidence_at(b, i));
    ck_assert(hobble_case_evidence_at(a, hobble_case_evidence_count(a)) == NULL);
}

/* As a profile of a tyre and as a bench case; a clone has the same list. */
START_TEST(lists_round_trip)
{
    for (int n = 0; n < LISTS; n++) {
        hobble_case *from = hobble_case_new(), *back = hobble_case_new();
        const int items = random_below(&source, HOBBLE_EVIDENCE_MAX / 4);
        for (int i = 0; i < items; i++) {
            struct hobble_evidence item;
            random_item(&item);
            ck_assert_msg(hobble_case_evidence_add(from, &item, &faults) == HOBBLE_OK, "%s: %s: %s",
                          faults.item[0].key, faults.item[0].given, faults.item[0].allowed);
        }
        char *text = NULL;
        size_t size = 0;
        FILE *out = open_memstream(&text, &size);
        ck_assert_int_eq(
            n % 2 ? hb_profile_write(out, from, HOBBLE_TYRE) : hb_case_write(out, from), HOBBLE_OK);
        fclose(out);
        ck_assert_msg(hb_profile_read_text(text, size, "written", HB_ANY_KIND, back, NULL,
                                           &faults) == HOBBLE_OK,
                      "%d: %s: %s", faults.item[0].line, faults.item[0].key,
                      faults.item[0].allowed);
        check_same_lists(from, back);
        hobble_case *clone = hobble_case_clone(back);
        check_same_lists(from, clone);
        hobble_case_assign(clone, c);
        ck_assert_uint_eq(hobble_case_evidence_count(clone), 0);
        hobble_case_free(clone);
        hobble_case_free(from);
        hobble_case_free(back);
        free(text);
    }
}
END_TEST

/* ---- limits ---------------------------------------------------------------------------------- */

/* A good item of a kind. */
static struct hobble_evidence good_item(enum hobble_evidence_kind kind)
{
    struct hobble_evidence item;
    hobble_evidence_begin(kind, &item);
    hobble_fault_text(item.source, "test");
    item.load_share = 0.7;
    item.distance = 90e3;
    item.of = HOBBLE_RUN_ANOTHER_UNIT;
    item.outcome = HOBBLE_RUN_SURVIVED;
    return item;
}

static enum hobble_status with_number(enum hobble_evidence_kind kind,
                                      const struct hobble_evidence_row *row, double shown)
{
    struct hobble_evidence item = good_item(kind);
    const double si = hobble_unit_to_si(row->param.unit, shown);
    char *to =
        (char *)(row->place == HOBBLE_IN_CHANNEL ? (void *)&item.channel[2] : &item) + row->at;
    if (row->param.unit == HOBBLE_UNIT_WHOLE) {
        const int whole = (int)shown;
        memcpy(to, &whole, sizeof whole);
    } else
        memcpy(to, &si, sizeof si);
    memset(&faults, 0, sizeof faults);
    return hobble_case_evidence_add(c, &item, &faults);
}

START_TEST(every_number_keeps_its_limits)
{
    size_t rows, tried = 0;
    const struct hobble_evidence_row *row = hobble_evidence_table(&rows);
    for (size_t i = 0; i < rows; i++)
        for (int kind = 0; kind < HOBBLE_EVIDENCE_KINDS; kind++) {
            const struct hobble_param *p = &row[i].param;
            const bool field = row[i].place <= HOBBLE_IN_CHANNEL && p->kind == HOBBLE_NUMBER;
            const double out = p->unit == HOBBLE_UNIT_WHOLE ? 1.0 : 1e-6 * (p->max - p->min);
            if (!field || !(row[i].kinds >> kind & 1u))
                continue;
            const enum hobble_evidence_kind of = (enum hobble_evidence_kind)kind;
            const double bad[] = {p->min - out, p->max + out, (double)INFINITY};
            ck_assert_int_eq(with_number(of, &row[i], p->min), HOBBLE_OK);
            ck_assert_int_eq(with_number(of, &row[i], p->max), HOBBLE_OK);
            for (int k = 0; k < (p->unit == HOBBLE_UNIT_WHOLE ? 2 : 3); k++) {
                ck_assert_msg(with_number(of, &row[i], bad[k]) == HOBBLE_E_RANGE, "%s %g", p->key,
                              bad[k]);
                ck_assert_uint_eq(faults.count, 1);
                ck_assert(strstr(faults.item[0].key, p->key) != NULL);
                ck_assert_str_ne(faults.item[0].allowed, "");
            }
            hobble_case_free(c);
            c = hobble_case_new();
            tried++;
        }
    ck_assert_uint_ge(tried, 12);
}
END_TEST

static void check_refused(const struct hobble_evidence *item, enum hobble_status status,
                          const char *key)
{
    memset(&faults, 0, sizeof faults);
    ck_assert_int_eq(hobble_case_evidence_add(c, item, &faults), status);
    ck_assert_uint_eq(faults.count, 1);
    ck_assert_str_eq(faults.item[0].key, key);
    ck_assert_uint_eq(hobble_case_evidence_count(c), 0);
}

START_TEST(what_contradicts_itself_is_refused)
{
    struct hobble_evidence item = good_item(HOBBLE_EVIDENCE_RUN);
    const double time[] = {60.0, 90e3}, celsius[] = {50.0, 60.0};
    hobble_evidence_begin(HOBBLE_EVIDENCE_STATEMENT, &item);
    memset(&faults, 0, sizeof faults);
    ck_assert_int_eq(hobble_case_evidence_add(c, &item, &faults), HOBBLE_E_MISSING);
    ck_assert_uint_eq(faults.count, 3); /* source, load_share, distance */
    item = good_item(HOBBLE_EVIDENCE_RUN);
    memset(&item.of, 0xff, sizeof item.of);
    check_refused(&item, HOBBLE_E_MISSING, "of");
    item = good_item(HOBBLE_EVIDENCE_RUN);
    item.of = HOBBLE_RUN_THIS_UNIT;
    item.age = 1.0;
    check_refused(&item, HOBBLE_E_CONFLICT, "age");
    item = good_item(HOBBLE_EVIDENCE_RUN); /* 90 km at 80 km/h are not 25 h */
    ck_assert_int_eq(hobble_evidence_readings(&item, HOBBLE_CHANNEL_OUTER, time, celsius, 2, NULL),
                     HOBBLE_OK);
    check_refused(&item, HOBBLE_E_CONFLICT, "outer.at");
    item = good_item(HOBBLE_EVIDENCE_RUN);
    memset(item.source, 'x', sizeof item.source);
    check_refused(&item, HOBBLE_E_TOO_LARGE, "source");
    item = good_item(HOBBLE_EVIDENCE_RUN);
    item.channel[1].count = HOBBLE_READINGS_MAX + 1;
    check_refused(&item, HOBBLE_E_TOO_LARGE, "outer.at");
    item.kind = HOBBLE_EVIDENCE_KINDS;
    check_refused(&item, HOBBLE_E_RANGE, "kind");
}
END_TEST

/* ---- what counts once ------------------------------------------------------------------------ */

START_TEST(the_same_line_counts_once)
{
    static const char text[] = "kind = \"tyre\"; evidence = (\n"
                               "{ kind = \"approval\"; },\n{ kind = \"approval\"; } );";
    static const char bench[] = "kind = \"bench\"; evidence = (\n{ kind = \"approval\"; } );";
    for (int i = 0; i < 2; i++)
        ck_assert_int_eq(
            hb_profile_read_text(text, sizeof text - 1, "folder/a", HB_ANY_KIND, c, NULL, &faults),
            HOBBLE_OK);
    ck_assert_uint_eq(hobble_case_evidence_count(c), 2); /* alike, but in two lines */
    ck_assert_int_eq(
        hb_profile_read_text(bench, sizeof bench - 1, "b", HB_ANY_KIND, c, NULL, &faults),
        HOBBLE_OK);
    ck_assert_uint_eq(hobble_case_evidence_count(c), 3);
    ck_assert_str_eq(hobble_case_evidence_at(c, 1)->origin, "a:3");
    ck_assert_str_eq(hobble_case_evidence_at(c, 2)->origin, "b:2");
    /* of no file: nothing says that it is the same */
    const struct hobble_evidence item = good_item(HOBBLE_EVIDENCE_RUN);
    for (int i = 3; i < HOBBLE_EVIDENCE_MAX; i++)
        ck_assert_int_eq(hobble_case_evidence_add(c, &item, &faults), HOBBLE_OK);
    ck_assert_uint_eq(hobble_case_evidence_count(c), HOBBLE_EVIDENCE_MAX);
    ck_assert_int_eq(hobble_case_evidence_add(c, &item, &faults), HOBBLE_E_TOO_LARGE);
    ck_assert_uint_eq(faults.count, 1);
}
END_TEST

/* ---- readings -------------------------------------------------------------------------------- */

/* Expected: walked through here once more, reading by reading. */
START_TEST(readings_are_thinned)
{
    static double time[LONG], celsius[LONG];
    struct hobble_evidence item = good_item(HOBBLE_EVIDENCE_RUN), again;
    const struct hobble_readings *r = &item.channel[HOBBLE_CHANNEL_INNER];
    for (int i = 0; i < LONG; i++) {
        time[i] = 0.4 * i; /* a bit over an hour */
        celsius[i] = 20.0 + 0.001 * i;
    }
    ck_assert_int_eq(
        hobble_evidence_readings(&item, HOBBLE_CHANNEL_INNER, time, celsius, LONG, NULL),
        HOBBLE_OK);
    ck_assert_int_eq(r->count, 14); /* 0, 5, .. 65 min of 66.7 */
    for (int i = 0; i < r->count; i++) {
        ck_assert_double_eq_tol(r->time[i], 300.0 * i, 1e-9);
        ck_assert_double_eq_tol(r->celsius[i], 20.0 + 0.001 * 750 * i, 1e-9);
    }
    item.correlation = 6.0; /* 0.1 min: more than there is room for, so evenly */
    ck_assert_int_eq(
        hobble_evidence_readings(&item, HOBBLE_CHANNEL_INNER, time, celsius, LONG, NULL),
        HOBBLE_OK);
    ck_assert_int_ge(r->count, HOBBLE_READINGS_MAX - 2);
    for (int i = 1; i < r->count; i++)
        ck_assert_double_eq_tol(r->time[i] - r->time[i - 1], 63.6, 0.5);
    again = item; /* what was kept is kept */
    ck_assert_int_eq(hobble_evidence_readings(&again, HOBBLE_CHANNEL_INNER, r->time, r->celsius,
                                              (size_t)r->count, NULL),
                     HOBBLE_OK);
    check_readings(r, &again.channel[HOBBLE_CHANNEL_INNER]);
}
END_TEST

START_TEST(bad_readings_change_nothing)
{
    static const struct {
        double time[3], celsius[3];
        enum hobble_status status;
        const char *key;
    } bad[] = {
        {{0, 60, 60}, {20, 30, 40}, HOBBLE_E_CONFLICT, "cavity.at"},
        {{0, 60, 30}, {20, 30, 40}, HOBBLE_E_CONFLICT, "cavity.at"},
        {{-1, 60, 90}, {20, 30, 40}, HOBBLE_E_RANGE, "cavity.at"},
        {{0, 60, 172860}, {20, 30, 40}, HOBBLE_E_RANGE, "cavity.at"},
        {{0, (double)NAN, 90}, {20, 30, 40}, HOBBLE_E_RANGE, "cavity.at"},
        {{0, 60, 90}, {20, 301, 40}, HOBBLE_E_RANGE, "cavity.read"},
        {{0, 60, 90}, {20, 30, -41}, HOBBLE_E_RANGE, "cavity.read"},
        {{0, 60, 90}, {(double)NAN, 30, 40}, HOBBLE_E_RANGE, "cavity.read"},
    };
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
        struct hobble_evidence item = good_item(HOBBLE_EVIDENCE_RUN);
        memset(&faults, 0, sizeof faults);
        ck_assert_int_eq(hobble_evidence_readings(&item, HOBBLE_CHANNEL_CAVITY, bad[i].time,
                                                  bad[i].celsius, 3, &faults),
                         bad[i].status);
        ck_assert_uint_eq(faults.count, 1);
        ck_assert_str_eq(faults.item[0].key, bad[i].key);
        ck_assert_int_eq(item.channel[HOBBLE_CHANNEL_CAVITY].count, 0);
    }
    struct hobble_evidence none = good_item(HOBBLE_EVIDENCE_APPROVAL);
    ck_assert_int_eq(hobble_evidence_readings(&none, HOBBLE_CHANNEL_CAVITY, bad[0].time,
                                              bad[0].celsius, 1, NULL),
                     HOBBLE_E_CONFLICT);
    none.kind = HOBBLE_EVIDENCE_RUN;
    ck_assert_int_eq(
        hobble_evidence_readings(&none, HOBBLE_CHANNELS, bad[0].time, bad[0].celsius, 1, NULL),
        HOBBLE_E_CONFLICT);
}
END_TEST

/* ---- tables of readings ---------------------------------------------------------------------- */

START_TEST(tables_are_read)
{
    static const char text[] = "\xEF\xBB\xBF\"time_min\",outer_c,cavity_c\r\n"
                               "0, 18.5 ,\r\n5,,40\r\n,,\r\n\r\n7.5,20,\"41\"\r\n12.5,-3e1,";
    struct hobble_evidence item = good_item(HOBBLE_EVIDENCE_RUN);
    ck_assert_int_eq(hb_run_read_text(text, sizeof text - 1, "x", &item, &faults), HOBBLE_OK);
    const struct hobble_readings *outer = &item.channel[HOBBLE_CHANNEL_OUTER],
                                 *cavity = &item.channel[HOBBLE_CHANNEL_CAVITY];
    ck_assert_int_eq(outer->count, 3);
    ck_assert_int_eq(cavity->count, 1); /* 2.5 min after the one before says nothing new */
    ck_assert_int_eq(item.channel[HOBBLE_CHANNEL_INNER].count, 0);
    ck_assert_double_eq(outer->time[1], 450.0);
    ck_assert_double_eq(outer->celsius[0], 18.5);
    ck_assert_double_eq(outer->celsius[2], -30.0);
    ck_assert_double_eq(cavity->time[0], 300.0);
    ck_assert_double_eq(cavity->celsius[0], 40.0);
}
END_TEST

START_TEST(bad_tables_are_refused)
{
    static const struct {
        const char *text;
        int line;
        const char *key, *given;
        enum hobble_status status;
        const char *allowed;
    } bad[] = {
        {"", 0, "", "", HOBBLE_E_MISSING, "at least one reading"},
        {"time_min,inner_c\n", 1, "", "", HOBBLE_E_MISSING, "at least one reading"},
        {"time_min,inner_c\n5,\n", 2, "", "", HOBBLE_E_MISSING, "at least one reading"},
        {"time_min\n5\n", 1, "first line", "", HOBBLE_E_MISSING, "one of inner_c"},
        {"inner_c\n5\n", 1, "time_min", "", HOBBLE_E_MISSING, "a column of this name"},
        {"5,inner_c\n6,61\n", 1, "first line", "5", HOBBLE_E_UNKNOWN, "time_min, inner_c"},
        {"time_min,inner\n5,60\n", 1, "first line", "inner", HOBBLE_E_UNKNOWN, "inner_c"},
        {"time_min,inner_c,inner_c\n5,6,7\n", 1, "first line", "inner_c", HOBBLE_E_DUPLICATE,
         "once"},
        {"time_min,inner_c\n5,60\n5,61\n", 3, "time_min", "5", HOBBLE_E_CONFLICT, "later"},
        {"time_min,inner_c\n5,60\n4,61\n", 3, "time_min", "4", HOBBLE_E_CONFLICT, "later"},
        {"time_min,inner_c\n5,60,1\n", 2, "", "3 cells", HOBBLE_E_SYNTAX, "2 cells"},
        {"time_min,inner_c\n5\n", 2, "", "1 cells", HOBBLE_E_SYNTAX, "2 cells"},
        {"time_min,inner_c\n5,301\n", 2, "inner_c", "301", HOBBLE_E_RANGE, "-40 to 300"},
        {"time_min,inner_c\n5,-41\n", 2, "inner_c", "-41", HOBBLE_E_RANGE, "-40 to 300"},
        {"time_min,inner_c\n5,nan\n", 2, "inner_c", "nan", HOBBLE_E_SYNTAX, "-40 to 300"},
        {"time_min,inner_c\n5,0x10\n", 2, "inner_c", "0x10", HOBBLE_E_SYNTAX, "-40 to 300"},
        {"time_min,inner_c\n5,60 C\n", 2, "inner_c", "60 C", HOBBLE_E_SYNTAX, "-40 to 300"},
        {"time_min,inner_c\n-1,60\n", 2, "time_min", "-1", HOBBLE_E_RANGE, "0 to 2880"},
        {"time_min,inner_c\n2881,60\n", 2, "time_min", "2881", HOBBLE_E_RANGE, "0 to 2880"},
        {"time_min,inner_c\n,60\n", 2, "time_min", "", HOBBLE_E_MISSING, "0 to 2880"},
        {"time_min,inner_c\n5,\"60\n", 2, "", "", HOBBLE_E_SYNTAX, "quotes"},
    };
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
        struct hobble_evidence item = good_item(HOBBLE_EVIDENCE_RUN);
        memset(&faults, 0, sizeof faults);
        const enum hobble_status status =
            hb_run_read_text(bad[i].text, strlen(bad[i].text), "x.csv", &item, &faults);
        const struct hobble_fault *f = &faults.item[0];
        ck_assert_msg(status == bad[i].status && faults.count == 1, "%zu: %d %zu", i, status,
                      faults.count);
        ck_assert_msg(f->line == bad[i].line, "%zu: line %d", i, f->line);
        ck_assert_str_eq(f->key, bad[i].key);
        ck_assert_str_eq(f->file, "x.csv");
        ck_assert_msg(strstr(f->allowed, bad[i].allowed) != NULL, "%zu: %s", i, f->allowed);
        if (*bad[i].given)
            ck_assert_str_eq(f->given, bad[i].given);
        for (int k = 0; k < HOBBLE_CHANNELS; k++)
            ck_assert_int_eq(item.channel[k].count, 0);
    }
    struct hobble_evidence item = good_item(HOBBLE_EVIDENCE_RUN);
    ck_assert_int_eq(hb_run_read_text("time_min,inner_c\n5,\0", 20, "x", &item, NULL),
                     HOBBLE_E_SYNTAX);
    /* a long table tells its first faults alone */
    char text[2000] = "time_min,inner_c\n";
    for (size_t i = 0, used = strlen(text); i < 100; i++, used = strlen(text))
        snprintf(text + used, sizeof text - used, "x,999\n");
    memset(&faults, 0, sizeof faults);
    ck_assert_int_eq(hb_run_read_text(text, strlen(text), "x", &item, &faults), HOBBLE_E_SYNTAX);
    ck_assert_uint_eq(faults.count, 8);
}
END_TEST

/* ---- what a list may name -------------------------------------------------------------------- */

START_TEST(a_profile_opens_nothing_outside)
{
    static const char *const names[] = {
        "/etc/passwd", "../a.csv", "runs/../../a.csv", "..", "runs/../a.csv", "", "./../x"};
    for (size_t i = 0; i < sizeof names / sizeof *names; i++) {
        char text[300];
        snprintf(text, sizeof text,
                 "kind = \"tyre\"; evidence = ( { kind = \"run\"; of = \"this unit\"; load_share = "
                 "0.5; outcome = \"ended\"; at = 9; file = \"%s\"; } );",
                 names[i]);
        memset(&faults, 0, sizeof faults);
        ck_assert_int_eq(
            hb_profile_read_text(text, strlen(text), "x", HB_ANY_KIND, c, NULL, &faults),
            HOBBLE_E_SYNTAX);
        ck_assert_str_eq(faults.item[0].key, "evidence[1].file");
        ck_assert_uint_eq(faults.count, 1);
    }
}
END_TEST

/* ---- what rests on it ------------------------------------------------------------------------ */

/* An answer takes evidence in; the bench looks at the tyre alone. */
START_TEST(no_answer_leaves_it_out)
{
    static struct hobble_answer range;
    static struct hobble_rule_answer rule;
    static struct hobble_why why;
    static struct hobble_wall wall;
    static struct hobble_life life;
    static struct hobble_mark_worth mark;
    static struct hobble_condition_answer bench;
    static struct hobble_trace_point trace[HOBBLE_TRACE_POINTS];
    double untold = 0.0;
    struct hobble_evidence item = good_item(HOBBLE_EVIDENCE_RUN);
    item.outcome = HOBBLE_RUN_ENDED; /* bad news moves the middle of twenty, too */
    item.distance = 70e3;
    hobble_case_set_number(c, hobble_param_find("members"), 20.0, "test", NULL);
    for (int with = 0; with < 2; with++) {
        ck_assert_int_eq(hobble_range(c, 1, &range, &faults), HOBBLE_OK);
        ck_assert_int_eq(range.evidence_items, with);
        ck_assert_int_eq(range.range.p50 < range.unconditioned.p50 ||
                             range.range.p50 > range.unconditioned.p50,
                         with);
        ck_assert_int_eq(hobble_trace(c, 1, 1e4, trace, &faults), HOBBLE_OK);
        ck_assert_int_eq(hobble_rule(c, 80.0 / 3.6, 80e3, 1, &rule, &faults), HOBBLE_OK);
        ck_assert_int_eq(hobble_life_make(c, 1, &life, &faults), HOBBLE_OK);
        ck_assert_int_eq(hobble_why_find(c, 1, &why, &faults), HOBBLE_OK);
        ck_assert_int_eq(hobble_condition_judge(c, 1, &bench, &faults), HOBBLE_OK);
        ck_assert_int_eq(hobble_wall_make(c, &wall, &faults), HOBBLE_OK);
        ck_assert_int_eq(wall.evidence_items, with);
        if (with)
            ck_assert_double_lt(wall.way[HOBBLE_WALL_TIMES - 1], untold);
        untold = wall.way[HOBBLE_WALL_TIMES - 1];
        ck_assert_int_eq(hobble_mark_make(c, 1, &mark, &faults), HOBBLE_OK);
        ck_assert_int_eq(mark.evidence_items, with);
        if (with)
            ck_assert_double_lt(mark.known[1].at, mark.after[1].at);
        hobble_case_evidence_add(c, &item, NULL);
    }
}
END_TEST

/* ---- what is told ---------------------------------------------------------------------------- */

static void told(const json_t *item, const char *key, double must)
{
    const json_t *value = json_object_get(item, key);
    ck_assert_msg(json_is_number(value), "%s", key);
    ck_assert_msg(fabs(json_number_value(value) - must) <= 1e-9 * fabs(must), "%s", key);
}

START_TEST(items_are_told)
{
    const struct hb_profile_shown shown = {"x", HOBBLE_TYRE};
    struct hobble_evidence item = good_item(HOBBLE_EVIDENCE_RUN);
    const double time[] = {60.0, 600.0}, celsius[] = {50.0, 60.5};
    item.age = 3.0 * 31557600.0;
    hobble_evidence_readings(&item, HOBBLE_CHANNEL_SHOULDER, time, celsius, 2, NULL);
    hobble_case_evidence_add(c, &item, NULL);
    item = good_item(HOBBLE_EVIDENCE_APPROVAL);
    item.specimens = 7;
    hobble_case_evidence_add(c, &item, NULL);
    item = good_item(HOBBLE_EVIDENCE_STATEMENT);
    hobble_case_evidence_add(c, &item, NULL);
    json_t *json = hb_render_json(&hb_profile_show_answer, c, &shown);
    const json_t *list = json_object_get(json, "evidence"), *run = json_array_get(list, 0);
    ck_assert_uint_eq(json_array_size(list), 3);
    ck_assert_str_eq(json_string_value(json_object_get(run, "of")), "another unit");
    ck_assert_str_eq(json_string_value(json_object_get(run, "outcome")), "survived");
    ck_assert_str_eq(json_string_value(json_object_get(run, "on")), "road");
    told(run, "at_km", 90.0);
    told(run, "speed_kmh", 80.0);
    told(run, "ambient_c", 25.0);
    told(run, "load_share", 0.7);
    told(run, "age_years", 3.0);
    told(run, "reading_error_share", 0.03);
    told(run, "correlation_min", 5.0);
    const json_t *channels = json_object_get(run, "temperatures");
    ck_assert_uint_eq(json_array_size(channels), 1);
    const json_t *channel = json_array_get(channels, 0);
    ck_assert_str_eq(json_string_value(json_object_get(channel, "channel")), "shoulder");
    told(channel, "offset_k", 3.0);
    told(channel, "scatter_k", 2.0);
    ck_assert_double_eq_tol(
        json_number_value(json_array_get(json_object_get(channel, "at_min"), 1)), 10.0, 1e-9);
    ck_assert_double_eq_tol(
        json_number_value(json_array_get(json_object_get(channel, "read_c"), 1)), 60.5, 1e-9);
    told(json_array_get(list, 1), "specimens", 7.0);
    ck_assert(json_object_get(json_array_get(list, 1), "load_share") == NULL);
    told(json_array_get(list, 2), "distance_km", 90.0);
    ck_assert_str_eq(json_string_value(json_object_get(json_array_get(list, 2), "source")), "test");
    json_decref(json);
}
END_TEST

Suite *evidence_suite(void)
{
    Suite *suite = suite_create("evidence");
    TCase *tests = tcase_create("evidence");
    tcase_add_checked_fixture(tests, setup, teardown);
    tcase_set_timeout(tests, 60);
    tcase_add_test(tests, lists_round_trip);
    tcase_add_test(tests, every_number_keeps_its_limits);
    tcase_add_test(tests, what_contradicts_itself_is_refused);
    tcase_add_test(tests, the_same_line_counts_once);
    tcase_add_test(tests, readings_are_thinned);
    tcase_add_test(tests, bad_readings_change_nothing);
    tcase_add_test(tests, tables_are_read);
    tcase_add_test(tests, bad_tables_are_refused);
    tcase_add_test(tests, a_profile_opens_nothing_outside);
    tcase_add_test(tests, no_answer_leaves_it_out);
    tcase_add_test(tests, items_are_told);
    suite_add_tcase(suite, tests);
    return suite;
}
