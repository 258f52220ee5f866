/* SPDX-License-Identifier: GPL-3.0-or-later */
/* why.h - which unknown matters most, as table, JSON and picture. */
#ifndef HB_REPORT_WHY_H
#define HB_REPORT_WHY_H

#include "hobble.h"

#include <jansson.h>
#include <stdio.h>

enum hobble_status hb_why_text(FILE *f, const hobble_case *c, const struct hobble_why *why,
                               bool us);
json_t *hb_why_json(const hobble_case *c, const struct hobble_why *why);
/* One bar a row and output, with its interval. Statuses as hb_gnuplot_close. */
enum hobble_status hb_chart_why(const char *path, const hobble_case *c,
                                const struct hobble_why *why, bool us);

/* One sentence: what to measure first. */
void hb_why_advice(const struct hobble_why *why, char *buf, size_t size);
/* Rows in the order of their total share in the range; place: why->count places. */
void hb_why_order(const struct hobble_why *why, int place[HOBBLE_INDICES_MAX]);

#endif
