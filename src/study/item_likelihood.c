/* SPDX-License-Identifier: GPL-3.0-or-later */
/* item_likelihood.c - what one item of evidence says of every member: units of its type are driven
 * as the item says, and what became of them is held against what is told. */
#include "advice/likelihood.h"
#include "study/posterior.h"

#include "core/const.h"

#include <math.h>
#include <stdlib.h>

#define FIGURE_ERROR 0.02 /* of a maker's figure: it is rounded (assumed) */
#define SPARE        0.2  /* ln: a unit whose heat is looked at outlives its readings by this */

/* ---- the tyres that were driven -------------------------------------------------------------- */

struct trial {
    const struct hobble_evidence *item;
    const double *cube;
    struct hb_ensemble *e;
    struct hb_tyre *tyre;       /* members: middling new units, as driven */
    struct hb_outcome *outcome; /* members */
    struct hb_fate *fate;       /* members */
    double spread;              /* of ln U between the three units */
};

static bool on_drum(const struct hobble_evidence *item)
{
    return item->kind == HOBBLE_EVIDENCE_RUN && item->on == HOBBLE_RUN_ON_DRUM;
}

static bool of_this_unit(const struct hobble_evidence *item)
{
    return item->kind == HOBBLE_EVIDENCE_RUN && item->of == HOBBLE_RUN_THIS_UNIT;
}

static void draw_member(const struct trial *t, size_t i, struct hb_draw *draw)
{
    hb_draw(t->e->settings, &t->cube[i * (size_t)hb_param_dimensions()], draw);
}

/* A middling new unit of each member's type, where and as it was driven: with the load as told, and
 * with a harder-worked wall as the road has it on the average, or as this very tyre has it. */
static void build_trial(struct trial *t)
{
    const struct hb_ensemble *e = t->e;
    const double usual = e->settings->row[HB_P_WALL_WORK].spread * sqrt(2.0 / HB_PI);
    for (size_t i = 0; i < e->arrays.members; i++) {
        const struct hb_tyre *tied = &e->arrays.test[i];
        struct hb_tyre *own = &t->tyre[i];
        struct hb_draw draw;
        *own = *tied;
        if (on_drum(t->item))
            continue;
        draw_member(t, i, &draw);
        hb_put_on_drum(own, (double)INFINITY);
        own->life_per_metre = tied->life_per_metre / draw.value[HB_P_LIFE_ROAD];
        hb_work_harder(own, of_this_unit(t->item) ? draw.value[HB_P_WALL_WORK] : usual);
    }
}

static struct hb_start start_of(const struct trial *t, double load)
{
    const struct hobble_evidence *item = t->item;
    return (struct hb_start){.running = !on_drum(item),
                             .speed = item->speed,
                             .load = load,
                             .ambient = item->ambient,
                             .pressure = t->e->question->pressure_inflated};
}

static struct hb_leg leg_of(const struct trial *t, double load)
{
    return (struct hb_leg){
        .speed = t->item->speed, .load = load, .ambient = t->item->ambient, .kind = HB_UNTIL_END};
}

static double load_of(const struct trial *t)
{
    return t->item->load_share * hb_index_load(&t->e->question->built.marking);
}

/* Drives all of them with their life times a factor. */
static void drive(const struct trial *t, const struct hb_journey *journey, double life,
                  struct hb_record *record)
{
    const struct hb_step_control steps = hb_step_control_default();
    const size_t n = t->e->arrays.members;
    for (size_t i = 0; i < n; i++)
        t->tyre[i].life_per_metre /= life;
    t->e->runner.run(journey, &steps, t->tyre, n, t->outcome, record, t->e->runner.threads);
    for (size_t i = 0; i < n; i++)
        t->tyre[i].life_per_metre *= life;
}

/* ---- how far --------------------------------------------------------------------------------- */

static void find_fates(struct trial *t)
{
    const double load = load_of(t);
    struct hb_leg leg[2] = {leg_of(t, load), leg_of(t, load)};
    leg[0].kind = HB_FOR_DISTANCE;
    leg[0].extent = t->item->distance;
    leg[0].set_pressure = true;
    leg[1].goes_on = true;
    const struct hb_journey journey = {start_of(t, load), 2, leg, 2000e3, 172800.0};
    for (int k = 0; k < HB_FATE_UNITS; k++) {
        struct hb_record *record = t->e->arrays.record;
        drive(t, &journey, exp((k - 1) * t->spread), record);
        for (size_t i = 0; i < t->e->arrays.members; i++) {
            const double end = t->outcome[i].distance;
            const bool carries = end > t->item->distance;
            t->fate[i].spread = t->spread;
            t->fate[i].q[k] = carries ? log(fmax(record[2 * i].life, 1e-12))
                                      : log(t->item->distance / fmax(end, 1.0));
        }
    }
}

/* Units that were driven: of this age when they were, or the one in question. */
static struct hb_units units_of(const struct trial *t, size_t i)
{
    const struct hb_settings *s = t->e->settings;
    const double middle = log(hb_setting_value(s, HB_P_LIFE_UNIT));
    if (!of_this_unit(t->item)) {
        const double years = t->item->kind == HOBBLE_EVIDENCE_RUN ? t->item->age / HB_YEAR : 0.0;
        return (struct hb_units){middle - hb_setting_value(s, HB_P_LIFE_AGEING) * years,
                                 hb_unit_scatter(s, years)};
    }
    struct hb_draw draw;
    const double *normal = &t->cube[i * (size_t)hb_param_dimensions()];
    draw_member(t, i, &draw);
    const double life = hb_unit_life(s, &t->e->question->unit, &draw, normal);
    return (struct hb_units){log(life / draw.value[HB_P_LIFE_ROAD]), 0.0};
}

