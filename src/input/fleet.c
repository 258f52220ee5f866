/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "input/fleet.h"

#include "input/config_text.h"
#include "input/fleet_parts.h"
#include "input/quantity.h"
#include "input/setting.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define WHOLE_TO 1e-6 /* shares are written with few digits */

/* ---- shared by the parts --------------------------------------------------------------------- */

void hb_fleet_count(struct hb_fleet_reading *r, enum hobble_status status)
{
    if (r->first == HOBBLE_OK)
        r->first = status;
}

void hb_fleet_complain(struct hb_fleet_reading *r, enum hobble_status status,
                       const config_setting_t *s, const char *key, const char *given,
                       const char *allowed)
{
    static const char *const types[] = {"nothing",   "a group",  "a whole number",
                                        "a number",  "a number", "a text",
                                        "yes or no", "an array", "a list"};
    const int type = s ? config_setting_type(s) : 0;
    const struct hb_place place = {r->file, s ? (int)config_setting_source_line(s) : 0, key};
    if (!given)
        given = type >= 0 && type < 9 ? types[type] : "";
    hb_fleet_count(r, hb_place_fault(&place, status, given, allowed, r->sink));
}

static bool repeated(const config_setting_t *s)
{
    const char *name = config_setting_name(s);
    return name && strncmp(name, HB_REPEATED, strlen(HB_REPEATED)) == 0;
}

static void unknown_member(struct hb_fleet_reading *r, const config_setting_t *s, const char *where,
                           const struct hb_fleet_key *key, int count)
{
    struct hb_near near = hb_near_to(config_setting_name(s));
    hb_fleet_complain(r, HOBBLE_E_UNKNOWN, s, where, NULL, "a key that docs/policy.md lists");
    for (int i = 0; i < count; i++)
        hb_near_try(&near, key[i].name);
    hb_fault_meant(r->sink, &near);
}

bool hb_fleet_members(struct hb_fleet_reading *r, config_setting_t *s, const char *group,
                      const struct hb_fleet_key *key, int count, config_setting_t *member[])
{
    char where[HOBBLE_FAULT_TEXT];
    for (int i = 0; i < count; i++)
        member[i] = NULL;
    if (!config_setting_is_group(s)) {
        hb_fleet_complain(r, HOBBLE_E_TYPE, s, group, NULL, "a group: { name = ...; ... }");
        return false;
    }
    for (unsigned i = 0; i < (unsigned)config_setting_length(s); i++) {
        config_setting_t *e = config_setting_get_elem(s, i);
        int at = 0;
        while (at < count && strcmp(config_setting_name(e), key[at].name) != 0)
            at++;
        snprintf(where, sizeof where, "%.60s.%.50s", group, config_setting_name(e));
        if (at < count)
            member[at] = e;
        else if (!repeated(e))
            unknown_member(r, e, where, key, count);
    }
    for (int i = 0; i < count; i++)
        if (key[i].needed && !member[i]) {
            snprintf(where, sizeof where, "%.60s.%.50s", group, key[i].name);
            hb_fleet_complain(r, HOBBLE_E_MISSING, s, where, "", "this key in every such group");
        }
    return true;
}

bool hb_fleet_number(struct hb_fleet_reading *r, const config_setting_t *s, const char *key,
                     enum hobble_unit unit, double least, double most, double *value)
{
    char from[40], to[40], allowed[HOBBLE_FAULT_TEXT];
    double read = 0.0;
    struct hobble_fault why = {.status = HOBBLE_OK};
    hb_number_print(least, 9, from, sizeof from);
    hb_number_print(most, 9, to, sizeof to);
    const char *symbol = hobble_unit_symbol(unit);
    snprintf(allowed, sizeof allowed, "%s to %s%s%s", from, to, *symbol ? " " : "", symbol);
    const char *text = config_setting_get_string(s);
    enum hobble_status status = HOBBLE_OK;
    if (text)
        status = hb_quantity_parse(text, unit, HB_QUANTITY, &read, &why);
    else if (!hb_config_number(s, &read))
        status = HOBBLE_E_TYPE;
    if (status == HOBBLE_OK && !(isfinite(read) && read >= least && read <= most))
        status = HOBBLE_E_RANGE;
    if (status == HOBBLE_OK && unit == HOBBLE_UNIT_WHOLE && read != floor(read))
        status = HOBBLE_E_TYPE;
    if (status == HOBBLE_OK) {
        *value = read;
        return true;
    }
    char given[40];
    hb_number_print(read, 9, given, sizeof given);
    hb_fleet_complain(r, status, s, key,
                      text                       ? text
                      : status == HOBBLE_E_RANGE ? given
                                                 : NULL,
                      allowed);
    return false;
}

bool hb_fleet_text(struct hb_fleet_reading *r, const config_setting_t *s, const char *key,
                   char *buf, size_t size)
{
    char copy[HOBBLE_FAULT_TEXT], allowed[64];
    const char *text = config_setting_get_string(s);
    hobble_fault_text(copy, text);
    snprintf(allowed, sizeof allowed, "1 to %zu bytes of UTF-8 in quotes", size - 1);
    if (!text || !*text || strlen(text) >= size || strcmp(text, copy) != 0) {
        hb_fleet_complain(r, text ? HOBBLE_E_SYNTAX : HOBBLE_E_TYPE, s, key, text, allowed);
        return false;
    }
    snprintf(buf, size, "%s", text);
    return true;
}

int hb_fleet_list(struct hb_fleet_reading *r, const config_setting_t *s, const char *key, int least,
                  int most)
{
    char allowed[80];
    const int count = config_setting_is_list(s) ? config_setting_length(s) : -1;
    snprintf(allowed, sizeof allowed, "a list of %d to %d groups: ( {...}, {...} )", least, most);
    if (count >= least && count <= most)
        return count;
    hb_fleet_complain(r, count < 0 ? HOBBLE_E_TYPE : HOBBLE_E_RANGE, s, key, NULL, allowed);
    return 0;
}

void hb_fleet_beside(const struct hb_fleet_reading *r, const char *name, char *path, size_t size)
{
    const char *slash = strrchr(r->file, '/');
    const int folder = slash && *name != '/' ? (int)(slash - r->file) + 1 : 0;
    snprintf(path, size, "%.*s%s", folder, r->file, name);
}

void hb_fleet_whole(struct hb_fleet_reading *r, const config_setting_t *s, const char *key,
                    double sum)
{
    char given[40], text[64];
    if (fabs(sum - 1.0) <= WHOLE_TO)
        return;
    hb_number_print(sum, 9, given, sizeof given);
    snprintf(text, sizeof text, "together %s", given);
    hb_fleet_complain(r, HOBBLE_E_CONFLICT, s, key, text, "shares that add up to 1");
}

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
        else if (!repeated(s))
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
