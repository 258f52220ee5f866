/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/json/answers.h"
#include "report/json/json.h"

#include "input/quantity.h"

#include <math.h>

/* Rows of a map as a list of lists; what is not finite is null. */
static json_t *matrix(const struct hobble_map *m, const double *cell, double scale)
{
    json_t *rows = json_array();
    for (int y = 0; y < m->axis[1].count; y++) {
        json_t *row = json_array();
        for (int x = 0; x < m->axis[0].count; x++) {
            const double v = cell[(size_t)y * (size_t)m->axis[0].count + (size_t)x] * scale;
            json_array_append_new(row, isfinite(v) ? json_real(v) : json_null());
        }
        json_array_append_new(rows, row);
    }
    return rows;
}

static json_t *flags(const struct hobble_map *m, const unsigned char *cell, unsigned mask)
{
    json_t *rows = json_array();
    for (int y = 0; y < m->axis[1].count; y++) {
        json_t *row = json_array();
        for (int x = 0; x < m->axis[0].count; x++)
            json_array_append_new(
                row, json_boolean(cell[(size_t)y * (size_t)m->axis[0].count + (size_t)x] & mask));
        json_array_append_new(rows, row);
    }
    return rows;
}

static json_t *axes(const struct hobble_map *m)
{
    json_t *list = json_array();
    for (int a = 0; a < 2; a++) {
        const struct hobble_param *row = &hobble_param_table(NULL)[m->axis[a].row];
        json_t *o = json_object(), *values = json_array();
        hb_json_text(o, "name", row->key);
        hb_json_text(o, "unit", hobble_unit_symbol(row->unit));
        hb_json_real(o, "asked", m->asked[a]);
        for (int i = 0; i < m->axis[a].count; i++)
            json_array_append_new(values, json_real(m->value[a][i]));
        json_object_set_new(o, "values", values);
        json_array_append_new(list, o);
    }
    return list;
}

static json_t *range(const struct hobble_map *m)
{
    json_t *o = json_object(), *more = json_object();
    json_object_set_new(o, "p5", matrix(m, m->p5, 1e-3));
    json_object_set_new(o, "p50", matrix(m, m->p50, 1e-3));
    json_object_set_new(o, "p95", matrix(m, m->p95, 1e-3));
    json_object_set_new(more, "p5", flags(m, m->cut, 1));
    json_object_set_new(more, "p50", flags(m, m->cut, 2));
    json_object_set_new(more, "p95", flags(m, m->cut, 4));
    json_object_set_new(o, "more_than", more);
    return o;
}

json_t *hb_map_json(const hobble_case *c, const struct hobble_map *m, const char *picture)
{
    char marking[64];
    json_t *o = hb_json_head(picture ? "show" : "map", c);
    if (!o)
        return NULL;
    if (picture)
        hb_json_text(o, "picture", picture);
    hobble_marking_print(&m->marking, marking, sizeof marking);
    hb_json_text(o, "marking", marking);
    hb_json_bool(o, "example", m->example);
    json_object_set_new(o, "axes", axes(m));
    json_object_set_new(o, "range_km", range(m));
    hb_json_text(o, "null_range_means",
                 "the rim carries the load from the start in more than 1 % of tyres");
    json_object_set_new(o, "rim", matrix(m, m->rim, 1.0));
    json_object_set_new(o, "outside_checked_range", flags(m, m->outside, 1));
    json_t *rule = json_object();
    hb_json_real(rule, "distance_km", m->rule_distance / 1e3);
    hb_json_real(rule, "required_share", m->required);
    json_object_set_new(rule, "share_of_tyres", matrix(m, m->share, 1.0));
    hb_json_real(rule, "needed_share", m->needed);
    json_object_set_new(rule, "holds", flags(m, m->holds, 1));
    json_object_set_new(rule, "reach_km", matrix(m, m->reach, 1e-3));
    json_object_set_new(o, "rule", rule);
    json_t *approval = json_object();
    hb_json_int(approval, "tested", m->tested);
    hb_json_int(approval, "passed", m->passed);
    hb_json_int(approval, "times_run", m->made);
    json_object_set_new(o, "approval", approval);
    hb_json_int(o, "counted", m->counted);
    hb_json_bool(o, "too_few", hobble_too_few(m->counted));
    hb_json_real(o, "energy_closure", m->energy_closure);
    return o;
}

/* ---- CSV ------------------------------------------------------------------------------------- */

static void csv_number(FILE *f, double value, char after)
{
    char text[40] = "";
    if (isfinite(value))
        hb_number_print(value, 9, text, sizeof text);
    fprintf(f, "%s%c", text, after);
}

static void csv_names(FILE *f, const struct hobble_map *m)
{
    for (int a = 0; a < 2; a++) {
        const struct hobble_param *row = &hobble_param_table(NULL)[m->axis[a].row];
        const char *unit = hobble_unit_symbol(row->unit);
        if (*unit)
            fprintf(f, "%s (%s),", row->key, unit);
        else
            fprintf(f, "%s,", row->key);
    }
    fprintf(f, "p5 (km),p50 (km),p95 (km),p5 is more,p50 is more,p95 is more,on the rim,"
               "share making the rule,rule reach (km),outside checked range,rule holds\n");
}

void hb_map_csv(FILE *f, const struct hobble_map *m)
{
    csv_names(f, m);
    for (int y = 0; y < m->axis[1].count; y++)
        for (int x = 0; x < m->axis[0].count; x++) {
            const size_t cell = (size_t)y * (size_t)m->axis[0].count + (size_t)x;
            csv_number(f, m->value[0][x], ',');
            csv_number(f, m->value[1][y], ',');
            csv_number(f, m->p5[cell] / 1e3, ',');
            csv_number(f, m->p50[cell] / 1e3, ',');
            csv_number(f, m->p95[cell] / 1e3, ',');
            for (int k = 0; k < 3; k++)
                fprintf(f, "%d,", m->cut[cell] >> k & 1);
            csv_number(f, m->rim[cell], ',');
            csv_number(f, m->share[cell], ',');
            csv_number(f, m->reach[cell] / 1e3, ',');
            fprintf(f, "%d,%d\n", m->outside[cell], m->holds[cell]);
        }
}
