/* SPDX-License-Identifier: GPL-3.0-or-later */
/* json_struct.h - an answer's JSON against the answer: every number in its place and in its unit,
 * and none besides. The tables are the tests' own: they know nothing of the rows that the JSON is
 * made of.
 */
#ifndef HB_TEST_JSON_STRUCT_H
#define HB_TEST_JSON_STRUCT_H

#include <jansson.h>
#include <stdbool.h>
#include <stddef.h>

/* Units of the JSON over those of the struct: definitions. */
enum json_unit {
    JSON_ONE,
    JSON_COUNT, /* an int */
    JSON_KM,
    JSON_KMH,
    JSON_CELSIUS,
    JSON_KPA,
    JSON_MINUTES,
    JSON_MILLIMETRES
};

/* "reach_km", "share_confidence_95.0" */
struct json_number {
    const char *path;
    size_t at; /* offset in the struct */
    enum json_unit unit;
};

/* Fails the test at a number without a row (but seed and members), and at one that is another than
 * the struct's. Rows that were met are marked in seen. */
void json_struct_compare(json_t *json, const void *of, const struct json_number *row, size_t rows,
                         bool *seen);
/* Fails the test at a row that was never met. */
void json_struct_all(const struct json_number *row, size_t rows, const bool *seen);

#endif
