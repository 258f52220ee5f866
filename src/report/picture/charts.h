/* SPDX-License-Identifier: GPL-3.0-or-later */
/* charts.h - pictures of the answers. */
#ifndef HB_REPORT_PICTURE_CHARTS_H
#define HB_REPORT_PICTURE_CHARTS_H

#include "hobble.h"
#include "report/describe/policy.h"
#include "report/describe/replay.h"

/* Draws the driver's answer into path (.svg, .png or .pdf): the wall's hottest temperature along
 * the way as a band with its limit, and below it the life used. HOBBLE_E_SYNTAX for another
 * ending, HOBBLE_E_NO_INPUT when gnuplot cannot be run, HOBBLE_E_WRITE when the file is not whole.
 */
enum hobble_status hb_chart_range(const char *path, const hobble_case *c,
                                  const struct hobble_answer *answer,
                                  const struct hobble_trace_point trace[HOBBLE_TRACE_POINTS],
                                  bool us);

/* One bar a row and output, with its interval. Statuses as hb_gnuplot_close. */
enum hobble_status hb_chart_why(const char *path, const hobble_case *c,
                                const struct hobble_why *why, bool us);

/* Statuses as hb_gnuplot_close. */
enum hobble_status hb_chart_wall(const char *path, const hobble_case *c,
                                 const struct hobble_wall *wall, bool us);

enum hobble_status hb_chart_life(const char *path, const hobble_case *c,
                                 const struct hobble_life *life, bool us);

/* Speed and pressure, measured over computed temperatures, and life used along a recorded drive. */
enum hobble_status hb_chart_replay(const char *path, const hobble_case *c,
                                   const struct hb_replay_report *report, bool us);

enum hobble_status hb_chart_mark(const char *path, const hobble_case *c,
                                 const struct hobble_mark_worth *mark, bool us);

/* Draws the map: P5 of the range by colour, the rule's border, the asked point, and hatching where
 * the rim carries the load, the answer is outside the checked range, or less than 1 km is left.
 * Statuses as hb_gnuplot_close. */
enum hobble_status hb_chart_map(const char *path, const hobble_case *c,
                                const struct hobble_map *map, bool us);

/* Draws lines of equal P5 alone. */
enum hobble_status hb_chart_contour(const char *path, const hobble_case *c,
                                    const struct hobble_map *map, bool us);

/* Chance of failing by row, the policy beside the plain rule; costs and stranded vehicles by
 * construction. As hb_chart_range. */
enum hobble_status hb_chart_policy(const char *path, const struct hb_policy_report *r);

enum hobble_status hb_chart_policy_cost(const char *path, const struct hb_policy_report *r);

#endif
