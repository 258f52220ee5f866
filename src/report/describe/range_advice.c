/* SPDX-License-Identifier: GPL-3.0-or-later */
/* range_advice.c - the driver's answer: what was asked, and the advice. */
#include "report/describe/range_words.h"
#include "report/describe/word_lists.h"

#include <math.h>
#include <string.h>

typedef struct hobble_answer answer;

static const answer *whole(const struct hb_scope *s)
{
    return s->whole;
}

#define NO_LESS_THAN_NOTHING .least = 0.0, .most = HUGE_VAL
#define NO_MORE_THAN_A_RULE  .least = 0.0, .most = 80.0
#define NOT_EMPTY            .least = 1.0, .most = HUGE_VAL

/* ---- what was asked -------------------------------------------------------------------------- */

static void marking(const struct hb_scope *s, struct hb_value *v)
{
    hb_get_marking(&whole(s)->marking, v);
}

static const char *construction_word(int place)
{
    static char word[64]; /* until the next one is asked for */
    hobble_param_word_at(&hobble_param_table(NULL)[hobble_param_find("construction")], place, word,
                         sizeof word);
    return word;
}

HB_GET(construction, text, whole(s)->construction)

const struct hb_row hb_range_inputs[] = {
    {"marking", HB_TEXT, .get = marking, .meaning = "the tyre, as its sidewall says it"},
    {"construction", HB_WORD, .get = construction, .word = construction_word,
     .meaning = "that was used"},
    {"example", HB_TRUTH_AT(answer, example), .meaning = "built-in values: not the asker's tyre"},
    {"example_load", HB_TRUTH_AT(answer, example_load),
     .meaning = "nothing about the load was given"},
    {"wheel_assumed", HB_TRUTH_AT(answer, wheel_assumed),
     .meaning = "not stated: the heavier axle's wheel"},
    {"changed_by_hand", HB_LIST, .count = hb_count_changed, .of = hb_changed_row,
     .meaning = "keys of the model that are not from the tyre's own profile: set by options, by "
                "another file or by a program"},
    {"speed_kmh", HB_REAL_AT(answer, speed, KM_PER_HOUR), NO_LESS_THAN_NOTHING,
     .shown = HB_WHOLE_DOWN, .forms = HB_ON_FULL, .meaning = "asked"},
    {"load_n", HB_REAL_AT(answer, load, NEWTON), NO_LESS_THAN_NOTHING, .shown = HB_WHOLE_UP,
     .forms = HB_ON_FULL | HB_ON_PICTURE, .meaning = "on the wheel"},
    {"load_share_of_index", HB_REAL_AT(answer, load_share, NONE), NO_LESS_THAN_NOTHING,
     .shown = HB_SHARE_WHOLE_UP, .forms = HB_ON_FIRST | HB_ON_FULL | HB_ON_PICTURE,
     .meaning = "that load over the one of the index"},
    {"ambient_c", HB_REAL_AT(answer, ambient, CELSIUS), .shown = HB_WHOLE_NEAR,
     .forms = HB_ON_FIRST | HB_ON_FULL | HB_ON_PICTURE, .meaning = "outside air"},
    {"pressure_kpa", HB_REAL_AT(answer, pressure, KILOPASCAL), NO_LESS_THAN_NOTHING,
     .meaning = "in the tyre, gauge, as asked"},
    {"pressure_now_kpa", HB_REAL_AT(answer, pressure_now, KILOPASCAL), NO_LESS_THAN_NOTHING,
     .shown = HB_WHOLE_NEAR, .forms = HB_ON_PICTURE, .meaning = "same, by the history"},
    {"taken_as_empty", HB_TRUTH_AT(answer, taken_as_empty),
     .meaning = "there is more than 70 kPa, but nothing says that it stays"},
    {"distance_run_km", HB_REAL_AT(answer, run_seen, KILOMETRE), NO_LESS_THAN_NOTHING,
     .shown = HB_WAY_UP, .forms = HB_ON_FULL,
     .meaning = "driven at low pressure after the warning"},
    {"distance_unseen_km", HB_REAL_AT(answer, run_unseen, KILOMETRE), NO_LESS_THAN_NOTHING,
     .shown = HB_WAY_UP, .forms = HB_ON_FIRST | HB_ON_FULL,
     .meaning = "driven at low pressure before the warning"},
    {"unseen_assumed", HB_TRUTH_AT(answer, unseen_assumed),
     .meaning = "how long it was driven before the warning is not stated"},
    {"built_by_word", HB_TRUTH_AT(answer, built_by_word),
     .meaning = "self-supporting by what is stated alone, without RF in the marking"},
    {0}};

