/* SPDX-License-Identifier: GPL-3.0-or-later */
/* rule_rows.c - whether a rule holds, and where that flips. */
#include "report/describe/answers.h"
#include "report/describe/message.h"
#include "report/describe/word_lists.h"

#include <math.h>

typedef struct hobble_rule_answer rule;

static const rule *of(const struct hb_scope *s)
{
    return s->of;
}

/* ---- what the rule is asked of --------------------------------------------------------------- */

static void marking(const struct hb_scope *s, struct hb_value *v)
{
    hb_get_marking(&of(s)->marking, v);
}

static const struct hb_row inputs[] = {
    {"marking", HB_TEXT, .get = marking, .meaning = "the tyre, as its sidewall says it"},
    {"example", HB_TRUTH_AT(rule, example), .meaning = "built-in values: not the asker's tyre"},
    {"example_load", HB_TRUTH_AT(rule, example_load),
     .meaning = "nothing about the load was given"},
    {"load_n", HB_REAL_AT(rule, load, NEWTON), .most = HUGE_VAL, .shown = HB_WHOLE_UP,
     .forms = HB_ON_FULL, .meaning = "on the wheel"},
    {"load_share_of_index", HB_REAL_AT(rule, load_share, NONE), .most = HUGE_VAL,
     .shown = HB_SHARE_WHOLE_NEAR, .forms = HB_ON_FULL,
     .meaning = "that load over the one of the index"},
    {"ambient_c", HB_REAL_AT(rule, ambient, CELSIUS), .shown = HB_TENTH_NEAR, .forms = HB_ON_FULL,
     .meaning = "outside air"},
    {0}};

/* ---- where it flips: one condition moved, the others as they are ------------------------------
 */

static const struct axis {
    const char *key, *name;
    enum hobble_unit unit;
    enum hb_shown at, here;
} axes[HOBBLE_FLIPS] = {
    [HOBBLE_FLIP_SPEED] = {"speed_kmh", "speed", HOBBLE_UNIT_KM_PER_HOUR, HB_TENTH_DOWN,
                           HB_TENTH_NEAR},
    [HOBBLE_FLIP_LOAD] = {"load_n", "load on the wheel", HOBBLE_UNIT_NEWTON, HB_WHOLE_DOWN,
                          HB_WHOLE_NEAR},
    [HOBBLE_FLIP_AMBIENT] = {"ambient_c", "outside air", HOBBLE_UNIT_CELSIUS, HB_TENTH_DOWN,
                             HB_TENTH_NEAR},
};

static const char *axis_key(int place)
{
    return place < HOBBLE_FLIPS ? axes[place].key : NULL;
}

HB_HOW_MANY(all_axes, HOBBLE_FLIPS)
HB_ITEM(axis_item, &of(s)->flip[place])

static const struct hobble_flip *flip(const struct hb_scope *s)
{
    return s->of;
}

/* In the axis' own unit: the rows of an object with one key an axis have none of their own. */
static void in_unit(const struct hb_scope *s, double si, struct hb_value *v)
{
    hb_value_number(v, hobble_unit_from_si(axes[s->place].unit, si));
}

static void flips_at(const struct hb_scope *s, struct hb_value *v)
{
    in_unit(s, flip(s)->at, v);
}

HB_WHEN(never, isnan(flip(s)->at))
HB_WHEN(flips, !never(s))

static const struct hb_row flip_at[] = {{NULL, HB_REAL, .get = flips_at, .forms = HB_NULLABLE}};
static const struct hb_row flip_never[] = {
    {NULL, HB_TEXT_AT(struct hobble_flip, why_not), .when = never}};

static void searched(const struct hb_scope *s, struct hb_value *v)
{
    in_unit(s->up, s->place == 0 ? flip(s)->from : flip(s)->to, v);
}

static const struct hb_row searched_end[] = {{NULL, HB_REAL, .get = searched}};
static const struct hb_row searched_ends[] = {
    {NULL, HB_LIST, .count = hb_two, .of = searched_end, .least = 2, .most = 2}};

