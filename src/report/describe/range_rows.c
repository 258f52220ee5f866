/* SPDX-License-Identifier: GPL-3.0-or-later */
/* range_rows.c - the driver's answer: the range, what it rests on, and what becomes of the tyre.
 * What was asked and advised stands in range_advice.c, what is only said in sentences in
 * range_words.c. */
#include "report/describe/answers.h"
#include "report/describe/message.h"
#include "report/describe/range_words.h"
#include "report/describe/word_lists.h"
#include "report/describe/words.h"

#include <math.h>

typedef struct hobble_answer answer;

static const answer *whole(const struct hb_scope *s)
{
    return s->whole;
}

#define SHARE                .least = 0.0, .most = 1.0
#define NO_LESS_THAN_NOTHING .least = 0.0, .most = HUGE_VAL
#define NOT_EMPTY            .least = 1.0, .most = HUGE_VAL

/* ---- the range ------------------------------------------------------------------------------- */

bool hb_has_range(const struct hb_scope *s)
{
    return !whole(s)->rim_at_start && !whole(s)->stop[HOBBLE_STOP_CONTRADICTION] &&
           !whole(s)->stop[HOBBLE_STOP_EVIDENCE];
}

HB_WHEN(has_none, !hb_has_range(s))

static bool is_cut(const struct hobble_band *b, int quantile)
{
    return quantile == 0 ? b->censored5 : quantile == 1 ? b->censored50 : b->censored95;
}

/* Which quantile is the nth that was cut; 3 where there is none. */
static int nth_cut(const struct hb_scope *s, size_t nth)
{
    int i = hb_has_range(s) ? 0 : 3;
    for (; i < 3; i++)
        if (is_cut(s->of, i) && nth-- == 0)
            break;
    return i;
}

static size_t cuts(const struct hb_scope *s)
{
    size_t n = 0;
    while (nth_cut(s, n) < 3)
        n++;
    return n;
}

HB_GET(censored, truth, cuts(s) > 0)

static const char *quantile_word(int place)
{
    static const char *const words[] = {"p5", "p50", "p95"};
    return place < (int)HB_COUNT_ROWS(words) ? words[place] : NULL;
}

HB_GET(cut, text, quantile_word(nth_cut(s, s->place)))

static const struct hb_row cut_row[] = {{NULL, HB_WORD, .get = cut, .word = quantile_word}};

#define QUANTILE .when = hb_has_range, NO_LESS_THAN_NOTHING, .shown = HB_WAY_DOWN
#define BAND_ROWS(p5_on, rest_on)                                                                  \
    {"p5", HB_REAL_AT(struct hobble_band, p5, KILOMETRE), QUANTILE, .forms = HB_NULLED | (p5_on),  \
     .meaning = "95 of 100 carry at least this"},                                                  \
        {"p50", HB_REAL_AT(struct hobble_band, p50, KILOMETRE), QUANTILE,                          \
         .forms = HB_NULLED | (rest_on), .meaning = "half carry at least this"},                   \
        {"p95", HB_REAL_AT(struct hobble_band, p95, KILOMETRE), QUANTILE,                          \
         .forms = HB_NULLED | (rest_on), .meaning = "5 of 100 carry at least this"},               \
        {"censored", HB_TRUTH, .get = censored, .meaning = "a quantile was cut at the horizon"},   \
    {                                                                                              \
        "more_than", HB_LIST, .count = cuts, .of = cut_row, .least = 0, .most = 3,                 \
                              .meaning = "those that were: they are more than this"                \
    }

static const struct hb_row unconditioned_band[] = {BAND_ROWS(HB_ON_FULL, HB_ON_FULL), {0}};
/* the first screen names it where it decides */
static const struct hb_row advised_band[] = {BAND_ROWS(HB_ON_FIRST | HB_ON_FULL, 0), {0}};

HB_ITEM(unconditioned, &whole(s)->unconditioned)
HB_ITEM(advised, &whole(s)->advised)
HB_GET(conditioned, truth, whole(s)->conditioned)
HB_GET(all_stated, truth, whole(s)->all_stated)
HB_GET(why_none, text,
       hobble_stop_sentence(whole(s)->rim_at_start                 ? HOBBLE_STOP_RIM
                            : whole(s)->stop[HOBBLE_STOP_EVIDENCE] ? HOBBLE_STOP_EVIDENCE
                                                                   : HOBBLE_STOP_CONTRADICTION))
