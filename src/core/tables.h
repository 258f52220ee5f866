/* SPDX-License-Identifier: GPL-3.0-or-later */
/* tables.h - which nominal sizes the marking reader and writer both accept. */
#ifndef HB_CORE_TABLES_H
#define HB_CORE_TABLES_H

#include <stdbool.h>

/* Nominal section widths and aspect ratios of passenger tyres: common practice of the series in
 * use, no single source. */
enum {
    HB_WIDTH_MIN = 125,
    HB_WIDTH_MAX = 355,
    HB_ASPECT_MIN = 25,
    HB_ASPECT_MAX = 85,
    HB_Z_ABOVE_KMH = 240, /* UN R30, section 2: Z stands for more than 240 km/h */
};

/* True for 125, 135 ... 355 mm. */
bool hb_width_allowed(int width_mm);
/* True for 25, 30 ... 85 %. */
bool hb_aspect_allowed(int aspect);

#endif
