/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/picture/chart_parts.h"

#include "report/picture/gnuplot.h"

void hb_sheet_words(struct hb_gnuplot *g, double x, double y, const char *how, const char *text)
{
    hb_gnuplot_say(g, "set label ");
    hb_gnuplot_quote(g, text);
    hb_gnuplot_say(g, " at screen %.4f, screen %.4f left noenhanced %s\n", x, y, how);
}

/* The name is somebody's text: cut to what the sheet's width holds. */
static void tyre_text(const hobble_case *c, const struct hobble_marking *marking, bool example,
                      char *buf, size_t size)
{
    enum { FITS = 60 };
    char mark[64], name[HOBBLE_FAULT_TEXT];
    hobble_marking_print(marking, mark, sizeof mark);
    hobble_fault_text(name, hobble_case_text(c, hobble_param_find("tyre_name")));
    size_t characters = 0;
    for (char *p = name; *p; p++)
        if (((unsigned char)*p & 0xC0) != 0x80 && ++characters > FITS) {
            *p = '\0';
            break;
        }
    if (example)
        snprintf(buf, size, "EXAMPLE, not your tyre: built-in values, %s", mark);
    else
        snprintf(buf, size, "Tyre: %s%s%s", mark, *name ? ", " : "", name);
}

void hb_sheet_say(struct hb_gnuplot *g, double x, double y, const char *how, enum hb_message id,
                  const struct hb_scope *scope)
{
    char text[HB_VALUE_TEXT];
    hb_say(id, scope, text, sizeof text);
    hb_sheet_words(g, x, y, how, text);
}

void hb_sheet_title(struct hb_gnuplot *g, const struct hb_scope *scope,
                    const struct hobble_marking *marking, bool example, enum hb_message title,
                    enum hb_message conditions)
{
    char tyre[256];
    tyre_text(scope->c, marking, example, tyre, sizeof tyre);
    hb_sheet_words(g, 0.03, 0.970, "textcolor rgb ink_text", tyre);
    hb_sheet_say(g, 0.03, 0.932, "font font_head textcolor rgb ink_text", title, scope);
    hb_sheet_say(g, 0.03, 0.895, "font font_small textcolor rgb ink_quiet", conditions, scope);
}

void hb_sheet_axis(struct hb_gnuplot *g, const char *axis, enum hb_message id,
                   const struct hb_scope *scope)
{
    char title[HB_VALUE_TEXT];
    hb_say(id, scope, title, sizeof title);
    hb_gnuplot_say(g, "set %s ", axis);
    hb_gnuplot_quote(g, title);
    hb_gnuplot_say(g, " textcolor rgb ink_text\n");
}

void hb_sheet_panel(struct hb_gnuplot *g, double left, double right, double bottom, double top)
{
    hb_gnuplot_say(g,
                   "set lmargin at screen %.4f; set rmargin at screen %.4f\n"
                   "set bmargin at screen %.4f; set tmargin at screen %.4f\n",
                   left, right, bottom, top);
}
