/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/describe/why_words.h"
#include "report/json/answers.h"
#include "report/json/json.h"

#include <math.h>

static json_t *interval(double low, double high)
{
    if (isnan(low) || isnan(high))
        return json_null();
    json_t *list = json_array();
    json_array_append_new(list, json_real(low));
    json_array_append_new(list, json_real(high));
    return list;
}

static void output(json_t *o, const struct hobble_why *w, enum hobble_why_output k)
{
    json_t *list = json_array();
    hb_json_text(o, "output", hobble_why_word(k));
    hb_json_text(o, "meaning", hobble_why_meaning(k));
    if (k == HOBBLE_WHY_PEAK)
        hb_json_real(o, "mean_c", hobble_unit_from_si(HOBBLE_UNIT_CELSIUS, w->mean[k]));
    else
        hb_json_real(o, k == HOBBLE_WHY_RANGE ? "mean_ln_m" : "mean_share", w->mean[k]);
    hb_json_real(o, k == HOBBLE_WHY_PEAK ? "deviation_k" : "deviation", w->deviation[k]);
    for (int i = 0; i < w->count; i++) {
        const struct hobble_index *x = &w->index[k][i];
        json_t *row = json_object();
        hb_json_text(row, "key", hobble_param_table(NULL)[x->row].key);
        hb_json_real(row, "first", x->first);
        json_object_set_new(row, "first_ci", interval(x->first_low, x->first_high));
        hb_json_real(row, "total", x->total);
        json_object_set_new(row, "total_ci", interval(x->total_low, x->total_high));
        json_array_append_new(list, row);
    }
    json_object_set_new(o, "indices", list);
}

json_t *hb_why_json(const hobble_case *c, const struct hobble_why *w)
{
    char marking[64], advice[320];
    json_t *o = hb_json_head("why", c), *also = json_array();
    if (!o)
        return NULL;
    hobble_marking_print(&w->marking, marking, sizeof marking);
    hb_json_text(o, "marking", marking);
    hb_json_bool(o, "example", w->example);
    hb_json_real(o, "distance_km", w->distance / 1e3);
    hb_json_real(o, "speed_kmh", hobble_unit_from_si(HOBBLE_UNIT_KM_PER_HOUR, w->speed));
    hb_json_int(o, "base_sample", w->base);
    hb_json_int(o, "counted", w->base);
    hb_json_bool(o, "too_few", hobble_too_few(w->base));
    hb_json_int(o, "journeys", w->runs);
    hb_json_bool(o, "conditioned", false);
    hb_json_text(o, "inputs", "independent");
    hb_json_real(o, "confidence", 0.95);
    output(o, w, HOBBLE_WHY_RANGE);
    for (int k = HOBBLE_WHY_RANGE + 1; k < HOBBLE_WHY_OUTPUTS; k++) {
        json_t *other = json_object();
        output(other, w, (enum hobble_why_output)k);
        json_array_append_new(also, other);
    }
    json_object_set_new(o, "also", also);
    if (w->first_row >= 0)
        hb_json_text(o, "measure_first", hobble_param_table(NULL)[w->first_row].key);
    else
        json_object_set_new(o, "measure_first", json_null());
    hb_why_advice(w, advice, sizeof advice);
    hb_json_text(o, "advice", advice);
    return o;
}
