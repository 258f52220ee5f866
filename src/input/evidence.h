/* SPDX-License-Identifier: GPL-3.0-or-later */
/* evidence.h - the list of evidence in a profile: read into a case, and written from one. */
#ifndef HB_INPUT_EVIDENCE_H
#define HB_INPUT_EVIDENCE_H

#include "hobble.h"

#include <libconfig.h>
#include <stdio.h>

/* Reads the setting "evidence" of a file and adds its items to c. A table that it names is looked
 * for beside the file. Every fault goes to sink; returns the first. */
enum hobble_status hb_evidence_read(const config_setting_t *list, const char *file, hobble_case *c,
                                    struct hobble_faults *sink);

/* Writes the list; nothing for an empty one. Reading it gives the same items, readings too: what
 * was in a table stands in the list. */
void hb_evidence_write(FILE *out, const hobble_case *c);

/* What a row takes, with its units: "0.3 to 1", "this unit|another unit". */
void hb_evidence_allowed(const struct hobble_evidence_row *row, char *buf, size_t size);

#endif
