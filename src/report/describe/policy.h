/* SPDX-License-Identifier: GPL-3.0-or-later */
/* policy.h - what a report of the fleet's policy is made of, and the words that its forms share. */
#ifndef HB_REPORT_DESCRIBE_POLICY_H
#define HB_REPORT_DESCRIBE_POLICY_H

#include "report/describe/card.h"

#include "hobble.h"

/* ---- the policy ------------------------------------------------------------------------------ */

/* What a report is made of; c has the settings of the study. */
struct hb_policy_report {
    const hobble_case *c;
    const struct hobble_fleet *fleet;
    const struct hobble_policy *policy;
    bool us;
};

/* ---- words that several forms share ---------------------------------------------------------- */

enum { HB_POLICY_LINES = HB_CARD_RULES, HB_POLICY_TEXT = HB_CARD_TEXT };
/* Lines of the simple rule; returns how many there are, two or three. */
int hb_policy_lines(const struct hb_policy_report *r, char line[HB_POLICY_LINES][HB_POLICY_TEXT]);
/* Whether a rule was found and kept on fresh samples: else the lines say that there is none. */
bool hb_policy_has_rule(const struct hb_policy_report *r);
/* Too few tyres behind the rows: a sentence that says so and how many would do; else empty. */
void hb_policy_few(const struct hb_policy_report *r, char *buf, size_t size);

/* A row as text and sheet show it, with the reason where it is stop, unsafe or wasteful. */
enum {
    HB_POLICY_BY_RULE = 3, /* places of the distances */
    HB_POLICY_ALONE = 4,
    HB_POLICY_WHY = 10,
    HB_POLICY_CELLS = 11
};
extern const char *const hb_policy_columns[HB_POLICY_CELLS];
void hb_policy_cells(const struct hb_policy_report *r, int row,
                     char cell[HB_POLICY_CELLS][HOBBLE_FAULT_TEXT]);
/* Whole km/h or mph, rounded down. */
void hb_policy_pace(double speed, bool us, char *buf, size_t size);
/* Whole kilometres or miles, rounded down, or "stop". */
void hb_policy_way(double metres, bool us, char *buf, size_t size);
/* "0.12 %", "under 0.01 %" */
void hb_policy_percent(double share, char *buf, size_t size);
/* What the search and its verification found, what break-even means, what to measure first. */
void hb_policy_verdict(const struct hb_policy_report *r, char *buf, size_t size);
void hb_policy_break(const struct hb_policy_report *r, enum hobble_build build, char *buf,
                     size_t size);
void hb_policy_first(const struct hb_policy_report *r, char *buf, size_t size);
void hb_policy_method(const struct hb_policy_report *r, char *buf, size_t size);
/* Where the rule is unsafe, and where it wastes mobility. */
void hb_policy_plain_rule(const struct hb_policy_report *r, char *buf, size_t size);
void hb_policy_help(const struct hb_policy_report *r, char *buf, size_t size);
/* A number of the fleet with its unit. */
void hb_policy_number(const struct hobble_fleet *fleet, int row, char *buf, size_t size);
/* Cautions; the list ends with NULL. */
extern const char *const hb_policy_cautions[];

#endif
