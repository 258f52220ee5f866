/* SPDX-License-Identifier: GPL-3.0-or-later */
/* replay_rows.c - a recorded drive: what it did to the tyre, and measured over computed. */
#include "report/describe/answers.h"
#include "report/describe/drawn.h"
#include "report/describe/message.h"
#include "report/describe/replay.h"
#include "report/describe/word_lists.h"
#include "report/describe/words.h"

#include <math.h>
#include <string.h>

typedef struct hb_replay_report report;
typedef struct hobble_replay_point point;
typedef struct hobble_misfit misfit;

enum { LINES = 13, DIGITS = 3 };

#define NO_LESS_THAN_NOTHING .least = 0.0, .most = HUGE_VAL
#define SHARE                .least = 0.0, .most = 1.0

static const report *of(const struct hb_scope *s)
{
    return s->whole;
}

static const struct hobble_replay *drive(const struct hb_scope *s)
{
    return &of(s)->replay;
}

static const struct hobble_answer *answer(const struct hb_scope *s)
{
    return &drive(s)->answer;
}

/* ---- the logs ---------------------------------------------------------------------------------
 */

static const char *oddity_word(int place)
{
    static const char *const words[HOBBLE_LOG_ODDITIES] = {
        [HOBBLE_LOG_GAP] = "gap",
        [HOBBLE_LOG_REPEATED] = "repeated",
        [HOBBLE_LOG_TIME_BACK] = "time_back",
        [HOBBLE_LOG_CLOCK_JUMP] = "clock_jump",
        [HOBBLE_LOG_STUCK] = "stuck",
        [HOBBLE_LOG_JUMP] = "jump",
        [HOBBLE_LOG_ACCELERATION] = "acceleration",
        [HOBBLE_LOG_BAD_SUM] = "bad_sum",
        [HOBBLE_LOG_UNREADABLE] = "unreadable",
        [HOBBLE_LOG_WEAK_FIX] = "weak_fix",
        [HOBBLE_LOG_NO_FIX] = "no_fix",
        [HOBBLE_LOG_OTHER_SENSOR] = "other_sensor"};
    return place < HOBBLE_LOG_ODDITIES ? words[place] : NULL;
}

static const enum hb_message oddity_said[HOBBLE_LOG_ODDITIES] = {
    [HOBBLE_LOG_GAP] = HB_SAY_LOG_GAP,
    [HOBBLE_LOG_REPEATED] = HB_SAY_LOG_REPEATED,
    [HOBBLE_LOG_TIME_BACK] = HB_SAY_LOG_TIME_BACK,
    [HOBBLE_LOG_CLOCK_JUMP] = HB_SAY_LOG_CLOCK_JUMP,
    [HOBBLE_LOG_STUCK] = HB_SAY_LOG_STUCK,
    [HOBBLE_LOG_JUMP] = HB_SAY_LOG_JUMP,
    [HOBBLE_LOG_ACCELERATION] = HB_SAY_LOG_ACCELERATION,
    [HOBBLE_LOG_BAD_SUM] = HB_SAY_LOG_BAD_SUM,
    [HOBBLE_LOG_UNREADABLE] = HB_SAY_LOG_UNREADABLE,
    [HOBBLE_LOG_WEAK_FIX] = HB_SAY_LOG_WEAK_FIX,
    [HOBBLE_LOG_NO_FIX] = HB_SAY_LOG_NO_FIX,
    [HOBBLE_LOG_OTHER_SENSOR] = HB_SAY_LOG_OTHER_SENSOR};

/* Which oddity is the nth that was met. */
static int nth_oddity(const struct hb_scope *s, size_t nth)
{
    int i = 0;
    while (i < HOBBLE_LOG_ODDITIES && (of(s)->tally.count[i] == 0 || nth-- > 0))
        i++;
    return i;
}

static size_t oddities(const struct hb_scope *s)
{
    size_t n = 0;
    for (int i = 0; i < HOBBLE_LOG_ODDITIES; i++)
        n += of(s)->tally.count[i] > 0;
    return n;
}

HB_GET(oddity_what, text, oddity_word(nth_oddity(s, s->place)))
HB_GET(oddity_meaning, text, hb_message_text(oddity_said[nth_oddity(s, s->place)]))
HB_GET(oddity_count, count, (long)of(s)->tally.count[nth_oddity(s, s->place)])
HB_GET(oddity_file, text, of(s)->tally.first[nth_oddity(s, s->place)].file)
HB_GET(oddity_line, count, (long)of(s)->tally.first[nth_oddity(s, s->place)].line)
HB_GET(samples, count, (long)of(s)->tally.samples)
HB_GET(recognised, text, of(s)->tally.recognised)

