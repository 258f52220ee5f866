/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/facts.h"

#include "advice/construction.h"
#include "advice/date_code.h"

#include <math.h>
#include <string.h>

enum { ROWS_TELLING = 7, NO_ROW = -1 };
#define HB_P__ NO_ROW

enum how { SEEN_ROW, INSIDE_ROW, LIMIT_ROW, MADE_ROW };

static const struct {
    enum how how;
    int row[ROWS_TELLING];
} source[] = {
#define SEEN(id)   {SEEN_ROW, {HB_P_##id, NO_ROW, NO_ROW, NO_ROW, NO_ROW, NO_ROW, NO_ROW}},
#define INSIDE(id) {INSIDE_ROW, {HB_P_##id, NO_ROW, NO_ROW, NO_ROW, NO_ROW, NO_ROW, NO_ROW}},
#define LIMIT(id)  {LIMIT_ROW, {HB_P_##id, NO_ROW, NO_ROW, NO_ROW, NO_ROW, NO_ROW, NO_ROW}},
#define MADE(id, a, b, c, d, e, f, g)                                                              \
    {MADE_ROW, {HB_P_##a, HB_P_##b, HB_P_##c, HB_P_##d, HB_P_##e, HB_P_##f, HB_P_##g}},
#include "advice/condition_facts.inc"
#undef SEEN
#undef INSIDE
#undef LIMIT
#undef MADE
};

/* A row's value; NAN when it is not given. The word at place 0 of a list with "unknown" is that. */
static double row_value(const struct hb_settings *s, int row)
{
    const struct hobble_param *p = &hobble_param_table(NULL)[row];
    const double value = hb_setting_value(s, (enum hb_param_id)row);
    const bool unknown = p->words && strncmp(p->words, "unknown|", 8) == 0 && value < 0.5;
    return unknown ? (double)NAN : value;
}

static bool marking_of(const struct hb_settings *s, struct hobble_marking *m)
{
    return hobble_marking_parse(s->row[HB_P_MARKING].text, m, NULL) == HOBBLE_OK;
}

/* What is stated of the tyre alone: a built-in one is nobody's knowledge. */
static double built(const struct hb_settings *s)
{
    struct hb_built b;
    if (hb_built_make(s, &b, NULL) != HOBBLE_OK || b.construction == HB_UNKNOWN ||
        (b.example && !s->row[HB_P_CONSTRUCTION].given))
        return (double)NAN;
    return b.construction;
}

/* Whether a row is told, for the list of what to find out. */
static bool told(const struct hb_facts *facts, int row)
{
    const struct hb_settings *s = facts->settings;
    const struct hb_history *past = facts->past;
    switch (row) {
    case HB_P_LOWEST_PRESSURE: /* these three the trip may tell as well */
        return past ? past->pressure_known : !isnan(row_value(s, row));
    case HB_P_LOW_DISTANCE:
        return past ? past->distance_known : !isnan(row_value(s, row));
    case HB_P_LOW_SPEED:
        return past ? past->speed_known : !isnan(row_value(s, row));
    case HB_P_MARKING:
    case HB_P_DATE_CODE:
    case HB_P_INSPECTION_DATE:
        return s->row[row].text[0] != '\0';
    case HB_P_LOAD: /* any of three ways */
        return hb_setting_known(s, HB_P_LOAD) || hb_setting_known(s, HB_P_LOAD_SHARE) ||
               hb_setting_known(s, HB_P_PEOPLE);
    case HB_P_AMBIENT: /* has a built-in value, which is nobody's knowledge */
        return s->row[row].given;
    case HB_P_EARLIER_REPAIRS:
        return hb_setting_word(s, HB_P_REPAIRED) == HB_NO ||
               hb_setting_known(s, HB_P_EARLIER_REPAIRS);
    case HB_P_REPAIRED:
        return hb_setting_known(s, HB_P_EARLIER_REPAIRS) ||
               hb_setting_word(s, HB_P_REPAIRED) != HB_NOT_KNOWN;
    case HB_P_INJURY_COUNT:
        return hb_setting_word(s, HB_P_INJURY_ZONE) == HB_ZONE_NONE ||
               hb_setting_known(s, HB_P_INJURY_COUNT);
    case HB_P_CONSTRUCTION: /* RF in the marking tells it too */
        return !isnan(built(s));
    default:
        return !isnan(row_value(s, row));
    }
}

/* Whether all rows that tell a made fact are told. */
static bool all_told(const struct hb_facts *facts, enum hb_fact fact)
{
    for (int i = 0; i < ROWS_TELLING; i++)
        if (source[fact].row[i] != NO_ROW && !told(facts, source[fact].row[i]))
            return false;
    return true;
}

static double half_band(const struct hb_settings *s, double width)
{
    const enum hb_param_id share = width <= 155.0   ? HB_P_WIDTH_SHARE_NARROW
                                   : width <= 200.0 ? HB_P_WIDTH_SHARE_MIDDLE
                                                    : HB_P_WIDTH_SHARE_WIDE;
    return 0.5 * hb_setting_value(s, share) * width;
}

/* NAN where there is no code, or no day to count on to. */
static double years_by_code(const struct hb_settings *s)
{
    long made, now;
    return hb_date_code_read(s->row[HB_P_DATE_CODE].text, &made) &&
                   hb_date_read(s->row[HB_P_INSPECTION_DATE].text, &now)
               ? (double)(now - made) / HB_DAYS_A_YEAR
               : (double)NAN;
}

double hb_years_at_most(const struct hb_settings *s)
{
    return fmax(years_by_code(s), hb_setting_value(s, HB_P_AGE)); /* takes the number of the two */
}

bool hb_was_repaired(const struct hb_settings *s)
{
    return hb_setting_word(s, HB_P_REPAIRED) == HB_YES ||
           hb_setting_value(s, HB_P_EARLIER_REPAIRS) > 0.0;
}

/* The date code decides. An age that is only stated counts when it is bad: were it to count when it
 * is good, rubbing out the code would improve the verdict. */
static double years(const struct hb_settings *s)
{
    const double code = years_by_code(s);
    if (!isnan(code))
        return code;
    const double stated = hb_setting_value(s, HB_P_AGE);
    return stated > hb_setting_value(s, HB_P_AGE_MOST) ? stated : (double)NAN;
}

static double earlier(const struct hb_settings *s)
{
    return hb_setting_word(s, HB_P_REPAIRED) == HB_NO ? 0.0
                                                      : hb_setting_value(s, HB_P_EARLIER_REPAIRS);
}

static void make_injury(const struct hb_settings *s, double *value)
{
    const double zone = row_value(s, HB_P_INJURY_ZONE);
    value[HB_F_INJURED] = isnan(zone) ? zone : zone > HB_ZONE_NONE;
    value[HB_F_EDGE] =
        hb_setting_value(s, HB_P_INJURY_OFFSET) + 0.5 * hb_setting_value(s, HB_P_INJURY_SIZE);
    value[HB_F_EARLIER] = earlier(s);
    const double now = zone <= HB_ZONE_NONE ? 0.0 : hb_setting_value(s, HB_P_INJURY_COUNT);
    value[HB_F_REPAIRS] = isnan(zone) ? zone : now + value[HB_F_EARLIER];
}

/* What is known of the drive; what the history assumes is not. */
static void make_past(const struct hb_history *past, double *value)
{
    const double unknown = (double)NAN, way = past->run_unseen + past->run_seen;
    value[HB_F_LOWEST_PRESSURE] =
        past->pressure_known ? hobble_unit_from_si(HOBBLE_UNIT_KILOPASCAL, past->lowest) : unknown;
    value[HB_F_LOW_DISTANCE] =
        past->distance_known ? hobble_unit_from_si(HOBBLE_UNIT_KILOMETRE, way) : unknown;
    value[HB_F_LOW_SPEED] =
        past->speed_known ? hobble_unit_from_si(HOBBLE_UNIT_KM_PER_HOUR, past->fastest) : unknown;
}

void hb_facts_make(const struct hb_settings *s, const struct hb_history *past,
                   struct hb_facts *facts)
{
    struct hobble_marking marking;
    const bool marked = marking_of(s, &marking);
    double *value = facts->value;
    facts->settings = s;
    facts->past = past;
    for (int i = 0; i < HB_FACT_COUNT; i++)
        value[i] = source[i].how == MADE_ROW ? 0.0 : row_value(s, source[i].row[0]);
    const bool looked = hb_setting_word(s, HB_P_INSPECTED_INSIDE) == HB_YES;
    for (int i = 0; i < HB_FACT_COUNT; i++)
        if (source[i].how == INSIDE_ROW && !looked && value[i] < HB_YES)
            value[i] = (double)NAN;
    if (past)
        make_past(past, value);
    value[HB_F_BUILT] = built(s);
    value[HB_F_DESCRIBED] = all_told(facts, HB_F_DESCRIBED) ? 1.0 : (double)NAN;
    value[HB_F_HALF_BAND] = marked ? half_band(s, marking.width_mm) : (double)NAN;
    value[HB_F_CUT_LIMIT] =
        marked ? hb_setting_value(s, HB_P_CUT_SHARE_MOST) * marking.width_mm : (double)NAN;
    value[HB_F_YEARS] = years(s);
    make_injury(s, value);
}

void hb_facts_missing(const struct hb_facts *facts, enum hb_fact fact,
                      void (*note)(void *into, enum hb_param_id row), void *into)
{
    const struct hb_settings *s = facts->settings;
    if (source[fact].how == INSIDE_ROW && hb_setting_word(s, HB_P_INSPECTED_INSIDE) != HB_YES) {
        note(into, HB_P_INSPECTED_INSIDE);
        return;
    }
    for (int i = 0; i < ROWS_TELLING; i++)
        if (source[fact].row[i] != NO_ROW && !told(facts, source[fact].row[i]))
            note(into, (enum hb_param_id)source[fact].row[i]);
}

bool hb_facts_told_by(enum hb_fact fact, int row)
{
    for (int i = 0; i < ROWS_TELLING; i++)
        if (row >= 0 && source[fact].row[i] == row)
            return true;
    return source[fact].how == INSIDE_ROW && row == HB_P_INSPECTED_INSIDE;
}
