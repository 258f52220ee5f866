/* SPDX-License-Identifier: GPL-3.0-or-later */
/* chart_field.h - lines of equal distance over a map, for the pictures that draw it. */
#ifndef HB_REPORT_PICTURE_CHART_FIELD_H
#define HB_REPORT_PICTURE_CHART_FIELD_H

#include "report/describe/message.h"
#include "report/picture/gnuplot.h"
#include "report/picture/map_grid.h"

enum { HB_FIELD_SIDE = 201 }; /* places between which lines are drawn */

struct hb_field_chart {
    struct hb_gnuplot g;
    const struct hobble_map *map;
    struct hb_scope scope; /* of the map's rows */
    struct hb_map_grid *p5, *reach;
    bool us;
};

/* A place of the map (0..1) on its axis as it is shown. */
double hb_field_place(const struct hb_field_chart *f, int axis, double place);

/* Data of a grid under a name: x, y and the distance as it is shown; and the line where it is level
 * (m) as data under another name. Names are literals of letters. */
void hb_field_data(struct hb_field_chart *f, const char *name, const struct hb_map_grid *grid);
void hb_field_line(struct hb_field_chart *f, const char *name, const char *data, double level);

/* First place where a grid passes level on the way from (x0, y0) to (x1, y1); false: nowhere. */
bool hb_field_crossing(const struct hb_map_grid *grid, double level, const double from[2],
                       const double to[2], double at[2]);

/* A boxed word at a place. */
void hb_field_label(struct hb_field_chart *f, const double at[2], const char *how,
                    const char *text);

/* Axes and their titles; title texts and ranges. */
void hb_field_axes(struct hb_field_chart *f);

/* Opens the picture and makes the grids; on failure everything is freed. */
enum hobble_status hb_field_open(struct hb_field_chart *f, const char *path, int width, int height);
/* Draws and frees. */
enum hobble_status hb_field_close(struct hb_field_chart *f);

#endif
