/* SPDX-License-Identifier: GPL-3.0-or-later */
/* card_rows.c - the glove-box card of one vehicle. */
#include "report/describe/answers.h"
#include "report/describe/card.h"
#include "report/describe/message.h"
#include "report/describe/word_lists.h"

#include <math.h>
#include <stdio.h>

typedef struct hb_card card;

static const card *whole(const struct hb_scope *s)
{
    return s->whole;
}

static void given(const hobble_case *c, const char *key, struct hb_value *v)
{
    hb_value_text(v, hobble_case_text(c, hobble_param_find(key)));
}

/* ---- the table ------------------------------------------------------------------------------- */

HB_HOW_MANY(heats, (size_t)whole(s)->heats)
HB_HOW_MANY(loads, (size_t)whole(s)->loads)
HB_ITEM(heat, &whole(s)->heat[place])

/* Of the row that the scope is in. */
HB_ITEM(distance, &whole(s)->distance[s->place][place])
HB_GET(load, text, whole(s)->load[s->place])
HB_GET(season, text, whole(s)->season[s->place])

static void degree(const struct hb_scope *s, struct hb_value *v)
{
    hb_value_text(v, s->us ? "°F" : "°C"); /* paper can always show the sign */
}

HB_GET(length_unit, text, s->us ? "miles" : "km")

#define OF_A_DOUBLE(id) .kind = HB_REAL, .unit = HOBBLE_UNIT_##id, .at = 0

static const struct hb_row one_heat[] = {{NULL, OF_A_DOUBLE(CELSIUS)}};
static const struct hb_row one_distance[] = {
    {NULL, OF_A_DOUBLE(KILOMETRE), .least = 0.0, .most = 80.0}};

static const struct hb_row columns[] = {
    {"season", HB_TEXT, .get = season, .forms = HB_ON_PAPER},
    {"air", OF_A_DOUBLE(CELSIUS), .shown = HB_WHOLE_NEAR, .forms = HB_ON_PAPER},
    {"hottest", OF_A_DOUBLE(CELSIUS), .shown = HB_WHOLE_UP, .forms = HB_ON_PAPER},
    {"degree", HB_TEXT, .get = degree, .forms = HB_ON_PAPER},
    {0}};

static const struct hb_row cells[] = {
    {"way", OF_A_DOUBLE(KILOMETRE), .shown = HB_WHOLE_DOWN, .forms = HB_ON_PAPER}, {0}};

static const struct hb_row of_load[] = {
    {"load", HB_TEXT, .get = load, .forms = HB_ON_PAPER, .meaning = "who and what is in the car"},
    {"distance_km", HB_LIST, .count = heats, .item = distance, .of = one_distance, .least = 4,
     .most = 4,
     .meaning = "that is advised, of the worse axle, place by place with ambient_c; 0 is stop"},
    {"cells", HB_LIST, .count = heats, .item = distance, .of = cells,
     .forms = HB_NOT_JSON | HB_ON_PAPER},
    {0}};

void hb_card_cell(const struct hb_scope *scope, int load_place, int heat_place, char *buf,
                  size_t size)
{
    const card *k = whole(scope);
    const bool on = k->distance[load_place][heat_place] > 0.0;
    struct hb_scope list, row, cell;
    const struct hb_row *at = hb_row_find("rows", 4, scope, &list);
    row = hb_row_inside(at, &list, (size_t)load_place);
    const struct hb_row *all = hb_row_find("cells", 5, &row, &list);
    cell = hb_row_inside(all, &list, (size_t)heat_place);
    hb_say(on ? HB_SAY_CARD_WAY : HB_SAY_CARD_STOP, &cell, buf, size);
}

/* ---- whose it is ----------------------------------------------------------------------------- */

static void vehicle(const struct hb_scope *s, struct hb_value *v)
{
    given(s->c, "vehicle_name", v);
}

static void marking(const struct hb_scope *s, struct hb_value *v)
{
    hb_get_marking(&whole(s)->marking, v);
}

HB_GET(too_few, truth, hobble_too_few(whole(s)->counted))

/* In the order of false and true. */
static const char *afterwards_word(int scrap)
{
    return scrap > 1 ? NULL
                     : hobble_condition_word(scrap ? HOBBLE_SCRAP : HOBBLE_DISMOUNT_AND_INSPECT);
}

HB_GET(afterwards, text, afterwards_word(whole(s)->scrap))

