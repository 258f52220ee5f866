/* SPDX-License-Identifier: GPL-3.0-or-later */
/* fleet_lists.c - vehicles, loads and help of a fleet file. */
#include "input/fleet_parts.h"
#include "input/incidents.h"
#include "input/profile_dir.h"
#include "input/setting.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define HELP_MOST_KM 1000.0

/* ---- vehicles -------------------------------------------------------------------------------- */

/* A name is looked for among the profiles; a path stands beside the fleet file. */
static void load_profile(struct hb_fleet_reading *r, const config_setting_t *s, const char *key,
                         enum hobble_group group, hobble_case *c)
{
    char name[HOBBLE_FAULT_TEXT], path[HB_PATH_MAX];
    if (!s || !hb_fleet_text(r, s, key, name, sizeof name))
        return;
    const size_t length = strlen(name);
    const bool is_path =
        strchr(name, '/') || (length > 4 && strcmp(name + length - 4, ".cfg") == 0);
    snprintf(path, sizeof path, "%s", name);
    if (is_path)
        hb_fleet_beside(r, name, path, sizeof path);
    const size_t before = r->sink ? r->sink->count : 0;
    hb_fleet_count(r, hb_profile_load_as(path, key, (int)group, c, NULL, r->sink));
    if (!r->sink || r->sink->count == before || before >= HOBBLE_FAULTS_KEPT)
        return;
    struct hobble_fault *first = &r->sink->item[before]; /* a name that is none stands here */
    if (!*first->file) {
        hobble_fault_text(first->file, r->file);
        first->line = (int)config_setting_source_line(s);
    }
}

/* Keys of a tyre or a vehicle, and how well the loads of the list are known. */
static bool can_be_stated(const struct hobble_param *p)
{
    return p->group == HOBBLE_TYRE || p->group == HOBBLE_VEHICLE ||
           strcmp(p->key, "load_known") == 0;
}

static void unknown_stated(struct hb_fleet_reading *r, const config_setting_t *s, const char *key)
{
    struct hb_near near = hb_near_to(key);
    size_t rows;
    const struct hobble_param *p = hobble_param_table(&rows);
    hb_fleet_complain(r, HOBBLE_E_UNKNOWN, s, key, NULL,
                      "a key of a tyre or a vehicle, or load_known");
    for (size_t i = 0; i < rows; i++)
        if (can_be_stated(&p[i]))
            hb_near_try(&near, p[i].key);
    hb_fault_meant(r->sink, &near);
}

/* What is known of the tyres and loads as they are. */
static void read_stated(struct hb_fleet_reading *r, const config_setting_t *group, hobble_case *c)
{
    if (!config_setting_is_group(group)) {
        hb_fleet_complain(r, HOBBLE_E_TYPE, group, "vehicles.stated", NULL,
                          "a group: { age = ...; }");
        return;
    }
    for (unsigned i = 0; i < (unsigned)config_setting_length(group); i++) {
        const config_setting_t *s = config_setting_get_elem(group, i);
        const char *key = config_setting_name(s), *text = config_setting_get_string(s);
        const int row = hobble_param_find(key);
        const struct hobble_param *p = row >= 0 ? &hobble_param_table(NULL)[row] : NULL;
        const struct hb_place place = {r->file, (int)config_setting_source_line(s), key};
        double value;
        if (*key == '*') /* given twice, and reported */
            continue;
        if (!p || !can_be_stated(p))
            unknown_stated(r, s, key);
        else if (text)
            hb_fleet_count(r, hb_put_text(c, row, false, text, &place, r->sink));
        else if (hb_fleet_number(r, s, key, p->unit, p->min, p->max, &value))
            hb_fleet_count(r, hb_put_number(c, row, false, value, &place, r->sink));
    }
}

enum { V_NAME, V_COUNT, V_YEAR, V_VEHICLE, V_TYRES, V_REAR, V_STATED, V_KEYS };
static const struct hb_fleet_key vehicle_keys[V_KEYS] = {
    {"name", true},  {"count", true},       {"year", true},   {"vehicle", true},
    {"tyres", true}, {"rear_tyres", false}, {"stated", false}};

