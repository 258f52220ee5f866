/* SPDX-License-Identifier: GPL-3.0-or-later */
/* map_rows.c - how far, over two conditions: hobble map, and hobble show contour, which is the same
 * behind the picture's name. */
#include "report/describe/answers.h"
#include "report/describe/drawn.h"
#include "report/describe/map_words.h"
#include "report/describe/message.h"
#include "report/describe/word_lists.h"

#include "input/quantity.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

typedef struct hobble_map map;
typedef struct hobble_axis axis;

static const map *of(const struct hb_scope *s)
{
    return s->whole;
}

/* ---- the axes -------------------------------------------------------------------------------- */

HB_ITEM(axis_item, &of(s)->axis[place])

static const struct hobble_param *axis_row(const struct hb_scope *s)
{
    return &hobble_param_table(NULL)[((const axis *)s->of)->row];
}

static ptrdiff_t which(const struct hb_scope *s)
{
    return (const axis *)s->of - of(s)->axis;
}

HB_GET(axis_name, text, axis_row(s)->key)
HB_GET(axis_unit, text, hobble_unit_symbol(axis_row(s)->unit))
HB_GET(asked, number, of(s)->asked[which(s)])
HB_HOW_MANY(axis_count, (size_t)((const axis *)s->of)->count)
HB_GET(axis_value, number, of(s)->value[which(s)][s->place])

static const struct hb_row axis_values[] = {{NULL, HB_REAL, .get = axis_value}};

static const struct hb_row axis_rows[] = {
    {"name", HB_TEXT, .get = axis_name, .meaning = "key, as after --set"},
    {"unit", HB_TEXT, .get = axis_unit, .meaning = "of the values; empty for a pure number"},
    {"asked", HB_REAL, .get = asked, .forms = HB_NULLABLE, .meaning = "the question's own place"},
    {"values", HB_LIST, .count = axis_count, .of = axis_values, .least = 2, .most = HOBBLE_AXIS_MAX,
     .meaning = "at which cells were computed"},
    {0}};

/* ---- one cell: of a matrix, where rows are lists of lists, or of the list of all --------------
 */

HB_HOW_MANY(lines, (size_t)of(s)->axis[1].count)
HB_HOW_MANY(columns, (size_t)of(s)->axis[0].count)
HB_HOW_MANY(cells, lines(s) * columns(s))

/* The list of all is itself in no list, whose place is then 0. */
HB_HOW_MANY(cell, s->up->place *columns(s) + s->place)

#define CELL_NUMBER(name)                                                                          \
    static void name(const struct hb_scope *s, struct hb_value *v)                                 \
    {                                                                                              \
        hb_value_number(v, of(s)->name[cell(s)]);                                                  \
    }
CELL_NUMBER(p5)
CELL_NUMBER(p50)
CELL_NUMBER(p95)
CELL_NUMBER(rim)
CELL_NUMBER(share)
CELL_NUMBER(reach)
#undef CELL_NUMBER

#define CELL_TRUTH(name, is)                                                                       \
    static void name(const struct hb_scope *s, struct hb_value *v)                                 \
    {                                                                                              \
        hb_value_truth(v, of(s)->is);                                                              \
    }
CELL_TRUTH(p5_cut, cut[cell(s)] & 1)
CELL_TRUTH(p50_cut, cut[cell(s)] & 2)
CELL_TRUTH(p95_cut, cut[cell(s)] & 4)
CELL_TRUTH(outside, outside[cell(s)])
CELL_TRUTH(holds, holds[cell(s)])
#undef CELL_TRUTH

