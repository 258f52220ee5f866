/* SPDX-License-Identifier: GPL-3.0-or-later */
/* why_words.h - what to measure first, in words. */
#ifndef HB_REPORT_DESCRIBE_WHY_WORDS_H
#define HB_REPORT_DESCRIBE_WHY_WORDS_H

#include "hobble.h"

/* One sentence: what to measure first. */
void hb_why_advice(const struct hobble_why *why, char *buf, size_t size);
/* Rows in the order of their total share in the range; place: why->count places. */
void hb_why_order(const struct hobble_why *why, int place[HOBBLE_INDICES_MAX]);

#endif
