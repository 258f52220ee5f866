/* SPDX-License-Identifier: GPL-3.0-or-later */
/* today.c - the day by the clock, for all that needs one, and the age that a date code then gives.
 */
#include "cli/today.h"

#include "input/profile.h"

#include <stdio.h>
#include <string.h>
#include <time.h>

const char *hb_today(char day[HB_DAY_SIZE])
{
    const time_t now = time(NULL);
    struct tm local;
    day[0] = '\0';
    if (localtime_r(&now, &local) && strftime(day, HB_DAY_SIZE, "%Y-%m-%d", &local) == 0)
        day[0] = '\0';
    return day;
}

void hb_date_it(hobble_case *c, struct hobble_faults *faults)
{
    char day[HB_DAY_SIZE];
    if (!*hobble_case_text(c, hobble_param_find("inspection_date")) && *hb_today(day))
        hb_set_text(c, "inspection_date", day, "the clock", faults);
}

enum hobble_status hb_age_by_code(hobble_case *c, struct hobble_faults *faults)
{
    const int code = hobble_param_find("date_code"), age = hobble_param_find("age"),
              day = hobble_param_find("inspection_date");
    double years;
    if (!*hobble_case_text(c, code) && !*hobble_case_text(c, day))
        return HOBBLE_OK;
    if (strncmp(hobble_case_origin(c, day), "--", 2) != 0) /* that of a case counted on its day */
        hobble_case_set_text(c, day, "", "", NULL);
    hb_date_it(c, faults);
    enum hobble_status status = hobble_case_age_by_code(c, &years, faults);
    if (status == HOBBLE_OK)
        status = hobble_case_set_number(c, age, years, hobble_case_origin(c, code), faults);
    return status == HOBBLE_E_MISSING ? HOBBLE_OK : status; /* a day without a code */
}
