/* SPDX-License-Identifier: GPL-3.0-or-later */
/* chart_parts.h - what several pictures share. */
#ifndef HB_REPORT_PICTURE_CHART_PARTS_H
#define HB_REPORT_PICTURE_CHART_PARTS_H

#include "report/describe/drawn.h"
#include "report/describe/message.h"
#include "report/picture/gnuplot.h"

/* Words at a place of the sheet, 0..1 from its lower left corner. how: gnuplot's words on font and
 * ink, a literal. */
void hb_sheet_words(struct hb_gnuplot *g, double x, double y, const char *how, const char *text);

/* The same, a sentence of the scope's rows. */
void hb_sheet_say(struct hb_gnuplot *g, double x, double y, const char *how, enum hb_message id,
                  const struct hb_scope *scope);

/* Three lines at the top: which tyre (or that it is an example), what is shown, and for what. */
void hb_sheet_title(struct hb_gnuplot *g, const struct hb_scope *scope,
                    const struct hobble_marking *marking, bool example, enum hb_message title,
                    enum hb_message conditions);

/* What an axis shows; axis: gnuplot's name for it, "xlabel". */
void hb_sheet_axis(struct hb_gnuplot *g, const char *axis, enum hb_message id,
                   const struct hb_scope *scope);

/* Margins of the one panel of a sheet, 0..1. */
void hb_sheet_panel(struct hb_gnuplot *g, double left, double right, double bottom, double top);

#endif
