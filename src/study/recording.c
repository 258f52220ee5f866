/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "study/recording.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define STANDS    0.5 /* m/s: a receiver at rest shows as much; common practice, no source */
#define NARROWEST 1.0 /* s: stretches of a short drive */

enum { PASSED_MOST = 400 }; /* kPa */

/* Where a log's speed was known last. */
struct last {
    bool known;
    double time, speed;
};

struct hobble_recording {
    struct hb_stretches s;
    double first, end;                /* of all samples, as they count time */
    double mark[HOBBLE_LOG_NOTE + 1]; /* first moments, as samples count time; NAN */
    double below[PASSED_MOST + 1];    /* time of the first reading below so many kPa; NAN */
    int passed;                       /* the least of them that was */
    struct last last;                 /* of the log that is read */
    double before;                    /* time of its sample before; NAN: it begins */
    double slow_from, speed_first;    /* where speeds began, and with which; NAN */
    double newest;                    /* time of the last speed of all */
    bool second;                      /* the log is one beside another that has speeds */
    bool fresh;                       /* another log begins */
    int left_out;
};

hobble_recording *hobble_recording_new(void)
{
    hobble_recording *r = calloc(1, sizeof *r);
    if (!r)
        return NULL;
    r->first = r->end = r->before = r->slow_from = r->newest = (double)NAN;
    for (size_t i = 0; i < sizeof r->mark / sizeof *r->mark; i++)
        r->mark[i] = (double)NAN;
    for (int i = 0; i <= PASSED_MOST; i++)
        r->below[i] = (double)NAN;
    r->passed = PASSED_MOST + 1;
    return r;
}

void hobble_recording_free(hobble_recording *recording)
{
    free(recording);
}

void hobble_recording_next(hobble_recording *recording)
{
    recording->fresh = true;
}

/* ---- stretches --------------------------------------------------------------------------------
 */

static void add_up(struct hb_stretch *to, const struct hb_stretch *from)
{
    to->driven += from->driven;
    to->stood += from->stood;
    to->way += from->way;
    to->way_speed += from->way_speed;
    to->least = fmin(to->least, from->least); /* passes over what is NAN */
    for (int i = 0; i < HOBBLE_LOG_FIELDS; i++) {
        to->sum[i] += from->sum[i];
        to->count[i] += from->count[i];
    }
}

static void clear(struct hb_stretch *s)
{
    *s = (struct hb_stretch){.least = (double)NAN};
}

/* Twice as wide, half as many. */
static void widen(struct hb_stretches *s)
{
    for (size_t i = 0; i < s->count; i += 2) {
        struct hb_stretch both = s->at[i];
        if (i + 1 < s->count)
            add_up(&both, &s->at[i + 1]);
        s->at[i / 2] = both;
    }
    s->count = (s->count + 1) / 2;
    s->wide *= 2.0;
}

/* Room before the first stretch for a time, by whole stretches. */
static void begin_earlier(struct hb_stretches *s, double time)
{
    while ((double)s->count + ceil((s->start - time) / s->wide) >
           (double)HOBBLE_RECORDING_STRETCHES)
        widen(s);
    const size_t more = (size_t)ceil((s->start - time) / s->wide);
    memmove(&s->at[more], &s->at[0], s->count * sizeof s->at[0]);
    for (size_t i = 0; i < more; i++)
        clear(&s->at[i]);
    s->count += more;
    s->start -= (double)more * s->wide;
}

/* The stretch in which a time lies. */
static struct hb_stretch *stretch_of(struct hb_stretches *s, double time)
{
    if (s->count == 0) {
        s->start = time;
        s->wide = NARROWEST;
    }
    if (time < s->start)
        begin_earlier(s, time);
    while ((time - s->start) / s->wide >= (double)HOBBLE_RECORDING_STRETCHES)
        widen(s);
    const size_t place = (size_t)((time - s->start) / s->wide);
    while (s->count <= place)
        clear(&s->at[s->count++]);
    return &s->at[place];
}

/* An even drive from one time to another. */
static void drive(struct hb_stretches *s, double from, double to, double speed)
{
    stretch_of(s, to); /* widens as far as it must */
    stretch_of(s, from);
    for (size_t i = (size_t)((from - s->start) / s->wide); i < s->count; i++) {
        const double begin = s->start + (double)i * s->wide;
        const double seconds = fmin(to, begin + s->wide) - fmax(from, begin);
        struct hb_stretch *at = &s->at[i];
        if (seconds <= 0.0)
            continue;
        if (speed < STANDS) {
            at->stood += seconds;
            continue;
        }
        at->driven += seconds;
        at->way += speed * seconds;
        at->way_speed += speed * speed * seconds;
    }
}

/* ---- samples ----------------------------------------------------------------------------------
 */

/* A log that begins before the last one's end was recorded beside it. */
static void note_log(hobble_recording *r, const struct hobble_sample *sample)
{
    if (!r->fresh && !isnan(r->before))
        return;
    r->fresh = false;
    if (!isnan(r->before) && sample->time >= r->before)
        return;
    r->second = !isnan(r->newest);
    r->last.known = false;
}

