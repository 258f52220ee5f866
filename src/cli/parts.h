/* SPDX-License-Identifier: GPL-3.0-or-later */
/* parts.h - parts that a program may have been built without, and what brings them. */
#ifndef HB_CLI_PARTS_H
#define HB_CLI_PARTS_H

#include <stdbool.h>

enum hb_part { HB_PART_PDF, HB_PART_PAGE, HB_PART_PICTURES };

/* Whether the program has it; for pictures, whether gnuplot can be started. */
bool hb_part_built(enum hb_part part);
/* Says on standard error what is missing for what was asked ("hobble card", "--sheet"), and what
 * brings it; returns the exit status for a part that was asked for. */
int hb_part_missing(const char *asked, enum hb_part part);

#endif
