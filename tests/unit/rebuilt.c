/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rebuilt.h"

#include <gsl/gsl_errno.h>
#include <gsl/gsl_odeiv2.h>
#include <gsl/gsl_roots.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { CELLS = 12, SIDES = 2, ROOM = SIDES * (CELLS + 1) + 5 };

/* Places in y: the cells of each wall, the life of each, then these. */
enum { AIR = SIDES * (CELLS + 1), TREAD, SHOULDER, RIM, PRESSURE };

static const double pi = 3.14159265358979323846, zero_c = 273.15, sigma = 5.670374419e-8;
static const double gas = 8.314462618, g_n = 9.80665, density = 1120.0, heat = 1900.0;

static double most(double a, double b)
{
    return a > b ? a : b;
}

static double least(double a, double b)
{
    return a < b ? a : b;
}

struct rebuilt rebuilt_plain(double width_mm, double aspect, double rim_code, double index_kg)
{
    return (struct rebuilt){.width_mm = width_mm,
                            .aspect = aspect,
                            .rim_code = rim_code,
                            .index_kg = index_kg,
                            .supports = true,
                            .wall_m = 0.012,
                            .conductivity = 0.25,
                            .tangent = 0.053,
                            .inner_film = 15.0,
                            .outer_factor = 1.0,
                            .energy_kj = 40.0,
                            .power = 1.5,
                            .wall_share = 0.8,
                            .work = 1.0,
                            .walls = 1};
}

/* Section 1 and the first table of section 4. */
struct shape {
    double S, H, d, R, C, R_e, kappa, c_p;
    double A_w, A_t, A_s, A_r, V, cell, r, r_t, r_s;
    double C_cell, C_t, C_s, C_c, C_r, w[CELLS];
};

static double contact(const struct shape *s, double R_e, double deep)
{
    return 1.7 * sqrt(2.0 * R_e * deep - deep * deep * R_e / s->R);
}

static double heat_up_to(double x)
{
    const double y = most((0.75 - x) / 0.75, 0.0), z = most((x - 0.75) / 0.25, 0.0);
    return 0.35 * x + 0.65 * (0.98 * (1.0 - y * y * y) + 0.02 * z);
}

static struct shape shape_of(const struct rebuilt *t)
{
    struct shape s = {.S = t->width_mm * 1e-3, .d = round(t->rim_code * 25.4) * 1e-3};
    s.H = s.S * t->aspect / 100.0;
    const double D_0 = s.d + 2.0 * s.H, W = t->index_kg * g_n;
    s.R = D_0 / 2.0;
    s.C = 2.0 * pi * s.R;
    s.R_e = t->drum > 0.0 ? 1.0 / (1.0 / s.R + 1.0 / t->drum) : s.R;
    double K_s = 140e3 * pow(t->index_kg / 615.0, 2.0) * (0.11275 / s.H);
    if (!t->supports)
        K_s = 34e3;
    if (t->secant > 0.0)
        K_s = t->secant;
    s.kappa = 1.5 * K_s / contact(&s, s.R, least(0.65 * W / K_s, s.H));
    const double d_mm = s.d * 1e3;
    s.c_p =
        0.00028 * g_n *
        sqrt((1.03 - 0.004 * t->aspect) * t->width_mm * (t->width_mm * t->aspect / 50.0 + d_mm));
    s.A_w = 2.0 * 0.62 * s.H * pi * (s.d + D_0) / 2.0;
    s.A_t = 0.8 * s.S * s.C;
    s.A_s = 0.4 * s.S * s.C;
    s.A_r = 0.85 * pi * s.d * s.S;
    s.V = 0.75 * s.S * s.H * pi * (s.d + D_0) / 2.0;
    s.cell = t->wall_m / CELLS;
    s.r = s.cell / (2.0 * t->conductivity);
    s.r_t = 0.018 / (3.0 * t->conductivity);
    s.r_s = 0.0216 / (3.0 * t->conductivity);
    s.C_cell = s.A_w * density * heat * s.cell;
    s.C_t = s.A_t * density * heat * 0.018;
    s.C_s = s.A_s * density * heat * 0.0216;
    s.C_c = s.V * 1.2 * 718.0;
    s.C_r = 9.0 * 900.0;
    for (int i = 0; i < CELLS; i++)
        s.w[i] = heat_up_to((i + 1.0) / CELLS) - heat_up_to((double)i / CELLS);
    return s;
}

