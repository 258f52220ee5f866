/* SPDX-License-Identifier: GPL-3.0-or-later */
/* log_sieve.c - what can be told of a sample by those before it: time, gaps, sensors, places. */
#include "input/log_parts.h"

#include <math.h>
#include <string.h>

/* All of these are common practice, no source, but where another is named. */
#define GAP           60.0    /* s without a sample: how it was driven is not known */
#define BACK          60.0    /* s: a clock that goes back by less than this stumbled */
#define DAY           86400.0 /* s: a clock that jumps by more than this was set */
#define GATHERS       12.0    /* m/s^2: no road vehicle does */
#define WARMS         10.0    /* K/s of a reading, and */
#define WARMS_AT_ONCE 15.0    /* K between any two */
#define FILLS         200e3   /* Pa/s: air goes out at once, but comes in slowly, and */
#define FILLS_AT_ONCE 50e3    /* Pa between any two */
#define STUCK         600.0 /* s in which a sensor on a moving vehicle says the same to its last digit */
#define DRIVES        0.5 /* m/s */
enum {
    BELIEVED = 5
}; /* readings running that agree with each other are right, and the one before was not */

/* What a field can be, in SI. Places: WGS 84; the rest is wider than any tyre's. */
static const struct {
    double least, most;
} limit[HOBBLE_LOG_FIELDS] = {
    [HOBBLE_LOG_SPEED] = {0.0, 120.0},        [HOBBLE_LOG_LOAD] = {200.0, 30000.0},
    [HOBBLE_LOG_AMBIENT] = {213.0, 343.0},    [HOBBLE_LOG_PRESSURE] = {-20e3, 1000e3},
    [HOBBLE_LOG_CAVITY] = {213.0, 673.0},     [HOBBLE_LOG_INNER] = {213.0, 673.0},
    [HOBBLE_LOG_OUTER] = {213.0, 673.0},      [HOBBLE_LOG_SHOULDER] = {213.0, 673.0},
    [HOBBLE_LOG_RIM] = {213.0, 673.0},        [HOBBLE_LOG_LATITUDE] = {-90.0, 90.0},
    [HOBBLE_LOG_LONGITUDE] = {-180.0, 180.0}, [HOBBLE_LOG_HEIGHT] = {-500.0, 9000.0},
    [HOBBLE_LOG_ALONG] = {-100.0, 100.0},     [HOBBLE_LOG_ACROSS] = {-100.0, 100.0},
};

static bool is_heat(int field)
{
    return field >= HOBBLE_LOG_CAVITY && field <= HOBBLE_LOG_RIM;
}

void hb_log_put(hobble_log *log, struct hobble_sample *sample, int field, double si)
{
    const bool turn = field == HOBBLE_LOG_LONGITUDE && si >= limit[field].most;
    if (!(si >= limit[field].least && si <= limit[field].most) || turn)
        hb_log_odd(log, HOBBLE_LOG_JUMP);
    else
        sample->value[field] = si;
}

/* ---- time --------------------------------------------------------------------------------------
 */

/* Of one time only what was not told yet: two sentences, or two receivers, may share it. */
static bool adds_to_last(hobble_log *log, struct hobble_sample *sample)
{
    const struct hb_sieve *s = &log->sieve;
    bool again = false, more = sample->mark != HOBBLE_LOG_NO_MARK && !s->marked;
    for (int i = 0; i < HOBBLE_LOG_FIELDS; i++) {
        const bool told = !isnan(sample->value[i]), before = s->told & 1u << i;
        again = again || (told && before);
        more = more || (told && !before);
        if (before)
            sample->value[i] = (double)NAN;
    }
    if (s->marked)
        sample->mark = HOBBLE_LOG_NO_MARK;
    if (again || !more)
        hb_log_odd(log, HOBBLE_LOG_REPEATED);
    return more;
}

/* What the latest time has told; before its readings are judged. */
static void note_told(struct hb_sieve *s, const struct hobble_sample *sample)
{
    if (!s->begun || sample->time > s->last) {
        s->told = 0;
        s->marked = false;
    }
    s->marked = s->marked || sample->mark != HOBBLE_LOG_NO_MARK;
    for (int i = 0; i < HOBBLE_LOG_FIELDS; i++)
        s->told |= isnan(sample->value[i]) ? 0u : 1u << i;
}

