/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/describe/answers.h"

const struct hb_answer *const hb_answers[] = {
    &hb_rule_answer,    &hb_why_answer,  &hb_map_answer,  &hb_wall_answer,
    &hb_contour_answer, &hb_life_answer, &hb_mark_answer, NULL,
};
