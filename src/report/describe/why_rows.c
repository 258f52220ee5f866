/* SPDX-License-Identifier: GPL-3.0-or-later */
/* why_rows.c - which unknown matters most, and what to measure first. */
#include "report/describe/answers.h"
#include "report/describe/message.h"
#include "report/describe/word_lists.h"

#include <math.h>
#include <string.h>

typedef struct hobble_why why;
typedef struct hobble_index index_of;

static const why *of(const struct hb_scope *s)
{
    return s->whole;
}

/* ---- shares of one unknown ------------------------------------------------------------------- */

static const index_of *one(const struct hb_scope *s)
{
    return s->of;
}

HB_GET(key, text, hobble_param_table(NULL)[one(s)->row].key)
HB_GET(first_end, number, s->place == 0 ? one(s)->first_low : one(s)->first_high)
HB_GET(total_end, number, s->place == 0 ? one(s)->total_low : one(s)->total_high)
HB_WHEN(first_is_limited, !isnan(one(s)->first_low) && !isnan(one(s)->first_high))
HB_WHEN(total_is_limited, !isnan(one(s)->total_low) && !isnan(one(s)->total_high))

static void first_told(const struct hb_scope *s, struct hb_value *v);
static void total_told(const struct hb_scope *s, struct hb_value *v);

static const struct hb_row first_ends[] = {{NULL, HB_REAL, .get = first_end}};
static const struct hb_row total_ends[] = {{NULL, HB_REAL, .get = total_end}};

static void unknown_name(const struct hb_scope *s, struct hb_value *v);

#define SAID     .shown = HB_TWO_PLACES, .forms = HB_NOT_JSON | HB_ON_FULL
#define FROM_ONE .least = 1, .most = HUGE_VAL

static const struct hb_row shares[] = {
    {"key", HB_TEXT, .get = key, .meaning = "the unknown, as after --set"},
    {"name", HB_TEXT, .get = unknown_name, .meaning = "the same in words"},
    {"first", HB_REAL_AT(index_of, first, NONE), .shown = HB_TWO_PLACES,
     .forms = HB_NULLABLE | HB_ON_FULL,
     .meaning = "share of the variance that is gone when this alone is known"},
    {"first_ci", HB_LIST, .count = hb_two, .of = first_ends, .when = first_is_limited, .least = 2,
     .most = 2, .forms = HB_NULLED, .meaning = "its limits, 95 % sure"},
    {"total", HB_REAL_AT(index_of, total, NONE), .least = 0.0, .most = HUGE_VAL,
     .shown = HB_TWO_PLACES, .forms = HB_NULLABLE | HB_ON_FULL,
     .meaning = "share of the variance that it takes part in"},
    {"total_ci", HB_LIST, .count = hb_two, .of = total_ends, .when = total_is_limited, .least = 2,
     .most = 2, .forms = HB_NULLED, .meaning = "its limits, 95 % sure"},
    {"shapley", HB_REAL_AT(index_of, shapley, NONE), .least = 0.0, .most = 1.0,
     .shown = HB_TWO_PLACES, .forms = HB_NULLABLE | HB_ON_FULL,
     .meaning =
         "of the range: share in the variance among the tyres that the advice rests on, what "
         "several do together being split; null: too few of them"},
    {"first_low", HB_REAL_AT(index_of, first_low, NONE), SAID},
    {"first_high", HB_REAL_AT(index_of, first_high, NONE), SAID},
    {"total_low", HB_REAL_AT(index_of, total_low, NONE), SAID},
    {"total_high", HB_REAL_AT(index_of, total_high, NONE), SAID},
    {"first_told", HB_TEXT, .get = first_told, .forms = HB_NOT_JSON},
    {"total_told", HB_TEXT, .get = total_told, .forms = HB_NOT_JSON},
    {0}};

/* In the sentence, names are those of the unknown's shares. */
static void tell(const struct hb_scope *s, struct hb_value *v, enum hb_message id)
{
    struct hb_scope here = *s;
    here.rows = shares;
    hb_value_say(v, id, &here);
}

static void first_told(const struct hb_scope *s, struct hb_value *v)
{
    tell(s, v, first_is_limited(s) ? HB_SAY_WHY_FIRST : HB_SAY_WHY_FIRST_BARE);
}

