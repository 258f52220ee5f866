/* SPDX-License-Identifier: GPL-3.0-or-later */
/* range.h - the first screen of the driver's answer. */
#ifndef HB_REPORT_TEXT_RANGE_H
#define HB_REPORT_TEXT_RANGE_H

#include "hobble.h"
#include "report/describe/screen.h"

#include <stdio.h>

/* Puts the first screen on s: at most HB_SCREEN_LINES lines at 80 columns. The last is
 * HB_SAY_RANGE_LAST. */
void hb_range_first(struct hb_screen *s, const hobble_case *c, const struct hobble_answer *answer,
                    bool us);
/* Prints it; last: with its last line. */
void hb_range_first_print(FILE *f, const struct hb_screen *s, bool last);

#endif
