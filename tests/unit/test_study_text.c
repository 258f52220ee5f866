/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test_study_text.c - the numbers that why, map and show print for a person, parsed and held
 * against the struct that they were made of: the right one, in the unit that was asked for, rounded
 * to the safe side. Sources of all: the struct, and definitions of units (mile, degree Fahrenheit).
 */
#include "ask.h"
#include "report/text/answers.h"

#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

Suite *study_text_suite(void);

enum side { DOWN = -1, NEAR = 0, UP = 1 };

static void shown(const char *what, double shown, double is, double step, enum side side)
{
    const double hair = 1e-6 * fmax(1.0, fabs(is)), off = shown - is;
    const double least = side == UP ? 0.0 : side == DOWN ? -step : -0.5 * step;
    const double most = side == UP ? step : side == DOWN ? 0.0 : 0.5 * step;
    ck_assert_msg(off >= least - hair && off <= most + hair, "%s: %.6g stands for %.6g", what,
                  shown, is);
}

static double way(double metres, bool us)
{
    return metres / (us ? 1609.344 : 1000.0);
}

static double speed(double si, bool us)
{
    return si * 3600.0 / (us ? 1609.344 : 1000.0);
}

static double heat(double kelvin, bool us)
{
    return us ? (kelvin - 273.15) * 1.8 + 32.0 : kelvin - 273.15;
}

/* A distance that may still be driven: tenths below ten. */
static void shown_way(const char *what, double km, double metres, bool us)
{
    shown(what, km, way(metres, us), way(metres, us) < 10.0 ? 0.1 : 1.0, DOWN);
}

struct page {
    char *text, *at;
    size_t size;
    FILE *f;
};

static FILE *open_page(struct page *p)
{
    p->f = open_memstream(&p->text, &p->size);
    ck_assert_ptr_nonnull(p->f);
    return p->f;
}

/* Closes it and goes to what stands behind these words. */
static void go_behind(struct page *p, const char *words)
{
    if (p->f)
        fclose(p->f);
    if (p->f)
        p->at = p->text;
    p->f = NULL;
    p->at = strstr(p->at, words);
    ck_assert_msg(p->at != NULL, "'%s' is not in\n%s", words, p->text);
    p->at += strlen(words);
}

static char *next_line(struct page *p)
{
    char *line = p->at, *end = strchr(line, '\n');
    ck_assert_ptr_nonnull(end);
    *end = '\0';
    p->at = end + 1;
    return line;
}

/* Every one of these characters becomes a blank. */
static char *blanked(char *line, const char *marks)
{
    for (char *c = line; *c; c++)
        if (strchr(marks, *c))
            *c = ' ';
    return line;
}

/* The first numbers of a line. */
static void numbers(const char *line, double *at, int count)
{
    int n = 0;
    for (const char *c = line; *c && n < count;) {
        const char first = c[*c == '-' || *c == '+'];
        char *end = NULL;
        if (first >= '0' && first <= '9')
            at[n++] = strtod(c, &end);
        c = end ? end : c + 1;
    }
    ck_assert_msg(n == count, "%d of %d numbers are in '%s'", n, count, line);
}

static hobble_case *question(int members, bool us)
{
    hobble_case *c = ask_vouched(members);
    ask_set(c, "load_share", us ? 0.62 : 0.78);
    ask_set(c, "speed", us ? 95.0 : 72.0);
    ask_set(c, "ambient", us ? -3.3 : 21.7);
    return c;
}

/* ---- show ------------------------------------------------------------------------------------ */

START_TEST(wall_text)
{
    const bool us = _i == 1;
    static struct hobble_wall w;
    struct page p = {0};
    hobble_case *c = question(20, us);
    ck_assert_int_eq(hobble_wall_make(c, &w, NULL), HOBBLE_OK);
    hb_wall_text(open_page(&p), c, &w, us);
    go_behind(&p, "outer face\n");
    for (int i = 0; i <= 12; i++) {
        double at[5];
        const int k = 10 * i;
        numbers(next_line(&p), at, 5);
        shown("time", at[0], w.time[k] / MINUTE, 1.0, NEAR);
        shown("way", at[1], way(w.way[k], us), 0.1, NEAR);
        shown("inner face", at[2], heat(w.kelvin[k][0], us), 1.0, UP);
        shown("middle", at[3], heat(w.kelvin[k][HOBBLE_WALL_PLACES / 2], us), 1.0, UP);
        shown("outer face", at[4], heat(w.kelvin[k][HOBBLE_WALL_PLACES - 1], us), 1.0, UP);
    }
    free(p.text);
    hobble_case_free(c);
}
END_TEST

