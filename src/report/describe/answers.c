/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/describe/answers.h"

const struct hb_answer *const hb_answers[] = {
    &hb_range_answer, &hb_rule_answer, &hb_card_answer, &hb_policy_answer, NULL,
};
