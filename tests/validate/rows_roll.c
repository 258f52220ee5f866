/* SPDX-License-Identifier: GPL-3.0-or-later */
/* rows_roll.c - springs, rolling resistance of inflated tyres, leaks. Sources beside each row of
 * tests/data/validation.tsv. */
#include "core/leak.h"
#include "validate/middle.h"
#include "validate/rows.h"

#include <gsl/gsl_errno.h>
#include <gsl/gsl_roots.h>
#include <math.h>

/* Root of f between two places of opposite sign, or NAN. */
static double root(double (*f)(double, void *), void *with, double low, double high)
{
    gsl_function function = {f, with};
    gsl_root_fsolver *solver = gsl_root_fsolver_alloc(gsl_root_fsolver_brent);
    double at = (double)NAN;
    gsl_set_error_handler_off();
    if (solver && gsl_root_fsolver_set(solver, &function, low, high) == GSL_SUCCESS)
        for (int i = 0; i < 200; i++) {
            if (gsl_root_fsolver_iterate(solver) != GSL_SUCCESS)
                break;
            at = gsl_root_fsolver_root(solver);
            if (gsl_root_test_interval(gsl_root_fsolver_x_lower(solver),
                                       gsl_root_fsolver_x_upper(solver), 0.0, 1e-12) == GSL_SUCCESS)
                break;
        }
    if (solver)
        gsl_root_fsolver_free(solver);
    return at;
}

/* ---- ISO 28580 / UN R117 --------------------------------------------------------------------
 * Passenger tyre with standard load: 80 % of the index, 210 kPa, 80 km/h (from memory,
 * unconfirmed; the two corrections are meant for these conditions). */

static double resistance(const struct hb_tyre *tyre, const struct middle *m, double ambient)
{
    return middle_steady(tyre, 80.0, middle_load(m, 0.8), 210e3, ambient).rolling;
}

/* K of F25 = F [1 + K (t - 25)], the mean of 20 and 30 degC. */
double resistance_per_kelvin(double a, double b)
{
    struct middle m;
    (void)a, (void)b;
    middle_make(&m, USUAL_SIZE, HB_CONVENTIONAL);
    const double middle = resistance(&m.tyre, &m, 25.0);
    const double cold = (middle / resistance(&m.tyre, &m, 20.0) - 1.0) / -5.0;
    const double warm = (middle / resistance(&m.tyre, &m, 30.0) - 1.0) / 5.0;
    return 0.5 * (cold + warm);
}

/* The published formula itself, for the free radius of the usual size. */
double drum_formula(double from, double to)
{
    const double tyre = 0.316;
    return sqrt(from / (from + tyre) * (to + tyre) / to);
}

static double drum_ratio(double from, double to, bool flat)
{
    struct middle m;
    middle_make(&m, USUAL_SIZE, flat ? HB_SELF_SUPPORTING : HB_CONVENTIONAL);
    struct hb_tyre on[2] = {m.tyre, m.tyre};
    hb_put_on_drum(&on[0], from);
    hb_put_on_drum(&on[1], to);
    if (flat)
        return middle_steady(&on[1], 80.0, middle_load(&m, 0.65), 0.0, 25.0).rolling /
               middle_steady(&on[0], 80.0, middle_load(&m, 0.65), 0.0, 25.0).rolling;
    return resistance(&on[1], &m, 25.0) / resistance(&on[0], &m, 25.0);
}

double drum_ratio_inflated(double from, double to)
{
    return drum_ratio(from, to, false);
}

double drum_ratio_flat(double from, double to)
{
    return drum_ratio(from, to, true);
}

/* ---- SAE J2452: F = P^alpha Z^beta (a + b V + c V^2), kPa, N, km/h --------------------------- */

#define J2452_LOAD 4000.0
#define J2452_KMH  80.0

