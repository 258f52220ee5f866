/* SPDX-License-Identifier: GPL-3.0-or-later */
/* case_evidence.c - the list of evidence of a case. */
#include "core/setting.h"
#include "study/case.h"
#include "study/evidence_item.h"
#include "study/posterior.h"

#include <string.h>

size_t hobble_case_evidence_count(const hobble_case *c)
{
    return c->items;
}

const struct hobble_evidence *hobble_case_evidence_at(const hobble_case *c, size_t place)
{
    return place < c->items ? &c->evidence[place] : NULL;
}

enum hobble_status hb_case_agrees(const hobble_case *c, int against, struct hobble_faults *sink)
{
    static const struct hobble_param row = {.key = "evidence"};
    if (against < 0)
        return HOBBLE_OK;
    return hb_fault(sink, HOBBLE_E_CONFLICT, &row, c->evidence[against].origin, "",
                    "what the rest of what is known of the tyre does not rule out");
}

bool hb_case_ran_flat(const hobble_case *c, double way)
{
    return hb_evidence_ran_flat(c->evidence, c->items, way);
}

bool hb_case_same_evidence(const hobble_case *a, const hobble_case *b)
{
    for (size_t i = 0; i < a->items && i < b->items; i++)
        if (hb_compare_items(&a->evidence[i], &b->evidence[i]) != 0)
            return false;
    return a->items == b->items;
}

enum hobble_status hobble_case_evidence_add(hobble_case *c, const struct hobble_evidence *item,
                                            struct hobble_faults *sink)
{
    static const struct hobble_param row = {.key = "evidence"};
    struct hobble_evidence clean;
    const enum hobble_status status = hb_evidence_check(item, sink);
    if (status != HOBBLE_OK)
        return status;
    hb_evidence_clean(item, &clean);
    for (size_t i = 0; *clean.origin && i < c->items; i++)
        if (memcmp(&c->evidence[i], &clean, sizeof clean) == 0)
            return HOBBLE_OK;
    if (c->items == HOBBLE_EVIDENCE_MAX)
        return hb_fault(sink, HOBBLE_E_TOO_LARGE, &row, item->origin, "", "at most 32 items");
    memcpy(&c->evidence[c->items++], &clean, sizeof clean);
    return HOBBLE_OK;
}
