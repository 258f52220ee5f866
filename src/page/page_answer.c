/* SPDX-License-Identifier: GPL-3.0-or-later */
/* page_answer.c - the answer field by field, in the units shown and rounded to their caution. */
#include "page/page_evidence.h"

#include "core/const.h"

#include <math.h>
#include <string.h>

/* X(kind, decimals metric, decimals US, rounding): how a number is shown. A way or a speed that
 * advice allows, and a time that is left, are never rounded up; neither is a chance of failing
 * rounded down. The names are those of the script's table of units. */
#define KINDS(X)                                                                                   \
    X(PLAIN, 0, 0, NEAREST)                                                                        \
    X(WAY, 1, 1, DOWN)                                                                             \
    X(PACE, 0, 0, DOWN)                                                                            \
    X(SPEED, 0, 0, NEAREST)                                                                        \
    X(TIME, 0, 0, DOWN)                                                                            \
    X(HEAT, 0, 0, NEAREST)                                                                         \
    X(FORCE, 0, 0, NEAREST)                                                                        \
    X(AIR, 0, 1, NEAREST)                                                                          \
    X(SHARE, 1, 1, NEAREST)                                                                        \
    X(RISK, 1, 1, UP)                                                                              \
    X(DRIVEN, 1, 1, NEAREST)                                                                       \
    X(RATIO, 3, 3, NEAREST)

enum kind {
#define KIND_ENUM(name, metric, us, rounding) KIND_##name,
    KINDS(KIND_ENUM)
};
enum rounding { NEAREST, DOWN, UP };
static const struct {
    const char *name;
    int decimals[2];
    enum rounding rounding;
} kinds[] = {
#define KIND_ROW(name, metric, us, rounding) {#name, {metric, us}, rounding},
    KINDS(KIND_ROW)};

#define MILE            1609.344        /* m, international yard and pound agreement of 1959 */
#define POUND_FORCE     4.4482216152605 /* N, the same pound times standard gravity */
#define POUND_PER_INCH2 6894.757293     /* Pa */

static double converted(enum kind kind, double si, bool us)
{
    switch (kind) {
    case KIND_WAY:
    case KIND_DRIVEN:
        return si / (us ? MILE : 1e3);
    case KIND_PACE:
    case KIND_SPEED:
        return si * 3600.0 / (us ? MILE : 1e3);
    case KIND_TIME:
        return si / 60.0;
    case KIND_HEAT:
        return us ? (si - HB_CELSIUS) * 1.8 + 32.0 : si - HB_CELSIUS;
    case KIND_FORCE:
        return us ? si / POUND_FORCE : si;
    case KIND_AIR:
        return si / (us ? POUND_PER_INCH2 : 1e3);
    case KIND_SHARE:
    case KIND_RISK:
        return 100.0 * si;
    default:
        return si;
    }
}

/* From ten on ways are whole, as the program prints them: no finer than they are known. */
static int decimals_of(enum kind kind, double si, bool us)
{
    const bool way = kind == KIND_WAY || kind == KIND_DRIVEN;
    return way && converted(kind, si, us) >= 10.0 ? 0 : kinds[kind].decimals[us];
}

/* The margin keeps 80 km/h, which is not a whole number of m/s, from becoming 79. */
static double shown(enum kind kind, double si, bool us)
{
    const double ten = pow(10.0, decimals_of(kind, si, us));
    const double x = converted(kind, si, us) * ten;
    return (kinds[kind].rounding == DOWN ? floor(x + 1e-9)
            : kinds[kind].rounding == UP ? ceil(x - 1e-9)
                                         : round(x)) /
           ten;
}

/* What ended most of the tyres that count. */
static int usual_end(const struct hobble_answer *a)
{
    int most = 0;
    for (int i = 1; i < HOBBLE_END_COUNT; i++)
        if (a->share_ended[i] > a->share_ended[most])
            most = i;
    return most;
}

