/* SPDX-License-Identifier: GPL-3.0-or-later */
/* evidence_words.h - numbers in the faults of evidence. Apart from the checks, so that these need
 * no printing: the page's module has words of its own. */
#ifndef HB_STUDY_EVIDENCE_WORDS_H
#define HB_STUDY_EVIDENCE_WORDS_H

#include "hobble.h"

/* Limits of a row of numbers, or the words of one of words. */
void hb_evidence_say_limits(const struct hobble_param *row, char *buf, size_t size);
/* What stands before it, a number and its unit ("": none). */
void hb_evidence_say_number(const char *before, double value, const char *unit, char *buf,
                            size_t size);
/* The same of a reading, by its place from 1. */
void hb_evidence_say_reading(size_t place, double value, const char *unit, char *buf, size_t size);

#endif
