/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "relation.h"

#include "advice/advise.h"
#include "input/journey.h"
#include "input/profile.h"
#include "study/study.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { MEMBERS = 60 };

/* ---- questions as text ----------------------------------------------------------------------- */

__attribute__((format(printf, 2, 3))) static void add(struct asked *q, const char *format, ...)
{
    va_list list;
    if (q->count >= ITEMS_MOST)
        return;
    va_start(list, format);
    vsnprintf(q->item[q->count++], ITEM_SIZE, format, list);
    va_end(list);
}

static int find(const struct asked *q, const char *key)
{
    const size_t length = strlen(key);
    for (int i = 0; i < q->count; i++)
        if (strncmp(q->item[i], key, length) == 0 && q->item[i][length] == '=')
            return i;
    return -1;
}

static bool is_leg(const char *item)
{
    return strncmp(item, "leg ", 4) == 0;
}

static int legs_of(const struct asked *q)
{
    int n = 0;
    for (int i = 0; i < q->count; i++)
        n += is_leg(q->item[i]);
    return n;
}

static void leave_out(struct asked *q, int item)
{
    memmove(q->item[item], q->item[item + 1], (size_t)(q->count - item - 1) * ITEM_SIZE);
    q->count--;
}

static bool forget(struct asked *q, const char *key)
{
    const int i = find(q, key);
    if (i >= 0)
        leave_out(q, i);
    return i >= 0;
}

/* Number of an item in the unit that it is written in. */
static double number_of(const struct asked *q, const char *key)
{
    const int i = find(q, key);
    return i < 0 ? (double)NAN : strtod(q->item[i] + strlen(key) + 1, NULL);
}

__attribute__((format(printf, 3, 4))) static void set(struct asked *q, const char *key,
                                                      const char *format, ...)
{
    char value[ITEM_SIZE - 40];
    va_list list;
    va_start(list, format);
    vsnprintf(value, sizeof value, format, list);
    va_end(list);
    const int i = find(q, key);
    if (i >= 0)
        snprintf(q->item[i], ITEM_SIZE, "%.38s=%s", key, value);
    else
        add(q, "%.38s=%s", key, value);
}

void relation_print(const struct asked *q, char *buf, size_t size)
{
    size_t n = 0;
    buf[0] = '\0';
    for (int i = 0; i < q->count && n + 1 < size; i++)
        n += (size_t)snprintf(buf + n, size - n, "%s%s", i ? "; " : "", q->item[i]);
}

bool relation_read(const char *line, struct asked *q)
{
    q->count = 0;
    while (*line) {
        const size_t length = strcspn(line, ";");
        if (q->count == ITEMS_MOST || length == 0 || length >= ITEM_SIZE)
            return false;
        snprintf(q->item[q->count++], ITEM_SIZE, "%.*s", (int)length, line);
        line += length;
        line += strspn(line, "; ");
    }
    return q->count > 0;
}

/* ---- random questions ------------------------------------------------------------------------ */

static const char *const tyres[][2] = {
    {"205/55 RF16 91V", ""},
    {"225/45 RF17 94W XL", ""},
    {"225/55 RF17 97Y", ""},
    {"185/65 RF15 88H", ""},
    {"245/45 RF18 100Y", ""},
    {"205/55 R16 91V", "self_supporting"},
    {"225/50 R17 98V", "extended_mobility"},
    {"205/55 R16 91V", "conventional"},
};
enum { TYRES = sizeof tyres / sizeof *tyres };

static double even(struct random_source *r, double low, double high, double step)
{
    return floor(random_between(r, low, high) / step + 0.5) * step;
}

static bool one_in(struct random_source *r, int n)
{
    return random_below(r, n) == 0;
}

