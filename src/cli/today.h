/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef HB_CLI_TODAY_H
#define HB_CLI_TODAY_H

#include "hobble.h"

enum { HB_DAY_SIZE = 32 };

/* The day by the clock, as YYYY-MM-DD; "" where it cannot be told. Returns day. */
const char *hb_today(char day[HB_DAY_SIZE]);
/* A tyre's age needs a day; without one given it is today, by the clock. */
void hb_date_it(hobble_case *c, struct hobble_faults *faults);
/* Where a date code is given and no age: the age that it gives on that day. A code that cannot be
 * read, or contradicts an age that is given, is a fault. */
enum hobble_status hb_age_by_code(hobble_case *c, struct hobble_faults *faults);

#endif
