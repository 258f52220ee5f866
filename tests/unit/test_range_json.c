/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test_range_json.c - every number and truth of the driver's answer as JSON against the answer
 * itself: each in its place, in its unit, and none besides. */
#include "ask.h"
#include "random_case.h"
#include "report/describe/answers.h"
#include "report/json/render.h"

#include <check.h>
#include <stddef.h>
#include <stdio.h>
#include <string.h>

Suite *range_json_suite(void);

enum { PATH = 120 };

/* Units of the report over those of the answer (definitions). */
enum unit { ONE, COUNT, TRUTH, KM_OF, KMH_OF, CELSIUS_OF, KPA_OF, MINUTES_OF };

/* When it is told; else it is null, or not there at all. OFFERED: for each offer, by its struct. */
enum when { ALWAYS, GOES_ON, HAS_RANGE, HAS_PLACE, ARRIVES, OFFERED };

#define A(field) offsetof(struct hobble_answer, field)
#define M(field) offsetof(struct hobble_more, field)
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
    {"answer.more_if[].speed_kmh", M(speed), KMH_OF, OFFERED},
    {"answer.more_if[].load_n", M(load), ONE, OFFERED},
    {"answer.more_if[].advised_distance_km", M(distance), KM_OF, OFFERED},
    {"inputs.example", A(example), TRUTH, ALWAYS},
    {"inputs.example_load", A(example_load), TRUTH, ALWAYS},
    {"inputs.wheel_assumed", A(wheel_assumed), TRUTH, ALWAYS},
    {"inputs.taken_as_empty", A(taken_as_empty), TRUTH, ALWAYS},
    {"inputs.unseen_assumed", A(unseen_assumed), TRUTH, ALWAYS},
    {"inputs.built_by_word", A(built_by_word), TRUTH, ALWAYS},
    {"answer.stops_left_out", A(stops_left_out), TRUTH, ALWAYS},
    {"range_km.advice_conditioned", A(conditioned), TRUTH, ALWAYS},
    {"range_km.past_stated", A(all_stated), TRUTH, ALWAYS},
    {"rule.holds", A(rule_holds), TRUTH, ALWAYS},
};
enum { ROWS = sizeof rows / sizeof *rows };

/* Looked at one by one below, or of every answer's beginning. */
static const char *const others[] = {"seed",
                                     "members",
                                     "answer.assumed[].value",
                                     "answer.too_few",
                                     "arrival.within_advice",
                                     "range_km.censored",
                                     "range_km.unconditioned.censored",
                                     "range_km.advised.censored"};

static bool told(const struct hobble_answer *a, enum when when)
{
    const bool place = !isnan(a->to);
    const bool by_when[] = {
        [ALWAYS] = true,
        [GOES_ON] = a->verdict != HOBBLE_STOP,
        [HAS_RANGE] = !a->rim_at_start && !a->stop[HOBBLE_STOP_CONTRADICTION],
        [HAS_PLACE] = place,
        [ARRIVES] = place && a->verdict == HOBBLE_GO, /* a chance would be read as leave */
        [OFFERED] = a->more_count > 0,
    };
    return by_when[when];
}

/* of: the answer, or an offer. */
static double expected(const void *of, size_t row)
{
    const void *at = (const char *)of + rows[row].offset;
    const double over[] = {[ONE] = 1,      [COUNT] = 1,      [TRUTH] = 1,    [KM_OF] = KM,
                           [KMH_OF] = KMH, [CELSIUS_OF] = 1, [KPA_OF] = 1e3, [MINUTES_OF] = MINUTE};
    const double value = rows[row].unit == COUNT   ? (double)*(const int *)at
                         : rows[row].unit == TRUTH ? (double)*(const bool *)at
                                                   : *(const double *)at;
    return (value - (rows[row].unit == CELSIUS_OF ? 273.15 : 0.0)) / over[rows[row].unit];
}

static bool is_other(const char *path)
{
    for (size_t i = 0; i < sizeof others / sizeof *others; i++)
        if (strcmp(others[i], path) == 0)
            return true;
    return false;
}

