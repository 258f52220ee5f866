/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The physics of physics.inc in plain double, its exact Jacobian, and the steady start. */
#include "core/physics.h"

#include "core/const.h"
#include "core/vector.h"

#include <math.h>
#include <string.h>

#define REAL     double
#define OP(name) hb_one_##name
#define FN(name) name##_one
#define TYRE     struct hb_tyre
#define ROOM     HB_CELLS_MAX
#include "core/physics.inc"

/* Newton from a quarter of the section height: three steps from a root fourteen times smaller,
 * then quadratic; the rest is reserve. */
enum { BEND_ITERATIONS = 14, STEADY_ITERATIONS = 40, UNKNOWNS_MAX = HB_CELLS_MAX + HB_Y_EXTRA };

/* Everything that is known at one state. */
struct view {
    int cells;
    double share[HB_CELLS_MAX];
    struct hb_scene_one scene;
    struct hb_state_one state;
    struct hb_links_one link;
    struct hb_flex_one flex;
    double warm; /* mean of the wall above 25 degC, K */
};

int hb_problem_size(const struct hb_problem *problem)
{
    return problem->cells + HB_Y_EXTRA;
}

static void see(const struct hb_problem *problem, const double *y, struct view *v)
{
    const struct hb_tyre *t = problem->tyre;
    const struct hb_leg *leg = problem->leg;
    const int n = v->cells = problem->cells;
    v->scene = (struct hb_scene_one){.speed = leg->speed * t->speed_factor,
                                     .load = leg->load * t->load_factor,
                                     .ambient = leg->ambient + t->ambient_shift,
                                     .leak_rate = leg->leak_rate,
                                     .hole = leg->hole,
                                     .leaks = 1};
    for (int i = 0; i < n; i++) {
        v->share[i] = hb_heat_share(i, n);
        v->state.wall[i] = y[i];
    }
    v->state.cavity = y[n + HB_Y_CAVITY];
    v->state.tread = y[n + HB_Y_TREAD];
    v->state.shoulder = y[n + HB_Y_SHOULDER];
    v->state.rim = y[n + HB_Y_RIM];
    v->state.life = y[n + HB_Y_LIFE];
    v->state.pressure = y[n + HB_Y_PRESSURE];
    v->warm = hb_wall_mean_one(&v->state, n, v->share) - HB_KELVIN_25C;
    v->link = hb_link_one(t, &v->scene, n);
    v->flex = hb_bend_one(t, &v->scene, &v->link, n, v->share, &v->state, NULL, BEND_ITERATIONS);
}

void hb_problem_rates(const struct hb_problem *problem, const double *y, double *f)
{
    struct view v;
    struct hb_state_one rate;
    see(problem, y, &v);
    const int n = v.cells;
    hb_rates_one(problem->tyre, &v.scene, n, v.share, &v.state, &v.link, &v.flex, &rate);
    memcpy(f, rate.wall, (size_t)n * sizeof *f);
    f[n + HB_Y_CAVITY] = rate.cavity;
    f[n + HB_Y_TREAD] = rate.tread;
    f[n + HB_Y_SHOULDER] = rate.shoulder;
    f[n + HB_Y_RIM] = rate.rim;
    f[n + HB_Y_LIFE] = rate.life;
    f[n + HB_Y_PRESSURE] = rate.pressure;
    f[n + HB_Y_MADE] = (v.flex.force + v.flex.roll) * v.scene.speed;
    f[n + HB_Y_AIR] = hb_to_air_one(&v.scene, n, &v.state, &v.link, v.flex.outer, v.flex.force);
    f[n + HB_Y_ROAD] = hb_to_road_one(&v.scene, &v.state, &v.link);
}

/* ---- the Jacobian ---------------------------------------------------------------------------
 * The flexing depends on three numbers only: mean temperature of the wall, life used, pressure;
 * the rolling of tread and belt also on the tread's own temperature. */

struct slopes {
    double mean, life, pressure, tread;
};

