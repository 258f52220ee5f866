/* SPDX-License-Identifier: GPL-3.0-or-later */
/* page_picture.c - what the page's pictures show of the last question: the drive, the wall in
 * section, and the map. Pictures take a part of the sample; advice never comes from here. */
#include "page/page_entry.h"

#include "core/build.h"
#include "core/const.h"
#include "core/physics.h"

#include <math.h>
#include <string.h>

enum {
    WAY_POINTS = 41,
    WAY_MEMBERS = 100,
    MAP_MEMBERS = 100,
    HISTORY_MAX = 8,
    ARRAY_LEGS = WAY_POINTS + HISTORY_MAX,
    SECTION_TIMES = 41,
    UNKNOWNS = HB_CELLS + HB_Y_EXTRA,
    OUT_MAX = 2048
};

static double out[OUT_MAX];
static struct hb_outcome outcome[WAY_MEMBERS];
static struct hb_record record[WAY_MEMBERS * ARRAY_LEGS];

/* Where pictures are left for the script, in SI. */
HB_PAGE_EXPORT(double *, page_out, void)
{
    return out;
}

static size_t members_of(const struct hb_ensemble *e, size_t most)
{
    return e->arrays.members < most ? e->arrays.members : most;
}

/* ---- the drive ------------------------------------------------------------------------------- */

static double quantile_at(const struct hb_ensemble *e, size_t members, size_t legs, size_t leg,
                          bool life, double p)
{
    double value[WAY_MEMBERS];
    size_t n = 0;
    for (size_t i = 0; i < members; i++)
        if (hb_ensemble_counts(e, i))
            value[n++] = life ? record[i * legs + leg].life : record[i * legs + leg].hottest;
    return n > 0 ? hb_quantile(value, n, p) : (double)NAN;
}

/* Equal parts of the way from now, going on from one another. */
static void cut_way(const struct hb_plan *plan, double distance, struct hb_leg leg[ARRAY_LEGS],
                    struct hb_journey *journey)
{
    *journey = plan->journey;
    journey->leg = leg;
    journey->count = plan->now + WAY_POINTS;
    memcpy(leg, plan->leg, plan->now * sizeof *leg);
    for (size_t i = 0; i < WAY_POINTS; i++) {
        struct hb_leg *part = &leg[plan->now + i];
        *part = plan->leg[plan->now];
        part->kind = i == 0 ? HB_FOR_TIME : HB_FOR_DISTANCE;
        part->extent = i == 0 ? 0.01 : distance / (WAY_POINTS - 1);
        part->goes_on = i > 0;
    }
}

/* Seven numbers a point: distance, the hottest wall's 5, 50 and 95 of 100 (K), the life's. The
 * number of points, or 0. */
HB_PAGE_EXPORT(int, page_way, double distance)
{
    const struct hb_page_view v = hb_page_look();
    struct hb_leg leg[ARRAY_LEGS];
    struct hb_journey journey;
    struct hb_plan plan;
    if (!v.answer || !(distance >= 1e3 && distance <= 2000e3) ||
        v.question->past.count > HISTORY_MAX)
        return 0;
    const struct hb_ensemble *e = v.ensemble;
    const struct hb_step_control steps = hb_step_control_default();
    const size_t members = members_of(e, WAY_MEMBERS);
    hb_plan_advised(v.question, distance, &plan);
    cut_way(&plan, distance, leg, &journey);
    hb_integrate_many(&journey, &steps, e->arrays.tyre, members, outcome, record);
    for (size_t k = 0; k < WAY_POINTS; k++) {
        double *point = &out[7 * k];
        point[0] = distance * (double)k / (WAY_POINTS - 1);
        static const double p[] = {0.05, 0.50, 0.95};
        for (int i = 0; i < 6; i++)
            point[1 + i] = quantile_at(e, members, journey.count, plan.now + k, i >= 3, p[i % 3]);
    }
    return WAY_POINTS;
}

/* ---- the wall in section --------------------------------------------------------------------- */

/* a x = b by elimination with row exchanges; x in b. The matrix of an implicit step: never singular
 * for the steps taken here, and a picture only. */
static void eliminate(double a[UNKNOWNS][UNKNOWNS], double b[UNKNOWNS], int n)
{
    for (int c = 0; c < n; c++) {
        int best = c;
        for (int r = c + 1; r < n; r++)
            best = fabs(a[r][c]) > fabs(a[best][c]) ? r : best;
        for (int k = 0; k < n; k++) {
            const double t = a[c][k];
            a[c][k] = a[best][k];
            a[best][k] = t;
        }
        const double t = b[c];
        b[c] = b[best];
        b[best] = t;
        for (int r = c + 1; r < n; r++) {
            const double f = a[c][c] != 0.0 ? a[r][c] / a[c][c] : 0.0;
            for (int k = c; f != 0.0 && k < n; k++)
                a[r][k] -= f * a[c][k];
            b[r] -= f * b[c];
        }
    }
    for (int r = n - 1; r >= 0; r--) {
        for (int k = r + 1; k < n; k++)
            b[r] -= a[r][k] * b[k];
        b[r] = a[r][r] != 0.0 ? b[r] / a[r][r] : 0.0;
    }
}

