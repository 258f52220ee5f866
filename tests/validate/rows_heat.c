/* SPDX-License-Identifier: GPL-3.0-or-later */
/* rows_heat.c - conduction, films, rubber and life. Sources beside each row of
 * tests/data/validation.tsv. */
#include "validate/middle.h"
#include "validate/rows.h"

#include <gsl/gsl_eigen.h>
#include <gsl/gsl_math.h>
#include <gsl/gsl_roots.h>
#include <math.h>

double constant(double value, double b)
{
    (void)b;
    return value;
}

/* ---- a slab with convection: one face insulated, zeta tan zeta = Bi -------------------------- */

static double slab_miss(double zeta, void *with)
{
    return zeta * sin(zeta) - *(const double *)with * cos(zeta);
}

double slab_root(double bi, double b)
{
    gsl_function f = {slab_miss, &bi};
    gsl_root_fsolver *solver = gsl_root_fsolver_alloc(gsl_root_fsolver_brent);
    double zeta = (double)NAN;
    (void)b;
    if (solver && gsl_root_fsolver_set(solver, &f, 1e-6, M_PI_2) == GSL_SUCCESS)
        for (int i = 0; i < 100; i++) {
            (void)gsl_root_fsolver_iterate(solver);
            zeta = gsl_root_fsolver_root(solver);
        }
    if (solver)
        gsl_root_fsolver_free(solver);
    return zeta;
}

double slab_first(double bi, double b)
{
    const double zeta = slab_root(bi, b);
    return 4.0 * sin(zeta) / (2.0 * zeta + sin(2.0 * zeta));
}

/* The same two numbers out of the model's own wall: standing, insulated inside, no radiation, 96
 * cells. The wall's part of the exact Jacobian is symmetric; its slowest mode decays as
 * exp(-zeta^2 alpha t / thickness^2). */
static void wall_mode(double bi, double *zeta, double *first)
{
    enum { N = HB_CELLS_MAX, SIZE = N + HB_Y_EXTRA };
    static double jacobian[SIZE * SIZE];
    struct middle m;
    double y[SIZE];
    middle_make(&m, USUAL_SIZE, HB_SELF_SUPPORTING);
    struct hb_tyre *t = &m.tyre;
    t->film_inner = t->emissivity = 0.0;
    t->film_still = bi * t->conductivity / t->wall_thickness;
    struct hb_leg leg = middle_leg(0.0, middle_load(&m, 0.65), 25.0, 0.0);
    const struct hb_problem problem = {t, &leg, N};
    const struct hb_start start = {.running = false, .ambient = leg.ambient};
    hb_problem_start(&problem, &start, y);
    hb_problem_jacobian(&problem, y, jacobian);

    gsl_matrix *a = gsl_matrix_alloc(N, N), *modes = gsl_matrix_alloc(N, N);
    gsl_vector *rate = gsl_vector_alloc(N);
    gsl_eigen_symmv_workspace *room = gsl_eigen_symmv_alloc(N);
    for (size_t i = 0; i < N; i++)
        for (size_t j = 0; j < N; j++)
            gsl_matrix_set(a, i, j, -jacobian[i * SIZE + j]);
    gsl_eigen_symmv(a, rate, modes, room);
    gsl_eigen_symmv_sort(rate, modes, GSL_EIGEN_SORT_VAL_ASC);
    double sum = 0.0, squares = 0.0;
    for (size_t i = 0; i < N; i++) {
        const double v = gsl_matrix_get(modes, i, 0);
        sum += v;
        squares += v * v;
    }
    *zeta = t->wall_thickness * sqrt(gsl_vector_get(rate, 0) * t->wall_capacity / t->conductivity);
    *first = gsl_matrix_get(modes, 0, 0) * sum / squares;
    gsl_eigen_symmv_free(room);
    gsl_vector_free(rate);
    gsl_matrix_free(modes);
    gsl_matrix_free(a);
}

double wall_root(double bi, double b)
{
    double zeta, first;
    (void)b;
    wall_mode(bi, &zeta, &first);
    return zeta;
}

double wall_first(double bi, double b)
{
    double zeta, first;
    (void)b;
    wall_mode(bi, &zeta, &first);
    return first;
}

/* ---- films ----------------------------------------------------------------------------------- */

double film_linear(double kmh, double b)
{
    (void)b;
    return 5.9 + 3.7 * kmh / 3.6;
}

/* Free rotating disc, Nu = 0.015 Re^0.8 with Re = omega r^2 / nu; air at 25 degC and one
 * atmosphere: nu 1.56e-5 m^2/s, k 0.0261 W/mK (handbook). */
double film_disc(double kmh, double radius)
{
    const double reynolds = kmh / 3.6 * radius / 1.56e-5;
    return 0.015 * pow(reynolds, 0.8) * 0.0261 / radius;
}

