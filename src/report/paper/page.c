/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/paper/page.h"

#include "report/out.h"

#include "study/cube.h"

#include <jansson.h>
#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

static const char marker[] = "@HOBBLE_DATA@";

/* ---- numbers as the page's script reads them back: little-endian bytes in base 64 ------------ */

static char *base64(const unsigned char *bytes, size_t size)
{
    static const char digit[] = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    char *text = malloc((size + 2) / 3 * 4 + 1), *t = text;
    for (size_t i = 0; text && i < size; i += 3) {
        const size_t left = size - i;
        const unsigned word = (unsigned)bytes[i] << 16 |
                              (left > 1 ? (unsigned)bytes[i + 1] << 8 : 0u) |
                              (left > 2 ? (unsigned)bytes[i + 2] : 0u);
        *t++ = digit[word >> 18];
        *t++ = digit[word >> 12 & 63u];
        *t++ = left > 1 ? digit[word >> 6 & 63u] : '=';
        *t++ = left > 2 ? digit[word & 63u] : '=';
    }
    if (text)
        *t = '\0';
    return text;
}

static void put_bytes(uint64_t value, int count, unsigned char *to)
{
    for (int i = 0; i < count; i++)
        to[i] = (unsigned char)(value >> (8 * i));
}

/* Whole numbers of so many parts of one, in so many bytes each. */
static json_t *whole(const double *value, size_t count, double parts, int size)
{
    const double most = 0.99 * ldexp(1.0, 8 * size - 1) / parts;
    unsigned char *bytes = malloc((size_t)size * count);
    for (size_t i = 0; bytes && i < count; i++) {
        const double x = fmax(-most, fmin(most, value[i]));
        put_bytes((uint64_t)llround(x * parts), size, &bytes[(size_t)size * i]);
    }
    char *text = bytes ? base64(bytes, (size_t)size * count) : NULL;
    json_t *json = text ? json_string(text) : NULL;
    free(text);
    free(bytes);
    return json;
}

static size_t dimensions_drawn(void)
{
    size_t count, drawn = 0;
    const struct hobble_param *p = hobble_param_table(&count);
    for (size_t i = 0; i < count; i++)
        drawn += p[i].stage != HOBBLE_NOT_DRAWN;
    return drawn;
}

/* exact: all points are as they are. */
static enum hobble_status add_cube(json_t *o, unsigned long seed, bool exact)
{
    const size_t dimensions = dimensions_drawn();
    const size_t first = (exact ? HB_PAGE_MOST : HB_PAGE_FIRST) * dimensions;
    double *cube = malloc(HB_PAGE_MOST * dimensions * sizeof *cube);
    enum hobble_status status =
        cube ? hb_cube_fill(cube, HB_PAGE_MOST, (int)dimensions, seed) : HOBBLE_E_MEMORY;
    if (status == HOBBLE_OK) {
        const int failed =
            json_object_set_new(o, "cube", whole(cube, first, HB_CUBE_PARTS, 4)) |
            json_object_set_new(
                o, "cube_rest",
                exact ? json_string("")
                      : whole(&cube[first], HB_PAGE_MOST * dimensions - first, 4096.0, 2));
        status = failed ? HOBBLE_E_MEMORY : HOBBLE_OK;
    }
    free(cube);
    return status;
}

/* ---- profiles -------------------------------------------------------------------------------- */

/* [key, value] or [key, value, spread] of a row that is given. */
static json_t *row_json(const hobble_case *c, int i)
{
    const struct hobble_param *p = &hobble_param_table(NULL)[i];
    json_t *row = json_array();
    json_array_append_new(row, json_string(p->key));
    if (p->kind == HOBBLE_NUMBER) {
        json_array_append_new(row, json_real(hobble_case_number(c, i)));
        if (hobble_case_spread(c, i) != p->spread)
            json_array_append_new(row, json_real(hobble_case_spread(c, i)));
    } else {
        char word[HOBBLE_FAULT_TEXT];
        hobble_param_word_at(p, (int)fmax(hobble_case_number(c, i), 0.0), word, sizeof word);
        json_array_append_new(row,
                              json_string(p->kind == HOBBLE_WORD ? word : hobble_case_text(c, i)));
    }
    return row;
}

static bool is_row_of(const struct hb_page_choice *choice, int i)
{
    const struct hobble_param *p = &hobble_param_table(NULL)[i];
    const double value = hobble_case_number(choice->c, i);
    /* what a fleet says of the trip goes with its vehicle: warning, rule */
    const bool own =
        p->group == choice->group || (choice->group == HOBBLE_VEHICLE && p->group == HOBBLE_TRIP);
    return own && hobble_case_given(choice->c, i) && (p->kind != HOBBLE_NUMBER || isfinite(value));
}

/* ---- evidence: of each item its rows, words by their place and numbers in SI units ----------- */

static json_t *item_rows(const struct hobble_evidence *item)
{
    size_t count;
    json_t *rows = json_array();
    const struct hobble_evidence_row *row = hobble_evidence_table(&count);
    for (size_t i = 0; i < count; i++) {
        const struct hobble_param *p = &row[i].param;
        const char *at = (const char *)item + row[i].at;
        double si = 0.0;
        int place = 0;
        if (row[i].place != HOBBLE_IN_ITEM || !(row[i].kinds >> item->kind & 1u) ||
            p->kind == HOBBLE_TEXT)
            continue;
        const bool whole = p->kind == HOBBLE_WORD || p->unit == HOBBLE_UNIT_WHOLE;
        memcpy(whole ? (void *)&place : (void *)&si, at, whole ? sizeof place : sizeof si);
        json_array_append_new(
            rows, json_pack("[s, o]", p->key, whole ? json_integer(place) : json_real(si)));
    }
    return rows;
}

