/* SPDX-License-Identifier: GPL-3.0-or-later */
/* tsv.h - reads the test vectors under tests/data: tab-separated fields, one row a line, lines
 * beginning with '#' are comments. Strict: every row has exactly the number of fields asked for,
 * and there are no empty lines, so that a damaged file cannot pass as a shorter one. */
#ifndef HB_TEST_TSV_H
#define HB_TEST_TSV_H

#include <stdbool.h>
#include <stddef.h>

struct tsv {
    char path[512];
    size_t rows;
    size_t fields; /* in each row */
    char *text;    /* owned */
    char **cell;   /* owned; rows * fields pointers into text */
    int *line;     /* owned; 1-based line of each row */
};

/* Reads name from the directory in the environment variable HB_TEST_DATA, or from TEST_DATA_DIR.
 * Returns false and writes what is wrong into why (why_size bytes) when the file cannot be read,
 * has fewer than least_rows rows or a row with another number of fields. Free with tsv_free. */
bool tsv_load(struct tsv *out, const char *name, size_t fields, size_t least_rows, char *why,
              size_t why_size);

void tsv_free(struct tsv *table);

/* One field, never NULL while row < rows and field < fields; NULL otherwise. */
const char *tsv_cell(const struct tsv *table, size_t row, size_t field);

/* One field as a number; false unless the whole field is one finite number. */
bool tsv_number(const struct tsv *table, size_t row, size_t field, double *value);

/* Copies a field into buf with the escapes \\ \t \n \r \xHH replaced; false when an escape is
 * wrong or buf is too small. \x00 is refused. */
bool tsv_unescape(const char *field, char *buf, size_t size);

#endif
