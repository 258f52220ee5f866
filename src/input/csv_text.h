/* SPDX-License-Identifier: GPL-3.0-or-later */
/* csv_text.h - tables with commas between, cell by cell, with the line that each stands in. */
#ifndef HB_INPUT_CSV_TEXT_H
#define HB_INPUT_CSV_TEXT_H

#include "hobble.h"

/* Who takes a table. row: from 0, which has the names; column: from 0; line: of the file. Empty
 * lines are no rows. */
struct hb_csv_taker {
    void (*cell)(void *into, const char *text, int row, int column, int line);
    void (*end)(void *into, int row, int cells, int line); /* of a row that has so many */
    void *into;
};

/* Reads a whole text. What is no table is reported under key; cells before that were given. */
enum hobble_status hb_csv_read(const char *bytes, size_t size, const char *name, const char *key,
                               const struct hb_csv_taker *taker, struct hobble_faults *sink);

#endif
