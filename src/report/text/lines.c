/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/text/lines.h"

#include "report/describe/words.h"

#include <string.h>

void hb_lines_cautions(FILE *f, const struct hb_scope *scope)
{
    (void)scope;
    hb_print_cautions(f);
}

static void one(FILE *f, const struct hb_line *line, const struct hb_scope *scope)
{
    char text[2 * HB_VALUE_TEXT];
    if (line->when && !line->when(scope))
        return;
    if (line->lay == HB_PRINTED) {
        line->print(f, scope);
        return;
    }
    hb_say(line->say, scope, text, sizeof text);
    switch (line->lay) {
    case HB_LINE:
        fprintf(f, "%s\n", text);
        break;
    case HB_BULLET:
        fprintf(f, "  - %s\n", text);
        break;
    case HB_TITLE:
        fprintf(f, "\n%s\n", text);
        break;
    case HB_WRAP:
        hb_print_wrapped(f, "  ", 2, text);
        break;
    case HB_DEEP: {
        char blanks[64];
        snprintf(blanks, sizeof blanks, "%*s", line->indent, "");
        hb_print_wrapped(f, blanks, line->indent, text);
        break;
    }
    case HB_HUNG: {
        char first[64];
        snprintf(first, sizeof first, "%.*s", line->indent, text);
        hb_print_wrapped(f, first, line->indent, text + strlen(first));
        break;
    }
    case HB_PRINTED:
        break;
    }
}

/* Lines that go over the same list come in turn for each of its items; returns how many they are.
 */
static size_t of_list(FILE *f, const struct hb_line *lines, const struct hb_scope *scope)
{
    struct hb_scope list;
    size_t n = 1;
    while (lines[n].each && strcmp(lines[n].each, lines[0].each) == 0)
        n++;
    const struct hb_row *row = hb_row_find(lines[0].each, strlen(lines[0].each), scope, &list);
    const size_t items = row && hb_row_is_there(row, &list) ? row->count(&list) : 0;
    for (size_t i = 0; i < items; i++) {
        const struct hb_scope item = hb_row_inside(row, &list, i);
        for (size_t k = 0; k < n; k++)
            one(f, &lines[k], &item);
    }
    return n;
}

void hb_lines_print(FILE *f, const struct hb_line *lines, const struct hb_scope *scope)
{
    for (size_t i = 0; lines[i].say || lines[i].print;)
        if (lines[i].each)
            i += of_list(f, &lines[i], scope);
        else
            one(f, &lines[i++], scope);
}