/* One tyre in one leg. */
struct motion {
    const struct rebuilt *t;
    struct shape s;
    double v, F, T_a, hole, slowness;
    double deep, F_r, F_h[SIDES], inner[SIDES], outer[SIDES], hottest; /* as last looked at */
    double work;                                                       /* of the first wall */
};

/* Section 2, by halving. */
static double deflection(const struct motion *m, double stiff, double pressure)
{
    double low = 0.0, high = m->s.R;
    for (int i = 0; i < 48; i++) {
        const double d = 0.5 * (low + high);
        const double F =
            2.0 / 3.0 * stiff * d * contact(&m->s, m->s.R_e, d) + m->s.c_p * pressure * d;
        *(F < m->F ? &low : &high) = d;
    }
    return 0.5 * (low + high);
}

static double part_of_work(const struct rebuilt *t, int side)
{
    return t->walls == 1 ? 1.0 : 0.5 * (1.0 + (side == 0 ? t->uneven : -t->uneven));
}

/* Sections 2 and 3: bending and rolling. */
static void bend(struct motion *m, const double *y)
{
    const struct rebuilt *t = m->t;
    double g[SIDES], warm[SIDES], both = 0.0;
    for (int j = 0; j < t->walls; j++) {
        double mean = 0.0;
        for (int i = 0; i < CELLS; i++)
            mean += m->s.w[i] * y[j * (CELLS + 1) + i];
        warm[j] = (mean - 25.0 - zero_c) / 75.0;
        const double D = least(most(y[j * (CELLS + 1) + CELLS], 0.0), 1.0);
        g[j] = pow(0.8, warm[j]) * (1.0 - 0.3 * D);
        both += g[j] / t->walls;
    }
    m->deep = deflection(m, m->s.kappa * both, y[PRESSURE]);
    const double C_t = 0.003 + 0.06 * m->deep / contact(&m->s, m->s.R_e, m->deep);
    m->F_r = C_t * m->F * most(pow(0.47, (y[TREAD] - 44.0 - zero_c) / 75.0), 0.6);
    for (int j = 0; j < t->walls; j++) {
        const double eta = 2.4 * t->tangent * most(pow(0.036 / 0.053, warm[j]), 0.6);
        m->F_h[j] =
            part_of_work(t, j) * t->work * 0.5 * eta * m->s.kappa * g[j] * m->deep * m->deep;
    }
}

static double through(double film, double resistance)
{
    return film / (1.0 + film * resistance);
}

/* Section 4 for one wall; what flows from the cavity into it. */
static double one_wall(struct motion *m, int j, const double *y, double air, double h_o, double *f)
{
    const struct rebuilt *t = m->t;
    const struct shape *s = &m->s;
    const double *T = y + j * (CELLS + 1), area = s->A_w / t->walls;
    const double Q = t->wall_share * m->v * m->F_h[j],
                 step = s->cell / (6.0 * t->conductivity * area);
    const double in = T[0] + Q * s->w[0] * step, out = T[CELLS - 1] + Q * s->w[CELLS - 1] * step;
    const double last = T[CELLS - 1];
    const double film = h_o + 0.95 * sigma * (last * last + m->T_a * m->T_a) * (last + m->T_a);
    double flow[CELLS + 1];
    flow[0] = area * through(t->inner_film, s->r) * (air - in);
    for (int i = 1; i < CELLS; i++)
        flow[i] = area * t->conductivity / s->cell * (T[i - 1] - T[i]);
    flow[CELLS] = area * through(film, s->r) * (out - m->T_a);
    for (int i = 0; i < CELLS; i++) {
        f[j * (CELLS + 1) + i] = (Q * s->w[i] + flow[i] - flow[i + 1]) / (s->C_cell / t->walls);
        m->hottest = most(m->hottest, T[i]);
    }
    m->inner[j] = air + (in - air) / (1.0 + t->inner_film * s->r);
    m->outer[j] = m->T_a + (out - m->T_a) / (1.0 + film * s->r);
    m->hottest = most(m->hottest, m->inner[j]);
    return flow[0];
}