/* Outer film of the tyre that many standard deviations from the middle. */
double film_outer(double kmh, double deviations)
{
    struct middle m;
    struct hb_draw draw;
    double normal[HB_DIMENSIONS_MAX] = {0.0};
    middle_make(&m, USUAL_SIZE, HB_SELF_SUPPORTING);
    normal[hb_param_dimension(HB_P_FILM_OUTER)] = deviations;
    hb_draw(&m.settings, normal, &draw);
    hb_build(&m.settings, &m.marking, &draw, NULL, &m.tyre);
    return m.tyre.film_still + m.tyre.film_speed * kmh / 3.6;
}

/* ---- rubber ---------------------------------------------------------------------------------- */

double table_value(double id, double b)
{
    (void)b;
    return hobble_param_table(NULL)[(int)id].value;
}

/* Spread of a row that is drawn lognormally, per cent. */
double table_spread(double id, double b)
{
    const struct hobble_param *row = &hobble_param_table(NULL)[(int)id];
    (void)b;
    return row->shape == HOBBLE_LOGNORMAL ? row->spread * 100.0 : (double)NAN;
}

double wall_thickness(double a, double b)
{
    struct middle m;
    (void)a, (void)b;
    middle_make(&m, USUAL_SIZE, HB_SELF_SUPPORTING);
    return m.tyre.wall_thickness * 1e3;
}

/* Hottest place of the wall without air, settled at 80 km/h, 65 % of the index, 25 degC. */
static double settled_heat(const char *marking)
{
    struct middle m;
    middle_make(&m, marking, HB_SELF_SUPPORTING);
    const double load = middle_load(&m, 0.65);
    return middle_steady(&m.tyre, 80.0, load, 0.0, 25.0).hottest - HB_CELSIUS;
}

/* Same width, rim, thickness and share of the index; the wall is a fifth taller. Kelvin hotter. */
double taller_hotter(double a, double b)
{
    (void)a, (void)b;
    return settled_heat("205/65 R16 95V") - settled_heat(USUAL_SIZE);
}

/* tan delta summed over every whole degree from 28 to 150 degC, or its mean there. */
double loss_sum(double mean, double b)
{
    struct middle m;
    double sum = 0.0;
    (void)b;
    middle_make(&m, USUAL_SIZE, HB_SELF_SUPPORTING);
    const double pulse = hobble_param_table(NULL)[HB_P_LOSS_PULSE].value;
    for (int c = 28; c <= 150; c++)
        sum += m.tyre.loss / pulse * fmax(exp(-m.tyre.loss_slope * (c - 25)), m.tyre.loss_floor);
    return mean > 0.0 ? sum / (150 - 28 + 1) : sum;
}

double modulus_fall(double a, double b)
{
    struct middle m;
    (void)a, (void)b;
    middle_make(&m, USUAL_SIZE, HB_SELF_SUPPORTING);
    return (1.0 - exp(-m.tyre.modulus_slope * 75.0)) * 100.0;
}

/* ---- life ------------------------------------------------------------------------------------ */

/* A loss so small that the heat of bending warms no place of the wall. */
#define HARDLY 1e-9

/* How much faster life goes with the whole tyre at one temperature than at another (degC), at the
 * same energy a turn: stiffness and loss are kept from changing. */
static double wear_ratio(struct hb_tyre tyre, double from, double to)
{
    double rate[2];
    const double at[2] = {from, to};
    tyre.modulus_slope = tyre.loss_slope = 0.0;
    tyre.loss *= HARDLY;
    for (int i = 0; i < 2; i++) {
        const struct hb_leg leg = middle_leg(80.0, 4000.0, at[i], 0.0);
        const struct hb_problem problem = {&tyre, &leg, HB_CELLS};
        const struct hb_start start = {.running = false, .ambient = leg.ambient};
        double y[HB_CELLS + HB_Y_EXTRA], f[HB_CELLS + HB_Y_EXTRA];
        hb_problem_start(&problem, &start, y);
        hb_problem_rates(&problem, y, f);
        rate[i] = f[HB_CELLS + HB_Y_LIFE];
    }
    return rate[1] / rate[0];
}

/* With an activation energy in kJ/mol, from 398.15 to 408.15 K. */
double arrhenius(double energy, double b)
{
    struct middle m;
    struct hb_draw draw;
    (void)b;
    middle_make(&m, USUAL_SIZE, HB_SELF_SUPPORTING);
    m.settings.row[HB_P_LIFE_ACTIVATION].value = energy;
    hb_draw(&m.settings, NULL, &draw);
    hb_build(&m.settings, &m.marking, &draw, &m.life, &m.tyre);
    return wear_ratio(m.tyre, 125.0, 135.0);
}

/* kJ/mol that make life fall so many times from 0 to 100 degC: arithmetic on the source. */
double effective_energy(double times, double b)
{
    (void)b;
    return 8.314462618e-3 * log(times) / (1.0 / 273.15 - 1.0 / 373.15);
}

double life_ratio(double a, double b)
{
    struct middle m;
    (void)a, (void)b;
    middle_make(&m, USUAL_SIZE, HB_SELF_SUPPORTING);
    return wear_ratio(m.tyre, 0.0, 100.0);
}
