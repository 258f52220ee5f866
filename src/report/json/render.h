/* SPDX-License-Identifier: GPL-3.0-or-later */
/* render.h - rows as JSON, as the schema of that JSON, as CSV, and as a reference of all keys. */
#ifndef HB_REPORT_JSON_RENDER_H
#define HB_REPORT_JSON_RENDER_H

#include "report/describe/row.h"

#include <jansson.h>
#include <stdio.h>

/* A command's answer; NULL without memory. */
json_t *hb_render_json(const struct hb_answer *answer, const hobble_case *c, const void *of);
/* One row of it. */
json_t *hb_render_row(const struct hb_row *row, const struct hb_scope *scope);
/* JSON Schema (draft 7) of it; NULL without memory. */
json_t *hb_render_schema(const struct hb_answer *answer);
/* A list's items, a line each under a line of names (RFC 4180 with line feeds). */
void hb_render_csv(FILE *f, const struct hb_row *list, const struct hb_scope *scope);
/* Every key with its unit and meaning: a page in Markdown, a section of an scdoc manual page. */
void hb_render_markdown(FILE *f, const struct hb_answer *answer);
void hb_render_manual(FILE *f, const struct hb_answer *answer);

#endif
