/* SPDX-License-Identifier: GPL-3.0-or-later */
/* policy.h - what a report of the fleet's policy is made of, and what its forms share. */
#ifndef HB_REPORT_DESCRIBE_POLICY_H
#define HB_REPORT_DESCRIBE_POLICY_H

#include "report/describe/card.h"
#include "report/describe/message.h"

#include "hobble.h"

/* What a report is made of; c has the settings of the study. */
struct hb_policy_report {
    const hobble_case *c;
    const struct hobble_fleet *fleet;
    const struct hobble_policy *policy;
    bool us;
    int checked, contradictions; /* of its kit; 0 before that is checked */
};

/* Of the rows of its answer, in its units. */
struct hb_scope hb_policy_scope(const struct hb_policy_report *r);

enum { HB_POLICY_LINES = HB_CARD_RULES, HB_POLICY_TEXT = HB_CARD_TEXT };
/* Lines of the simple rule; returns how many there are, two or three. */
int hb_policy_lines(const struct hb_policy_report *r, char line[HB_POLICY_LINES][HB_POLICY_TEXT]);
int hb_policy_line_says(const struct hb_policy_report *r, enum hb_message say[HB_POLICY_LINES]);
/* Whether a rule was found and kept on fresh samples: else the lines say that there is none. */
bool hb_policy_has_rule(const struct hb_policy_report *r);
/* Too few tyres behind the rows: a sentence that says so and how many would do; else empty. */
void hb_policy_few(const struct hb_policy_report *r, char *buf, size_t size);

/* Columns of the table of "rows", the same in text and sheet. */
enum {
    HB_POLICY_BY_RULE = 3, /* places of the distances */
    HB_POLICY_ALONE = 4,
    HB_POLICY_WHY = 10,
    HB_POLICY_CELLS = 11
};
extern const struct hb_column hb_policy_columns[HB_POLICY_CELLS];

enum { HB_POLICY_CAUTIONS = 4 };
extern const enum hb_message hb_policy_cautions[HB_POLICY_CAUTIONS];

#endif
