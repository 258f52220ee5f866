/* SPDX-License-Identifier: GPL-3.0-or-later */
/* answers.h - every command's answer as text. */
#ifndef HB_REPORT_TEXT_ANSWERS_H
#define HB_REPORT_TEXT_ANSWERS_H

#include "hobble.h"
#include "report/describe/policy.h"
#include "report/describe/replay.h"

#include <stdio.h>

/* The rest: reasons, what would buy more, what becomes of the tyre, numbers, sources, cautions. */
void hb_range_full(FILE *f, const hobble_case *c, const struct hobble_answer *answer, bool us);
/* How near the rim is. */
void hb_range_rim(FILE *f, const hobble_case *c, const struct hobble_answer *answer, bool us);

void hb_rule_text(FILE *f, const hobble_case *c, const struct hobble_rule_answer *answer, bool us);

enum hobble_status hb_why_text(FILE *f, const hobble_case *c, const struct hobble_why *why,
                               bool us);

void hb_wall_text(FILE *f, const hobble_case *c, const struct hobble_wall *wall, bool us);

void hb_life_text(FILE *f, const hobble_case *c, const struct hobble_life *life, bool us);

enum hobble_status hb_mark_text(FILE *f, const hobble_case *c, const struct hobble_mark_worth *mark,
                                bool us);

/* A coarse table of the whole map: P5 of the range, with what does not hold marked. */
enum hobble_status hb_map_text(FILE *f, const hobble_case *c, const struct hobble_map *map,
                               bool us);

/* What a recorded drive was and did, below the first screen of its answer. */
void hb_replay_text(FILE *f, const hobble_case *c, const struct hb_replay_report *report, bool us);

void hb_condition_text(FILE *f, const hobble_case *c, const struct hobble_condition_answer *answer,
                       bool us);

/* Every rule as a table in Markdown: docs/condition-rules.md. */
void hb_condition_list(FILE *f);

enum hobble_status hb_policy_text(FILE *f, const struct hb_policy_report *r);

/* Every number of the fleet with how it is known. */
enum hobble_status hb_policy_explain(FILE *f, const struct hb_policy_report *r);

#endif
