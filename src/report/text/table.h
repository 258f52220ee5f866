/* SPDX-License-Identifier: GPL-3.0-or-later */
/* table.h - a list's items as a table in a terminal. */
#ifndef HB_REPORT_TEXT_TABLE_H
#define HB_REPORT_TEXT_TABLE_H

#include "report/describe/message.h"

#include <stdio.h>

/* The items of a list that the scope's rows name. HOBBLE_E_MEMORY. */
enum hobble_status hb_table_print(FILE *f, const char *list, const struct hb_column *column,
                                  size_t columns, const struct hb_scope *scope);

#endif
