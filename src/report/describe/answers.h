/* SPDX-License-Identifier: GPL-3.0-or-later */
/* answers.h - the descriptions of all answers. */
#ifndef HB_REPORT_DESCRIBE_ANSWERS_H
#define HB_REPORT_DESCRIBE_ANSWERS_H

#include "report/describe/replay.h"
#include "report/describe/row.h"

/* Each with the struct that its rows are of. One command's answers stand together: they differ by
 * their first row. */
#define HB_ANSWERS(X)                                                                              \
    X(range, struct hobble_answer)                                                                 \
    X(rule, struct hobble_rule_answer)                                                             \
    X(map, struct hobble_map)                                                                      \
    X(why, struct hobble_why)                                                                      \
    X(wall, struct hobble_wall)                                                                    \
    X(contour, struct hobble_map)                                                                  \
    X(life, struct hobble_life)                                                                    \
    X(mark, struct hobble_mark_worth)                                                              \
    X(replay, struct hb_replay_report)                                                             \
    X(condition, struct hobble_condition_answer)                                                   \
    X(card, struct hb_card)                                                                        \
    X(policy, struct hb_policy_report)                                                             \
    X(profile_list, struct hb_profile_listed)                                                      \
    X(profile_show, struct hb_profile_shown)                                                       \
    X(profile_check, struct hb_profile_checked)                                                    \
    X(profile_keys, nothing)

#define HB_ANSWER(name, of) extern const struct hb_answer hb_##name##_answer;
HB_ANSWERS(HB_ANSWER)
#undef HB_ANSWER

/* All of them; ends with NULL. */
extern const struct hb_answer *const hb_answers[];

/* Of nothing: every rule by which a tyre is judged. */
extern const struct hb_row hb_condition_list_rows[];

#endif
