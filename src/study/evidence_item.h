/* SPDX-License-Identifier: GPL-3.0-or-later */
/* evidence_item.h - one item of evidence, wherever a list of them is kept. */
#ifndef HB_STUDY_EVIDENCE_ITEM_H
#define HB_STUDY_EVIDENCE_ITEM_H

#include "hobble.h"

/* Whether an item may be added to a list; all faults go to sink. */
enum hobble_status hb_evidence_check(const struct hobble_evidence *item,
                                     struct hobble_faults *sink);

/* A copy in which what the kind does not have is as begun, and bytes behind an end are 0, so that
 * items that say the same are the same bytes. */
void hb_evidence_clean(const struct hobble_evidence *from, struct hobble_evidence *to);

/* Whether items tell that this very tyre ran flat before, as hb_case_ran_flat. */
bool hb_evidence_ran_flat(const struct hobble_evidence *item, size_t items, double way);

#endif