START_TEST(life_text)
{
    const bool us = _i == 1;
    static struct hobble_life life;
    struct page p = {0};
    hobble_case *c = question(40, us);
    ck_assert_int_eq(hobble_life_make(c, 1, &life, NULL), HOBBLE_OK);
    hb_life_text(open_page(&p), c, &life, us);
    go_behind(&p, "carrying\n");
    for (int i = 0; i <= 16; i++) {
        double at[8];
        const struct hobble_life_point *is = &life.point[(life.count - 1) * i / 16];
        numbers(next_line(&p), at, 8);
        shown("time", at[0], is->time / MINUTE, 1.0, NEAR);
        shown("way", at[1], way(is->way, us), 0.1, NEAR);
        shown("speed", at[2], speed(is->speed, us), 1.0, NEAR);
        shown("wall", at[3], heat(is->wall50, us), 1.0, UP);
        shown("life 5", at[4], 100.0 * is->life5, 1.0, UP);
        shown("life half", at[5], 100.0 * is->life50, 1.0, UP);
        shown("life 95", at[6], 100.0 * is->life95, 1.0, UP);
        shown("carrying", at[7], 100.0 * is->alive, 0.1, DOWN);
    }
    free(p.text);
    hobble_case_free(c);
}
END_TEST

static void read_quantiles(struct page *p, const struct hobble_quantile q[3], bool us)
{
    double at[9];
    char *line = next_line(p);
    int more = 0;
    for (char *c = line; *c; c++)
        more += *c == '>';
    ck_assert_int_eq(more, q[0].cut + q[1].cut + q[2].cut);
    for (char *dots = strstr(line, ".."); dots; dots = strstr(line, ".."))
        dots[0] = dots[1] = ' ';
    numbers(blanked(line, ">()"), at, 9);
    for (int i = 0; i < 3; i++) {
        shown_way("quantile", at[3 * i], q[i].at, us);
        shown_way("its lower limit", at[3 * i + 1], q[i].low, us);
        shown_way("its upper limit", at[3 * i + 2], q[i].high, us);
    }
}

START_TEST(mark_text)
{
    const bool us = _i == 1;
    static struct hobble_mark_worth m;
    struct page p = {0};
    double types[2];
    hobble_case *c = question(60, us);
    ck_assert_int_eq(hobble_mark_make(c, 1, &m, NULL), HOBBLE_OK);
    ck_assert_int_eq(hb_mark_text(open_page(&p), c, &m, us), HOBBLE_OK);
    go_behind(&p, "\n\n");
    numbers(next_line(&p), types, 2);
    ck_assert_int_eq((int)types[0], m.passed);
    ck_assert_int_eq((int)types[1], m.tested);
    go_behind(&p, "all types");
    read_quantiles(&p, m.before, us);
    go_behind(&p, "approved types");
    read_quantiles(&p, m.after, us);
    go_behind(&p, "moved by\n");
    for (int i = 0; i < m.count; i++) {
        char *line = next_line(&p), key[64];
        const struct hobble_moments *before = &m.row_before[i], *after = &m.row_after[i];
        const char *moved = strstr(line, " deviations");
        snprintf(key, sizeof key, "%.*s", (int)strcspn(line, " "), line);
        ck_assert_str_eq(key, hobble_param_table(NULL)[m.row[i]].key);
        ck_assert_ptr_nonnull(moved);
        while (moved > line && moved[-1] != ' ')
            moved--;
        shown("moved by", strtod(moved, NULL), (after->mean - before->mean) / before->deviation,
              0.01, NEAR);
        double at[2];
        numbers(line + strlen(key), at, 2);
        shown("mean", at[0], before->mean, 1e-3 * fabs(before->mean), NEAR);
        shown("deviation", at[1], before->deviation, 1e-2 * before->deviation, NEAR);
    }
    free(p.text);
    hobble_case_free(c);
}
END_TEST