/* X(name, kind, drive it needs, expression of the answer a) */
enum needs { FIRST, ASKED, REST };
#define FIELDS(X)                                                                                  \
    X(advised_distance, WAY, FIRST, a->advised_distance)                                           \
    X(advised_speed, PACE, FIRST, a->verdict != HOBBLE_STOP ? a->advised_speed : 0.0)              \
    X(advised_time, TIME, FIRST, a->advised_time)                                                  \
    X(limited_by, PLAIN, FIRST, a->limited_by)                                                     \
    X(cap, WAY, FIRST, a->cap)                                                                     \
    X(example, PLAIN, FIRST, a->example)                                                           \
    X(example_load, PLAIN, FIRST, a->example_load)                                                 \
    X(load, FORCE, FIRST, a->load)                                                                 \
    X(load_share, SHARE, FIRST, a->load_share)                                                     \
    X(speed, SPEED, FIRST, a->speed)                                                               \
    X(ambient, HEAT, FIRST, a->ambient)                                                            \
    X(pressure, AIR, FIRST, a->pressure)                                                           \
    X(pressure_now, AIR, FIRST, a->pressure_now)                                                   \
    X(flat_counts, PLAIN, FIRST, a->pressure > 0.0 && a->pressure < HB_FLAT_PRESSURE)              \
    X(taken_as_empty, PLAIN, FIRST, a->taken_as_empty)                                             \
    X(run_seen, DRIVEN, FIRST, a->run_seen)                                                        \
    X(run_unseen, DRIVEN, FIRST, a->run_unseen)                                                    \
    X(range_p5, WAY, ASKED, a->range.p5)                                                           \
    X(range_p50, WAY, ASKED, a->range.p50)                                                         \
    X(range_p95, WAY, ASKED, a->range.p95)                                                         \
    X(more_than_p5, PLAIN, ASKED, a->range.censored5)                                              \
    X(more_than_p50, PLAIN, ASKED, a->range.censored50)                                            \
    X(more_than_p95, PLAIN, ASKED, a->range.censored95)                                            \
    X(all_p5, WAY, ASKED, a->unconditioned.p5)                                                     \
    X(all_p50, WAY, ASKED, a->unconditioned.p50)                                                   \
    X(all_p95, WAY, ASKED, a->unconditioned.p95)                                                   \
    X(advised_p5, WAY, FIRST, a->advised.p5)                                                       \
    X(advised_p50, WAY, FIRST, a->advised.p50)                                                     \
    X(advised_p95, WAY, FIRST, a->advised.p95)                                                     \
    X(conditioned, PLAIN, FIRST, a->conditioned)                                                   \
    X(all_stated, PLAIN, FIRST, a->all_stated)                                                     \
    X(if_vouched, WAY, FIRST, a->if_vouched)                                                       \
    X(rim_at_start, PLAIN, FIRST, a->rim_at_start)                                                 \
    X(to, DRIVEN, FIRST, a->to)                                                                    \
    X(to_within, PLAIN, FIRST, a->verdict == HOBBLE_GO && a->to <= a->advised_distance)            \
    X(chance_of_failing, RISK, FIRST, a->chance_of_failing)                                        \
    X(sampling_error, SHARE, FIRST, a->sampling_error)                                             \
    X(rule_speed, PACE, FIRST, a->rule_speed)                                                      \
    X(rule_distance, WAY, FIRST, a->rule_distance)                                                 \
    X(share_of_tyres, SHARE, REST, a->share_of_tyres)                                              \
    X(required_share, SHARE, FIRST, a->required_share)                                             \
    X(rule_holds, PLAIN, REST, a->rule_holds)                                                      \
    X(now_p50, HEAT, REST, a->now_p50)                                                             \
    X(peak_p50, HEAT, REST, a->peak_p50)                                                           \
    X(peak_p95, HEAT, REST, a->peak_p95)                                                           \
    X(limit, HEAT, FIRST, a->limit)                                                                \
    X(life_now_p50, SHARE, REST, a->life_now_p50)                                                  \
    X(life_at_advised_p50, SHARE, REST, a->life_at_advised_p50)                                    \
    X(evidence_items, PLAIN, FIRST, a->evidence_items)                                             \
    X(evidence_worth, PLAIN, FIRST, floor(a->evidence_effective))                                  \
    X(tested, PLAIN, FIRST, a->tested)                                                             \
    X(passed, PLAIN, FIRST, a->passed)                                                             \
    X(rim_share, RISK, FIRST, a->rim_share)                                                        \
    X(near_rim_share, RISK, FIRST, a->near_rim_share)                                              \
    X(usual_end, PLAIN, FIRST, usual_end(a))                                                       \
    X(scrap, PLAIN, REST, a->condition == HOBBLE_SCRAP)                                            \
    X(rule_count, PLAIN, REST, a->rule_count)                                                      \
    X(outside_count, PLAIN, FIRST, a->outside_count)                                               \
    X(wheel_assumed, PLAIN, FIRST, a->wheel_assumed)                                               \
    X(unseen_assumed, PLAIN, FIRST, a->unseen_assumed)                                             \
    X(stops_left_out, PLAIN, FIRST, a->stops_left_out)                                             \
    X(built_by_word, PLAIN, FIRST, a->built_by_word)                                               \
    X(assumed_count, PLAIN, FIRST, a->assumed_count)                                               \
    X(counted, PLAIN, FIRST, a->counted)                                                           \
    X(too_few, PLAIN, FIRST, hobble_too_few(a->counted))                                           \
    X(drive_life_p95, SHARE, REST, a->drive.life_p95)                                              \
    X(drive_peak_p95, HEAT, REST, a->drive.peak_p95)                                               \
    X(more_count, PLAIN, REST, a->more_count)                                                      \
    X(more0_slower, PLAIN, REST, a->more[0].slower)                                                \
    X(more0_speed, PACE, REST, a->more[0].speed)                                                   \
    X(more0_load, FORCE, REST, a->more[0].load)                                                    \
    X(more0_distance, WAY, REST, a->more[0].distance)                                              \
    X(more1_slower, PLAIN, REST, a->more[1].slower)                                                \
    X(more1_speed, PACE, REST, a->more[1].speed)                                                   \
    X(more1_load, FORCE, REST, a->more[1].load)                                                    \
    X(more1_distance, WAY, REST, a->more[1].distance)

