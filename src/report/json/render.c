/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/json/render.h"

#include "report/json/json.h"

static json_t *plain_json(const struct hb_row *row, const struct hb_scope *scope)
{
    struct hb_value value;
    hb_row_value(row, scope, &value);
    switch (value.is) {
    case HB_IS_NULL:
        return json_null();
    case HB_IS_COUNT:
        return json_integer((json_int_t)value.number);
    case HB_IS_TRUTH:
        return json_boolean(value.number > 0.0);
    case HB_IS_TEXT:
        return json_string(value.text);
    case HB_IS_NUMBER:
        return json_real(hobble_unit_from_si(row->unit, value.number));
    }
    return NULL;
}

static void put_rows(json_t *object, const struct hb_row *row, const struct hb_scope *scope)
{
    for (; row->key; row++) {
        const bool there = hb_row_is_there(row, scope);
        if (row->forms & HB_NOT_JSON || (!there && !(row->forms & HB_NULLED)))
            continue;
        json_object_set_new(object, row->key, there ? hb_render_row(row, scope) : json_null());
    }
}

/* An item is an object, or the value of its only row where that has no key. */
static json_t *item_json(const struct hb_row *of, const struct hb_scope *scope)
{
    if (!of->key)
        return hb_render_row(of, scope);
    json_t *object = json_object();
    put_rows(object, of, scope);
    return object;
}

static json_t *items_json(const struct hb_row *row, const struct hb_scope *scope)
{
    const bool named = row->kind == HB_NAMED;
    json_t *all = named ? json_object() : json_array();
    const size_t count = row->count(scope);
    for (size_t i = 0; i < count; i++) {
        const struct hb_scope item = hb_row_inside(row, scope, i);
        if (!named)
            json_array_append_new(all, item_json(row->of, &item));
        else if (hb_row_is_there(row->of, &item))
            json_object_set_new(all, row->word((int)i), item_json(row->of, &item));
    }
    return all;
}

static json_t *tuple_json(const struct hb_row *row, const struct hb_scope *scope)
{
    json_t *all = json_array();
    for (; row->key; row++)
        json_array_append_new(all, hb_render_row(row, scope));
    return all;
}

json_t *hb_render_row(const struct hb_row *row, const struct hb_scope *scope)
{
    if (row->kind == HB_LIST || row->kind == HB_NAMED)
        return items_json(row, scope);
    if (row->kind != HB_OBJECT && row->kind != HB_TUPLE)
        return plain_json(row, scope);
    const struct hb_scope inside = hb_row_inside(row, scope, 0);
    if (row->kind == HB_TUPLE)
        return tuple_json(row->of, &inside);
    json_t *object = json_object();
    put_rows(object, row->of, &inside);
    return object;
}

json_t *hb_render_json(const struct hb_answer *answer, const hobble_case *c, const void *of)
{
    const struct hb_scope scope = hb_answer_scope(answer, c, of, false);
    json_t *o = json_object();
    if (!o)
        return NULL;
    put_rows(o, hb_begin_rows, &scope);
    if (answer->of_case)
        put_rows(o, hb_case_rows, &scope);
    put_rows(o, answer->row, &scope);
    return o;
}

void hb_render_end(json_t *object, const struct hb_row *rows, const hobble_case *c)
{
    put_rows(object, rows, &(struct hb_scope){.rows = rows, .c = c});
}
