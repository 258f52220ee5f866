/* SPDX-License-Identifier: GPL-3.0-or-later */
/* table.h - a list's items as a table in a terminal. */
#ifndef HB_REPORT_TEXT_TABLE_H
#define HB_REPORT_TEXT_TABLE_H

#include "report/describe/message.h"

#include <stdio.h>

/* A column: its title, said in the list's scope, and its cells, each said in an item's. */
struct hb_column {
    enum hb_message title, cell;
    bool right; /* aligned */
};

/* The items of a list that the scope's rows name. HOBBLE_E_MEMORY. */
enum hobble_status hb_table_print(FILE *f, const char *list, const struct hb_column *column,
                                  size_t columns, const struct hb_scope *scope);

#endif
