/* SPDX-License-Identifier: GPL-3.0-or-later */
/* mark_rows.c - what the approval mark is worth. */
#include "report/describe/answers.h"
#include "report/describe/drawn.h"
#include "report/describe/message.h"
#include "report/describe/word_lists.h"
#include "report/describe/words.h"

#include <math.h>
#include <string.h>

typedef struct hobble_mark_worth worth;
typedef struct hobble_quantile quantile;
typedef struct hobble_moments moments;

static const worth *of(const struct hb_scope *s)
{
    return s->whole;
}

#define NO_LESS_THAN_NOTHING .least = 0.0, .most = HUGE_VAL
#define KM                   NO_LESS_THAN_NOTHING, .shown = HB_WAY_DOWN

/* ---- a quantile with its limits -------------------------------------------------------------- */

static void limit(const struct hb_scope *s, struct hb_value *v)
{
    const quantile *q = s->of;
    hb_value_number(v, s->place == 0 ? q->low : q->high);
}

HB_GET(mark_more, text, ((const quantile *)s->of)->cut ? hb_message_text(HB_SAY_MAP_MARK_MORE) : "")

static void told(const struct hb_scope *s, struct hb_value *v);

static const struct hb_row limits[] = {
    {NULL, HB_REAL, .unit = HOBBLE_UNIT_KILOMETRE, .get = limit, NO_LESS_THAN_NOTHING}};

static const struct hb_row quantile_rows[] = {
    {"km", HB_REAL_AT(quantile, at, KILOMETRE), KM, .forms = HB_ON_FULL | HB_ON_PICTURE,
     .meaning = "so many carry at least this, from now"},
    {"ci_km", HB_LIST, .count = hb_two, .of = limits, .least = 2, .most = 2,
     .meaning = "its limits"},
    {"more_than", HB_TRUTH_AT(quantile, cut), .meaning = "it is more than that"},
    /* said in a sentence */
    {"low", HB_REAL_AT(quantile, low, KILOMETRE), KM, .forms = HB_NOT_JSON | HB_ON_FULL},
    {"high", HB_REAL_AT(quantile, high, KILOMETRE), KM, .forms = HB_NOT_JSON | HB_ON_FULL},
    {"mark_more", HB_TEXT, .get = mark_more, .forms = HB_NOT_JSON},
    {"told", HB_TEXT, .get = told, .forms = HB_NOT_JSON},
    {0}};

/* In the sentence, names are those of the quantile. */
static void told(const struct hb_scope *s, struct hb_value *v)
{
    struct hb_scope here = *s;
    here.rows = quantile_rows;
    hb_value_say(v, HB_SAY_MARK_QUANTILE, &here);
}

static const struct hb_row ranges[] = {
    {"p5", HB_OBJECT, .at = 0, .of = quantile_rows, .meaning = "95 of 100 carry at least this"},
    {"p50", HB_OBJECT, .at = sizeof(quantile), .of = quantile_rows,
     .meaning = "half carry at least this"},
    {"p95", HB_OBJECT, .at = 2 * sizeof(quantile), .of = quantile_rows,
     .meaning = "5 of 100 carry at least this"},
    {0}};

/* ---- curves ---------------------------------------------------------------------------------- */

HB_HOW_MANY(shares, HOBBLE_MARK_POINTS)
HB_GET(before_at, number, of(s)->curve_before[s->place])
HB_GET(after_at, number, of(s)->curve_after[s->place])
HB_GET(known_at, number, of(s)->curve_known[s->place])
HB_WHEN(is_known, of(s)->evidence_items > 0)

static const struct hb_row before_item[] = {
    {NULL, HB_REAL, .unit = HOBBLE_UNIT_KILOMETRE, .get = before_at}};
static const struct hb_row after_item[] = {
    {NULL, HB_REAL, .unit = HOBBLE_UNIT_KILOMETRE, .get = after_at}};
static const struct hb_row known_item[] = {
    {NULL, HB_REAL, .unit = HOBBLE_UNIT_KILOMETRE, .get = known_at}};

/* ---- unknowns: the item of one is its row's number in the answer ------------------------------
 */

HB_HOW_MANY(unknowns, (size_t)of(s)->count)
HB_ITEM(unknown, &of(s)->row[place])
HB_HOW_MANY(which, (size_t)((const int *)s->of - of(s)->row))
HB_GET(key, text, hobble_param_table(NULL)[*(const int *)s->of].key)

/* As it is drawn: a stiffness that is not given is a factor on the size law. */
static void unit(const struct hb_scope *s, struct hb_value *v)
{
    const int row = *(const int *)s->of;
    const struct hobble_param *p = &hobble_param_table(NULL)[row];
    const bool factor =
        strcmp(p->key, "stiffness_flat") == 0 && isnan(hobble_case_number(s->c, row));
    hb_value_text(v, factor ? hb_message_text(HB_SAY_MARK_FACTOR) : hobble_unit_symbol(p->unit));
}

HB_ITEM(moments_before, &of(s)->row_before[which(s)])
HB_ITEM(moments_after, &of(s)->row_after[which(s)])

/* By how many deviations of all types. */
static void moved(const struct hb_scope *s, struct hb_value *v)
{
    const moments *before = moments_before(s, 0), *after = moments_after(s, 0);
    hb_value_number(v, before->deviation > 0.0 ? (after->mean - before->mean) / before->deviation
                                               : 0.0);
}

static const struct hb_row moments_rows[] = {
    {"mean", HB_REAL_AT(moments, mean, NONE), .shown = HB_FOUR_DIGITS, .forms = HB_ON_FULL,
     .meaning = "in the unit"},
    {"deviation", HB_REAL_AT(moments, deviation, NONE), NO_LESS_THAN_NOTHING,
     .shown = HB_THREE_DIGITS, .forms = HB_ON_FULL, .meaning = "in the unit"},
    {0}};

