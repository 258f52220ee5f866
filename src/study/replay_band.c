/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "study/replay_band.h"

#include "advice/likelihood.h"

#include <gsl/gsl_cdf.h>
#include <math.h>
#include <stdlib.h>

enum { LEGS_MOST = 2 * HOBBLE_RECORDING_STRETCHES, AT_ONCE = 256, LIFE = HOBBLE_CHANNELS, KEPT };
enum { FEWEST = 20 }; /* tyres for a 5th of a hundred; common practice, no source */

static const enum hobble_log_field field[HOBBLE_CHANNELS] = {
    [HOBBLE_CHANNEL_INNER] = HOBBLE_LOG_INNER,
    [HOBBLE_CHANNEL_OUTER] = HOBBLE_LOG_OUTER,
    [HOBBLE_CHANNEL_CAVITY] = HOBBLE_LOG_CAVITY,
    [HOBBLE_CHANNEL_SHOULDER] = HOBBLE_LOG_SHOULDER};

/* The drive as recorded: at most two legs a stretch, and which ends it. */
struct course {
    struct hb_leg leg[LEGS_MOST];
    size_t legs, points;
    size_t sound; /* points before the air was low: no run-flat life is used up to there */
    size_t last[HOBBLE_RECORDING_STRETCHES];  /* leg at whose end a point is */
    size_t place[HOBBLE_RECORDING_STRETCHES]; /* stretch that it is the end of */
    struct hb_journey journey;
};

/* What every member showed at every point: member by member, NAN once it has ended. */
struct shown {
    size_t room, members; /* for how many, and how many count */
    float *value;         /* [point][KEPT][room] */
};

static float *shown_at(const struct shown *s, size_t point, size_t what)
{
    return &s->value[(point * KEPT + what) * s->room];
}

/* ---- the course -------------------------------------------------------------------------------
 */

static double or_else(double value, double other)
{
    return isnan(value) ? other : value;
}

static void add_leg(struct course *c, const struct hb_question *q, const struct hb_stretch *at,
                    double speed, double seconds)
{
    if (seconds <= 0.0)
        return;
    c->leg[c->legs++] =
        (struct hb_leg){.speed = speed,
                        .load = or_else(hb_stretch_mean(at, HOBBLE_LOG_LOAD), q->load),
                        .ambient = or_else(hb_stretch_mean(at, HOBBLE_LOG_AMBIENT), q->ambient),
                        .extent = seconds,
                        .kind = HB_FOR_TIME,
                        .set_pressure = true,
                        .pressure = or_else(at->least, fmin(q->past.now, q->pressure))};
}

/* It comes out of steady running where it begins with driving, else it has cooled down. */
static void lay_course(const struct hb_question *q, const struct hb_stretches *s, double low,
                       struct course *c)
{
    struct hb_plan plan;
    hb_plan_advised(q, 0.0, &plan);
    c->legs = c->points = c->sound = 0;
    for (size_t i = 0; i < s->count; i++) {
        const struct hb_stretch *at = &s->at[i];
        const size_t before = c->legs;
        if (at->driven > 0.0)
            add_leg(c, q, at, at->way / at->driven, at->driven);
        add_leg(c, q, at, 0.0, at->stood);
        if (c->legs == before)
            continue;
        if (c->sound == c->points && at->least >= low)
            c->sound++;
        c->place[c->points] = i;
        c->last[c->points++] = c->legs - 1;
    }
    c->journey = plan.journey;
    c->journey.count = c->legs;
    c->journey.leg = c->leg;
    if (c->legs == 0)
        return;
    c->journey.start.running = c->leg[0].speed > 0.0;
    c->journey.start.speed = c->leg[0].speed;
    c->journey.start.load = c->leg[0].load;
    c->journey.start.ambient = c->leg[0].ambient;
}

/* ---- driving it -------------------------------------------------------------------------------
 */

