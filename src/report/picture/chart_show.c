/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pictures for a class: the wall, a journey's life, and what the mark is worth. */
#include "report/describe/answers.h"
#include "report/describe/drawn.h"
#include "report/picture/chart_parts.h"
#include "report/picture/charts.h"
#include "report/picture/gnuplot.h"

#include <math.h>
#include <string.h>

enum { WIDTH = 900, HEIGHT = 700 };

/* ---- the wall -------------------------------------------------------------------------------- */

static void say_wall(struct hb_gnuplot *g, const struct hobble_wall *w, bool us, double *high)
{
    *high = -HUGE_VAL;
    hb_gnuplot_block_begin(g, "wall");
    for (int i = 0; i < HOBBLE_WALL_TIMES; i++) {
        for (int k = 0; k < HOBBLE_WALL_PLACES; k++) {
            const double row[] = {w->time[i] / 60.0, w->depth[k] * 1e3,
                                  hb_shown(w->kelvin[i][k], HOBBLE_UNIT_CELSIUS, us)};
            *high = fmax(*high, row[2]);
            hb_gnuplot_row(g, row, 3);
        }
        hb_gnuplot_row(g, NULL, 0);
    }
    hb_gnuplot_block_end(g);
}

/* A place of the middle of a contour is hard to find from here; gnuplot's own labels need none. */
static void say_isotherms(struct hb_gnuplot *g, double high, double step)
{
    hb_gnuplot_say(g,
                   "set contour base; unset surface; set cntrlabel onecolor interval 20 start 30\n"
                   "set cntrparam levels incremental %.6g,%.6g,%.6g\nset table $iso\n"
                   "splot $wall using 1:2:3 with lines\nunset table\n"
                   "unset contour; set surface\n",
                   step, step, high);
}

enum hobble_status hb_chart_wall(const char *path, const hobble_case *c,
                                 const struct hobble_wall *w, bool us)
{
    struct hb_gnuplot g;
    const struct hb_scope scope = hb_answer_scope(&hb_wall_answer, c, w, us);
    double high;
    const double step = us ? 25.0 : 10.0;
    const enum hobble_status status = hb_gnuplot_open(&g, path, WIDTH, HEIGHT);
    if (status != HOBBLE_OK)
        return status;
    say_wall(&g, w, us, &high);
    say_isotherms(&g, high, step);
    hb_sheet_title(&g, &scope, &w->marking, w->example, HB_SAY_WALL_PICTURE,
                   w->evidence_items > 0 ? HB_SAY_WALL_PICTURE_KNOWN : HB_SAY_WALL_PICTURE_OF);
    hb_sheet_say(&g, 0.03, 0.022, "font font_small textcolor rgb ink_text", HB_SAY_WALL_KEY,
                 &scope);
    hb_sheet_axis(&g, "xlabel", HB_SAY_WALL_ACROSS, &scope);
    hb_sheet_axis(&g, "ylabel", HB_SAY_WALL_UP, &scope);
    hb_sheet_axis(&g, "cblabel", HB_SAY_WALL_SCALE, &scope);
    hb_sheet_panel(&g, 0.10, 0.82, 0.15, 0.83);
    hb_gnuplot_say(&g,
                   "set xrange [0:%.6g]; set yrange [0:%.6g]\n"
                   "set border 15 lc rgb ink_quiet front; unset grid\n"
                   "set style textbox opaque noborder margins 0.5, 0.3 fillcolor rgb 'white'\n"
                   "set colorbox user origin screen 0.845,screen 0.15 size screen 0.025,"
                   "screen 0.68 border\n"
                   "set autoscale cbfix; set pm3d map interpolate 2,2\n",
                   w->time[HOBBLE_WALL_TIMES - 1] / 60.0, w->thickness * 1e3);
    hb_gnuplot_say(&g, "splot $wall using 1:2:3 with pm3d, "
                       "$iso using 1:2:(0) with lines lw 2.4 lc rgb 'white', "
                       "$iso using 1:2:(0) with lines lw 1 lc rgb ink_text, "
                       "$iso using 1:2:(0):3 every 60::25 with labels boxed font font_small tc rgb "
                       "ink_text\n");
    return hb_gnuplot_close(&g);
}