static const struct hb_row unknown_rows[] = {
    {"key", HB_TEXT, .get = key, .meaning = "the unknown, as after --set"},
    {"unit", HB_TEXT, .get = unit, .meaning = "as it is drawn; empty for a pure number"},
    {"all_types", HB_OBJECT, .item = moments_before, .of = moments_rows,
     .meaning = "as it is drawn"},
    {"approved_types", HB_OBJECT, .item = moments_after, .of = moments_rows,
     .meaning = "of those that pass the approval test"},
    {"moved", HB_REAL, .get = moved, .shown = HB_SIGNED, .forms = HB_NOT_JSON | HB_ON_FULL},
    {0}};

/* ---- the whole ------------------------------------------------------------------------------- */

static const char *mark_word(int place)
{
    return place == 0 ? "mark" : NULL;
}

HB_GET(picture, text, mark_word(0))

static void marking(const struct hb_scope *s, struct hb_value *v)
{
    hb_get_marking(&of(s)->marking, v);
}

HB_GET(counted, count, hb_counted(s->c, of(s)->passed))
HB_GET(too_few, truth, hobble_too_few(hb_counted(s->c, of(s)->passed)))
HB_GET(interval, text, hb_message_text(HB_SAY_MARK_INTERVAL))

static void ambient(const struct hb_scope *s, struct hb_value *v)
{
    enum { DIGITS = 3 };
    hb_value_drawn(v, of(s)->ambient, HOBBLE_UNIT_CELSIUS, s->us, DIGITS);
}

HB_GET(range_unit, text, hb_shown_unit(HOBBLE_UNIT_KILOMETRE, s->us))

#define CURVE(items) .count = shares, .of = (items), .least = 2, .most = HUGE_VAL

static const struct hb_row rows[] = {
    {"picture", HB_WORD, .get = picture, .word = mark_word, .meaning = "whose numbers these are"},
    {"marking", HB_TEXT, .get = marking, .meaning = "the tyre, as its sidewall says it"},
    {"example", HB_TRUTH_AT(worth, example), .meaning = "built-in values: not the asker's tyre"},
    {"speed_kmh", HB_REAL_AT(worth, speed, KM_PER_HOUR), NO_LESS_THAN_NOTHING,
     .shown = HB_WHOLE_NEAR, .forms = HB_ON_PICTURE, .meaning = "without air"},
    {"load_n", HB_REAL_AT(worth, load, NEWTON), NO_LESS_THAN_NOTHING, .shown = HB_WHOLE_NEAR,
     .forms = HB_ON_PICTURE, .meaning = "on the wheel"},
    {"ambient_c", HB_REAL_AT(worth, ambient, CELSIUS), .meaning = "outside air"},
    {"tested", HB_COUNT_AT(worth, tested), NO_LESS_THAN_NOTHING,
     .forms = HB_ON_FULL | HB_ON_PICTURE,
     .meaning = "sampled types that were put to the approval test"},
    {"passed", HB_COUNT_AT(worth, passed), NO_LESS_THAN_NOTHING,
     .forms = HB_ON_FULL | HB_ON_PICTURE, .meaning = "of them"},
    {"counted", HB_COUNT, .get = counted, NO_LESS_THAN_NOTHING,
     .meaning = "tyres that stand behind this"},
    {"too_few", HB_TRUTH, .get = too_few, .meaning = "counted is too few for advice"},
    {"interval", HB_TEXT, .get = interval, .meaning = "what limits of a quantile are"},
    {"range_all_types", HB_OBJECT, .at = offsetof(worth, before), .of = ranges,
     .meaning = "from now, over all types"},
    {"range_approved_types", HB_OBJECT, .at = offsetof(worth, after), .of = ranges,
     .meaning = "from now, over the types that pass the approval test"},
    {"curve_all_types_km", HB_LIST, CURVE(before_item),
     .meaning = "quantiles at evenly spaced shares, ends left out"},
    {"curve_approved_types_km", HB_LIST, CURVE(after_item), .meaning = "the same of those"},
    {"evidence_items", HB_COUNT_AT(worth, evidence_items), .least = 0, .most = HOBBLE_EVIDENCE_MAX,
     .shown = HB_WHOLE_NEAR, .forms = HB_ON_FULL, .meaning = "of the profile, taken in"},
    {"effective_sample_size", HB_REAL_AT(worth, evidence_effective, NONE), .when = is_known,
     NO_LESS_THAN_NOTHING, .shown = HB_WHOLE_DOWN, .forms = HB_ON_FULL,
     .meaning = "tyres that the sample is worth after them"},
    {"range_known_types", HB_OBJECT, .at = offsetof(worth, known), .of = ranges, .when = is_known,
     .meaning = "from now, with the mark and the evidence"},
    {"curve_known_types_km", HB_LIST, CURVE(known_item), .when = is_known,
     .meaning = "the same of those"},
    {"parameters", HB_LIST, .count = unknowns, .item = unknown, .of = unknown_rows, .least = 1,
     .most = HOBBLE_INDICES_MAX, .meaning = "what passing says of each unknown"},
    /* said in sentences */
    {"ambient", HB_TEXT, .get = ambient, .forms = HB_NOT_JSON | HB_ON_PICTURE},
    {"range_unit", HB_TEXT, .get = range_unit, .forms = HB_NOT_JSON},
    {0}};

const struct hb_answer hb_mark_answer = {
    .command = "show",
    .which = "mark",
    .about = "Ranges and unknowns before and after the approval test. Units are in the key names.",
    .of_case = true,
    .row = rows};