/* Section 5, life used a second. */
static double using_up(struct motion *m, int j)
{
    const struct rebuilt *t = m->t;
    const double volume = m->s.A_w / t->walls * t->wall_m, E = t->energy_kj * 1e3 / gas;
    const double dense = 0.35 + 0.65 * 0.98 * 3.0 / 0.75, T_0 = m->inner[j];
    const double work = m->F_h[j] * m->s.C * t->wall_share * dense / volume;
    if (j == 0)
        m->work = work;
    if (!(t->turns_ref > 0.0) || !(m->v > 0.0))
        return 0.0;
    double power = E * (1.0 / t->hot_ref - 1.0 / T_0);
    if (t->reverts && T_0 > 150.0 + zero_c)
        power += (130e3 / gas - E) * (1.0 / (150.0 + zero_c) - 1.0 / T_0);
    return m->v / m->s.C / t->turns_ref * pow(work / t->work_ref, t->power) * exp(power);
}

/* Section 6, pressure lost a second. */
static double leak(const struct motion *m, double pressure)
{
    const double p = most(pressure, 0.0), at = most(p, 1000.0), p_a = 101325.0;
    const double ratio = most(p_a / (p_a + at), 0.528282);
    const double psi = sqrt(7.0 * (pow(ratio, 2.0 / 1.4) - pow(ratio, 2.4 / 1.4)));
    const double area = pi * m->hole * m->hole / 4.0;
    const double c_h = 0.6 * area * sqrt(287.05 * m->T_a) / m->s.V;
    return c_h * (p_a + at) * psi * p / at + (m->slowness > 0.0 ? p / m->slowness : 0.0);
}

static int rates(double time, const double y[], double f[], void *with)
{
    struct motion *m = with;
    const struct rebuilt *t = m->t;
    const struct shape *s = &m->s;
    const double h_o = t->outer_factor * (6.0 + 2.7 * m->v), h_i = t->inner_film;
    const double U = 10.0 + 30.0 * least(m->v, 1.0), aside = 0.5 * (1.0 - t->wall_share);
    double to_walls = 0.0, bending = 0.0;
    (void)time;
    memset(f, 0, ROOM * sizeof *f);
    bend(m, y);
    m->hottest = 0.0;
    for (int j = 0; j < t->walls; j++) {
        to_walls += one_wall(m, j, y, y[AIR], h_o, f);
        f[j * (CELLS + 1) + CELLS] = using_up(m, j);
        bending += m->F_h[j] * m->v;
    }
    const double Q_t = s->A_t * through(h_i, s->r_t) * (y[AIR] - y[TREAD]);
    const double Q_s = s->A_s * through(h_i, s->r_s) * (y[AIR] - y[SHOULDER]);
    const double Q_r = s->A_r * h_i * (y[AIR] - y[RIM]), rolling = m->F_r * m->v;
    f[AIR] = (-to_walls - Q_t - Q_s - Q_r) / s->C_c;
    f[TREAD] = (aside * bending + 0.85 * rolling + Q_t - s->A_t * (h_o + U) * (y[TREAD] - m->T_a)) /
               s->C_t;
    f[SHOULDER] = (aside * bending + 0.15 * rolling + Q_s -
                   s->A_s * through(h_o, s->r_s) * (y[SHOULDER] - m->T_a)) /
                  s->C_s;
    f[RIM] = (Q_r - 1.5 * s->A_r * h_o * (y[RIM] - m->T_a)) / s->C_r;
    f[PRESSURE] = -leak(m, y[PRESSURE]);
    return GSL_SUCCESS;
}

