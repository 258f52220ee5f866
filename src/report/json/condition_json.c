/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/describe/condition_words.h"
#include "report/json/answers.h"
#include "report/json/json.h"

#include <math.h>
#include <string.h>

static double shown(enum hobble_unit unit, double si)
{
    return hobble_unit_from_si(unit, si);
}

/* What was stated, in the rows' units. */
static json_t *facts(const hobble_case *c)
{
    size_t rows;
    const struct hobble_param *p = hobble_param_table(&rows);
    json_t *o = json_object();
    for (size_t i = 0; i < rows; i++) {
        const int row = (int)i;
        char word[64];
        if (p[i].group == HOBBLE_STUDY || p[i].group == HOBBLE_RULES ||
            !hobble_case_given(c, row) ||
            strcmp(p[i].key, "job") == 0) /* no fact of the tyre: it stands above them */
            continue;
        if (p[i].kind == HOBBLE_NUMBER)
            hb_json_real(o, p[i].key, hobble_case_number(c, row));
        else if (p[i].kind == HOBBLE_TEXT)
            hb_json_text(o, p[i].key, hobble_case_text(c, row));
        else {
            hobble_param_word_at(&p[i], (int)hobble_case_number(c, row), word, sizeof word);
            hb_json_text(o, p[i].key, word);
        }
    }
    return o;
}

static json_t *rules(const struct hobble_condition_answer *a)
{
    json_t *list = json_array();
    for (int i = 0; i < a->rule_count; i++) {
        const struct hobble_fired *r = &a->rule[i];
        json_t *o = json_object();
        hb_json_text(o, "id", r->id);
        hb_json_text(o, "verdict", hobble_condition_word(r->verdict));
        hb_json_text(o, "reason", r->reason);
        hb_json_text(o, "source", r->source);
        hb_json_text(o, "provenance", hobble_provenance_word(r->provenance));
        json_array_append_new(list, o);
    }
    return list;
}

static json_t *find_out(const struct hobble_condition_answer *a)
{
    const struct hobble_param *p = hobble_param_table(NULL);
    json_t *list = json_array();
    for (int i = 0; i < a->find_out_count; i++) {
        json_t *o = json_object();
        hb_json_text(o, "key", p[a->find_out[i]].key);
        hb_json_text(o, "what", p[a->find_out[i]].meaning);
        json_array_append_new(list, o);
    }
    return list;
}

static json_t *local_rules(const hobble_case *c, const struct hobble_condition_answer *a)
{
    char name[HOBBLE_FAULT_TEXT];
    json_t *o = json_object(), *list = json_array();
    hb_condition_rules_name(c, name);
    hb_json_text(o, "name", name);
    for (int i = 0; i < a->loosened_count; i++)
        json_array_append_new(list, json_string(hobble_param_table(NULL)[a->loosened[i]].key));
    json_object_set_new(o, "loosened", list);
    return o;
}

static json_t *model(const struct hobble_drive *d)
{
    json_t *o = json_object();
    hb_json_bool(o, "run", d->run);
    if (!d->run) {
        hb_json_text(o, "why_not", d->why_not);
        return o;
    }
    hb_json_real(o, "pressure_kpa", shown(HOBBLE_UNIT_KILOPASCAL, d->pressure));
    hb_json_real(o, "distance_km", shown(HOBBLE_UNIT_KILOMETRE, d->distance));
    hb_json_real(o, "speed_kmh", shown(HOBBLE_UNIT_KM_PER_HOUR, d->speed));
    hb_json_real(o, "load_n", d->load);
    hb_json_real(o, "ambient_c", shown(HOBBLE_UNIT_CELSIUS, d->ambient));
    hb_json_real(o, "peak_c_p50", shown(HOBBLE_UNIT_CELSIUS, d->peak_p50));
    hb_json_real(o, "peak_c_p95", shown(HOBBLE_UNIT_CELSIUS, d->peak_p95));
    hb_json_real(o, "above_80_c_min_p95", shown(HOBBLE_UNIT_MINUTE, d->above_80));
    hb_json_real(o, "above_100_c_min_p95", shown(HOBBLE_UNIT_MINUTE, d->above_100));
    hb_json_real(o, "above_120_c_min_p95", shown(HOBBLE_UNIT_MINUTE, d->above_120));
    hb_json_real(o, "life_used_p50", d->life_p50);
    hb_json_real(o, "life_used_p95", d->life_p95);
    hb_json_real(o, "deflection_of_rim_contact_p95", d->deflection_p95);
    hb_json_real(o, "rim_share_of_tyres", d->rim_share);
    return o;
}

json_t *hb_condition_json(const hobble_case *c, const struct hobble_condition_answer *a)
{
    json_t *o = hb_json_head("condition", c);
    json_t *checks = json_array();
    if (!o || !checks) {
        json_decref(o);
        json_decref(checks);
        return NULL;
    }
    for (int i = 0; i < a->check_count; i++)
        json_array_append_new(checks, json_string(a->check[i]));
    hb_json_text(o, "job", hobble_case_text(c, hobble_param_find("job")));
    hb_json_text(o, "verdict", hobble_condition_word(a->verdict));
    hb_json_text(o, "basis", hobble_basis_word(a->basis));
    json_object_set_new(o, "rules", rules(a));
    hb_json_bool(o, "decided", a->decided);
    json_object_set_new(o, "find_out", find_out(a));
    json_object_set_new(o, "matters_most",
                        a->matters_most < 0
                            ? json_null()
                            : json_string(hobble_param_table(NULL)[a->matters_most].key));
    json_object_set_new(o, "still_to_check", checks);
    json_object_set_new(o, "facts", facts(c));
    hb_json_real(o, "age_years", shown(HOBBLE_UNIT_YEAR, a->age));
    json_object_set_new(o, "local_rules", local_rules(c, a));
    json_object_set_new(o, "model", model(&a->drive));
    json_object_set_new(o, "cautions", hb_json_list(hobble_condition_cautions()));
    return o;
}
