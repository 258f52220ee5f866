/* SPDX-License-Identifier: GPL-3.0-or-later */
/* build.h - from settings to a tyre in SI. */
#ifndef HB_CORE_BUILD_H
#define HB_CORE_BUILD_H

#include "core/journey.h"
#include "core/param.h"
#include "core/tyre.h"

/* What the life law is measured against: a tyre's own state at the end of its approval test. */
struct hb_life_reference {
    double energy;      /* J/m^3 lost per turn at the inner face at the end of the test */
    double temperature; /* K of the inner face there */
    double revolutions; /* N_ref */
};

/* One draw: a value for every row, in the row's unit. */
struct hb_draw {
    double value[HB_PARAM_COUNT];
};

/* Draws all rows. normal: standard normal numbers, one a dimension of the sample cube, or NULL
 * for the middle tyre. Values are cut to their rows' limits, and the activation energy to at
 * least 5 kJ/mol for each unit of the life power (below that, range would rise with heat); the
 * margin is drawn above one, not cut. */
void hb_draw(const struct hb_settings *settings, const double *normal, struct hb_draw *draw);

/* Secant stiffness of the middle tyre at no pressure and 65 % of the index, N/m. */
double hb_flat_stiffness(const struct hb_settings *settings, const struct hobble_marking *marking);

/* Share of a standard normal distribution below z, 0..1. */
double hb_normal_below(double z);
/* Real wheel load over the stated one: as given, or by how well the load is known. */
void hb_load_error(const struct hb_settings *settings, double *mean, double *spread);

/* Builds a middling new unit of a drawn type, on a flat straight road, with load, speed and ambient
 * as stated. life: NULL leaves life without limit, for hb_anchor. */
void hb_build(const struct hb_settings *settings, const struct hobble_marking *marking,
              const struct hb_draw *draw, const struct hb_life_reference *life,
              struct hb_tyre *tyre);

/* Puts a tyre on a smooth drum of this radius (m), or back on a road (INFINITY). */
void hb_put_on_drum(struct hb_tyre *tyre, double drum_radius);

/* Has one wall do so much more (0..0.5) than its share of the bending work, and the other so much
 * less: its life is what ends the range. In life, for one wall that is hotter as a whole is no
 * stand-in (docs/model.md); within 2 % in range up to 0.1. */
void hb_work_harder(struct hb_tyre *tyre, double more);

/* The approval test of UN R30 (from memory, unconfirmed): drum of 1.70 m, room and start at
 * 38 degC, 5 min to reach 80 km/h, then minutes at 80 km/h, 65 % of the index, no air. */
enum { HB_DRUM_LEGS = 2 };
struct hb_drum_test {
    struct hb_leg leg[HB_DRUM_LEGS];
    struct hb_journey journey; /* points at leg: do not copy one without the other */
};
void hb_drum_test(const struct hobble_marking *marking, double seconds, struct hb_drum_test *test);
#define HB_DRUM_RADIUS        0.85  /* m */
#define HB_DRUM_RUN_UP        300.0 /* s */
#define HB_DRUM_LOAD_SHARE    0.65
#define HB_DRUM_HEIGHT_CHANGE 0.20

/* Values that depend on the construction where the profile gives none. */
double hb_drum_test_seconds(const struct hb_settings *settings);
/* Whether a construction (enum hb_construction) is one whose mark says that it passed the test. */
bool hb_has_drum_test(enum hb_construction construction);
/* Load of the index in N. */
double hb_index_load(const struct hobble_marking *marking);
/* Coefficient (1/s) of a hole of this diameter (m) in a cavity of this volume (m^3), air at this
 * temperature (K), discharge coefficient 0.6: see hb_leak in physics.inc. */
double hb_hole_coefficient(double diameter, double volume, double temperature);
/* Volume of the cavity, m^3. */
double hb_cavity_volume(const struct hobble_marking *marking);

#endif
