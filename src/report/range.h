/* SPDX-License-Identifier: GPL-3.0-or-later */
/* range.h - the driver's answer as text, JSON and picture. */
#ifndef HB_REPORT_RANGE_H
#define HB_REPORT_RANGE_H

#include "hobble.h"
#include "report/screen.h"

#include <jansson.h>
#include <stdio.h>

#define HB_RANGE_LAST "hobble range --full for numbers, sources and cautions"

/* Puts the first screen on s: at most HB_SCREEN_LINES lines at 80 columns. The last is
 * HB_RANGE_LAST. */
void hb_range_first(struct hb_screen *s, const hobble_case *c, const struct hobble_answer *answer,
                    bool us);
/* Prints it; last: with its last line. */
void hb_range_first_print(FILE *f, const struct hb_screen *s, bool last);
/* The rest: reasons, what would buy more, what becomes of the tyre, numbers, sources, cautions. */
void hb_range_full(FILE *f, const hobble_case *c, const struct hobble_answer *answer, bool us);
/* NULL without memory. */
json_t *hb_range_json(const hobble_case *c, const struct hobble_answer *answer);

/* Parts of sentences that both share: what holds the advice down; what ended most of the tyres;
 * whom to call and what to say; what would change a reason to stop; a place that lies beyond a
 * distance, never shown as if it did not. */
void hb_decides_text(const struct hobble_answer *a, bool us, char *buf, size_t size);
const char *hb_usual_end(const struct hobble_answer *a);
enum hb_call { HB_CALL_WHOLE, HB_CALL_SHORTER, HB_CALL_WORDS /* without values */ };
void hb_call_text(const hobble_case *c, const struct hobble_answer *a, enum hb_call how, char *buf,
                  size_t size);
void hb_remedy_text(enum hobble_stop reason, char *buf, size_t size);
void hb_place_text(double place, double than, bool us, char *buf, size_t size);

#endif
