/* SPDX-License-Identifier: GPL-3.0-or-later */
/* journey.h - what was driven before now, leg by leg: from a file, or from the option --leg.
 *
 * A file holds legs = ( { distance = "12 km"; speed = "100 km/h"; pressure = "0 kPa"; },
 *                       { stop = "10 min" }, ... );
 * with speed and either distance or time in each leg, and ambient, load, pressure and leak where
 * they are known; or stop alone, or with ambient. Bare numbers are in km, km/h, min, C, N, kPa. */
#ifndef HB_INPUT_JOURNEY_H
#define HB_INPUT_JOURNEY_H

#include "hobble.h"

/* Appends the legs of the file at path to c: all of them, or none when there is a fault. */
enum hobble_status hb_journey_read(const char *path, hobble_case *c, struct hobble_faults *sink);
/* The same from size bytes in memory; name stands for the file in faults. */
enum hobble_status hb_journey_read_text(const char *bytes, size_t size, const char *name,
                                        hobble_case *c, struct hobble_faults *sink);

/* Appends one leg: "distance=12km,speed=100km/h,ambient=36C" or "stop=10min". */
enum hobble_status hb_leg_option(hobble_case *c, const char *text, struct hobble_faults *sink);

#endif
