/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test_range_json.c - every number of the driver's answer as JSON against the answer itself: each
 * in its place, in its unit, and none besides. */
#include "ask.h"
#include "report/describe/answers.h"
#include "report/json/render.h"

#include <check.h>
#include <stddef.h>
#include <stdio.h>
#include <string.h>

Suite *range_json_suite(void);

enum { PATH = 120 };

/* Units of the report over those of the answer (definitions). */
enum unit { ONE, COUNT, KM_OF, KMH_OF, CELSIUS_OF, KPA_OF, MINUTES_OF };

/* When a number is told; else it is null, or not there at all. */
enum when { ALWAYS, GOES_ON, HAS_RANGE, HAS_PLACE, ARRIVES };

#define A(field) offsetof(struct hobble_answer, field)
static const struct {
    const char *path;
    size_t offset;
    enum unit unit;
    enum when when;
} rows[] = {
    {"inputs.speed_kmh", A(speed), KMH_OF, ALWAYS},
    {"inputs.load_n", A(load), ONE, ALWAYS},
    {"inputs.load_share_of_index", A(load_share), ONE, ALWAYS},
    {"inputs.ambient_c", A(ambient), CELSIUS_OF, ALWAYS},
    {"inputs.pressure_kpa", A(pressure), KPA_OF, ALWAYS},
    {"inputs.pressure_now_kpa", A(pressure_now), KPA_OF, ALWAYS},
    {"inputs.distance_run_km", A(run_seen), KM_OF, ALWAYS},
    {"inputs.distance_unseen_km", A(run_unseen), KM_OF, ALWAYS},
    {"answer.advised_speed_kmh", A(advised_speed), KMH_OF, GOES_ON},
    {"answer.advised_distance_km", A(advised_distance), KM_OF, ALWAYS},
    {"answer.advised_time_min", A(advised_time), MINUTES_OF, ALWAYS},
    {"answer.cap_km", A(cap), KM_OF, ALWAYS},
    {"answer.counted", A(counted), COUNT, ALWAYS},
    {"range_km.p5", A(range.p5), KM_OF, HAS_RANGE},
    {"range_km.p50", A(range.p50), KM_OF, HAS_RANGE},
    {"range_km.p95", A(range.p95), KM_OF, HAS_RANGE},
    {"range_km.unconditioned.p5", A(unconditioned.p5), KM_OF, HAS_RANGE},
    {"range_km.unconditioned.p50", A(unconditioned.p50), KM_OF, HAS_RANGE},
    {"range_km.unconditioned.p95", A(unconditioned.p95), KM_OF, HAS_RANGE},
    {"range_km.advised.p5", A(advised.p5), KM_OF, HAS_RANGE},
    {"range_km.advised.p50", A(advised.p50), KM_OF, HAS_RANGE},
    {"range_km.advised.p95", A(advised.p95), KM_OF, HAS_RANGE},
    {"range_km.share_ended_by.none", A(share_ended[HOBBLE_END_NONE]), ONE, ALWAYS},
    {"range_km.share_ended_by.horizon", A(share_ended[HOBBLE_END_HORIZON]), ONE, ALWAYS},
    {"range_km.share_ended_by.life", A(share_ended[HOBBLE_END_LIFE]), ONE, ALWAYS},
    {"range_km.share_ended_by.heat", A(share_ended[HOBBLE_END_HEAT]), ONE, ALWAYS},
    {"range_km.share_ended_by.rim", A(share_ended[HOBBLE_END_RIM]), ONE, ALWAYS},
    {"range_km.share_ended_by.shoulder", A(share_ended[HOBBLE_END_SHOULDER]), ONE, ALWAYS},
    {"arrival.distance_km", A(to), KM_OF, HAS_PLACE},
    {"arrival.chance_of_failing", A(chance_of_failing), ONE, ARRIVES},
    {"arrival.sampling_error", A(sampling_error), ONE, ARRIVES},
    {"rule.speed_kmh", A(rule_speed), KMH_OF, ALWAYS},
    {"rule.distance_km", A(rule_distance), KM_OF, ALWAYS},
    {"rule.share_of_tyres", A(share_of_tyres), ONE, ALWAYS},
    {"rule.required_share", A(required_share), ONE, ALWAYS},
    {"temperature_c.now_p50", A(now_p50), CELSIUS_OF, ALWAYS},
    {"temperature_c.peak_p50", A(peak_p50), CELSIUS_OF, ALWAYS},
    {"temperature_c.peak_p95", A(peak_p95), CELSIUS_OF, ALWAYS},
    {"temperature_c.limit", A(limit), CELSIUS_OF, ALWAYS},
    {"life_used.now_p50", A(life_now_p50), ONE, ALWAYS},
    {"life_used.at_advised_p50", A(life_at_advised_p50), ONE, ALWAYS},
    {"approval.tested", A(tested), COUNT, ALWAYS},
    {"approval.passed", A(passed), COUNT, ALWAYS},
    {"quality.energy_closure", A(energy_closure), ONE, ALWAYS},
    {"quality.solver_difference", A(solver_difference), ONE, ALWAYS},
    {"condition.drive.distance_km", A(drive.distance), KM_OF, ALWAYS},
    {"condition.drive.speed_kmh", A(drive.speed), KMH_OF, ALWAYS},
    {"condition.drive.lowest_pressure_kpa", A(drive.pressure), KPA_OF, ALWAYS},
    {"condition.drive.life_p95", A(drive.life_p95), ONE, ALWAYS},
    {"condition.drive.peak_p95_c", A(drive.peak_p95), CELSIUS_OF, ALWAYS},
};
enum { ROWS = sizeof rows / sizeof *rows };