static void total_told(const struct hb_scope *s, struct hb_value *v)
{
    tell(s, v, total_is_limited(s) ? HB_SAY_WHY_TOTAL : HB_SAY_WHY_TOTAL_BARE);
}

/* ---- one output: its scope's struct is its mean, or the whole for the range -------------------
 */

static enum hobble_why_output output(const struct hb_scope *s)
{
    const double *mean = s->of;
    return s->of == s->whole ? HOBBLE_WHY_RANGE : (enum hobble_why_output)(mean - of(s)->mean);
}

HB_GET(output_word, text, hobble_why_word(output(s)))
HB_GET(meaning, text, hobble_why_meaning(output(s)))
HB_GET(mean, number, of(s)->mean[output(s)])
HB_GET(deviation, number, of(s)->deviation[output(s)])
HB_HOW_MANY(unknowns, (size_t)of(s)->count)
HB_ITEM(unknown, &of(s)->index[output(s)][place])

static const char *range_word(int place)
{
    return place == 0 ? hobble_why_word(HOBBLE_WHY_RANGE) : NULL;
}

static const char *peak_word(int place)
{
    return place == 0 ? hobble_why_word(HOBBLE_WHY_PEAK) : NULL;
}

static const char *arrival_word(int place)
{
    return place == 0 ? hobble_why_word(HOBBLE_WHY_ARRIVAL) : NULL;
}

#define OUTPUT(words)                                                                              \
    {"output", HB_WORD, .get = output_word, .word = (words), .meaning = "what varies"},            \
    {                                                                                              \
        "meaning", HB_TEXT, .get = meaning, .meaning = "of the output"                             \
    }
#define DEVIATION .get = deviation, .least = 0.0, .most = HUGE_VAL, .meaning = "one deviation"
#define INDICES                                                                                    \
    {                                                                                              \
        "indices", HB_LIST, .count = unknowns, .item = unknown, .of = shares, .least = 1,          \
                            .most = HOBBLE_INDICES_MAX, .meaning = "shares by unknown"             \
    }

static const struct hb_row peak_rows[] = {OUTPUT(peak_word),
                                          {"mean_c", HB_REAL, .unit = HOBBLE_UNIT_CELSIUS,
                                           .get = mean, .shown = HB_WHOLE_UP, .forms = HB_ON_FULL,
                                           .meaning = "mean"},
                                          {"deviation_k", HB_REAL, .unit = HOBBLE_UNIT_KELVIN,
                                           DEVIATION, .shown = HB_TENTH_UP, .forms = HB_ON_FULL},
                                          INDICES,
                                          {0}};

static const struct hb_row arrival_rows[] = {OUTPUT(arrival_word),
                                             {"mean_share", HB_REAL, .get = mean, .least = 0.0,
                                              .most = 1.0, .shown = HB_SHARE_DOWN,
                                              .forms = HB_ON_FULL, .meaning = "that arrives"},
                                             {"deviation", HB_REAL, DEVIATION},
                                             INDICES,
                                             {0}};

HB_ITEM(peak, &of(s)->mean[HOBBLE_WHY_PEAK])
HB_ITEM(arrival, &of(s)->mean[HOBBLE_WHY_ARRIVAL])

static const struct hb_row also[] = {
    {"peak", HB_OBJECT, .item = peak, .of = peak_rows, .meaning = "the hottest wall"},
    {"arrival", HB_OBJECT, .item = arrival, .of = arrival_rows, .meaning = "whether it arrives"},
    {0}};

static const struct {
    const char *key;
    enum hb_message name;
} names[] = {
    {"load_error", HB_SAY_NAME_LOAD},
    {"stiffness_flat", HB_SAY_NAME_STIFFNESS},
    {"loss_25c", HB_SAY_NAME_LOSS},
    {"modulus_100c", HB_SAY_NAME_MODULUS},
    {"softening", HB_SAY_NAME_SOFTENING},
    {"wall_thickness", HB_SAY_NAME_THICKNESS},
    {"wall_conductivity", HB_SAY_NAME_CONDUCTIVITY},
    {"film_outer", HB_SAY_NAME_FILM_OUTER},
    {"film_inner", HB_SAY_NAME_FILM_INNER},
    {"roll_base", HB_SAY_NAME_ROLL},
    {"life_activation", HB_SAY_NAME_LIFE_HEAT},
    {"life_power", HB_SAY_NAME_LIFE_LOAD},
    {"margin", HB_SAY_NAME_MARGIN},
    {"life_unit", HB_SAY_NAME_UNIT},
    {"life_repair", HB_SAY_NAME_REPAIR},
    {"flat_loss", HB_SAY_NAME_FLAT},
    {"life_road", HB_SAY_NAME_ROAD},
    {"wall_work", HB_SAY_NAME_WALL},
    {"wall_limit", HB_SAY_NAME_LIMIT},
    {"speed_error", HB_SAY_NAME_SPEED},
    {"ambient_error", HB_SAY_NAME_AMBIENT},
};

