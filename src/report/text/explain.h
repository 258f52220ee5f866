/* SPDX-License-Identifier: GPL-3.0-or-later */
/* explain.h - every value used, its unit, spread, how it is known and where it was set. */
#ifndef HB_REPORT_TEXT_EXPLAIN_H
#define HB_REPORT_TEXT_EXPLAIN_H

#include "hobble.h"

#include <stdio.h>

/* As a table. */
enum hobble_status hb_explain_table(FILE *f, const hobble_case *c);

#endif