/* ---- life along a journey -------------------------------------------------------------------- */

/* Shaded stretches where it stands still, from the foot to the top of the panels. */
static void say_stops(struct hb_gnuplot *g, const struct hobble_life *life)
{
    double from = (double)NAN;
    for (int i = 0; i < life->count; i++) {
        const bool stands = life->point[i].speed <= 0.0;
        const double before = i > 0 ? life->point[i - 1].time : 0.0;
        if (stands && isnan(from))
            from = before;
        if (!isnan(from) && (!stands || i + 1 == life->count)) {
            const double to = stands ? life->point[i].time : before;
            hb_gnuplot_say(g,
                           "set object rectangle from first %.6g, graph 0 to first %.6g, graph 1 "
                           "behind fc rgb ink_grid fs solid noborder\n",
                           from / 60.0, to / 60.0);
            from = (double)NAN;
        }
    }
}

static void say_life(struct hb_gnuplot *g, const struct hobble_life *life, bool us)
{
    hb_gnuplot_block_begin(g, "way");
    for (int i = 0; i < life->count; i++) {
        const struct hobble_life_point *p = &life->point[i];
        const double row[] = {p->time / 60.0,
                              100.0 * p->life5,
                              100.0 * p->life50,
                              100.0 * p->life95,
                              hb_shown(p->wall50, HOBBLE_UNIT_CELSIUS, us),
                              100.0 * p->alive};
        hb_gnuplot_row(g, row, sizeof row / sizeof row[0]);
    }
    hb_gnuplot_block_end(g);
}

enum hobble_status hb_chart_life(const char *path, const hobble_case *c,
                                 const struct hobble_life *life, bool us)
{
    struct hb_gnuplot g;
    const struct hb_scope scope = hb_answer_scope(&hb_life_answer, c, life, us);
    const struct hobble_life_point *end = &life->point[life->count - 1];
    const enum hobble_status status = hb_gnuplot_open(&g, path, WIDTH, HEIGHT);
    if (status != HOBBLE_OK)
        return status;
    say_life(&g, life, us);
    hb_sheet_title(&g, &scope, &life->marking, life->example, HB_SAY_LIFE_PICTURE,
                   HB_SAY_LIFE_PICTURE_OF);
    hb_sheet_say(&g, 0.03, 0.022, "font font_small textcolor rgb ink_text", HB_SAY_LIFE_KEY,
                 &scope);
    hb_gnuplot_say(&g, "set multiplot\nset xrange [0:%.6g]\n", end->time / 60.0);
    say_stops(&g, life);
    hb_sheet_panel(&g, 0.10, 0.96, 0.56, 0.83);
    hb_sheet_axis(&g, "ylabel", HB_SAY_LIFE_HEAT_UP, &scope);
    hb_gnuplot_say(&g, "set format x ''\n"
                       "plot $way using 1:5 with lines lw 2.6 lc rgb ink_heat\n"
                       "unset label\n");
    hb_sheet_panel(&g, 0.10, 0.96, 0.14, 0.52);
    hb_sheet_axis(&g, "ylabel", HB_SAY_LIFE_UP, &scope);
    hb_sheet_axis(&g, "xlabel", HB_SAY_LIFE_ACROSS, &scope);
    hb_gnuplot_say(&g, "set format x '%%g'; set yrange [0:105]; set ytics 20\n"
                       "plot $way using 1:2:4 with filledcurves fc rgb ink_life_tint fs solid "
                       "noborder, $way using 1:2 with lines lw 1.2 dt dash_low lc rgb ink_life, "
                       "$way using 1:4 with lines lw 1.2 dt dash_edge lc rgb ink_life, "
                       "$way using 1:3 with lines lw 2.6 lc rgb ink_life, "
                       "$way using 1:6 with lines lw 2 dt dash_third lc rgb ink_third\n");
    return hb_gnuplot_close(&g);
}

/* ---- what the mark is worth ------------------------------------------------------------------ */