double j2452_published(double aspect, double kpa)
{
    static const struct {
        double alpha, beta, a, b, c;
    } series[] = {{-0.4745, 0.9552, 0.150, 4.87e-4, 1.18e-6},
                  {-0.3947, 0.9468, 0.113, 1.89e-4, 2.24e-6}};
    const int i = aspect > 62.0;
    const double speed = series[i].a + (series[i].b + series[i].c * J2452_KMH) * J2452_KMH;
    return pow(kpa, series[i].alpha) * pow(J2452_LOAD, series[i].beta) * speed / (J2452_LOAD / 1e3);
}

double roll_per_load(double aspect, double kpa)
{
    struct middle m;
    middle_make(&m, aspect > 62.0 ? "P205/65 R15 92H" : "P205/60 R15 90H", HB_CONVENTIONAL);
    return middle_steady(&m.tyre, J2452_KMH, J2452_LOAD, kpa * 1e3, 25.0).rolling /
           (J2452_LOAD / 1e3);
}

/* Where the tread settles there, the mean of the two sizes, degC. */
double tread_settled(double kpa, double b)
{
    static const char *const sizes[] = {"P205/60 R15 90H", "P205/65 R15 92H"};
    double sum = 0.0;
    (void)b;
    for (size_t i = 0; i < 2; i++) {
        struct middle m;
        middle_make(&m, sizes[i], HB_CONVENTIONAL);
        sum += middle_tread(&m.tyre, J2452_KMH, J2452_LOAD, kpa * 1e3, 25.0) - HB_CELSIUS;
    }
    return sum / 2.0;
}

double roll_ratio(double aspect, double kpa)
{
    return roll_per_load(aspect, kpa) / roll_per_load(aspect, 240.0);
}

/* Self-supporting, no air, 65 % of the index, settled, N/kN. */
double roll_flat(double a, double b)
{
    struct middle m;
    (void)a, (void)b;
    middle_make(&m, USUAL_SIZE, HB_SELF_SUPPORTING);
    const double load = middle_load(&m, 0.65);
    return middle_steady(&m.tyre, 80.0, load, 0.0, 25.0).rolling / load * 1e3;
}

/* Inflated to 230 kPa, 65 % of the index: more than the conventional twin, per cent. */
double roll_twin(double a, double b)
{
    static const int construction[2] = {HB_CONVENTIONAL, HB_SELF_SUPPORTING};
    double force[2];
    (void)a, (void)b;
    for (int i = 0; i < 2; i++) {
        struct middle m;
        middle_make(&m, USUAL_SIZE, construction[i]);
        force[i] = middle_steady(&m.tyre, 80.0, middle_load(&m, 0.65), 230e3, 25.0).rolling;
    }
    return (force[1] / force[0] - 1.0) * 100.0;
}

/* ---- stiffness at no pressure: the load law, solved again here ------------------------------- */

/* 225/55 R17 97 at the load of its index: F = 2/3 kappa d L(d) + c_p p d, L = 1.7 sqrt(2 R d -
 * d^2); c_p after Rhyne, Tire Sci. Technol. 33(3), 2005, 136 (from memory, unconfirmed). */
struct spring {
    double radius, load, linear, kappa, extra; /* m, N, N/m at 240 kPa, N/m^2, m */
    double at_load, pressure;                  /* of the inner root */
};

static double force_miss(double d, void *with)
{
    const struct spring *s = with;
    const double contact = 1.7 * sqrt(d * (2.0 * s->radius - d));
    return d * (2.0 / 3.0 * s->kappa * contact + s->linear * s->pressure) - s->at_load;
}

static double deflects(struct spring *s, double load, double pressure)
{
    s->at_load = load;
    s->pressure = pressure;
    return root(force_miss, s, 1e-6, s->radius);
}

static double extra_miss(double kappa, void *with)
{
    struct spring *s = with;
    s->kappa = kappa;
    return deflects(s, s->load, 0.0) - deflects(s, s->load, 1.0) - s->extra;
}

