/* SPDX-License-Identifier: GPL-3.0-or-later */
/* figure.h - numbers of an answer as they are shown: always rounded to the safe side, in both
 * systems of units, so that no reading of them allows more than was computed. */
#ifndef HB_REPORT_DESCRIBE_FIGURE_H
#define HB_REPORT_DESCRIBE_FIGURE_H

#include "hobble.h"

enum { HB_FIGURE = 64 };

/* What may still be driven: down, to tenths below ten and to whole ones from there on. */
void hb_distance_down(double si, bool us, char buf[static HB_FIGURE]);
/* What was driven: up, in the same steps. */
void hb_distance_up(double si, bool us, char buf[static HB_FIGURE]);
/* Down to a whole one: 80 km/h is 49 mph. */
void hb_speed_down(double si, bool us, char buf[static HB_FIGURE]);
/* A load that is carried, and a temperature that is reached: up. */
void hb_load_up(double si, bool us, char buf[static HB_FIGURE]);
void hb_heat_up(double kelvin, bool us, char buf[static HB_FIGURE]);
/* A limit: down. */
void hb_heat_down(double kelvin, bool us, char buf[static HB_FIGURE]);
/* A load that is offered: down. */
void hb_load_down(double si, bool us, char buf[static HB_FIGURE]);
/* Per cent: of what is bad up, of what is good down, to so many decimals. */
double hb_percent_up(double share, int decimals);
double hb_percent_down(double share, int decimals);

#endif