/* Derivatives of the two resisting forces. */
static void bend_slopes(const struct hb_tyre *t, const struct view *v, struct slopes *force,
                        struct slopes *roll)
{
    const struct hb_flex_one *f = &v->flex;
    const double d = f->deflection, life = v->state.life;
    const double contact_slope =
        2.89 * t->curvature_radius * (1.0 - d / t->free_radius) / f->contact;
    const struct slopes stiffness = {.mean = -t->modulus_slope * f->stiffness,
                                     .life = life > 0.0 && life < 1.0
                                                 ? -t->softening * f->stiffness /
                                                       (1.0 - t->softening * life)
                                                 : 0.0};
    const struct slopes bend = {
        .mean = -f->give * stiffness.mean, .life = -f->give * stiffness.life, .pressure = -f->sink};
    const bool above_floor = exp(-t->loss_slope * v->warm) > t->loss_floor;
    const double loss_part = above_floor ? -t->loss_slope : 0.0; /* d ln(loss) / d mean */
    const double part = f->force / f->stiffness, twice = 2.0 * f->force / d;
    force->mean = f->force * loss_part + part * stiffness.mean + twice * bend.mean;
    force->life = part * stiffness.life + twice * bend.life;
    force->pressure = twice * bend.pressure;
    force->tread = 0.0;
    const double rolls = t->roll_slope * v->scene.load * f->fade *
                         (f->contact - d * contact_slope) / (f->contact * f->contact);
    *roll = (struct slopes){rolls * bend.mean, rolls * bend.life, rolls * bend.pressure,
                            f->fade > t->roll_floor ? -t->roll_fade * f->roll : 0.0};
}

/* Adds to a row: (a dF + b dR) where F and R are the two resisting forces. */
static void add_forces(const struct view *v, double *row, double a, const struct slopes *force,
                       double b, const struct slopes *roll)
{
    const int n = v->cells;
    const double mean = a * force->mean + b * roll->mean;
    for (int i = 0; i < n; i++)
        row[i] += mean * v->share[i];
    row[n + HB_Y_LIFE] += a * force->life + b * roll->life;
    row[n + HB_Y_PRESSURE] += a * force->pressure + b * roll->pressure;
    row[n + HB_Y_TREAD] += a * force->tread + b * roll->tread;
}

/* One conductance between two places with their capacities. */
static void link_places(double *jacobian, int size, int a, double capacity_a, int b,
                        double capacity_b, double conductance)
{
    jacobian[a * size + a] -= conductance / capacity_a;
    jacobian[a * size + b] += conductance / capacity_a;
    jacobian[b * size + b] -= conductance / capacity_b;
    jacobian[b * size + a] += conductance / capacity_b;
}

/* d(heat from the last cell to the ambient)/d(last cell): the film holds radiation. */
static double outer_slope(const struct hb_tyre *t, const struct view *v)
{
    const double cell = v->state.wall[v->cells - 1], air = v->scene.ambient;
    const double half = 0.5 * t->wall_thickness / v->cells / t->conductivity;
    const double through = v->flex.outer / t->wall_area; /* film / (1 + film half) */
    const double series = (1.0 - through * half) * (1.0 - through * half);
    const double radiation =
        t->emissivity * HB_STEFAN_BOLTZMANN * (3.0 * cell * cell + 2.0 * cell * air + air * air);
    return v->flex.outer +
           t->wall_area * series * radiation * (cell + v->link.rise_outer * v->flex.force - air);
}

/* d(rate of pressure loss)/d(pressure), the branches of hb_leak. */
static double leak_slope(const struct view *v)
{
    const double gauge = v->state.pressure;
    if (gauge <= 0.0)
        return 0.0;
    const double inside = hb_one_max(gauge, 1000.0) + HB_ATMOSPHERE;
    const double ratio = hb_one_max(HB_ATMOSPHERE / inside, HB_CRITICAL_RATIO);
    const double part = pow(ratio, 2.0 / 1.4), rest = pow(ratio, 2.4 / 1.4);
    const double flow = sqrt(7.0 * (part - rest));
    double slope = flow; /* choked: the flow is proportional to the pressure inside */
    if (gauge < 1000.0)
        slope = inside * flow / 1000.0;
    else if (ratio > HB_CRITICAL_RATIO)
        slope = flow - 3.5 * (2.0 / 1.4 * part - 2.4 / 1.4 * rest) / flow;
    return v->scene.leak_rate + v->scene.hole * slope;
}

