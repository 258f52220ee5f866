/* SPDX-License-Identifier: GPL-3.0-or-later */
/* runs.h - temperatures of a run as comma-separated values (RFC 4180): a first line of names,
 * time_min and any of inner_c, outer_c, cavity_c, shoulder_c, then a line a time. An empty cell is
 * no reading; times rise; numbers are plain, in minutes from the loss of air and degrees Celsius.
 */
#ifndef HB_INPUT_RUNS_H
#define HB_INPUT_RUNS_H

#include "hobble.h"

/* Reads a file of at most 1 MB into the channels of a run, thinned as hobble_evidence_readings
 * does, or leaves the item as it was. */
enum hobble_status hb_run_read(const char *path, struct hobble_evidence *item,
                               struct hobble_faults *sink);
/* The same from size bytes in memory. */
enum hobble_status hb_run_read_text(const char *bytes, size_t size, const char *name,
                                    struct hobble_evidence *item, struct hobble_faults *sink);

#endif
