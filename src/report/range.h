/* SPDX-License-Identifier: GPL-3.0-or-later */
/* range.h - the driver's answer as text, JSON and picture. */
#ifndef HB_REPORT_RANGE_H
#define HB_REPORT_RANGE_H

#include "hobble.h"

#include <stdio.h>

void hb_range_text(FILE *f, const hobble_case *c, const struct hobble_answer *answer, bool us);
/* HOBBLE_E_MEMORY when the object cannot be made. */
enum hobble_status hb_range_json(FILE *f, const hobble_case *c, const struct hobble_answer *answer);

/* Every value used, its unit, spread, provenance and where it was set, as a table; text says how
 * near the rim is first. */
enum hobble_status hb_explain_table(FILE *f, const hobble_case *c);
enum hobble_status hb_explain_text(FILE *f, const hobble_case *c,
                                   const struct hobble_answer *answer);

#endif
