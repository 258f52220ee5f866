/* SPDX-License-Identifier: GPL-3.0-or-later */
/* range.h - the driver's answer as text, JSON and picture. */
#ifndef HB_REPORT_RANGE_H
#define HB_REPORT_RANGE_H

#include "hobble.h"

#include <jansson.h>
#include <stdio.h>

void hb_range_text(FILE *f, const hobble_case *c, const struct hobble_answer *answer, bool us);
/* NULL without memory. */
json_t *hb_range_json(const hobble_case *c, const struct hobble_answer *answer);

#endif
