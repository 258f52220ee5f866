/* SPDX-License-Identifier: GPL-3.0-or-later */
/* answers.h - the descriptions of all answers. */
#ifndef HB_REPORT_DESCRIBE_ANSWERS_H
#define HB_REPORT_DESCRIBE_ANSWERS_H

#include "report/describe/row.h"

/* Of struct hobble_answer. */
extern const struct hb_answer hb_range_answer;
/* Of struct hobble_rule_answer. */
extern const struct hb_answer hb_rule_answer;
/* Of struct hobble_why. */
extern const struct hb_answer hb_why_answer;
/* Of struct hobble_map. */
extern const struct hb_answer hb_map_answer, hb_contour_answer;
/* Of struct hobble_wall, hobble_life and hobble_mark_worth. */
extern const struct hb_answer hb_wall_answer, hb_life_answer, hb_mark_answer;

/* Of struct hobble_condition_answer. */
extern const struct hb_answer hb_condition_answer;
/* Of nothing: every rule by which a tyre is judged. */
extern const struct hb_row hb_condition_list_rows[];
/* Of structs hb_profile_listed, _shown and _checked (profile_rows.h); of nothing. */
extern const struct hb_answer hb_profile_list_answer, hb_profile_show_answer,
    hb_profile_check_answer, hb_profile_keys_answer;

/* Of struct hb_card. */
extern const struct hb_answer hb_card_answer;

/* Of struct hb_policy_report. */
extern const struct hb_answer hb_policy_answer;

/* All of them; ends with NULL. One command's answers stand together: they differ by their first
 * row. */
extern const struct hb_answer *const hb_answers[];

#endif