static void unknown_name(const struct hb_scope *s, struct hb_value *v)
{
    const char *key = hobble_param_table(NULL)[one(s)->row].key;
    hb_value_text(v, key);
    for (size_t i = 0; i < sizeof names / sizeof *names; i++)
        if (strcmp(names[i].key, key) == 0)
            hb_value_text(v, hb_message_text(names[i].name));
}

/* ---- the unknowns of all outputs, the most important for the range first ----------------------
 */

/* By what counts for the advice; where that is not to be had, by what it takes part in. */
static double weight(const index_of *x)
{
    return isnan(x->shapley) ? x->total : x->shapley;
}

static const void *in_order(const struct hb_scope *s, size_t place)
{
    const index_of *x = of(s)->index[HOBBLE_WHY_RANGE];
    int order[HOBBLE_INDICES_MAX];
    for (int i = 0; i < of(s)->count; i++) {
        int k = i;
        for (; k > 0 && weight(&x[order[k - 1]]) < weight(&x[i]); k--)
            order[k] = order[k - 1];
        order[k] = i;
    }
    return &x[order[place]];
}

static const index_of *same_unknown(const struct hb_scope *s, enum hobble_why_output k)
{
    return &of(s)->index[k][one(s) - of(s)->index[HOBBLE_WHY_RANGE]];
}

HB_ITEM(unknown_of_range, same_unknown(s, HOBBLE_WHY_RANGE))
HB_ITEM(unknown_of_peak, same_unknown(s, HOBBLE_WHY_PEAK))
HB_ITEM(unknown_of_arrival, same_unknown(s, HOBBLE_WHY_ARRIVAL))

static const struct hb_row unknown_rows[] = {
    {"key", HB_TEXT, .get = key},
    {"name", HB_TEXT, .get = unknown_name},
    {"range", HB_OBJECT, .item = unknown_of_range, .of = shares},
    {"peak", HB_OBJECT, .item = unknown_of_peak, .of = shares},
    {"arrival", HB_OBJECT, .item = unknown_of_arrival, .of = shares},
    {0}};

/* ---- what to measure first ------------------------------------------------------------------- */

typedef struct hobble_learnt learnt;

static const learnt *thing(const struct hb_scope *s)
{
    return s->of;
}

static const enum hb_message things[] = {
    [HOBBLE_LEARN_LOAD] = HB_SAY_LEARN_LOAD,
    [HOBBLE_LEARN_SPEED] = HB_SAY_LEARN_SPEED,
    [HOBBLE_LEARN_UNSEEN] = HB_SAY_LEARN_UNSEEN,
    [HOBBLE_LEARN_PAST] = HB_SAY_LEARN_PAST,
    [HOBBLE_LEARN_WALL] = HB_SAY_LEARN_WALL,
    [HOBBLE_LEARN_CAVITY] = HB_SAY_LEARN_CAVITY,
    [HOBBLE_LEARN_DRUM_RUN] = HB_SAY_LEARN_DRUM_RUN,
    [HOBBLE_LEARN_ROAD_RUN] = HB_SAY_LEARN_ROAD_RUN,
};

static const char *learn_word(int place)
{
    return place < HOBBLE_LEARNS ? hobble_learn_word((enum hobble_learn)place) : NULL;
}

HB_GET(thing_word, text, hobble_learn_word(thing(s)->what))
HB_GET(thing_said, text, hb_message_text(things[thing(s)->what]))
HB_GET(thing_keys, text, hobble_learn_keys(thing(s)->what))
HB_GET(before_it, number, of(s)->advice_now)
HB_WHEN(can_be_told, !isnan(thing(s)->turns))
HB_HOW_MANY(learns, (size_t)of(s)->learn_count)
HB_ITEM(learn_item, &of(s)->learn[place])

