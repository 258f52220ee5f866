/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/anchor.h"

#include "core/const.h"

#include <math.h>

/* Ends of the first drive's legs at 80 km/h, over the test's time: dense where the tyre warms up.
 */
static const double stretch[] = {0.04, 0.08, 0.14, 0.22, 0.33, 0.5, 0.75, 1.0, 1.5, 2.2, 3.2, 20.0};
enum { STRETCHES = sizeof stretch / sizeof *stretch, FIRST_LEGS = STRETCHES + 1, SECOND_LEGS = 3 };
_Static_assert((int)FIRST_LEGS <= (int)HB_ANCHOR_LEGS, "room for the records of the first drive");

/* Time over life, both as logarithms: less than one, for nothing is used while the tyre warms up.
 * Only what the first drive leaves (a few per cent) is corrected by it. */
#define TIME_BY_LIFE 0.88
/* Of how long it should last: beyond it a tyre (one in thirty) is driven once more. */
#define FAR_OFF 0.03
/* The bending force goes with the stiffness to this power where the load is given: of
 * kappa g d^2 with d L(d) g constant and L as the root of d. */
#define FORCE_BY_STIFFNESS (-1.0 / 3.0)

static double way_of(double seconds)
{
    return 0.5 * HB_RULE_SPEED * HB_DRUM_RUN_UP + HB_RULE_SPEED * seconds;
}

/* Life is used evenly along the way, whatever the wall's state. */
static void set_pace(struct hb_tyre *tyre, double last)
{
    tyre->life_power = tyre->life_activation = tyre->reversion = 0.0;
    tyre->life_per_metre = 1.0 / way_of(last);
}

/* How fast life goes at a record by the law, referred to the force and heat of the last one. */
static double pace_at(const struct hb_tyre *t, const struct hb_record *at,
                      const struct hb_record *last, double life, double ambient)
{
    const double softer = (1.0 - t->softening * life) / (1.0 - t->softening * at->life);
    const double more = pow(softer, FORCE_BY_STIFFNESS);
    const double inner = at->inner + (at->inner - ambient) * (more - 1.0);
    const double beyond = fmax(t->reversion_inverse - 1.0 / inner, 0.0);
    return pow(more * at->force / last->force, t->life_power) *
           exp(t->life_activation * (1.0 / last->inner - 1.0 / inner) + t->reversion * beyond);
}

/* Sums pace over the way; pace is taken as exponential between records. life: as used at each
 * record; on return as the sum says. Returns the sum in metres. */
static double sum_pace(const struct hb_tyre *t, const struct hb_record *record, size_t last,
                       double ambient, double *life)
{
    double sum[HB_ANCHOR_LEGS] = {0.0};
    double before = pace_at(t, &record[0], &record[last], life[0], ambient);
    sum[0] = 0.25 * before * record[0].distance; /* the run-up: hardly warm */
    for (size_t k = 1; k <= last; k++) {
        const double here = pace_at(t, &record[k], &record[last], life[k], ambient);
        const double ratio = log(here / before), way = record[k].distance - record[k - 1].distance;
        const double mean = fabs(ratio) > 1e-6 ? (here - before) / ratio : here;
        sum[k] = sum[k - 1] + mean * way;
        before = here;
    }
    for (size_t k = 0; k <= last && sum[last] > 0.0; k++)
        life[k] = sum[k] / sum[last];
    return sum[last];
}

/* From the first drive: the life that lasts about as long as it should. A tyre that sank before it
 * had rolled at all keeps its steady pace, and sinks again. */
static void estimate(const struct hb_anchor *a, size_t i, double ambient)
{
    struct hb_tyre *t = &a->tyre[i];
    const struct hb_tyre *law = &a->law[i];
    const struct hb_record *record = &a->record[i * FIRST_LEGS];
    double life[HB_ANCHOR_LEGS];
    size_t last = 0;
    while (last + 1 < FIRST_LEGS && record[last].time < a->outcome[i].time)
        last++;
    for (size_t k = 0; k <= last; k++)
        life[k] = record[k].life;
    /* When it is used, and then how much. */
    if (!(sum_pace(law, record, last, ambient, life) > 0.0))
        return;
    t->life_power = law->life_power;
    t->life_activation = law->life_activation;
    t->reversion = law->reversion;
    t->life_per_metre = 1.0 / sum_pace(law, record, last, ambient, life);
    t->life_per_force = 1.0 / record[last].force;
    t->life_inverse_ref = 1.0 / record[last].inner;
}

static void drive(const struct hb_anchor *a, const struct hb_journey *journey)
{
    const struct hb_step_control steps = hb_step_control_default();
    a->runner.run(journey, &steps, a->tyre, a->count, a->outcome, a->record, a->runner.threads);
}

