/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/describe/words.h"
#include "report/json/answers.h"
#include "report/json/json.h"

#include <math.h>
#include <string.h>

static double km(double metres)
{
    return metres / 1e3;
}

static double kmh(double speed)
{
    return speed * 3.6;
}

static double celsius(double kelvin)
{
    return kelvin - 273.15;
}

static json_t *inputs(const hobble_case *c, const struct hobble_answer *a)
{
    char marking[64];
    hobble_marking_print(&a->marking, marking, sizeof marking);
    json_t *o = json_object();
    hb_json_text(o, "marking", marking);
    hb_json_text(o, "construction", a->construction);
    hb_json_bool(o, "example", a->example);
    hb_json_bool(o, "example_load", a->example_load);
    hb_json_bool(o, "wheel_assumed", a->wheel_assumed);
    json_object_set_new(o, "changed_by_hand", hb_json_changed(c));
    hb_json_real(o, "speed_kmh", kmh(a->speed));
    hb_json_real(o, "load_n", a->load);
    hb_json_real(o, "load_share_of_index", a->load_share);
    hb_json_real(o, "ambient_c", celsius(a->ambient));
    hb_json_real(o, "pressure_kpa", a->pressure / 1e3);
    hb_json_real(o, "pressure_now_kpa", a->pressure_now / 1e3);
    hb_json_bool(o, "taken_as_empty", a->taken_as_empty);
    hb_json_real(o, "distance_run_km", km(a->run_seen));
    hb_json_real(o, "distance_unseen_km", km(a->run_unseen));
    hb_json_bool(o, "unseen_assumed", a->unseen_assumed);
    hb_json_bool(o, "built_by_word", a->built_by_word);
    return o;
}

static json_t *more_if(const struct hobble_answer *a)
{
    json_t *list = json_array();
    for (int i = 0; i < a->more_count; i++) {
        json_t *o = json_object();
        hb_json_text(o, "change", a->more[i].slower ? "slower" : "lighter");
        hb_json_real(o, "speed_kmh", kmh(a->more[i].speed));
        hb_json_real(o, "load_n", a->more[i].load);
        hb_json_real(o, "advised_distance_km", km(a->more[i].distance));
        json_array_append_new(list, o);
    }
    return list;
}

/* What was not stated and taken at a usual value. */
static json_t *assumed(const hobble_case *c, const struct hobble_answer *a)
{
    json_t *list = json_array();
    for (int i = 0; i < a->assumed_count; i++) {
        const struct hobble_param *row = &hobble_param_table(NULL)[a->assumed[i]];
        const double given = hobble_case_number(c, a->assumed[i]);
        json_t *o = json_object();
        hb_json_text(o, "key", row->key);
        hb_json_real(o, "value",
                     strcmp(row->key, "load") == 0 ? a->load
                     : isnan(given)                ? 0.0
                                                   : given);
        hb_json_text(o, "unit", hobble_unit_symbol(row->unit));
        json_array_append_new(list, o);
    }
    return list;
}

static json_t *rule_json(const struct hobble_fired *rule)
{
    json_t *o = json_object();
    hb_json_text(o, "id", rule->id);
    hb_json_text(o, "reason", rule->reason);
    hb_json_text(o, "source", rule->source);
    return o;
}

/* Why not, and what would change it. */
static void stops(json_t *o, const struct hobble_answer *a)
{
    json_t *reasons = json_array(), *change = json_object();
    for (int i = 0; i < HOBBLE_STOP_COUNT; i++) {
        const enum hobble_stop reason = (enum hobble_stop)i;
        if (!a->stop[i])
            continue;
        json_array_append_new(reasons, json_string(hobble_stop_word(reason)));
        hb_json_text(change, hobble_stop_word(reason), hobble_stop_remedy(reason));
    }
    json_object_set_new(o, "stop_reasons", reasons);
    json_object_set_new(o, "would_change", change);
    json_object_set_new(o, "condemned",
                        a->stop[HOBBLE_STOP_CONDEMNED] ? rule_json(&a->condemned) : json_null());
}

static json_t *answer_part(const hobble_case *c, const struct hobble_answer *a)
{
    json_t *o = json_object();
    hb_json_text(o, "verdict", hobble_verdict_word(a->verdict));
    hb_json_real(o, "advised_speed_kmh",
                 a->verdict == HOBBLE_STOP ? (double)NAN : kmh(a->advised_speed));
    hb_json_real(o, "advised_distance_km", km(a->advised_distance));
    hb_json_real(o, "advised_time_min", a->advised_time / 60.0);
    hb_json_text(o, "limited_by", hobble_limit_word(a->limited_by));
    hb_json_real(o, "cap_km", km(a->cap));
    hb_json_text(o, "cap_by", hobble_limit_word(a->cap_by));
    hb_json_bool(o, "stops_left_out", a->stops_left_out);
    json_object_set_new(o, "assumed", assumed(c, a));
    stops(o, a);
    json_object_set_new(o, "more_if", more_if(a));
    hb_json_int(o, "counted", a->counted);
    hb_json_bool(o, "too_few", hobble_too_few(a->counted));
    return o;
}

