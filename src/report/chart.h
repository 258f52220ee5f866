/* SPDX-License-Identifier: GPL-3.0-or-later */
/* chart.h - pictures, drawn by gnuplot as a child process. */
#ifndef HB_REPORT_CHART_H
#define HB_REPORT_CHART_H

#include "hobble.h"

/* Draws the driver's answer into path (.svg, .png or .pdf): the wall's hottest temperature along
 * the way as a band with its limit, and below it the life used. HOBBLE_E_SYNTAX for another
 * ending, HOBBLE_E_NO_INPUT when gnuplot cannot be run, HOBBLE_E_WRITE when the file is not whole.
 */
enum hobble_status hb_chart_range(const char *path, const hobble_case *c,
                                  const struct hobble_answer *answer,
                                  const struct hobble_trace_point trace[HOBBLE_TRACE_POINTS],
                                  bool us);

#endif
