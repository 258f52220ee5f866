/* SPDX-License-Identifier: GPL-3.0-or-later */
/* schema.c - what rows allow, as JSON Schema: https://json-schema.org/draft-07/schema */
#include "report/describe/answers.h"
#include "report/json/json.h"
#include "report/json/render.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static json_t *object_schema(const struct hb_row *const *tables, const struct hb_row *end);
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
    if (row->least == 0.0 && row->most == 0.0)
        return;
    if (isfinite(row->least))
        json_object_set_new(o, least, limit(row->least));
    if (isfinite(row->most))
        json_object_set_new(o, most, limit(row->most));
}

static void type(json_t *o, const char *word, bool nullable)
{
    json_t *both = json_array();
    if (!nullable) {
        json_decref(both);
        hb_json_text(o, "type", word);
        return;
    }
    json_array_append_new(both, json_string(word));
    json_array_append_new(both, json_string("null"));
    json_object_set_new(o, "type", both);
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
    return of->key ? object_schema(tables, NULL) : row_schema(of);
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

static void of_kind(json_t *o, const struct hb_row *row, bool nullable)
{
    static const char *const any[] = {"number", "string", "null", NULL};
    switch (row->kind) {
    case HB_REAL:
        type(o, "number", nullable);
        break;
    case HB_COUNT:
        type(o, "integer", nullable);
        break;
    case HB_TRUTH:
        type(o, "boolean", nullable);
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
        hb_json_text(o, "type", "array");
        json_object_set_new(o, "items", item_schema(row->of));
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

static void put(json_t *properties, json_t *required, const struct hb_row *row)
{
    for (; row->key; row++) {
        if (row->forms & HB_NOT_JSON)
            continue;
        json_object_set_new(properties, row->key, row_schema(row));
        if (required && (!row->when || row->forms & HB_NULLED))
            json_array_append_new(required, json_string(row->key));
    }
}

/* All tables' rows in one object, which can do without those of end. */
static json_t *object_schema(const struct hb_row *const *tables, const struct hb_row *end)
{
    json_t *o = json_object(), *properties = json_object(), *required = json_array();
    hb_json_text(o, "type", "object");
    hb_json_bool(o, "additionalProperties", false);
    for (; *tables; tables++)
        put(properties, *tables == end ? NULL : required, *tables);
    json_object_set_new(o, "properties", properties);
    json_object_set_new(o, "required", required);
    return o;
}

static json_t *answer_schema(const struct hb_answer *answer)
{
    const struct hb_row *end = answer->end ? answer->end : hb_end_rows;
    const struct hb_row *const of_case[] = {hb_begin_rows, hb_case_rows, answer->row, end, NULL};
    const struct hb_row *const alone[] = {hb_begin_rows, answer->row, NULL};
    json_t *o = object_schema(answer->of_case ? of_case : alone, end);
    hb_json_text(json_object_get(json_object_get(o, "properties"), "command"), "const",
                 answer->command);
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
