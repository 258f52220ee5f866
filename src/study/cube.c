/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "study/cube.h"

#include "core/param.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_qrng.h>
#include <gsl/gsl_rng.h>
#include <math.h>

/* Which way a low quantile of range lies, and which types cannot be tied to their test: what a
 * standard deviation of each unknown does to the logarithm of range, and to whether a type is tied,
 * by linear regression over 16 000 built-in tyres (docs/convergence.md). Any numbers here give a
 * right sample; these give one that is spread evenly where it matters. */
static const struct {
    const char *key;
    double weight[2];
} importance[] = {
    {"stiffness_flat", {0.00, 0.69}},   {"modulus_100c", {-0.05, 0.46}},
    {"softening", {0.00, -0.18}},       {"loss_25c", {-0.17, -0.52}},
    {"wall_thickness", {0.00, -0.11}},  {"wall_conductivity", {0.00, 0.16}},
    {"film_outer", {0.04, 0.26}},       {"film_inner", {0.04, 0.29}},
    {"life_activation", {-0.07, 0.00}}, {"life_power", {-0.18, 0.00}},
    {"margin", {0.57, 0.31}},           {"life_unit", {0.67, 0.00}},
    {"life_repair", {0.20, 0.00}},      {"flat_loss", {0.20, 0.00}},
    {"life_road", {0.67, 0.00}},        {"wall_work", {-0.32, 0.00}},
    {"wall_limit", {0.02, 0.16}},       {"load_error", {-1.03, 0.00}},
    {"speed_error", {-0.17, 0.00}},     {"ambient_error", {-0.12, 0.00}},
};
enum { WAYS = 2 };

static double dot(const double *a, const double *b, int n)
{
    double sum = 0.0;
    for (int i = 0; i < n; i++)
        sum += a[i] * b[i];
    return sum;
}

/* Place of a key among the rows that are drawn. */
static int dimension_of(const char *key)
{
    const struct hobble_param *row = hobble_param_table(NULL);
    int dimension = 0;
    for (int i = 0; i < hobble_param_find(key); i++)
        dimension += row[i].stage != HOBBLE_NOT_DRAWN;
    return dimension;
}

/* Reflects x in the plane through nought that is square to a normal. */
static void reflect(const double *normal, double *x, int n)
{
    const double square = dot(normal, normal, n);
    const double by = square > 0.0 ? 2.0 * dot(normal, x, n) / square : 0.0;
    for (int i = 0; i < n; i++)
        x[i] -= by * normal[i];
}

/* Normals of the mirrors that turn the first axes of the sequence into the ways that matter
 * (Householder); a turned standard normal point is one still. */
static void make_mirrors(double mirror[WAYS][HB_DIMENSIONS_MAX], int n)
{
    for (int way = 0; way < WAYS; way++) {
        double *to = mirror[way];
        for (int i = 0; i < n; i++)
            to[i] = 0.0;
        for (size_t i = 0; i < sizeof importance / sizeof *importance; i++) {
            const int at = dimension_of(importance[i].key);
            if (at >= 0 && at < n)
                to[at] = importance[i].weight[way];
        }
        for (int before = 0; before < way; before++)
            reflect(mirror[before], to, n);
        for (int before = 0; before < way; before++)
            to[before] = 0.0;
        const double length = sqrt(dot(to, to, n));
        for (int i = 0; i < n && length > 0.0; i++)
            to[i] /= -length;
        if (way < n)
            to[way] += 1.0;
    }
}

static void turn(const double mirror[WAYS][HB_DIMENSIONS_MAX], double *x, int n)
{
    for (int way = WAYS - 1; way >= 0; way--)
        reflect(mirror[way], x, n);
}

static enum hobble_status fill(gsl_qrng *sequence, const double *shift, double *cube,
                               size_t members, int dimensions)
{
    double point[HB_DIMENSIONS_MAX], mirror[WAYS][HB_DIMENSIONS_MAX];
    make_mirrors(mirror, dimensions);
    for (size_t i = 0; i < members; i++) {
        double *row = &cube[i * (size_t)dimensions];
        if (gsl_qrng_get(sequence, point) != GSL_SUCCESS)
            return HOBBLE_E_INTERNAL;
        for (int d = 0; d < dimensions; d++) {
            double u = point[d] + shift[d];
            u -= floor(u);
            u = fmin(fmax(u, 1e-9), 1.0 - 1e-9);
            row[d] = gsl_cdf_ugaussian_Pinv(u);
        }
        turn(mirror, row, dimensions);
        for (int d = 0; d < dimensions; d++)
            row[d] = round(row[d] * HB_CUBE_PARTS) / HB_CUBE_PARTS;
    }
    return HOBBLE_OK;
}

enum hobble_status hb_cube_fill(double *cube, size_t members, int dimensions, unsigned long seed)
{
    double shift[HB_DIMENSIONS_MAX];
    if (dimensions < 1 || dimensions > HB_DIMENSIONS_MAX)
        return HOBBLE_E_RANGE;
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
    gsl_qrng *sequence = gsl_qrng_alloc(gsl_qrng_sobol, (unsigned)dimensions);
    enum hobble_status status = HOBBLE_E_MEMORY;
    if (rng && sequence) {
        gsl_rng_set(rng, seed);
        for (int d = 0; d < dimensions; d++)
            shift[d] = gsl_rng_uniform(rng);
        status = fill(sequence, shift, cube, members, dimensions);
    }
    if (sequence)
        gsl_qrng_free(sequence);
    if (rng)
        gsl_rng_free(rng);
    return status;
}