/* ---- map and why ----------------------------------------------------------------------------- */

START_TEST(map_text)
{
    const bool us = _i == 1;
    const struct hobble_axis axis[2] = {{hobble_param_find("speed"), 30.0, 110.0, 3},
                                        {hobble_param_find("load_share"), 0.3, 1.5, 4}};
    struct hobble_map m;
    struct page p = {0};
    hobble_case *c = question(24, us);
    ck_assert_int_eq(hobble_map_make(c, axis, 1, NULL, NULL, &m, NULL), HOBBLE_OK);
    ck_assert_int_eq(hb_map_text(open_page(&p), c, &m, us), HOBBLE_OK);
    go_behind(&p, "computed.\n\n");
    char *at = next_line(&p);
    for (int x = 0; x < 3; x++)
        shown("across", strtod(at, &at), m.value[0][x] / (us ? 1.609344 : 1.0), 0.1, NEAR);
    for (int y = 3; y >= 0; y--) {
        at = next_line(&p);
        shown("up", strtod(at, &at), 100.0 * m.value[1][y], 0.1, NEAR);
        for (int x = 0; x < 3; x++) {
            const int cell = 3 * y + x;
            at += strspn(at, " ");
            if (isnan(m.p5[cell])) {
                ck_assert_int_eq(strncmp(at, "rim", 3), 0);
                at += 3;
                continue;
            }
            ck_assert_int_eq(*at == '>', m.cut[cell] & 1);
            shown("range", strtod(at + (*at == '>'), &at), way(m.p5[cell], us), 1.0, DOWN);
            ck_assert_int_eq(*at == '-', !m.holds[cell]);
            at += *at == '-';
            ck_assert_int_eq(*at == '?', m.outside[cell]);
            at += *at == '?';
        }
        ck_assert_int_eq(*at, '\0');
    }
    double rule[2];
    numbers(strstr(p.at, "hold: "), rule, 2);
    shown("the rule", rule[0], way(m.rule_distance, us), 0.1, DOWN);
    shown("required", rule[1], 100.0 * m.required, 0.01, NEAR);
    free(p.text);
    hobble_map_free(&m);
    hobble_case_free(c);
}
END_TEST

/* "0.50 (0.18..0.86)", or "-" where the output does not vary; goes on behind it. */
static char *read_share(char *at, double is, double low, double high)
{
    at += strspn(at, " ");
    if (isnan(is)) {
        ck_assert_int_eq(*at, '-');
        return at + 1;
    }
    shown("share", strtod(at, &at), is, 0.01, NEAR);
    if (isnan(low))
        return at;
    at = strchr(at, '(');
    ck_assert_ptr_nonnull(at);
    char *dots = strstr(at, "..");
    ck_assert_ptr_nonnull(dots);
    *dots = '\0';
    shown("lower limit", strtod(at + 1, NULL), low, 0.01, NEAR);
    shown("upper limit", strtod(dots + 2, &at), high, 0.01, NEAR);
    return at + (*at == ')');
}

/* A row ends with its key. */
static void read_row(char *at, const struct hobble_why *w)
{
    const char *key = strrchr(at, ' ');
    int i = 0;
    ck_assert_ptr_nonnull(key);
    while (i < w->count && strcmp(hobble_param_table(NULL)[w->index[0][i].row].key, key + 1) != 0)
        i++;
    ck_assert_msg(i < w->count, "%s is no unknown", key);
    const struct hobble_index *x = &w->index[HOBBLE_WHY_RANGE][i];
    at = strstr(at, "  ");
    ck_assert_ptr_nonnull(at); /* behind the name */
    at = read_share(at, x->shapley, (double)NAN, (double)NAN);
    at = read_share(at, x->first, x->first_low, x->first_high);
    for (int k = HOBBLE_WHY_RANGE; k <= HOBBLE_WHY_PEAK; k++) {
        x = &w->index[k][i];
        at = read_share(at, x->total, x->total_low, x->total_high);
    }
    ck_assert_ptr_eq(at, key);
}