HB_HOW_MANY(ends, HOBBLE_END_COUNT)
HB_ITEM(end_item, &whole(s)->share_ended[place])

static const struct hb_row share_ended[] = {{NULL, HB_REAL, SHARE}};

static const struct hb_row range_km[] = {
    BAND_ROWS(HB_ON_FULL, HB_ON_FULL),
    {"unconditioned", HB_OBJECT, .item = unconditioned, .of = unconditioned_band,
     .meaning = "same without the evidence of the profile"},
    {"advised", HB_OBJECT, .item = advised, .of = advised_band,
     .meaning = "at the advised speed, without air below 70 kPa, as the advice uses it"},
    {"advice_conditioned", HB_TRUTH, .get = conditioned,
     .meaning = "each sampled type is tied to its approval test"},
    {"past_stated", HB_TRUTH, .get = all_stated,
     .meaning = "nothing of age, earlier flat running and repairs is left open"},
    {"reason", HB_TEXT, .get = why_none, .when = has_none, .meaning = "why there is no range"},
    {"share_ended_by", HB_NAMED, .word = hb_end_word, .count = ends, .item = end_item,
     .of = share_ended, .meaning = "of the tyres, by what ended them"},
    {0}};

/* ---- the place asked for, and the rule ------------------------------------------------------- */

HB_WHEN(has_place, !isnan(whole(s)->to))

/* A chance would be read as leave. */
HB_WHEN(goes, whole(s)->verdict == HOBBLE_GO)
HB_GET(within, truth, goes(s) && whole(s)->to <= whole(s)->advised_distance)

static const struct hb_row arrival[] = {
    {"distance_km", HB_REAL_AT(answer, to, KILOMETRE), NO_LESS_THAN_NOTHING,
     .meaning = "of the place asked for"},
    {"chance_of_failing", HB_REAL_AT(answer, chance_of_failing, NONE), .when = goes, SHARE,
     .shown = HB_SHARE_UP, .forms = HB_ON_FIRST | HB_ON_FULL, .meaning = "to get there"},
    {"sampling_error", HB_REAL_AT(answer, sampling_error, NONE), .when = goes, SHARE,
     .shown = HB_SHARE_UP, .forms = HB_ON_FULL, .meaning = "one deviation of that"},
    {"within_advice", HB_TRUTH, .get = within, .meaning = "the advice reaches there"},
    {0}};

static const struct hb_row rule[] = {
    {"speed_kmh", HB_REAL_AT(answer, rule_speed, KM_PER_HOUR), .shown = HB_WHOLE_DOWN,
     .forms = HB_ON_FULL, .meaning = "of the rule"},
    {"distance_km", HB_REAL_AT(answer, rule_distance, KILOMETRE), .shown = HB_WAY_DOWN,
     .forms = HB_ON_FULL, .meaning = "of the rule"},
    {"share_of_tyres", HB_REAL_AT(answer, share_of_tyres, NONE), SHARE, .shown = HB_SHARE_DOWN,
     .forms = HB_ON_FULL, .meaning = "that make it, flat from the start"},
    {"required_share", HB_REAL_AT(answer, required_share, NONE), SHARE, .shown = HB_SHARE_STATED,
     .forms = HB_ON_FULL, .meaning = "that must make it"},
    {"holds", HB_TRUTH_AT(answer, rule_holds), .meaning = "no fewer than required make it"},
    {0}};

/* ---- the state of the tyre, and how good all this is ----------------------------------------- */

static const struct hb_row temperature_c[] = {
    {"now_p50", HB_REAL_AT(answer, now_p50, CELSIUS), .shown = HB_WHOLE_UP, .forms = HB_ON_FULL,
     .meaning = "now, half of the tyres"},
    {"peak_p50", HB_REAL_AT(answer, peak_p50, CELSIUS), .shown = HB_WHOLE_UP, .forms = HB_ON_FULL,
     .meaning = "highest on the way, half of them"},
    {"peak_p95", HB_REAL_AT(answer, peak_p95, CELSIUS), .shown = HB_WHOLE_UP, .forms = HB_ON_FULL,
     .meaning = "same, 95 of 100 are at most this"},
    {"limit", HB_REAL_AT(answer, limit, CELSIUS), .shown = HB_WHOLE_DOWN,
     .forms = HB_ON_FULL | HB_ON_PICTURE, .meaning = "of the wall"},
    {0}};

