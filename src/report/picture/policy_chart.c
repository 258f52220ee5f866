/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/describe/policy.h"
#include "report/picture/chart_parts.h"
#include "report/picture/charts.h"
#include "report/picture/gnuplot.h"

#include <math.h>
#include <string.h>

enum { WIDTH = 900, LEAST_HEIGHT = 340, LINE_HEIGHT = 19, MOST_HEIGHT = 1300, COST_HEIGHT = 400 };
#define LEAST_CHANCE 1e-5 /* smaller ones are drawn there */

/* ---- chances by row -------------------------------------------------------------------------- */

static void say_rows(struct hb_gnuplot *g, const struct hb_policy_report *r)
{
    const struct hobble_policy *p = r->policy;
    hb_gnuplot_block_begin(g, "rows");
    for (int i = 0; i < p->rows; i++) {
        const struct hobble_policy_row *row = &p->row[i];
        const double value[] = {p->rows - 1.0 - i, fmax(row->policy.failed, LEAST_CHANCE) * 100.0,
                                fmax(row->rule.failed, LEAST_CHANCE) * 100.0, row->distance / 1e3};
        hb_gnuplot_row(g, value, sizeof value / sizeof *value);
    }
    hb_gnuplot_block_end(g);
}

static void say_names(struct hb_gnuplot *g, const struct hb_policy_report *r)
{
    const struct hb_scope scope = hb_policy_scope(r);
    struct hb_scope list;
    const struct hb_row *rows = hb_row_find("rows", 4, &scope, &list);
    hb_gnuplot_say(g, "set ytics scale 0 font font_small\nset ytics (");
    for (int i = 0; i < r->policy->rows; i++) {
        const struct hb_scope item = hb_row_inside(rows, &list, (size_t)i);
        char name[4 * HOBBLE_FLEET_NAME];
        hb_say(HB_SAY_POLICY_CHART_ROW, &item, name, sizeof name);
        hb_gnuplot_quote(g, name);
        hb_gnuplot_say(g, " %d%s", r->policy->rows - 1 - i, i + 1 < r->policy->rows ? ", " : ")\n");
    }
}

enum hobble_status hb_chart_policy(const char *path, const struct hb_policy_report *r)
{
    struct hb_gnuplot g;
    const int wanted = LEAST_HEIGHT - 160 + LINE_HEIGHT * r->policy->rows;
    const int high = wanted < LEAST_HEIGHT  ? LEAST_HEIGHT
                     : wanted > MOST_HEIGHT ? MOST_HEIGHT
                                            : wanted;
    const double accepted = r->fleet->number[hobble_fleet_find("accepted_chance")].value;
    const double pixel = 1.0 / high;
    const enum hobble_status status = hb_gnuplot_open(&g, path, WIDTH, high);
    if (status != HOBBLE_OK)
        return status;
    say_rows(&g, r);
    say_names(&g, r);
    hb_sheet_words(&g, 0.03, 1.0 - 24 * pixel, "font font_head textcolor rgb ink_text",
                   hb_message_text(HB_SAY_POLICY_CHART_TITLE));
    hb_sheet_words(&g, 0.03, 1.0 - 48 * pixel, "font font_small textcolor rgb ink_quiet",
                   hb_message_text(HB_SAY_POLICY_CHART_NOTE));
    hb_sheet_panel(&g, 0.43, 0.965, 62 * pixel, 1.0 - 66 * pixel);
    hb_gnuplot_say(
        &g,
        "set logscale x; set xrange [%g:100]; set yrange [-0.7:%.1f]\n"
        "set xtics add ('0.001' 0.001, '0.01' 0.01, '0.1' 0.1, '1' 1, '10' 10, '100' 100)\n"
        "set xlabel ",
        LEAST_CHANCE * 100.0, r->policy->rows - 0.3);
    hb_gnuplot_quote(&g, hb_message_text(HB_SAY_POLICY_CHART_AXIS));
    hb_gnuplot_say(
        &g,
        " textcolor rgb ink_text\n"
        "set arrow from %.9g, graph 0 to %.9g, graph 1 nohead dt dash_edge lw 1.4 lc rgb "
        "ink_third\n"
        "plot $rows using 3:1:($2-$3):(0) with vectors nohead lw 1.4 lc rgb ink_grid, "
        "$rows using 3:1 with points pt 6 ps 0.9 lw 1.4 lc rgb ink_heat, "
        "$rows using 2:1 with points pt 7 ps 0.9 lc rgb ink_life\n",
        accepted * 100.0, accepted * 100.0);
    return hb_gnuplot_close(&g);
}