static void keep(const struct course *c, const struct hb_outcome *o, const struct hb_record *record,
                 size_t member, struct shown *s)
{
    const double sound = c->sound > 0 ? record[c->last[c->sound - 1]].life : 0.0;
    for (size_t k = 0; k < c->points; k++) {
        const struct hb_record *r = &record[c->last[k]];
        const bool carries = o->end == HB_END_NONE || r->time < o->time;
        const double value[KEPT] = {[HOBBLE_CHANNEL_INNER] = r->inner,
                                    [HOBBLE_CHANNEL_OUTER] = r->outer,
                                    [HOBBLE_CHANNEL_CAVITY] = r->cavity,
                                    [HOBBLE_CHANNEL_SHOULDER] = r->shoulder,
                                    [LIFE] = fmax(r->life - sound, 0.0)};
        for (size_t w = 0; w < KEPT; w++)
            shown_at(s, k, w)[member] = (float)(carries || w == LIFE ? value[w] : (double)NAN);
    }
}

static enum hobble_status drive(struct hb_ensemble *e, const struct course *c, struct shown *s)
{
    const struct hb_arrays *a = &e->arrays;
    const struct hb_step_control steps = hb_step_control_default();
    struct hb_record *record = calloc(AT_ONCE * c->legs, sizeof *record);
    size_t member = 0;
    if (!record)
        return HOBBLE_E_MEMORY;
    for (size_t from = 0; from < a->members; from += AT_ONCE) {
        const size_t count = a->members - from < AT_ONCE ? a->members - from : AT_ONCE;
        e->runner.run(&c->journey, &steps, &a->tyre[from], count, &a->outcome[from], record,
                      e->runner.threads);
        for (size_t i = 0; i < count; i++)
            if (hb_ensemble_counts(e, from + i))
                keep(c, &a->outcome[from + i], &record[i * c->legs], member++, s);
    }
    s->members = member;
    free(record);
    return HOBBLE_OK;
}

/* ---- what it says -----------------------------------------------------------------------------
 */

/* The mean about the end of a stretch: of it and the next. */
static double measured_at(const struct hb_stretches *s, size_t place, size_t channel)
{
    const double here = hb_stretch_mean(&s->at[place], field[channel]);
    if (place + 1 >= s->count)
        return here;
    return 0.5 * (here + hb_stretch_mean(&s->at[place + 1], field[channel]));
}

static void band(const struct shown *s, size_t point, size_t what, double *sorted, double *low,
                 double *middle, double *high)
{
    const float *value = shown_at(s, point, what);
    size_t n = 0;
    *low = *middle = *high = (double)NAN;
    for (size_t i = 0; i < s->members; i++)
        if (!isnan(value[i]))
            sorted[n++] = (double)value[i];
    if (n < FEWEST)
        return;
    *low = hb_quantile(sorted, n, 0.05);
    *middle = hb_quantile(sorted, n, 0.50);
    *high = hb_quantile(sorted, n, 0.95);
}

static void read_points(const struct hb_stretches *s, const struct course *c,
                        const struct shown *shown, double *sorted, struct hobble_replay *out)
{
    double way = 0.0;
    out->points = (int)c->points;
    for (size_t k = 0; k < c->points; k++) {
        const size_t place = c->place[k];
        const struct hb_stretch *at = &s->at[place];
        struct hobble_replay_point *p = &out->point[k];
        way += at->way;
        *p = (struct hobble_replay_point){.time = (double)place * s->wide + at->driven + at->stood,
                                          .way = way,
                                          .speed = at->way / (at->driven + at->stood),
                                          .pressure = hb_stretch_mean(at, HOBBLE_LOG_PRESSURE)};
        for (size_t w = 0; w < HOBBLE_CHANNELS; w++) {
            p->measured[w] = measured_at(s, place, w);
            band(shown, k, w, sorted, &p->low[w], &p->middle[w], &p->high[w]);
        }
        band(shown, k, LIFE, sorted, &p->life_low, &p->life_middle, &p->life_high);
    }
}

/* ---- the misfit -------------------------------------------------------------------------------
 */

/* Measured less a member's, or less the middle where member is NULL, of the points that have both.
 */
