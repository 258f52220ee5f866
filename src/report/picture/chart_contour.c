/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Contours of equal distance: what a little more load costs in speed. */
#include "report/describe/answers.h"
#include "report/picture/chart_field.h"
#include "report/picture/chart_parts.h"
#include "report/picture/charts.h"
#include "report/picture/gnuplot.h"

#include <math.h>

enum { WIDTH = 900, HEIGHT = 720, LEVELS = 7 };
static const double levels[LEVELS] = {10, 20, 40, 80, 160, 320, 640}; /* km, or mi */

static unsigned say_lines(struct hb_field_chart *f, const char *const names[LEVELS])
{
    static const double from[2] = {0.02, 0.02}, to[2] = {0.98, 0.98};
    unsigned there = 0;
    for (int i = 0; i < LEVELS; i++) {
        const double level = levels[i] * (f->us ? 1609.344 : 1000.0);
        double at[2];
        char text[32];
        if (!hb_field_crossing(f->p5, level, from, to, at))
            continue;
        hb_field_line(f, names[i], "field", level);
        snprintf(text, sizeof text, "%.0f %s", levels[i],
                 hb_shown_unit(HOBBLE_UNIT_KILOMETRE, f->us));
        hb_field_label(f, at, "textcolor rgb ink_text", text);
        there |= 1u << i;
    }
    return there;
}

enum hobble_status hb_chart_contour(const char *path, const hobble_case *c,
                                    const struct hobble_map *map, bool us)
{
    static const char *const names[LEVELS] = {"isoa", "isob", "isoc", "isod",
                                              "isoe", "isof", "isog"};
    struct hb_field_chart f = {
        .map = map, .scope = hb_answer_scope(&hb_map_answer, c, map, us), .us = us};
    const enum hobble_status status = hb_field_open(&f, path, WIDTH, HEIGHT);
    if (status != HOBBLE_OK)
        return status;
    hb_field_axes(&f);
    hb_field_data(&f, "field", f.p5);
    const unsigned there = say_lines(&f, names);
    hb_sheet_title(&f.g, &f.scope, &map->marking, map->example, HB_SAY_CONTOUR_PICTURE,
                   HB_SAY_MAP_PICTURE_OF);
    hb_sheet_say(&f.g, 0.03, 0.022, "font font_small textcolor rgb ink_text", HB_SAY_CONTOUR_KEY,
                 &f.scope);
    hb_sheet_panel(&f.g, 0.10, 0.96, 0.13, 0.84);
    hb_gnuplot_say(&f.g, "set grid back lt 1 lw 0.6 lc rgb ink_grid\nplot NaN");
    for (int i = 0; i < LEVELS; i++)
        if (there & 1u << i)
            hb_gnuplot_say(&f.g, ", $%s with lines lw %.1f dt %s lc rgb ink_life", names[i],
                           levels[i] == 80.0 ? 3.4 : 1.8,
                           levels[i] == 80.0 ? "solid" : "dash_edge");
    hb_gnuplot_say(&f.g, "\n");
    return hb_field_close(&f);
}
