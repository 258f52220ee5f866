/* SPDX-License-Identifier: GPL-3.0-or-later */
/* age.c - the age of a tyre by the date code on its sidewall. */
#include "advice/date_code.h"
#include "advice/facts.h"
#include "study/case.h"

enum hobble_status hobble_case_age_by_code(const hobble_case *c, double *years,
                                           struct hobble_faults *sink)
{
    const struct hb_setting *row = c->settings.row;
    long made, now;
    const enum hobble_status status = hb_dates_check(&c->settings, sink);
    if (status != HOBBLE_OK)
        return status;
    if (!hb_date_code_read(row[HB_P_DATE_CODE].text, &made) ||
        !hb_date_read(row[HB_P_INSPECTION_DATE].text, &now))
        return HOBBLE_E_MISSING;
    *years = hb_years_at_most(&c->settings);
    return HOBBLE_OK;
}
