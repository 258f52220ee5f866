/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/json/answers.h"
#include "report/json/json.h"

#include <math.h>

static json_t *value_json(const hobble_case *c, int i, const struct hobble_param *row)
{
    char word[HOBBLE_FAULT_TEXT];
    if (row->kind == HOBBLE_NUMBER) {
        const double value = hobble_case_number(c, i);
        return isfinite(value) ? json_real(value) : json_null();
    }
    if (row->kind == HOBBLE_TEXT)
        return json_string(hobble_case_text(c, i));
    hobble_param_word_at(row, (int)hobble_case_number(c, i), word, sizeof word);
    return json_string(word);
}

static json_t *row_json(const hobble_case *c, int i, const struct hobble_param *row)
{
    json_t *o = json_object();
    if (!o)
        return NULL;
    hb_json_text(o, "key", row->key);
    json_object_set_new(o, "value", value_json(c, i, row));
    hb_json_text(o, "unit", hobble_unit_symbol(row->unit));
    if (row->stage != HOBBLE_NOT_DRAWN) {
        hb_json_text(o, "shape", row->shape == HOBBLE_LOGNORMAL ? "lognormal" : "normal");
        hb_json_real(o, "spread", hobble_case_spread(c, i));
    }
    if (row->kind == HOBBLE_NUMBER)
        hb_json_text(o, "known", hobble_provenance_word(hobble_case_provenance(c, i)));
    hb_json_text(o, "set_by", hobble_case_origin(c, i));
    hb_json_text(o, "source", hobble_case_source(c, i));
    return o;
}

json_t *hb_explain_json(const hobble_case *c, int group)
{
    size_t count;
    const struct hobble_param *row = hobble_param_table(&count);
    json_t *list = json_array();
    for (size_t i = 0; list && i < count; i++)
        if (group == HB_ALL_GROUPS || row[i].group == (enum hobble_group)group)
            json_array_append_new(list, row_json(c, (int)i, &row[i]));
    return list;
}
