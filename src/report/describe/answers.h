/* SPDX-License-Identifier: GPL-3.0-or-later */
/* answers.h - the descriptions of all answers. */
#ifndef HB_REPORT_DESCRIBE_ANSWERS_H
#define HB_REPORT_DESCRIBE_ANSWERS_H

#include "report/describe/row.h"

/* Of struct hobble_answer. */
extern const struct hb_answer hb_range_answer;
/* Of struct hobble_rule_answer. */
extern const struct hb_answer hb_rule_answer;

/* Of struct hb_card. */
extern const struct hb_answer hb_card_answer;

/* Of struct hb_policy_report. */
extern const struct hb_answer hb_policy_answer;

/* All of them; ends with NULL. One command's answers stand together: they differ by their first
 * row. */
extern const struct hb_answer *const hb_answers[];

#endif
