/* SPDX-License-Identifier: GPL-3.0-or-later */
/* rule.h - whether a rule holds, as text and JSON. */
#ifndef HB_REPORT_RULE_H
#define HB_REPORT_RULE_H

#include "hobble.h"

#include <jansson.h>
#include <stdio.h>

void hb_rule_text(FILE *f, const hobble_case *c, const struct hobble_rule_answer *answer, bool us);
/* NULL without memory. */
json_t *hb_rule_json(const hobble_case *c, const struct hobble_rule_answer *answer);

/* One sentence: why the rule holds or not. */
void hb_rule_reason(const struct hobble_rule_answer *answer, bool us, char *buf, size_t size);

#endif