static void read_vehicle(struct hb_fleet_reading *r, config_setting_t *s,
                         struct hobble_fleet_vehicle *v)
{
    config_setting_t *m[V_KEYS];
    double count = 0.0;
    if (!hb_fleet_members(r, s, "vehicles", vehicle_keys, V_KEYS, m))
        return;
    if (m[V_NAME])
        hb_fleet_text(r, m[V_NAME], "vehicles.name", v->name, sizeof v->name);
    if (m[V_COUNT] &&
        hb_fleet_number(r, m[V_COUNT], "vehicles.count", HOBBLE_UNIT_WHOLE, 1, 100000, &count))
        v->count = (int)count;
    if (m[V_YEAR])
        hb_fleet_number(r, m[V_YEAR], "vehicles.year", HOBBLE_UNIT_KILOMETRE, 1, 1e6, &v->year_km);
    for (int axle = 0; axle < 2; axle++) {
        const int tyre = axle == 1 && m[V_REAR] ? V_REAR : V_TYRES;
        hobble_case *c = v->axle[axle] = hobble_case_new();
        if (!c) {
            hb_fleet_count(r, HOBBLE_E_MEMORY);
            return;
        }
        load_profile(r, m[V_VEHICLE], "vehicles.vehicle", HOBBLE_VEHICLE, c);
        load_profile(r, m[tyre], "vehicles.tyres", HOBBLE_TYRE, c);
        if (m[V_STATED])
            read_stated(r, m[V_STATED], c);
        if (r->first != HOBBLE_OK && axle == 0 && !m[V_REAR])
            return; /* the second axle would only say the same again */
    }
}

void hb_fleet_vehicles(struct hb_fleet_reading *r, config_setting_t *list)
{
    const int count = hb_fleet_list(r, list, "vehicles", 1, HOBBLE_FLEET_VEHICLES);
    for (int i = 0; i < count; i++)
        read_vehicle(r, config_setting_get_elem(list, (unsigned)i), &r->fleet->vehicle[i]);
    r->fleet->vehicles = count;
}

/* ---- loads ----------------------------------------------------------------------------------- */

enum { L_NAME, L_PEOPLE, L_SEATS, L_LUGGAGE, L_SHARE, L_KEYS };
static const struct hb_fleet_key load_keys[L_KEYS] = {
    {"name", true}, {"people", false}, {"seats", false}, {"luggage", false}, {"share", true}};

static void read_load(struct hb_fleet_reading *r, config_setting_t *s, struct hobble_fleet_load *l)
{
    config_setting_t *m[L_KEYS];
    l->people = l->seats = (double)NAN;
    if (!hb_fleet_members(r, s, "loads", load_keys, L_KEYS, m))
        return;
    if (m[L_NAME])
        hb_fleet_text(r, m[L_NAME], "loads.name", l->name, sizeof l->name);
    if (!m[L_PEOPLE] == !m[L_SEATS])
        hb_fleet_complain(r, HOBBLE_E_CONFLICT, s, "loads.people", "",
                          "people or seats (a share of them), one of the two");
    if (m[L_PEOPLE])
        hb_fleet_number(r, m[L_PEOPLE], "loads.people", HOBBLE_UNIT_WHOLE, 1, 20, &l->people);
    if (m[L_SEATS])
        hb_fleet_number(r, m[L_SEATS], "loads.seats", HOBBLE_UNIT_NONE, 0, 1, &l->seats);
    if (m[L_LUGGAGE])
        hb_fleet_number(r, m[L_LUGGAGE], "loads.luggage", HOBBLE_UNIT_KILOGRAM, 0, 2000,
                        &l->luggage);
    if (m[L_SHARE])
        hb_fleet_number(r, m[L_SHARE], "loads.share", HOBBLE_UNIT_NONE, 0, 1, &l->share);
}