/* As it is told. */
static void told(const struct hb_scope *s, double si, enum hb_shown shown, struct hb_value *v)
{
    hb_figure(si, axes[s->place].unit, s->us, shown, v->room);
    hb_value_text(v, v->room);
}

HB_GET(flip_name, text, axes[s->place].name)

static void told_at(const struct hb_scope *s, struct hb_value *v)
{
    told(s, flip(s)->at, axes[s->place].at, v);
}

static void told_here(const struct hb_scope *s, struct hb_value *v)
{
    told(s, flip(s)->from, axes[s->place].here, v);
}

static void told_far(const struct hb_scope *s, struct hb_value *v)
{
    told(s, flip(s)->to, axes[s->place].here, v);
}

static const struct hb_row told_flip[] = {
    {"name", HB_TEXT, .get = flip_name},
    {"at", HB_TEXT, .get = told_at, .when = flips, .forms = HB_ON_FULL},
    {"here", HB_TEXT, .get = told_here, .forms = HB_ON_FULL},
    {"far", HB_TEXT, .get = told_far, .when = never, .forms = HB_ON_FULL},
    {"why_not", HB_TEXT_AT(struct hobble_flip, why_not), .when = never, .forms = HB_ON_FULL},
    {0}};

/* ---- whether it holds ------------------------------------------------------------------------ */

HB_HOW_MANY(bars, hb_count_stops(of(s)->stop))
HB_GET(bar, text, hobble_stop_word(hb_nth_stop(of(s)->stop, s->place)))

static const struct hb_row barred_by[] = {{NULL, HB_WORD, .get = bar, .word = hb_stop_word}};

HB_WHEN(is_barred, bars(s) > 0)
HB_GET(first_bar, text, hb_stop_spoken(hb_nth_stop(of(s)->stop, 0)))
HB_GET(tyres, say, of(s)->passed > 0 ? HB_SAY_APPROVED_TYRES : HB_SAY_ALL_TYRES, s)
HB_GET(needed_most, number, fmin(of(s)->needed, 1.0))

static void reason(const struct hb_scope *s, struct hb_value *v)
{
    const rule *a = of(s);
    hb_value_say(v,
                 is_barred(s)                    ? HB_SAY_RULE_BARRED
                 : a->holds && a->reach_censored ? HB_SAY_RULE_MADE_MORE
                 : a->holds                      ? HB_SAY_RULE_MADE
                 : a->share >= a->required       ? HB_SAY_RULE_UNSURE
                 : a->reach_censored             ? HB_SAY_RULE_NOT_MADE_MORE
                                                 : HB_SAY_RULE_NOT_MADE,
                 s);
}

HB_GET(confidence, number, s->place == 0 ? of(s)->share_low : of(s)->share_high)

static const struct hb_row confidence_end[] = {
    {NULL, HB_REAL, .get = confidence, .least = 0.0, .most = 1.0}};

HB_GET(too_few, truth, hobble_too_few(of(s)->counted))

static const struct hb_row approval[] = {
    {"tested", HB_COUNT_AT(rule, tested), .most = HUGE_VAL, .forms = HB_ON_FULL,
     .meaning = "sampled types that were put to the approval test"},
    {"passed", HB_COUNT_AT(rule, passed), .most = HUGE_VAL, .forms = HB_ON_FULL,
     .meaning = "of them"},
    {0}};

#define SHARE                .least = 0.0, .most = 1.0
#define NO_LESS_THAN_NOTHING .least = 0.0, .most = HUGE_VAL

