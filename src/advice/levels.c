/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/levels.h"

#include "advice/facts.h"

#include <math.h>

#define YEARS_UNSTATED 10.0 /* assumed: the age over which a tyre is replaced */
#define YEARS_USED     2.0  /* from here on a tyre scatters as the used ones did (assumed) */
#define LEAST_LEFT     1e-3 /* of life: nobody drives on a tyre that has none */

struct hb_unit hb_unit_as_stated(const struct hb_settings *s, bool example)
{
    const double years = hb_years_at_most(s);
    const int flat = hb_setting_word(s, HB_P_RAN_FLAT);
    const bool flat_open = flat == HB_NOT_KNOWN && !example;
    const bool repair_open = hb_setting_word(s, HB_P_REPAIRED) == HB_NOT_KNOWN && !example;
    return (struct hb_unit){
        .years = isnan(years) ? (example ? 0.0 : YEARS_UNSTATED) : years,
        .flat_chance = flat == HB_YES ? 1.0
                       : flat_open    ? hb_setting_value(s, HB_P_FLAT_CHANCE)
                                      : 0.0,
        .repaired = hb_was_repaired(s) || repair_open,
    };
}

struct hb_unit hb_unit_at_best(const struct hb_settings *s)
{
    const double years = hb_years_at_most(s);
    return (struct hb_unit){
        .years = isnan(years) ? 0.0 : years,
        .flat_chance = hb_setting_word(s, HB_P_RAN_FLAT) == HB_YES ? 1.0 : 0.0,
        .repaired = hb_was_repaired(s),
    };
}

bool hb_unit_same(const struct hb_unit *a, const struct hb_unit *b)
{
    return !(a->years < b->years) && !(a->years > b->years) && a->repaired == b->repaired &&
           !(a->flat_chance < b->flat_chance) && !(a->flat_chance > b->flat_chance);
}

double hb_unit_scatter(const struct hb_settings *s, double years)
{
    const double used = fmin(years / YEARS_USED, 1.0);
    return hypot(s->row[HB_P_LIFE_UNIT].spread, used * hb_setting_value(s, HB_P_LIFE_USE));
}

static double normal_of(const double *normal, enum hb_param_id id)
{
    return normal ? normal[hb_param_dimension(id)] : 0.0;
}

/* Part of its life that a tyre which ran flat before has left; one that did not has all of it. */
static double left_of(const struct hb_settings *s, const struct hb_unit *unit, const double *normal)
{
    const double chance = hb_normal_below(normal_of(normal, HB_P_FLAT_LOSS));
    if (!(chance < unit->flat_chance))
        return 1.0;
    const double place = 2.0 * chance / unit->flat_chance - 1.0;
    const double lost = hb_setting_value(s, HB_P_FLAT_LOSS) - s->row[HB_P_FLAT_LOSS].spread * place;
    return fmax(1.0 - fmax(lost, 0.0), LEAST_LEFT);
}

double hb_unit_life(const struct hb_settings *s, const struct hb_unit *unit,
                    const struct hb_draw *draw, const double *normal)
{
    const double z = normal_of(normal, HB_P_LIFE_UNIT);
    const double of_unit = exp(z * hb_unit_scatter(s, unit->years) -
                               hb_setting_value(s, HB_P_LIFE_AGEING) * unit->years);
    return hb_setting_value(s, HB_P_LIFE_UNIT) * of_unit * draw->value[HB_P_LIFE_ROAD] *
           (unit->repaired ? draw->value[HB_P_LIFE_REPAIR] : 1.0) * left_of(s, unit, normal);
}

void hb_unit_take(const struct hb_settings *s, const struct hb_unit *unit,
                  const struct hb_draw *draw, const double *normal, struct hb_tyre *tyre)
{
    tyre->life_per_metre /= hb_unit_life(s, unit, draw, normal);
    hb_work_harder(tyre, draw->value[HB_P_WALL_WORK]);
    tyre->load_factor = draw->value[HB_P_LOAD_ERROR];
    tyre->speed_factor = draw->value[HB_P_SPEED_ERROR];
    tyre->ambient_shift = draw->value[HB_P_AMBIENT_ERROR];
}

enum hobble_status hb_unit_middle(const struct hb_settings *settings,
                                  const struct hobble_marking *marking, const struct hb_unit *unit,
                                  struct hb_tyre *tyre)
{
    struct hb_life_reference life;
    struct hb_draw draw;
    const enum hobble_status status = hb_calibrate(settings, marking, &life);
    if (status != HOBBLE_OK)
        return status;
    hb_draw(settings, NULL, &draw);
    hb_build(settings, marking, &draw, &life, tyre);
    hb_unit_take(settings, unit, &draw, NULL, tyre);
    return HOBBLE_OK;
}
