/* SPDX-License-Identifier: GPL-3.0-or-later */
/* range_words.c - what the driver's answer says in sentences and has no key for. */
#include "report/describe/range_words.h"

#include "report/describe/message.h"
#include "report/describe/words.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

typedef struct hobble_answer answer;

static const answer *whole(const struct hb_scope *s)
{
    return s->whole;
}

static const char *text_of(const struct hb_scope *s, const char *key)
{
    return hobble_case_text(s->c, hobble_param_find(key));
}

/* Somebody's text, fit to be shown. */
static void shown_text(const struct hb_scope *s, const char *key, struct hb_value *v)
{
    hobble_fault_text(v->room, text_of(s, key));
    hb_value_text(v, v->room);
}

/* ---- whose tyre ------------------------------------------------------------------------------ */

static void tyre_name(const struct hb_scope *s, struct hb_value *v)
{
    shown_text(s, "tyre_name", v);
}

/* What the picture's width holds. */
static void short_name(const struct hb_scope *s, struct hb_value *v)
{
    enum { FITS = 50 };
    size_t characters = 0;
    shown_text(s, "tyre_name", v);
    for (char *p = v->room; *p; p++)
        if (((unsigned char)*p & 0xC0) != 0x80 && ++characters > FITS)
            *p = '\0';
}

HB_GET(tyre, say, *text_of(s, "tyre_name") ? HB_SAY_RANGE_TYRE_NAMED : HB_SAY_RANGE_TYRE, s)
HB_GET(short_tyre, say, *text_of(s, "tyre_name") ? HB_SAY_RANGE_TYRE_SHORT : HB_SAY_RANGE_TYRE, s)

void hb_assumed_told(const struct hb_scope *s, struct hb_value *v)
{
    const char *key = hobble_param_table(NULL)[whole(s)->assumed[s->place]].key;
    hb_value_say(v,
                 strcmp(key, "ambient") == 0 ? HB_SAY_RANGE_ASSUMED_AMBIENT
                 : strcmp(key, "load") == 0  ? HB_SAY_RANGE_ASSUMED_LOAD
                                             : HB_SAY_RANGE_ASSUMED_NONE,
                 s);
}

/* ---- the verdict ----------------------------------------------------------------------------- */

static void verdict(const struct hb_scope *s, struct hb_value *v)
{
    static const enum hb_message say[] = {[HOBBLE_STOP] = HB_SAY_RANGE_STOP,
                                          [HOBBLE_GO] = HB_SAY_RANGE_GO,
                                          [HOBBLE_GO_THEN_STOP] = HB_SAY_RANGE_GO_THEN_STOP};
    hb_value_say(v, say[whole(s)->verdict], s);
}

/* A place that lies beyond a distance is never shown as if it did not: rounded they may look alike.
 */
static void place(const struct hb_scope *s, struct hb_value *v)
{
    const double to = whole(s)->to, than = whole(s)->advised_distance;
    char limit[HB_FIGURE];
    hb_figure(to, HOBBLE_UNIT_KILOMETRE, s->us, HB_WAY_DOWN, v->room);
    hb_figure(than, HOBBLE_UNIT_KILOMETRE, s->us, HB_WAY_DOWN, limit);
    if (to > than && strcmp(v->room, limit) == 0)
        hb_figure(to, HOBBLE_UNIT_KILOMETRE, s->us, HB_HUNDREDTH_NEAR, v->room);
    hb_value_text(v, v->room);
}

/* ---- what decides ---------------------------------------------------------------------------- */

static double driven_si(const struct hb_scope *s)
{
    return whole(s)->run_seen + whole(s)->run_unseen;
}

HB_GET(driven, number, driven_si(s))

static void who(const struct hb_scope *s, struct hb_value *v)
{
    static const enum hb_message say[HOBBLE_LIMIT_COUNT] = {
        [HOBBLE_LIMIT_RULE] = HB_SAY_RANGE_RULE_ALLOWS,
        [HOBBLE_LIMIT_MAKER] = HB_SAY_RANGE_MAKER_ALLOWS,
        [HOBBLE_LIMIT_FLEET] = HB_SAY_RANGE_FLEET_ALLOWS,
        [HOBBLE_LIMIT_CONSTRUCTION] = HB_SAY_RANGE_KIND_ALLOWS,
    };
    hb_value_say(v, say[whole(s)->limited_by], s);
}

