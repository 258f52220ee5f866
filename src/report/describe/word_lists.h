/* SPDX-License-Identifier: GPL-3.0-or-later */
/* word_lists.h - the library's words as rows need them: NULL behind the last. */
#ifndef HB_REPORT_DESCRIBE_WORD_LISTS_H
#define HB_REPORT_DESCRIBE_WORD_LISTS_H

#include "report/describe/row.h"

#define HB_WORD_LISTS(X)                                                                           \
    X(verdict, enum hobble_verdict, HOBBLE_GO_THEN_STOP + 1)                                       \
    X(stop, enum hobble_stop, HOBBLE_STOP_COUNT)                                                   \
    X(limit, enum hobble_limit, HOBBLE_LIMIT_COUNT)                                                \
    X(end, enum hobble_end, HOBBLE_END_COUNT)                                                      \
    X(condition, enum hobble_condition, HOBBLE_SCRAP + 1)                                          \
    X(basis, enum hobble_basis, HOBBLE_BY_UNKNOWN + 1)                                             \
    X(provenance, enum hobble_provenance, HOBBLE_PROVENANCE_COUNT)                                 \
    X(build, enum hobble_build, HOBBLE_BUILDS)                                                     \
    X(why, enum hobble_why_output, HOBBLE_WHY_OUTPUTS)                                             \
    X(group, enum hobble_group, HOBBLE_GROUP_COUNT)

#define HB_WORD_LIST(name, type, count) const char *hb_##name##_word(int place);
HB_WORD_LISTS(HB_WORD_LIST)
#undef HB_WORD_LIST

/* Rows of a marking, of a case's key and the like that several answers have. */
void hb_get_marking(const struct hobble_marking *marking, struct hb_value *value);
/* Of a row of the parameter table, which is the scope's struct: its key, its value in the case, the
 * shape of its spread and that shape's words. */
void hb_get_param_key(const struct hb_scope *scope, struct hb_value *value);
void hb_get_param_value(const struct hb_scope *scope, struct hb_value *value);
void hb_get_param_shape(const struct hb_scope *scope, struct hb_value *value);
const char *hb_shape_word(int place);
bool hb_param_is_number(const struct hb_scope *scope);
bool hb_param_is_drawn(const struct hb_scope *scope);
/* Which of the reasons to stop is the nth that holds. */
enum hobble_stop hb_nth_stop(const bool stop[HOBBLE_STOP_COUNT], size_t place);
/* Of a pair: limits of an interval. */
size_t hb_two(const struct hb_scope *scope);
size_t hb_count_stops(const bool stop[HOBBLE_STOP_COUNT]);

#endif
