/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/describe/card.h"
#include "report/json/answers.h"
#include "report/json/json.h"

static json_t *numbers(const double *si, int count, enum hobble_unit unit)
{
    json_t *list = json_array();
    for (int i = 0; list && i < count; i++)
        json_array_append_new(list, json_real(hobble_unit_from_si(unit, si[i])));
    return list;
}

json_t *hb_card_json(const hobble_case *c, const struct hb_card *card)
{
    char marking[HOBBLE_FAULT_TEXT];
    json_t *o = hb_json_head("card", c), *rows = json_array();
    if (!o || !rows) {
        json_decref(o);
        json_decref(rows);
        return NULL;
    }
    hobble_marking_print(&card->marking, marking, sizeof marking);
    hb_json_text(o, "vehicle", hobble_case_text(c, hobble_param_find("vehicle_name")));
    hb_json_text(o, "marking", marking);
    hb_json_bool(o, "example", card->example);
    hb_json_int(o, "counted", card->counted);
    hb_json_bool(o, "too_few", hobble_too_few(card->counted));
    hb_json_real(o, "speed_kmh", hobble_unit_from_si(HOBBLE_UNIT_KM_PER_HOUR, card->speed));
    hb_json_real(o, "driven_before_warning_km",
                 hobble_unit_from_si(HOBBLE_UNIT_KILOMETRE, card->unseen));
    json_object_set_new(o, "ambient_c", numbers(card->heat, card->heats, HOBBLE_UNIT_CELSIUS));
    for (int i = 0; i < card->loads; i++) {
        json_t *row = json_object();
        hb_json_text(row, "load", card->load[i]);
        json_object_set_new(row, "distance_km",
                            numbers(card->distance[i], card->heats, HOBBLE_UNIT_KILOMETRE));
        json_array_append_new(rows, row);
    }
    json_object_set_new(o, "rows", rows);
    hb_json_text(o, "afterwards", card->scrap ? "scrap" : "dismount_and_inspect");
    return o;
}