HB_GET(decides, say,
       whole(s)->limited_by == HOBBLE_LIMIT_RANGE ? HB_SAY_RANGE_CARRY
       : driven_si(s) > 0.0                       ? HB_SAY_RANGE_ALLOWED_DRIVEN
                                                  : HB_SAY_RANGE_ALLOWED,
       s)

/* What ended most of the tyres. */
static void usual_end(const struct hb_scope *s, struct hb_value *v)
{
    static const enum hb_message say[HOBBLE_END_COUNT] = {
        [HOBBLE_END_NONE] = HB_SAY_RANGE_END_NONE,
        [HOBBLE_END_HORIZON] = HB_SAY_RANGE_END_HORIZON,
        [HOBBLE_END_LIFE] = HB_SAY_RANGE_END_LIFE,
        [HOBBLE_END_HEAT] = HB_SAY_RANGE_END_HEAT,
        [HOBBLE_END_RIM] = HB_SAY_RANGE_END_RIM,
        [HOBBLE_END_SHOULDER] = HB_SAY_RANGE_END_SHOULDER,
    };
    const double *share = whole(s)->share_ended;
    int most = 0;
    for (int i = 1; i < HOBBLE_END_COUNT; i++)
        if (share[i] > share[most])
            most = i;
    hb_value_say(v, say[most], s);
}

/* ---- reasons to stop: every one there is, whether it holds or not ---------------------------- */

HB_HOW_MANY(all_stops, HOBBLE_STOP_COUNT)

static enum hobble_stop stop(const struct hb_scope *s)
{
    return (enum hobble_stop)s->place;
}

static void stop_name(const struct hb_scope *s, struct hb_value *v)
{
    hb_words_spaced(hobble_stop_word(stop(s)), v->room, sizeof v->room);
    hb_value_text(v, v->room);
}

HB_GET(sentence, text, hobble_stop_sentence(stop(s)))

/* Without its full stop. */
static void plain(const struct hb_scope *s, struct hb_value *v)
{
    const char *text = hobble_stop_sentence(stop(s));
    snprintf(v->room, sizeof v->room, "%.*s", (int)strlen(text) - 1, text);
    hb_value_text(v, v->room);
}

/* The first sentence of a rule's reason. */
static void first_sentence(const char *reason, struct hb_value *v)
{
    snprintf(v->room, sizeof v->room, "%.*s", (int)strcspn(reason, ":."), reason);
    hb_value_text(v, v->room);
}

HB_WHEN(is_scrap, stop(s) == HOBBLE_STOP_CONDEMNED && whole(s)->condemned.reason)

static void scrap(const struct hb_scope *s, struct hb_value *v)
{
    first_sentence(whole(s)->condemned.reason, v);
}

HB_GET(why, say, is_scrap(s) ? HB_SAY_RANGE_SCRAP_BEFORE : HB_SAY_RANGE_WHY_PLAIN, s)
HB_WHEN(nothing_changes, strncmp(hobble_stop_remedy(stop(s)), "nothing", 7) == 0)
HB_GET(remedy, text, hobble_stop_remedy(stop(s)) + (nothing_changes(s) ? 7 : 0))
HB_GET(change, say, nothing_changes(s) ? HB_SAY_RANGE_NOTHING_CHANGES : HB_SAY_RANGE_CHANGES, s)

static const struct hb_row stops[] = {
    {"name", HB_TEXT, .get = stop_name}, {"sentence", HB_TEXT, .get = sentence},
    {"plain", HB_TEXT, .get = plain},    {"scrap", HB_TEXT, .get = scrap, .when = is_scrap},
    {"why", HB_TEXT, .get = why},        {"remedy", HB_TEXT, .get = remedy},
    {"change", HB_TEXT, .get = change},  {0}};

/* ---- whom to call ---------------------------------------------------------------------------- */

static void or_else(struct hb_value *v, enum hb_message message, const struct hb_scope *s)
{
    if (!*v->room)
        hb_value_say(v, message, s);
}

static void call_number(const struct hb_scope *s, struct hb_value *v)
{
    shown_text(s, "recovery_number", v);
    or_else(v, HB_SAY_RANGE_SERVICE, s);
}

