/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test_drawn.c - the words of the driver's picture are read back: each number against the answer
 * that was drawn, on the safe side of it, and none besides. Marks of the axes are passed over. */
#include "ask.h"
#include "random_case.h"
#include "read_back.h"
#include "report/picture/charts.h"

#include <check.h>
#include <ctype.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

Suite *drawn_suite(void);

enum { MOST = 6, FLAT = 70000 /* Pa; below it no air is drawn: the advice's own rule */ };

struct drawn {
    const struct hobble_answer *a;
    const struct hobble_trace_point *end;
    bool us;
};

/* What stands behind the words of one label; returns how many numbers. -1: nobody knows it. */
static int numbers_of(const struct drawn *d, const char *text, struct expected e[MOST])
{
    const struct hobble_answer *a = d->a;
    const bool us = d->us;
    const double driven = a->run_seen + a->run_unseen;
    const struct expected air = {us ? a->pressure_now / 6894.757 : a->pressure_now / 1e3, NEAR,
                                 1.0};
    const struct expected pace = {told_pace(a->advised_speed, us), DOWN, 1.0};
    const struct {
        const char *begin;
        struct expected e[MOST];
        int count;
    } row[] = {
        {"GO", {{told_length(a->advised_distance, us), DOWN, FINE}, pace}, 2},
        {"advised: ", {{told_length(a->advised_distance, us), DOWN, FINE}}, 1},
        {"the ",
         {{told_length(a->cap, us), DOWN, FINE}, {told_length(driven, us), UP, FINE}},
         driven > 0.0 ? 2 : 1},
        {"destination: ", {{told_length(a->to, us), NEAR, 2.0}}, 1},
        {"wall limit, ", {{told_degrees(a->limit, us), DOWN, 1.0}}, 1},
        {"still carrying: ", {{100.0 * d->end->alive, DOWN, 1.0}, {100, EXACT, 1.0}}, 2},
        {"95 of 100 ", {{95, EXACT, 1.0}, {100, EXACT, 1.0}}, 2},
        {"5 of 100 ", {{5, EXACT, 1.0}, {100, EXACT, 1.0}}, 2},
        {"drawn for ",
         {pace,
          {told_force(a->load, us), UP, 1.0},
          {100.0 * a->load_share, UP, 1.0},
          {told_degrees(a->ambient, us), NEAR, 1.0}},
         4},
    };
    for (size_t i = 0; i < sizeof row / sizeof *row; i++)
        if (strncmp(text, row[i].begin, strlen(row[i].begin)) == 0) {
            memcpy(e, row[i].e, sizeof row[i].e);
            if (strcmp(row[i].begin, "drawn for ") != 0 || a->taken_as_empty ||
                a->pressure_now < FLAT)
                return row[i].count;
            memmove(e + 2, e + 1, 3 * sizeof *e);
            e[1] = air;
            return row[i].count + 1;
        }
    return -1;
}

/* One label. Returns whether it tells a number of the answer. */
static bool read_label(const struct drawn *d, const char *text)
{
    static const char *const constant[] = {"EXAMPLE", "Tyre: "};
    struct expected e[MOST] = {{0}};
    bool letters = false, digits = false;
    for (const char *p = text; *p; p++) {
        letters = letters || isalpha((unsigned char)*p);
        digits = digits || isdigit((unsigned char)*p);
    }
    for (size_t i = 0; i < sizeof constant / sizeof *constant; i++)
        if (strncmp(text, constant[i], strlen(constant[i])) == 0)
            return false;
    if (!letters || !digits)
        return false;
    const int count = numbers_of(d, text, e);
    ck_assert_msg(count >= 0, "nobody knows what this is: %s", text);
    read_numbers(text, e, count);
    return true;
}

/* All labels of an SVG: what stands between <text and </text>, without its marks. */
static int read_picture(const struct drawn *d, const char *svg)
{
    int told = 0;
    for (const char *at = svg; (at = strstr(at, "<text")) != NULL;) {
        char text[1000];
        size_t n = 0;
        bool mark = false;
        const char *end = strstr(at, "</text>");
        ck_assert_ptr_nonnull(end);
        for (; at < end && n + 1 < sizeof text; at++) {
            mark = mark || *at == '<';
            if (!mark && (n > 0 || !isspace((unsigned char)*at)))
                text[n++] = *at;
            mark = mark && *at != '>';
        }
        text[n] = '\0';
        told += read_label(d, text);
        at = end;
    }
    return told;
}

static char *draw(const hobble_case *c, const struct drawn *d,
                  const struct hobble_trace_point trace[HOBBLE_TRACE_POINTS])
{
    const char *top = getenv("TOP_BUILDDIR");
    char path[1000];
    char *text = calloc(1, 1 << 20);
    snprintf(path, sizeof path, "%s/tests/drawn.%ld.svg", top ? top : ".", (long)getpid());
    ck_assert_int_eq(hb_chart_range(path, c, d->a, trace, d->us), HOBBLE_OK);
    FILE *f = fopen(path, "rb");
    ck_assert(f != NULL && text != NULL);
    ck_assert_uint_gt(fread(text, 1, (1 << 20) - 1, f), 1000);
    fclose(f);
    remove(path);
    return text;
}

/* Source: the answer, and definitions of units. */
START_TEST(read_back)
{
    struct random_source source = {23};
    int stops = 0, told = 0;
    const int count = random_count("HOBBLE_DRAWN", 8);
    for (int i = 0; i < count; i++) {
        struct hobble_trace_point trace[HOBBLE_TRACE_POINTS];
        hobble_case *c = ask_random(&source);
        const struct hobble_answer a = ask(c);
        const struct drawn d = {&a, &trace[HOBBLE_TRACE_POINTS - 1], i % 2};
        ck_assert_int_eq(hobble_trace(c, 1, 100.0 * KM, trace, NULL), HOBBLE_OK);
        char *svg = draw(c, &d, trace);
        const int here = read_picture(&d, svg);
        /* the verdict and the advice, what it is drawn for, the cap, the limit, those that carry,
         * four quantiles */
        const bool stop = a.verdict == HOBBLE_STOP;
        if (!a.rim_at_start && !a.stop[HOBBLE_STOP_CONTRADICTION])
            ck_assert_int_ge(here, stop ? 7 : 9);
        stops += stop;
        told += here;
        free(svg);
        hobble_case_free(c);
    }
    ck_assert(stops > 0 && stops < count && told > 6 * count);
}
END_TEST

Suite *drawn_suite(void)
{
    Suite *suite = suite_create("drawn");
    TCase *all = tcase_create("drawn");
    tcase_set_timeout(all, 120.0);
    tcase_add_test(all, read_back);
    suite_add_tcase(suite, all);
    return suite;
}
