/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test_cvode.c - a second opinion on the reference: CVODE of SUNDIALS (A. Hindmarsh and others,
 * ACM Trans. Math. Softw. 31 (2005) 363), backward differentiation at a relative tolerance of
 * 1e-10, with its own root-finding for the ends. */
#ifdef HB_WITH_SUNDIALS

#include "core/physics.h"
#include "random_case.h"
#include "solve/reference.h"

#include <check.h>
#include <cvode/cvode.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_sort.h>
#include <math.h>
#include <nvector/nvector_serial.h>
#include <stdio.h>
#include <string.h>
#include <sunlinsol/sunlinsol_dense.h>
#include <sunmatrix/sunmatrix_dense.h>

Suite *cvode_suite(void);

#define NEED(held, ...)                                                                            \
    do {                                                                                           \
        if (!(held))                                                                               \
            ck_abort_msg(__VA_ARGS__);                                                             \
    } while (0)

enum { SIZE = HB_CELLS + HB_Y_EXTRA };

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

static int rates(realtype time, N_Vector y, N_Vector f, void *user)
{
    const struct opinion *o = user;

    (void)time;
    hb_problem_rates(&o->problem, N_VGetArrayPointer(y), N_VGetArrayPointer(f));
    return 0;
}

static int jacobian(realtype time, N_Vector y, N_Vector f, SUNMatrix matrix, void *user,
                    N_Vector one, N_Vector two, N_Vector three)
{
    const struct opinion *o = user;
    double rows[SIZE * SIZE];

    (void)time, (void)f, (void)one, (void)two, (void)three;
    hb_problem_jacobian(&o->problem, N_VGetArrayPointer(y), rows);
    for (int i = 0; i < SIZE; i++)
        for (int j = 0; j < SIZE; j++)
            SM_ELEMENT_D(matrix, i, j) = rows[i * SIZE + j];
    return 0;
}

static int events(realtype time, N_Vector y, realtype *event, void *user)
{
    const struct opinion *o = user;

    (void)time;
    hb_problem_events(&o->problem, N_VGetArrayPointer(y), event);
    return 0;
}

static void open_opinion(struct opinion *o, const struct random_case *made)
{
    memset(o, 0, sizeof *o);
    o->problem = (struct hb_problem){&made->tyre, made->leg, HB_CELLS};
    ck_assert_int_eq(SUNContext_Create(NULL, &o->context), 0);
    o->y = N_VNew_Serial(SIZE, o->context);
    o->scale = N_VNew_Serial(SIZE, o->context);
    o->matrix = SUNDenseMatrix(SIZE, SIZE, o->context);
    ck_assert(o->y && o->scale && o->matrix);
    o->solver = SUNLinSol_Dense(o->y, o->matrix, o->context);
    o->memory = CVodeCreate(CV_BDF, o->context);
    ck_assert(o->solver && o->memory);
    double *scale = N_VGetArrayPointer(o->scale);
    for (int i = 0; i < SIZE; i++)
        scale[i] = i < HB_CELLS + HB_Y_LIFE ? 1e-8 : 1e-3; /* K; J */
    scale[HB_CELLS + HB_Y_LIFE] = 1e-11;
    scale[HB_CELLS + HB_Y_PRESSURE] = 1e-6; /* Pa */
    hb_problem_start(&o->problem, &made->journey.start, N_VGetArrayPointer(o->y));
    ck_assert_int_eq(CVodeInit(o->memory, rates, 0.0, o->y), CV_SUCCESS);
    ck_assert_int_eq(CVodeSVtolerances(o->memory, 1e-10, o->scale), CV_SUCCESS);
    ck_assert_int_eq(CVodeSetUserData(o->memory, o), CV_SUCCESS);
    ck_assert_int_eq(CVodeSetLinearSolver(o->memory, o->solver, o->matrix), CV_SUCCESS);
    ck_assert_int_eq(CVodeSetJacFn(o->memory, jacobian), CV_SUCCESS);
    ck_assert_int_eq(CVodeRootInit(o->memory, HB_EVENTS, events), CV_SUCCESS);
    ck_assert_int_eq(CVodeSetMaxNumSteps(o->memory, 500000), CV_SUCCESS);
}

static void close_opinion(struct opinion *o)
{
    CVodeFree(&o->memory);
    SUNLinSolFree(o->solver);
    SUNMatDestroy(o->matrix);
    N_VDestroy(o->y);
    N_VDestroy(o->scale);
    SUNContext_Free(&o->context);
}

/* The first limit that is passed, of those marked. */
static enum hb_end first_of(const int passed[HB_EVENTS])
{
    for (int e = 0; e < HB_EVENTS; e++)
        if (passed[e])
            return (enum hb_end)(HB_END_LIFE + e);
    return HB_END_NONE;
}

