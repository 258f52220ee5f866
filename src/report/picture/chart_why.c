/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/describe/why_words.h"
#include "report/describe/words.h"
#include "report/picture/chart_parts.h"
#include "report/picture/charts.h"
#include "report/picture/gnuplot.h"

#include <math.h>
#include <string.h>

enum { WIDTH = 900, HEIGHT = 760 };

/* Rows from the bottom up: the most important one is at the top. x: total, first, their limits. */
static void say_rows(struct hb_gnuplot *g, const struct hobble_why *w,
                     enum hobble_why_output output, const char *name)
{
    int place[HOBBLE_INDICES_MAX];
    hb_why_order(w, place);
    hb_gnuplot_block_begin(g, name);
    for (int i = 0; i < w->count; i++) {
        const struct hobble_index *x = &w->index[output][place[i]];
        const double row[] = {w->count - 1.0 - i, x->total,     x->total_low,  x->total_high,
                              x->first,           x->first_low, x->first_high, fmax(x->first, 0.0)};
        hb_gnuplot_row(g, row, sizeof row / sizeof row[0]);
    }
    hb_gnuplot_block_end(g);
}

static void say_names(struct hb_gnuplot *g, const struct hobble_why *w)
{
    int place[HOBBLE_INDICES_MAX];
    hb_why_order(w, place);
    hb_gnuplot_say(g, "set ytics (");
    for (int i = 0; i < w->count; i++) {
        char name[64];
        hb_words_spaced(hobble_param_table(NULL)[w->index[0][place[i]].row].key, name, sizeof name);
        hb_gnuplot_quote(g, name);
        hb_gnuplot_say(g, " %d%s", w->count - 1 - i, i + 1 < w->count ? ", " : ")\n");
    }
}

static double widest(const struct hobble_why *w)
{
    double most = 0.3;
    for (int k = 0; k < HOBBLE_WHY_OUTPUTS; k++)
        for (int i = 0; i < w->count; i++) {
            const struct hobble_index *x = &w->index[k][i];
            const double reach[] = {x->total_high, x->total, x->first};
            for (int j = 0; j < 3; j++)
                most = isfinite(reach[j]) ? fmax(most, reach[j]) : most;
        }
    return 0.1 * ceil(10.0 * most + 0.2);
}

/* One panel an output: bars for what a row takes part in, filled for what it does alone. */
static void say_panel(struct hb_gnuplot *g, enum hobble_why_output output)
{
    static const char *const names[] = {"range", "peak", "arrival"};
    static const char *const titles[] = {"range", "hottest wall", "arrival"};
    const double left = 0.20 + 0.265 * (int)output;
    hb_sheet_panel(g, left, left + 0.235, 0.13, 0.80);
    hb_gnuplot_say(g, "set label '%s' at graph 0, graph 1.035 left textcolor rgb ink_text\n",
                   titles[output]);
    if (output != HOBBLE_WHY_RANGE)
        hb_gnuplot_say(g, "unset ytics\n");
    hb_gnuplot_say(g,
                   "plot $%s using ($2/2):1:($2/2):(0.34) with boxxyerror fs empty lw 1.2 lc "
                   "rgb ink_text, "
                   "$%s using ($8/2):1:($8/2):(0.34) with boxxyerror fs solid noborder fc rgb "
                   "ink_life, "
                   "$%s using 2:1:3:4 with xerrorbars pt -1 lw 1.4 lc rgb ink_text\n"
                   "unset label\n",
                   names[output], names[output], names[output]);
}

enum hobble_status hb_chart_why(const char *path, const hobble_case *c, const struct hobble_why *w,
                                bool us)
{
    struct hb_gnuplot g;
    char way[64], pace[64], conditions[256], advice[320];
    const enum hobble_status status = hb_gnuplot_open(&g, path, WIDTH, HEIGHT);
    if (status != HOBBLE_OK)
        return status;
    hb_quantity_text(w->distance, HOBBLE_UNIT_KILOMETRE, us, 1, way, sizeof way);
    hb_quantity_text(w->speed, HOBBLE_UNIT_KM_PER_HOUR, us, 0, pace, sizeof pace);
    snprintf(conditions, sizeof conditions,
             "%s from now at %s without air; all types, inputs drawn independently; %d journeys",
             way, pace, w->runs);
    say_rows(&g, w, HOBBLE_WHY_RANGE, "range");
    say_rows(&g, w, HOBBLE_WHY_PEAK, "peak");
    say_rows(&g, w, HOBBLE_WHY_ARRIVAL, "arrival");
    hb_gnuplot_say(&g,
                   "set multiplot\nset yrange [-0.7:%.1f]; set xrange [0:%.1f]; set xtics 0.2\n"
                   "set ytics scale 0\n",
                   w->count - 0.3, widest(w));
    say_names(&g, w);
    hb_sheet_head(&g, c, &w->marking, w->example, "Which unknown matters most", conditions);
    hb_why_advice(w, advice, sizeof advice);
    char *second = strstr(advice, ". "); /* the first sentence is all there is room for */
    if (second)
        second[1] = '\0';
    hb_sheet_words(&g, 0.03, 0.055, "textcolor rgb ink_text", advice);
    hb_sheet_words(&g, 0.03, 0.022, "font font_small textcolor rgb ink_quiet",
                   "Share of the variance: outlined, takes part in; filled, alone; whiskers, 95 of "
                   "100 sure.");
    for (int k = 0; k < HOBBLE_WHY_OUTPUTS; k++)
        say_panel(&g, (enum hobble_why_output)k);
    return hb_gnuplot_close(&g);
}
