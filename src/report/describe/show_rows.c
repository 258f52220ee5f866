/* SPDX-License-Identifier: GPL-3.0-or-later */
/* show_rows.c - pictures for a class: the wall, and life along a journey. */
#include "report/describe/answers.h"
#include "report/describe/drawn.h"
#include "report/describe/message.h"
#include "report/describe/word_lists.h"
#include "report/describe/words.h"

#include <math.h>

typedef struct hobble_wall wall;
typedef struct hobble_life life;
typedef struct hobble_life_point point;

enum { WALL_LINES = 13, LIFE_LINES = 17, DIGITS = 3 };

#define NO_LESS_THAN_NOTHING .least = 0.0, .most = HUGE_VAL
#define SHARE                .least = 0.0, .most = 1.0
#define ON_BOTH              .forms = HB_ON_FULL | HB_ON_PICTURE

/* ---- the wall -------------------------------------------------------------------------------- */

static const wall *of_wall(const struct hb_scope *s)
{
    return s->whole;
}

static const char *wall_word(int place)
{
    return place == 0 ? "wall" : NULL;
}

HB_GET(wall_picture, text, wall_word(0))

static void wall_marking(const struct hb_scope *s, struct hb_value *v)
{
    hb_get_marking(&of_wall(s)->marking, v);
}

HB_HOW_MANY(times, HOBBLE_WALL_TIMES)
HB_HOW_MANY(places, HOBBLE_WALL_PLACES)
HB_GET(time_at, number, of_wall(s)->time[s->place])
HB_GET(way_at, number, of_wall(s)->way[s->place])
HB_GET(depth_at, number, of_wall(s)->depth[s->place])
HB_GET(heat_at, number, of_wall(s)->kelvin[s->up->place][s->place])

static const struct hb_row time_item[] = {
    {NULL, HB_REAL, .unit = HOBBLE_UNIT_MINUTE, .get = time_at}};
static const struct hb_row way_item[] = {
    {NULL, HB_REAL, .unit = HOBBLE_UNIT_KILOMETRE, .get = way_at}};
static const struct hb_row depth_item[] = {
    {NULL, HB_REAL, .unit = HOBBLE_UNIT_MILLIMETRE, .get = depth_at}};
static const struct hb_row heat_item[] = {
    {NULL, HB_REAL, .unit = HOBBLE_UNIT_CELSIUS, .get = heat_at}};
static const struct hb_row heat_line[] = {
    {NULL, HB_LIST, .count = places, .of = heat_item, .least = 2, .most = HUGE_VAL}};

/* Every tenth time, for the table: an item is one of the times. */
HB_HOW_MANY(wall_lines, WALL_LINES)
HB_HOW_MANY(wall_time, (HOBBLE_WALL_TIMES - 1) * s->place / (WALL_LINES - 1))
HB_GET(line_time, number, of_wall(s)->time[wall_time(s)])
HB_GET(line_way, number, of_wall(s)->way[wall_time(s)])
HB_GET(line_inner, number, of_wall(s)->kelvin[wall_time(s)][0])
HB_GET(line_middle, number, of_wall(s)->kelvin[wall_time(s)][HOBBLE_WALL_PLACES / 2])
HB_GET(line_outer, number, of_wall(s)->kelvin[wall_time(s)][HOBBLE_WALL_PLACES - 1])

#define HEAT .unit = HOBBLE_UNIT_CELSIUS, .shown = HB_WHOLE_UP, .forms = HB_ON_FULL

static const struct hb_row wall_line[] = {
    {"time", HB_REAL, .unit = HOBBLE_UNIT_MINUTE, .get = line_time, .shown = HB_WHOLE_NEAR,
     .forms = HB_ON_FULL},
    {"way", HB_REAL, .unit = HOBBLE_UNIT_KILOMETRE, .get = line_way, .shown = HB_TENTH_NEAR,
     .forms = HB_ON_FULL},
    {"inner", HB_REAL, .get = line_inner, HEAT},
    {"middle", HB_REAL, .get = line_middle, HEAT},
    {"outer", HB_REAL, .get = line_outer, HEAT},
    {0}};

/* How the middle tyre ended, in words. */
static void ended(const struct hb_scope *s, struct hb_value *v)
{
    static const enum hb_message sentence[HOBBLE_END_COUNT] = {
        [HOBBLE_END_NONE] = HB_SAY_WALL_CARRIES, [HOBBLE_END_HORIZON] = HB_SAY_WALL_HORIZON,
        [HOBBLE_END_LIFE] = HB_SAY_WALL_BY_LIFE, [HOBBLE_END_HEAT] = HB_SAY_WALL_BY_HEAT,
        [HOBBLE_END_RIM] = HB_SAY_WALL_BY_RIM,   [HOBBLE_END_SHOULDER] = HB_SAY_WALL_BY_SHOULDER,
    };
    hb_value_text(v, hb_message_text(sentence[of_wall(s)->end]));
}