enum {
#define FIELD_ENUM(name, kind, needs, value) FIELD_##name,
    FIELDS(FIELD_ENUM) FIELD_COUNT
};
static const struct {
    const char *name;
    enum kind kind;
    enum needs needs;
} fields[] = {
#define FIELD_ROW(name, kind, needs, value) {#name, KIND_##kind, needs},
    FIELDS(FIELD_ROW)};

static double field_si(const struct hobble_answer *a, int field)
{
    const double value[] = {
#define FIELD_VALUE(name, kind, needs, value) (double)(value),
        FIELDS(FIELD_VALUE)};
    return value[field];
}

static bool there(int field)
{
    return field >= 0 && field < FIELD_COUNT;
}

HB_PAGE_EXPORT(int, page_fields, void)
{
    return FIELD_COUNT;
}

/* The field of the last answer as shown; NAN when there is none, or not yet. */
HB_PAGE_EXPORT(double, page_get, int field)
{
    const struct hb_page_view v = hb_page_look();
    if (!there(field) || !v.answer || (fields[field].needs == REST && v.quick) ||
        (fields[field].needs == ASKED && !v.asked))
        return (double)NAN;
    return shown(fields[field].kind, field_si(v.answer, field), v.us);
}

HB_PAGE_EXPORT(int, page_decimals, int field)
{
    const struct hb_page_view v = hb_page_look();
    if (!there(field) || !v.answer)
        return 0;
    return decimals_of(fields[field].kind, field_si(v.answer, field), v.us);
}

static int say(const char *words)
{
    const struct hb_page_view v = hb_page_look();
    const size_t length = strlen(words);
    if (length >= v.text_size)
        return 0;
    memmove(v.text, words, length + 1);
    return (int)length;
}

