/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/describe/few.h"

#include <math.h>
#include <stdio.h>

enum { STEP = 50 };

int hb_few_members(int members, int counted)
{
    const double share = counted > 0 ? (double)counted / members : 0.5;
    return STEP * (1 + (int)ceil(HOBBLE_TYRES_ENOUGH / share / STEP));
}

enum hobble_status hb_few_refuse(const hobble_case *c, int counted, const char *paper,
                                 struct hobble_faults *sink)
{
    const int members = (int)hobble_case_number(c, hobble_param_find("members"));
    struct hobble_fault f = {.status = HOBBLE_E_CONFLICT};
    char text[HOBBLE_FAULT_TEXT];
    if (!hobble_too_few(counted))
        return HOBBLE_OK;
    hobble_fault_text(f.key, "members");
    snprintf(text, sizeof text, "%d, of which %d count", members, counted);
    hobble_fault_text(f.given, text);
    snprintf(text, sizeof text, "%d that count before there is a %s: --members %d",
             HOBBLE_TYRES_ENOUGH, paper, hb_few_members(members, counted));
    hobble_fault_text(f.allowed, text);
    return hobble_faults_add(sink, &f);
}
