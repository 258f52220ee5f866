/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/json/json.h"

#include "report/describe/words.h"

#include <math.h>
#include <stdlib.h>

void hb_json_int(json_t *object, const char *key, int value)
{
    json_object_set_new(object, key, json_integer(value));
}

void hb_json_bool(json_t *object, const char *key, bool value)
{
    json_object_set_new(object, key, json_boolean(value));
}

void hb_json_text(json_t *object, const char *key, const char *value)
{
    json_object_set_new(object, key, json_string(value));
}

json_t *hb_json_list(const char *const *text)
{
    json_t *list = json_array();
    for (int i = 0; text[i]; i++)
        json_array_append_new(list, json_string(text[i]));
    return list;
}

enum hobble_status hb_json_print(FILE *f, json_t *object)
{
    char *text = object ? json_dumps(object, JSON_INDENT(2) | JSON_REAL_PRECISION(9)) : NULL;
    json_decref(object);
    if (!text)
        return HOBBLE_E_MEMORY;
    fputs(text, f);
    fputc('\n', f);
    free(text);
    return HOBBLE_OK;
}
