/* SPDX-License-Identifier: GPL-3.0-or-later */
/* map.h - a map of the range as table, CSV, JSON and pictures. */
#ifndef HB_REPORT_MAP_H
#define HB_REPORT_MAP_H

#include "hobble.h"

#include <jansson.h>
#include <stdio.h>

/* A coarse table of the whole map: P5 of the range, with what does not hold marked. */
enum hobble_status hb_map_text(FILE *f, const hobble_case *c, const struct hobble_map *map,
                               bool us);
/* One line a cell under a line of names with units; RFC 4180 with line feeds. */
void hb_map_csv(FILE *f, const struct hobble_map *map);
/* picture: NULL, or the picture of hobble show that these are the numbers of. */
json_t *hb_map_json(const hobble_case *c, const struct hobble_map *map, const char *picture);

/* Draws the map: P5 of the range by colour, the rule's border, the asked point, and hatching where
 * the rim carries the load, the answer is outside the checked range, or less than 1 km is left.
 * Statuses as hb_gnuplot_close. */
enum hobble_status hb_chart_map(const char *path, const hobble_case *c,
                                const struct hobble_map *map, bool us);
/* Draws lines of equal P5 alone. */
enum hobble_status hb_chart_contour(const char *path, const hobble_case *c,
                                    const struct hobble_map *map, bool us);

/* Axis title with its unit: "speed, km/h"; "load_share, %". */
void hb_axis_title(const struct hobble_axis *axis, bool us, char *buf, size_t size);
/* A value of an axis as it is shown: in US units when asked, shares in per cent. */
double hb_axis_shown(const struct hobble_axis *axis, bool us, double value);

/* P5 in m on places (0..1, from the axis' first value to its last) between the cells: for drawing
 * only. Bilinear in the logarithm, so no extreme is made up (gsl_spline2d). */
struct hb_map_grid;
struct hb_map_grid *hb_map_grid_new(const struct hobble_map *map, const double *cell);
double hb_map_grid_at(const struct hb_map_grid *grid, double x, double y);
void hb_map_grid_free(struct hb_map_grid *grid);

#endif
