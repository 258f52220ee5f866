/* SPDX-License-Identifier: GPL-3.0-or-later */
/* map_grid.h - a map between its cells, for drawing only. */
#ifndef HB_REPORT_PICTURE_MAP_GRID_H
#define HB_REPORT_PICTURE_MAP_GRID_H

#include "hobble.h"

/* P5 in m on places (0..1, from the axis' first value to its last) between the cells. Bilinear in
 * the logarithm, so no extreme is made up (gsl_spline2d). */
struct hb_map_grid;

struct hb_map_grid *hb_map_grid_new(const struct hobble_map *map, const double *cell);

double hb_map_grid_at(const struct hb_map_grid *grid, double x, double y);

void hb_map_grid_free(struct hb_map_grid *grid);

#endif
