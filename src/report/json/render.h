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
/* JSON Schema (draft 7) of a command's answer, of which it may have several; NULL without memory,
 * or where no answer is described for such a command. */
json_t *hb_render_schema(const char *command);
/* A list's items, a line each under a line of names (RFC 4180 with line feeds). */
void hb_render_csv(FILE *f, const struct hb_row *list, const struct hb_scope *scope);
/* Every key of every answer with its unit and meaning, as a page in Markdown; those of one
 * command's answers as a section of an scdoc manual page. */
void hb_render_markdown(FILE *f);
void hb_render_manual(FILE *f, const char *command);
/* On which forms each key stands besides JSON: "ANSWER TAB PATH TAB FORM..." a line. The tests read
 * those forms back. */
void hb_render_forms(FILE *f);

#endif