void hb_fleet_loads(struct hb_fleet_reading *r, config_setting_t *list)
{
    const int count = hb_fleet_list(r, list, "loads", 1, HOBBLE_FLEET_LOADS);
    double sum = 0.0;
    for (int i = 0; i < count; i++) {
        read_load(r, config_setting_get_elem(list, (unsigned)i), &r->fleet->load[i]);
        sum += r->fleet->load[i].share;
    }
    r->fleet->loads = count;
    if (count > 0)
        hb_fleet_whole(r, list, "loads.share", sum);
}

/* ---- help ------------------------------------------------------------------------------------ */

enum { H_MEAN, H_TABLE, H_FILE, H_COLUMN, H_KEYS };
static const struct hb_fleet_key help_keys[H_KEYS] = {
    {"mean", false}, {"table", false}, {"file", false}, {"column", false}};
enum { TABLE_MOST = 64 };

/* ( { up_to = "5 km"; share = 0.4; }, ... ): all of a share counts at its far end. */
static void read_table(struct hb_fleet_reading *r, config_setting_t *list)
{
    enum { UP_TO, SHARE, KEYS };
    static const struct hb_fleet_key keys[KEYS] = {{"up_to", true}, {"share", true}};
    double distance[TABLE_MOST] = {0}, weight[TABLE_MOST] = {0}, sum = 0.0;
    const int count = hb_fleet_list(r, list, "help.table", 1, TABLE_MOST);
    const enum hobble_status before = r->first;
    for (int i = 0; i < count; i++) {
        config_setting_t *m[KEYS], *s = config_setting_get_elem(list, (unsigned)i);
        if (!hb_fleet_members(r, s, "help.table", keys, KEYS, m))
            return;
        if (m[UP_TO] && hb_fleet_number(r, m[UP_TO], "help.table.up_to", HOBBLE_UNIT_KILOMETRE, 0,
                                        HELP_MOST_KM, &distance[i]))
            distance[i] *= 1e3;
        if (m[SHARE])
            hb_fleet_number(r, m[SHARE], "help.table.share", HOBBLE_UNIT_NONE, 1e-9, 1, &weight[i]);
        sum += weight[i];
    }
    if (count > 0)
        hb_fleet_whole(r, list, "help.table.share", sum);
    if (count > 0 && r->first == before)
        hb_fleet_count(
            r, hobble_help_set(&r->fleet->help, HOBBLE_HELP_TABLE, distance, weight, count));
}

static void read_incidents(struct hb_fleet_reading *r, const config_setting_t *file,
                           const config_setting_t *column)
{
    char name[HOBBLE_FAULT_TEXT], path[HB_PATH_MAX], head[HOBBLE_FLEET_NAME] = "help_km";
    if (!hb_fleet_text(r, file, "help.file", name, sizeof name) ||
        (column && !hb_fleet_text(r, column, "help.column", head, sizeof head)))
        return;
    hb_fleet_beside(r, name, path, sizeof path);
    hb_fleet_count(r, hb_incidents_read(path, head, &r->fleet->help, r->sink));
}

void hb_fleet_help(struct hb_fleet_reading *r, config_setting_t *group)
{
    config_setting_t *m[H_KEYS];
    struct hobble_help *help = &r->fleet->help;
    double mean;
    if (!hb_fleet_members(r, group, "help", help_keys, H_KEYS, m))
        return;
    if ((m[H_MEAN] != NULL) + (m[H_TABLE] != NULL) + (m[H_FILE] != NULL) != 1 ||
        (m[H_COLUMN] && !m[H_FILE])) {
        hb_fleet_complain(r, HOBBLE_E_CONFLICT, group, "help", "",
                          "one of mean, table, or file (with column)");
        return;
    }
    snprintf(help->origin, sizeof help->origin, "line %u",
             (unsigned)config_setting_source_line(group));
    if (m[H_MEAN] && hb_fleet_number(r, m[H_MEAN], "help.mean", HOBBLE_UNIT_KILOMETRE, 0.1,
                                     HELP_MOST_KM, &mean)) {
        help->kind = HOBBLE_HELP_EXPONENTIAL;
        help->mean = mean * 1e3;
    }
    if (m[H_TABLE])
        read_table(r, m[H_TABLE]);
    if (m[H_FILE])
        read_incidents(r, m[H_FILE], m[H_COLUMN]);
}
