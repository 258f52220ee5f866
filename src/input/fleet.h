/* SPDX-License-Identifier: GPL-3.0-or-later */
/* fleet.h - a fleet, read from a libconfig file with kind = "fleet"; docs/policy.md has its keys.
 */
#ifndef HB_INPUT_FLEET_H
#define HB_INPUT_FLEET_H

#include "hobble.h"

/* Reads the fleet at path with the profiles, weather files and incidents that it names; names with
 * '/' or an ending are looked for beside the fleet file. *fleet: the caller's (hobble_fleet_free),
 * written on HOBBLE_OK only. All faults that can be told at once go to sink. */
enum hobble_status hb_fleet_read(const char *path, struct hobble_fleet **fleet,
                                 struct hobble_faults *sink);
/* The same from size bytes in memory; name stands for the file, and its folder. */
enum hobble_status hb_fleet_read_text(const char *bytes, size_t size, const char *name,
                                      struct hobble_fleet **fleet, struct hobble_faults *sink);

#endif