/* ---- the advice ------------------------------------------------------------------------------ */

HB_WHEN(goes_on, whole(s)->verdict != HOBBLE_STOP)

static const char *cap_word(int place)
{
    static const enum hobble_limit of[] = {HOBBLE_LIMIT_RULE, HOBBLE_LIMIT_MAKER,
                                           HOBBLE_LIMIT_CONSTRUCTION, HOBBLE_LIMIT_FLEET};
    return place < (int)HB_COUNT_ROWS(of) ? hobble_limit_word(of[place]) : NULL;
}

HB_GET(cap_by, text, hobble_limit_word(whole(s)->cap_by))
HB_HOW_MANY(assumed_count, (size_t)whole(s)->assumed_count)

static const struct hobble_param *assumed(const struct hb_scope *s)
{
    return &hobble_param_table(NULL)[whole(s)->assumed[s->place]];
}

HB_GET(assumed_key, text, assumed(s)->key)

static void assumed_value(const struct hb_scope *s, struct hb_value *v)
{
    const double given = hobble_case_number(s->c, whole(s)->assumed[s->place]);
    const bool load = strcmp(assumed(s)->key, "load") == 0;
    hb_value_number(v, load ? whole(s)->load : isnan(given) ? 0.0 : given);
}

HB_GET(assumed_unit, text, hobble_unit_symbol(assumed(s)->unit))

static const struct hb_row assumed_rows[] = {
    {"key", HB_TEXT, .get = assumed_key, .meaning = "as after --set"},
    {"value", HB_REAL, .get = assumed_value, .meaning = "that was taken, in its unit"},
    {"unit", HB_TEXT, .get = assumed_unit, .meaning = "empty for a pure number"},
    {"told", HB_TEXT, .get = hb_assumed_told, .forms = HB_NOT_JSON | HB_ON_FIRST},
    {0}};

HB_HOW_MANY(stop_count, hb_count_stops(whole(s)->stop))
HB_GET(stop_reason, text, hobble_stop_word(hb_nth_stop(whole(s)->stop, s->place)))

static const struct hb_row stop_reasons[] = {
    {NULL, HB_WORD, .get = stop_reason, .word = hb_stop_word}};

HB_WHEN(condemned, whole(s)->stop[HOBBLE_STOP_CONDEMNED])
HB_HOW_MANY(all_stops, HOBBLE_STOP_COUNT)
HB_WHEN(stop_holds, whole(s)->stop[s->place])
HB_GET(remedy, text, hobble_stop_remedy((enum hobble_stop)s->place))

static const struct hb_row would_change[] = {
    {NULL, HB_TEXT, .get = remedy, .when = stop_holds, NOT_EMPTY}};

HB_HOW_MANY(more_count, (size_t)whole(s)->more_count)
HB_ITEM(more_item, &whole(s)->more[place])

static const char *change_word(int place)
{
    static const char *const words[] = {"lighter", "slower"};
    return place < (int)HB_COUNT_ROWS(words) ? words[place] : NULL;
}

HB_GET(change, text, change_word(((const struct hobble_more *)s->of)->slower))