static const struct hb_row life_used[] = {
    {"now_p50", HB_REAL_AT(answer, life_now_p50, NONE), SHARE, .shown = HB_SHARE_WHOLE_UP,
     .forms = HB_ON_FULL, .meaning = "now, half of the tyres"},
    {"at_advised_p50", HB_REAL_AT(answer, life_at_advised_p50, NONE), SHARE,
     .shown = HB_SHARE_WHOLE_UP, .forms = HB_ON_FULL,
     .meaning = "after the advised way, half of them"},
    {0}};

HB_GET(approval_kind, text, whole(s)->tested > 0 ? "flat-tyre running test" : "none")

/* ---- evidence ----------------------------------------------------------------------------------
 */

bool hb_has_evidence(const struct hb_scope *s)
{
    return whole(s)->evidence_items > 0;
}

HB_WHEN(is_against, whole(s)->evidence_against >= 0)
HB_GET(against, text,
       hobble_case_evidence_at(s->c, (size_t)whole(s)->evidence_against)
           ? hobble_case_evidence_at(s->c, (size_t)whole(s)->evidence_against)->origin
           : "")

HB_GET(taken, text, hb_message_text(HB_SAY_RANGE_EVIDENCE_TAKEN))

static const struct hb_row evidence[] = {
    {"taken", HB_TEXT, .get = taken, .forms = HB_NOT_JSON},
    {"items", HB_COUNT_AT(answer, evidence_items), .least = 1, .most = HOBBLE_EVIDENCE_MAX,
     .forms = HB_ON_FULL, .meaning = "taken in"},
    {"effective_sample_size", HB_REAL_AT(answer, evidence_effective, NONE), .least = 0.0,
     .most = HUGE_VAL, .shown = HB_WHOLE_DOWN, .forms = HB_ON_FULL,
     .meaning = "members that the sample is worth after it"},
    {"tempering_steps", HB_COUNT_AT(answer, evidence_steps), .least = 0, .most = 20,
     .forms = HB_ON_FULL, .meaning = "0: weights alone"},
    {"contradicted_by", HB_TEXT, .get = against, .when = is_against, .forms = HB_NULLED,
     .meaning = "file and line of the item that fits the others and the model least"},
    {0}};

static const struct hb_row approval[] = {
    {"kind", HB_TEXT, .get = approval_kind, .meaning = "of test, by the marking"},
    {"tested", HB_COUNT_AT(answer, tested), NO_LESS_THAN_NOTHING, .forms = HB_ON_FULL,
     .meaning = "sampled types that were put to the approval test"},
    {"passed", HB_COUNT_AT(answer, passed), NO_LESS_THAN_NOTHING, .forms = HB_ON_FULL,
     .meaning = "of them"},
    {0}};

HB_HOW_MANY(outside_count, (size_t)whole(s)->outside_count)
HB_GET(outside, text, whole(s)->outside[s->place])

static const struct hb_row outside_row[] = {{NULL, HB_TEXT, .get = outside}};

static const struct hb_row quality[] = {
    {"energy_closure", HB_REAL_AT(answer, energy_closure, NONE), .least = 0.0, .most = 0.001,
     .shown = HB_ONE_DIGIT, .forms = HB_ON_FULL,
     .meaning = "largest miss of the energy ledger over the heat made"},
    {"solver_difference", HB_REAL_AT(answer, solver_difference, NONE), NO_LESS_THAN_NOTHING,
     .shown = HB_SHARE_HUNDREDTH_UP, .forms = HB_NULLABLE | HB_ON_FULL,
     .meaning = "fast solver against the reference, middle tyre; null where that was not run"},
    {"outside_checked_range", HB_LIST, .count = outside_count, .of = outside_row,
     .meaning = "keys whose values no check covers"},
    {0}};

/* ---- what becomes of the tyre ---------------------------------------------------------------- */