/* ---- constructions --------------------------------------------------------------------------- */

static void say_costs(struct hb_gnuplot *g, const struct hobble_policy *p)
{
    hb_gnuplot_block_begin(g, "costs");
    for (int b = 0; b < HOBBLE_BUILDS; b++) {
        const struct hobble_policy_cost *c = &p->cost[b];
        const double value[] = {
            HOBBLE_BUILDS - 1.0 - b, c->cost.middle, c->cost.p5,     c->cost.p95,
            c->stranded.middle,      c->stranded.p5, c->stranded.p95};
        hb_gnuplot_row(g, value, sizeof value / sizeof *value);
    }
    hb_gnuplot_block_end(g);
}

static void say_panel(struct hb_gnuplot *g, int panel, const char *title)
{
    const int column = panel == 0 ? 2 : 5;
    hb_sheet_panel(g, panel == 0 ? 0.24 : 0.64, panel == 0 ? 0.60 : 0.965, 0.17, 0.76);
    hb_gnuplot_say(g, "set label ");
    hb_gnuplot_quote(g, title);
    hb_gnuplot_say(
        g,
        " at graph 0, graph 1.07 left noenhanced textcolor rgb ink_text\n"
        "plot $costs using ($%d/2):1:($%d/2):(0.3) with boxxyerror fs solid noborder fc rgb "
        "%s, $costs using %d:1:%d:%d with xerrorbars pt -1 lw 1.6 lc rgb ink_text\n"
        "unset label; unset ytics\n",
        column, column, panel == 0 ? "ink_heat_tint" : "ink_life_tint", column, column + 1,
        column + 2);
}

enum hobble_status hb_chart_policy_cost(const char *path, const struct hb_policy_report *r)
{
    const struct hb_scope scope = hb_policy_scope(r);
    struct hb_gnuplot g;
    char title[96];
    const enum hobble_status status = hb_gnuplot_open(&g, path, WIDTH, COST_HEIGHT);
    if (status != HOBBLE_OK)
        return status;
    say_costs(&g, r->policy);
    hb_gnuplot_say(
        &g,
        "set multiplot; set yrange [-0.6:%.1f]; set xrange [0:*]\nset ytics scale 0\nset ytics (",
        HOBBLE_BUILDS - 0.4);
    for (int b = 0; b < HOBBLE_BUILDS; b++) {
        hb_gnuplot_quote(&g, hobble_build_name((enum hobble_build)b));
        hb_gnuplot_say(&g, " %d%s", HOBBLE_BUILDS - 1 - b, b + 1 < HOBBLE_BUILDS ? ", " : ")\n");
    }
    hb_sheet_words(&g, 0.03, 0.94, "font font_head textcolor rgb ink_text",
                   hb_message_text(HB_SAY_POLICY_CHART_COSTS));
    hb_sheet_words(&g, 0.03, 0.04, "font font_small textcolor rgb ink_quiet",
                   hb_message_text(HB_SAY_POLICY_CHART_WHISKERS));
    hb_say(HB_SAY_POLICY_T_MONEY, &scope, title, sizeof title);
    say_panel(&g, 0, title);
    say_panel(&g, 1, hb_message_text(HB_SAY_POLICY_CHART_EVENTS));
    return hb_gnuplot_close(&g);
}
