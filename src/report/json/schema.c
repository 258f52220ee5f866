/* SPDX-License-Identifier: GPL-3.0-or-later */
/* schema.c - what rows allow, as JSON Schema: https://json-schema.org/draft-07/schema */
#include "report/describe/answers.h"
#include "report/json/json.h"
#include "report/json/render.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static json_t *object_schema(const struct hb_row *const *tables);
static json_t *row_schema(const struct hb_row *row);

static json_t *limit(double value)
{
    return value == floor(value) ? json_integer((json_int_t)value) : json_real(value);
}

static void limits(json_t *o, const struct hb_row *row)
{
    const bool list = row->kind == HB_LIST, text = row->kind == HB_TEXT;
    const char *least = list ? "minItems" : text ? "minLength" : "minimum";
    const char *most = list ? "maxItems" : text ? "maxLength" : "maximum";
    if ((row->least == 0.0 && row->most == 0.0) || row->kind == HB_TRUTH)
        return;
    if (isfinite(row->least))
        json_object_set_new(o, least, limit(row->least));
    if (isfinite(row->most))
        json_object_set_new(o, most, limit(row->most));
}

static void type(json_t *o, const char *word, bool nullable)
{
    const char *const both[] = {word, "null", NULL};
    json_object_set_new(o, "type", nullable ? hb_json_list(both) : json_string(word));
}

static json_t *words(const struct hb_row *row, bool nullable)
{
    json_t *list = json_array();
    for (int i = 0; row->word(i) && *row->word(i); i++)
        json_array_append_new(list, json_string(row->word(i)));
    if (nullable)
        json_array_append_new(list, json_null());
    return list;
}

static json_t *item_schema(const struct hb_row *of)
{
    const struct hb_row *const tables[] = {of, NULL};
    return of->key ? object_schema(tables) : row_schema(of);
}

static void named(json_t *o, const struct hb_row *row)
{
    json_t *properties = json_object(), *required = json_array();
    for (int i = 0; row->word(i) && *row->word(i); i++) {
        json_object_set_new(properties, row->word(i), item_schema(row->of));
        if (!row->of->when)
            json_array_append_new(required, json_string(row->word(i)));
    }
    hb_json_text(o, "type", "object");
    hb_json_bool(o, "additionalProperties", false);
    json_object_set_new(o, "properties", properties);
    json_object_set_new(o, "required", required);
}

static void tuple(json_t *o, const struct hb_row *of)
{
    json_t *items = json_array();
    for (; of->key; of++)
        json_array_append_new(items, row_schema(of));
    const json_int_t count = (json_int_t)json_array_size(items);
    hb_json_text(o, "type", "array");
    json_object_set_new(o, "minItems", json_integer(count));
    json_object_set_new(o, "items", items);
    hb_json_bool(o, "additionalItems", false);
}

static void of_kind(json_t *o, const struct hb_row *row, bool nullable)
{
    const char *const any[] = {"number", "string", nullable ? "null" : NULL, NULL};
    switch (row->kind) {
    case HB_REAL:
        type(o, "number", nullable);
        break;
    case HB_COUNT:
        type(o, "integer", nullable);
        break;
    case HB_TRUTH:
        type(o, "boolean", nullable);
        if (row->forms & HB_ALWAYS)
            hb_json_bool(o, "const", row->least > 0.0);
        break;
    case HB_TEXT:
        type(o, "string", nullable);
        break;
    case HB_ANY:
        json_object_set_new(o, "type", hb_json_list(any));
        break;
    case HB_WORD:
        json_object_set_new(o, "enum", words(row, nullable));
        break;
    case HB_NAMED:
        named(o, row);
        break;
    case HB_LIST:
        type(o, "array", nullable);
        json_object_set_new(o, "items", item_schema(row->of));
        break;
    case HB_TUPLE:
        tuple(o, row->of);
        break;
    case HB_OBJECT:
        break;
    }
}

static json_t *row_schema(const struct hb_row *row)
{
    const bool nullable = row->forms & (HB_NULLED | HB_NULLABLE);
    json_t *o = row->kind == HB_OBJECT ? item_schema(row->of) : json_object();
    if (row->kind == HB_OBJECT && nullable)
        type(o, "object", true);
    of_kind(o, row, nullable);
    limits(o, row);
    if (row->meaning)
        hb_json_text(o, "description", row->meaning);
    return o;
}

/* Of two rows with one key one is there. */
static json_t *either(json_t *first, json_t *second)
{
    json_t *o = json_object(), *both = json_array();
    json_array_append(both, first);
    json_array_append_new(both, second);
    json_object_set_new(o, "oneOf", both);
    return o;
}

static void put(json_t *properties, json_t *required, const struct hb_row *row)
{
    for (; row->key; row++) {
        if (row->forms & HB_NOT_JSON)
            continue;
        json_t *schema = row_schema(row), *other = json_object_get(properties, row->key);
        json_object_set_new(properties, row->key, other ? either(other, schema) : schema);
        if (required && (!row->when || row->forms & HB_NULLED || other))
            json_array_append_new(required, json_string(row->key));
    }
}

/* All tables' rows in one object. */
static json_t *object_schema(const struct hb_row *const *tables)
{
    json_t *o = json_object(), *properties = json_object(), *required = json_array();
    hb_json_text(o, "type", "object");
    hb_json_bool(o, "additionalProperties", false);
    for (; *tables; tables++)
        put(properties, required, *tables);
    json_object_set_new(o, "properties", properties);
    json_object_set_new(o, "required", required);
    return o;
}

static json_t *answer_schema(const struct hb_answer *answer)
{
    const struct hb_row *tables[6] = {hb_begin_rows};
    size_t n = 1;
    if (answer->of_case)
        tables[n++] = hb_case_rows;
    tables[n++] = answer->row;
    if ((answer->of_case && !answer->end) || answer->noted)
        tables[n++] = hb_note_rows;
    if (answer->of_case && !answer->unexplained)
        tables[n++] = hb_explain_rows;
    json_t *o = object_schema(tables), *properties = json_object_get(o, "properties");
    if (answer->end)
        put(properties, NULL, answer->end);
    hb_json_text(json_object_get(properties, "command"), "const", answer->command);
    if (answer->row->get == hb_get_which)
        hb_json_text(json_object_get(properties, answer->row->key), "const", answer->which);
    hb_json_text(o, "description", answer->about);
    return o;
}

json_t *hb_render_schema(const char *command)
{
    char title[64];
    json_t *head = json_object(), *any = json_array();
    snprintf(title, sizeof title, "hobble %s --json", command);
    hb_json_text(head, "$schema", "http://json-schema.org/draft-07/schema#");
    hb_json_text(head, "title", title);
    for (size_t i = 0; hb_answers[i]; i++)
        if (strcmp(hb_answers[i]->command, command) == 0)
            json_array_append_new(any, answer_schema(hb_answers[i]));
    const size_t count = json_array_size(any);
    if (count == 1)
        json_object_update(head, json_array_get(any, 0));
    else
        json_object_set(head, "oneOf", any);
    json_decref(any);
    if (count > 0)
        return head;
    json_decref(head);
    return NULL;
}