/* As the paper names the vehicle: as its fleet does, or by its profile, or that there is none. */
static void called(const struct hb_scope *s, struct hb_value *v)
{
    hb_value_text(v, whole(s)->vehicle);
    if (v->is == HB_IS_NULL)
        given(s->c, "vehicle_name", v);
    if (!*v->text)
        hb_value_say(v, HB_SAY_CARD_BUILT_IN, s);
}

static void tyre(const hobble_case *c, const struct hobble_marking *parsed, struct hb_value *v)
{
    const char *name = hobble_case_text(c, hobble_param_find("tyre_name"));
    char mark[64];
    if (parsed)
        hobble_marking_print(parsed, mark, sizeof mark);
    else
        snprintf(mark, sizeof mark, "%.60s", hobble_case_text(c, hobble_param_find("marking")));
    snprintf(v->room, sizeof v->room, "%s%s%s", mark, *name ? ", " : "", name);
    hb_value_text(v, v->room);
}

static void front_tyre(const struct hb_scope *s, struct hb_value *v)
{
    tyre(s->c, &whole(s)->marking, v);
}

HB_WHEN(has_rear, whole(s)->rear != NULL)

static void rear_tyre(const struct hb_scope *s, struct hb_value *v)
{
    tyre(whole(s)->rear, NULL, v);
}

static void recovery(const struct hb_scope *s, struct hb_value *v)
{
    given(s->c, "recovery_number", v);
    if (!*v->text) /* room to write one */
        hb_value_text(v, "____________________");
}

static const struct hb_row rows[] = {
    {"vehicle", HB_TEXT, .get = vehicle,
     .meaning = "name of its profile; empty where none has one"},
    {"marking", HB_TEXT, .get = marking, .meaning = "of the tyre, as its sidewall says it"},
    {"example", HB_TRUTH_AT(card, example), .meaning = "no tyre or no vehicle was given"},
    {"counted", HB_COUNT_AT(card, counted), .least = 0.0, .most = HUGE_VAL,
     .meaning = "tyres that the cells rest on"},
    {"too_few", HB_TRUTH, .get = too_few, .meaning = "counted is too few: no card is drawn"},
    {"speed_kmh", HB_REAL_AT(card, speed, KM_PER_HOUR), .least = 1e-3, .most = 80.0,
     .shown = HB_WHOLE_DOWN, .forms = HB_ON_PAPER, .meaning = "the slowest that was advised"},
    {"driven_before_warning_km", HB_REAL_AT(card, unseen, KILOMETRE), .least = 0.0,
     .most = HUGE_VAL, .shown = HB_WAY_UP, .forms = HB_ON_PAPER,
     .meaning = "without air, and taken off already"},
    {"ambient_c", HB_LIST, .count = heats, .item = heat, .of = one_heat, .least = 4, .most = 4,
     .meaning = "outside air of each column"},
    {"rows", HB_LIST, .count = loads, .of = of_load, .least = 3, .most = 4,
     .meaning = "the table, a row each load"},
    {"afterwards", HB_WORD, .get = afterwards, .word = afterwards_word,
     .meaning = "what becomes of the tyre at the least"},
    /* said on paper */
    {"columns", HB_LIST, .count = heats, .item = heat, .of = columns,
     .forms = HB_NOT_JSON | HB_ON_PAPER},
    {"length_unit", HB_TEXT, .get = length_unit, .forms = HB_NOT_JSON},
    {"called", HB_TEXT, .get = called, .forms = HB_NOT_JSON},
    {"front_tyre", HB_TEXT, .get = front_tyre, .forms = HB_NOT_JSON},
    {"rear_tyre", HB_TEXT, .get = rear_tyre, .when = has_rear, .forms = HB_NOT_JSON},
    {"fleet", HB_TEXT_AT(card, fleet), .forms = HB_NOT_JSON},
    {"recovery_number", HB_TEXT, .get = recovery, .forms = HB_NOT_JSON},
    {"day", HB_TEXT_AT(card, day), .forms = HB_NOT_JSON},
    {"until", HB_TEXT_AT(card, until), .forms = HB_NOT_JSON},
    {0}};

const struct hb_answer hb_card_answer = {
    .command = "card",
    .about = "What the glove-box card says. distance_km goes with ambient_c, place by place; 0 is "
             "stop. Of the worse axle, never above 80 km.",
    .of_case = true,
    .row = rows};