/* The advice as it is said: nothing is STOP. */
static void say_way(double way, enum hb_message id, const struct hb_scope *s, struct hb_value *v)
{
    hb_value_say(v, way > 0.0 ? id : HB_SAY_LEARN_STOP, s);
}

static const struct hb_row learn_rows[];

static void now_said(const struct hb_scope *s, struct hb_value *v)
{
    struct hb_scope here = *s;
    here.rows = learn_rows;
    say_way(of(s)->advice_now, HB_SAY_LEARN_NOW, &here, v);
}

static void then_said(const struct hb_scope *s, struct hb_value *v)
{
    struct hb_scope here = *s;
    here.rows = learn_rows;
    say_way(thing(s)->advice, thing(s)->at_best ? HB_SAY_LEARN_BEST : HB_SAY_LEARN_THEN, &here, v);
}

static void turns_said(const struct hb_scope *s, struct hb_value *v)
{
    struct hb_scope here = *s;
    here.rows = learn_rows;
    hb_value_say(v, can_be_told(s) ? HB_SAY_LEARN_TURNS : HB_SAY_LEARN_NOT_KNOWN, &here);
}

static const struct hb_row learn_rows[] = {
    {"what", HB_WORD, .get = thing_word, .word = learn_word, .meaning = "to be learnt"},
    {"advice_km", HB_REAL_AT(learnt, advice, KILOMETRE), .least = 0.0, .most = 80.0,
     .shown = HB_WAY_DOWN, .forms = HB_ON_FULL,
     .meaning =
         "advised distance when it is known, on the average of what may be found, STOP being "
         "0; at_best: if that is good"},
    {"at_best", HB_TRUTH_AT(learnt, at_best),
     .meaning = "what it would be if what is learnt is good, not what to expect"},
    {"go_and_stop_turn", HB_REAL_AT(learnt, turns, NONE), .least = 0.0, .most = 1.0,
     .when = can_be_told, .shown = HB_SHARE_WHOLE_NEAR, .forms = HB_NULLED | HB_ON_FULL,
     .meaning = "chance that the verdict turns; null: nobody can say"},
    {"keys", HB_TEXT, .get = thing_keys, .meaning = "where it is then given"},
    {"said", HB_TEXT, .get = thing_said, .meaning = "what it is, in words"},
    {"now_km", HB_REAL, .unit = HOBBLE_UNIT_KILOMETRE, .get = before_it, .shown = HB_WAY_DOWN,
     .forms = HB_NOT_JSON},
    {"now_said", HB_TEXT, .get = now_said, .forms = HB_NOT_JSON},
    {"then_said", HB_TEXT, .get = then_said, .forms = HB_NOT_JSON},
    {"turns_said", HB_TEXT, .get = turns_said, .forms = HB_NOT_JSON},
    {0}};

HB_WHEN(is_measurable, of(s)->first_row >= 0)
HB_GET(measure_first, text, hobble_param_table(NULL)[of(s)->first_row].key)

#define GAIN 1e3 /* m of advice that are worth a measurement */

/* What is to be expected stands first in the list, and what is so at best behind it. */
static void advice_first(const struct hb_scope *s, struct hb_value *v)
{
    const why *w = of(s);
    struct hb_scope here = *s;
    const learnt *most = &w->learn[0];
    here.of = most;
    here.rows = learn_rows;
    if (w->learn_count > 0 && !most->at_best && most->advice > w->advice_now + GAIN)
        hb_value_say(v, HB_SAY_LEARN_FIRST, &here);
    else
        hb_value_say(v,
                     w->stop_stands               ? HB_SAY_LEARN_STANDS
                     : hobble_too_few(w->counted) ? HB_SAY_LEARN_FEW
                                                  : HB_SAY_WHY_NOTHING,
                     s);
}

/* ---- the whole ------------------------------------------------------------------------------- */

static void marking(const struct hb_scope *s, struct hb_value *v)
{
    hb_get_marking(&of(s)->marking, v);
}

HB_GET(too_few, truth, hobble_too_few(of(s)->counted))
HB_GET(no, truth, false)

static const char *independent(int place)
{
    return place == 0 ? "independent" : NULL;
}

HB_GET(inputs, text, independent(0))
HB_GET(confidence, number, 0.95)
HB_GET(middle, number, exp(of(s)->mean[HOBBLE_WHY_RANGE]))
HB_GET(factor, number, exp(of(s)->deviation[HOBBLE_WHY_RANGE]))