/* Secant stiffness (N/mm) at a share of that load of a tyre that deflects so many mm more at no
 * pressure than at 240 kPa. */
double solved_stiffness(double extra_mm, double share)
{
    struct spring s = {.radius = 0.5 * (0.432 + 2.0 * 0.55 * 0.225),
                       .load = 730.0 * 9.80665,
                       .extra = extra_mm * 1e-3};
    s.linear = 0.00028 * 9806.65 * 240.0 *
               sqrt((1.03 - 0.004 * 55.0) * 225.0 * (225.0 * 55.0 / 50.0 + 432.0));
    s.kappa = root(extra_miss, &s, 1e5, 1e8);
    return share * s.load / deflects(&s, share * s.load, 0.0) / 1e3;
}

/* The model's tyre of that size. */
static void wide_tyre(struct middle *m, double *load)
{
    middle_make(m, "225/55 RF17 97W", HB_SELF_SUPPORTING);
    *load = middle_load(m, 1.0);
}

double default_stiffness(double a, double b)
{
    struct middle m;
    double load;
    (void)a, (void)b;
    wide_tyre(&m, &load);
    return 0.65 * load / middle_deflection(&m.tyre, 0.65 * load, 0.0) / 1e3;
}

double more_deflection(double a, double b)
{
    struct middle m;
    double load;
    (void)a, (void)b;
    wide_tyre(&m, &load);
    return 1e3 * (middle_deflection(&m.tyre, load, 0.0) - middle_deflection(&m.tyre, load, 240e3));
}

/* Secant of a conventional wall without air. It is quoted at 65 % of the index, or where the whole
 * section is used up if that comes first, as it does here. */
double plain_stiffness(double a, double b)
{
    struct middle m;
    (void)a, (void)b;
    middle_make(&m, USUAL_SIZE, HB_CONVENTIONAL);
    const double deep = m.tyre.section_height;
    const double contact = 1.7 * sqrt(deep * (2.0 * m.tyre.free_radius - deep));
    return 2.0 / 3.0 * m.tyre.stiffness * contact / 1e3;
}

static const char *size_of_width(double width)
{
    return width > 210.0 ? "225/55 R17 97W" : USUAL_SIZE;
}

/* The model's pressure term and Rhyne's constant, N/mm. */
double pressure_stiffness(double width, double kpa)
{
    struct middle m;
    middle_make(&m, size_of_width(width), HB_CONVENTIONAL);
    return (m.tyre.air_stiffness * kpa * 1e3 + 3.45 * 9806.65) / 1e3;
}

/* What the model's whole load law makes of it: secant at 80 % of the index, N/mm. */
double inflated_secant(double width, double kpa)
{
    struct middle m;
    middle_make(&m, size_of_width(width), HB_CONVENTIONAL);
    const double load = middle_load(&m, 0.8);
    return load / middle_deflection(&m.tyre, load, kpa * 1e3) / 1e3;
}

/* ---- leaks ----------------------------------------------------------------------------------- */

#define CAVITY 0.028 /* m^3, of the source */

/* kPa/min at 230 kPa, air at 20 degC. */
double leak_start(double millimetres, double b)
{
    (void)b;
    const double hole = hb_hole_coefficient(millimetres * 1e-3, CAVITY, 20.0 + HB_CELSIUS);
    return hb_leak_rate(0.0, hole, 230e3) * 60.0 / 1e3;
}

static double hour_miss(double millimetres, void *with)
{
    (void)with;
    const double hole = hb_hole_coefficient(millimetres * 1e-3, CAVITY, 20.0 + HB_CELSIUS);
    return hb_leak_time(0.0, hole, 230e3, HB_FLAT_PRESSURE) - 3600.0;
}

/* The hole (mm) that takes an hour from 230 kPa to flat running. */
double leak_hour_hole(double a, double b)
{
    (void)a, (void)b;
    return root(hour_miss, NULL, 0.02, 5.0);
}
