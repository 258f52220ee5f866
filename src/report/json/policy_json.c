/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/describe/policy.h"
#include "report/json/answers.h"
#include "report/json/json.h"

#include "input/quantity.h"

#include <math.h>
#include <string.h>

/* ---- JSON ------------------------------------------------------------------------------------ */

static json_t *reasons(int stops)
{
    json_t *list = json_array();
    for (int i = 0; i < HOBBLE_STOP_COUNT; i++)
        if (stops >> i & 1)
            json_array_append_new(list, json_string(hobble_stop_word((enum hobble_stop)i)));
    return list;
}

static json_t *chance(const struct hobble_chance *c)
{
    json_t *o = json_object();
    hb_json_real(o, "failed", c->failed);
    hb_json_real(o, "failed_error", c->error);
    hb_json_real(o, "stranded", c->stranded);
    hb_json_real(o, "lost", c->lost);
    return o;
}

static json_t *row_json(const struct hobble_fleet *f, const struct hobble_policy_row *row,
                        bool has_rule)
{
    json_t *o = json_object();
    hb_json_text(o, "vehicle", f->vehicle[row->vehicle].name);
    hb_json_text(o, "load", f->load[row->load].name);
    hb_json_text(o, "season", f->season[row->season].name);
    hb_json_real(o, "share_of_km", row->weight);
    hb_json_real(o, "load_front_n", row->load_n[0]);
    hb_json_real(o, "load_rear_n", row->load_n[1]);
    hb_json_real(o, "coldest_c", row->coldest - 273.15);
    hb_json_real(o, "hottest_c", row->hottest - 273.15);
    hb_json_text(o, "verdict", row->go ? "go" : "stop");
    hb_json_real(o, "advised_speed_kmh", row->go ? row->speed * 3.6 : (double)NAN);
    hb_json_real(o, "advised_distance_km", row->distance / 1e3);
    hb_json_real(o, "advice_alone_km", row->advised / 1e3);
    hb_json_real(o, "by_rule_km", has_rule ? row->told / 1e3 : 0.0);
    hb_json_int(o, "counted", row->counted);
    json_object_set_new(o, "stop_reasons", reasons(row->go ? 0 : row->stops));
    hb_json_real(o, "chance_of_failing", row->policy.failed);
    hb_json_real(o, "chance_of_stranding", row->policy.stranded);
    json_object_set_new(o, "under_policy", chance(&row->policy));
    json_object_set_new(o, "under_rule", chance(&row->rule));
    json_object_set_new(o, "under_stop", chance(&row->stop));
    hb_json_real(o, "rule_share_of_tyres", row->rule_share);
    hb_json_bool(o, "rule_holds", row->rule_holds);
    hb_json_bool(o, "rule_unsafe", row->rule_unsafe);
    json_object_set_new(o, "rule_stop_reasons", reasons(row->rule_barred ? row->rule_stops : 0));
    hb_json_bool(o, "rule_wasteful", row->rule_wasteful);
    return o;
}

static void set_name(json_t *o, const char *key, int place, const char *name)
{
    json_object_set_new(o, key, place >= 0 ? json_string(name) : json_null());
}

static json_t *simple_json(const struct hb_policy_report *r)
{
    const struct hobble_simple_rule *s = &r->policy->simple;
    char line[HB_POLICY_LINES][HB_POLICY_TEXT];
    json_t *o = json_object(), *list = json_array();
    const int lines = hb_policy_lines(r, line);
    for (int i = 0; i < lines; i++)
        json_array_append_new(list, json_string(line[i]));
    json_object_set_new(o, "lines", list);
    hb_json_bool(o, "goes_on", s->found);
    hb_json_real(o, "speed_kmh", s->speed * 3.6);
    hb_json_real(o, "distance_km", s->distance / 1e3);
    json_t *e = s->exception ? json_object() : json_null();
    if (s->exception) {
        set_name(e, "vehicle", s->vehicle, r->fleet->vehicle[s->vehicle < 0 ? 0 : s->vehicle].name);
        set_name(e, "load", s->load, r->fleet->load[s->load < 0 ? 0 : s->load].name);
        set_name(e, "season", s->season, r->fleet->season[s->season < 0 ? 0 : s->season].name);
        hb_json_real(e, "distance_km", s->other / 1e3);
    }
    json_object_set_new(o, "exception", e);
    hb_json_real(o, "worst_chance_of_failing", s->failed);
    hb_json_real(o, "worst_error", s->failed_error);
    hb_json_real(o, "fresh_worst_chance_of_failing", s->fresh);
    hb_json_real(o, "fresh_worst_error", s->fresh_error);
    hb_json_bool(o, "verified", s->verified);
    hb_json_real(o, "reaches_help", s->reaches);
    hb_json_real(o, "reaches_help_by_rows", s->reaches_best);
    hb_json_int(o, "rules_tried", s->tried);
    json_object_set_new(o, "fleet", chance(&s->all));
    json_object_set_new(o, "fleet_fresh", chance(&s->all_fresh));
    return o;
}