/* Section 6: which limit is passed, or 0. */
static char passed(struct motion *m, const double *y)
{
    double f[ROOM];
    rates(0.0, y, f, m);
    for (int j = 0; j < m->t->walls; j++)
        if (y[j * (CELLS + 1) + CELLS] >= 1.0)
            return 'L';
    if (m->hottest >= 180.0 + zero_c)
        return 'H';
    if (m->deep >= m->s.H - 0.030)
        return 'R';
    return y[SHOULDER] >= 130.0 + zero_c ? 'S' : 0;
}

static void refuse(bool wrong, const char *what)
{
    if (!wrong)
        return;
    (void)fprintf(stderr, "rebuilt: %s\n", what);
    abort();
}

/* The machinery of one drive. */
struct works {
    gsl_odeiv2_system system;
    gsl_odeiv2_step *step;
    gsl_odeiv2_control *control;
    gsl_odeiv2_evolve *evolve;
};

/* Where in the last step of this length the limit was passed: the step taken again in part. */
static double halve(struct works *k, struct motion *m, const double *before, double length,
                    double *y, char *why)
{
    double low = 0.0, high = length, error[ROOM];
    for (int i = 0; i < 40; i++) {
        const double part = 0.5 * (low + high);
        memcpy(y, before, ROOM * sizeof *y);
        gsl_odeiv2_step_reset(k->step);
        refuse(gsl_odeiv2_step_apply(k->step, 0.0, part, y, error, NULL, NULL, &k->system),
               "halve");
        const char which = passed(m, y);
        *(which ? &high : &low) = part;
        *why = which ? which : *why;
    }
    return high;
}

/* From y on for so many seconds, or to a limit unless why is NULL; the seconds. */
static double go(struct works *k, struct motion *m, double seconds, double *y, char *why)
{
    double time = 0.0, h = 0.5, before[ROOM];
    k->system.params = m;
    gsl_odeiv2_evolve_reset(k->evolve);
    gsl_odeiv2_step_reset(k->step);
    if (why && (*why = passed(m, y)))
        return 0.0;
    while (time < seconds) {
        const double from = time;
        memcpy(before, y, sizeof before);
        refuse(gsl_odeiv2_evolve_apply(k->evolve, k->control, k->step, &k->system, &time, seconds,
                                       &h, y),
               "no step");
        if (why && (*why = passed(m, y)))
            return from + halve(k, m, before, time - from, y, why);
    }
    return time;
}

static struct motion on_leg(const struct rebuilt *t, const struct rebuilt_leg *leg)
{
    return (struct motion){.t = t,
                           .s = shape_of(t),
                           .v = leg->kmh / 3.6,
                           .F = leg->newton,
                           .T_a = leg->celsius + zero_c,
                           .hole = leg->hole_mm * 1e-3,
                           .slowness = leg->slowness};
}

/* Steady running: six hours of it, life not counted. */
static void settle(struct works *k, const struct rebuilt *t, const struct rebuilt_leg *first,
                   double *y)
{
    struct rebuilt unworn = *t;
    const struct rebuilt_leg run = {
        .kmh = 100.0, .newton = first->newton, .celsius = first->celsius};
    unworn.turns_ref = 0.0;
    struct motion m = on_leg(&unworn, &run);
    y[PRESSURE] = 230e3;
    (void)go(k, &m, 6.0 * 3600.0, y, NULL);
}

static void sum_up(struct motion *m, const double *y, struct rebuilt_end *e)
{
    double f[ROOM];
    rates(0.0, y, f, m);
    e->life = most(y[CELLS], m->t->walls > 1 ? y[2 * CELLS + 1] : 0.0);
    e->inner = m->inner[0];
    e->outer = m->outer[0];
    e->cavity = y[AIR];
    e->tread = y[TREAD];
    e->work = m->work;
    e->kpa = y[PRESSURE] / 1e3;
    e->drag = m->F_h[0] + (m->t->walls > 1 ? m->F_h[1] : 0.0) + m->F_r;
}

