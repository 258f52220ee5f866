/* SPDX-License-Identifier: GPL-3.0-or-later */
/* rule.h - whether a rule holds: what the answer says. */
#ifndef HB_REPORT_DESCRIBE_RULE_H
#define HB_REPORT_DESCRIBE_RULE_H

#include "report/describe/row.h"

/* Of struct hobble_rule_answer. */
extern const struct hb_answer hb_rule_answer;

#endif