static const struct hb_row rows[] = {
    {"inputs", HB_OBJECT, .of = inputs, .meaning = "what the rule was asked of"},
    {"speed_kmh", HB_REAL_AT(rule, speed, KM_PER_HOUR), .least = 1.0, .most = 80.000001,
     .shown = HB_TENTH_DOWN, .forms = HB_ON_FULL, .meaning = "of the rule"},
    {"distance_km", HB_REAL_AT(rule, distance, KILOMETRE), .least = 1.0, .most = 80.000001,
     .shown = HB_TENTH_DOWN, .forms = HB_ON_FULL, .meaning = "of the rule"},
    {"holds", HB_TRUTH_AT(rule, holds), .meaning = "no fewer than required make it"},
    {"share_of_tyres", HB_REAL_AT(rule, share, NONE), SHARE, .shown = HB_SHARE_DOWN,
     .forms = HB_ON_FULL, .meaning = "that make the distance at the speed, flat from the start"},
    {"share_confidence_95", HB_LIST, .count = hb_two, .of = confidence_end, .least = 2, .most = 2,
     .meaning = "limits of that share, 95 % sure"},
    {"required_share", HB_REAL_AT(rule, required, NONE), SHARE, .shown = HB_SHARE_STATED,
     .forms = HB_ON_FULL, .meaning = "that must make it"},
    {"reach_km", HB_REAL_AT(rule, reach, KILOMETRE), NO_LESS_THAN_NOTHING, .shown = HB_TENTH_DOWN,
     .forms = HB_ON_FULL, .meaning = "distance that the required share of tyres makes"},
    {"reach_is_more", HB_TRUTH_AT(rule, reach_censored), .meaning = "it is more than that"},
    {"flips_at", HB_NAMED, .word = axis_key, .count = all_axes, .item = axis_item, .of = flip_at,
     .meaning = "where the answer flips, one condition moved; null where it does not"},
    {"searched", HB_NAMED, .word = axis_key, .count = all_axes, .item = axis_item,
     .of = searched_ends, .meaning = "from these conditions to the limit of the checked range"},
    {"does_not_flip", HB_NAMED, .word = axis_key, .count = all_axes, .item = axis_item,
     .of = flip_never, .meaning = "why not, where it does not flip"},
    {"reason", HB_TEXT, .get = reason, .meaning = "one sentence"},
    {"barred_by", HB_LIST, .count = bars, .of = barred_by,
     .meaning = "reasons for which it cannot hold at all"},
    {"advice_cap_km", HB_REAL_AT(rule, cap, KILOMETRE), .least = 0.0, .most = 80.0,
     .shown = HB_TENTH_DOWN, .forms = HB_ON_FULL,
     .meaning = "advice stays at or below it, whatever the rule says"},
    {"approval", HB_OBJECT, .of = approval, .meaning = "how many types the approval test took"},
    {"counted", HB_COUNT_AT(rule, counted), NO_LESS_THAN_NOTHING, .forms = HB_ON_FULL,
     .meaning = "tyres that stand behind this"},
    {"too_few", HB_TRUTH, .get = too_few, .meaning = "counted is too few for advice"},
    {"energy_closure", HB_REAL_AT(rule, energy_closure, NONE), NO_LESS_THAN_NOTHING,
     .meaning = "largest miss of the energy ledger over the heat made"},
    /* said in sentences */
    {"share_low", HB_REAL_AT(rule, share_low, NONE), .shown = HB_SHARE_DOWN,
     .forms = HB_NOT_JSON | HB_ON_FULL},
    {"share_high", HB_REAL_AT(rule, share_high, NONE), .shown = HB_SHARE_UP,
     .forms = HB_NOT_JSON | HB_ON_FULL},
    {"needed", HB_REAL_AT(rule, needed, NONE), .shown = HB_SHARE_UP,
     .forms = HB_NOT_JSON | HB_ON_FULL},
    {"needed_most", HB_REAL, .get = needed_most, .shown = HB_SHARE_STATED,
     .forms = HB_NOT_JSON | HB_ON_FULL},
    {"tyres", HB_TEXT, .get = tyres, .forms = HB_NOT_JSON},
    {"first_bar", HB_TEXT, .get = first_bar, .when = is_barred, .forms = HB_NOT_JSON},
    {"flips", HB_LIST, .count = all_axes, .item = axis_item, .of = told_flip, .forms = HB_NOT_JSON},
    {0}};

const struct hb_answer hb_rule_answer = {
    .command = "rule",
    .about = "Units are in the key names. Flips that do not exist within the limits are null, and "
             "does_not_flip says why.",
    .of_case = true,
    .row = rows};
