/* SPDX-License-Identifier: GPL-3.0-or-later */
/* item_likelihood.c - what one item of evidence says of every member: units of its type are driven
 * as the item says, and what became of them is held against what is told. */
#include "advice/likelihood.h"
#include "study/posterior.h"

#include "core/const.h"

#include <math.h>
#include <stdlib.h>

#define FIGURE_ERROR 0.02 /* of a maker's figure: it is rounded (assumed) */
#define LEAST_SPREAD 0.05 /* ln U between the units that are driven */
#define FARTHEST     6.0  /* times the way of an item: where beyond it a tyre ends is not asked */
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
    struct surprise *surprise;  /* NULL: likelihoods are asked for */
};

/* How far what is told stands from what the sample would have, as chances of no more and of no less
 * of it, means over the members. */
enum { TESTS_MOST = 1 + HOBBLE_CHANNELS };
struct surprise {
    int tests;
    double less[TESTS_MOST], more[TESTS_MOST];
};

static bool on_drum(const struct hobble_evidence *item)
{
    return item->kind == HOBBLE_EVIDENCE_RUN && item->on == HOBBLE_RUN_ON_DRUM;
}

static bool surprises(const struct trial *t, size_t i)
{
    return t->surprise && hb_ensemble_counts(t->e, i);
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

static void run(const struct trial *t, const struct hb_journey *journey, size_t from, size_t count,
                struct hb_record *record)
{
    const struct hb_step_control steps = hb_step_control_default();
    t->e->runner.run(journey, &steps, &t->tyre[from], count, &t->outcome[from], record,
                     t->e->runner.threads);
}

static void stretch_lives(const struct trial *t, double by)
{
    for (size_t i = 0; i < t->e->arrays.members; i++)
        t->tyre[i].life_per_metre /= by;
}

/* ---- how far --------------------------------------------------------------------------------- */

/* What a unit that was found destroyed had used is asked of its life there; of the others, where
 * they end. */
static bool by_life(const struct hobble_evidence *item)
{
    return item->kind == HOBBLE_EVIDENCE_RUN && item->outcome == HOBBLE_RUN_DESTROYED;
}

static double fate_at(const struct trial *t, const struct hb_outcome *o)
{
    const double x = t->item->distance;
    if (by_life(t->item) && o->end == HB_END_NONE)
        return log(fmin(fmax(o->life, 1e-12), 1.0));
    return log(x / fmax(o->distance, 1.0));
}

static void find_fates(struct trial *t)
{
    const double load = load_of(t), x = t->item->distance;
    struct hb_leg leg = leg_of(t, load);
    leg.set_pressure = true;
    if (by_life(t->item)) {
        leg.kind = HB_FOR_DISTANCE;
        leg.extent = x;
    }
    const struct hb_journey journey = {start_of(t, load), 1, &leg, FARTHEST * x,
                                       FARTHEST * x / leg.speed};
    for (int k = 0; k < HB_FATE_UNITS; k++) {
        const double life = exp((k - 1) * t->spread);
        stretch_lives(t, life);
        run(t, &journey, 0, t->e->arrays.members, NULL);
        stretch_lives(t, 1.0 / life);
        for (size_t i = 0; i < t->e->arrays.members; i++) {
            t->fate[i].spread = t->spread;
            t->fate[i].q[k] = fate_at(t, &t->outcome[i]);
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

/* The figure is where a share of the units has ended, and of that share it is known how it is
 * distributed: so the figure's density is that of the share times how much of a share lies there.
 */
static double log_of_statement(const struct trial *t, size_t i)
{
    const struct hb_units units = units_of(t, i);
    return hb_log_stated(exp(hb_log_ended(&t->fate[i], &units, 0.0, FIGURE_ERROR))) +
           hb_log_ends_at(&t->fate[i], &units, FIGURE_ERROR);
}

/* ---- how surprising -------------------------------------------------------------------------- */

/* A place that was passed, or a share that is stated. A tyre that survived may go as far as it
 * will. */
static void surprise_by_fate(const struct trial *t, size_t i)
{
    const struct hobble_evidence *item = t->item;
    const struct hb_units units = units_of(t, i);
    struct surprise *s = t->surprise;
    if (item->kind == HOBBLE_EVIDENCE_STATEMENT) {
        const double share = exp(hb_log_ended(&t->fate[i], &units, 0.0, FIGURE_ERROR));
        const double at_most = hb_stated_at_most(share);
        s->less[0] += at_most;
        s->more[0] += 1.0 - at_most;
        return;
    }
    const double error = item->reading_error;
    const double far = item->outcome == HOBBLE_RUN_DESTROYED ? log(0.5) : 0.0;
    s->less[0] += exp(hb_log_carries(&t->fate[i], &units, 0.0, error));
    s->more[0] += item->outcome == HOBBLE_RUN_SURVIVED
                      ? 1.0
                      : exp(hb_log_ended(&t->fate[i], &units, far, error));
}

/* The mean of a channel's readings, by the same Student's t as their likelihood. */
static void surprise_by_heat(const struct trial *t, int channel, const double *miss, int n)
{
    const struct hobble_readings *r = &t->item->channel[channel];
    double mean = 0.0;
    if (n == 0) { /* nothing read, nothing rarer than it */
        t->surprise->less[1 + channel] += 1.0;
        t->surprise->more[1 + channel] += 1.0;
        return;
    }
    for (int k = 0; k < n; k++)
        mean += miss[k] / n;
    const double nu = HB_READING_FREEDOM;
    const double wide =
        sqrt((r->offset * r->offset + r->scatter * r->scatter / n) * (nu - 2.0) / nu);
    t->surprise->less[1 + channel] += hb_reading_at_most(mean / wide);
    t->surprise->more[1 + channel] += hb_reading_at_most(-mean / wide);
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

enum { TIMES_MOST = HOBBLE_CHANNELS * HOBBLE_READINGS_MAX, AT_ONCE = 1024 };

/* When anything was read, rising, each time once, and of each reading which time that is. */
struct times {
    size_t count;
    double at[TIMES_MOST];
    size_t place[HOBBLE_CHANNELS][HOBBLE_READINGS_MAX];
};

/* The channels' times rise. A reading at the loss of air itself tells nothing of what follows. */
static void merge_times(const struct hobble_evidence *item, struct times *times)
{
    int next[HOBBLE_CHANNELS] = {0};
    times->count = 0;
    for (int c = 0; c < HOBBLE_CHANNELS; c++)
        while (next[c] < item->channel[c].count && !(item->channel[c].time[next[c]] > 0.0))
            next[c]++;
    for (;;) {
        double first = HUGE_VAL;
        for (int c = 0; c < HOBBLE_CHANNELS; c++)
            if (next[c] < item->channel[c].count)
                first = fmin(first, item->channel[c].time[next[c]]);
        if (isinf(first))
            return;
        for (int c = 0; c < HOBBLE_CHANNELS; c++)
            if (next[c] < item->channel[c].count && !(item->channel[c].time[next[c]] > first))
                times->place[c][next[c]++] = times->count;
        times->at[times->count++] = first;
    }
}

static double log_of_readings(const struct trial *t, size_t i, const struct hb_record *record,
                              const struct times *times)
{
    double sum = 0.0;
    for (int c = 0; c < HOBBLE_CHANNELS; c++) {
        const struct hobble_readings *r = &t->item->channel[c];
        double miss[HOBBLE_READINGS_MAX];
        int n = 0;
        for (int k = 0; k < r->count; k++)
            if (r->time[k] > 0.0)
                miss[n++] = r->celsius[k] + HB_CELSIUS -
                            value_at(&record[times->place[c][k]], (enum hobble_channel)c);
        sum += hb_log_readings(miss, n, r->offset, r->scatter);
        if (surprises(t, i))
            surprise_by_heat(t, c, miss, n);
    }
    return sum;
}

/* A leg to each reading. Returns how many. */
static size_t legs_of(const struct trial *t, const struct times *times, struct hb_leg *leg)
{
    for (size_t k = 0; k < times->count; k++) {
        leg[k] = leg_of(t, load_of(t));
        leg[k].kind = HB_FOR_TIME;
        leg[k].extent = times->at[k] - (k > 0 ? times->at[k - 1] : 0.0);
        leg[k].set_pressure = k == 0;
        leg[k].goes_on = k > 0;
    }
    return times->count;
}

/* Each member's middling unit, or one that lives just long enough, through the readings; so many
 * members at a time that their records need little room. */
static enum hobble_status add_readings(struct trial *t, double *sum)
{
    struct times times;
    struct hb_leg leg[TIMES_MOST];
    merge_times(t->item, &times);
    const size_t legs = legs_of(t, &times, leg), n = t->e->arrays.members;
    if (legs == 0)
        return HOBBLE_OK;
    struct hb_record *record = calloc((n < AT_ONCE ? n : AT_ONCE) * legs, sizeof *record);
    if (!record)
        return HOBBLE_E_MEMORY;
    const double last = times.at[legs - 1];
    const struct hb_journey journey = {start_of(t, load_of(t)), legs, leg,
                                       2.0 * last * t->item->speed + 1e3, 2.0 * last + 60.0};
    for (size_t i = 0; i < n; i++)
        t->tyre[i].life_per_metre /= exp(fmax(hb_fate_of(&t->fate[i], 0.0) + SPARE, 0.0));
    for (size_t from = 0; from < n; from += AT_ONCE) {
        const size_t count = n - from < AT_ONCE ? n - from : AT_ONCE;
        run(t, &journey, from, count, record);
        for (size_t i = 0; i < count; i++)
            sum[from + i] += log_of_readings(t, from + i, &record[i * legs], &times);
    }
    free(record);
    return HOBBLE_OK;
}

/* ---- all of it ------------------------------------------------------------------------------- */

static enum hobble_status add_driven(struct trial *t, double *sum)
{
    const bool run = t->item->kind == HOBBLE_EVIDENCE_RUN;
    build_trial(t);
    find_fates(t);
    for (size_t i = 0; i < t->e->arrays.members; i++) {
        sum[i] += run ? log_of_run(t, i) : log_of_statement(t, i);
        if (surprises(t, i))
            surprise_by_fate(t, i);
    }
    return run ? add_readings(t, sum) : HOBBLE_OK;
}

static void add_approval(struct trial *t, double *sum)
{
    const struct hb_arrays *r = &t->e->arrays;
    const double middle = hb_setting_value(t->e->settings, HB_P_LIFE_UNIT);
    for (size_t i = 0; i < r->members; i++) {
        const double pass = hb_log_approved(r->used[i] / middle, t->spread, t->item->specimens);
        sum[i] += pass;
        if (surprises(t, i)) {
            t->surprise->less[0] += exp(pass);
            t->surprise->more[0] += 1.0;
        }
    }
}

static enum hobble_status add(struct trial *t, double *sum)
{
    const size_t n = t->e->arrays.members;
    t->spread = fmax(hb_unit_scatter(t->e->settings, 0.0), LEAST_SPREAD);
    if (t->item->kind == HOBBLE_EVIDENCE_APPROVAL) {
        add_approval(t, sum);
        return HOBBLE_OK;
    }
    t->tyre = calloc(n, sizeof *t->tyre);
    t->outcome = calloc(n, sizeof *t->outcome);
    t->fate = calloc(n, sizeof *t->fate);
    const enum hobble_status status =
        t->tyre && t->outcome && t->fate ? add_driven(t, sum) : HOBBLE_E_MEMORY;
    free(t->tyre);
    free(t->outcome);
    free(t->fate);
    return status;
}

enum hobble_status hb_add_likelihood(const struct hobble_evidence *item, const double *cube,
                                     struct hb_ensemble *e, double *sum)
{
    struct trial t = {.item = item, .cube = cube, .e = e};
    return add(&t, sum);
}

/* The mean over the members that count of each test's chance on either side; of the rarer side,
 * twice, and as often as there are tests. */
enum hobble_status hb_item_chance(const struct hobble_evidence *item, const double *cube,
                                  struct hb_ensemble *e, double *sum, double *chance)
{
    struct surprise s = {.tests = 1};
    struct trial t = {.item = item, .cube = cube, .e = e, .surprise = &s};
    const enum hobble_status status = add(&t, sum);
    const double n = (double)hb_ensemble_counted(e);
    double least = fmin(s.less[0], s.more[0]) / n;
    for (int c = 0; c < HOBBLE_CHANNELS && item->kind == HOBBLE_EVIDENCE_RUN; c++)
        if (item->channel[c].count > 0) {
            s.tests++;
            least = fmin(least, fmin(s.less[1 + c], s.more[1 + c]) / n);
        }
    *chance = fmin(2.0 * least * s.tests, 1.0);
    return status;
}