/* One linearly implicit Euler step with the core's own rates and exact Jacobian. */
static void step(const struct hb_problem *problem, double dt, double y[UNKNOWNS])
{
    static double a[UNKNOWNS][UNKNOWNS], jacobian[UNKNOWNS * UNKNOWNS], f[UNKNOWNS];
    const int n = hb_problem_size(problem);
    hb_problem_rates(problem, y, f);
    hb_problem_jacobian(problem, y, jacobian);
    for (int r = 0; r < n; r++) {
        for (int c = 0; c < n; c++)
            a[r][c] = (r == c ? 1.0 : 0.0) - dt * jacobian[r * n + c];
        f[r] *= dt;
    }
    eliminate(a, f, n);
    for (int r = 0; r < n; r++)
        y[r] += f[r];
}

/* Takes the wall through a time, in steps that grow since conditions changed. */
static void go(const struct hb_problem *problem, double time, double *since, double y[UNKNOWNS])
{
    for (double done = 0.0; done < time;) {
        const double dt = fmin(fmax(1.0, 0.05 * *since), time - done);
        step(problem, dt, y);
        done += dt;
        *since += dt;
    }
}

/* Cells and surroundings of the middle tyre as a row of the picture. */
static void write_row(double time, const double y[UNKNOWNS], double *row)
{
    row[0] = time;
    for (int i = 0; i < HB_CELLS; i++)
        row[1 + i] = y[i];
    row[1 + HB_CELLS] = y[HB_CELLS + HB_Y_CAVITY];
    row[2 + HB_CELLS] = y[HB_CELLS + HB_Y_LIFE];
}

/* Rows of 15 numbers: time from now (s), the wall's cells from the liner outwards (K), the air in
 * the cavity (K), life used; of the middle tyre over a distance at the advised speed. The number of
 * rows, or 0. */
HB_PAGE_EXPORT(int, page_section, double distance)
{
    const struct hb_page_view v = hb_page_look();
    if (!v.answer || !(distance >= 1e3 && distance <= 2000e3))
        return 0;
    struct hb_plan plan;
    struct hb_tyre tyre;
    double y[UNKNOWNS];
    if (hb_ensemble_middle(v.ensemble, &tyre) != HOBBLE_OK)
        return 0;
    hb_plan_advised(v.question, distance, &plan);
    struct hb_problem problem = {&tyre, &plan.leg[0], HB_CELLS};
    hb_problem_start(&problem, &plan.journey.start, y);
    for (size_t i = 0; i <= plan.now; i++) {
        const struct hb_leg *leg = &plan.leg[i];
        double since = 0.0;
        problem.leg = leg;
        if (leg->set_pressure)
            y[HB_CELLS + HB_Y_PRESSURE] = leg->pressure;
        const double time = leg->kind == HB_FOR_TIME ? leg->extent : leg->extent / leg->speed;
        if (i < plan.now) {
            go(&problem, time, &since, y);
            continue;
        }
        write_row(0.0, y, out);
        for (int k = 1; k < SECTION_TIMES; k++) {
            go(&problem, time / (SECTION_TIMES - 1), &since, y);
            if (y[HB_CELLS + HB_Y_LIFE] >= 1.0) /* there is no tyre any more */
                return k;
            write_row(time * k / (SECTION_TIMES - 1), y, &out[k * (HB_CELLS + 3)]);
        }
    }
    return SECTION_TIMES;
}

/* ---- the map --------------------------------------------------------------------------------- */

/* One place of the map: the distance from now that 95 of 100 tyres reach (out[0]) and half of them
 * (out[1]), with this speed (m/s) and share of the index, the history driven at that load too. */
HB_PAGE_EXPORT(int, page_map, double speed, double load_share)
{
    const struct hb_page_view v = hb_page_look();
    if (!v.answer || !(speed >= 1.0 && speed <= 70.0) || !(load_share >= 0.1 && load_share <= 1.5))
        return 0;
    struct hb_question q = *v.question;
    struct hb_ensemble e = *v.ensemble;
    struct hb_plan plan;
    if (q.past.count + 1 > ARRAY_LEGS)
        return 0;
    q.load = load_share * q.index_load;
    for (size_t i = 0; i < q.past.count; i++)
        q.past.leg[i].load = q.load;
    e.question = &q;
    e.arrays.members = members_of(v.ensemble, MAP_MEMBERS);
    e.arrays.outcome = outcome;
    e.arrays.record = record;
    const struct hb_step_control steps = hb_step_control_default();
    const struct hb_way way = {speed, q.load, 0.0, false, HB_AS_DRIVEN};
    hb_plan_from_now(&q, &way, &plan);
    hb_integrate_many(&plan.journey, &steps, e.arrays.tyre, e.arrays.members, outcome, record);
    const struct hobble_band band = hb_ensemble_band(&e, &plan);
    out[0] = band.p5;
    out[1] = band.p50;
    return 2;
}
