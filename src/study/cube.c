/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "study/cube.h"

#include "core/param.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_qrng.h>
#include <gsl/gsl_rng.h>
#include <math.h>

static enum hobble_status fill(gsl_qrng *sequence, const double *shift, double *cube,
                               size_t members, int dimensions)
{
    double point[HB_DIMENSIONS_MAX];
    for (size_t i = 0; i < members; i++) {
        if (gsl_qrng_get(sequence, point) != GSL_SUCCESS)
            return HOBBLE_E_INTERNAL;
        for (int d = 0; d < dimensions; d++) {
            double u = point[d] + shift[d];
            u -= floor(u);
            u = fmin(fmax(u, 1e-9), 1.0 - 1e-9);
            cube[i * (size_t)dimensions + (size_t)d] = gsl_cdf_ugaussian_Pinv(u);
        }
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
