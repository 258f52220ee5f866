/* SPDX-License-Identifier: GPL-3.0-or-later */
/* explain.h - every value used, its unit, spread, how it is known and where it was set. */
#ifndef HB_REPORT_EXPLAIN_H
#define HB_REPORT_EXPLAIN_H

#include "report/json.h"

enum { HB_ALL_GROUPS = -1 };

/* As a table. */
enum hobble_status hb_explain_table(FILE *f, const hobble_case *c);
/* How near the rim is. */
void hb_explain_rim(FILE *f, const struct hobble_answer *answer);
/* As a list of objects, of the rows of one group (enum hobble_group) or of all; NULL without
 * memory. A number stands in the row's unit, null where it is not given. */
json_t *hb_explain_json(const hobble_case *c, int group);

#endif
