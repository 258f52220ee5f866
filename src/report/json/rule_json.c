/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/describe/rule_words.h"
#include "report/json/answers.h"
#include "report/json/json.h"

#include <math.h>

static json_t *flips(const struct hobble_rule_answer *a, json_t **why_not, json_t **limits)
{
    static const struct {
        const char *key;
        enum hobble_unit unit;
    } axis[HOBBLE_FLIPS] = {
        [HOBBLE_FLIP_SPEED] = {"speed_kmh", HOBBLE_UNIT_KM_PER_HOUR},
        [HOBBLE_FLIP_LOAD] = {"load_n", HOBBLE_UNIT_NEWTON},
        [HOBBLE_FLIP_AMBIENT] = {"ambient_c", HOBBLE_UNIT_CELSIUS},
    };
    json_t *o = json_object();
    *why_not = json_object();
    *limits = json_object();
    for (int i = 0; i < HOBBLE_FLIPS; i++) {
        const struct hobble_flip *flip = &a->flip[i];
        hb_json_real(o, axis[i].key, hobble_unit_from_si(axis[i].unit, flip->at));
        json_t *range = json_array();
        json_array_append_new(range, json_real(hobble_unit_from_si(axis[i].unit, flip->from)));
        json_array_append_new(range, json_real(hobble_unit_from_si(axis[i].unit, flip->to)));
        json_object_set_new(*limits, axis[i].key, range);
        if (isnan(flip->at))
            hb_json_text(*why_not, axis[i].key, flip->why_not);
    }
    return o;
}

static json_t *inputs(const struct hobble_rule_answer *a)
{
    char marking[64];
    hobble_marking_print(&a->marking, marking, sizeof marking);
    json_t *o = json_object();
    hb_json_text(o, "marking", marking);
    hb_json_bool(o, "example", a->example);
    hb_json_bool(o, "example_load", a->example_load);
    hb_json_real(o, "load_n", a->load);
    hb_json_real(o, "load_share_of_index", a->load_share);
    hb_json_real(o, "ambient_c", hobble_unit_from_si(HOBBLE_UNIT_CELSIUS, a->ambient));
    return o;
}

static json_t *bars(const struct hobble_rule_answer *a)
{
    json_t *list = json_array();
    for (int i = 0; i < HOBBLE_STOP_COUNT; i++)
        if (a->stop[i])
            json_array_append_new(list, json_string(hobble_stop_word((enum hobble_stop)i)));
    return list;
}

json_t *hb_rule_json(const hobble_case *c, const struct hobble_rule_answer *a)
{
    char reason[320];
    json_t *o = hb_json_head("rule", c), *why_not, *limits;
    if (!o)
        return NULL;
    json_object_set_new(o, "inputs", inputs(a));
    hb_json_real(o, "speed_kmh", hobble_unit_from_si(HOBBLE_UNIT_KM_PER_HOUR, a->speed));
    hb_json_real(o, "distance_km", a->distance / 1e3);
    hb_json_bool(o, "holds", a->holds);
    hb_json_real(o, "share_of_tyres", a->share);
    json_t *sure = json_array();
    json_array_append_new(sure, json_real(a->share_low));
    json_array_append_new(sure, json_real(a->share_high));
    json_object_set_new(o, "share_confidence_95", sure);
    hb_json_real(o, "required_share", a->required);
    hb_json_real(o, "reach_km", a->reach / 1e3);
    hb_json_bool(o, "reach_is_more", a->reach_censored);
    json_t *at = flips(a, &why_not, &limits);
    json_object_set_new(o, "flips_at", at);
    json_object_set_new(o, "searched", limits);
    json_object_set_new(o, "does_not_flip", why_not);
    hb_rule_reason(a, false, reason, sizeof reason);
    hb_json_text(o, "reason", reason);
    json_object_set_new(o, "barred_by", bars(a));
    hb_json_real(o, "advice_cap_km", a->cap / 1e3);
    json_t *approval = json_object();
    hb_json_int(approval, "tested", a->tested);
    hb_json_int(approval, "passed", a->passed);
    json_object_set_new(o, "approval", approval);
    hb_json_int(o, "counted", a->counted);
    hb_json_bool(o, "too_few", hobble_too_few(a->counted));
    hb_json_real(o, "energy_closure", a->energy_closure);
    return o;
}
