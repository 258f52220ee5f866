/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/json/json.h"

#include "report/describe/words.h"

#include <math.h>
#include <stdlib.h>

json_t *hb_json_begin(const char *command)
{
    json_t *o = json_object();
    if (!o)
        return NULL;
    hb_json_text(o, "tool", "hobble");
    hb_json_text(o, "version", hobble_version());
    hb_json_text(o, "command", command);
    return o;
}

json_t *hb_json_changed(const hobble_case *c)
{
    json_t *list = json_array();
    size_t place = 0;
    for (const char *key = hb_changed_by_hand(c, &place); key; key = hb_changed_by_hand(c, &place))
        json_array_append_new(list, json_string(key));
    return list;
}

json_t *hb_json_head(const char *command, const hobble_case *c)
{
    json_t *o = hb_json_begin(command);
    if (!o)
        return NULL;
    const char *name = hobble_case_text(c, hobble_param_find("tyre_name"));
    hb_json_text(o, "profile", *name ? name : "built in");
    hb_json_int(o, "seed", (int)hobble_case_number(c, hobble_param_find("seed")));
    hb_json_int(o, "members", (int)hobble_case_number(c, hobble_param_find("members")));
    json_object_set_new(o, "changed_by_hand", hb_json_changed(c));
    return o;
}

void hb_json_real(json_t *object, const char *key, double value)
{
    json_object_set_new(object, key, isfinite(value) ? json_real(value) : json_null());
}

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