static json_t *reals(const double *value, int count)
{
    json_t *list = json_array();
    for (int i = 0; i < count; i++)
        json_array_append_new(list, json_real(value[i]));
    return list;
}

static json_t *item_json(const struct hobble_evidence *item)
{
    const char *last = strrchr(item->origin, '/');
    json_t *channels = json_array();
    for (int i = 0; i < HOBBLE_CHANNELS && item->kind == HOBBLE_EVIDENCE_RUN; i++) {
        const struct hobble_readings *r = &item->channel[i];
        if (r->count > 0)
            json_array_append_new(channels,
                                  json_pack("[i, f, f, o, o]", i, r->offset, r->scatter,
                                            reals(r->time, r->count), reals(r->celsius, r->count)));
    }
    return json_pack("{s:i, s:s, s:s, s:o, s:o}", "kind", (int)item->kind, "origin",
                     last ? last + 1 : item->origin, "source", item->source, "rows",
                     item_rows(item), "channels", channels);
}

static json_t *evidence_json(const hobble_case *c)
{
    json_t *list = json_array();
    for (size_t i = 0; i < hobble_case_evidence_count(c); i++)
        json_array_append_new(list, item_json(hobble_case_evidence_at(c, i)));
    return list;
}

json_t *hb_page_choice_json(const struct hb_page_choice *choice)
{
    const bool vehicle = choice->group == HOBBLE_VEHICLE;
    const char *title =
        hobble_case_text(choice->c, hobble_param_find(vehicle ? "vehicle_name" : "tyre_name"));
    json_t *o = json_object(), *rows = json_array();
    size_t count;
    hobble_param_table(&count);
    json_object_set_new(o, "name", json_string(choice->name));
    json_object_set_new(o, "title", json_string(*title ? title : choice->name));
    for (size_t i = 0; i < count; i++)
        if (is_row_of(choice, (int)i))
            json_array_append_new(rows, row_json(choice->c, (int)i));
    json_object_set_new(o, "invented", json_boolean(strstr(title, "invented") != NULL));
    json_object_set_new(o, "rows", rows);
    if (!vehicle && hobble_case_evidence_count(choice->c) > 0)
        json_object_set_new(o, "evidence", evidence_json(choice->c));
    if (vehicle) {
        const double seats = hobble_case_number(choice->c, hobble_param_find("seats_front")) +
                             hobble_case_number(choice->c, hobble_param_find("seats_rear"));
        json_object_set_new(o, "seats", json_integer((json_int_t)seats));
        json_object_set_new(o, "tyre", json_integer(choice->tyre));
        const char *number = hobble_case_text(choice->c, hobble_param_find("recovery_number"));
        if (*number)
            json_object_set_new(o, "recovery_number", json_string(number));
        if (choice->two_tyres)
            json_object_set_new(o, "rear_tyre", json_integer(choice->rear_tyre));
    }
    return o;
}

static json_t *choices(const struct hb_page_choice *choice, size_t count, enum hobble_group group)
{
    json_t *list = json_array();
    for (size_t i = 0; i < count; i++)
        if (choice[i].group == group)
            json_array_append_new(list, hb_page_choice_json(&choice[i]));
    return list;
}

static bool has_evidence(const struct hb_page_choice *choice, size_t count)
{
    for (size_t i = 0; i < count; i++)
        if (hobble_case_evidence_count(choice[i].c) > 0)
            return true;
    return false;
}

/* ---- the file -------------------------------------------------------------------------------- */

static size_t marker_place(void)
{
    const size_t length = sizeof marker - 1;
    for (size_t i = 0; i + length <= hb_page_template_size; i++)
        if (memcmp(&hb_page_template[i], marker, length) == 0)
            return i;
    return hb_page_template_size;
}

/* JSON inside a script element: no text of a profile may end it, so '<' is written as a number. */
static void print_inside(FILE *f, const char *text)
{
    for (; *text; text++) {
        if (*text == '<')
            fputs("\\u003c", f);
        else
            fputc(*text, f);
    }
}

static enum hobble_status print(FILE *f, json_t *data)
{
    const size_t place = marker_place();
    char *text = json_dumps(data, JSON_COMPACT | JSON_ENSURE_ASCII | JSON_REAL_PRECISION(17));
    if (!text)
        return HOBBLE_E_MEMORY;
    if (place == hb_page_template_size) {
        free(text);
        return HOBBLE_E_INTERNAL;
    }
    const size_t behind = place + sizeof marker - 1;
    fwrite(hb_page_template, 1, place, f);
    print_inside(f, text);
    fwrite(&hb_page_template[behind], 1, hb_page_template_size - behind, f);
    free(text);
    return HOBBLE_OK;
}

enum hobble_status hb_page_write(const char *path, const struct hb_page_choice *choice,
                                 size_t count, bool us, unsigned long seed)
{
    struct hb_out out;
    if (hb_page_template_size <= 1)
        return HOBBLE_E_UNSUPPORTED;
    json_t *data = json_object();
    enum hobble_status status =
        data ? add_cube(data, seed, has_evidence(choice, count)) : HOBBLE_E_MEMORY;
    if (status == HOBBLE_OK) {
        json_object_set_new(data, "us", json_boolean(us));
        json_object_set_new(data, "seed", json_integer((json_int_t)seed));
        json_object_set_new(data, "tyres", choices(choice, count, HOBBLE_TYRE));
        json_object_set_new(data, "vehicles", choices(choice, count, HOBBLE_VEHICLE));
        status = hb_out_open(&out);
    }
    if (status == HOBBLE_OK) {
        status = print(out.stream, data);
        if (status == HOBBLE_OK)
            status = hb_out_close(&out, path);
        else
            hb_out_drop(&out);
    }
    json_decref(data);
    return status;
}
