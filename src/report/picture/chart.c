/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/describe/answers.h"
#include "report/describe/message.h"
#include "report/describe/range_words.h"
#include "report/describe/screen.h"
#include "report/picture/chart_parts.h"
#include "report/picture/charts.h"
#include "report/picture/gnuplot.h"

#include <math.h>

enum { LAST = HOBBLE_TRACE_POINTS - 1, WIDTH = 900, HEIGHT = 740 };

/* What the picture needs everywhere. */
struct sheet {
    struct hb_gnuplot g;
    const struct hobble_answer *a;
    const struct hobble_trace_point *trace;
    struct hb_scope scope;
};

/* A word at the end of a line, in the right margin. */
struct tag {
    double value; /* on the panel's axis */
    const char *ink;
    enum hb_message say;
};

/* Edges on the sheet (0..1 from below), the axis and its steps, and how high its title stands. */
struct panel {
    double top, bottom, low, high, every, rise;
};

/* An upright line with its words above the upper panel. */
struct upright {
    double at;        /* m from now */
    const char *line; /* gnuplot's line style */
    enum hb_message say;
};
enum { UPRIGHTS = 3, TAGS = 4 };

static double shown(const struct sheet *s, double si, enum hobble_unit unit)
{
    return hb_shown(si, unit, s->scope.us);
}

static void quote(struct sheet *s, enum hb_message message)
{
    char text[HB_VALUE_TEXT];
    hb_say(message, &s->scope, text, sizeof text);
    hb_gnuplot_quote(&s->g, text);
}

/* ---- words above the panels ------------------------------------------------------------------ */

static void label(struct sheet *s, double y, const char *how, enum hb_message message)
{
    char text[HB_VALUE_TEXT];
    hb_say(message, &s->scope, text, sizeof text);
    hb_sheet_words(&s->g, 0.03, y, how, text);
}

static void head(struct sheet *s)
{
    const struct hobble_answer *a = s->a;
    label(s, 0.970, "textcolor rgb ink_text",
          a->example        ? HB_SAY_RANGE_EXAMPLE
          : a->example_load ? HB_SAY_RANGE_DRAWN_EXAMPLE_LOAD
                            : HB_SAY_RANGE_DRAWN_TYRE);
    label(s, 0.935, "font font_head textcolor rgb ink_text",
          a->verdict == HOBBLE_STOP ? HB_SAY_RANGE_DRAWN_STOP : HB_SAY_RANGE_DRAWN_GO);
    label(s, 0.900, "font font_small textcolor rgb ink_quiet",
          a->rim_at_start            ? HB_SAY_RANGE_DRAWN_RIM
          : !hb_has_range(&s->scope) ? HB_SAY_RANGE_DRAWN_CONTRADICTION
                                     : HB_SAY_RANGE_DRAWN_FOR);
}

/* ---- upright lines --------------------------------------------------------------------------- */

/* The advised distance, the end of what rule or maker allows in all, and the destination. */
static int collect_uprights(const struct sheet *s, struct upright mark[static UPRIGHTS])
{
    const struct hobble_answer *a = s->a;
    const double driven = a->run_seen + a->run_unseen;
    int n = 0;
    if (a->verdict != HOBBLE_STOP)
        mark[n++] = (struct upright){a->advised_distance, "dt solid lw 2 lc rgb ink_text",
                                     HB_SAY_RANGE_DRAWN_ADVISED};
    mark[n++] =
        (struct upright){fmax(0.0, a->cap - driven), "dt dash_mark lw 1.6 lc rgb ink_text",
                         driven > 0.0 ? HB_SAY_RANGE_DRAWN_CAP_DRIVEN : HB_SAY_RANGE_DRAWN_CAP};
    if (!isnan(a->to))
        mark[n++] =
            (struct upright){a->to, "dt dash_low lw 2.2 lc rgb ink_text", HB_SAY_RANGE_DRAWN_PLACE};
    return n;
}

/* The farther a line, the lower its words, which stand right of it: so no line crosses words. */
static void sort_uprights(struct upright *mark, int n)
{
    for (int i = 1; i < n; i++)
        for (int k = i; k > 0 && mark[k].at < mark[k - 1].at; k--) {
            const struct upright kept = mark[k];
            mark[k] = mark[k - 1];
            mark[k - 1] = kept;
        }
}

static void say_uprights(struct sheet *s, const struct upright *mark, int n, bool words)
{
    for (int i = 0; i < n; i++) {
        if (mark[i].at > s->trace[LAST].distance)
            continue; /* not on this picture */
        const double x = shown(s, mark[i].at, HOBBLE_UNIT_KILOMETRE);
        const double top = words ? 1.045 + 0.075 * (n - 1 - i) : 1.0;
        hb_gnuplot_say(
            &s->g, "set arrow from first %.6g, graph 0 to first %.6g, graph %.4f nohead front %s\n",
            x, x, words ? top + 0.025 : top, mark[i].line);
        if (!words)
            continue;
        hb_gnuplot_say(&s->g, "set label ");
        quote(s, mark[i].say);
        hb_gnuplot_say(&s->g,
                       " at first %.6g, graph %.4f left offset 0.6,0 noenhanced font font_small "
                       "textcolor rgb ink_text\n",
                       x, top);
    }
}