/* Whether the sample's time can be used; it then counts from where the log's own clock began. */
static bool take_time(hobble_log *log, struct hobble_sample *sample)
{
    struct hb_sieve *s = &log->sieve;
    double time = sample->time - s->shift;
    if (!s->begun) {
        sample->time = time;
        return true;
    }
    const double step = time - s->last;
    if (step < 0.0 && step >= -BACK) {
        hb_log_odd(log, HOBBLE_LOG_TIME_BACK);
        return false;
    }
    if (step == 0.0) {
        sample->time = time;
        return adds_to_last(log, sample);
    }
    if (step < 0.0 || step > DAY) { /* it goes on as it went before */
        const double usual = s->usual > 0.0 ? s->usual : 1.0;
        hb_log_odd(log, HOBBLE_LOG_CLOCK_JUMP);
        s->shift += step - usual;
        time = s->last + usual;
        sample->unseen = true;
    } else if (step > GAP) {
        hb_log_odd(log, HOBBLE_LOG_GAP);
        sample->unseen = true;
    } else
        s->usual = s->usual > 0.0 ? s->usual + 0.1 * (step - s->usual) : step;
    sample->time = time;
    return true;
}

/* ---- sensors -----------------------------------------------------------------------------------
 */

/* Whether a reading is too far from the one before it. */
static bool jumps(const struct hb_sieve *s, int field, double value, double time)
{
    const double step = time - s->at[field], more = value - s->value[field];
    if (field == HOBBLE_LOG_SPEED)
        return fabs(more) > GATHERS * step + 1.0; /* a figure's last digit */
    if (field == HOBBLE_LOG_PRESSURE)
        return more > FILLS * step + FILLS_AT_ONCE;
    return is_heat(field) && fabs(more) > WARMS * step + WARMS_AT_ONCE;
}

static void note_stuck(hobble_log *log, int field, double value, double time, bool drives)
{
    struct hb_sieve *s = &log->sieve;
    if (isnan(s->value[field]) || value != s->value[field] || !drives) {
        s->since[field] = time;
        s->stuck[field] = false;
    } else if (!s->stuck[field] && time - s->since[field] > STUCK) {
        s->stuck[field] = true;
        hb_log_odd(log, HOBBLE_LOG_STUCK);
    }
}

/* A stuck thermometer's readings are left out; a gauge's hold, for an empty tyre says nothing else,
 * and a full one must not be taken for empty by a sensor's silence. */
static void take_field(hobble_log *log, struct hobble_sample *sample, int field, bool drives)
{
    struct hb_sieve *s = &log->sieve;
    const double value = sample->value[field], time = sample->time;
    if (isnan(value))
        return;
    if (s->begun && !isnan(s->value[field]) && jumps(s, field, value, time) &&
        ++s->refused[field] < BELIEVED) {
        hb_log_odd(log, field == HOBBLE_LOG_SPEED ? HOBBLE_LOG_ACCELERATION : HOBBLE_LOG_JUMP);
        sample->value[field] = (double)NAN;
        return;
    }
    s->refused[field] = 0;
    if (is_heat(field) || field == HOBBLE_LOG_PRESSURE)
        note_stuck(log, field, value, time, drives);
    if (is_heat(field) && s->stuck[field])
        sample->value[field] = (double)NAN;
    s->value[field] = value;
    s->at[field] = time;
}

/* ---- places ------------------------------------------------------------------------------------
 */

/* Metres between two places that are not far apart. WGS 84: a = 6378137 m, 1/f = 298.257223563. */
static double apart(double north_a, double east_a, double north_b, double east_b)
{
    const double a = 6378137.0, f = 1.0 / 298.257223563, square = f * (2.0 - f);
    const double degree = 3.14159265358979323846 / 180.0, at = 0.5 * (north_a + north_b) * degree;
    const double w = 1.0 - square * sin(at) * sin(at);
    const double along = a * (1.0 - square) / (w * sqrt(w)), across = a / sqrt(w) * cos(at);
    double east = fmod(east_b - east_a + 540.0, 360.0) - 180.0;
    return hypot(along * (north_b - north_a) * degree, across * east * degree);
}

