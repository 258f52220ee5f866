/* SPDX-License-Identifier: GPL-3.0-or-later */
/* lettering.h - wrapped text on a PDF page. */
#ifndef HB_REPORT_PAPER_LETTERING_H
#define HB_REPORT_PAPER_LETTERING_H
#ifdef HB_WITH_PDF

#include <pango/pangocairo.h>
#include <stdbool.h>

/* Lays text out at a size and to a width in points; returns its height in points. */
double hb_lettering_lay(PangoLayout *layout, const char *text, double size, bool bold,
                        double width);
/* Draws it with its upper left corner at x, y; returns its height. */
double hb_lettering_put(cairo_t *cairo, PangoLayout *layout, double x, double y, const char *text,
                        double size, bool bold, double width);

/* Keeps a number and its unit on one line: "60 km". */
void hb_lettering_keep(const char *text, char *buf, size_t size);

#endif
#endif
