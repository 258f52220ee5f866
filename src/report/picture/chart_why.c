/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/describe/answers.h"
#include "report/describe/message.h"
#include "report/picture/chart_parts.h"
#include "report/picture/charts.h"
#include "report/picture/gnuplot.h"

#include <math.h>
#include <string.h>

enum { WIDTH = 900, HEIGHT = 760 };

/* Names of the outputs' data. */
static const char *const names[HOBBLE_WHY_OUTPUTS] = {"range", "peak", "arrival"};

/* Rows from the bottom up: the most important one is at the top. x: total, first, their limits, and
 * what is shared. */
static void say_rows(struct hb_gnuplot *g, const struct hobble_why *w,
                     const int place[HOBBLE_INDICES_MAX], enum hobble_why_output output)
{
    hb_gnuplot_block_begin(g, names[output]);
    for (int i = 0; i < w->count; i++) {
        const struct hobble_index *x = &w->index[output][place[i]];
        const double row[] = {w->count - 1.0 - i, x->total,     x->total_low,  x->total_high,
                              x->first,           x->first_low, x->first_high, fmax(x->first, 0.0),
                              x->shapley};
        hb_gnuplot_row(g, row, sizeof row / sizeof row[0]);
    }
    hb_gnuplot_block_end(g);
}

/* The unknowns as the rows order and name them. */
static const struct hb_row *list_of(const struct hb_scope *scope, struct hb_scope *at)
{
    static const char list[] = "unknowns";
    return hb_row_find(list, strlen(list), scope, at);
}

static void say_names(struct hb_gnuplot *g, const struct hb_scope *scope)
{
    const struct hobble_why *w = scope->of;
    struct hb_scope at;
    const struct hb_row *row = list_of(scope, &at);
    hb_gnuplot_say(g, "set ytics (");
    for (int i = 0; i < w->count; i++) {
        char name[64];
        struct hb_scope item = at;
        item.of = row->item(&at, (size_t)i);
        item.rows = row->of;
        hb_say(HB_SAY_WHY_CELL_NAME, &item, name, sizeof name);
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
    static const enum hb_message titles[] = {HB_SAY_WHY_PANEL_RANGE, HB_SAY_WHY_PANEL_PEAK,
                                             HB_SAY_WHY_PANEL_ARRIVAL};
    static const char dots[] = ", $range using 9:1 with points pt 7 ps 1.1 lc rgb ink_heat";
    const double left = 0.275 + 0.235 * (int)output;
    hb_sheet_panel(g, left, left + 0.21, 0.13, 0.80);
    hb_gnuplot_say(g, "set label '%s' at graph 0, graph 1.035 left textcolor rgb ink_text\n",
                   hb_message_text(titles[output]));
    if (output != HOBBLE_WHY_RANGE)
        hb_gnuplot_say(g, "unset ytics\n");
    hb_gnuplot_say(g,
                   "plot $%s using ($2/2):1:($2/2):(0.34) with boxxyerror fs empty lw 1.2 lc "
                   "rgb ink_text, "
                   "$%s using ($8/2):1:($8/2):(0.34) with boxxyerror fs solid noborder fc rgb "
                   "ink_life, "
                   "$%s using 2:1:3:4 with xerrorbars pt -1 lw 1.4 lc rgb ink_text%s\n"
                   "unset label\n",
                   names[output], names[output], names[output],
                   output == HOBBLE_WHY_RANGE ? dots : "");
}

static void read_order(const struct hb_scope *scope, int place[HOBBLE_INDICES_MAX])
{
    const struct hobble_why *w = scope->of;
    struct hb_scope at;
    const struct hb_row *row = list_of(scope, &at);
    for (int i = 0; i < w->count; i++) {
        const struct hobble_index *x = row->item(&at, (size_t)i);
        place[i] = (int)(x - w->index[HOBBLE_WHY_RANGE]);
    }
}

enum hobble_status hb_chart_why(const char *path, const hobble_case *c, const struct hobble_why *w,
                                bool us)
{
    struct hb_gnuplot g;
    int place[HOBBLE_INDICES_MAX];
    const struct hb_scope scope = hb_answer_scope(&hb_why_answer, c, w, us);
    const enum hobble_status status = hb_gnuplot_open(&g, path, WIDTH, HEIGHT);
    if (status != HOBBLE_OK)
        return status;
    read_order(&scope, place);
    for (int k = 0; k < HOBBLE_WHY_OUTPUTS; k++)
        say_rows(&g, w, place, (enum hobble_why_output)k);
    hb_gnuplot_say(&g,
                   "set multiplot\nset yrange [-0.7:%.1f]; set xrange [0:%.1f]; set xtics 0.2\n"
                   "set ytics scale 0\n",
                   w->count - 0.3, widest(w));
    say_names(&g, &scope);
    hb_sheet_title(&g, &scope, &w->marking, w->example, HB_SAY_WHY_PICTURE, HB_SAY_WHY_PICTURE_OF);
    hb_sheet_say(&g, 0.03, 0.055, "textcolor rgb ink_text", HB_SAY_WHY_ADVICE_FIRST, &scope);
    hb_sheet_say(&g, 0.03, 0.022, "font font_small textcolor rgb ink_quiet", HB_SAY_WHY_PICTURE_KEY,
                 &scope);
    for (int k = 0; k < HOBBLE_WHY_OUTPUTS; k++)
        say_panel(&g, (enum hobble_why_output)k);
    return hb_gnuplot_close(&g);
}
