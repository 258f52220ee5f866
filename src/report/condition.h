/* SPDX-License-Identifier: GPL-3.0-or-later */
/* condition.h - what becomes of a tyre, as text and JSON. */
#ifndef HB_REPORT_CONDITION_H
#define HB_REPORT_CONDITION_H

#include "hobble.h"

#include <jansson.h>
#include <stdio.h>

void hb_condition_text(FILE *f, const hobble_case *c, const struct hobble_condition_answer *answer,
                       bool us);
/* NULL without memory. */
json_t *hb_condition_json(const hobble_case *c, const struct hobble_condition_answer *answer);

/* Every rule as a table in Markdown: docs/condition-rules.md. */
void hb_condition_list(FILE *f);

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
