/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/chart.h"

#include "input/quantity.h"
#include "report/gnuplot.h"
#include "report/words.h"

#include <math.h>
#include <string.h>

enum { LAST = HOBBLE_TRACE_POINTS - 1, WIDTH = 900, HEIGHT = 740 };

/* What the picture needs everywhere. */
struct sheet {
    struct hb_gnuplot g;
    const struct hobble_answer *a;
    const struct hobble_trace_point *trace;
    bool us;
};

/* A word at the end of a line, in the right margin. */
struct tag {
    double value; /* on the panel's axis */
    const char *ink;
    char text[80];
};

/* An upright line with its words above the upper panel. */
struct upright {
    double at;        /* m from now */
    const char *line; /* gnuplot's line style */
    char text[96];
};
enum { UPRIGHTS = 3 };

static double shown(const struct sheet *s, double si, enum hobble_unit unit)
{
    double value = hobble_unit_from_si(unit, si);
    if (s->us)
        hb_quantity_us(unit, &value);
    return value;
}

static const char *symbol(const struct sheet *s, enum hobble_unit unit)
{
    double none = 0.0;
    return s->us ? hb_quantity_us(unit, &none) : hobble_unit_symbol(unit);
}

/* Rounded down to 0.1, as in the text: never printed larger than it is. */
static void distance_text(const struct sheet *s, double si, char buf[static 64])
{
    const double unit = s->us ? 160.9344 : 100.0;
    hb_quantity_text(floor(si / unit + 1e-9) * unit, HOBBLE_UNIT_KILOMETRE, s->us, 1, buf, 64);
}

static void degrees_text(const struct sheet *s, double kelvin, char buf[static 64])
{
    char number[40];
    hb_number_print(round(shown(s, kelvin, HOBBLE_UNIT_CELSIUS)), 15, number, sizeof number);
    snprintf(buf, 64, "%s \u00B0%s", number, symbol(s, HOBBLE_UNIT_CELSIUS));
}

/* ---- words above the panels ------------------------------------------------------------------ */

static void say_label(struct sheet *s, double y, const char *how, const char *text)
{
    hb_gnuplot_say(&s->g, "set label ");
    hb_gnuplot_quote(&s->g, text);
    hb_gnuplot_say(&s->g, " at screen 0.03, screen %.4f left noenhanced %s\n", y, how);
}

/* The tyre, or that it is not the asker's. The name is somebody's text: quoted, and cut to what
 * the sheet's width holds. */
static void tyre_line(struct sheet *s, const hobble_case *c)
{
    enum { FITS = 60 };
    char marking[64], name[HOBBLE_FAULT_TEXT], line[256];
    hobble_marking_print(&s->a->marking, marking, sizeof marking);
    hobble_fault_text(name, hobble_case_text(c, hobble_param_find("tyre_name")));
    size_t characters = 0;
    for (char *p = name; *p; p++)
        if (((unsigned char)*p & 0xC0) != 0x80 && ++characters > FITS) {
            *p = '\0';
            break;
        }
    if (s->a->example)
        snprintf(line, sizeof line, "EXAMPLE, not your tyre: built-in values, %s", marking);
    else
        snprintf(line, sizeof line, "Tyre: %s%s%s", marking, *name ? ", " : "", name);
    say_label(s, 0.970, "textcolor rgb ink_text", line);
}

static void head(struct sheet *s, const hobble_case *c)
{
    const struct hobble_answer *a = s->a;
    char way[64], pace[64], load[64], air[64], line[256];
    tyre_line(s, c);
    distance_text(s, a->advised_distance, way);
    hb_quantity_text(a->advised_speed, HOBBLE_UNIT_KM_PER_HOUR, s->us, 0, pace, sizeof pace);
    hb_quantity_text(a->load, HOBBLE_UNIT_NEWTON, s->us, 0, load, sizeof load);
    degrees_text(s, a->ambient, air);
    if (a->verdict == HOBBLE_STOP)
        snprintf(line, sizeof line, "STOP: do not drive on with this tyre");
    else
        snprintf(line, sizeof line, "GO: at most %s, at most %s", pace, way);
    say_label(s, 0.935, "font font_head textcolor rgb ink_text", line);
    snprintf(line, sizeof line,
             "drawn for %s, no air, %s on the wheel (%.0f %% of its load index), %s outside", pace,
             load, 100.0 * a->load_share, air);
    say_label(s, 0.900, "font font_small textcolor rgb ink_quiet", line);
}
