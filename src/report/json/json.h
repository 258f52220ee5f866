/* SPDX-License-Identifier: GPL-3.0-or-later */
/* json.h - what every JSON report shares. */
#ifndef HB_REPORT_JSON_JSON_H
#define HB_REPORT_JSON_JSON_H

#include "hobble.h"

#include <jansson.h>
#include <stdio.h>

/* Set a key. */
void hb_json_int(json_t *object, const char *key, int value);
void hb_json_bool(json_t *object, const char *key, bool value);
void hb_json_text(json_t *object, const char *key, const char *value);
/* A list of texts that ends with NULL. */
json_t *hb_json_list(const char *const *text);
/* Prints with 9 significant digits and a newline, and releases the object. HOBBLE_E_MEMORY when it
 * is NULL or cannot be printed. */
enum hobble_status hb_json_print(FILE *f, json_t *object);

#endif