static json_t *band(const struct hobble_spread *s)
{
    json_t *o = json_object();
    hb_json_real(o, "middle", s->middle);
    hb_json_real(o, "p5", s->p5);
    hb_json_real(o, "p95", s->p95);
    return o;
}

static json_t *costs_json(const struct hobble_policy *p)
{
    static const char *const pays[] = {"at_rate", "always", "never"};
    json_t *list = json_array();
    for (int b = 0; b < HOBBLE_BUILDS; b++) {
        const struct hobble_policy_cost *c = &p->cost[b];
        json_t *o = json_object();
        hb_json_text(o, "construction", hobble_build_word((enum hobble_build)b));
        json_object_set_new(o, "cost_per_100000_km", band(&c->cost));
        json_object_set_new(o, "stranded_per_million_km", band(&c->stranded));
        hb_json_real(o, "chance_a_puncture_strands", c->stranding);
        hb_json_real(o, "fixed_per_100000_km", c->fixed);
        hb_json_real(o, "cost_of_a_puncture", c->a_puncture);
        hb_json_text(o, "self_supporting_pays", b == HOBBLE_BUILD_SELF ? "itself" : pays[c->pays]);
        hb_json_real(o, "break_even_punctures_per_100000_km",
                     b == HOBBLE_BUILD_SELF ? (double)NAN : c->break_even);
        json_array_append_new(list, o);
    }
    return list;
}

static json_t *shifts_json(const struct hobble_policy *p)
{
    json_t *list = json_array();
    for (int i = 0; i < HOBBLE_SHIFTS; i++) {
        json_t *o = json_object();
        hb_json_text(o, "input", hobble_shift_word(p->shift[i].code));
        hb_json_text(o, "moved", hobble_shift_what(p->shift[i].code));
        hb_json_real(o, "mean_change_km", p->shift[i].change / 1e3);
        hb_json_real(o, "share_of_km_that_turns", p->shift[i].flipped);
        hb_json_text(o, "measure", hobble_shift_how(p->shift[i].code));
        json_array_append_new(list, o);
    }
    return list;
}

static json_t *inputs_json(const struct hobble_fleet *f)
{
    size_t count;
    const struct hobble_fleet_row *row = hobble_fleet_table(&count);
    json_t *list = json_array();
    for (size_t i = 0; i < count; i++) {
        json_t *o = json_object();
        const char *unit =
            row[i].unit != HOBBLE_UNIT_NONE ? hobble_unit_symbol(row[i].unit) : row[i].shown;
        hb_json_text(o, "key", row[i].key);
        hb_json_real(o, "value", f->number[i].value);
        hb_json_text(o, "unit", unit);
        hb_json_real(o, "spread", f->number[i].spread);
        hb_json_text(o, "provenance", hobble_provenance_word(f->number[i].provenance));
        hb_json_text(o, "source", f->number[i].source);
        hb_json_text(o, "set_by", f->number[i].origin);
        json_array_append_new(list, o);
    }
    return list;
}

static json_t *quality_json(const struct hobble_policy *p)
{
    json_t *o = json_object();
    hb_json_int(o, "conditions", (int)p->conditions);
    hb_json_real(o, "energy_closure", p->closure);
    hb_json_int(o, "hours_solved_as_they_are", p->exact_hours);
    hb_json_real(o, "binning_distance_km", p->bin_distance / 1e3);
    hb_json_real(o, "binning_chance_mean", p->bin_chance);
    hb_json_real(o, "binning_chance_most", p->bin_chance_most);
    return o;
}

