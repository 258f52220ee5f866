/* SPDX-License-Identifier: GPL-3.0-or-later */
/* gnuplot.h - one picture drawn by gnuplot as a child process.
 *
 * A picture's commands are gathered in memory between open and close; close runs gnuplot on them
 * and gives the finished file its name. Terminal, fonts and inks are set here and nowhere else:
 *
 *     ink_text ink_quiet ink_grid             words, lesser words, grid lines
 *     ink_heat ink_heat_tint                  temperatures: line, band
 *     ink_life ink_life_tint                  life and distance: line, band
 *     ink_third                               one line more
 *     dash_edge dash_low dash_third dash_mark line kinds, so that grey prints can be told apart
 *     font_head font_small                    beside the usual font
 *
 * are variables for the commands ("lc rgb ink_heat dt dash_edge"), and the palette for "with image"
 * darkens from end to end, so that it reads in grey too. Strings never enter the commands by
 * themselves: what is not a literal of ours goes through hb_gnuplot_quote. */
#ifndef HB_REPORT_PICTURE_GNUPLOT_H
#define HB_REPORT_PICTURE_GNUPLOT_H

#include "hobble.h"

#include <locale.h>
#include <stdio.h>

struct hb_gnuplot_kind;

/* A picture under way; open it, fill it, then close or drop it. */
struct hb_gnuplot {
    FILE *script;
    char *text;
    size_t size;
    const char *path; /* the caller's; has to last until close */
    const struct hb_gnuplot_kind *kind;
    locale_t plain; /* the C locale, for numbers */
};

/* Whether path ends in .svg, .png or .pdf (capitals allowed). */
bool hb_gnuplot_draws(const char *path);

/* Begins a picture of width x height (100..4000, in units of 1/96 inch; text is 13 high).
 * HOBBLE_E_SYNTAX for another ending, HOBBLE_E_RANGE, HOBBLE_E_MEMORY. */
enum hobble_status hb_gnuplot_open(struct hb_gnuplot *g, const char *path, int width, int height);

/* Adds commands or data, as printf; the decimal sign is a point in every locale. The format is a
 * literal; "%s" is for words of our own. */
__attribute__((format(printf, 2, 3))) void hb_gnuplot_say(struct hb_gnuplot *g, const char *format,
                                                          ...);
/* Adds any text as a quoted string that gnuplot takes as it stands: cut to HOBBLE_FAULT_TEXT,
 * control characters as '?', and quotes, backticks and backslashes as harmless lookalikes. */
void hb_gnuplot_quote(struct hb_gnuplot *g, const char *text);
/* Data: block_begin (name: a literal of letters), one row a line, block_end; then plotted as
 * "$name". What is not finite is left out of the drawing. */
void hb_gnuplot_block_begin(struct hb_gnuplot *g, const char *name);
void hb_gnuplot_row(struct hb_gnuplot *g, const double *value, size_t count);
void hb_gnuplot_block_end(struct hb_gnuplot *g);

/* Draws. HOBBLE_E_NO_INPUT when gnuplot cannot be run, HOBBLE_E_WRITE when there is no whole file
 * of the kind (a file that had the name before is then kept), HOBBLE_E_MEMORY. Frees in any case.
 */
enum hobble_status hb_gnuplot_close(struct hb_gnuplot *g);
/* Throws the picture away. */
void hb_gnuplot_drop(struct hb_gnuplot *g);

#endif
