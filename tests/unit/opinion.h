/* SPDX-License-Identifier: GPL-3.0-or-later */
/* opinion.h - a second opinion on a journey: CVODE of SUNDIALS (A. Hindmarsh and others, ACM Trans.
 * Math. Softw. 31 (2005) 363), backward differentiation with its own root-finding for the ends. */
#ifndef HB_TEST_OPINION_H
#define HB_TEST_OPINION_H
#ifdef HB_WITH_SUNDIALS

#include "core/physics.h"

#include <cvode/cvode.h>
#include <nvector/nvector_serial.h>
#include <sunlinsol/sunlinsol_dense.h>
#include <sunmatrix/sunmatrix_dense.h>

enum { OPINION_SIZE = HB_CELLS + HB_Y_EXTRA };

struct opinion {
    struct hb_problem problem;
    SUNContext context;
    N_Vector y, scale;
    SUNMatrix matrix;
    SUNLinearSolver solver;
    void *memory;
    double distance, time;
    enum hb_end end;
};

/* Aborts the program when SUNDIALS refuses anything. tolerance: relative. */
void opinion_open(struct opinion *o, const struct hb_tyre *tyre, const struct hb_journey *journey,
                  double tolerance);
void opinion_travel(struct opinion *o, const struct hb_journey *journey);
void opinion_close(struct opinion *o);

#endif
#endif