static void all_legs(struct works *k, const struct rebuilt *t, const struct rebuilt_leg *leg,
                     int legs, double *y, struct rebuilt_end *e)
{
    struct motion m = on_leg(t, &leg[0]);
    for (int l = 0; l < legs && e->why == '-'; l++) {
        char why = 0;
        m = on_leg(t, &leg[l]);
        if (leg[l].kpa >= 0.0)
            y[PRESSURE] = leg[l].kpa * 1e3;
        const double left = 48.0 * 3600.0 - e->seconds;
        const double room = m.v > 0.0 ? least(left, (2000e3 - e->metres) / m.v) : left;
        const double took = go(k, &m, leg[l].seconds > 0.0 ? leg[l].seconds : room, y, &why);
        e->seconds += took;
        e->metres += took * m.v;
        if (why || !(leg[l].seconds > 0.0))
            e->why = why ? why : 'T';
    }
    sum_up(&m, y, e);
}

struct rebuilt_end rebuilt_drive(const struct rebuilt *t, const struct rebuilt_leg *leg, int legs,
                                 bool from_running)
{
    struct works k = {.system = {rates, NULL, ROOM, NULL},
                      .step = gsl_odeiv2_step_alloc(gsl_odeiv2_step_rk8pd, ROOM),
                      .control = gsl_odeiv2_control_y_new(1e-7, 0.0),
                      .evolve = gsl_odeiv2_evolve_alloc(ROOM)};
    struct rebuilt_end e = {.why = '-'};
    double y[ROOM];
    refuse(!k.step || !k.control || !k.evolve, "no memory");
    for (int i = 0; i < ROOM; i++)
        y[i] = leg[0].celsius + zero_c;
    y[CELLS] = y[2 * CELLS + 1] = y[PRESSURE] = 0.0;
    if (from_running)
        settle(&k, t, &leg[0], y);
    all_legs(&k, t, leg, legs, y, &e);
    gsl_odeiv2_evolve_free(k.evolve);
    gsl_odeiv2_control_free(k.control);
    gsl_odeiv2_step_free(k.step);
    return e;
}

/* ---- section 5: the drum test ---------------------------------------------------------------- */

struct drum {
    struct rebuilt tyre;
    struct rebuilt_leg leg[2];
    double minutes;
};

static double too_late(double log_turns, void *with)
{
    struct drum *drum = with;
    drum->tyre.turns_ref = exp(log_turns);
    const struct rebuilt_end e = rebuilt_drive(&drum->tyre, drum->leg, 2, false);
    return e.why == '-' ? 1e3 : e.seconds / 60.0 - 5.0 - drum->minutes;
}

void rebuilt_life(struct rebuilt *t, double minutes)
{
    struct drum drum = {.tyre = *t, .minutes = minutes};
    gsl_root_fsolver *solver = gsl_root_fsolver_alloc(gsl_root_fsolver_bisection);
    gsl_function function = {too_late, &drum};
    refuse(!solver, "no memory");
    drum.tyre.drum = 0.85;
    drum.tyre.turns_ref = 0.0;
    drum.leg[0] = drum.leg[1] = (struct rebuilt_leg){
        .kmh = 40.0, .newton = 0.65 * t->index_kg * g_n, .celsius = 38.0, .seconds = 300.0};
    drum.leg[1].kmh = 80.0;
    drum.leg[1].seconds = 3600.0;
    const struct rebuilt_end end = rebuilt_drive(&drum.tyre, drum.leg, 2, false);
    drum.tyre.hot_ref = end.inner;
    drum.tyre.work_ref = end.work;
    drum.leg[1].seconds = 120.0 * minutes;
    refuse(gsl_root_fsolver_set(solver, &function, log(1e3), log(1e7)), "no end on the drum");
    while (gsl_root_fsolver_x_upper(solver) - gsl_root_fsolver_x_lower(solver) > 1e-6)
        (void)gsl_root_fsolver_iterate(solver);
    t->hot_ref = end.inner;
    t->work_ref = end.work;
    t->turns_ref = exp(gsl_root_fsolver_root(solver));
    gsl_root_fsolver_free(solver);
}