/* ---- words beside the lines ------------------------------------------------------------------ */

/* Takes out what has no place and sorts the rest top down; returns how many are left. */
static int sort_tags(struct tag *tag, int n)
{
    int kept = 0;
    for (int i = 0; i < n; i++)
        if (!isnan(tag[i].value))
            tag[kept++] = tag[i];
    for (int i = 1; i < kept; i++)
        for (int k = i; k > 0 && tag[k].value > tag[k - 1].value; k--) {
            const struct tag lower = tag[k - 1];
            tag[k - 1] = tag[k];
            tag[k] = lower;
        }
    return kept;
}

/* Puts the words at their lines' ends, and apart where they would meet. */
static void say_tags(struct sheet *s, const struct panel *panel, struct tag tag[static TAGS])
{
    const double apart = 0.075;
    double y[TAGS];
    const int n = sort_tags(tag, TAGS);
    for (int i = 0; i < n; i++) {
        y[i] = (tag[i].value - panel->low) / (panel->high - panel->low);
        if (i > 0)
            y[i] = fmin(y[i], y[i - 1] - apart);
    }
    for (int i = n - 1; i >= 0; i--) /* pushed out below: back up from the floor */
        y[i] = fmax(y[i], apart * (n - 1 - i));
    for (int i = 0; i < n; i++) {
        hb_gnuplot_say(&s->g, "set label ");
        quote(s, tag[i].say);
        hb_gnuplot_say(&s->g,
                       " at graph 1.015, graph %.4f left noenhanced font font_small textcolor rgb "
                       "%s\n",
                       y[i], tag[i].ink);
    }
}

/* ---- the panels ------------------------------------------------------------------------------ */

static void say_data(struct sheet *s)
{
    hb_gnuplot_block_begin(&s->g, "way");
    for (int i = 0; i <= LAST; i++) {
        const struct hobble_trace_point *p = &s->trace[i];
        const double row[] = {
            shown(s, p->distance, HOBBLE_UNIT_KILOMETRE),
            shown(s, p->wall5, HOBBLE_UNIT_CELSIUS),
            shown(s, p->wall50, HOBBLE_UNIT_CELSIUS),
            shown(s, p->wall95, HOBBLE_UNIT_CELSIUS),
            100.0 * p->life5,
            100.0 * p->life50,
            100.0 * p->life95,
            100.0 * p->alive,
        };
        hb_gnuplot_row(&s->g, row, sizeof row / sizeof row[0]);
    }
    hb_gnuplot_block_end(&s->g);
}

/* The title stands above the panel, rise times its height over its upper edge. */
static void say_panel(struct sheet *s, const struct panel *panel, enum hb_message title)
{
    hb_gnuplot_say(&s->g,
                   "set lmargin at screen 0.075; set rmargin at screen 0.785\n"
                   "set tmargin at screen %.3f; set bmargin at screen %.3f\n"
                   "set yrange [%.6g:%.6g]\nset label ",
                   panel->top, panel->bottom, panel->low, panel->high);
    quote(s, title);
    hb_gnuplot_say(&s->g, " at screen 0.03, graph %.4f left noenhanced textcolor rgb ink_text\n",
                   1.0 + panel->rise);
}

/* Band columns low, middle, high of the data: a light ground, its edges, the middle line. */
static void say_band(struct sheet *s, int low, const char *ink)
{
    hb_gnuplot_say(&s->g,
                   "plot $way using 1:%d:%d with filledcurves fc rgb %s_tint fs solid noborder, "
                   "$way using 1:%d with lines lw 1.2 dt dash_edge lc rgb %s, "
                   "$way using 1:%d with lines lw 1.2 dt dash_low lc rgb %s, "
                   "$way using 1:%d with lines lw 2.6 dt solid lc rgb %s",
                   low, low + 2, ink, low + 2, ink, low, ink, low + 1, ink);
}

/* Whole steps of the axis around everything drawn. */
static void wall_axis(const struct sheet *s, struct panel *panel)
{
    double *low = &panel->low, *high = &panel->high;
    const double step = s->scope.us ? 50.0 : 20.0;
    *low = *high = shown(s, s->a->limit, HOBBLE_UNIT_CELSIUS);
    for (int i = 0; i <= LAST; i++) {
        *low = fmin(*low, shown(s, s->trace[i].wall5, HOBBLE_UNIT_CELSIUS));
        *high = fmax(*high, shown(s, s->trace[i].wall95, HOBBLE_UNIT_CELSIUS));
    }
    *low = step * floor((*low - 0.1 * step) / step);
    *high = step * ceil((*high + 0.1 * step) / step);
    panel->every = step * ceil((*high - *low) / (10.0 * step));
}