static void conduction(const struct hb_tyre *t, const struct view *v, double *jacobian)
{
    const struct hb_links_one *k = &v->link;
    const int n = v->cells, size = n + HB_Y_EXTRA;
    const int cavity = n + HB_Y_CAVITY, tread = n + HB_Y_TREAD;
    const int shoulder = n + HB_Y_SHOULDER, rim = n + HB_Y_RIM;
    const double cell = t->wall_area * t->wall_capacity * t->wall_thickness / n;
    const double air = t->capacity_cavity;
    link_places(jacobian, size, cavity, air, 0, cell, k->inner);
    for (int i = 0; i + 1 < n; i++)
        link_places(jacobian, size, i, cell, i + 1, cell, k->between);
    link_places(jacobian, size, cavity, air, tread, t->capacity_tread, k->tread_cavity);
    link_places(jacobian, size, cavity, air, shoulder, t->capacity_shoulder, k->shoulder_cavity);
    link_places(jacobian, size, cavity, air, rim, t->capacity_rim, k->rim_cavity);
    const double outer = outer_slope(t, v);
    jacobian[(n - 1) * size + n - 1] -= outer / cell;
    jacobian[tread * size + tread] -= (k->tread_air + k->tread_road) / t->capacity_tread;
    jacobian[shoulder * size + shoulder] -= k->shoulder_air / t->capacity_shoulder;
    jacobian[rim * size + rim] -= k->rim_air / t->capacity_rim;
    double *to_air = jacobian + (n + HB_Y_AIR) * size;
    to_air[n - 1] = outer;
    to_air[tread] = k->tread_air;
    to_air[shoulder] = k->shoulder_air;
    to_air[rim] = k->rim_air;
    jacobian[(n + HB_Y_ROAD) * size + tread] = k->tread_road;
}

void hb_problem_jacobian(const struct hb_problem *problem, const double *y, double *jacobian)
{
    const struct hb_tyre *t = problem->tyre;
    struct view v;
    struct slopes force, roll;
    see(problem, y, &v);
    bend_slopes(t, &v, &force, &roll);
    const int n = v.cells, size = n + HB_Y_EXTRA;
    const double speed = v.scene.speed;
    const double cell = t->wall_area * t->wall_capacity * t->wall_thickness / n;
    memset(jacobian, 0, (size_t)size * (size_t)size * sizeof *jacobian);
    conduction(t, &v, jacobian);
    for (int i = 0; i < n; i++)
        add_forces(&v, jacobian + i * size, speed * t->share_wall * v.share[i] / cell, &force, 0.0,
                   &roll);
    const double inner = v.link.inner * v.link.rise;
    const double outer = v.flex.outer * v.link.rise_outer;
    add_forces(&v, jacobian + (n - 1) * size, -outer / cell, &force, 0.0, &roll);
    add_forces(&v, jacobian + (n + HB_Y_AIR) * size, outer, &force, 0.0, &roll);
    add_forces(&v, jacobian, -inner / cell, &force, 0.0, &roll);
    add_forces(&v, jacobian + (n + HB_Y_CAVITY) * size, inner / t->capacity_cavity, &force, 0.0,
               &roll);
    add_forces(&v, jacobian + (n + HB_Y_TREAD) * size, speed * t->share_tread / t->capacity_tread,
               &force, speed * (1.0 - t->roll_to_shoulder) / t->capacity_tread, &roll);
    add_forces(&v, jacobian + (n + HB_Y_SHOULDER) * size,
               speed * t->share_shoulder / t->capacity_shoulder, &force,
               speed * t->roll_to_shoulder / t->capacity_shoulder, &roll);
    add_forces(&v, jacobian + (n + HB_Y_MADE) * size, speed, &force, speed, &roll);

    const double face = hb_inner_face_one(&v.link, &v.flex, &v.state);
    const double wear = hb_wear_one(t, speed, v.flex.force, face);
    const double reverts = face * t->reversion_inverse > 1.0 ? t->reversion : 0.0;
    const double heat = wear * (t->life_activation + reverts) / (face * face);
    double *life = jacobian + (n + HB_Y_LIFE) * size;
    add_forces(&v, life,
               t->life_power * wear / v.flex.force + heat * v.link.inner_face * v.link.rise, &force,
               0.0, &roll);
    life[0] += heat * v.link.inner_face;
    life[n + HB_Y_CAVITY] += heat * (1.0 - v.link.inner_face);
    jacobian[(n + HB_Y_PRESSURE) * size + n + HB_Y_PRESSURE] = -leak_slope(&v);
}

/* ---- events, records, ledger ----------------------------------------------------------------- */

