/* SPDX-License-Identifier: GPL-3.0-or-later */
/* levels.h - from a type to this unit of it, on this road: what its age and its past cost it. */
#ifndef HB_ADVICE_LEVELS_H
#define HB_ADVICE_LEVELS_H

#include "core/anchor.h"
#include "core/param.h"

/* What is known of a unit. What is not stated is in it at its worst. */
struct hb_unit {
    double years;       /* of age, >= 0 */
    double flat_chance; /* that it ran flat before, 0..1 */
    bool repaired;      /* it was, or may have been */
};

/* As stated: ten years old, perhaps repaired, perhaps run flat where nothing is (example: new and
 * whole, as the built-in tyre is). */
struct hb_unit hb_unit_as_stated(const struct hb_settings *settings, bool example);
/* The best that what was stated leaves open: what is not stated is good. */
struct hb_unit hb_unit_at_best(const struct hb_settings *settings);
/* Whether the two are one. */
bool hb_unit_same(const struct hb_unit *a, const struct hb_unit *b);

/* Makes a unit of a type built by hb_build: takes its life, the harder-worked wall, and the errors
 * of load, speed and ambient. draw and normal: as of hb_draw (normal may be NULL). */
void hb_unit_take(const struct hb_settings *settings, const struct hb_unit *unit,
                  const struct hb_draw *draw, const double *normal, struct hb_tyre *tyre);

/* Factor on the life of the type that a unit's age and past leave it on the road, > 0. */
double hb_unit_life(const struct hb_settings *settings, const struct hb_unit *unit,
                    const struct hb_draw *draw, const double *normal);

/* The middle tyre of settings and marking as this unit, load and speed as stated. */
enum hobble_status hb_unit_middle(const struct hb_settings *settings,
                                  const struct hobble_marking *marking, const struct hb_unit *unit,
                                  struct hb_tyre *tyre);

/* Scatter of the logarithm of life among units of this age. */
double hb_unit_scatter(const struct hb_settings *settings, double years);

#endif
