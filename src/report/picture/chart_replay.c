/* SPDX-License-Identifier: GPL-3.0-or-later */
/* chart_replay.c - a recorded drive: how it was driven, how hot it became, what it used up. */
#include "report/describe/answers.h"
#include "report/describe/drawn.h"
#include "report/picture/chart_parts.h"
#include "report/picture/charts.h"
#include "report/picture/gnuplot.h"

#include <math.h>

enum { WIDTH = 900, HEIGHT = 860, FIRST = 10, A_CHANNEL = 4 };

/* A column each: time, speed, pressure, life 5, 50, 95; then from FIRST on a channel's four. */
static void say_points(struct hb_gnuplot *g, const struct hobble_replay *r, bool us)
{
    hb_gnuplot_block_begin(g, "drive");
    for (int i = 0; i < r->points; i++) {
        const struct hobble_replay_point *p = &r->point[i];
        double row[FIRST - 1 + A_CHANNEL * HOBBLE_CHANNELS] = {
            p->time / 60.0,
            hb_shown(p->speed, HOBBLE_UNIT_KM_PER_HOUR, us),
            hb_shown(p->pressure, HOBBLE_UNIT_KILOPASCAL, us),
            100.0 * p->life_low,
            100.0 * p->life_middle,
            100.0 * p->life_high};
        for (int c = 0; c < HOBBLE_CHANNELS; c++) {
            double *at = &row[FIRST - 1 + A_CHANNEL * c];
            at[0] = hb_shown(p->measured[c], HOBBLE_UNIT_CELSIUS, us);
            at[1] = hb_shown(p->low[c], HOBBLE_UNIT_CELSIUS, us);
            at[2] = hb_shown(p->middle[c], HOBBLE_UNIT_CELSIUS, us);
            at[3] = hb_shown(p->high[c], HOBBLE_UNIT_CELSIUS, us);
        }
        hb_gnuplot_row(g, row, sizeof row / sizeof row[0]);
    }
    hb_gnuplot_block_end(g);
}

/* Upright lines through all panels, where the air went and where the warning came. */
static void say_moments(struct hb_gnuplot *g, const struct hobble_replay *r)
{
    if (!isnan(r->flat_at))
        hb_gnuplot_say(g,
                       "set arrow from first %.6g, graph 0 to first %.6g, graph 1 nohead back "
                       "lw 1.4 lc rgb ink_quiet\n",
                       r->flat_at / 60.0, r->flat_at / 60.0);
    if (!isnan(r->warned_at))
        hb_gnuplot_say(g,
                       "set arrow from first %.6g, graph 0 to first %.6g, graph 1 nohead back "
                       "lw 1.4 dt dash_mark lc rgb ink_text\n",
                       r->warned_at / 60.0, r->warned_at / 60.0);
}

static const enum hb_message name[HOBBLE_CHANNELS] = {
    [HOBBLE_CHANNEL_INNER] = HB_SAY_REPLAY_INNER,
    [HOBBLE_CHANNEL_OUTER] = HB_SAY_REPLAY_OUTER,
    [HOBBLE_CHANNEL_CAVITY] = HB_SAY_REPLAY_CAVITY,
    [HOBBLE_CHANNEL_SHOULDER] = HB_SAY_REPLAY_SHOULDER};

/* gnuplot's numbers of dots that grey prints tell apart: full, open, square, triangle. */
static const int mark[HOBBLE_CHANNELS] = {7, 6, 5, 8};

