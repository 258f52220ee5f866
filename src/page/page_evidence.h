/* SPDX-License-Identifier: GPL-3.0-or-later */
/* page_evidence.h - the evidence of the page's tyre. wasm32 only. */
#ifndef HB_PAGE_PAGE_EVIDENCE_H
#define HB_PAGE_PAGE_EVIDENCE_H

#include "page/page_entry.h"

/* The items told since they were last forgotten. NULL: there is none at the place. */
size_t hb_page_items(void);
const struct hobble_evidence *hb_page_item(int place);
void hb_page_forget_items(void);
bool hb_page_same_items(const struct hobble_evidence *of, size_t count);
/* Room for HOBBLE_EVIDENCE_MAX of them. */
size_t hb_page_copy_items(struct hobble_evidence *to);

/* Makes the ensemble of the sample (cube) after the items, one or more: taken in now, or as they
 * were for the same tyre and as many members. */
enum hobble_status hb_page_take_in(const double *cube, struct hb_ensemble *e);
/* Whether it is at hand, so that this takes no longer than without evidence. */
bool hb_page_has_taken_in(const struct hb_ensemble *e);

/* Whether settings and marking are of the tyre of the ensemble's question (page_entry.c). */
bool hb_page_same_tyre(const struct hb_settings *settings, const struct hobble_marking *marking,
                       const struct hb_ensemble *e);

#endif