/* A number or truth must be a row of the table, and the row's value. */
static void read_one(const json_t *value, const char *path, const void *of, bool seen[ROWS])
{
    size_t row = 0;
    while (row < ROWS && strcmp(rows[row].path, path) != 0)
        row++;
    ck_assert_msg(row < ROWS || is_other(path), "%s is told, and nobody knows what it is", path);
    if (row == ROWS)
        return;
    const double wanted = expected(of, row);
    const double is = json_is_number(value) ? json_number_value(value) : json_is_true(value);
    ck_assert_int_eq(json_is_boolean(value), rows[row].unit == TRUTH);
    ck_assert_msg(fabs(is - wanted) <= 1e-9 * fmax(1.0, fabs(wanted)), "%s: %.12g, not %.12g", path,
                  is, wanted);
    seen[row] = true;
}

static void read_numbers(json_t *value, const char *path, const struct hobble_answer *a,
                         const void *of, bool seen[ROWS])
{
    const char *key;
    json_t *part;
    size_t i;
    char inner[PATH];
    if (json_is_number(value) || json_is_boolean(value))
        read_one(value, path, of, seen);
    json_object_foreach(value, key, part)
    {
        snprintf(inner, sizeof inner, "%s%s%s", path, *path ? "." : "", key);
        read_numbers(part, inner, a, of, seen);
    }
    json_array_foreach(value, i, part)
    {
        snprintf(inner, sizeof inner, "%s[]", path);
        read_numbers(part, inner, a, strcmp(path, "answer.more_if") == 0 ? &a->more[i] : of, seen);
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

static const char *text(const json_t *o, const char *key)
{
    const char *is = json_string_value(json_object_get(o, key));
    return is ? is : "";
}

static void read_lists(const json_t *o, const hobble_case *c, const struct hobble_answer *a)
{
    const json_t *advice = json_object_get(o, "answer");
    const json_t *more = json_object_get(advice, "more_if");
    const json_t *assumed = json_object_get(advice, "assumed");
    ck_assert_int_eq((int)json_array_size(more), a->more_count);
    for (int i = 0; i < a->more_count; i++)
        ck_assert_str_eq(text(json_array_get(more, (size_t)i), "change"),
                         a->more[i].slower ? "slower" : "lighter");
    ck_assert_int_eq((int)json_array_size(assumed), a->assumed_count);
    for (int i = 0; i < a->assumed_count; i++) {
        const json_t *one = json_array_get(assumed, (size_t)i);
        const char *key = hobble_param_table(NULL)[a->assumed[i]].key;
        const double given = hobble_case_number(c, a->assumed[i]);
        const double is = json_number_value(json_object_get(one, "value"));
        ck_assert_str_eq(text(one, "key"), key);
        ck_assert_double_eq_tol(is,
                                strcmp(key, "load") == 0 ? a->load
                                : isnan(given)           ? 0.0
                                                         : given,
                                1e-9 * a->load);
    }
}

/* Which quantiles are no more than the horizon that they were cut at. */
static void read_cut(const json_t *band, const struct hobble_band *b, bool none)
{
    static const char *const name[] = {"p5", "p50", "p95"};
    const bool cut[] = {b->censored5, b->censored50, b->censored95};
    const json_t *list = json_object_get(band, "more_than");
    size_t n = 0;
    for (int i = 0; i < 3; i++)
        if (cut[i] && !none)
            ck_assert_str_eq(json_string_value(json_array_get(list, n++)), name[i]);
    ck_assert_uint_eq(json_array_size(list), n);
    ck_assert_int_eq(json_is_true(json_object_get(band, "censored")), n > 0);
}

static void read_fired(const json_t *one, const struct hobble_fired *rule)
{
    ck_assert_str_eq(text(one, "id"), rule->id);
    ck_assert_str_eq(text(one, "reason"), rule->reason);
    ck_assert_str_eq(text(one, "source"), rule->source);
}

static void read_rules(const json_t *o, const struct hobble_answer *a)
{
    const json_t *rules = json_object_get(json_object_get(o, "condition"), "rules");
    const json_t *advice = json_object_get(o, "answer");
    const json_t *condemned = json_object_get(advice, "condemned");
    const json_t *change = json_object_get(advice, "would_change");
    ck_assert_int_eq((int)json_array_size(rules), a->rule_count);
    for (int i = 0; i < a->rule_count; i++)
        read_fired(json_array_get(rules, (size_t)i), &a->rule[i]);
    ck_assert_int_eq(json_is_null(condemned), !a->stop[HOBBLE_STOP_CONDEMNED]);
    if (a->stop[HOBBLE_STOP_CONDEMNED])
        read_fired(condemned, &a->condemned);
    for (int i = 0; i < HOBBLE_STOP_COUNT; i++)
        ck_assert_str_eq(text(change, hobble_stop_word((enum hobble_stop)i)),
                         a->stop[i] ? hobble_stop_remedy((enum hobble_stop)i) : "");
}

static void read_words(const json_t *o, const struct hobble_answer *a)
{
    size_t reasons = json_array_size(json_object_get(json_object_get(o, "answer"), "stop_reasons"));
    ck_assert_str_eq(word(o, "answer", "verdict"), hobble_verdict_word(a->verdict));
    ck_assert_str_eq(word(o, "answer", "limited_by"), hobble_limit_word(a->limited_by));
    ck_assert_str_eq(word(o, "answer", "cap_by"), hobble_limit_word(a->cap_by));
    ck_assert_str_eq(word(o, "condition", "verdict"), hobble_condition_word(a->condition));
    ck_assert_int_eq((int)reasons, ask_stops(a));
    ck_assert_int_eq(is_true(o, "answer", "too_few"), hobble_too_few(a->counted));
    ck_assert_str_eq(word(o, "inputs", "construction"), a->construction);
    ck_assert_str_eq(word(o, "condition", "basis"), a->rule_count > 0 ? a->rule[0].id : "unknown");
    if (!isnan(a->to)) /* beyond the advice is not within it, and on STOP nothing is */
        ck_assert_int_eq(is_true(o, "arrival", "within_advice"), a->verdict == HOBBLE_GO);
}

/* All kinds of answers: on, on and then stop, not on for several reasons, without a range, with a
 * leak, with offers. */
static hobble_case *question(int i, struct random_source *source)
{
    static const struct {
        double share, speed, unseen, run, pressure, to, flat, stiffness;
    } asked[] = {{0.5, 80, 3, 0, 0, 20, 1, 0},    {0.75, 100, 0, 10, 0, 90, 1, 0},
                 {0.9, 70, 5, 20, 120, 30, 1, 0}, {1.1, 80, 2, 1, 0, 0, 1, 0},
                 {0.6, 60, 1, 30, 175, 0, 1, 0},  {0.8, 120, 0, 0, 0, 400, 2, 0},
                 {0.85, 80, 0, 3, 0, 10, 1, 0},   {0.8, 80, 0, 0, 0, 10, 1, 30}};
    if (i >= (int)(sizeof asked / sizeof *asked))
        return ask_random(source);
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

static void read_answer(const hobble_case *c, const struct hobble_answer *a, bool ever[ROWS])
{
    bool seen[ROWS] = {false};
    json_t *o = hb_render_json(&hb_range_answer, c, a);
    const json_t *range = json_object_get(o, "range_km");
    const bool none = !told(a, HAS_RANGE);
    ck_assert_ptr_nonnull(o);
    read_numbers(o, "", a, a, seen);
    for (size_t row = 0; row < ROWS; row++) {
        const bool wanted =
            told(a, rows[row].when) && (rows[row].when == OFFERED || isfinite(expected(a, row)));
        ck_assert_msg(seen[row] == wanted, "%s", rows[row].path);
        ever[row] = ever[row] || seen[row];
    }
    read_lists(o, c, a);
    read_cut(range, &a->range, none);
    read_cut(json_object_get(range, "unconditioned"), &a->unconditioned, none);
    read_cut(json_object_get(range, "advised"), &a->advised, none);
    read_rules(o, a);
    read_words(o, a);
    json_decref(o);
}

/* Source: the answer, and definitions of units. */
START_TEST(every_number)
{
    int verdicts[3] = {0}, offers = 0, no_range = 0, cut = 0;
    bool ever[ROWS] = {false};
    struct random_source source = {5};
    const int count = random_count("HOBBLE_TOLD", 40);
    for (int i = 0; i < count; i++) {
        hobble_case *c = question(i, &source);
        const struct hobble_answer a = ask(c);
        read_answer(c, &a, ever);
        verdicts[a.verdict]++;
        offers += a.more_count;
        no_range += !told(&a, HAS_RANGE);
        cut += a.range.censored95;
        hobble_case_free(c);
    }
    for (int v = 0; v < 3; v++)
        ck_assert_msg(verdicts[v] > 0, "no question is answered by %d", v);
    for (size_t row = 0; row < ROWS; row++)
        ck_assert_msg(ever[row], "%s is never told", rows[row].path);
    ck_assert(offers > 0 && no_range > 0 && cut > 0);
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
