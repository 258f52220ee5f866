/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "simulated.h"

#include "core/const.h"

#include <check.h>
#include <gsl/gsl_cdf.h>
#include <math.h>
#include <string.h>

enum { PARTS = 40, CHANNEL_READINGS = 4 };

void simulated_truths(struct hb_study *study, struct random_source *source)
{
    const size_t n = study->ensemble.arrays.members * (size_t)hb_param_dimensions();
    for (size_t i = 0; i < n; i++)
        study->cube[i] = random_normal(source);
    ck_assert_int_eq(hb_ensemble_make(study->cube, &study->ensemble), HOBBLE_OK);
}

double simulated_way(struct hb_study *study, size_t member)
{
    struct hb_plan plan;
    hb_plan_asked(&study->question, &plan);
    hb_ensemble_drive(&study->ensemble, &plan);
    return hb_ensemble_remaining(&study->ensemble, &plan, member);
}

/* ---- a unit ---------------------------------------------------------------------------------- */

static struct hb_draw draw_of(const struct simulated *s)
{
    struct hb_draw draw;
    hb_draw(&s->study->settings, &s->study->cube[s->member * (size_t)hb_param_dimensions()], &draw);
    return draw;
}

/* On the drum or on the road; its life by the type's, and by how the walls share the work. */
static struct hb_tyre unit_of(const struct simulated *s, const struct hobble_evidence *item,
                              double life, double work)
{
    const struct hb_draw draw = draw_of(s);
    struct hb_tyre tyre = s->study->ensemble.arrays.test[s->member];
    tyre.life_per_metre /= life;
    if (item->kind == HOBBLE_EVIDENCE_RUN && item->on == HOBBLE_RUN_ON_DRUM)
        return tyre;
    hb_put_on_drum(&tyre, (double)INFINITY);
    tyre.life_per_metre /= draw.value[HB_P_LIFE_ROAD];
    hb_work_harder(&tyre, work);
    return tyre;
}

/* Which unit was driven: this very one, or another as old as the item says. */
static struct hb_tyre driven(const struct simulated *s, const struct hobble_evidence *item)
{
    const struct hb_settings *set = &s->study->settings;
    if (item->of == HOBBLE_RUN_THIS_UNIT) {
        const struct hb_draw draw = draw_of(s);
        const double *normal = &s->study->cube[s->member * (size_t)hb_param_dimensions()];
        const double life = hb_unit_life(set, &s->study->question.unit, &draw, normal);
        return unit_of(s, item, life / draw.value[HB_P_LIFE_ROAD], draw.value[HB_P_WALL_WORK]);
    }
    const double years = item->age / HB_YEAR;
    const double life = hb_unit_scatter(set, years) * random_normal(s->source) -
                        hb_setting_value(set, HB_P_LIFE_AGEING) * years;
    const double work = fabs(set->row[HB_P_WALL_WORK].spread * random_normal(s->source));
    return unit_of(s, item, exp(life), work);
}

/* ---- its way --------------------------------------------------------------------------------- */

static void drive(const struct simulated *s, const struct hobble_evidence *item,
                  const struct hb_tyre *tyre, struct hb_leg *leg, size_t legs,
                  struct hb_outcome *out, struct hb_record *record)
{
    const struct hb_step_control steps = hb_step_control_default();
    const struct hb_question *q = &s->study->question;
    const bool drum = item->kind == HOBBLE_EVIDENCE_RUN && item->on == HOBBLE_RUN_ON_DRUM;
    const double load = item->load_share * q->index_load;
    for (size_t i = 0; i < legs; i++) {
        leg[i].speed = item->speed;
        leg[i].load = load;
        leg[i].ambient = item->ambient;
        leg[i].set_pressure = i == 0;
        leg[i].goes_on = i > 0;
    }
    const struct hb_journey journey = {
        {!drum, item->speed, load, item->ambient, q->pressure_inflated}, legs, leg, 5e6, 1e6};
    hb_integrate_many(&journey, &steps, tyre, 1, out, record);
}

static double end_of(const struct simulated *s, const struct hobble_evidence *item,
                     const struct hb_tyre *tyre)
{
    struct hb_outcome out;
    struct hb_leg leg = {.kind = HB_UNTIL_END};
    drive(s, item, tyre, &leg, 1, &out, NULL);
    return out.distance;
}

/* Where half of its life was used. */
static double half_of(const struct simulated *s, const struct hobble_evidence *item,
                      const struct hb_tyre *tyre, double end)
{
    struct hb_outcome out;
    struct hb_leg leg[PARTS];
    struct hb_record record[PARTS];
    for (int i = 0; i < PARTS; i++)
        leg[i] = (struct hb_leg){.kind = HB_FOR_DISTANCE, .extent = end / PARTS};
    drive(s, item, tyre, leg, PARTS, &out, record);
    for (int i = 1; i < PARTS; i++)
        if (record[i].life >= 0.5) {
            const double part = (0.5 - record[i - 1].life) / (record[i].life - record[i - 1].life);
            return record[i - 1].distance + part * (record[i].distance - record[i - 1].distance);
        }
    return end; /* heat ended it before */
}

/* ---- what was read --------------------------------------------------------------------------- */

static double shown(const struct hb_record *record, int channel)
{
    const double k[HOBBLE_CHANNELS] = {[HOBBLE_CHANNEL_INNER] = record->inner,
                                       [HOBBLE_CHANNEL_OUTER] = record->outer,
                                       [HOBBLE_CHANNEL_CAVITY] = record->cavity,
                                       [HOBBLE_CHANNEL_SHOULDER] = record->shoulder};
    return k[channel] - HB_CELSIUS;
}