/* One leg of so many real seconds. */
static void drive(struct opinion *o, const struct hb_leg *leg, double seconds)
{
    double *y = N_VGetArrayPointer(o->y);
    double event[HB_EVENTS], reached = 0.0;
    int passed[HB_EVENTS];

    o->problem.leg = leg;
    if (leg->set_pressure)
        y[HB_CELLS + HB_Y_PRESSURE] = leg->pressure;
    hb_problem_events(&o->problem, y, event);
    for (int e = 0; e < HB_EVENTS; e++)
        passed[e] = event[e] >= 0.0;
    o->end = first_of(passed);
    if (o->end != HB_END_NONE || seconds <= 0.0)
        return;
    ck_assert_int_eq(CVodeReInit(o->memory, 0.0, o->y), CV_SUCCESS);
    ck_assert_int_eq(CVodeSetStopTime(o->memory, seconds), CV_SUCCESS);
    const int result = CVode(o->memory, seconds, o->y, &reached, CV_NORMAL);
    NEED(result == CV_SUCCESS || result == CV_TSTOP_RETURN || result == CV_ROOT_RETURN,
         "CVODE returned %d", result);
    if (result == CV_ROOT_RETURN) {
        ck_assert_int_eq(CVodeGetRootInfo(o->memory, passed), CV_SUCCESS);
        o->end = first_of(passed);
    }
    o->time += reached;
    o->distance += reached * leg->speed * o->problem.tyre->speed_factor;
}

/* The whole journey; what a leg lasts is written down again from journey.h. */
static void travel(struct opinion *o, const struct hb_journey *journey)
{
    double stated_time = 0.0, stated_way = 0.0;

    for (size_t l = 0; l < journey->count && o->end == HB_END_NONE; l++) {
        const struct hb_leg *leg = &journey->leg[l];
        double stated = leg->extent, real;
        if (leg->kind == HB_FOR_DISTANCE) {
            stated = leg->extent / leg->speed;
            real = leg->extent / (leg->speed * o->problem.tyre->speed_factor);
        } else {
            if (leg->kind == HB_UNTIL_END)
                stated = fmin(journey->horizon_time - stated_time,
                              (journey->horizon_distance - stated_way) / leg->speed);
            real = stated;
        }
        drive(o, leg, real);
        stated_time += stated;
        stated_way += stated * leg->speed;
    }
    if (o->end == HB_END_NONE)
        o->end = HB_END_HORIZON;
}

/* Claimed: the ranges agree within 0.1 %. HOBBLE_TEST_CVODE: how many questions. */
START_TEST(range_of_both)
{
    enum { MOST = 2000 };
    static double range[MOST], heat[MOST];
    struct random_source source = {21};
    const struct hb_reference_options options = hb_reference_default();
    const int count = random_count("HOBBLE_TEST_CVODE", 40);
    int ends[HB_END_COUNT] = {0};

    for (int i = 0; i < count && i < MOST; i++) {
        struct random_case made;
        struct hb_outcome got;
        struct opinion o;
        random_case(&source, i % 4 ? RANDOM_HISTORY : RANDOM_PLAIN, &made);
        NEED(hb_reference_run(&made.journey, &made.tyre, &options, &got, NULL) == HOBBLE_OK,
             "not solved: %s", made.text);
        open_opinion(&o, &made);
        travel(&o, &made.journey);
        const double *y = N_VGetArrayPointer(o.y);
        range[i] = fabs(got.distance - o.distance) / fmax(o.distance, 1e3);
        heat[i] = fabs(got.made - y[HB_CELLS + HB_Y_MADE]) / fmax(got.made, 1e3);
        NEED(got.end == o.end, "ends differ, %d and %d: %s", (int)got.end, (int)o.end, made.text);
        NEED(range[i] < 1e-3, "range %.1f m, CVODE %.1f m: %s", got.distance, o.distance,
             made.text);
        NEED(heat[i] < 1e-3, "heat %.6g J, CVODE %.6g J: %s", got.made, y[HB_CELLS + HB_Y_MADE],
             made.text);
        ends[o.end]++;
        close_opinion(&o);
    }
    gsl_sort(range, 1, (size_t)count);
    gsl_sort(heat, 1, (size_t)count);
    printf(
        "reference and CVODE, %d questions (life %d, heat %d, rim %d, shoulder %d, horizon %d)\n",
        count, ends[HB_END_LIFE], ends[HB_END_HEAT], ends[HB_END_RIM], ends[HB_END_SHOULDER],
        ends[HB_END_HORIZON]);
    printf("range: median %.1e, most %.1e; heat made: median %.1e, most %.1e\n", range[count / 2],
           range[count - 1], heat[count / 2], heat[count - 1]);
}
END_TEST

static void quiet_gsl(void)
{
    gsl_set_error_handler_off();
}

Suite *cvode_suite(void)
{
    Suite *suite = suite_create("cvode");
    TCase *both = tcase_create("reference and CVODE");

    tcase_add_unchecked_fixture(both, quiet_gsl, NULL);
    tcase_set_timeout(both, 600);
    tcase_add_test(both, range_of_both);
    suite_add_tcase(suite, both);
    return suite;
}

#else

typedef int hb_no_cvode; /* a file may not be empty */

#endif