static const struct hb_row more[] = {
    {"change", HB_WORD, .get = change, .word = change_word, .meaning = "what to do"},
    {"speed_kmh", HB_REAL_AT(struct hobble_more, speed, KM_PER_HOUR), NO_MORE_THAN_A_RULE,
     .shown = HB_WHOLE_DOWN, .forms = HB_ON_FULL, .meaning = "then"},
    {"load_n", HB_REAL_AT(struct hobble_more, load, NEWTON), NO_LESS_THAN_NOTHING,
     .shown = HB_WHOLE_DOWN, .forms = HB_ON_FULL, .meaning = "on the wheel, then"},
    {"advised_distance_km", HB_REAL_AT(struct hobble_more, distance, KILOMETRE),
     NO_MORE_THAN_A_RULE, .shown = HB_WAY_DOWN, .forms = HB_ON_FULL, .meaning = "then"},
    {0}};

HB_GET(too_few, truth, hobble_too_few(whole(s)->counted))

const struct hb_row hb_range_advice[] = {
    {"verdict", HB_WORD_AT(answer, verdict, hb_verdict_word),
     .meaning = "go_then_stop: the place asked for lies beyond the advice"},
    {"advised_speed_kmh", HB_REAL_AT(answer, advised_speed, KM_PER_HOUR), .when = goes_on,
     NO_MORE_THAN_A_RULE, .shown = HB_WHOLE_DOWN, .forms = HB_NULLED | HB_ON_FIRST | HB_ON_PICTURE,
     .meaning = "at most"},
    {"advised_distance_km", HB_REAL_AT(answer, advised_distance, KILOMETRE), NO_MORE_THAN_A_RULE,
     .shown = HB_WAY_DOWN, .forms = HB_ON_FIRST | HB_ON_PICTURE, .meaning = "at most; 0 on stop"},
    {"advised_time_min", HB_REAL_AT(answer, advised_time, MINUTE), NO_LESS_THAN_NOTHING,
     .shown = HB_WHOLE_DOWN, .forms = HB_ON_FIRST, .meaning = "that this takes"},
    {"limited_by", HB_WORD_AT(answer, limited_by, hb_limit_word),
     .meaning = "what holds the distance down"},
    {"cap_km", HB_REAL_AT(answer, cap, KILOMETRE), NO_MORE_THAN_A_RULE, .shown = HB_WAY_DOWN,
     .forms = HB_ON_FIRST | HB_ON_FULL | HB_ON_PICTURE,
     .meaning = "allowed in all, before anything was driven"},
    {"cap_by", HB_WORD, .get = cap_by, .word = cap_word, .meaning = "whose cap_km is"},
    {"stops_left_out", HB_TRUTH_AT(answer, stops_left_out),
     .meaning = "the tyre counts as if stops and slow driving had not cooled it"},
    {"assumed", HB_LIST, .count = assumed_count, .of = assumed_rows,
     .meaning = "not stated and taken at a usual value, not at its worst"},
    {"stop_reasons", HB_LIST, .count = stop_count, .of = stop_reasons, .meaning = "that hold"},
    {"would_change", HB_NAMED, .word = hb_stop_word, .count = all_stops, .of = would_change,
     .meaning = "for each of stop_reasons what would change it"},
    {"condemned", HB_OBJECT, .at = offsetof(answer, condemned), .when = condemned,
     .of = hb_fired_rows, .forms = HB_NULLED,
     .meaning = "what made the tyre scrap before this drive"},
    {"more_if", HB_LIST, .count = more_count, .item = more_item, .of = more, .least = 0,
     .most = HOBBLE_MORE_MAX, .meaning = "what would buy more distance"},
    {"counted", HB_COUNT_AT(answer, counted), NO_LESS_THAN_NOTHING,
     .forms = HB_ON_FIRST | HB_ON_FULL, .meaning = "tyres that the advice rests on"},
    {"too_few", HB_TRUTH, .get = too_few, .meaning = "counted is too few for advice"},
    {0}};
