/* SPDX-License-Identifier: GPL-3.0-or-later */
/* independent.h - an independent solution of a journey: CVODE of SUNDIALS (A. Hindmarsh and others,
 * ACM Trans. Math. Softw. 31 (2005) 363), backward differentiation with its own root-finding for
 * the ends. */
#ifndef HB_TEST_INDEPENDENT_H
#define HB_TEST_INDEPENDENT_H
#ifdef HB_WITH_SUNDIALS

#include "core/physics.h"

#include <cvode/cvode.h>
#include <nvector/nvector_serial.h>
#include <sunlinsol/sunlinsol_dense.h>
#include <sunmatrix/sunmatrix_dense.h>

enum { INDEPENDENT_SIZE = HB_CELLS + HB_Y_EXTRA };

struct independent_solver {
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
void independent_open(struct independent_solver *o, const struct hb_tyre *tyre,
                      const struct hb_journey *journey, double tolerance);
void independent_travel(struct independent_solver *o, const struct hb_journey *journey);
void independent_close(struct independent_solver *o);

#endif
#endif
