/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "json_struct.h"

#include <check.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

enum { PATH = 200 };

struct reading {
    const void *of;
    const struct json_number *row;
    size_t rows;
    bool *seen;
};

static double in_struct(const struct json_number *row, const void *of)
{
    static const double over[] = {
        [JSON_ONE] = 1.0,     [JSON_COUNT] = 1.0, [JSON_KM] = 1e3,       [JSON_KMH] = 1.0 / 3.6,
        [JSON_CELSIUS] = 1.0, [JSON_KPA] = 1e3,   [JSON_MINUTES] = 60.0, [JSON_MILLIMETRES] = 1e-3};
    const void *at = (const char *)of + row->at;
    const double value = row->unit == JSON_COUNT ? (double)*(const int *)at : *(const double *)at;
    return (value - (row->unit == JSON_CELSIUS ? 273.15 : 0.0)) / over[row->unit];
}

static void compare(const struct reading *r, const char *path, double value)
{
    for (size_t i = 0; i < r->rows; i++) {
        if (strcmp(r->row[i].path, path) != 0)
            continue;
        const double must = in_struct(&r->row[i], r->of);
        /* the JSON has nine digits */
        ck_assert_msg(fabs(value - must) <= 1e-8 * fmax(1.0, fabs(must)),
                      "%s: %.10g, computed %.10g", path, value, must);
        r->seen[i] = true;
        return;
    }
    ck_abort_msg("%s is a number that no row knows", path);
}

static void visit(const struct reading *r, json_t *node, const char *path);

static void inside(const struct reading *r, json_t *node, const char *path, const char *step)
{
    char inner[PATH];
    snprintf(inner, sizeof inner, "%s%s%s", path, *path ? "." : "", step);
    if (strcmp(inner, "seed") != 0 && strcmp(inner, "members") != 0)
        visit(r, node, inner);
}

static void visit(const struct reading *r, json_t *node, const char *path)
{
    const char *key;
    char place[24];
    json_t *value;
    size_t i;
    if (json_is_number(node))
        compare(r, path, json_number_value(node));
    json_object_foreach(node, key, value) inside(r, value, path, key);
    json_array_foreach(node, i, value)
    {
        snprintf(place, sizeof place, "%zu", i);
        inside(r, value, path, place);
    }
}

void json_struct_compare(json_t *json, const void *of, const struct json_number *row, size_t rows,
                         bool *seen)
{
    visit(&(struct reading){of, row, rows, seen}, json, "");
}

void json_struct_all(const struct json_number *row, size_t rows, const bool *seen)
{
    for (size_t i = 0; i < rows; i++)
        ck_assert_msg(seen[i], "%s was never told", row[i].path);
}
