/* SPDX-License-Identifier: GPL-3.0-or-later */
/* climate.h - a typical year of hours in the EPW text format: eight lines of head, the first
 * beginning with LOCATION, then one line an hour with commas between: year, month, day, hour 1..24,
 * minute, flags, dry-bulb temperature in degC (99.9: missing), and more that is not read.
 * Source: EnergyPlus documentation, Auxiliary Programs, "EnergyPlus Weather File (EPW) Data
 * Dictionary". */
#ifndef HB_INPUT_CLIMATE_H
#define HB_INPUT_CLIMATE_H

#include "hobble.h"

#include <stdio.h>

/* Called for every hour: month 1..12, dry bulb in tenths of a degree Celsius. */
typedef void hb_climate_take(void *into, int month, int tenth);

/* Reads from a stream line by line, in memory that does not grow with the file. A year has 8760 or
 * 8784 hours, in their order. place: the first field of the head ("LOCATION,place"), at most
 * HOBBLE_FAULT_TEXT with its end. On a fault the hours before it have been taken: throw them away.
 * name stands for the file in faults. */
enum hobble_status hb_climate_read(FILE *f, const char *name, hb_climate_take *take, void *into,
                                   char *place, long *hours, struct hobble_faults *sink);
/* Opens a regular file of at most 8 MB and reads it so. */
enum hobble_status hb_climate_file(const char *path, hb_climate_take *take, void *into, char *place,
                                   long *hours, struct hobble_faults *sink);

#endif