static void call_wheel(const struct hb_scope *s, struct hb_value *v)
{
    const int wheel = hobble_param_find("wheel");
    char word[HOBBLE_FAULT_TEXT] = "";
    if (hobble_case_given(s->c, wheel))
        hobble_param_word_at(&hobble_param_table(NULL)[wheel], (int)hobble_case_number(s->c, wheel),
                             word, sizeof word);
    hb_words_spaced(word, v->room, sizeof v->room);
    hb_value_text(v, v->room);
    or_else(v, HB_SAY_RANGE_WHICH_WHEEL, s);
}

HB_GET(call_tyre, say, whole(s)->example ? HB_SAY_RANGE_THE_MARKING : HB_SAY_RANGE_TYRE, s)

static void call_vehicle(const struct hb_scope *s, struct hb_value *v)
{
    shown_text(s, "vehicle_name", v);
    or_else(v, HB_SAY_RANGE_WHICH_VEHICLE, s);
}

/* Without what it says behind a comma. */
static void short_vehicle(const struct hb_scope *s, struct hb_value *v)
{
    shown_text(s, "vehicle_name", v);
    v->room[strcspn(v->room, ",")] = '\0';
    or_else(v, HB_SAY_RANGE_WHICH_VEHICLE, s);
}

HB_GET(stand, say, HB_SAY_RANGE_STAND, s)

/* ---- afterwards, and the numbers ------------------------------------------------------------- */

HB_WHEN(has_rule, whole(s)->rule_count > 0)

static void first_rule(const struct hb_scope *s, struct hb_value *v)
{
    first_sentence(whole(s)->rule[0].reason, v);
}

HB_HOW_MANY(bands, !hb_has_range(s) ? 0 : hb_has_evidence(s) ? 2 : 1)

static const void *band_item(const struct hb_scope *s, size_t which)
{
    return which == 0 ? &whole(s)->range : &whole(s)->unconditioned;
}

HB_GET(band_name, say, s->place == 0 ? HB_SAY_RANGE_FROM_NOW : HB_SAY_RANGE_NO_EVIDENCE, s)

static void quantile(const struct hb_scope *s, double si, bool cut, struct hb_value *v)
{
    char way[HB_FIGURE];
    hb_figure(si, HOBBLE_UNIT_KILOMETRE, s->us, HB_WAY_DOWN, way);
    snprintf(v->room, sizeof v->room, "%s%s", cut ? "> " : "", way);
    hb_value_text(v, v->room);
}

static const struct hobble_band *band(const struct hb_scope *s)
{
    return s->of;
}

static void low(const struct hb_scope *s, struct hb_value *v)
{
    quantile(s, band(s)->p5, band(s)->censored5, v);
}

static void half(const struct hb_scope *s, struct hb_value *v)
{
    quantile(s, band(s)->p50, band(s)->censored50, v);
}

static void high(const struct hb_scope *s, struct hb_value *v)
{
    quantile(s, band(s)->p95, band(s)->censored95, v);
}

static const struct hb_row band_rows[] = {{"name", HB_TEXT, .get = band_name},
                                          {"low", HB_TEXT, .get = low, .forms = HB_ON_FULL},
                                          {"half", HB_TEXT, .get = half, .forms = HB_ON_FULL},
                                          {"high", HB_TEXT, .get = high, .forms = HB_ON_FULL},
                                          {0}};

HB_GET(rule_name, say, s->us ? HB_SAY_RANGE_RULE_NAME_US : HB_SAY_RANGE_RULE_NAME, s)
HB_GET(rule_holds, say,
       whole(s)->rule_holds ? HB_SAY_RANGE_RULE_HOLDS : HB_SAY_RANGE_RULE_HOLDS_NOT, s)

/* ---- the picture ----------------------------------------------------------------------------- */

#define FLAT_PRESSURE 70e3 /* Pa; below it hobble_trace drives without air */

HB_GET(drawn_air, say,
       whole(s)->taken_as_empty                  ? HB_SAY_RANGE_AIR_TAKEN
       : whole(s)->pressure_now >= FLAT_PRESSURE ? HB_SAY_RANGE_AIR
                                                 : HB_SAY_RANGE_NO_AIR_LEFT,
       s)

