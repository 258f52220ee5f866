/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/describe/show_words.h"
#include "report/describe/words.h"
#include "report/json/answers.h"
#include "report/json/json.h"

#include <math.h>

static double celsius(double kelvin)
{
    return hobble_unit_from_si(HOBBLE_UNIT_CELSIUS, kelvin);
}

static json_t *head(const char *picture, const hobble_case *c, const struct hobble_marking *marking,
                    bool example)
{
    char text[64];
    json_t *o = hb_json_head("show", c);
    hobble_marking_print(marking, text, sizeof text);
    if (o) {
        hb_json_text(o, "picture", picture);
        hb_json_text(o, "marking", text);
        hb_json_bool(o, "example", example);
    }
    return o;
}

static void conditions(json_t *o, double speed, double load, double ambient)
{
    if (isfinite(speed))
        hb_json_real(o, "speed_kmh", hobble_unit_from_si(HOBBLE_UNIT_KM_PER_HOUR, speed));
    hb_json_real(o, "load_n", load);
    hb_json_real(o, "ambient_c", celsius(ambient));
}

/* count values, scaled and shifted. */
static json_t *list(const double *value, int count, double scale, double shift)
{
    json_t *o = json_array();
    for (int i = 0; i < count; i++)
        json_array_append_new(o, isfinite(value[i]) ? json_real(value[i] * scale + shift)
                                                    : json_null());
    return o;
}

json_t *hb_wall_json(const hobble_case *c, const struct hobble_wall *w)
{
    json_t *o = head("wall", c, &w->marking, w->example), *rows = json_array();
    if (!o)
        return NULL;
    conditions(o, w->speed, w->load, w->ambient);
    hb_json_text(o, "ended_by", hobble_end_word(w->end));
    hb_json_real(o, "limit_c", celsius(w->limit));
    json_object_set_new(o, "time_min", list(w->time, HOBBLE_WALL_TIMES, 1.0 / 60.0, 0.0));
    json_object_set_new(o, "way_km", list(w->way, HOBBLE_WALL_TIMES, 1e-3, 0.0));
    json_object_set_new(o, "depth_mm", list(w->depth, HOBBLE_WALL_PLACES, 1e3, 0.0));
    for (int i = 0; i < HOBBLE_WALL_TIMES; i++)
        json_array_append_new(rows, list(w->kelvin[i], HOBBLE_WALL_PLACES, 1.0, -273.15));
    json_object_set_new(o, "temperature_c", rows);
    return o;
}

json_t *hb_life_json(const hobble_case *c, const struct hobble_life *life)
{
    json_t *o = head("life", c, &life->marking, life->example), *rows = json_array();
    if (!o)
        return NULL;
    conditions(o, (double)NAN, life->load, life->ambient);
    hb_json_bool(o, "journey_is_ours", life->ours);
    hb_json_int(o, "tested", life->tested);
    hb_json_int(o, "passed", life->passed);
    hb_json_int(o, "counted", hb_counted(c, life->passed));
    hb_json_bool(o, "too_few", hobble_too_few(hb_counted(c, life->passed)));
    for (int i = 0; i < life->count; i++) {
        const struct hobble_life_point *p = &life->point[i];
        json_t *row = json_object();
        hb_json_real(row, "time_min", p->time / 60.0);
        hb_json_real(row, "way_km", p->way / 1e3);
        hb_json_real(row, "speed_kmh", hobble_unit_from_si(HOBBLE_UNIT_KM_PER_HOUR, p->speed));
        hb_json_real(row, "life_p5", p->life5);
        hb_json_real(row, "life_p50", p->life50);
        hb_json_real(row, "life_p95", p->life95);
        hb_json_real(row, "wall_p50_c", celsius(p->wall50));
        hb_json_real(row, "share_carrying", p->alive);
        json_array_append_new(rows, row);
    }
    json_object_set_new(o, "points", rows);
    return o;
}

static json_t *quantiles(const struct hobble_quantile q[3])
{
    static const char *const name[] = {"p5", "p50", "p95"};
    json_t *o = json_object();
    for (int i = 0; i < 3; i++) {
        const double sure[] = {q[i].low, q[i].high};
        json_t *one = json_object();
        hb_json_real(one, "km", q[i].at / 1e3);
        json_object_set_new(one, "ci_km", list(sure, 2, 1e-3, 0.0));
        hb_json_bool(one, "more_than", q[i].cut);
        json_object_set_new(o, name[i], one);
    }
    return o;
}

static json_t *moments(const struct hobble_moments *m)
{
    json_t *o = json_object();
    hb_json_real(o, "mean", m->mean);
    hb_json_real(o, "deviation", m->deviation);
    return o;
}

json_t *hb_mark_json(const hobble_case *c, const struct hobble_mark_worth *m)
{
    json_t *o = head("mark", c, &m->marking, m->example), *rows = json_array();
    if (!o)
        return NULL;
    conditions(o, m->speed, m->load, m->ambient);
    hb_json_int(o, "tested", m->tested);
    hb_json_int(o, "passed", m->passed);
    hb_json_int(o, "counted", hb_counted(c, m->passed));
    hb_json_bool(o, "too_few", hobble_too_few(hb_counted(c, m->passed)));
    hb_json_text(o, "interval", "binomial law of order statistics, 95 %");
    json_object_set_new(o, "range_all_types", quantiles(m->before));
    json_object_set_new(o, "range_approved_types", quantiles(m->after));
    json_object_set_new(o, "curve_all_types_km",
                        list(m->curve_before, HOBBLE_MARK_POINTS, 1e-3, 0.0));
    json_object_set_new(o, "curve_approved_types_km",
                        list(m->curve_after, HOBBLE_MARK_POINTS, 1e-3, 0.0));
    for (int i = 0; i < m->count; i++) {
        const struct hobble_param *row = &hobble_param_table(NULL)[m->row[i]];
        json_t *one = json_object();
        hb_json_text(one, "key", row->key);
        hb_json_text(one, "unit", hb_drawn_unit(c, m->row[i]));
        json_object_set_new(one, "all_types", moments(&m->row_before[i]));
        json_object_set_new(one, "approved_types", moments(&m->row_after[i]));
        json_array_append_new(rows, one);
    }
    json_object_set_new(o, "parameters", rows);
    return o;
}