/* The texts that go with an answer; what: one of these. */
enum {
    SAY_FIELD,
    SAY_KIND,
    SAY_STOP_WORD,
    SAY_STOP,
    SAY_OUTSIDE,
    SAY_RULE_ID,
    SAY_RULE,
    SAY_RULE_SOURCE,
    SAY_MARKING,
    SAY_STATUS,
    SAY_FAULT_KEY,
    SAY_FAULT_ALLOWED,
    SAY_END,
    SAY_VERSION,
    SAY_VERDICT,
    SAY_LIMIT,
    SAY_REMEDY,
    SAY_ASSUMED,
    SAY_CONDEMNED,
    SAY_CONSTRUCTION,
    SAY_SKIPPED,
    SAY_AGAINST
};

static const char *of_answer(const struct hobble_answer *a, int what, int i)
{
    const bool rule = i >= 0 && i < a->rule_count, stop = i >= 0 && i < HOBBLE_STOP_COUNT;
    switch (what) {
    case SAY_STOP_WORD: /* "" for a reason that does not hold */
        return stop && a->stop[i] ? hobble_stop_word((enum hobble_stop)i) : "";
    case SAY_STOP:
        return stop ? hobble_stop_sentence((enum hobble_stop)i) : "";
    case SAY_REMEDY:
        return stop ? hobble_stop_remedy((enum hobble_stop)i) : "";
    case SAY_VERDICT:
        return hobble_verdict_word(a->verdict);
    case SAY_LIMIT:
        return hobble_limit_word(a->limited_by);
    case SAY_SKIPPED: /* of the marking: what stood behind it and was not used */
        return a->marking.skipped;
    case SAY_ASSUMED:
        return i >= 0 && i < a->assumed_count ? hobble_param_table(NULL)[a->assumed[i]].key : "";
    case SAY_CONDEMNED: /* the rule by which the tyre was scrap before this drive */
        return a->stop[HOBBLE_STOP_CONDEMNED] ? a->condemned.reason : "";
    case SAY_AGAINST: /* where the item stands that contradicts, or who says it */
        return a->evidence_against < 0 || !hb_page_item(a->evidence_against) ? ""
               : *hb_page_item(a->evidence_against)->origin
                   ? hb_page_item(a->evidence_against)->origin
                   : hb_page_item(a->evidence_against)->source;
    case SAY_CONSTRUCTION:
        return a->construction;
    case SAY_OUTSIDE:
        return i >= 0 && i < a->outside_count ? a->outside[i] : "";
    case SAY_RULE_ID:
        return rule ? a->rule[i].id : "";
    case SAY_RULE:
        return rule ? a->rule[i].reason : "";
    case SAY_RULE_SOURCE:
        return rule ? a->rule[i].source : "";
    default:
        return "";
    }
}

/* Writes a text into page_text and returns its length. */
HB_PAGE_EXPORT(int, page_say, int what, int i)
{
    const struct hb_page_view v = hb_page_look();
    switch (what) {
    case SAY_FIELD:
        return say(there(i) ? fields[i].name : "");
    case SAY_KIND:
        return say(there(i) ? kinds[fields[i].kind].name : "");
    case SAY_MARKING:
        return say(hobble_marking_print(&v.question->built.marking, v.text, v.text_size) ==
                           HOBBLE_OK
                       ? v.text
                       : "");
    case SAY_STATUS:
        return say(hobble_status_text((enum hobble_status)i));
    case SAY_FAULT_KEY:
        return say(v.faults->count > 0 ? v.faults->item[0].key : "");
    case SAY_FAULT_ALLOWED:
        return say(v.faults->count > 0 ? v.faults->item[0].allowed : "");
    case SAY_END:
        return say(hobble_end_word((enum hobble_end)i));
    case SAY_VERSION:
        return say(hobble_version());
    default:
        return say(v.answer ? of_answer(v.answer, what, i) : "");
    }
}