/* First drive: life at a steady pace. The tyres get their law after it. */
static void pace(const struct hb_anchor *a)
{
    struct hb_drum_test test;
    struct hb_leg leg[FIRST_LEGS];
    hb_drum_test(a->marking, a->test, &test);
    leg[0] = test.leg[0];
    for (int k = 0; k < STRETCHES; k++) {
        leg[k + 1] = test.leg[1];
        leg[k + 1].extent = a->test * (stretch[k] - (k > 0 ? stretch[k - 1] : 0.0));
        leg[k + 1].goes_on = k > 0;
        leg[k + 1].set_pressure = k == 0;
    }
    test.journey.leg = leg;
    test.journey.count = FIRST_LEGS;
    for (size_t i = 0; i < a->count; i++)
        set_pace(&a->tyre[i], a->last[i]);
    drive(a, &test.journey);
    for (size_t i = 0; i < a->count; i++)
        estimate(a, i, test.journey.start.ambient);
}

/* What a drive by the law itself says of a tyre: whether life ends it, and what corrects the life.
 * Returns how far it was off, over how long it should have lasted. */
static double correct(const struct hb_anchor *a, size_t i)
{
    const struct hb_outcome *o = &a->outcome[i];
    const struct hb_record *at = &a->record[i * SECOND_LEGS + 1];
    const double lasted = (o->time - HB_DRUM_RUN_UP) / a->last[i];
    const double before = a->tyre[i].section_height - o->deflection_start;
    const double sunk = fabs(at->deflection - o->deflection_start);
    a->anchored[i] = o->end == HB_END_LIFE;
    a->passed[i] = a->anchored[i] && sunk <= HB_DRUM_HEIGHT_CHANGE * before;
    a->used[i] = at->life;
    if (!a->anchored[i])
        return 0.0;
    a->tyre[i].life_per_metre *= pow(lasted, 1.0 / TIME_BY_LIFE);
    return fabs(lasted - 1.0);
}

/* Second drive: by the law itself. The few that it finds far off drive once more, for something
 * else may end them before the life that they are given is used up. */
static void drive_by_law(const struct hb_anchor *a)
{
    struct hb_drum_test test;
    struct hb_leg leg[SECOND_LEGS];
    const struct hb_step_control steps = hb_step_control_default();
    hb_drum_test(a->marking, a->test, &test);
    leg[0] = test.leg[0];
    leg[1] = leg[2] = test.leg[1];
    leg[2].kind = HB_UNTIL_END;
    leg[2].extent = 0.0;
    leg[2].goes_on = true;
    leg[2].set_pressure = false;
    test.journey.leg = leg;
    test.journey.count = SECOND_LEGS;
    test.journey.horizon_time = HB_DRUM_RUN_UP + a->test * stretch[STRETCHES - 1];
    drive(a, &test.journey);
    for (size_t i = 0; i < a->count; i++)
        if (correct(a, i) > FAR_OFF) {
            a->runner.run(&test.journey, &steps, &a->tyre[i], 1, &a->outcome[i],
                          &a->record[i * SECOND_LEGS], 1);
            correct(a, i);
        }
}

void hb_anchor(const struct hb_anchor *a)
{
    pace(a);
    drive_by_law(a);
}

static void run_here(const struct hb_journey *journey, const struct hb_step_control *steps,
                     const struct hb_tyre *tyre, size_t count, struct hb_outcome *out,
                     struct hb_record *record, int threads)
{
    (void)threads;
    hb_integrate_many(journey, steps, tyre, count, out, record);
}

/* The middle tyre of these settings. */
static enum hobble_status tie_middle(const struct hb_settings *settings,
                                     const struct hobble_marking *marking,
                                     struct hb_life_reference *life)
{
    struct hb_draw draw;
    struct hb_tyre tyre, law;
    struct hb_outcome outcome;
    struct hb_record record[HB_ANCHOR_LEGS];
    double used;
    bool anchored, passed;
    hb_draw(settings, NULL, &draw);
    hb_build(settings, marking, &draw, NULL, &law);
    tyre = law;
    hb_put_on_drum(&tyre, HB_DRUM_RADIUS);
    const double test = hb_drum_test_seconds(settings);
    const double last = test * draw.value[HB_P_MARGIN];
    const double scale = law.life_per_force; /* energy per force */
    hb_anchor(&(struct hb_anchor){.runner = {run_here, 1},
                                  .marking = marking,
                                  .test = test,
                                  .count = 1,
                                  .last = &last,
                                  .law = &law,
                                  .tyre = &tyre,
                                  .outcome = &outcome,
                                  .record = record,
                                  .used = &used,
                                  .anchored = &anchored,
                                  .passed = &passed});
    if (!anchored)
        return HOBBLE_E_NOT_CONVERGED;
    *life = (struct hb_life_reference){scale / tyre.life_per_force, 1.0 / tyre.life_inverse_ref,
                                       1.0 / (tyre.life_per_metre * tyre.circumference)};
    return HOBBLE_OK;
}

enum hobble_status hb_calibrate(const struct hb_settings *settings,
                                const struct hobble_marking *marking,
                                struct hb_life_reference *life)
{
    struct hb_settings plain;
    if (hb_has_drum_test((enum hb_construction)hb_setting_word(settings, HB_P_CONSTRUCTION)) &&
        tie_middle(settings, marking, life) == HOBBLE_OK)
        return HOBBLE_OK;
    hb_settings_default(&plain);
    plain.row[HB_P_CONSTRUCTION].value = HB_SELF_SUPPORTING;
    return tie_middle(&plain, marking, life);
}
