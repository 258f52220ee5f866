/* SPDX-License-Identifier: GPL-3.0-or-later */
/* evidence_rows.h - rows of an item of evidence, and of what can be said in one. */
#ifndef HB_REPORT_DESCRIBE_EVIDENCE_ROWS_H
#define HB_REPORT_DESCRIBE_EVIDENCE_ROWS_H

#include "report/describe/row.h"

/* Of a struct hobble_evidence; the items are the scope's case's. */
extern const struct hb_row hb_evidence_rows[];
size_t hb_count_evidence(const struct hb_scope *scope);
const void *hb_nth_evidence(const struct hb_scope *scope, size_t place);

/* Of a struct hobble_evidence_row; the items are the table's. */
extern const struct hb_row hb_evidence_key_rows[];
size_t hb_count_evidence_keys(const struct hb_scope *scope);
const void *hb_nth_evidence_key(const struct hb_scope *scope, size_t place);
/* The kinds that have a row, "statement, run". */
void hb_evidence_kinds(const struct hobble_evidence_row *row, const char *between, char *buf,
                       size_t size);

#endif