static const struct hb_row rows[] = {
    {"marking", HB_TEXT, .get = marking, .meaning = "the tyre, as its sidewall says it"},
    {"example", HB_TRUTH_AT(why, example), .meaning = "built-in values: not the asker's tyre"},
    {"distance_km", HB_REAL_AT(why, distance, KILOMETRE), .least = 0.0, .most = HUGE_VAL,
     .shown = HB_TENTH_NEAR, .forms = HB_ON_FULL | HB_ON_PICTURE,
     .meaning = "to the destination, or the rule's"},
    {"speed_kmh", HB_REAL_AT(why, speed, KM_PER_HOUR), .least = 0.0, .most = HUGE_VAL,
     .shown = HB_WHOLE_NEAR, .forms = HB_ON_FULL | HB_ON_PICTURE, .meaning = "without air"},
    {"base_sample", HB_COUNT_AT(why, base), .least = 16, .most = HUGE_VAL,
     .meaning = "tyres drawn at first, of which the others are mixed"},
    {"counted", HB_COUNT_AT(why, counted), .least = 0, .most = HUGE_VAL, .forms = HB_ON_FULL,
     .meaning = "tyres that the advice rests on, and what is learnt is asked of"},
    {"too_few", HB_TRUTH, .get = too_few, .meaning = "counted is too few for advice"},
    {"journeys", HB_COUNT_AT(why, runs), FROM_ONE, .forms = HB_ON_FULL | HB_ON_PICTURE,
     .meaning = "that were computed"},
    {"conditioned", HB_TRUTH, .get = no, .forms = HB_ALWAYS,
     .meaning = "indices but shapley on what the advice rests on: never, all types count"},
    {"inputs", HB_WORD, .get = inputs, .word = independent,
     .meaning = "drawn independently of each other, for all indices but shapley"},
    {"confidence", HB_REAL, .get = confidence, .least = 0.95, .most = 0.95,
     .meaning = "of every interval"},
    OUTPUT(range_word),
    {"mean_ln_m", HB_REAL, .get = mean, .meaning = "mean"},
    {"deviation", HB_REAL, DEVIATION},
    {"explained", HB_REAL_AT(why, explained, NONE), .least = 0.0, .most = 1.0,
     .shown = HB_SHARE_WHOLE_NEAR, .forms = HB_NULLABLE | HB_ON_FULL,
     .meaning = "what shapley adds up to; the rest no polynomial of second degree follows"},
    INDICES,
    {"also", HB_TUPLE, .of = also, .meaning = "the same of two other outputs"},
    {"measure_first", HB_TEXT, .get = measure_first, .when = is_measurable, .forms = HB_NULLED,
     .meaning = "the unknown of the largest share in the range (shapley, else total) that can be "
                "measured"},
    {"advice", HB_TEXT, .get = advice_first, .meaning = "what to measure first, in a sentence"},
    {"advice_now_km", HB_REAL_AT(why, advice_now, KILOMETRE), .least = 0.0, .most = 80.0,
     .shown = HB_WAY_DOWN, .forms = HB_ON_FULL, .meaning = "as hobble range gives it; 0: STOP"},
    {"learn", HB_LIST, .count = learns, .item = learn_item, .of = learn_rows, .least = 0,
     .most = HOBBLE_LEARNS, .meaning = "what could be learnt, the most worth first"},
    /* said in sentences */
    {"advice_first", HB_TEXT, .get = advice_first, .forms = HB_NOT_JSON | HB_ON_PICTURE},
    {"middle", HB_REAL, .unit = HOBBLE_UNIT_KILOMETRE, .get = middle, .shown = HB_WAY_DOWN,
     .forms = HB_NOT_JSON | HB_ON_FULL},
    {"factor", HB_REAL, .get = factor, .shown = HB_TWO_PLACES, .forms = HB_NOT_JSON | HB_ON_FULL},
    {"unknowns", HB_LIST, .count = unknowns, .item = in_order, .of = unknown_rows,
     .forms = HB_NOT_JSON},
    {0}};

const struct hb_answer hb_why_answer = {
    .command = "why",
    .about = "What to measure first, and shares of the variance: Sobol' indices, and of the range "
             "Shapley effects. first_ci and total_ci are 95 % intervals; all are null where the "
             "output does not vary.",
    .of_case = true,
    .row = rows};