static void take_pressure(hobble_recording *r, double time, double pressure)
{
    while (r->passed > 0 && pressure < 1e3 * (r->passed - 1))
        r->below[--r->passed] = time;
}

static void take_speed(hobble_recording *r, const struct hobble_sample *sample, double speed)
{
    const struct last last = r->last;
    if (r->second) {
        r->left_out++;
        return;
    }
    if (last.known) {
        const bool both = last.speed >= STANDS && speed >= STANDS;
        const double mean = 0.5 * (last.speed + speed);
        drive(&r->s, last.time, sample->time, sample->unseen && !both ? last.speed : mean);
    } else if (isnan(r->slow_from) || sample->time < r->slow_from) {
        r->slow_from = sample->time;
        r->speed_first = speed;
    }
    r->last = (struct last){true, sample->time, speed};
    r->newest = sample->time;
}

enum hobble_status hobble_recording_take(void *recording, const struct hobble_sample *sample)
{
    hobble_recording *r = recording;
    note_log(r, sample);
    struct hb_stretch *at = stretch_of(&r->s, sample->time);
    for (int i = 0; i < HOBBLE_LOG_FIELDS; i++)
        if (!isnan(sample->value[i])) {
            at->sum[i] += sample->value[i];
            at->count[i]++;
        }
    at->least = fmin(at->least, sample->value[HOBBLE_LOG_PRESSURE]);
    take_pressure(r, sample->time, sample->value[HOBBLE_LOG_PRESSURE]);
    if (!isnan(sample->value[HOBBLE_LOG_SPEED]))
        take_speed(r, sample, sample->value[HOBBLE_LOG_SPEED]);
    if (sample->mark != HOBBLE_LOG_NO_MARK)
        r->mark[sample->mark] = fmin(r->mark[sample->mark], sample->time);
    r->first = fmin(r->first, sample->time);
    r->end = fmax(r->end, sample->time);
    r->before = sample->time;
    return HOBBLE_OK;
}

/* ---- what it comes to -------------------------------------------------------------------------
 */

double hb_recording_mark(const hobble_recording *r, enum hobble_log_mark mark)
{
    return r->mark[mark] - r->s.start;
}

double hb_recording_below(const hobble_recording *r, double pressure)
{
    const double kpa = ceil(pressure / 1e3 * (1.0 - 1e-12));
    return r->below[(int)fmin(fmax(kpa, 0.0), (double)PASSED_MOST)] - r->s.start;
}

int hb_recording_left_out(const hobble_recording *r)
{
    return r->left_out;
}

bool hb_recording_stretches(const hobble_recording *r, struct hb_stretches *s)
{
    *s = r->s;
    if (!r->last.known && isnan(r->newest))
        return false;
    if (r->slow_from > r->first)
        drive(s, r->first, r->slow_from, r->speed_first);
    if (r->end > r->newest)
        drive(s, r->newest, r->end, r->last.speed);
    return true;
}

/* Between two readings there may have been as little as at the second, or the first where air was
 * filled in; before the first there was as much. */
static bool fill_between(struct hb_stretches *s)
{
    double next = (double)NAN;
    size_t behind = s->count; /* first stretch behind that which is looked at, with a reading */
    for (size_t i = s->count; i-- > 0;) {
        struct hb_stretch *at = &s->at[i];
        if (!isnan(at->least)) {
            at->least = fmax(at->least, 0.0);
            for (size_t k = i + 1; k < behind && !isnan(next); k++)
                s->at[k].least = fmin(next, at->least);
            next = at->least;
            behind = i;
        }
    }
    for (size_t i = 0; i < behind; i++)
        s->at[i].least = next;
    return !isnan(next);
}

/* A sensor that falls silent knows no more. */
static void hold_last(struct hb_stretches *s)
{
    double read = (double)NAN, silent = 0.0;
    for (size_t i = 0; i < s->count; i++) {
        struct hb_stretch *at = &s->at[i];
        silent = isnan(at->least) ? silent + s->wide : 0.0;
        read = isnan(at->least) ? read : at->least;
        if (silent > 0.0 && silent <= HB_SILENCE)
            at->least = read;
    }
}

bool hb_stretches_air(struct hb_stretches *s, double sound_until, double sound)
{
    if (fill_between(s)) {
        hold_last(s);
        return true;
    }
    for (size_t i = 0; i < s->count; i++)
        if ((double)(i + 1) * s->wide <= sound_until)
            s->at[i].least = sound;
    return false;
}

double hb_stretch_mean(const struct hb_stretch *s, enum hobble_log_field field)
{
    return s->count[field] > 0 ? s->sum[field] / (double)s->count[field] : (double)NAN;
}

double hb_stretches_way(const struct hb_stretches *s, double time)
{
    double way = 0.0;
    for (size_t i = 0; i < s->count; i++)
        way += s->at[i].way * fmax(fmin(time / s->wide - (double)i, 1.0), 0.0);
    return way;
}
