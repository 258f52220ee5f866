/* SPDX-License-Identifier: GPL-3.0-or-later */
/* date_code.h - calendar days and the week of making on the sidewall. */
#ifndef HB_ADVICE_DATE_CODE_H
#define HB_ADVICE_DATE_CODE_H

#include <stdbool.h>

#define HB_DAYS_A_YEAR 365.25

/* Days since 1970-01-01 of a day of the Gregorian calendar, year 1900..2199; written only when the
 * text is "YYYY-MM-DD" and names a day that exists. */
bool hb_date_read(const char *text, long *days);

/* First day on which a tyre with this date code can have been made. Four figures: week and year
 * from 2000 on; three figures: week and last figure of a year before 2000, taken in the 1980s,
 * because the code does not tell the decades apart. Weeks 01..53.
 * Source of the form: 49 CFR 574.5, final rule 64 FR 36807 (8 July 1999): four figures in place of
 * three. Weeks are counted here from 29 December before the year: the first week of ISO 8601 begins
 * then at the earliest, and the first full week of 49 CFR 574.5 begins later. */
bool hb_date_code_read(const char *text, long *days);

#endif