static void add_leg(struct random_source *r, struct asked *q)
{
    char pressure[40] = "", leak[40] = "", ambient[40] = "";
    if (one_in(r, 5)) {
        add(q, "leg stop=%gmin", even(r, 1, 120, 1));
        return;
    }
    if (one_in(r, 3))
        snprintf(pressure, sizeof pressure, ",pressure=%gkPa", even(r, 0, 230, 10));
    if (one_in(r, 6))
        snprintf(leak, sizeof leak, ",leak=%gmin", even(r, 1, 300, 1));
    if (one_in(r, 6))
        snprintf(ambient, sizeof ambient, ",ambient=%gC", even(r, -15, 40, 1));
    add(q, "leg distance=%gkm,speed=%gkm/h%s%s%s", even(r, 0.5, 30, 0.5), even(r, 20, 130, 5),
        pressure, leak, ambient);
}

static void add_past(struct random_source *r, struct asked *q)
{
    if (one_in(r, 2))
        add(q, "speed_before=%g km/h", even(r, 30, 130, 5));
    if (one_in(r, 2))
        add(q, "unseen=%g min", even(r, 0, 15, 0.5));
    if (one_in(r, 3)) {
        for (int i = 1 + random_below(r, 3); i > 0; i--)
            add_leg(r, q);
        return;
    }
    if (one_in(r, 2))
        add(q, "run=%g km", even(r, 1, 60, 1));
    if (one_in(r, 2))
        add(q, "run_speed=%g km/h", even(r, 20, 120, 5));
    if (one_in(r, 4))
        add(q, "rest=%g min", even(r, 1, 240, 1));
}

static void add_bench(struct random_source *r, struct asked *q)
{
    if (one_in(r, 8))
        add(q, "lowest_pressure=%g kPa", even(r, 0, 230, 10));
    if (one_in(r, 8))
        add(q, "low_distance=%g km", even(r, 0, 60, 1));
    if (one_in(r, 8))
        add(q, "low_speed=%g km/h", even(r, 20, 120, 5));
}

void relation_question(struct random_source *r, struct asked *q)
{
    const int tyre = one_in(r, 3) ? random_below(r, TYRES) : random_below(r, 5);
    q->count = 0;
    add(q, "marking=%s", tyres[tyre][0]);
    if (*tyres[tyre][1])
        add(q, "construction=%s", tyres[tyre][1]);
    add(q, "load_share=%g", even(r, 0.4, 0.98, 0.01));
    if (!one_in(r, 4))
        add(q, "ambient=%g C", even(r, -18, 44, 1));
    if (!one_in(r, 3))
        add(q, "speed=%g km/h", even(r, 30, 110, 5));
    if (one_in(r, 2))
        add(q, "pressure=%g kPa", even(r, 0, 230, 10));
    if (one_in(r, 3))
        add(q, "leak=%g min", even(r, 1, 3000, 1));
    if (one_in(r, 2)) {
        add(q, "age=%g", even(r, 0, 4.5, 0.5));
        add(q, "ran_flat=no");
        add(q, "repaired=no");
    } else if (one_in(r, 2)) {
        add(q, "age=%g", even(r, 0, 9.5, 0.5));
    }
    if (one_in(r, 6))
        add(q, "maker_distance=%g km", even(r, 10, 80, 5));
    if (one_in(r, 8))
        add(q, "fleet_distance=%g km", even(r, 10, 80, 5));
    if (one_in(r, 6))
        add(q, "pressure_inflated=%g kPa", even(r, 180, 280, 10));
    if (one_in(r, 8))
        add(q, "warning_drop=%g", even(r, 0.1, 0.5, 0.05));
    if (one_in(r, 3))
        add(q, "to=%g km", even(r, 1, 90, 1));
    add(q, "seed=%d", random_below(r, 1000));
    add_past(r, q);
    add_bench(r, q);
}

/* ---- asking ---------------------------------------------------------------------------------- */

