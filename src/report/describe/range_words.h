/* SPDX-License-Identifier: GPL-3.0-or-later */
/* range_words.h - parts of the driver's answer: the rows of hb_range_answer, file by file. */
#ifndef HB_REPORT_DESCRIBE_RANGE_WORDS_H
#define HB_REPORT_DESCRIBE_RANGE_WORDS_H

#include "report/describe/row.h"

extern const struct hb_row hb_range_inputs[], hb_range_advice[];
/* What is said in sentences and is no key of its own. */
extern const struct hb_row hb_range_said[];
/* Of struct hobble_fired. */
extern const struct hb_row hb_fired_rows[];
/* Of struct hobble_trace_point: the way as the picture draws it. */
extern const struct hb_row hb_trace_rows[];

/* What was taken for a row that is not stated, with the option that states it. */
void hb_assumed_told(const struct hb_scope *assumed, struct hb_value *value);
/* Whether there is a range to tell of. */
bool hb_has_range(const struct hb_scope *scope);
/* Whether the profile's evidence was taken in. */
bool hb_has_evidence(const struct hb_scope *scope);

#endif
