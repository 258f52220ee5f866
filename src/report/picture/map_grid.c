/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Between the cells of a map, for drawing only. */
#include "report/picture/map_grid.h"

#include <gsl/gsl_errno.h>
#include <gsl/gsl_spline2d.h>
#include <math.h>
#include <stdlib.h>

#define LEAST 100.0 /* m: less is drawn as this; a logarithm has no nought */

struct hb_map_grid {
    gsl_spline2d *spline;
    gsl_interp_accel *across, *up;
};

static double drawn(double metres)
{
    return log(isnan(metres) ? LEAST : fmax(metres, LEAST));
}

static bool fill(struct hb_map_grid *g, const struct hobble_map *m, const double *cell)
{
    const size_t nx = (size_t)m->axis[0].count, ny = (size_t)m->axis[1].count;
    double *x = calloc(nx, sizeof *x), *y = calloc(ny, sizeof *y), *z = calloc(nx * ny, sizeof *z);
    bool good = x && y && z;
    for (size_t i = 0; good && i < nx; i++)
        x[i] = (double)i / (double)(nx - 1);
    for (size_t i = 0; good && i < ny; i++)
        y[i] = (double)i / (double)(ny - 1);
    for (size_t i = 0; good && i < nx * ny; i++)
        z[i] = drawn(cell[i]);
    good = good && gsl_spline2d_init(g->spline, x, y, z, nx, ny) == GSL_SUCCESS;
    free(x);
    free(y);
    free(z);
    return good;
}

struct hb_map_grid *hb_map_grid_new(const struct hobble_map *m, const double *cell)
{
    struct hb_map_grid *g = calloc(1, sizeof *g);
    if (!g)
        return NULL;
    g->spline = gsl_spline2d_alloc(gsl_interp2d_bilinear, (size_t)m->axis[0].count,
                                   (size_t)m->axis[1].count);
    g->across = gsl_interp_accel_alloc();
    g->up = gsl_interp_accel_alloc();
    if (g->spline && g->across && g->up && fill(g, m, cell))
        return g;
    hb_map_grid_free(g);
    return NULL;
}

double hb_map_grid_at(const struct hb_map_grid *g, double x, double y)
{
    double z;
    x = fmin(fmax(x, 0.0), 1.0);
    y = fmin(fmax(y, 0.0), 1.0);
    if (gsl_spline2d_eval_e(g->spline, x, y, g->across, g->up, &z) != GSL_SUCCESS)
        return (double)NAN;
    return exp(z);
}

void hb_map_grid_free(struct hb_map_grid *g)
{
    if (!g)
        return;
    if (g->spline)
        gsl_spline2d_free(g->spline);
    if (g->across)
        gsl_interp_accel_free(g->across);
    if (g->up)
        gsl_interp_accel_free(g->up);
    free(g);
}
