/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/picture/chart_field.h"

#include "report/describe/map_words.h"
#include "report/picture/chart_parts.h"
#include "report/picture/gnuplot.h"
#include "report/picture/map_grid.h"

#include <math.h>
#include <stdlib.h>

double hb_field_place(const struct hb_field_chart *f, int axis, double place)
{
    const struct hobble_axis *a = &f->map->axis[axis];
    return hb_axis_shown(a, f->us, a->from + place * (a->to - a->from));
}

void hb_field_data(struct hb_field_chart *f, const char *name, const struct hb_map_grid *grid)
{
    hb_gnuplot_block_begin(&f->g, name);
    for (int y = 0; y < HB_FIELD_SIDE; y++) {
        const double up = (double)y / (HB_FIELD_SIDE - 1);
        for (int x = 0; x < HB_FIELD_SIDE; x++) {
            const double across = (double)x / (HB_FIELD_SIDE - 1);
            const double row[] = {
                hb_field_place(f, 0, across), hb_field_place(f, 1, up),
                hb_shown(hb_map_grid_at(grid, across, up), HOBBLE_UNIT_KILOMETRE, f->us)};
            hb_gnuplot_row(&f->g, row, 3);
        }
        hb_gnuplot_row(&f->g, NULL, 0); /* a blank line parts the rows of a grid */
    }
    hb_gnuplot_block_end(&f->g);
}

void hb_field_line(struct hb_field_chart *f, const char *name, const char *data, double level)
{
    hb_gnuplot_say(&f->g,
                   "set contour base; unset surface\n"
                   "set cntrparam levels discrete %.9g\n"
                   "set table $%s\nsplot $%s using 1:2:3 with lines\nunset table\n"
                   "unset contour; set surface\n",
                   hb_shown(level, HOBBLE_UNIT_KILOMETRE, f->us), name, data);
}

bool hb_field_crossing(const struct hb_map_grid *grid, double level, const double from[2],
                       const double to[2], double at[2])
{
    double before = hb_map_grid_at(grid, from[0], from[1]);
    for (int i = 1; i <= HB_FIELD_SIDE; i++) {
        const double t = (double)i / HB_FIELD_SIDE;
        const double x = from[0] + t * (to[0] - from[0]), y = from[1] + t * (to[1] - from[1]);
        const double here = hb_map_grid_at(grid, x, y);
        if ((before >= level) != (here >= level)) {
            at[0] = x;
            at[1] = y;
            return true;
        }
        before = here;
    }
    return false;
}

void hb_field_label(struct hb_field_chart *f, const double at[2], const char *how, const char *text)
{
    hb_gnuplot_say(&f->g, "set label ");
    hb_gnuplot_quote(&f->g, text);
    hb_gnuplot_say(&f->g, " at first %.9g, first %.9g center front boxed noenhanced %s\n",
                   hb_field_place(f, 0, at[0]), hb_field_place(f, 1, at[1]), how);
}

void hb_field_axes(struct hb_field_chart *f)
{
    hb_gnuplot_say(&f->g,
                   "set xrange [%.9g:%.9g]; set yrange [%.9g:%.9g]\n"
                   "set border 15 lc rgb ink_quiet front; unset grid\n"
                   "set style textbox opaque noborder margins 0.6, 0.4 fillcolor rgb 'white'\n",
                   hb_field_place(f, 0, 0.0), hb_field_place(f, 0, 1.0), hb_field_place(f, 1, 0.0),
                   hb_field_place(f, 1, 1.0));
    hb_sheet_axis(&f->g, "xlabel", HB_SAY_MAP_ACROSS, &f->scope);
    hb_sheet_axis(&f->g, "ylabel", HB_SAY_MAP_UP, &f->scope);
}

/* The border runs between where the rule holds and where it does not: where something else than the
 * distance bars it, it is drawn as not reached. */
static struct hb_map_grid *reach_grid(const struct hobble_map *m)
{
    const size_t cells = (size_t)m->axis[0].count * (size_t)m->axis[1].count;
    double *reach = calloc(cells, sizeof *reach);
    for (size_t i = 0; reach && i < cells; i++)
        reach[i] = m->holds[i]                      ? m->reach[i]
                   : m->reach[i] < m->rule_distance ? m->reach[i]
                                                    : 0.5 * m->rule_distance;
    struct hb_map_grid *grid = reach ? hb_map_grid_new(m, reach) : NULL;
    free(reach);
    return grid;
}

enum hobble_status hb_field_open(struct hb_field_chart *f, const char *path, int width, int height)
{
    const enum hobble_status status = hb_gnuplot_open(&f->g, path, width, height);
    if (status != HOBBLE_OK)
        return status;
    f->p5 = hb_map_grid_new(f->map, f->map->p5);
    f->reach = reach_grid(f->map);
    if (f->p5 && f->reach)
        return HOBBLE_OK;
    hb_map_grid_free(f->p5);
    hb_map_grid_free(f->reach);
    hb_gnuplot_drop(&f->g);
    return HOBBLE_E_MEMORY;
}

enum hobble_status hb_field_close(struct hb_field_chart *f)
{
    hb_map_grid_free(f->p5);
    hb_map_grid_free(f->reach);
    return hb_gnuplot_close(&f->g);
}
