/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifdef HB_WITH_SUNDIALS

#include "independent.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { SIZE = INDEPENDENT_SIZE };

#define need(held)                                                                                 \
    do {                                                                                           \
        if (!(held)) {                                                                             \
            fprintf(stderr, "CVODE: %s\n", #held);                                                 \
            abort();                                                                               \
        }                                                                                          \
    } while (0)

static int rates(realtype time, N_Vector y, N_Vector f, void *user)
{
    const struct independent_solver *o = user;

    (void)time;
    hb_problem_rates(&o->problem, N_VGetArrayPointer(y), N_VGetArrayPointer(f));
    return 0;
}

static int jacobian(realtype time, N_Vector y, N_Vector f, SUNMatrix matrix, void *user,
                    N_Vector one, N_Vector two, N_Vector three)
{
    const struct independent_solver *o = user;
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
    const struct independent_solver *o = user;

    (void)time;
    hb_problem_events(&o->problem, N_VGetArrayPointer(y), event);
    return 0;
}

void independent_open(struct independent_solver *o, const struct hb_tyre *tyre,
                      const struct hb_journey *journey, double tolerance)
{
    memset(o, 0, sizeof *o);
    o->problem = (struct hb_problem){tyre, journey->leg, HB_CELLS};
    need(SUNContext_Create(NULL, &o->context) == 0);
    o->y = N_VNew_Serial(SIZE, o->context);
    o->scale = N_VNew_Serial(SIZE, o->context);
    o->matrix = SUNDenseMatrix(SIZE, SIZE, o->context);
    need(o->y && o->scale && o->matrix);
    o->solver = SUNLinSol_Dense(o->y, o->matrix, o->context);
    o->memory = CVodeCreate(CV_BDF, o->context);
    need(o->solver && o->memory);
    double *scale = N_VGetArrayPointer(o->scale);
    for (int i = 0; i < SIZE; i++)
        scale[i] = i < HB_CELLS + HB_Y_LIFE ? 1e-8 : 1e-3; /* K; J */
    scale[HB_CELLS + HB_Y_LIFE] = 1e-11;
    scale[HB_CELLS + HB_Y_PRESSURE] = 1e-6; /* Pa */
    hb_problem_start(&o->problem, &journey->start, N_VGetArrayPointer(o->y));
    need(CVodeInit(o->memory, rates, 0.0, o->y) == CV_SUCCESS);
    need(CVodeSVtolerances(o->memory, tolerance, o->scale) == CV_SUCCESS);
    need(CVodeSetUserData(o->memory, o) == CV_SUCCESS);
    need(CVodeSetLinearSolver(o->memory, o->solver, o->matrix) == CV_SUCCESS);
    need(CVodeSetJacFn(o->memory, jacobian) == CV_SUCCESS);
    need(CVodeRootInit(o->memory, HB_EVENTS, events) == CV_SUCCESS);
    need(CVodeSetMaxNumSteps(o->memory, 500000) == CV_SUCCESS);
}

void independent_close(struct independent_solver *o)
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
static void drive(struct independent_solver *o, const struct hb_leg *leg, double seconds)
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
    need(CVodeReInit(o->memory, 0.0, o->y) == CV_SUCCESS);
    need(CVodeSetStopTime(o->memory, seconds) == CV_SUCCESS);
    const int result = CVode(o->memory, seconds, o->y, &reached, CV_NORMAL);
    need(result == CV_SUCCESS || result == CV_TSTOP_RETURN || result == CV_ROOT_RETURN);
    if (result == CV_ROOT_RETURN) {
        need(CVodeGetRootInfo(o->memory, passed) == CV_SUCCESS);
        o->end = first_of(passed);
    }
    o->time += reached;
    o->distance += reached * leg->speed * o->problem.tyre->speed_factor;
}

/* The whole journey; what a leg lasts is written down again from journey.h. */
void independent_travel(struct independent_solver *o, const struct hb_journey *journey)
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

#else
typedef int independent_without_sundials; /* a file must not be empty */
#endif