/* Places wander by some metres at rest: it moves only once it is this far from where it stood. */
#define WANDERS 15.0 /* m */
#define RESTS   10.0 /* s near one place */
#define WINDOW  5.0  /* s over which a speed is taken */

/* Latest place that lies the window or more back, but no more than a gap; or none. */
static size_t place_before(const struct hb_sieve *s, double time)
{
    size_t i = s->tracked;
    while (i > 0 && time - s->track[i - 1].time < WINDOW)
        i--;
    return i > 0 && time - s->track[i - 1].time <= GAP ? i - 1 : HB_LOG_TRACK;
}

static void keep_place(struct hb_sieve *s, double time, double north, double east)
{
    if (s->tracked == HB_LOG_TRACK) {
        memmove(&s->track[0], &s->track[1], (HB_LOG_TRACK - 1) * sizeof s->track[0]);
        s->tracked--;
    }
    s->track[s->tracked].time = time;
    s->track[s->tracked].north = north;
    s->track[s->tracked++].east = east;
}

/* Speed by places, where the log has no speeds of its own. */
static void speed_by_place(struct hb_sieve *s, struct hobble_sample *sample)
{
    const double north = sample->value[HOBBLE_LOG_LATITUDE];
    const double east = sample->value[HOBBLE_LOG_LONGITUDE], time = sample->time;
    if (isnan(north) || isnan(east))
        return;
    const size_t from = place_before(s, time);
    if (s->tracked == 0 || sample->unseen ||
        apart(s->rest_north, s->rest_east, north, east) > WANDERS) {
        s->rest_north = north;
        s->rest_east = east;
        s->rest_since = time;
    }
    if (from < HB_LOG_TRACK)
        s->speed = apart(s->track[from].north, s->track[from].east, north, east) /
                   (time - s->track[from].time);
    else if (s->tracked > 0 && sample->unseen) /* over the gap itself */
        s->speed =
            apart(s->track[s->tracked - 1].north, s->track[s->tracked - 1].east, north, east) /
            (time - s->track[s->tracked - 1].time);
    if (time - s->rest_since > RESTS)
        s->speed = 0.0;
    s->tells = s->tells || from < HB_LOG_TRACK;
    if (s->tells)
        sample->value[HOBBLE_LOG_SPEED] = s->speed;
    keep_place(s, time, north, east);
}

/* ---- all of it ---------------------------------------------------------------------------------
 */

enum hobble_status hb_log_pass(hobble_log *log, struct hobble_sample *sample, bool dated)
{
    struct hb_sieve *s = &log->sieve;
    if (!isfinite(sample->time) || fabs(sample->time) > 1e11) {
        hb_log_odd(log, HOBBLE_LOG_NO_FIX);
        return HOBBLE_OK;
    }
    if (log->tally.samples > 0 && dated != log->tally.dated)
        return hb_log_fault(log, HOBBLE_E_CONFLICT, "time",
                            dated ? "with a date" : "without a date",
                            "all times with a date, or none");
    log->tally.dated = dated;
    if (log->fresh && s->begun && sample->time - s->shift < s->last)
        *s = (struct hb_sieve){.begun = false}; /* recorded beside the file before */
    log->fresh = false;
    if (!take_time(log, sample))
        return HOBBLE_OK;
    if (!s->begun)
        for (int i = 0; i < HOBBLE_LOG_FIELDS; i++)
            s->value[i] = (double)NAN;
    note_told(s, sample);
    s->has_speed = s->has_speed || !isnan(sample->value[HOBBLE_LOG_SPEED]);
    if (s->has_speed)
        take_field(log, sample, HOBBLE_LOG_SPEED, true);
    else
        speed_by_place(s, sample);
    s->value[HOBBLE_LOG_SPEED] = s->has_speed ? s->value[HOBBLE_LOG_SPEED] : s->speed;
    const bool drives = s->value[HOBBLE_LOG_SPEED] > DRIVES;
    for (int i = HOBBLE_LOG_SPEED + 1; i < HOBBLE_LOG_FIELDS; i++)
        take_field(log, sample, i, drives);
    s->begun = log->any = true;
    s->last = sample->time;
    log->tally.samples++;
    for (int i = 0; i < HOBBLE_LOG_FIELDS; i++)
        log->tally.held[i] += isnan(sample->value[i]) ? 0 : 1;
    return log->take(log->to, sample);
}
