/* SPDX-License-Identifier: GPL-3.0-or-later */
/* incidents.h - how far help was, out of a table of incidents as comma-separated values (RFC 4180):
 * a first line of names, then one incident a line; one column holds kilometres. */
#ifndef HB_INPUT_INCIDENTS_H
#define HB_INPUT_INCIDENTS_H

#include "hobble.h"

/* Reads a column (0 to 1000 km, at most HOBBLE_HELP_MAX incidents) of a file of at most 1 MB into
 * help, whole or not at all. A cell that is empty is a fault: an incident whose help is not known
 * must not make the rest look like all of them. */
enum hobble_status hb_incidents_read(const char *path, const char *column, struct hobble_help *help,
                                     struct hobble_faults *sink);
/* The same from size bytes in memory. */
enum hobble_status hb_incidents_read_text(const char *bytes, size_t size, const char *name,
                                          const char *column, struct hobble_help *help,
                                          struct hobble_faults *sink);

#endif
