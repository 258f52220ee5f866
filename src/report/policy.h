/* SPDX-License-Identifier: GPL-3.0-or-later */
/* policy.h - the fleet's policy as text, JSON, CSV and PDF, and its parts on disk. */
#ifndef HB_REPORT_POLICY_H
#define HB_REPORT_POLICY_H

#include "report/card.h"

#include "hobble.h"

#include <jansson.h>
#include <stdio.h>

/* ---- parts: solved conditions on disk, so that a run can be cut, shared and taken up again ----
 */

enum { HB_PART_CONDITIONS = 16 };

struct hb_policy_run {
    const char *folder; /* of the parts */
    const struct hobble_policy_condition *condition;
    size_t count;
    uint64_t digest; /* hobble_policy_digest of the fleet */
};
size_t hb_policy_parts(size_t conditions);
/* First condition of a part, and how many it has. */
size_t hb_part_begin(size_t part);
size_t hb_part_size(const struct hb_policy_run *run, size_t part);
/* The part's file, "FOLDER/part-0001.txt" for part 0. */
void hb_part_path(const struct hb_policy_run *run, size_t part, char *path, size_t size);
/* Writes a part, whole or not at all. */
enum hobble_status hb_part_write(const struct hb_policy_run *run, size_t part,
                                 const struct hobble_policy_solved *solved);
/* Reads it back into solved. HOBBLE_E_NO_INPUT, without a fault, when there is no file; a fault
 * when it is of another fleet, sample or version, or not whole. solved is written on HOBBLE_OK
 * only. */
enum hobble_status hb_part_read(const struct hb_policy_run *run, size_t part,
                                struct hobble_policy_solved *solved, struct hobble_faults *sink);

/* ---- the policy ------------------------------------------------------------------------------ */

/* What a report is made of; c has the settings of the study. */
struct hb_policy_report {
    const hobble_case *c;
    const struct hobble_fleet *fleet;
    const struct hobble_policy *policy;
    bool us;
};
enum hobble_status hb_policy_text(FILE *f, const struct hb_policy_report *r);
/* Every number of the fleet with how it is known. */
enum hobble_status hb_policy_explain(FILE *f, const struct hb_policy_report *r);
json_t *hb_policy_json(const struct hb_policy_report *r);
/* One line a row, with a first line of names (RFC 4180). */
void hb_policy_csv(FILE *f, const struct hb_policy_report *r);
/* Chance of failing by row, the policy beside the plain rule; costs and stranded vehicles by
 * construction. As hb_chart_range. */
enum hobble_status hb_chart_policy(const char *path, const struct hb_policy_report *r);
enum hobble_status hb_chart_policy_cost(const char *path, const struct hb_policy_report *r);
/* The sheet of a few pages, with the two pictures out of their SVG files. HOBBLE_E_UNSUPPORTED when
 * built without PDF. The same report gives the same bytes. */
enum hobble_status hb_policy_sheet(const char *path, const struct hb_policy_report *r,
                                   const char *chances_svg, const char *costs_svg);

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
