/* SPDX-License-Identifier: GPL-3.0-or-later */
/* physics.h - the physics for one tyre in plain double, as a system of differential equations
 * with its exact Jacobian: what the reference solvers integrate. */
#ifndef HB_CORE_PHYSICS_H
#define HB_CORE_PHYSICS_H

#include "core/journey.h"
#include "core/tyre.h"

/* Places in the state vector behind the wall cells 0..cells-1. */
enum {
    HB_Y_CAVITY,
    HB_Y_TREAD,
    HB_Y_SHOULDER,
    HB_Y_RIM,
    HB_Y_LIFE,
    HB_Y_PRESSURE, /* Pa */
    HB_Y_MADE,     /* J, quadratures of the ledger */
    HB_Y_AIR,
    HB_Y_ROAD,
    HB_Y_EXTRA
};

/* One leg's problem: y' = f(y). */
struct hb_problem {
    const struct hb_tyre *tyre;
    const struct hb_leg *leg;
    int cells; /* 6..HB_CELLS_MAX */
};

/* Number of unknowns: cells + HB_Y_EXTRA. */
int hb_problem_size(const struct hb_problem *problem);
/* f: size values. y: size values, kelvin, pascal, joule. */
void hb_problem_rates(const struct hb_problem *problem, const double *y, double *f);
/* jacobian: size * size values, row by row: d f_i / d y_j, exact except on the kinks (the
 * floors of the two losses, the choking limit of a hole, where reversion begins). */
void hb_problem_jacobian(const struct hb_problem *problem, const double *y, double *jacobian);
/* The event functions in the order of enum hb_end from HB_END_LIFE on; positive: passed. */
enum { HB_EVENTS = 4 };
void hb_problem_events(const struct hb_problem *problem, const double *y, double event[HB_EVENTS]);
/* The record's values that follow from a state (not time, distance, peak). */
void hb_problem_record(const struct hb_problem *problem, const double *y, struct hb_record *record);
/* Heat stored, J. */
double hb_problem_stored(const struct hb_problem *problem, const double *y);
/* State at the start of a journey, life and ledger zero. */
void hb_problem_start(const struct hb_problem *problem, const struct hb_start *start, double *y);

#endif