json_t *hb_policy_json(const struct hb_policy_report *r)
{
    json_t *o = hb_json_head("policy", r->c), *rows = json_array();
    if (!o || !rows) {
        json_decref(o);
        json_decref(rows);
        return NULL;
    }
    hb_json_text(o, "fleet", r->fleet->name);
    hb_json_text(o, "money", r->fleet->money);
    hb_json_int(o, "counted", r->policy->counted);
    hb_json_bool(o, "too_few", hobble_too_few(r->policy->counted));
    hb_json_real(o, "fleet_km_a_year", r->policy->fleet_km);
    hb_json_real(o, "hours_of_weather", (double)r->fleet->hours);
    json_t *help = json_object();
    hb_json_real(help, "mean_km", r->fleet->help.mean / 1e3);
    hb_json_int(help, "distances", r->fleet->help.count);
    json_object_set_new(o, "help", help);
    json_object_set_new(o, "rule", simple_json(r));
    for (int i = 0; i < r->policy->rows; i++)
        json_array_append_new(rows, row_json(r->fleet, &r->policy->row[i], hb_policy_has_rule(r)));
    json_object_set_new(o, "rows", rows);
    json_object_set_new(o, "fleet_under_policy", chance(&r->policy->all));
    json_object_set_new(o, "fleet_under_rule", chance(&r->policy->all_rule));
    json_object_set_new(o, "constructions", costs_json(r->policy));
    json_object_set_new(o, "sensitivity", shifts_json(r->policy));
    json_object_set_new(o, "inputs", inputs_json(r->fleet));
    json_object_set_new(o, "quality", quality_json(r->policy));
    json_object_set_new(o, "cautions", hb_json_list(hb_policy_cautions));
    return o;
}

/* ---- CSV ------------------------------------------------------------------------------------- */

/* Names are somebody's text: always quoted, quotes doubled (RFC 4180). */
static void csv_text(FILE *f, const char *text)
{
    fputc('"', f);
    for (; *text; text++) {
        if (*text == '"')
            fputc('"', f);
        fputc(*text, f);
    }
    fputs("\",", f);
}

static void csv_number(FILE *f, double value, char after)
{
    char text[40] = "";
    if (isfinite(value))
        hb_number_print(value, 9, text, sizeof text);
    fprintf(f, "%s%c", text, after);
}

void hb_policy_csv(FILE *f, const struct hb_policy_report *r)
{
    fprintf(f,
            "vehicle,load,season,share of km,front wheel (N),rear wheel (N),coldest (C),hottest "
            "(C),go,speed (km/h),distance (km),policy: failed,policy: failed error,policy: "
            "stranded,rule: failed,rule: stranded,rule: lost,stop: stranded,share making the rule,"
            "rule holds,rule unsafe,rule wasteful,by the rule (km),tyres counted\n");
    for (int i = 0; i < r->policy->rows; i++) {
        const struct hobble_policy_row *row = &r->policy->row[i];
        const double number[] = {row->weight,
                                 row->load_n[0],
                                 row->load_n[1],
                                 row->coldest - 273.15,
                                 row->hottest - 273.15,
                                 row->go,
                                 row->go ? row->speed * 3.6 : (double)NAN,
                                 row->distance / 1e3,
                                 row->policy.failed,
                                 row->policy.error,
                                 row->policy.stranded,
                                 row->rule.failed,
                                 row->rule.stranded,
                                 row->rule.lost,
                                 row->stop.stranded,
                                 row->rule_share,
                                 row->rule_holds,
                                 row->rule_unsafe,
                                 row->rule_wasteful,
                                 hb_policy_has_rule(r) ? row->told / 1e3 : 0.0,
                                 row->counted};
        const size_t count = sizeof number / sizeof *number;
        csv_text(f, r->fleet->vehicle[row->vehicle].name);
        csv_text(f, r->fleet->load[row->load].name);
        csv_text(f, r->fleet->season[row->season].name);
        for (size_t k = 0; k < count; k++)
            csv_number(f, number[k], k + 1 < count ? ',' : '\n');
    }
}
