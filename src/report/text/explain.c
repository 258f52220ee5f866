/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/text/explain.h"

#include "report/text/lines.h"
#include "report/text/table.h"

enum hobble_status hb_explain_table(FILE *f, const hobble_case *c)
{
    static const struct hb_line begin[] = {{HB_TITLE, .say = HB_SAY_EXPLAIN}, {0}};
    static const struct hb_column columns[] = {{HB_SAY_EXPLAIN_KEY, HB_SAY_OF_KEY, false},
                                               {HB_SAY_EXPLAIN_VALUE, HB_SAY_OF_VALUE, false},
                                               {HB_SAY_EXPLAIN_SPREAD, HB_SAY_OF_SPREAD, false},
                                               {HB_SAY_EXPLAIN_KNOWN, HB_SAY_OF_KNOWN, false},
                                               {HB_SAY_EXPLAIN_SET_BY, HB_SAY_OF_SET_BY, false},
                                               {HB_SAY_EXPLAIN_SOURCE, HB_SAY_OF_SOURCE, false}};
    const struct hb_scope scope = {.rows = hb_explain_rows, .c = c};
    hb_lines_print(f, begin, &scope);
    return hb_table_print(f, "values", columns, sizeof columns / sizeof *columns, &scope);
}