hobble_case *relation_case(const struct asked *q)
{
    struct hobble_faults faults = {0};
    hobble_case *c = hobble_case_new();
    bool good = c && hb_set_text(c, "members", "60", "--members", &faults) == HOBBLE_OK;
    for (int i = 0; good && i < q->count; i++)
        good = (is_leg(q->item[i]) ? hb_leg_option(c, q->item[i] + 4, &faults)
                                   : hb_set_option(c, q->item[i], &faults)) == HOBBLE_OK;
    if (good)
        return c;
    hobble_case_free(c);
    return NULL;
}

struct told relation_ask(const struct asked *q)
{
    struct hb_study s = {0};
    struct hobble_answer a;
    struct told told = {.refused = true, .chance = (double)NAN};
    hobble_case *c = relation_case(q);
    if (c && hb_study_open(c, 1, &s, NULL) == HOBBLE_OK && hb_advise(&s.ensemble, &a) == HOBBLE_OK)
        told = (struct told){false,
                             a.verdict,
                             a.advised_distance,
                             a.run_seen + a.run_unseen,
                             a.chance_of_failing,
                             a.condition == HOBBLE_SCRAP};
    if (c)
        hb_study_close(&s);
    hobble_case_free(c);
    return told;
}

/* ---- changes for the worse ------------------------------------------------------------------- */

/* X(key, most, step): more of it is worse. */
#define MORE(X)                                                                                    \
    X(load_share, 1.1, 0.02, "")                                                                   \
    X(ambient, 50, 3, " C")                                                                        \
    X(speed, 140, 10, " km/h")                                                                     \
    X(age, 30, 1, "")                                                                              \
    X(unseen, 60, 2, " min")                                                                       \
    X(run, 100, 3, " km")                                                                          \
    X(rest, 600, 20, " min")                                                                       \
    X(low_speed, 200, 10, " km/h")                                                                 \
    X(speed_before, 180, 10, " km/h")                                                              \
    X(run_speed, 180, 10, " km/h")                                                                 \
    X(warning_drop, 0.6, 0.05, "")

/* A way or a speed of the bench that nothing else accounts for counts at its worst; what is driven
 * longer or faster may account for it. */
static bool explains_the_bench(const struct asked *q, const char *key)
{
    static const char *const keys[] = {"run", "unseen", "run_speed", "speed_before"};
    for (size_t i = 0; i < sizeof keys / sizeof *keys; i++)
        if (strcmp(keys[i], key) == 0)
            return find(q, "low_distance") >= 0 || find(q, "low_speed") >= 0;
    return false;
}