static const struct hb_row oddity_rows[] = {
    {"what", HB_WORD, .get = oddity_what, .word = oddity_word, .meaning = "kind"},
    {"count", HB_COUNT, .get = oddity_count, .least = 1, .most = HUGE_VAL, .shown = HB_WHOLE_NEAR,
     .forms = HB_ON_FULL, .meaning = "how often"},
    {"file", HB_TEXT, .get = oddity_file, .forms = HB_ON_FULL, .meaning = "where first"},
    {"line", HB_COUNT, .get = oddity_line, NO_LESS_THAN_NOTHING, .shown = HB_WHOLE_NEAR,
     .forms = HB_ON_FULL, .meaning = "of that file"},
    {"said", HB_TEXT, .get = oddity_meaning, .forms = HB_ON_FULL,
     .meaning = "what it is, and what it got"},
    {0}};

/* ---- when what came ---------------------------------------------------------------------------
 */

#define WHEN(name, field)                                                                          \
    HB_WHEN(is_##name, !isnan(drive(s)->field##_at))                                               \
    static const struct hb_row name##_rows[] = {                                                   \
        {"min", HB_REAL_AT(report, replay.field##_at, MINUTE), NO_LESS_THAN_NOTHING,               \
         .shown = HB_TENTH_NEAR, .forms = HB_ON_FULL, .meaning = "from the beginning"},            \
        {"km", HB_REAL_AT(report, replay.field##_way, KILOMETRE), NO_LESS_THAN_NOTHING,            \
         .shown = HB_TENTH_NEAR, .forms = HB_ON_FULL, .meaning = "from the beginning"},            \
        {0}};
WHEN(low, low)
WHEN(flat, flat)
WHEN(warned, warned)
WHEN(ended, ended)
HB_WHEN(has_unseen, !isnan(drive(s)->unseen))

/* ---- measured over computed -------------------------------------------------------------------
 */

static const char *channel_word(int place)
{
    static const char *const words[HOBBLE_CHANNELS] = {[HOBBLE_CHANNEL_INNER] = "inner",
                                                       [HOBBLE_CHANNEL_OUTER] = "outer",
                                                       [HOBBLE_CHANNEL_CAVITY] = "cavity",
                                                       [HOBBLE_CHANNEL_SHOULDER] = "shoulder"};
    return place < HOBBLE_CHANNELS ? words[place] : NULL;
}

static const enum hb_message channel_said[HOBBLE_CHANNELS] = {
    [HOBBLE_CHANNEL_INNER] = HB_SAY_REPLAY_INNER,
    [HOBBLE_CHANNEL_OUTER] = HB_SAY_REPLAY_OUTER,
    [HOBBLE_CHANNEL_CAVITY] = HB_SAY_REPLAY_CAVITY,
    [HOBBLE_CHANNEL_SHOULDER] = HB_SAY_REPLAY_SHOULDER};

static int nth_channel(const struct hb_scope *s, size_t nth)
{
    int i = 0;
    while (i < HOBBLE_CHANNELS && (drive(s)->misfit[i].count == 0 || nth-- > 0))
        i++;
    return i;
}

static size_t channels(const struct hb_scope *s)
{
    size_t n = 0;
    for (int i = 0; i < HOBBLE_CHANNELS; i++)
        n += drive(s)->misfit[i].count > 0;
    return n;
}

HB_ITEM(channel_item, &drive(s)->misfit[nth_channel(s, place)])
HB_GET(channel_where, text, channel_word(nth_channel(s, s->place)))
HB_GET(channel_name, text, hb_message_text(channel_said[nth_channel(s, s->place)]))

static const struct hb_row misfit_rows[] = {
    {"where", HB_WORD, .get = channel_where, .word = channel_word,
     .meaning = "inner or outer face of the wall, air in the cavity, shoulder"},
    {"compared", HB_COUNT_AT(misfit, count), .least = 1, .most = HOBBLE_RECORDING_STRETCHES,
     .shown = HB_WHOLE_NEAR, .forms = HB_ON_FULL, .meaning = "stretches of the drive"},
    {"bias_k", HB_REAL_AT(misfit, bias, KELVIN), .shown = HB_TENTH_NEAR, .forms = HB_ON_FULL,
     .meaning = "mean of measured less computed for half of the tyres"},
    {"scatter_k", HB_REAL_AT(misfit, scatter, KELVIN), NO_LESS_THAN_NOTHING, .shown = HB_TENTH_UP,
     .forms = HB_ON_FULL | HB_NULLABLE, .meaning = "about it, one deviation"},
    {"correlation", HB_REAL_AT(misfit, correlation, NONE), .least = -1, .most = 1,
     .shown = HB_SIGNED, .forms = HB_ON_FULL | HB_NULLABLE,
     .meaning = "of a stretch's difference with the next one's"},
    {"outside_band", HB_REAL_AT(misfit, outside, NONE), SHARE, .shown = HB_SHARE_WHOLE_NEAR,
     .forms = HB_ON_FULL, .meaning = "share of stretches outside what 90 of 100 tyres show"},
    {"chance", HB_REAL_AT(misfit, chance, NONE), SHARE, .shown = HB_CHANCE_UP,
     .forms = HB_ON_FULL | HB_NULLABLE,
     .meaning = "that such a tyre and sensor miss by as much or more"},
    {"name", HB_TEXT, .get = channel_name, .forms = HB_NOT_JSON},
    {0}};

/* ---- along the drive --------------------------------------------------------------------------
 */

HB_HOW_MANY(points, (size_t)drive(s)->points)
HB_ITEM(point_item, &drive(s)->point[place])
HB_HOW_MANY(lines, points(s) < LINES ? points(s) : (size_t)LINES)
HB_ITEM(line_item, &drive(s)->point[lines(s) > 1 ? (points(s) - 1) * place / (lines(s) - 1) : 0])

#define MEASURED(name, channel)                                                                    \
    {                                                                                              \
        name "_c", HB_REAL_AT(point, measured[channel], CELSIUS), .forms = HB_NULLABLE,            \
                                                                  .meaning = "measured"            \
    }
#define COMPUTED(name, channel)                                                                    \
    {name "_p5_c", HB_REAL_AT(point, low[channel], CELSIUS), .forms = HB_NULLABLE,                 \
     .meaning = "computed: at most, 5 of 100 tyres"},                                              \
        {name "_p50_c", HB_REAL_AT(point, middle[channel], CELSIUS), .forms = HB_NULLABLE,         \
         .meaning = "computed: at most, half of the tyres"},                                       \
    {                                                                                              \
        name "_p95_c", HB_REAL_AT(point, high[channel], CELSIUS),                                  \
            .forms = HB_NULLABLE, .meaning = "computed: at most, 95 of 100 tyres"                  \
    }

static const struct hb_row point_rows[] = {
    {"time_min", HB_REAL_AT(point, time, MINUTE), NO_LESS_THAN_NOTHING, .shown = HB_TENTH_NEAR,
     .forms = HB_ON_FULL, .meaning = "from the beginning"},
    {"way_km", HB_REAL_AT(point, way, KILOMETRE), NO_LESS_THAN_NOTHING, .shown = HB_TENTH_NEAR,
     .forms = HB_ON_FULL, .meaning = "from the beginning"},
    {"speed_kmh", HB_REAL_AT(point, speed, KM_PER_HOUR), NO_LESS_THAN_NOTHING,
     .shown = HB_WHOLE_NEAR, .forms = HB_ON_FULL, .meaning = "mean of the stretch"},
    {"pressure_kpa", HB_REAL_AT(point, pressure, KILOPASCAL), .shown = HB_WHOLE_NEAR,
     .forms = HB_ON_FULL | HB_NULLABLE, .meaning = "recorded, mean of the stretch"},
    MEASURED("inner", HOBBLE_CHANNEL_INNER),
    COMPUTED("inner", HOBBLE_CHANNEL_INNER),
    MEASURED("outer", HOBBLE_CHANNEL_OUTER),
    COMPUTED("outer", HOBBLE_CHANNEL_OUTER),
    MEASURED("cavity", HOBBLE_CHANNEL_CAVITY),
    COMPUTED("cavity", HOBBLE_CHANNEL_CAVITY),
    MEASURED("shoulder", HOBBLE_CHANNEL_SHOULDER),
    COMPUTED("shoulder", HOBBLE_CHANNEL_SHOULDER),
    {"life_p5", HB_REAL_AT(point, life_low, NONE), SHARE, .meaning = "used at most by 5 of 100"},
    {"life_p50", HB_REAL_AT(point, life_middle, NONE), SHARE, .shown = HB_SHARE_WHOLE_UP,
     .forms = HB_ON_FULL, .meaning = "used at most by half"},
    {"life_p95", HB_REAL_AT(point, life_high, NONE), SHARE, .shown = HB_SHARE_WHOLE_UP,
     .forms = HB_ON_FULL, .meaning = "used at most by 95 of 100"},
    {0}};

/* ---- all of it --------------------------------------------------------------------------------
 */

static void marking(const struct hb_scope *s, struct hb_value *v)
{
    hb_get_marking(&answer(s)->marking, v);
}

HB_HOW_MANY(reasons, hb_count_stops(answer(s)->stop))
HB_GET(reason, text, hobble_stop_word(hb_nth_stop(answer(s)->stop, s->place)))

static const struct hb_row reason_item[] = {{NULL, HB_WORD, .get = reason, .word = hb_stop_word}};

HB_GET(counted, count, drive(s)->counted)
HB_GET(few, truth, hobble_too_few(drive(s)->counted))
HB_GET(degree, text, hb_shown_unit(HOBBLE_UNIT_CELSIUS, s->us))
HB_GET(pace, text, hb_shown_unit(HOBBLE_UNIT_KM_PER_HOUR, s->us))
HB_GET(air, text, hb_shown_unit(HOBBLE_UNIT_KILOPASCAL, s->us))
HB_GET(ambient, drawn, answer(s)->ambient, HOBBLE_UNIT_CELSIUS, s->us, DIGITS)

#define OF_ANSWER(field) replay.answer.field

static const struct hb_row answer_rows[] = {
    {"verdict", HB_WORD_AT(report, OF_ANSWER(verdict), hb_verdict_word), .meaning = "at its end"},
    {"reasons", HB_LIST, .count = reasons, .of = reason_item, .most = HOBBLE_STOP_COUNT,
     .meaning = "to stop"},
    {"advised_distance_km", HB_REAL_AT(report, OF_ANSWER(advised_distance), KILOMETRE),
     NO_LESS_THAN_NOTHING, .meaning = "from there; 0 on stop"},
    {"advised_speed_kmh", HB_REAL_AT(report, OF_ANSWER(advised_speed), KM_PER_HOUR),
     NO_LESS_THAN_NOTHING, .meaning = "at most"},
    {"advised_time_min", HB_REAL_AT(report, OF_ANSWER(advised_time), MINUTE), NO_LESS_THAN_NOTHING,
     .meaning = "for that"},
    {"advised_p5_km", HB_REAL_AT(report, OF_ANSWER(advised.p5), KILOMETRE), NO_LESS_THAN_NOTHING,
     .meaning = "95 of 100 tyres carry at least this"},
    {"cap_km", HB_REAL_AT(report, OF_ANSWER(cap), KILOMETRE), NO_LESS_THAN_NOTHING,
     .meaning = "allowed in all"},
    {"driven_flat_km", HB_REAL_AT(report, OF_ANSWER(run_seen), KILOMETRE), NO_LESS_THAN_NOTHING,
     .meaning = "of the recording, as the advice counts it"},
    {"unseen_km", HB_REAL_AT(report, OF_ANSWER(run_unseen), KILOMETRE), NO_LESS_THAN_NOTHING,
     .meaning = "taken to have been driven before the recording"},
    {"load_share_of_index", HB_REAL_AT(report, OF_ANSWER(load_share), NONE), NO_LESS_THAN_NOTHING,
     .meaning = "from now on"},
    {"ambient_c", HB_REAL_AT(report, OF_ANSWER(ambient), CELSIUS), .meaning = "from now on"},
    {"life_used_p50", HB_REAL_AT(report, OF_ANSWER(life_now_p50), NONE), SHARE,
     .meaning = "at the drive's end, half of the tyres"},
    {"condition", HB_WORD_AT(report, OF_ANSWER(condition), hb_condition_word),
     .meaning = "what becomes of the tyre"},
    {0}};

static const struct hb_row rows[] = {
    {"marking", HB_TEXT, .get = marking, .meaning = "the tyre, as its sidewall says it"},
    {"example", HB_TRUTH_AT(report, OF_ANSWER(example)),
     .meaning = "built-in values: not the asker's tyre"},
    {"logs", HB_COUNT_AT(report, logs), .least = 1, .most = HUGE_VAL, .meaning = "files read"},
    {"recognised", HB_TEXT, .get = recognised, .meaning = "what was taken for what"},
    {"samples", HB_COUNT, .get = samples, NO_LESS_THAN_NOTHING, .shown = HB_WHOLE_NEAR,
     .forms = HB_ON_FULL, .meaning = "taken"},
    {"oddities", HB_LIST, .count = oddities, .of = oddity_rows, .most = HOBBLE_LOG_ODDITIES,
     .meaning = "of the logs, and how often"},
    {"speeds_left_out", HB_COUNT_AT(report, replay.left_out), NO_LESS_THAN_NOTHING,
     .meaning = "samples whose speed another log beside theirs tells"},
    {"recorded_min", HB_REAL_AT(report, replay.seconds, MINUTE), NO_LESS_THAN_NOTHING,
     .shown = HB_TENTH_NEAR, .forms = HB_ON_FULL, .meaning = "in all"},
    {"stood_min", HB_REAL_AT(report, replay.stood, MINUTE), NO_LESS_THAN_NOTHING,
     .shown = HB_TENTH_NEAR, .forms = HB_ON_FULL, .meaning = "of it"},
    {"way_km", HB_REAL_AT(report, replay.way, KILOMETRE), NO_LESS_THAN_NOTHING,
     .shown = HB_TENTH_UP, .forms = HB_ON_FULL, .meaning = "in all"},
    {"pressure_recorded", HB_TRUTH_AT(report, replay.pressure_logged),
     .meaning = "else nothing tells when the air went"},
    {"low_kpa", HB_REAL_AT(report, replay.low, KILOPASCAL), NO_LESS_THAN_NOTHING,
     .shown = HB_WHOLE_NEAR, .forms = HB_ON_FULL, .meaning = "a drop to this must be warned of"},
    {"low", HB_OBJECT, .of = low_rows, .when = is_low, .meaning = "when it was passed"},
    {"flat", HB_OBJECT, .of = flat_rows, .when = is_flat, .meaning = "when 70 kPa were passed"},
    {"warning", HB_OBJECT, .of = warned_rows, .when = is_warned, .meaning = "its mark"},
    {"unseen_before_warning_km", HB_REAL_AT(report, replay.unseen, KILOMETRE), .when = has_unseen,
     NO_LESS_THAN_NOTHING, .shown = HB_TENTH_UP, .forms = HB_ON_FULL,
     .meaning = "from that drop to the mark"},
    {"ended", HB_OBJECT, .of = ended_rows, .when = is_ended,
     .meaning = "the mark that the tyre carried no longer"},
    {"legs", HB_COUNT_AT(report, replay.legs), .least = 0, .most = HOBBLE_LEGS_MAX,
     .meaning = "that the drive was cut into for the answer"},
    {"answer", HB_OBJECT, .of = answer_rows, .meaning = "as hobble range gives it for these legs"},
    {"counted", HB_COUNT, .get = counted, NO_LESS_THAN_NOTHING,
     .meaning = "tyres that stand behind this"},
    {"too_few", HB_TRUTH, .get = few, .meaning = "counted is too few for advice"},
    {"misfit", HB_LIST, .count = channels, .item = channel_item, .of = misfit_rows,
     .most = HOBBLE_CHANNELS, .meaning = "measured over computed, where it was measured"},
    {"points", HB_LIST, .count = points, .item = point_item, .of = point_rows,
     .most = HOBBLE_RECORDING_STRETCHES, .meaning = "ends of the drive's stretches"},
    /* said in sentences */
    {"lines", HB_LIST, .count = lines, .item = line_item, .of = point_rows, .forms = HB_NOT_JSON},
    {"degree", HB_TEXT, .get = degree, .forms = HB_NOT_JSON},
    {"pace", HB_TEXT, .get = pace, .forms = HB_NOT_JSON},
    {"air", HB_TEXT, .get = air, .forms = HB_NOT_JSON},
    {"ambient", HB_TEXT, .get = ambient, .forms = HB_NOT_JSON | HB_ON_PICTURE},
    {0}};

const struct hb_answer hb_replay_answer = {
    .command = "replay",
    .about = "A recorded drive: what it did to the tyre, and measured over computed. Units are in "
             "the key names.",
    .of_case = true,
    .noted = true,
    .row = rows};