static void wall_panel(struct sheet *s)
{
    const struct hobble_trace_point *end = &s->trace[LAST];
    const double limit = shown(s, s->a->limit, HOBBLE_UNIT_CELSIUS);
    struct panel panel = {.top = 0.765, .bottom = 0.465, .rise = 0.3};
    struct tag tag[TAGS] = {
        {shown(s, end->wall95, HOBBLE_UNIT_CELSIUS), "ink_heat", HB_SAY_RANGE_COOLER_MOST},
        {shown(s, end->wall50, HOBBLE_UNIT_CELSIUS), "ink_heat", HB_SAY_RANGE_COOLER_HALF},
        {shown(s, end->wall5, HOBBLE_UNIT_CELSIUS), "ink_heat", HB_SAY_RANGE_COOLER_FEW},
        {limit, "ink_text", HB_SAY_RANGE_DRAWN_LIMIT},
    };
    wall_axis(s, &panel);
    say_panel(s, &panel, HB_SAY_RANGE_WALL_AXIS);
    say_tags(s, &panel, tag);
    hb_gnuplot_say(&s->g, "set format x ''; unset xlabel; set ytics %.6g\n", panel.every);
    say_band(s, 2, "ink_heat");
    hb_gnuplot_say(&s->g, ", %.6g with lines lw 1.8 dt dash_third lc rgb ink_text\n", limit);
}

static void life_panel(struct sheet *s)
{
    const struct hobble_trace_point *end = &s->trace[LAST];
    const struct panel panel = {
        .top = 0.39, .bottom = 0.09, .low = 0.0, .high = 105.0, .rise = 0.08};
    struct tag tag[TAGS] = {
        {100.0 * end->life95, "ink_life", HB_SAY_RANGE_LESS_MOST},
        {100.0 * end->life50, "ink_life", HB_SAY_RANGE_LESS_HALF},
        {100.0 * end->life5, "ink_life", HB_SAY_RANGE_LESS_FEW},
        {100.0 * end->alive, "ink_third", HB_SAY_RANGE_ALIVE},
    };
    say_panel(s, &panel, HB_SAY_RANGE_LIFE_AXIS);
    say_tags(s, &panel, tag);
    hb_gnuplot_say(&s->g, "set format x '%%g'; set ytics 20\nset xlabel ");
    quote(s, HB_SAY_RANGE_WAY_AXIS);
    hb_gnuplot_say(&s->g, " textcolor rgb ink_text\n");
    say_band(s, 5, "ink_life");
    hb_gnuplot_say(&s->g, ", $way using 1:8 with lines lw 2 dt dash_third lc rgb ink_third\n");
}

/* STOP without a range has nothing to draw: no axes, but what to do and why in words. */
static void say_words_alone(struct sheet *s)
{
    char text[HB_VALUE_TEXT];
    double y = 0.84;
    hb_gnuplot_say(&s->g, "unset border; unset tics; unset key; unset grid\n");
    struct hb_screen lines = {.width = HB_SCREEN_WIDEST};
    hb_say(HB_SAY_RANGE_NOW, &s->scope, text, sizeof text);
    hb_screen_add(&lines, text);
    hb_say(HB_SAY_RANGE_CALL, &s->scope, text, sizeof text);
    hb_screen_add(&lines, text);
    for (int i = 0; i < HOBBLE_STOP_COUNT; i++)
        if (s->a->stop[i])
            hb_screen_add(&lines, hobble_stop_sentence((enum hobble_stop)i));
    for (int i = 0; i < lines.count; i++, y -= 0.035)
        hb_sheet_words(&s->g, 0.03, y, "textcolor rgb ink_text", lines.line[i]);
    hb_gnuplot_say(&s->g, "set xrange [0:1]; set yrange [0:1]\nplot NaN notitle\n");
}

enum hobble_status hb_chart_range(const char *path, const hobble_case *c,
                                  const struct hobble_answer *answer,
                                  const struct hobble_trace_point trace[HOBBLE_TRACE_POINTS],
                                  bool us)
{
    struct sheet s = {
        .a = answer,
        .trace = trace,
        .scope = hb_answer_scope(&hb_range_answer, c, answer, us),
    };
    const struct hb_scope whole = s.scope;
    s.scope.up = &whole; /* and the way's end, in whose rows names are looked for first */
    s.scope.rows = hb_trace_rows;
    s.scope.of = &trace[LAST];
    struct upright mark[UPRIGHTS];
    const enum hobble_status status = hb_gnuplot_open(&s.g, path, WIDTH, HEIGHT);
    if (status != HOBBLE_OK)
        return status;
    if (!hb_has_range(&s.scope)) {
        head(&s);
        say_words_alone(&s);
        return hb_gnuplot_close(&s.g);
    }
    const int marks = collect_uprights(&s, mark);
    sort_uprights(mark, marks);
    say_data(&s);
    hb_gnuplot_say(&s.g, "set multiplot\nset xrange [0:%.6g]\n",
                   shown(&s, trace[LAST].distance, HOBBLE_UNIT_KILOMETRE));
    head(&s);
    say_uprights(&s, mark, marks, true);
    wall_panel(&s);
    hb_gnuplot_say(&s.g, "unset label; unset arrow\n");
    say_uprights(&s, mark, marks, false);
    life_panel(&s);
    return hb_gnuplot_close(&s.g);
}