static double log_of_run(const struct trial *t, size_t i)
{
    const struct hb_units units = units_of(t, i);
    const double error = t->item->reading_error;
    switch (t->item->outcome) {
    case HOBBLE_RUN_SURVIVED:
        return hb_log_carries(&t->fate[i], &units, 0.0, error);
    case HOBBLE_RUN_ENDED:
        return hb_log_ends_at(&t->fate[i], &units, error);
    default:
        return hb_log_destroyed(&t->fate[i], &units, error);
    }
}

static double log_of_statement(const struct trial *t, size_t i)
{
    const struct hb_units units = units_of(t, i);
    return hb_log_stated(exp(hb_log_ended(&t->fate[i], &units, 0.0, FIGURE_ERROR)));
}

/* ---- how hot --------------------------------------------------------------------------------- */

static double value_at(const struct hb_record *record, enum hobble_channel channel)
{
    switch (channel) {
    case HOBBLE_CHANNEL_INNER:
        return record->inner;
    case HOBBLE_CHANNEL_OUTER:
        return record->outer;
    case HOBBLE_CHANNEL_CAVITY:
        return record->cavity;
    default:
        return record->shoulder;
    }
}

/* All times at which something was read, rising, each once. */
static size_t times_of(const struct hobble_evidence *item, double *time)
{
    size_t n = 0;
    for (int c = 0; c < HOBBLE_CHANNELS; c++)
        for (int k = 0; k < item->channel[c].count; k++) {
            const double at = item->channel[c].time[k];
            size_t place = n;
            while (place > 0 && time[place - 1] > at)
                place--;
            if (at <= 0.0 || (place > 0 && !(time[place - 1] < at)))
                continue;
            for (size_t i = n; i > place; i--)
                time[i] = time[i - 1];
            time[place] = at;
            n++;
        }
    return n;
}

static double log_of_readings(const struct trial *t, const struct hb_record *record,
                              const double *time, size_t times)
{
    double sum = 0.0;
    for (int c = 0; c < HOBBLE_CHANNELS; c++) {
        const struct hobble_readings *r = &t->item->channel[c];
        double miss[HOBBLE_READINGS_MAX];
        int n = 0;
        for (int k = 0; k < r->count; k++)
            for (size_t i = 0; i < times; i++)
                if (!(time[i] < r->time[k]) && !(time[i] > r->time[k]))
                    miss[n++] =
                        r->celsius[k] + HB_CELSIUS - value_at(&record[i], (enum hobble_channel)c);
        sum += hb_log_readings(miss, n, r->offset, r->scatter);
    }
    return sum;
}

enum { TIMES_MOST = HOBBLE_CHANNELS * HOBBLE_READINGS_MAX };

/* Each member's middling unit, or one that lives just long enough, through the readings. */
static enum hobble_status add_readings(struct trial *t, double *sum)
{
    double time[TIMES_MOST];
    struct hb_leg leg[TIMES_MOST];
    const size_t times = times_of(t->item, time), n = t->e->arrays.members;
    if (times == 0)
        return HOBBLE_OK;
    const double load = load_of(t);
    struct hb_record *record = calloc(n * times, sizeof *record);
    if (!record)
        return HOBBLE_E_MEMORY;
    for (size_t k = 0; k < times; k++) {
        leg[k] = leg_of(t, load);
        leg[k].kind = HB_FOR_TIME;
        leg[k].extent = time[k] - (k > 0 ? time[k - 1] : 0.0);
        leg[k].set_pressure = k == 0;
        leg[k].goes_on = k > 0;
    }
    for (size_t i = 0; i < n; i++)
        t->tyre[i].life_per_metre /= exp(fmax(hb_fate_of(&t->fate[i], 0.0) + SPARE, 0.0));
    const struct hb_journey journey = {start_of(t, load), times, leg, 2000e3, 172800.0};
    drive(t, &journey, 1.0, record);
    for (size_t i = 0; i < n; i++)
        sum[i] += log_of_readings(t, &record[i * times], time, times);
    free(record);
    return HOBBLE_OK;
}

/* ---- all of it ------------------------------------------------------------------------------- */

static enum hobble_status add_driven(struct trial *t, double *sum)
{
    const struct hobble_evidence *item = t->item;
    const size_t n = t->e->arrays.members;
    build_trial(t);
    find_fates(t);
    for (size_t i = 0; i < n; i++)
        sum[i] += item->kind == HOBBLE_EVIDENCE_RUN ? log_of_run(t, i) : log_of_statement(t, i);
    return item->kind == HOBBLE_EVIDENCE_RUN ? add_readings(t, sum) : HOBBLE_OK;
}

enum hobble_status hb_add_likelihood(const struct hobble_evidence *item, const double *cube,
                                     struct hb_ensemble *e, double *sum)
{
    const size_t n = e->arrays.members;
    const double spread = fmax(hb_unit_scatter(e->settings, 0.0), 0.05);
    struct trial t = {.item = item, .cube = cube, .e = e, .spread = spread};
    if (item->kind == HOBBLE_EVIDENCE_APPROVAL) {
        for (size_t i = 0; i < n; i++)
            sum[i] += hb_log_approved(e->arrays.used[i], spread, item->specimens);
        return HOBBLE_OK;
    }
    t.tyre = calloc(n, sizeof *t.tyre);
    t.outcome = calloc(n, sizeof *t.outcome);
    t.fate = calloc(n, sizeof *t.fate);
    const enum hobble_status status =
        t.tyre && t.outcome && t.fate ? add_driven(&t, sum) : HOBBLE_E_MEMORY;
    free(t.tyre);
    free(t.outcome);
    free(t.fate);
    return status;
}
