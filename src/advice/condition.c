/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/condition.h"

#include "core/const.h"

static const struct hobble_fired ran_flat = {
    "flat_running",
    "It runs below 70 kPa under load: the wall may be destroyed inside and look sound outside.",
    "UN R30 flat running is 0-70 kPa (second-hand); British rubber manufacturers' association "
    "statement, September 2005: signs masked, repair not recommended"};
static const struct hobble_fired facts_missing = {
    "facts_missing",
    "Nothing is known of its inside, its age and its repairs: what is unknown counts against it.",
    "common practice, no source"};

void hb_condition_after(const struct hb_question *q, struct hobble_answer *a)
{
    a->condition = HOBBLE_SCRAP;
    a->rule_count = 0;
    if (q->lowest_pressure < HB_FLAT_PRESSURE)
        a->rule[a->rule_count++] = ran_flat;
    else
        a->rule[a->rule_count++] = facts_missing;
}