void hb_problem_events(const struct hb_problem *problem, const double *y, double event[HB_EVENTS])
{
    const struct hb_tyre *t = problem->tyre;
    struct view v;
    see(problem, y, &v);
    event[HB_END_LIFE - HB_END_LIFE] = v.state.life - 1.0;
    event[HB_END_HEAT - HB_END_LIFE] =
        hb_hottest_one(&v.state, &v.link, &v.flex, v.cells) - t->wall_limit;
    event[HB_END_RIM - HB_END_LIFE] = v.flex.deflection - t->deflection_max;
    event[HB_END_SHOULDER - HB_END_LIFE] = v.state.shoulder - t->shoulder_limit;
}

void hb_problem_record(const struct hb_problem *problem, const double *y, struct hb_record *record)
{
    struct view v;
    see(problem, y, &v);
    record->life = hb_one_min(v.state.life, 1.0);
    record->inner = hb_inner_face_one(&v.link, &v.flex, &v.state);
    record->outer = hb_outer_face_one(problem->tyre, &v.scene, &v.link, &v.flex, &v.state, v.cells);
    record->cavity = v.state.cavity;
    record->hottest = hb_hottest_one(&v.state, &v.link, &v.flex, v.cells);
    record->deflection = v.flex.deflection;
    record->pressure = v.state.pressure;
    record->force = v.flex.force;
    record->rolling = v.flex.force + v.flex.roll;
    record->shoulder = v.state.shoulder;
}

double hb_problem_stored(const struct hb_problem *problem, const double *y)
{
    struct view v;
    see(problem, y, &v);
    return hb_stored_one(problem->tyre, v.cells, &v.state);
}

/* ---- the steady start ------------------------------------------------------------------------ */

/* Solves a x = b in place by elimination with row pivots; a is n rows of width stride. */
static void eliminate(double *a, double *b, int n, int stride)
{
    for (int k = 0; k < n; k++) {
        int pivot = k;
        for (int i = k + 1; i < n; i++)
            if (fabs(a[i * stride + k]) > fabs(a[pivot * stride + k]))
                pivot = i;
        for (int j = k; j < n && pivot != k; j++) {
            const double kept = a[k * stride + j];
            a[k * stride + j] = a[pivot * stride + j];
            a[pivot * stride + j] = kept;
        }
        const double kept = b[k];
        b[k] = b[pivot];
        b[pivot] = kept;
        for (int i = k + 1; i < n; i++) {
            const double part = a[i * stride + k] / a[k * stride + k];
            for (int j = k + 1; j < n; j++)
                a[i * stride + j] -= part * a[k * stride + j];
            b[i] -= part * b[k];
        }
    }
    for (int k = n - 1; k >= 0; k--) {
        for (int j = k + 1; j < n; j++)
            b[k] -= a[k * stride + j] * b[j];
        b[k] /= a[k * stride + k];
    }
}

/* Newton for the temperatures at which nothing changes any more; life and pressure stay. */
static void settle(const struct hb_problem *running, double *y)
{
    const double enough = 1e-12; /* change of a temperature over that temperature */
    const int size = hb_problem_size(running), places = running->cells + HB_Y_LIFE;
    double jacobian[UNKNOWNS_MAX * UNKNOWNS_MAX], change[UNKNOWNS_MAX];
    for (int round = 0; round < STEADY_ITERATIONS; round++) {
        double most = 0.0;
        hb_problem_rates(running, y, change);
        hb_problem_jacobian(running, y, jacobian);
        eliminate(jacobian, change, places, size);
        for (int i = 0; i < places; i++) {
            y[i] -= change[i];
            most = hb_one_max(most, fabs(change[i] / y[i]));
        }
        if (most < enough)
            return;
    }
}

void hb_problem_start(const struct hb_problem *problem, const struct hb_start *start, double *y)
{
    const struct hb_leg leg = {
        .speed = start->speed, .load = start->load, .ambient = start->ambient};
    const struct hb_problem running = {problem->tyre, &leg, problem->cells};
    const int n = problem->cells, size = hb_problem_size(problem);
    for (int i = 0; i < size; i++)
        y[i] = i < n + HB_Y_LIFE ? start->ambient + problem->tyre->ambient_shift : 0.0;
    y[n + HB_Y_PRESSURE] = start->pressure;
    if (start->running)
        settle(&running, y);
}
