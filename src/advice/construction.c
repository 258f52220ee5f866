/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/construction.h"

static const char built_in_marking[] = "205/55 RF16 91V";

static enum hobble_status contradiction(const struct hb_settings *s, struct hobble_faults *sink)
{
    const struct hobble_param *row = &hobble_param_table(NULL)[HB_P_CONSTRUCTION];
    struct hobble_fault f = {.status = HOBBLE_E_CONFLICT};
    hobble_fault_text(f.key, row->key);
    hobble_fault_text(f.file, s->row[HB_P_CONSTRUCTION].origin);
    hobble_param_word_at(row, hb_setting_word(s, HB_P_CONSTRUCTION), f.given, sizeof f.given);
    hobble_fault_text(f.allowed, "self_supporting, as RF or ZRF in the marking says");
    return hobble_faults_add(sink, &f);
}

enum hobble_status hb_built_make(const struct hb_settings *s, struct hb_built *built,
                                 struct hobble_faults *sink)
{
    const char *text = s->row[HB_P_MARKING].text;
    struct hb_built b = {.example = !*text};
    struct hobble_fault why = {0};
    b.construction = (enum hb_construction)hb_setting_word(s, HB_P_CONSTRUCTION);
    if (hobble_marking_parse(*text ? text : built_in_marking, &b.marking, &why) != HOBBLE_OK)
        return hobble_faults_add(sink, &why);
    const bool marked = b.marking.flat == HOBBLE_MARK_RF;
    if (b.example && s->row[HB_P_CONSTRUCTION].given) {
        /* another construction of the built-in size, to look at */
        b.marking.flat = b.construction == HB_SELF_SUPPORTING ? HOBBLE_MARK_RF : HOBBLE_MARK_NONE;
    } else if (marked && b.construction != HB_UNKNOWN && b.construction != HB_SELF_SUPPORTING) {
        return contradiction(s, sink);
    } else if (marked) {
        b.construction = HB_SELF_SUPPORTING;
    }
    b.by_word = b.construction == HB_SELF_SUPPORTING && b.marking.flat != HOBBLE_MARK_RF;
    *built = b;
    return HOBBLE_OK;
}