HB_GET(wall_ambient, drawn, of_wall(s)->ambient, HOBBLE_UNIT_CELSIUS, s->us, DIGITS)
HB_GET(degree, text, hb_shown_unit(HOBBLE_UNIT_CELSIUS, s->us))

#define A_LIST(count_of, item) .count = (count_of), .of = (item), .least = 2, .most = HUGE_VAL
#define CONDITIONS(type)                                                                           \
    {"load_n",                                                                                     \
     HB_REAL_AT(type, load, NEWTON),                                                               \
     NO_LESS_THAN_NOTHING,                                                                         \
     .shown = HB_WHOLE_NEAR,                                                                       \
     .forms = HB_ON_PICTURE,                                                                       \
     .meaning = "on the wheel"},                                                                   \
    {                                                                                              \
        "ambient_c", HB_REAL_AT(type, ambient, CELSIUS), .meaning = "outside air"                  \
    }

static const struct hb_row wall_rows[] = {
    {"picture", HB_WORD, .get = wall_picture, .word = wall_word,
     .meaning = "whose numbers these are"},
    {"marking", HB_TEXT, .get = wall_marking, .meaning = "the tyre, as its sidewall says it"},
    {"example", HB_TRUTH_AT(wall, example), .meaning = "built-in values: not the asker's tyre"},
    {"speed_kmh", HB_REAL_AT(wall, speed, KM_PER_HOUR), NO_LESS_THAN_NOTHING,
     .shown = HB_WHOLE_NEAR, .forms = HB_ON_PICTURE, .meaning = "without air"},
    CONDITIONS(wall),
    {"ended_by", HB_WORD_AT(wall, end, hb_end_word), .meaning = "what ended it at the last time"},
    {"evidence_items", HB_COUNT_AT(wall, evidence_items), .least = 0, .most = HOBBLE_EVIDENCE_MAX,
     .meaning = "of the profile, taken in"},
    {"limit_c", HB_REAL_AT(wall, limit, CELSIUS),
     .meaning = "temperature at which the wall's rubber breaks down"},
    {"time_min", HB_LIST, A_LIST(times, time_item), .meaning = "from the loss of pressure"},
    {"way_km", HB_LIST, A_LIST(times, way_item), .meaning = "from the loss of pressure"},
    {"depth_mm", HB_LIST, A_LIST(places, depth_item), .meaning = "from the inner face"},
    {"temperature_c", HB_LIST, .count = times, .of = heat_line,
     .meaning = "of the middle tyre's wall, a list a time, in it a number a depth"},
    /* said in sentences */
    {"lines", HB_LIST, .count = wall_lines, .of = wall_line, .forms = HB_NOT_JSON},
    {"ended", HB_TEXT, .get = ended, .forms = HB_NOT_JSON},
    {"ambient", HB_TEXT, .get = wall_ambient, .forms = HB_NOT_JSON | HB_ON_PICTURE},
    {"degree", HB_TEXT, .get = degree, .forms = HB_NOT_JSON},
    {0}};

const struct hb_answer hb_wall_answer = {
    .command = "show",
    .which = "wall",
    .about = "The middle tyre's wall while it drives without air. Units are in the key names.",
    .of_case = true,
    .row = wall_rows};

/* ---- life along a journey -------------------------------------------------------------------- */

static const life *of_life(const struct hb_scope *s)
{
    return s->whole;
}

static const char *life_word(int place)
{
    return place == 0 ? "life" : NULL;
}

HB_GET(life_picture, text, life_word(0))

static void life_marking(const struct hb_scope *s, struct hb_value *v)
{
    hb_get_marking(&of_life(s)->marking, v);
}

static int life_stands_on(const struct hb_scope *s)
{
    return hb_counted(s->c, of_life(s)->passed);
}

HB_GET(life_counted, count, life_stands_on(s))
HB_GET(life_too_few, truth, hobble_too_few(life_stands_on(s)))
HB_HOW_MANY(points, (size_t)of_life(s)->count)
HB_ITEM(point_item, &of_life(s)->point[place])
HB_HOW_MANY(life_lines, LIFE_LINES)
HB_ITEM(line_item, &of_life(s)->point[(points(s) - 1) * place / (LIFE_LINES - 1)])
HB_ITEM(last_point, &of_life(s)->point[points(s) - 1])

#define LIFE_USED SHARE, .shown = HB_SHARE_WHOLE_UP, .forms = HB_ON_FULL

