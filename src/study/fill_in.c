/* SPDX-License-Identifier: GPL-3.0-or-later */
/* fill_in.c - what is used in place of what was not given, for the eyes of the asker. */
#include "advice/question.h"
#include "study/case.h"

#include <string.h>

static const char *const BY_EXAMPLE = "the example", *const WORKED_OUT = "worked out";

static void came_from(struct hb_setting *s, const char *origin)
{
    s->origin[0] = '\0';
    strncat(s->origin, origin, sizeof s->origin - 1);
}

static void put(hobble_case *c, enum hb_param_id id, double si, const char *origin)
{
    struct hb_setting *s = &c->settings.row[id];
    if (hb_setting_known(&c->settings, id))
        return;
    s->value = hobble_unit_from_si(hobble_param_table(NULL)[id].unit, si);
    came_from(s, origin);
}

enum hobble_status hobble_case_fill_in(hobble_case *c, struct hobble_faults *sink)
{
    struct hb_question q;
    struct hb_draw middle;
    const enum hobble_status status = hb_question_make(&c->settings, c->leg, c->legs, &q, sink);
    if (status != HOBBLE_OK)
        return status;
    struct hb_setting *s = &c->settings.row[HB_P_MARKING];
    if (!*s->text) {
        hobble_marking_print(&q.built.marking, s->text, sizeof s->text);
        came_from(s, BY_EXAMPLE);
    }
    s = &c->settings.row[HB_P_CONSTRUCTION];
    if ((int)s->value != (int)q.built.construction) {
        s->value = q.built.construction;
        came_from(s, q.built.example ? BY_EXAMPLE : WORKED_OUT);
    }
    hb_draw(&c->settings, NULL, &middle);
    put(c, HB_P_STIFFNESS_FLAT, hb_flat_stiffness(&c->settings, &q.built.marking), WORKED_OUT);
    put(c, HB_P_WALL_THICKNESS, middle.value[HB_P_WALL_THICKNESS] * 1e-3, WORKED_OUT);
    put(c, HB_P_DRUM_TEST, hb_drum_test_seconds(&c->settings), WORKED_OUT);
    const char *by = q.example_load ? BY_EXAMPLE : WORKED_OUT;
    put(c, HB_P_LOAD_SHARE, q.load / q.index_load, by);
    put(c, HB_P_LOAD, q.load, by);
    put(c, HB_P_WARNING_DELAY, hb_warning_delay(&c->settings), WORKED_OUT);
    put(c, HB_P_UNSEEN, hb_warning_delay(&c->settings), WORKED_OUT);
    put(c, HB_P_RUN_SPEED, q.past.assumed_speed, WORKED_OUT);
    return HOBBLE_OK;
}
