/* SPDX-License-Identifier: GPL-3.0-or-later */
/* range_words.h - parts of sentences of the driver's answer that its forms share. */
#ifndef HB_REPORT_DESCRIBE_RANGE_WORDS_H
#define HB_REPORT_DESCRIBE_RANGE_WORDS_H

#include "hobble.h"

enum hb_call { HB_CALL_WHOLE, HB_CALL_SHORTER, HB_CALL_WORDS /* without values */ };

/* Parts of sentences that both share: what holds the advice down; what ended most of the tyres;
 * whom to call and what to say; what would change a reason to stop; a place that lies beyond a
 * distance, never shown as if it did not. */
void hb_decides_text(const struct hobble_answer *a, bool us, char *buf, size_t size);
const char *hb_usual_end(const struct hobble_answer *a);
void hb_call_text(const hobble_case *c, const struct hobble_answer *a, enum hb_call how, char *buf,
                  size_t size);
void hb_remedy_text(enum hobble_stop reason, char *buf, size_t size);
void hb_place_text(double place, double than, bool us, char *buf, size_t size);

#endif