static void whose_cap(const struct hb_scope *s, struct hb_value *v)
{
    static const enum hb_message say[HOBBLE_LIMIT_COUNT] = {
        [HOBBLE_LIMIT_MAKER] = HB_SAY_RANGE_OF_MAKER,
        [HOBBLE_LIMIT_FLEET] = HB_SAY_RANGE_OF_FLEET,
        [HOBBLE_LIMIT_CONSTRUCTION] = HB_SAY_RANGE_OF_KIND,
    };
    const enum hb_message by = say[whole(s)->cap_by];
    hb_value_say(v, by ? by : HB_SAY_RANGE_OF_RULE, s);
}

/* Units of axes and titles. */
static void unit_of(const struct hb_scope *s, enum hobble_unit unit, struct hb_value *v)
{
    char figure[HB_FIGURE];
    hb_figure(0.0, unit, s->us, HB_WHOLE_NEAR, figure);
    snprintf(v->room, sizeof v->room, "%s", strchr(figure, ' ') + 1);
    hb_value_text(v, v->room);
}

static void way_unit(const struct hb_scope *s, struct hb_value *v)
{
    unit_of(s, HOBBLE_UNIT_KILOMETRE, v);
}

/* With its degree, which a picture can always show. */
HB_GET(heat_unit, text, s->us ? "\u00B0F" : "\u00B0C")

const struct hb_row hb_trace_rows[] = {{"alive", HB_REAL_AT(struct hobble_trace_point, alive, NONE),
                                        .shown = HB_SHARE_WHOLE_DOWN,
                                        .forms = HB_NOT_JSON | HB_ON_PICTURE},
                                       {0}};

/* ---- all of it ------------------------------------------------------------------------------- */

const struct hb_row hb_range_said[] = {
    {"tyre_name", HB_TEXT, .get = tyre_name},
    {"tyre", HB_TEXT, .get = tyre},
    {"short_name", HB_TEXT, .get = short_name},
    {"short_tyre", HB_TEXT, .get = short_tyre},
    {"verdict", HB_TEXT, .get = verdict},
    {"place", HB_TEXT, .get = place, .forms = HB_ON_FIRST | HB_ON_PICTURE},
    {"driven", HB_REAL, HOBBLE_UNIT_KILOMETRE, .get = driven, .shown = HB_WAY_UP,
     .forms = HB_ON_FIRST | HB_ON_FULL | HB_ON_PICTURE},
    {"who", HB_TEXT, .get = who},
    {"decides", HB_TEXT, .get = decides},
    {"usual_end", HB_TEXT, .get = usual_end},
    {"stops", HB_LIST, .count = all_stops, .of = stops},
    {"stand", HB_TEXT, .get = stand},
    {"call_number", HB_TEXT, .get = call_number},
    {"call_wheel", HB_TEXT, .get = call_wheel},
    {"call_tyre", HB_TEXT, .get = call_tyre},
    {"call_vehicle", HB_TEXT, .get = call_vehicle},
    {"short_vehicle", HB_TEXT, .get = short_vehicle},
    {"if_vouched", HB_REAL_AT(answer, if_vouched, KILOMETRE), .shown = HB_WAY_DOWN,
     .forms = HB_ON_FULL},
    {"first_rule", HB_TEXT, .get = first_rule, .when = has_rule},
    {"bands", HB_LIST, .count = bands, .item = band_item, .of = band_rows},
    {"rule_name", HB_TEXT, .get = rule_name},
    {"rule_holds", HB_TEXT, .get = rule_holds},
    {"rim_share", HB_REAL_AT(answer, rim_share, NONE), .shown = HB_SHARE_TENTH_NEAR,
     .forms = HB_ON_FULL},
    {"near_rim_share", HB_REAL_AT(answer, near_rim_share, NONE), .shown = HB_SHARE_TENTH_NEAR,
     .forms = HB_ON_FULL},
    {"drawn_speed", HB_REAL_AT(answer, advised_speed, KM_PER_HOUR), .shown = HB_WHOLE_DOWN,
     .forms = HB_ON_PICTURE},
    {"drawn_air", HB_TEXT, .get = drawn_air},
    {"whose_cap", HB_TEXT, .get = whose_cap},
    {"way_unit", HB_TEXT, .get = way_unit},
    {"heat_unit", HB_TEXT, .get = heat_unit},
    {0}};
