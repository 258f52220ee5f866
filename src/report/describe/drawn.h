/* SPDX-License-Identifier: GPL-3.0-or-later */
/* drawn.h - numbers as pictures have them: always with a degree's sign. */
#ifndef HB_REPORT_DESCRIBE_DRAWN_H
#define HB_REPORT_DESCRIBE_DRAWN_H

#include "report/describe/row.h"

/* In the unit that is shown, metric or US, and its symbol with a degree sign where it has one. */
double hb_shown(double si, enum hobble_unit unit, bool us);
const char *hb_shown_unit(enum hobble_unit unit, bool us);
/* What was stated, with its unit, in at most so many digits. */
void hb_value_drawn(struct hb_value *value, double si, enum hobble_unit unit, bool us, int digits);

#endif