static bool told(const struct hobble_answer *a, enum when when)
{
    const bool place = !isnan(a->to);
    const bool by_when[] = {
        [ALWAYS] = true,
        [GOES_ON] = a->verdict != HOBBLE_STOP,
        [HAS_RANGE] = !a->rim_at_start && !a->stop[HOBBLE_STOP_CONTRADICTION],
        [HAS_PLACE] = place,
        [ARRIVES] = place && a->verdict == HOBBLE_GO, /* a chance would be read as leave */
    };
    return by_when[when];
}

static double expected(const struct hobble_answer *a, size_t row)
{
    const void *at = (const char *)a + rows[row].offset;
    const double value = rows[row].unit == COUNT ? (double)*(const int *)at : *(const double *)at;
    const double over[] = {[ONE] = 1,        [COUNT] = 1,    [KM_OF] = KM,         [KMH_OF] = KMH,
                           [CELSIUS_OF] = 1, [KPA_OF] = 1e3, [MINUTES_OF] = MINUTE};
    return (value - (rows[row].unit == CELSIUS_OF ? 273.15 : 0.0)) / over[rows[row].unit];
}

/* Takes each number below an object as a row of the table; lists are looked at elsewhere. */
static void read_numbers(json_t *object, const char *above, const struct hobble_answer *a,
                         bool seen[ROWS])
{
    const char *key;
    json_t *value;
    json_object_foreach(object, key, value)
    {
        char path[PATH];
        size_t row = 0;
        snprintf(path, sizeof path, "%s%s%s", above, *above ? "." : "", key);
        read_numbers(value, path, a, seen);
        if (!json_is_number(value))
            continue;
        while (row < ROWS && strcmp(rows[row].path, path) != 0)
            row++;
        ck_assert_msg(row < ROWS || strcmp(path, "seed") == 0 || strcmp(path, "members") == 0,
                      "%s is told, and nobody knows what it is", path);
        if (row == ROWS)
            continue;
        const double wanted = expected(a, row), is = json_number_value(value);
        ck_assert_msg(fabs(is - wanted) <= 1e-9 * fmax(1.0, fabs(wanted)), "%s: %.12g, not %.12g",
                      path, is, wanted);
        seen[row] = true;
    }
}

static bool is_true(const json_t *o, const char *part, const char *key)
{
    const json_t *value = json_object_get(json_object_get(o, part), key);
    ck_assert_msg(json_is_boolean(value), "%s.%s", part, key);
    return json_is_true(value);
}

static const char *word(const json_t *o, const char *part, const char *key)
{
    const char *text = json_string_value(json_object_get(json_object_get(o, part), key));
    ck_assert_msg(text != NULL, "%s.%s", part, key);
    return text;
}

static void read_offers(const json_t *o, const struct hobble_answer *a)
{
    const json_t *list = json_object_get(json_object_get(o, "answer"), "more_if");
    ck_assert_int_eq((int)json_array_size(list), a->more_count);
    for (int i = 0; i < a->more_count; i++) {
        const json_t *one = json_array_get(list, (size_t)i);
        const struct hobble_more *m = &a->more[i];
        const double is[] = {json_number_value(json_object_get(one, "speed_kmh")),
                             json_number_value(json_object_get(one, "load_n")),
                             json_number_value(json_object_get(one, "advised_distance_km"))};
        const double wanted[] = {m->speed / KMH, m->load, m->distance / KM};
        for (int k = 0; k < 3; k++)
            ck_assert_double_eq_tol(is[k], wanted[k], 1e-9 * wanted[k]);
        ck_assert_str_eq(json_string_value(json_object_get(one, "change")),
                         m->slower ? "slower" : "lighter");
    }
}