#define WAY   .unit = HOBBLE_UNIT_KILOMETRE, .least = 0.0, .most = HUGE_VAL, .forms = HB_NULLABLE
#define SHARE .least = 0.0, .most = 1.0
#define MATRIX(name, ...)                                                                          \
    static const struct hb_row name##_cell[] = {{NULL, .get = name, __VA_ARGS__}};                 \
    static const struct hb_row name##_line[] = {                                                   \
        {NULL, HB_LIST, .count = columns, .of = name##_cell}};
MATRIX(p5, .kind = HB_REAL, WAY)
MATRIX(p50, .kind = HB_REAL, WAY)
MATRIX(p95, .kind = HB_REAL, WAY)
MATRIX(rim, .kind = HB_REAL, SHARE)
MATRIX(share, .kind = HB_REAL, SHARE)
MATRIX(reach, .kind = HB_REAL, WAY)
MATRIX(p5_cut, .kind = HB_TRUTH)
MATRIX(p50_cut, .kind = HB_TRUTH)
MATRIX(p95_cut, .kind = HB_TRUTH)
MATRIX(outside, .kind = HB_TRUTH)
MATRIX(holds, .kind = HB_TRUTH)
#undef MATRIX

static const struct hb_row more_than[] = {
    {"p5", HB_LIST, .count = lines, .of = p5_cut_line, .meaning = "of p5"},
    {"p50", HB_LIST, .count = lines, .of = p50_cut_line, .meaning = "of p50"},
    {"p95", HB_LIST, .count = lines, .of = p95_cut_line, .meaning = "of p95"},
    {0}};

static const struct hb_row range_rows[] = {
    {"p5", HB_LIST, .count = lines, .of = p5_line, .meaning = "95 of 100 carry at least this"},
    {"p50", HB_LIST, .count = lines, .of = p50_line, .meaning = "half carry at least this"},
    {"p95", HB_LIST, .count = lines, .of = p95_line, .meaning = "5 of 100 carry at least this"},
    {"more_than", HB_OBJECT, .of = more_than, .meaning = "where it is more than the distance told"},
    {0}};

static const struct hb_row rule_rows[] = {
    {"distance_km", HB_REAL_AT(map, rule_distance, KILOMETRE), .least = 80.0, .most = 80.0,
     .shown = HB_TENTH_DOWN, .forms = HB_ON_FULL | HB_ON_PICTURE,
     .meaning = "at the place's speed, flat from the first metre"},
    {"required_share", HB_REAL_AT(map, required, NONE), SHARE, .shown = HB_SHARE_STATED,
     .forms = HB_ON_FULL | HB_ON_PICTURE, .meaning = "that must make it"},
    {"needed_share", HB_REAL_AT(map, needed, NONE), .least = 0.0, .most = HUGE_VAL,
     .meaning = "share of the counted that must make it, to be sure of the required one; may be "
                "above 1"},
    {"share_of_tyres", HB_LIST, .count = lines, .of = share_line, .meaning = "that make it"},
    {"holds", HB_LIST, .count = lines, .of = holds_line,
     .meaning = "as hobble rule says it at the place's speed"},
    {"reach_km", HB_LIST, .count = lines, .of = reach_line,
     .meaning = "distance that the needed share of tyres makes"},
    {0}};

static const struct hb_row approval[] = {
    {"tested", HB_COUNT_AT(map, tested), .most = HUGE_VAL, .forms = HB_ON_FULL | HB_ON_PICTURE,
     .meaning = "sampled types that were put to the approval test, the last time"},
    {"passed", HB_COUNT_AT(map, passed), .most = HUGE_VAL, .forms = HB_ON_FULL | HB_ON_PICTURE,
     .meaning = "of them"},
    {"times_run", HB_COUNT_AT(map, made), .least = 1, .most = HUGE_VAL,
     .meaning = "how often types were made"},
    {0}};

/* ---- the list of all cells: CSV, and the table in a terminal ----------------------------------
 */

HB_GET(x, number, of(s)->value[0][cell(s) % columns(s)])
HB_GET(y, number, of(s)->value[1][cell(s) / columns(s)])

/* The axis' key and unit: the row has none of its own. */
static void axis_heading(const struct hb_scope *s, int a, struct hb_value *v)
{
    const struct hobble_param *row = &hobble_param_table(NULL)[of(s)->axis[a].row];
    const char *unit = hobble_unit_symbol(row->unit);
    snprintf(v->room, sizeof v->room, "%s%s%s%s", row->key, *unit ? " (" : "", unit,
             *unit ? ")" : "");
    hb_value_text(v, v->room);
}

static void x_heading(const struct hb_scope *s, struct hb_value *v)
{
    axis_heading(s, 0, v);
}

static void y_heading(const struct hb_scope *s, struct hb_value *v)
{
    axis_heading(s, 1, v);
}

static void tick(const struct hb_scope *s, int a, double value, struct hb_value *v)
{
    hb_number_print(hb_axis_shown(&of(s)->axis[a], s->us, value), 3, v->room, sizeof v->room);
    hb_value_text(v, v->room);
}

static void across(const struct hb_scope *s, struct hb_value *v)
{
    tick(s, 0, of(s)->value[0][cell(s) % columns(s)], v);
}

static void up(const struct hb_scope *s, struct hb_value *v)
{
    tick(s, 1, of(s)->value[1][cell(s) / columns(s)], v);
}

static void mark(struct hb_value *v, bool is, enum hb_message id)
{
    hb_value_text(v, is ? hb_message_text(id) : "");
}

static void mark_more(const struct hb_scope *s, struct hb_value *v)
{
    mark(v, of(s)->cut[cell(s)] & 1, HB_SAY_MAP_MARK_MORE);
}

static void mark_not(const struct hb_scope *s, struct hb_value *v)
{
    mark(v, !of(s)->holds[cell(s)], HB_SAY_MAP_MARK_NOT);
}

static void mark_outside(const struct hb_scope *s, struct hb_value *v)
{
    mark(v, of(s)->outside[cell(s)], HB_SAY_MAP_MARK_OUTSIDE);
}

HB_GET(told, say, isnan(of(s)->p5[cell(s)]) ? HB_SAY_MAP_ON_RIM : HB_SAY_MAP_RANGE, s)

#define COLUMN_KM(title) .unit = HOBBLE_UNIT_KILOMETRE, .forms = HB_ON_CSV, .column = (title)
#define COLUMN(title)    .forms = HB_ON_CSV, .column = (title)

static const struct hb_row cell_rows[] = {
    {"x", HB_REAL, .get = x, .forms = HB_ON_CSV, .name = x_heading},
    {"y", HB_REAL, .get = y, .forms = HB_ON_CSV, .name = y_heading},
    {"p5", HB_REAL, .get = p5, COLUMN_KM("p5"), .shown = HB_WHOLE_DOWN},
    {"p50", HB_REAL, .get = p50, COLUMN_KM("p50")},
    {"p95", HB_REAL, .get = p95, COLUMN_KM("p95")},
    {"p5_more", HB_TRUTH, .get = p5_cut, COLUMN("p5 is more")},
    {"p50_more", HB_TRUTH, .get = p50_cut, COLUMN("p50 is more")},
    {"p95_more", HB_TRUTH, .get = p95_cut, COLUMN("p95 is more")},
    {"rim", HB_REAL, .get = rim, COLUMN("on the rim")},
    {"share", HB_REAL, .get = share, COLUMN("share making the rule")},
    {"reach", HB_REAL, .get = reach, COLUMN_KM("rule reach")},
    {"outside", HB_TRUTH, .get = outside, COLUMN("outside checked range")},
    {"holds", HB_TRUTH, .get = holds, COLUMN("rule holds")},
    /* in the table */
    {"across", HB_TEXT, .get = across},
    {"up", HB_TEXT, .get = up},
    {"mark_more", HB_TEXT, .get = mark_more},
    {"mark_not", HB_TEXT, .get = mark_not},
    {"mark_outside", HB_TEXT, .get = mark_outside},
    {"told", HB_TEXT, .get = told},
    {0}};

/* ---- conditions that the map was made at ------------------------------------------------------
 */

static bool is_axis(const struct hb_scope *s, int row)
{
    return of(s)->axis[0].row == row || of(s)->axis[1].row == row;
}

static void stated(const struct hb_scope *s, const char *key, struct hb_value *v)
{
    enum { DIGITS = 4 };
    const int row = hobble_param_find(key);
    const enum hobble_unit unit = hobble_param_table(NULL)[row].unit;
    if (!is_axis(s, row))
        hb_value_drawn(v, hobble_unit_to_si(unit, hobble_case_number(s->c, row)), unit, s->us,
                       DIGITS);
}

static void at_speed(const struct hb_scope *s, struct hb_value *v)
{
    stated(s, "speed", v);
}

static void at_ambient(const struct hb_scope *s, struct hb_value *v)
{
    stated(s, "ambient", v);
}

static void at_pressure(const struct hb_scope *s, struct hb_value *v)
{
    stated(s, "pressure", v);
}

/* Those that are not axes, with commas between. */
static void conditions(const struct hb_scope *s, struct hb_value *v)
{
    const struct {
        enum hb_message say;
        bool is;
    } part[] = {{HB_SAY_MAP_AT_SPEED, !is_axis(s, hobble_param_find("speed"))},
                {HB_SAY_MAP_AT_AMBIENT, !is_axis(s, hobble_param_find("ambient"))},
                {HB_SAY_MAP_AT_PRESSURE, !is_axis(s, hobble_param_find("pressure"))},
                {HB_SAY_MAP_AFTER, of(s)->driven > 0.0}};
    size_t used = 0;
    v->room[0] = '\0';
    for (size_t i = 0; i < sizeof part / sizeof *part; i++) {
        char text[HB_VALUE_TEXT];
        if (!part[i].is)
            continue;
        hb_say(part[i].say, s, text, sizeof text);
        used +=
            (size_t)snprintf(v->room + used, sizeof v->room - used, "%s%s", used ? ", " : "", text);
        used = used < sizeof v->room ? used : sizeof v->room;
    }
    hb_value_text(v, v->room);
}

/* ---- the whole ------------------------------------------------------------------------------- */

static const char *contour(int place)
{
    return place == 0 ? "contour" : NULL;
}

HB_GET(picture, text, contour(0))

static void marking(const struct hb_scope *s, struct hb_value *v)
{
    hb_get_marking(&of(s)->marking, v);
}

HB_GET(null_range, text, hb_message_text(HB_SAY_MAP_NULL_RANGE))
HB_GET(too_few, truth, hobble_too_few(of(s)->counted))
HB_GET(range_unit, text, hb_shown_unit(HOBBLE_UNIT_KILOMETRE, s->us))

static void across_title(const struct hb_scope *s, struct hb_value *v)
{
    hb_axis_title(&of(s)->axis[0], s->us, v->room, sizeof v->room);
    hb_value_text(v, v->room);
}

static void up_title(const struct hb_scope *s, struct hb_value *v)
{
    hb_axis_title(&of(s)->axis[1], s->us, v->room, sizeof v->room);
    hb_value_text(v, v->room);
}

HB_GET(column_count, count, of(s)->axis[0].count)
HB_GET(line_count, count, of(s)->axis[1].count)
HB_GET(least_drawn, number, HB_MAP_LEAST_DRAWN)

/* The first is of hobble show contour alone. */
static const struct hb_row rows[] = {
    {"picture", HB_WORD, .get = picture, .word = contour, .meaning = "whose numbers these are"},
    {"marking", HB_TEXT, .get = marking, .meaning = "the tyre, as its sidewall says it"},
    {"example", HB_TRUTH_AT(map, example), .meaning = "built-in values: not the asker's tyre"},
    {"axes", HB_LIST, .count = hb_two, .item = axis_item, .of = axis_rows, .least = 2, .most = 2,
     .meaning = "the first axis runs within each row of a matrix, the second from row to row"},
    {"range_km", HB_OBJECT, .of = range_rows, .meaning = "from now"},
    {"null_range_means", HB_TEXT, .get = null_range, .meaning = "why a range may be null"},
    {"rim", HB_LIST, .count = lines, .of = rim_line,
     .meaning = "share of tyres on the rim at the start"},
    {"outside_checked_range", HB_LIST, .count = lines, .of = outside_line,
     .meaning = "of the model"},
    {"rule", HB_OBJECT, .of = rule_rows, .meaning = "whether the rule holds"},
    {"approval", HB_OBJECT, .of = approval, .meaning = "how many types the approval test took"},
    {"counted", HB_COUNT_AT(map, counted), .most = HUGE_VAL,
     .meaning = "tyres that stand behind this"},
    {"too_few", HB_TRUTH, .get = too_few, .meaning = "counted is too few for advice"},
    {"energy_closure", HB_REAL_AT(map, energy_closure, NONE), .most = HUGE_VAL,
     .meaning = "largest miss of the energy ledger over the heat made"},
    /* said in sentences, and in CSV */
    {"cells", HB_LIST, .count = cells, .of = cell_rows, .forms = HB_NOT_JSON | HB_ON_CSV},
    {"range_unit", HB_TEXT, .get = range_unit, .forms = HB_NOT_JSON},
    {"across_title", HB_TEXT, .get = across_title, .forms = HB_NOT_JSON},
    {"up_title", HB_TEXT, .get = up_title, .forms = HB_NOT_JSON},
    {"columns", HB_COUNT, .get = column_count, .forms = HB_NOT_JSON | HB_ON_FULL},
    {"lines", HB_COUNT, .get = line_count, .forms = HB_NOT_JSON | HB_ON_FULL},
    {"conditions", HB_TEXT, .get = conditions, .forms = HB_NOT_JSON | HB_ON_PICTURE},
    {"at_speed", HB_TEXT, .get = at_speed, .forms = HB_NOT_JSON | HB_ON_PICTURE},
    {"at_ambient", HB_TEXT, .get = at_ambient, .forms = HB_NOT_JSON | HB_ON_PICTURE},
    {"at_pressure", HB_TEXT, .get = at_pressure, .forms = HB_NOT_JSON | HB_ON_PICTURE},
    {"driven", HB_REAL_AT(map, driven, KILOMETRE), .shown = HB_TENTH_UP,
     .forms = HB_NOT_JSON | HB_ON_PICTURE},
    {"least_drawn", HB_REAL, .unit = HOBBLE_UNIT_KILOMETRE, .get = least_drawn,
     .shown = HB_TENTH_DOWN, .forms = HB_NOT_JSON | HB_ON_PICTURE},
    {0}};

const struct hb_answer hb_map_answer = {
    .command = "map",
    .about = "Units are in the key names and in axes. range_km: from now, over the types that pass "
             "approval.",
    .of_case = true,
    .row = rows + 1};

const struct hb_answer hb_contour_answer = {
    .command = "show",
    .which = "contour",
    .about = "The numbers of the picture: those of hobble map. Units are in the key names and in "
             "axes.",
    .of_case = true,
    .row = rows};