/* "STOP", or a distance; goes on behind it. */
static char *read_way(char *at, double is, bool us)
{
    at += strspn(at, " ");
    if (!(is > 0.0)) {
        ck_assert_int_eq(strncmp(at, "STOP", 4), 0);
        return at + 4;
    }
    shown_way("advice", strtod(at, &at), is, us);
    return at + strspn(at, " kmi");
}

static void read_learnt(char *line, const struct hobble_why *w, const struct hobble_learnt *x,
                        bool us)
{
    char *at = strstr(line, "  "), *best = strstr(line, " at best ");
    ck_assert_ptr_nonnull(at); /* behind what it is */
    ck_assert_int_eq(best != NULL, x->at_best && x->advice > 0.0);
    if (best)
        memset(best, ' ', strlen(" at best "));
    at = read_way(read_way(at, w->advice_now, us), x->advice, us);
    at += strspn(at, " ");
    if (isnan(x->turns))
        ck_assert_str_eq(at, "not known");
    else
        shown("turns", strtod(at, NULL), 100.0 * x->turns, 1.0, NEAR);
}

START_TEST(why_text)
{
    const bool us = _i % 2 == 1;
    static struct hobble_why w;
    struct page p = {0};
    double at[3];
    hobble_case *c = question(_i < 2 ? 24 : 240, us);
    ask_set(c, "to", us ? 350.0 : 140.0); /* some arrive */
    if (_i == 3)
        ask_set(c, "load_share", 0.9);
    ck_assert_int_eq(hobble_why_find(c, 1, &w, NULL), HOBBLE_OK);
    ck_assert_int_eq(hb_why_text(open_page(&p), c, &w, us), HOBBLE_OK);
    go_behind(&p, "go or stop turns\n");
    for (int i = 0; i < w.learn_count; i++)
        read_learnt(next_line(&p), &w, &w.learn[i], us);
    go_behind(&p, "Asked of the ");
    numbers(next_line(&p), at, 1);
    shown("tyres", at[0], w.counted, 1.0, NEAR);
    go_behind(&p, "Shares of the variance, ");
    numbers(next_line(&p), at, 2);
    shown("to", at[0], way(w.distance, us), 0.1, NEAR);
    shown("speed", at[1], speed(w.speed, us), 1.0, NEAR);
    go_behind(&p, "peak: in all key\n");
    for (int i = 0; i < w.count; i++)
        read_row(next_line(&p), &w);
    ck_assert_int_eq(isnan(w.explained), _i < 2);
    if (_i >= 2) {
        go_behind(&p, "In all ");
        numbers(next_line(&p), at, 1);
        shown("explained", at[0], 100.0 * w.explained, 1.0, NEAR);
    }
    go_behind(&p, "middle ");
    numbers(next_line(&p), at, 2);
    shown_way("middle", at[0], exp(w.mean[HOBBLE_WHY_RANGE]), us);
    shown("factor", at[1], exp(w.deviation[HOBBLE_WHY_RANGE]), 0.01, NEAR);
    go_behind(&p, "peak: ");
    numbers(next_line(&p), at, 3);
    shown("peak", at[0], heat(w.mean[HOBBLE_WHY_PEAK], us), 1.0, UP);
    shown("deviation", at[1], w.deviation[HOBBLE_WHY_PEAK], 0.1, UP); /* in K, and says so */
    shown("arrival", at[2], 100.0 * w.mean[HOBBLE_WHY_ARRIVAL], 0.1, DOWN);
    free(p.text);
    hobble_case_free(c);
}
END_TEST

Suite *study_text_suite(void)
{
    Suite *suite = suite_create("study_text");
    TCase *all = tcase_create("study_text");
    tcase_set_timeout(all, 120.0); /* sanitizers and valgrind are slow */
    /* in metric units, and in US units */
    tcase_add_loop_test(all, wall_text, 0, 2);
    tcase_add_loop_test(all, life_text, 0, 2);
    tcase_add_loop_test(all, mark_text, 0, 2);
    tcase_add_loop_test(all, map_text, 0, 2);
    tcase_add_loop_test(all, why_text, 0, 4); /* of few tyres, and of more */
    suite_add_tcase(suite, all);
    return suite;
}