static json_t *band(const struct hobble_band *b, bool none)
{
    json_t *o = json_object();
    hb_json_real(o, "p5", none ? (double)NAN : km(b->p5));
    hb_json_real(o, "p50", none ? (double)NAN : km(b->p50));
    hb_json_real(o, "p95", none ? (double)NAN : km(b->p95));
    json_t *censored = json_array();
    const bool cut[] = {b->censored5, b->censored50, b->censored95};
    static const char *const name[] = {"p5", "p50", "p95"};
    for (int i = 0; i < 3 && !none; i++)
        if (cut[i])
            json_array_append_new(censored, json_string(name[i]));
    hb_json_bool(o, "censored", json_array_size(censored) > 0);
    json_object_set_new(o, "more_than", censored);
    return o;
}

static json_t *range_part(const struct hobble_answer *a)
{
    const bool none = a->rim_at_start || a->stop[HOBBLE_STOP_CONTRADICTION];
    json_t *o = band(&a->range, none);
    json_object_set_new(o, "unconditioned", band(&a->unconditioned, none));
    json_object_set_new(o, "advised", band(&a->advised, none));
    hb_json_bool(o, "advice_conditioned", a->conditioned);
    if (none)
        hb_json_text(
            o, "reason",
            hobble_stop_sentence(a->rim_at_start ? HOBBLE_STOP_RIM : HOBBLE_STOP_CONTRADICTION));
    json_t *ends = json_object();
    for (int i = 0; i < HOBBLE_END_COUNT; i++)
        hb_json_real(ends, hobble_end_word((enum hobble_end)i), a->share_ended[i]);
    json_object_set_new(o, "share_ended_by", ends);
    return o;
}

static void optional_parts(json_t *o, const struct hobble_answer *a)
{
    if (!isnan(a->to)) {
        json_t *arrival = json_object();
        hb_json_real(arrival, "distance_km", km(a->to));
        if (a->verdict == HOBBLE_GO) { /* a chance would be read as leave */
            hb_json_real(arrival, "chance_of_failing", a->chance_of_failing);
            hb_json_real(arrival, "sampling_error", a->sampling_error);
        }
        hb_json_bool(arrival, "within_advice",
                     a->verdict == HOBBLE_GO && a->to <= a->advised_distance);
        json_object_set_new(o, "arrival", arrival);
    }
    json_t *rule = json_object();
    hb_json_real(rule, "speed_kmh", kmh(a->rule_speed));
    hb_json_real(rule, "distance_km", km(a->rule_distance));
    hb_json_real(rule, "share_of_tyres", a->share_of_tyres);
    hb_json_real(rule, "required_share", a->required_share);
    hb_json_bool(rule, "holds", a->rule_holds);
    json_object_set_new(o, "rule", rule);
}

static void state_parts(json_t *o, const struct hobble_answer *a)
{
    json_t *t = json_object(), *life = json_object(), *approval = json_object();
    hb_json_real(t, "now_p50", celsius(a->now_p50));
    hb_json_real(t, "peak_p50", celsius(a->peak_p50));
    hb_json_real(t, "peak_p95", celsius(a->peak_p95));
    hb_json_real(t, "limit", celsius(a->limit));
    hb_json_real(life, "now_p50", a->life_now_p50);
    hb_json_real(life, "at_advised_p50", a->life_at_advised_p50);
    hb_json_text(approval, "kind", a->tested > 0 ? "flat-tyre running test" : "none");
    hb_json_int(approval, "tested", a->tested);
    hb_json_int(approval, "passed", a->passed);
    json_object_set_new(o, "temperature_c", t);
    json_object_set_new(o, "life_used", life);
    json_object_set_new(o, "approval", approval);
}

static void quality_part(json_t *o, const struct hobble_answer *a)
{
    json_t *quality = json_object(), *outside = json_array();
    for (int i = 0; i < a->outside_count; i++)
        json_array_append_new(outside, json_string(a->outside[i]));
    hb_json_real(quality, "energy_closure", a->energy_closure);
    hb_json_real(quality, "solver_difference", a->solver_difference);
    json_object_set_new(quality, "outside_checked_range", outside);
    json_object_set_new(o, "quality", quality);
}

/* What the model says of the whole drive: the verdict rests on it. */
static json_t *drive(const struct hobble_drive *d)
{
    json_t *o = json_object();
    hb_json_real(o, "distance_km", km(d->distance));
    hb_json_real(o, "speed_kmh", kmh(d->speed));
    hb_json_real(o, "lowest_pressure_kpa", d->pressure / 1e3);
    hb_json_real(o, "life_p95", d->life_p95);
    hb_json_real(o, "peak_p95_c", celsius(d->peak_p95));
    return o;
}

static void condition_part(json_t *o, const struct hobble_answer *a)
{
    json_t *condition = json_object(), *rules = json_array();
    for (int i = 0; i < a->rule_count; i++)
        json_array_append_new(rules, rule_json(&a->rule[i]));
    hb_json_text(condition, "verdict", hobble_condition_word(a->condition));
    hb_json_text(condition, "basis", a->rule_count > 0 ? a->rule[0].id : "unknown");
    json_object_set_new(condition, "drive", drive(&a->drive));
    json_object_set_new(condition, "rules", rules);
    json_object_set_new(o, "condition", condition);
}

json_t *hb_range_json(const hobble_case *c, const struct hobble_answer *a)
{
    json_t *o = hb_json_head("range", c);
    if (!o)
        return NULL;
    json_object_set_new(o, "inputs", inputs(c, a));
    json_object_set_new(o, "answer", answer_part(c, a));
    json_object_set_new(o, "range_km", range_part(a));
    optional_parts(o, a);
    state_parts(o, a);
    quality_part(o, a);
    condition_part(o, a);
    json_object_set_new(o, "cautions", hb_json_list(hb_cautions));
    return o;
}
