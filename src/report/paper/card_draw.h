/* SPDX-License-Identifier: GPL-3.0-or-later */
/* card_draw.h - the glove-box card on paper. */
#ifndef HB_REPORT_PAPER_CARD_DRAW_H
#define HB_REPORT_PAPER_CARD_DRAW_H

#include "report/describe/card.h"

/* Draws sheets of A4: ten cards of the credit-card size with their backs, and four of A6. All or
 * nothing, to standard output (path NULL) or by renaming a whole file. The date is that of
 * SOURCE_DATE_EPOCH where it is set, else today's. HOBBLE_E_UNSUPPORTED when built without PDF. */
enum hobble_status hb_card_write(const char *path, const hobble_case *c, const struct hb_card *card,
                                 bool us);

#endif
