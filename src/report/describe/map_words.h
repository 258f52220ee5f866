/* SPDX-License-Identifier: GPL-3.0-or-later */
/* map_words.h - the axes of a map, as they are shown. */
#ifndef HB_REPORT_DESCRIBE_MAP_WORDS_H
#define HB_REPORT_DESCRIBE_MAP_WORDS_H

#include "hobble.h"

#define HB_MAP_LEAST_DRAWN 1e3 /* m: less is hatched and has no colour */

/* Axis title with its unit: "speed, km/h"; "load_share, %". */
void hb_axis_title(const struct hobble_axis *axis, bool us, char *buf, size_t size);
/* A value of an axis as it is shown: in US units when asked, shares in per cent. */
double hb_axis_shown(const struct hobble_axis *axis, bool us, double value);

#endif