/* Errors as the likelihood has them: Student's t with 4 degrees of freedom, common to a channel. */
static double width(struct random_source *source)
{
    double square = 0.0;
    for (int i = 0; i < 4; i++)
        square += pow(random_normal(source), 2);
    return sqrt(2.0 / square); /* sqrt(4 / square), of variance 4 / (4 - 2), brought to 1 */
}

static void read_heat(const struct simulated *s, const struct hb_tyre *tyre,
                      struct hobble_evidence *item)
{
    struct hb_outcome out;
    struct hb_leg leg[CHANNEL_READINGS];
    struct hb_record record[CHANNEL_READINGS];
    double time[CHANNEL_READINGS], celsius[CHANNEL_READINGS];
    const int channel = random_below(s->source, HOBBLE_CHANNELS);
    const double last = fmin(0.95 * item->distance / item->speed, 3600.0);
    for (int i = 0; i < CHANNEL_READINGS; i++) {
        leg[i] = (struct hb_leg){.kind = HB_FOR_TIME, .extent = last / CHANNEL_READINGS};
        time[i] = (i + 1) * last / CHANNEL_READINGS;
    }
    drive(s, item, tyre, leg, CHANNEL_READINGS, &out, record);
    item->channel[channel].offset = 3.0;
    item->channel[channel].scatter = 2.0;
    const double wide = width(s->source), offset = 3.0 * wide * random_normal(s->source);
    for (int i = 0; i < CHANNEL_READINGS; i++)
        celsius[i] = shown(&record[i], channel) + offset + 2.0 * wide * random_normal(s->source);
    item->correlation = 6.0;
    ck_assert_int_eq(hobble_evidence_readings(item, (enum hobble_channel)channel, time, celsius,
                                              CHANNEL_READINGS, NULL),
                     HOBBLE_OK);
}

/* ---- items ----------------------------------------------------------------------------------- */

static void conditions(const struct simulated *s, struct hobble_evidence *item)
{
    struct random_source *r = s->source;
    item->load_share = random_between(r, 0.6, 0.8);
    item->speed = random_between(r, 60.0, 80.0) / 3.6;
    item->ambient = random_between(r, 0.0, 35.0) + HB_CELSIUS;
    item->of = random_below(r, 3) ? HOBBLE_RUN_ANOTHER_UNIT : HOBBLE_RUN_THIS_UNIT;
    item->on = random_below(r, 2) ? HOBBLE_RUN_ON_DRUM : HOBBLE_RUN_ON_ROAD;
    if (item->kind == HOBBLE_EVIDENCE_RUN && item->of == HOBBLE_RUN_ANOTHER_UNIT)
        item->age = random_below(r, 2) ? random_between(r, 0.0, 5.0) * HB_YEAR : 0.0;
    item->reading_error = random_between(r, 0.01, 0.05);
}

static bool passes_test(const struct simulated *s, struct hobble_evidence *item)
{
    const struct hb_settings *set = &s->study->settings;
    const double used = s->study->ensemble.arrays.used[s->member];
    item->specimens = 1 + random_below(s->source, 3);
    for (int i = 0; i < item->specimens; i++)
        if (!(used < exp(hb_unit_scatter(set, 0.0) * random_normal(s->source))))
            return false;
    return true;
}

/* The maker's figure is a low quantile of new units. */
static void state(const struct simulated *s, struct hobble_evidence *item)
{
    const double share = gsl_cdf_beta_Pinv(random_between(s->source, 0.0, 1.0), 1.5, 12.0);
    const struct hb_settings *set = &s->study->settings;
    const double life = exp(hb_unit_scatter(set, 0.0) * gsl_cdf_ugaussian_Pinv(share));
    const double work = set->row[HB_P_WALL_WORK].spread * sqrt(2.0 / HB_PI);
    const struct hb_tyre tyre = unit_of(s, item, life, work);
    item->distance = end_of(s, item, &tyre) * exp(0.02 * random_normal(s->source));
}

static void run(const struct simulated *s, enum simulated_kind kind, double with,
                struct hobble_evidence *item)
{
    const struct hb_tyre tyre = driven(s, item);
    const double end = end_of(s, item, &tyre);
    const double error = exp(item->reading_error * random_normal(s->source));
    const double planned = 1e3 * exp(random_between(s->source, log(30.0), log(200.0)));
    item->outcome = HOBBLE_RUN_ENDED;
    item->distance = end * error;
    if (kind == SIMULATED_PLANNED && planned < end * error) {
        item->outcome = HOBBLE_RUN_SURVIVED;
        item->distance = planned;
    }
    if (kind == SIMULATED_DESTROYED) {
        const double half = half_of(s, item, &tyre, end);
        item->outcome = HOBBLE_RUN_DESTROYED;
        item->distance = half * pow(end / half, random_between(s->source, 0.0, 1.0)) * error;
    }
    if (random_between(s->source, 0.0, 1.0) < with)
        read_heat(s, &tyre, item);
}

bool simulated_item(const struct simulated *s, enum simulated_kind kind, double with,
                    struct hobble_evidence *item)
{
    static const enum hobble_evidence_kind of[SIMULATED_KINDS] = {
        HOBBLE_EVIDENCE_APPROVAL, HOBBLE_EVIDENCE_STATEMENT, HOBBLE_EVIDENCE_RUN,
        HOBBLE_EVIDENCE_RUN, HOBBLE_EVIDENCE_RUN};
    hobble_evidence_begin(of[kind], item);
    hobble_fault_text(item->source, "simulated");
    conditions(s, item);
    if (kind == SIMULATED_APPROVAL)
        return passes_test(s, item);
    if (kind == SIMULATED_STATEMENT)
        state(s, item);
    else
        run(s, kind, with, item);
    return item->distance > 1e3 && item->distance < 1e6;
}