static void read_words(const json_t *o, const struct hobble_answer *a)
{
    size_t reasons = json_array_size(json_object_get(json_object_get(o, "answer"), "stop_reasons"));
    ck_assert_str_eq(word(o, "answer", "verdict"), hobble_verdict_word(a->verdict));
    ck_assert_str_eq(word(o, "answer", "limited_by"), hobble_limit_word(a->limited_by));
    ck_assert_str_eq(word(o, "answer", "cap_by"), hobble_limit_word(a->cap_by));
    ck_assert_str_eq(word(o, "condition", "verdict"), hobble_condition_word(a->condition));
    ck_assert_int_eq((int)reasons, ask_stops(a));
    ck_assert_int_eq(is_true(o, "rule", "holds"), a->rule_holds);
    ck_assert_int_eq(is_true(o, "answer", "stops_left_out"), a->stops_left_out);
    ck_assert_int_eq(is_true(o, "inputs", "unseen_assumed"), a->unseen_assumed);
    ck_assert_int_eq(is_true(o, "inputs", "taken_as_empty"), a->taken_as_empty);
    ck_assert_int_eq(is_true(o, "inputs", "built_by_word"), a->built_by_word);
    ck_assert_int_eq(is_true(o, "range_km", "advice_conditioned"), a->conditioned);
    if (!isnan(a->to)) /* beyond the advice is not within it, and on STOP nothing is */
        ck_assert_int_eq(is_true(o, "arrival", "within_advice"), a->verdict == HOBBLE_GO);
}

/* All kinds of answers: on, on and then stop, not on for several reasons, without a range, with a
 * leak, with offers. */
static hobble_case *question(int i)
{
    static const struct {
        double share, speed, unseen, run, pressure, to, flat, stiffness;
    } asked[] = {{0.5, 80, 3, 0, 0, 20, 1, 0},    {0.75, 100, 0, 10, 0, 90, 1, 0},
                 {0.9, 70, 5, 20, 120, 30, 1, 0}, {1.1, 80, 2, 1, 0, 0, 1, 0},
                 {0.6, 60, 1, 30, 175, 0, 1, 0},  {0.8, 120, 0, 0, 0, 400, 2, 0},
                 {0.85, 80, 0, 3, 0, 10, 1, 0},   {0.8, 80, 0, 0, 0, 10, 1, 30}};
    if (i >= (int)(sizeof asked / sizeof *asked))
        return NULL;
    hobble_case *c = i % 2 ? ask_bare(60) : ask_vouched(60);
    ask_set(c, "load_share", asked[i].share);
    ask_set(c, "speed", asked[i].speed);
    ask_set(c, "unseen", asked[i].unseen);
    ask_set(c, "run", asked[i].run);
    ask_set(c, "pressure", asked[i].pressure);
    ask_set(c, "flat_tyres", asked[i].flat);
    ask_set(c, "ambient", 12.0 + i);
    if (asked[i].pressure > 0.0)
        ask_set(c, "leak", 5.0);
    if (asked[i].to > 0.0)
        ask_set(c, "to", asked[i].to);
    if (asked[i].stiffness > 0.0)
        ask_set(c, "stiffness_flat", asked[i].stiffness);
    return c;
}

/* Source: the answer, and definitions of units. */
START_TEST(every_number)
{
    int verdicts[3] = {0}, offers = 0, no_range = 0;
    hobble_case *c;
    for (int i = 0; (c = question(i)) != NULL; i++) {
        bool seen[ROWS] = {false};
        const struct hobble_answer a = ask(c);
        json_t *o = hb_render_json(&hb_range_answer, c, &a);
        ck_assert_ptr_nonnull(o);
        read_numbers(o, "", &a, seen);
        for (size_t row = 0; row < ROWS; row++) {
            const bool wanted = told(&a, rows[row].when) && isfinite(expected(&a, row));
            ck_assert_msg(seen[row] == wanted, "question %d: %s", i, rows[row].path);
        }
        read_offers(o, &a);
        read_words(o, &a);
        verdicts[a.verdict]++;
        offers += a.more_count;
        no_range += !told(&a, HAS_RANGE);
        json_decref(o);
        hobble_case_free(c);
    }
    for (int v = 0; v < 3; v++)
        ck_assert_msg(verdicts[v] > 0, "no question is answered by %d", v);
    ck_assert(offers > 0 && no_range > 0);
}
END_TEST

Suite *range_json_suite(void)
{
    Suite *suite = suite_create("range_json");
    TCase *all = tcase_create("range_json");
    tcase_set_timeout(all, 120.0); /* sanitizers and valgrind are slow */
    tcase_add_test(all, every_number);
    suite_add_tcase(suite, all);
    return suite;
}
