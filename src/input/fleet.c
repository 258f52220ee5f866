/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "input/fleet.h"

#include "input/config_text.h"
#include "input/fleet_parts.h"
#include "input/fleet_reading.h"
#include "input/setting.h"

#include <stdlib.h>
#include <string.h>

/* ---- numbers that stand for themselves ------------------------------------------------------- */

static void read_provenance(struct hb_fleet_reading *r, const config_setting_t *known,
                            const config_setting_t *source, const char *key,
                            struct hobble_fleet_number *n)
{
    const char *word = known ? config_setting_get_string(known) : "assumed";
    const struct hb_place place = {r->file, known ? (int)config_setting_source_line(known) : 0,
                                   key};
    if (source && !hb_fleet_text(r, source, key, n->source, sizeof n->source))
        return;
    hb_fleet_count(r, hb_provenance_read(&place, word, n->source, &n->provenance, r->sink));
}

static void read_row(struct hb_fleet_reading *r, config_setting_t *s, int place)
{
    enum { VALUE, SPREAD, PROVENANCE, SOURCE, MEMBERS };
    static const struct hb_fleet_key keys[MEMBERS] = {
        {"value", true}, {"spread", false}, {"provenance", false}, {"source", false}};
    const struct hobble_fleet_row *row = &hobble_fleet_table(NULL)[place];
    struct hobble_fleet_number *n = &r->fleet->number[place];
    config_setting_t *member[MEMBERS] = {s, NULL, NULL, NULL};
    if (config_setting_is_group(s) && !hb_fleet_members(r, s, row->key, keys, MEMBERS, member))
        return;
    if (!member[VALUE] ||
        !hb_fleet_number(r, member[VALUE], row->key, row->unit, row->min, row->max, &n->value))
        return;
    if (member[SPREAD])
        hb_fleet_number(r, member[SPREAD], row->key, HOBBLE_UNIT_NONE, 0.0, 2.0, &n->spread);
    n->source[0] = '\0';
    hb_origin(r->file, (int)config_setting_source_line(s), n->origin, sizeof n->origin);
    read_provenance(r, member[PROVENANCE], member[SOURCE], row->key, n);
}

static void check_kinds(struct hb_fleet_reading *r)
{
    static const char *const kind[] = {"share_nail", "share_shoulder", "share_sidewall",
                                       "share_burst", "share_slow"};
    double sum = 0.0;
    for (size_t i = 0; i < sizeof kind / sizeof *kind; i++)
        sum += r->fleet->number[hobble_fleet_find(kind[i])].value;
    hb_fleet_whole(r, NULL, "share_nail .. share_slow", sum);
}

/* ---- the file -------------------------------------------------------------------------------- */

enum { KIND, NAME, MONEY, VEHICLES, LOADS, SEASONS, SITES, HELP, TOP };
static const struct hb_fleet_key top[TOP] = {
    {"kind", true},  {"fleet_name", true}, {"money", false}, {"vehicles", true},
    {"loads", true}, {"seasons", true},    {"sites", false}, {"help", true}};

/* The file's own keys and its numbers. */
static void unknown_key(struct hb_fleet_reading *r, const config_setting_t *s, const char *name)
{
    struct hb_near near = hb_near_to(name);
    size_t rows;
    const struct hobble_fleet_row *row = hobble_fleet_table(&rows);
    hb_fleet_complain(r, HOBBLE_E_UNKNOWN, s, name, NULL, "a key that docs/policy.md lists");
    for (int i = 0; i < TOP; i++)
        hb_near_try(&near, top[i].name);
    for (size_t i = 0; i < rows; i++)
        hb_near_try(&near, row[i].key);
    hb_fault_meant(r->sink, &near);
}

static void sort_out(struct hb_fleet_reading *r, config_setting_t *root,
                     config_setting_t *part[TOP])
{
    for (int i = 0; i < TOP; i++)
        part[i] = NULL;
    for (unsigned i = 0; i < (unsigned)config_setting_length(root); i++) {
        config_setting_t *s = config_setting_get_elem(root, i);
        const char *name = config_setting_name(s);
        int at = 0;
        while (at < TOP && strcmp(name, top[at].name) != 0)
            at++;
        const int row = hobble_fleet_find(name);
        if (at < TOP)
            part[at] = s;
        else if (row >= 0)
            read_row(r, s, row);
        else if (!hb_config_repeated(s))
            unknown_key(r, s, name);
    }
    for (int i = 0; i < TOP; i++)
        if (top[i].needed && !part[i])
            hb_fleet_complain(r, HOBBLE_E_MISSING, NULL, top[i].name, "",
                              "this key in a fleet file");
}

static void read_all(struct hb_fleet_reading *r, config_setting_t *root)
{
    config_setting_t *part[TOP];
    sort_out(r, root, part);
    const char *kind = part[KIND] ? config_setting_get_string(part[KIND]) : NULL;
    if (part[KIND] && (!kind || strcmp(kind, "fleet") != 0))
        hb_fleet_complain(r, HOBBLE_E_CONFLICT, part[KIND], "kind", kind, "kind = \"fleet\"");
    if (part[NAME])
        hb_fleet_text(r, part[NAME], "fleet_name", r->fleet->name, sizeof r->fleet->name);
    if (part[MONEY])
        hb_fleet_text(r, part[MONEY], "money", r->fleet->money, sizeof r->fleet->money);
    if (part[VEHICLES])
        hb_fleet_vehicles(r, part[VEHICLES]);
    if (part[LOADS])
        hb_fleet_loads(r, part[LOADS]);
    if (part[HELP])
        hb_fleet_help(r, part[HELP]);
    if (part[SEASONS])
        hb_fleet_climate(r, part[SEASONS], part[SITES]);
    check_kinds(r);
}

enum hobble_status hb_fleet_read_text(const char *bytes, size_t size, const char *name,
                                      struct hobble_fleet **fleet, struct hobble_faults *sink)
{
    struct hb_fleet_reading r = {.file = name, .first = HOBBLE_OK, .sink = sink};
    config_t config;
    bool readable;
    r.first = hb_config_parse(bytes, size, name, &config, &readable, sink);
    if (!readable)
        return r.first;
    r.fleet = hobble_fleet_new();
    if (r.fleet)
        read_all(&r, config_root_setting(&config));
    else
        r.first = HOBBLE_E_MEMORY;
    config_destroy(&config);
    if (r.first == HOBBLE_OK)
        *fleet = r.fleet;
    else
        hobble_fleet_free(r.fleet);
    return r.first;
}

enum hobble_status hb_fleet_read(const char *path, struct hobble_fleet **fleet,
                                 struct hobble_faults *sink)
{
    char *bytes;
    size_t size;
    enum hobble_status status = hb_file_read(path, &bytes, &size, sink);
    if (status == HOBBLE_OK) {
        status = hb_fleet_read_text(bytes, size, path, fleet, sink);
        free(bytes);
    }
    return status;
}
