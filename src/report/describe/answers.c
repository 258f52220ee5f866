/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/describe/answers.h"

const struct hb_answer *const hb_answers[] = {
    &hb_range_answer,         &hb_condition_answer,
    &hb_profile_list_answer,  &hb_profile_show_answer,
    &hb_profile_check_answer, &hb_profile_keys_answer,
    &hb_rule_answer,          &hb_why_answer,
    &hb_map_answer,           &hb_wall_answer,
    &hb_contour_answer,       &hb_life_answer,
    &hb_mark_answer,          &hb_card_answer,
    &hb_policy_answer,        NULL,
};