#define CHANGE_MORE(key, most, step, unit)                                                         \
    static bool more_##key(struct random_source *r, const struct asked *q, struct asked *other)    \
    {                                                                                              \
        const double was = number_of(q, #key);                                                     \
        if (isnan(was) || was >= (most) || explains_the_bench(q, #key))                            \
            return false;                                                                          \
        *other = *q;                                                                               \
        set(other, #key, "%g" unit, fmin(most, was + (step) * (1 + random_below(r, 4))));          \
        return true;                                                                               \
    }
MORE(CHANGE_MORE)
CHANGE_MORE(low_distance, 200, 5, " km")

/* A way that is less than what was driven since the warning is a contradiction and tells nothing:
 * no order holds from there on. */
static bool more_of_all(struct random_source *r, const struct asked *q, struct asked *other)
{
    return legs_of(q) == 0 && !(number_of(q, "low_distance") < number_of(q, "run")) &&
           more_low_distance(r, q, other);
}

/* X(key, step): less of it is worse. */
#define LESS(X)                                                                                    \
    X(pressure, 10, " kPa")                                                                        \
    X(maker_distance, 5, " km")                                                                    \
    X(fleet_distance, 5, " km")                                                                    \
    X(lowest_pressure, 10, " kPa")

#define CHANGE_LESS(key, step, unit)                                                               \
    static bool less_##key(struct random_source *r, const struct asked *q, struct asked *other)    \
    {                                                                                              \
        const double was = number_of(q, #key);                                                     \
        if (!(was > 0.0))                                                                          \
            return false;                                                                          \
        *other = *q;                                                                               \
        set(other, #key, "%g" unit, fmax(0.0, was - (step) * (1 + random_below(r, 8))));           \
        return true;                                                                               \
    }
LESS(CHANGE_LESS)

static bool faster_leak(struct random_source *r, const struct asked *q, struct asked *other)
{
    const double was = number_of(q, "leak");
    if (!(was > 1.0))
        return false;
    *other = *q;
    set(other, "leak", "%.6g min", fmax(0.2, was * random_between(r, 0.01, 0.9)));
    return true;
}

/* What is not stated counts at its worst, or as something said to be assumed. */
static bool less_known(struct random_source *r, const struct asked *q, struct asked *other)
{
    /* low_speed is not among them: one that the parts do not have says of them something worse */
    static const char *const keys[] = {"age",      "ran_flat", "repaired",
                                       "pressure", "leak",     "construction"};
    *other = *q;
    return forget(other, keys[random_below(r, (int)(sizeof keys / sizeof *keys))]);
}

static bool one_more_bad_fact(struct random_source *r, const struct asked *q, struct asked *other)
{
    static const char *const facts[][2] = {{"age", "12"},
                                           {"ran_flat", "yes"},
                                           {"repaired", "yes"},
                                           {"trailer", "yes"},
                                           {"flat_tyres", "1"},
                                           {"flat_tyres", "2"},
                                           {"out_bulge", "yes"},
                                           {"out_cord", "yes"},
                                           {"in_dust", "yes"},
                                           {"in_plies", "yes"},
                                           {"injury_zone", "bead"},
                                           {"injury_zone", "sidewall"},
                                           {"tread_depth", "1"},
                                           {"out_ring", "yes"},
                                           {"maker_distance", "10"},
                                           {"fleet_distance", "12"},
                                           {"load_share", "1.02"},
                                           {"low_distance", "70"}};
    const char *const *fact = facts[random_below(r, (int)(sizeof facts / sizeof *facts))];
    const double was = number_of(q, fact[0]), is = strtod(fact[1], NULL);
    *other = *q;
    /* only where it is worse than what is there */
    if (strcmp(fact[0], "maker_distance") == 0 || strcmp(fact[0], "fleet_distance") == 0
            ? was <= is
            : was >= is)
        return false;
    /* it says of what nobody saw how much it was, and may explain what was driven */
    if (strcmp(fact[0], "low_distance") == 0 &&
        (isnan(was) || legs_of(q) > 0 || find(q, "run") >= 0))
        return false;
    set(other, fact[0], "%s", fact[1]);
    return true;
}

static bool one_more_stop(struct random_source *r, const struct asked *q, struct asked *other)
{
    *other = *q;
    if (legs_of(q) > 0)
        add(other, "leg stop=%gmin", even(r, 1, 300, 1));
    else if (find(q, "rest") < 0)
        add(other, "rest=%g min", even(r, 1, 300, 1));
    else
        return false;
    return other->count > q->count;
}

static bool a_stop_between(struct random_source *r, const struct asked *q, struct asked *other)
{
    if (legs_of(q) < 2 || q->count >= ITEMS_MOST)
        return false;
    int first = 0;
    while (!is_leg(q->item[first]))
        first++;
    *other = *q;
    memmove(other->item[first + 2], other->item[first + 1],
            (size_t)(q->count - first - 1) * ITEM_SIZE);
    snprintf(other->item[first + 1], ITEM_SIZE, "leg stop=%gmin", even(r, 1, 300, 1));
    other->count++;
    return true;
}

/* More driven, at any speed: also slowly, which cools. */
static bool driven_farther(struct random_source *r, const struct asked *q, struct asked *other)
{
    *other = *q;
    if (legs_of(q) == 0 || find(q, "low_distance") >= 0) /* which the leg might explain */
        return false;
    add(other, "leg distance=%gkm,speed=%gkm/h", even(r, 0.5, 20, 0.5), even(r, 5, 120, 5));
    return other->count > q->count;
}

static bool leg_leaks(struct random_source *r, const struct asked *q, struct asked *other)
{
    /* where no leak is stated, to state one is to know more */
    for (int i = 0; i < q->count && find(q, "leak") >= 0; i++)
        if (is_leg(q->item[i]) && !strstr(q->item[i], "leak=")) {
            *other = *q;
            const size_t length = strlen(q->item[i]);
            snprintf(other->item[i] + length, ITEM_SIZE - length, ",leak=%gmin", even(r, 1, 90, 1));
            return true;
        }
    return false;
}

/* ---- the same, said in another way ----------------------------------------------------------- */

static bool run_as_leg(struct random_source *r, const struct asked *q, struct asked *other)
{
    const double run = number_of(q, "run"), speed = number_of(q, "run_speed");
    const double rest = number_of(q, "rest");
    (void)r;
    if (!(run > 0.0) || isnan(speed) || legs_of(q) > 0)
        return false;
    *other = *q;
    forget(other, "run");
    forget(other, "run_speed");
    forget(other, "rest");
    add(other, "leg distance=%gkm,speed=%gkm/h", run, speed);
    if (rest > 0.0)
        add(other, "leg stop=%gmin", rest);
    return true;
}

/* Two legs in a row of the same kind are one. */
static bool leg_in_two(struct random_source *r, const struct asked *q, struct asked *other)
{
    static const char begin[] = "leg distance=";
    (void)r;
    for (int i = 0; i < q->count; i++)
        if (strncmp(q->item[i], begin, strlen(begin)) == 0 && !strstr(q->item[i], "pressure") &&
            q->count < ITEMS_MOST) {
            char *rest;
            const double way = strtod(q->item[i] + strlen(begin), &rest);
            *other = *q;
            memmove(other->item[i + 1], other->item[i], (size_t)(q->count - i) * ITEM_SIZE);
            other->count++;
            for (int k = 0; k < 2; k++)
                snprintf(other->item[i + k], ITEM_SIZE, "leg distance=%gkm%s", 0.5 * way,
                         rest + strlen("km"));
            return true;
        }
    return false;
}

static bool leak_by_legs(struct random_source *r, const struct asked *q, struct asked *other)
{
    const double leak = number_of(q, "leak");
    (void)r;
    if (isnan(leak) || legs_of(q) == 0)
        return false;
    for (int i = 0; i < q->count; i++)
        if (is_leg(q->item[i]) && strstr(q->item[i], "leak="))
            return false;
    *other = *q;
    forget(other, "leak");
    for (int i = 0; i < other->count; i++)
        if (is_leg(other->item[i])) {
            const size_t length = strlen(other->item[i]);
            snprintf(other->item[i] + length, ITEM_SIZE - length, ",leak=%gmin", leak);
        }
    return true;
}

static bool other_units(struct random_source *r, const struct asked *q, struct asked *other)
{
    static const struct {
        const char *key, *unit;
        double factor, zero;
    } unit[] = {{"speed", "mph", 1.0 / 1.609344, 0},
                {"run", "mi", 1.0 / 1.609344, 0},
                {"pressure", "psi", 1.0 / 6.894757293168361, 0},
                {"ambient", "F", 1.8, 32},
                {"unseen", "h", 1.0 / 60, 0},
                {"speed_before", "m/s", 1.0 / 3.6, 0},
                {"maker_distance", "m", 1000, 0},
                {"lowest_pressure", "bar", 0.01, 0}};
    const int i = random_below(r, (int)(sizeof unit / sizeof *unit));
    const double was = number_of(q, unit[i].key);
    if (isnan(was))
        return false;
    *other = *q;
    set(other, unit[i].key, "%.17g %s", was * unit[i].factor + unit[i].zero, unit[i].unit);
    return true;
}

static bool construction_stated(struct random_source *r, const struct asked *q, struct asked *other)
{
    (void)r;
    *other = *q;
    if (!strstr(q->item[0], "RF") || find(q, "construction") >= 0)
        return false;
    set(other, "construction", "self_supporting");
    return true;
}

static bool other_order(struct random_source *r, const struct asked *q, struct asked *other)
{
    const int i = random_below(r, q->count), k = random_below(r, q->count);
    if (i == k || is_leg(q->item[i]) || is_leg(q->item[k]))
        return false;
    *other = *q;
    memcpy(other->item[i], q->item[k], ITEM_SIZE);
    memcpy(other->item[k], q->item[i], ITEM_SIZE);
    return true;
}

/* ---- the table ------------------------------------------------------------------------------- */

#define UNKNOWN_WORST "common practice, no source: unknown counts against"
#define PHYSICS       "more work, more heat, or less to carry with (any tyre textbook)"
static const struct relation table[] = {
#define ROW_MORE(key, most, step, unit) {"more " #key, PHYSICS, false, more_##key},
    MORE(ROW_MORE){"more low_distance", PHYSICS, false, more_of_all},
#define ROW_LESS(key, step, unit) {"less " #key, PHYSICS, false, less_##key},
    LESS(ROW_LESS){"faster leak", "a larger hole empties sooner (gas dynamics)", false,
                   faster_leak},
    {"a leg leaks", "a hole does not close: common practice, no source", false, leg_leaks},
    {"less known", UNKNOWN_WORST, false, less_known},
    {"one more bad fact", "condition-rules.md, each rule's own source", false, one_more_bad_fact},
    {"one more stop", "life is used by turning and never given back", false, one_more_stop},
    {"a stop between", "life is used by turning and never given back", false, a_stop_between},
    {"driven farther", "advice counts from the warning (UN R30's 80 km, second-hand)", false,
     driven_farther},
    {"run as leg", "the same drive", true, run_as_leg},
    {"leg in two", "the same drive", true, leg_in_two},
    {"leak by legs", "the same leak", true, leak_by_legs},
    {"other units", "mile: 1959 agreement; psi, degF: NIST SP 811", true, other_units},
    {"construction stated", "UN R30: RF marks self-supporting", true, construction_stated},
    {"other order", "the same words", true, other_order},
};

const struct relation *relation_table(size_t *count)
{
    *count = sizeof table / sizeof *table;
    return table;
}

/* An integration that is cut in other places differs in the last digits: 0.3 % of all of the way,
 * the largest difference between integrator and reference over a thousand random questions
 * (docs/performance.md). */
#define STEP_ERROR 3e-3

bool relation_holds(const struct relation *relation, const struct told *q, const struct told *other)
{
    const double hair =
        STEP_ERROR * (fmax(q->distance, other->distance) + fmax(q->driven, other->driven)) + 1.0;
    if (q->refused || other->refused) /* a contradiction is no answer, and no worse one */
        return !relation->same || q->refused == other->refused;
    if (relation->same)
        return q->verdict == other->verdict && fabs(q->distance - other->distance) <= hair;
    return (q->verdict != HOBBLE_STOP || other->verdict == HOBBLE_STOP) &&
           other->distance <= q->distance + hair && other->scrap >= q->scrap;
}

static bool fails(const struct relation *relation, const struct asked *q, const struct asked *other)
{
    const struct told a = relation_ask(q), b = relation_ask(other);
    return !relation_holds(relation, &a, &b);
}

void relation_shrink(const struct relation *relation, struct asked *q, struct asked *other)
{
    for (int i = q->count - 1; i >= 0; i--) {
        struct asked less = *q, less_other = *other;
        int twin = -1;
        for (int k = 0; k < other->count; k++)
            if (strcmp(other->item[k], q->item[i]) == 0)
                twin = k;
        if (twin < 0)
            continue;
        leave_out(&less, i);
        leave_out(&less_other, twin);
        if (fails(relation, &less, &less_other)) {
            *q = less;
            *other = less_other;
        }
    }
}