static void say_curves(struct hb_gnuplot *g, const struct hobble_mark_worth *m, bool us,
                       double *least, double *most)
{
    *least = HUGE_VAL;
    *most = 0.0;
    hb_gnuplot_block_begin(g, "curve");
    for (int i = 0; i < HOBBLE_MARK_POINTS; i++) {
        const double before = hb_shown(fmax(m->curve_before[i], 1e3), HOBBLE_UNIT_KILOMETRE, us);
        const double after = hb_shown(fmax(m->curve_after[i], 1e3), HOBBLE_UNIT_KILOMETRE, us);
        const double known = m->evidence_items > 0
                                 ? hb_shown(fmax(m->curve_known[i], 1e3), HOBBLE_UNIT_KILOMETRE, us)
                                 : after;
        const double row[] = {before, after, 100.0 - 100.0 * (i + 0.5) / HOBBLE_MARK_POINTS, known};
        *least = fmin(*least, fmin(known, fmin(before, after)));
        *most = fmax(*most, fmax(known, fmax(before, after)));
        hb_gnuplot_row(g, row, 4);
    }
    hb_gnuplot_block_end(g);
}

/* The 5 of 100 with their intervals, a little above and below their level. */
static void say_fives(struct hb_gnuplot *g, const struct hobble_mark_worth *m, bool us)
{
    const struct hobble_quantile *q[] = {&m->before[0], &m->after[0], &m->known[0]};
    hb_gnuplot_block_begin(g, "five");
    for (int i = 0; i < (m->evidence_items > 0 ? 3 : 2); i++) {
        const double row[] = {hb_shown(fmax(q[i]->at, 1e3), HOBBLE_UNIT_KILOMETRE, us), 95.0,
                              hb_shown(fmax(q[i]->low, 1e3), HOBBLE_UNIT_KILOMETRE, us),
                              hb_shown(fmax(q[i]->high, 1e3), HOBBLE_UNIT_KILOMETRE, us)};
        hb_gnuplot_row(g, row, 4);
    }
    hb_gnuplot_block_end(g);
}

enum hobble_status hb_chart_mark(const char *path, const hobble_case *c,
                                 const struct hobble_mark_worth *m, bool us)
{
    struct hb_gnuplot g;
    const struct hb_scope scope = hb_answer_scope(&hb_mark_answer, c, m, us);
    double least, most;
    const enum hobble_status status = hb_gnuplot_open(&g, path, WIDTH, HEIGHT);
    if (status != HOBBLE_OK)
        return status;
    say_curves(&g, m, us, &least, &most);
    say_fives(&g, m, us);
    hb_sheet_title(&g, &scope, &m->marking, m->example, HB_SAY_MARK_PICTURE,
                   HB_SAY_MARK_PICTURE_OF);
    hb_sheet_say(&g, 0.03, 0.052, "font font_small textcolor rgb ink_text",
                 m->evidence_items > 0 ? HB_SAY_MARK_CURVES_KNOWN : HB_SAY_MARK_CURVES, &scope);
    hb_sheet_say(&g, 0.03, 0.022, "font font_small textcolor rgb ink_quiet", HB_SAY_MARK_WHISKERS,
                 &scope);
    hb_sheet_axis(&g, "xlabel", HB_SAY_MARK_ACROSS, &scope);
    hb_sheet_axis(&g, "ylabel", HB_SAY_MARK_UP, &scope);
    hb_sheet_panel(&g, 0.10, 0.96, 0.18, 0.83);
    hb_gnuplot_say(&g,
                   "set logscale x; set xrange [%.6g:%.6g]; set yrange [0:100]\n"
                   "set xtics (1,2,5,10,20,50,100,200,500,1000,2000)\n"
                   "plot $curve using 1:3 with lines lw 1.8 dt dash_edge lc rgb ink_third, "
                   "$curve using 2:3 with lines lw 3 lc rgb ink_life, %s"
                   "$five using 1:2:3:4 with xerrorbars pt 7 ps 0.9 lw 1.8 lc rgb ink_text\n",
                   least, fmax(most, 2.0 * least),
                   m->evidence_items > 0 ? "$curve using 4:3 with lines lw 2.2 lc rgb ink_text, "
                                         : "");
    return hb_gnuplot_close(&g);
}
