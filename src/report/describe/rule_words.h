/* SPDX-License-Identifier: GPL-3.0-or-later */
/* rule_words.h - whether a rule holds, in words. */
#ifndef HB_REPORT_DESCRIBE_RULE_WORDS_H
#define HB_REPORT_DESCRIBE_RULE_WORDS_H

#include "hobble.h"

/* One sentence: why the rule holds or not. */
void hb_rule_reason(const struct hobble_rule_answer *answer, bool us, char *buf, size_t size);
/* "80 km at 80 km/h" */
void hb_rule_name(const struct hobble_rule_answer *answer, bool us, char buf[static 96]);
/* Rounded down: a condition where the rule flips is not shown beyond it. */
void hb_rule_floor(double si, enum hobble_unit unit, bool us, double step, char *buf, size_t size);

#endif