/* Band, middle and dots of each place that was measured; of the inner face where none was. */
static void say_heat(struct hb_gnuplot *g, const struct hobble_replay *r, bool us)
{
    if (r->points == 0)
        return;
    const struct hobble_replay_point *at = &r->point[4 * r->points / 5];
    bool shown[HOBBLE_CHANNELS] = {false}, any = false;
    for (int c = 0; c < HOBBLE_CHANNELS; c++)
        any = (shown[c] = r->misfit[c].count > 0) || any;
    shown[HOBBLE_CHANNEL_INNER] = shown[HOBBLE_CHANNEL_INNER] || !any;
    for (int c = 0; c < HOBBLE_CHANNELS; c++)
        if (shown[c] && !isnan(at->middle[c])) {
            hb_gnuplot_say(g, "set label ");
            hb_gnuplot_quote(g, hb_message_text(name[c]));
            hb_gnuplot_say(g,
                           " at first %.6g, first %.6g center offset 0,0.8 front noenhanced font "
                           "font_small textcolor rgb ink_text\n",
                           at->time / 60.0, hb_shown(at->middle[c], HOBBLE_UNIT_CELSIUS, us));
        }
    hb_gnuplot_say(g, "plot ");
    for (int c = 0; c < HOBBLE_CHANNELS; c++)
        if (shown[c])
            hb_gnuplot_say(g,
                           "$drive using 1:%d:%d with filledcurves fc rgb ink_heat_tint fs "
                           "transparent solid 0.6 noborder, ",
                           FIRST + A_CHANNEL * c + 1, FIRST + A_CHANNEL * c + 3);
    for (int c = 0; c < HOBBLE_CHANNELS; c++)
        if (shown[c])
            hb_gnuplot_say(g,
                           "$drive using 1:%d with lines lw 2 lc rgb ink_heat, "
                           "$drive using 1:%d with points pt %d ps 0.6 lc rgb ink_text, ",
                           FIRST + A_CHANNEL * c + 2, FIRST + A_CHANNEL * c, mark[c]);
    hb_gnuplot_say(g, "NaN\nunset label\n");
}

enum hobble_status hb_chart_replay(const char *path, const hobble_case *c,
                                   const struct hb_replay_report *report, bool us)
{
    struct hb_gnuplot g;
    const struct hobble_replay *r = &report->replay;
    const struct hb_scope scope = hb_answer_scope(&hb_replay_answer, c, report, us);
    const enum hobble_status status = hb_gnuplot_open(&g, path, WIDTH, HEIGHT);
    if (status != HOBBLE_OK)
        return status;
    say_points(&g, r, us);
    hb_sheet_title(&g, &scope, &r->answer.marking, r->answer.example, HB_SAY_REPLAY_PICTURE,
                   HB_SAY_REPLAY_PICTURE_OF);
    hb_sheet_say(&g, 0.03, 0.022, "font font_small textcolor rgb ink_text", HB_SAY_REPLAY_KEY,
                 &scope);
    hb_gnuplot_say(&g, "set multiplot\nset xrange [0:%.6g]\n",
                   r->points > 0 ? r->point[r->points - 1].time / 60.0 : 1.0);
    say_moments(&g, r);
    hb_sheet_panel(&g, 0.10, 0.88, 0.66, 0.86);
    hb_sheet_axis(&g, "ylabel", HB_SAY_REPLAY_PACE_UP, &scope);
    hb_gnuplot_say(&g, "set format x ''; set yrange [0:*]\n"
                       "plot $drive using 1:2 with lines lw 2 lc rgb ink_text, "
                       "$drive using 1:3 with lines lw 2 dt dash_third lc rgb ink_third\n");
    hb_sheet_panel(&g, 0.10, 0.88, 0.35, 0.62);
    hb_sheet_axis(&g, "ylabel", HB_SAY_REPLAY_HEAT_UP, &scope);
    hb_gnuplot_say(&g, "set yrange [*:*]\n");
    say_heat(&g, r, us);
    hb_sheet_panel(&g, 0.10, 0.88, 0.12, 0.31);
    hb_sheet_axis(&g, "ylabel", HB_SAY_REPLAY_LIFE_UP, &scope);
    hb_sheet_axis(&g, "xlabel", HB_SAY_REPLAY_ACROSS, &scope);
    hb_gnuplot_say(&g, "set format x '%%g'; set yrange [0:*]\n"
                       "plot $drive using 1:4:6 with filledcurves fc rgb ink_life_tint fs solid "
                       "noborder, $drive using 1:4 with lines lw 1.2 dt dash_low lc rgb ink_life, "
                       "$drive using 1:6 with lines lw 1.2 dt dash_edge lc rgb ink_life, "
                       "$drive using 1:5 with lines lw 2.6 lc rgb ink_life\n");
    return hb_gnuplot_close(&g);
}