static const struct hb_row point_rows[] = {
    {"time_min", HB_REAL_AT(point, time, MINUTE), NO_LESS_THAN_NOTHING, .shown = HB_WHOLE_NEAR,
     .forms = HB_ON_FULL, .meaning = "from the start"},
    {"way_km", HB_REAL_AT(point, way, KILOMETRE), NO_LESS_THAN_NOTHING, .shown = HB_TENTH_NEAR,
     .forms = HB_ON_FULL, .meaning = "from the start"},
    {"speed_kmh", HB_REAL_AT(point, speed, KM_PER_HOUR), NO_LESS_THAN_NOTHING,
     .shown = HB_WHOLE_NEAR, .forms = HB_ON_FULL, .meaning = "there"},
    {"life_p5", HB_REAL_AT(point, life5, NONE), LIFE_USED, .meaning = "used at most by 5 of 100"},
    {"life_p50", HB_REAL_AT(point, life50, NONE), LIFE_USED, .meaning = "used at most by half"},
    {"life_p95", HB_REAL_AT(point, life95, NONE), LIFE_USED,
     .meaning = "used at most by 95 of 100"},
    {"wall_p50_c", HB_REAL_AT(point, wall50, CELSIUS), .shown = HB_WHOLE_UP, .forms = HB_ON_FULL,
     .meaning = "hottest place of the wall, half of the tyres"},
    {"share_carrying", HB_REAL_AT(point, alive, NONE), SHARE, .shown = HB_SHARE_DOWN,
     .forms = HB_ON_FULL, .meaning = "tyres that still carry"},
    {0}};

static const struct hb_row end_rows[] = {
    {"way", HB_REAL_AT(point, way, KILOMETRE), .shown = HB_WAY_UP, .forms = HB_ON_PICTURE}, {0}};

static void journey(const struct hb_scope *s, struct hb_value *v)
{
    hb_value_text(
        v, hb_message_text(of_life(s)->ours ? HB_SAY_LIFE_JOURNEY_OURS : HB_SAY_LIFE_JOURNEY));
}

HB_GET(ours, text, of_life(s)->ours ? hb_message_text(HB_SAY_LIFE_OURS) : "")

/* What there is to see of it: that life never heals, or that there is no run at all. */
HB_GET(headline, text,
       hb_message_text(of_life(s)->point[0].alive < 0.5 ? HB_SAY_LIFE_NO_RUN
                                                        : HB_SAY_LIFE_NEVER_HEALS))
HB_GET(life_ambient, drawn, of_life(s)->ambient, HOBBLE_UNIT_CELSIUS, s->us, DIGITS)

static const struct hb_row life_rows[] = {
    {"picture", HB_WORD, .get = life_picture, .word = life_word,
     .meaning = "whose numbers these are"},
    {"marking", HB_TEXT, .get = life_marking, .meaning = "the tyre, as its sidewall says it"},
    {"example", HB_TRUTH_AT(life, example), .meaning = "built-in values: not the asker's tyre"},
    CONDITIONS(life),
    {"journey_is_ours", HB_TRUTH_AT(life, ours), .meaning = "none was asked: one with two stops"},
    {"tested", HB_COUNT_AT(life, tested), NO_LESS_THAN_NOTHING,
     .meaning = "sampled types that were put to the approval test"},
    {"passed", HB_COUNT_AT(life, passed), NO_LESS_THAN_NOTHING, .meaning = "of them"},
    {"counted", HB_COUNT, .get = life_counted, NO_LESS_THAN_NOTHING,
     .meaning = "tyres that stand behind this"},
    {"too_few", HB_TRUTH, .get = life_too_few, .meaning = "counted is too few for advice"},
    {"points", HB_LIST, .count = points, .item = point_item, .of = point_rows, .least = 1,
     .most = HOBBLE_LIFE_POINTS, .meaning = "along the journey"},
    /* said in sentences */
    {"lines", HB_LIST, .count = life_lines, .item = line_item, .of = point_rows,
     .forms = HB_NOT_JSON},
    {"end", HB_OBJECT, .item = last_point, .of = end_rows, .forms = HB_NOT_JSON},
    {"journey", HB_TEXT, .get = journey, .forms = HB_NOT_JSON},
    {"ours", HB_TEXT, .get = ours, .forms = HB_NOT_JSON},
    {"headline", HB_TEXT, .get = headline, .forms = HB_NOT_JSON},
    {"ambient", HB_TEXT, .get = life_ambient, .forms = HB_NOT_JSON | HB_ON_PICTURE},
    {"degree", HB_TEXT, .get = degree, .forms = HB_NOT_JSON},
    {0}};

const struct hb_answer hb_life_answer = {
    .command = "show",
    .which = "life",
    .about = "Life used along a journey, stops included. Units are in the key names.",
    .of_case = true,
    .row = life_rows};
