/* SPDX-License-Identifier: GPL-3.0-or-later */
/* lines.h - an answer as text: a list of lines, each a sentence of the message table. */
#ifndef HB_REPORT_TEXT_LINES_H
#define HB_REPORT_TEXT_LINES_H

#include "report/describe/message.h"

#include <stdio.h>

enum hb_lay {
    HB_LINE,    /* as it stands */
    HB_BULLET,  /* behind "  - " */
    HB_TITLE,   /* under an empty line */
    HB_WRAP,    /* wrapped and indented by two */
    HB_DEEP,    /* wrapped and indented by the columns in .indent */
    HB_HUNG,    /* same, but its first columns stand as they are: "  Source: " before the rest */
    HB_PRINTED, /* by a function: what several commands begin or end with */
};

struct hb_line {
    enum hb_lay lay;
    enum hb_message say;
    bool (*when)(const struct hb_scope *scope); /* left out where false; NULL: always */
    /* for each item of the list at this path, in the item's scope; NULL: once */
    const char *each;
    int indent;
    void (*print)(FILE *f, const struct hb_scope *scope);
};

/* What an answer ends with: a .print that says the cautions of all of them. */
void hb_lines_cautions(FILE *f, const struct hb_scope *scope);

/* Ends with a line of HB_SAY_NOTHING that prints nothing. */
void hb_lines_print(FILE *f, const struct hb_line *lines, const struct hb_scope *scope);

#endif
