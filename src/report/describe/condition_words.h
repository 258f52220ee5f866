/* SPDX-License-Identifier: GPL-3.0-or-later */
/* condition_words.h - words of a verdict that its forms share. */
#ifndef HB_REPORT_DESCRIBE_CONDITION_WORDS_H
#define HB_REPORT_DESCRIBE_CONDITION_WORDS_H

#include "hobble.h"

/* One line that says the verdict, and one that says what it means. Constants. */
const char *hb_condition_headline(const struct hobble_condition_answer *answer);
const char *hb_condition_meaning(const struct hobble_condition_answer *answer);
/* A row's value as text, "5 mm", "yes" or "not known". */
void hb_condition_value(const hobble_case *c, int row, bool us, char *buf, size_t size);
/* The name of a row's option, "--tread-depth". */
void hb_condition_option(int row, char *buf, size_t size);
/* Whose rules: their name, or that of the built-in limits. */
void hb_condition_rules_name(const hobble_case *c, char buf[HOBBLE_FAULT_TEXT]);

#endif