static size_t misses(const struct hobble_replay *r, const struct shown *s, size_t channel,
                     const size_t *member, double *miss)
{
    size_t n = 0;
    for (size_t k = 0; k < (size_t)r->points; k++) {
        const struct hobble_replay_point *p = &r->point[k];
        const double own = member ? (double)shown_at(s, k, channel)[*member] : p->middle[channel];
        if (!isnan(p->measured[channel] - own))
            miss[n++] = p->measured[channel] - own;
    }
    return n;
}

static double mean_of(const double *value, size_t n)
{
    double sum = 0.0;
    for (size_t i = 0; i < n; i++)
        sum += value[i];
    return sum / (double)n;
}

/* Both ways: how often such a tyre and such a sensor miss by as much, or more. */
static double chance_of(const struct hobble_replay *r, const struct shown *s, size_t channel,
                        double *miss)
{
    struct hobble_evidence usual;
    double below = 0.0, above = 0.0, members = 0.0;
    hobble_evidence_begin(HOBBLE_EVIDENCE_RUN, &usual);
    const struct hobble_readings *sensor = &usual.channel[channel];
    for (size_t i = 0; i < s->members; i++) {
        const size_t n = misses(r, s, channel, &i, miss);
        if (n == 0)
            continue;
        const double nu = HB_READING_FREEDOM;
        const double noise = sensor->scatter * sensor->scatter / (double)n;
        const double wide = sqrt((sensor->offset * sensor->offset + noise) * (nu - 2.0) / nu);
        const double at = mean_of(miss, n) / wide;
        below += gsl_cdf_tdist_P(at, nu);
        above += gsl_cdf_tdist_Q(at, nu);
        members += 1.0;
    }
    return members > 0.0 ? fmin(2.0 * fmin(below, above) / members, 1.0) : (double)NAN;
}

static void read_misfit(const struct shown *s, size_t channel, double *miss,
                        struct hobble_replay *out)
{
    struct hobble_misfit *m = &out->misfit[channel];
    const size_t n = misses(out, s, channel, NULL, miss);
    double squares = 0.0, products = 0.0, outside = 0.0;
    *m = (struct hobble_misfit){.bias = (double)NAN,
                                .scatter = (double)NAN,
                                .correlation = (double)NAN,
                                .outside = (double)NAN,
                                .chance = (double)NAN};
    m->count = (int)n;
    if (n == 0)
        return;
    m->bias = mean_of(miss, n);
    for (size_t i = 0; i < n; i++) {
        squares += (miss[i] - m->bias) * (miss[i] - m->bias);
        products += i > 0 ? (miss[i] - m->bias) * (miss[i - 1] - m->bias) : 0.0;
    }
    for (int k = 0; k < out->points; k++) {
        const struct hobble_replay_point *p = &out->point[k];
        outside +=
            p->measured[channel] < p->low[channel] || p->measured[channel] > p->high[channel];
    }
    m->scatter = n > 1 ? sqrt(squares / (double)(n - 1)) : (double)NAN;
    m->correlation = n > 2 && squares > 0.0 ? products / squares : (double)NAN;
    m->outside = outside / (double)n;
    m->chance = chance_of(out, s, channel, miss);
}

enum hobble_status hb_replay_band(struct hb_ensemble *e, const struct hb_stretches *stretches,
                                  struct hobble_replay *out)
{
    struct course course;
    struct shown shown = {.room = e->arrays.members};
    lay_course(e->question, stretches, out->low, &course);
    if (course.legs == 0)
        return HOBBLE_OK;
    shown.value = calloc(course.points * KEPT * shown.room, sizeof *shown.value);
    double *room = calloc(shown.room + HOBBLE_RECORDING_STRETCHES, sizeof *room);
    enum hobble_status status = shown.value && room ? HOBBLE_OK : HOBBLE_E_MEMORY;
    if (status == HOBBLE_OK)
        status = drive(e, &course, &shown);
    if (status == HOBBLE_OK) {
        out->counted = (int)hb_ensemble_counted(e);
        read_points(stretches, &course, &shown, room, out);
        for (size_t w = 0; w < HOBBLE_CHANNELS; w++)
            read_misfit(&shown, w, room, out);
    }
    free(shown.value);
    free(room);
    return status;
}