static const struct hb_row drive[] = {
    {"distance_km", HB_REAL_AT(struct hobble_drive, distance, KILOMETRE), NO_LESS_THAN_NOTHING,
     .meaning = "driven at low pressure, with the advised way"},
    {"speed_kmh", HB_REAL_AT(struct hobble_drive, speed, KM_PER_HOUR), NO_LESS_THAN_NOTHING,
     .meaning = "of it"},
    {"lowest_pressure_kpa", HB_REAL_AT(struct hobble_drive, pressure, KILOPASCAL),
     NO_LESS_THAN_NOTHING, .meaning = "gauge"},
    {"life_p95", HB_REAL_AT(struct hobble_drive, life_p95, NONE), SHARE, .meaning = "used by it"},
    {"peak_p95_c", HB_REAL_AT(struct hobble_drive, peak_p95, CELSIUS),
     .meaning = "hottest place of the wall"},
    {0}};

const struct hb_row hb_fired_rows[] = {
    {"id", HB_TEXT_AT(struct hobble_fired, id), .meaning = "of the rule"},
    {"reason", HB_TEXT_AT(struct hobble_fired, reason), .forms = HB_ON_FULL,
     .meaning = "what it says"},
    {"source", HB_TEXT_AT(struct hobble_fired, source), NOT_EMPTY, .forms = HB_ON_FULL,
     .meaning = "of the rule"},
    {0}};

HB_HOW_MANY(rule_count, (size_t)whole(s)->rule_count)
HB_ITEM(rule_item, &whole(s)->rule[place])
HB_GET(basis, text, rule_count(s) > 0 ? whole(s)->rule[0].id : "unknown")

static const struct hb_row condition[] = {
    {"verdict", HB_WORD_AT(answer, condition, hb_condition_word),
     .meaning = "after the drive; neither clears a tyre"},
    {"basis", HB_TEXT, .get = basis, .meaning = "id of the first of the rules"},
    {"drive", HB_OBJECT, .at = offsetof(answer, drive), .of = drive,
     .meaning = "what the verdict rests on: the whole drive with the advised way, over all types; "
                "95 of 100 are at most p95"},
    {"rules", HB_LIST, .count = rule_count, .item = rule_item, .of = hb_fired_rows,
     .meaning = "that say so, worst first"},
    {0}};

static size_t caution_count(const struct hb_scope *s)
{
    size_t n = 0;
    (void)s;
    while (hb_caution(n))
        n++;
    return n;
}

HB_GET(caution, text, hb_caution(s->place))

static const struct hb_row cautions[] = {{NULL, HB_TEXT, .get = caution}};

static const struct hb_row rows[] = {
    {"inputs", HB_OBJECT, .of = hb_range_inputs, .meaning = "what was asked"},
    {"answer", HB_OBJECT, .of = hb_range_advice, .meaning = "the advice"},
    {"range_km", HB_OBJECT, .at = offsetof(answer, range), .of = range_km,
     .meaning = "from now, at the speed and pressure asked"},
    {"arrival", HB_OBJECT, .of = arrival, .when = has_place,
     .meaning = "no chance is given where the advice does not reach"},
    {"rule", HB_OBJECT, .of = rule, .meaning = "whether the rule holds at these conditions"},
    {"temperature_c", HB_OBJECT, .of = temperature_c, .meaning = "hottest place in the wall"},
    {"life_used", HB_OBJECT, .of = life_used, .meaning = "of the hot wall, 0 to 1"},
    {"approval", HB_OBJECT, .of = approval, .meaning = "how many types the approval test took"},
    {"evidence", HB_OBJECT, .of = evidence, .when = hb_has_evidence,
     .meaning = "what the profile knows beside its rows"},
    {"quality", HB_OBJECT, .of = quality, .meaning = "how good the computation is"},
    {"condition", HB_OBJECT, .of = condition, .meaning = "what becomes of the tyre"},
    {"cautions", HB_LIST, .count = caution_count, .of = cautions, NOT_EMPTY,
     .meaning = "that hold for every answer"},
    {"said", HB_OBJECT, .of = hb_range_said, .forms = HB_NOT_JSON},
    {0}};

const struct hb_answer hb_range_answer = {
    .command = "range",
    .about = "Units are in the key names. Numbers that do not exist are null.",
    .of_case = true,
    .row = rows};
