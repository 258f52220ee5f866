/* SPDX-License-Identifier: GPL-3.0-or-later */
/* middle.h - the middle tyre of a size, and what the rows do with it. */
#ifndef HB_TEST_VALIDATE_MIDDLE_H
#define HB_TEST_VALIDATE_MIDDLE_H

#include "core/anchor.h"
#include "core/const.h"
#include "core/physics.h"
#include "hobble.h"

/* The size that the sources' figures are compared with where they name none. */
#define USUAL_SIZE "205/55 R16 91V"

/* The tyre at the middle of every default, with the load, speed and air exactly as stated. */
struct middle {
    struct hb_settings settings;
    struct hobble_marking marking;
    struct hb_life_reference life;
    struct hb_tyre tyre;
};

/* Ends the program with a message when the size is refused or cannot be calibrated. */
void middle_make(struct middle *m, const char *marking, int construction);
/* Share of the load of the index, N. */
double middle_load(const struct middle *m, double share);
/* The leg's record after everything has settled in running with air (steady start of a journey). */
struct hb_record middle_steady(const struct hb_tyre *tyre, double kmh, double load, double pressure,
                               double ambient);
/* The tread's temperature (K) there. */
double middle_tread(const struct hb_tyre *tyre, double kmh, double load, double pressure,
                    double ambient);
/* Deflection (m) at 25 degC, unworn. */
double middle_deflection(const struct hb_tyre *tyre, double load, double pressure);
/* One tyre through legs by the reference solver; ends the program when it fails. */
struct hb_outcome middle_run(const struct hb_tyre *tyre, struct hb_start start,
                             const struct hb_leg *leg, size_t legs, struct hb_record *record);
/* A leg without leaks that sets its pressure. */
struct hb_leg middle_leg(double kmh, double load, double ambient_c, double pressure);

#endif
