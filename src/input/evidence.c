/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "input/evidence.h"

#include "input/config_text.h"
#include "input/quantity.h"
#include "input/runs.h"
#include "input/setting.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { PATH_MOST = 4096, KEY_MOST = HOBBLE_FAULT_TEXT };

typedef const struct hobble_evidence_row *row_p;

/* An item on its way in. */
struct draft {
    const char *file;
    const config_setting_t *group;
    char key[32]; /* "evidence[2]" */
    struct hobble_evidence item;
    struct hobble_readings begun; /* a channel of which nothing was said */
    struct hobble_faults *sink;
    enum hobble_status first;
};

/* A place in the file below the item's key: "evidence[2].temperatures[1].at[3]". */
struct spot {
    struct draft *d;
    const config_setting_t *s;
    char key[KEY_MOST];
};

static struct spot spot_at(struct draft *d, const config_setting_t *s, const char *above,
                           const char *name)
{
    struct spot spot = {.d = d, .s = s};
    snprintf(spot.key, sizeof spot.key, "%.60s.%.50s", above, name);
    return spot;
}

static void complain(const struct spot *at, enum hobble_status status, const char *given,
                     const char *allowed)
{
    const enum hobble_status why =
        hb_config_fault(at->d->sink, status, at->d->file, at->s, at->key, given, allowed);
    if (at->d->first == HOBBLE_OK)
        at->d->first = why;
}

void hb_evidence_allowed(row_p row, char *buf, size_t size)
{
    const struct hobble_param *p = &row->param;
    const char *unit = hobble_unit_symbol(p->unit);
    char least[40], most[40];
    hb_number_print(p->min, 9, least, sizeof least);
    hb_number_print(p->max, 9, most, sizeof most);
    if (p->kind == HOBBLE_NUMBER)
        snprintf(buf, size, "%s to %s%s%s", least, most, *unit ? " " : "", unit);
    else
        snprintf(buf, size, "%s", p->words ? p->words : "a text in quotes");
}

/* ---- keys ------------------------------------------------------------------------------------ */

static bool in_item(row_p row)
{
    return row->place == HOBBLE_IN_ITEM || row->place == HOBBLE_IN_FILE ||
           row->place == HOBBLE_AS_GROUPS;
}

static bool belongs(row_p row, const struct draft *d, bool item)
{
    return in_item(row) == item && (row->kinds >> d->item.kind & 1u);
}

static row_p row_called(const char *name, const struct draft *d, bool item)
{
    size_t count;
    row_p row = hobble_evidence_table(&count);
    for (size_t i = 0; i < count; i++)
        if (belongs(&row[i], d, item) && strcmp(row[i].param.key, name) == 0)
            return &row[i];
    return NULL;
}

static row_p kind_row(void)
{
    return hobble_evidence_table(NULL);
}

static void unknown(const struct spot *at, const char *name, bool item)
{
    char allowed[KEY_MOST], word[32];
    struct hb_near near = hb_near_to(name);
    size_t count;
    row_p row = hobble_evidence_table(&count);
    hobble_param_word_at(&kind_row()->param, (int)at->d->item.kind, word, sizeof word);
    snprintf(allowed, sizeof allowed, "a key of the kind %s that docs/evidence.md lists", word);
    complain(at, HOBBLE_E_UNKNOWN, NULL, allowed);
    for (size_t i = 0; i < count; i++)
        if (belongs(&row[i], at->d, item))
            hb_near_try(&near, row[i].param.key);
    hb_fault_meant(at->d->sink, &near);
}

/* ---- values ---------------------------------------------------------------------------------- */

/* A number in the row's unit, within its limits; false after a fault. */
static bool read_number(const struct spot *at, row_p row, double *shown)
{
    const struct hobble_param *p = &row->param;
    struct hobble_fault why = {.status = HOBBLE_OK};
    char range[KEY_MOST], allowed[2 * KEY_MOST + 2], given[40];
    const char *text = config_setting_get_string(at->s);
    enum hobble_status status = HOBBLE_OK;
    double value = 0.0;
    if (text)
        status = hb_quantity_parse(text, p->unit, HB_QUANTITY, &value, &why);
    else if (!hb_config_number(at->s, &value))
        status = HOBBLE_E_TYPE;
    if (status == HOBBLE_OK && !(value >= p->min && value <= p->max))
        status = HOBBLE_E_RANGE;
    if (status == HOBBLE_OK && p->unit == HOBBLE_UNIT_WHOLE && value != floor(value))
        status = HOBBLE_E_TYPE;
    if (status == HOBBLE_OK) {
        *shown = value;
        return true;
    }
    hb_evidence_allowed(row, range, sizeof range);
    snprintf(allowed, sizeof allowed, "%s%s%s", range, *why.allowed ? "; " : "", why.allowed);
    hb_number_print(value, 9, given, sizeof given);
    complain(at, status, text ? text : status == HOBBLE_E_RANGE ? given : NULL, allowed);
    return false;
}

/* Place of a word; -1 after a fault. */
static int read_word(const struct spot *at, row_p row)
{
    const char *text = config_setting_get_string(at->s);
    const int place = hobble_param_word(&row->param, text);
    struct hb_near near = hb_near_to(text);
    if (place >= 0)
        return place;
    complain(at, text ? HOBBLE_E_SYNTAX : HOBBLE_E_TYPE, text, row->param.words);
    hb_near_try_words(&near, row->param.words);
    hb_fault_meant(at->d->sink, &near);
    return -1;
}

/* A text that can be shown as it is; NULL after a fault. */
static const char *read_text(const struct spot *at)
{
    char copy[HOBBLE_FAULT_TEXT];
    const char *text = config_setting_get_string(at->s);
    hobble_fault_text(copy, text);
    if (text && strcmp(copy, text) == 0)
        return text;
    complain(at,
             !text                               ? HOBBLE_E_TYPE
             : strlen(text) >= HOBBLE_FAULT_TEXT ? HOBBLE_E_TOO_LARGE
                                                 : HOBBLE_E_SYNTAX,
             text, "up to 119 bytes of UTF-8 without control characters");
    return NULL;
}

/* Reads a value into the struct that the row is of. */
static void read_value(const struct spot *at, row_p row, void *into)
{
    char *to = (char *)into + row->at;
    double shown;
    if (row->param.kind == HOBBLE_TEXT) {
        const char *text = read_text(at);
        if (text)
            hobble_fault_text(to, text);
    } else if (row->param.kind == HOBBLE_WORD) {
        const int place = read_word(at, row);
        if (place >= 0)
            memcpy(to, &place, sizeof place);
    } else if (read_number(at, row, &shown)) {
        const double si = hobble_unit_to_si(row->param.unit, shown);
        const int whole = (int)shown;
        if (row->param.unit == HOBBLE_UNIT_WHOLE)
            memcpy(to, &whole, sizeof whole);
        else
            memcpy(to, &si, sizeof si);
    }
}

/* ---- temperatures in the list ---------------------------------------------------------------- */

/* One channel's group. */
struct table {
    int channel; /* -1: none that is known */
    struct hobble_readings readings;
    const config_setting_t *at, *read;
};

/* A list of numbers, in the row's unit; -1 after a fault. */
static int read_list(const struct spot *list, row_p row, double into[HOBBLE_READINGS_MAX])
{
    const int count = config_setting_is_aggregate(list->s) && !config_setting_is_group(list->s)
                          ? config_setting_length(list->s)
                          : 0;
    bool good = true;
    if (count < 1 || count > HOBBLE_READINGS_MAX) {
        complain(list, count < 1 ? HOBBLE_E_TYPE : HOBBLE_E_TOO_LARGE, NULL,
                 "1 to 64 of them: ( 5, 10, 15 ); more stand in a file");
        return -1;
    }
    for (int i = 0; i < count; i++) {
        struct spot one = *list;
        one.s = config_setting_get_elem(list->s, (unsigned)i);
        snprintf(one.key, sizeof one.key, "%.100s[%d]", list->key, i + 1);
        good = read_number(&one, row, &into[i]) && good;
    }
    return good ? count : -1;
}

static void read_readings(const struct spot *group, const struct table *t)
{
    double time[HOBBLE_READINGS_MAX], celsius[HOBBLE_READINGS_MAX];
    struct draft *d = group->d;
    struct hobble_faults own = {0};
    if (!t->at != !t->read) {
        complain(group, HOBBLE_E_MISSING, "", "at and read together, or neither, with a file");
        return;
    }
    if (!t->at && !config_setting_get_member(d->group, "file"))
        complain(group, HOBBLE_E_MISSING, "", "at and read, or a file beside temperatures");
    if (!t->at)
        return;
    const struct spot at = spot_at(d, t->at, group->key, "at");
    const struct spot read = spot_at(d, t->read, group->key, "read");
    const int times = read_list(&at, row_called("at", d, false), time);
    const int values = read_list(&read, row_called("read", d, false), celsius);
    if (times < 0 || values < 0)
        return;
    if (times != values) {
        complain(&read, HOBBLE_E_CONFLICT, "", "as many as there are times");
        return;
    }
    for (int i = 0; i < times; i++)
        time[i] = hobble_unit_to_si(HOBBLE_UNIT_MINUTE, time[i]);
    const enum hobble_status status = hobble_evidence_readings(
        &d->item, (enum hobble_channel)t->channel, time, celsius, (size_t)times, &own);
    if (status != HOBBLE_OK)
        complain(&at, status, own.item[0].given, own.item[0].allowed);
}

static void read_member(struct table *t, const struct spot *at, row_p row)
{
    const char *name = row->param.key;
    if (row->place == HOBBLE_IN_CHANNEL)
        read_value(at, row, &t->readings);
    else if (row->place == HOBBLE_IN_GROUP)
        t->channel = read_word(at, row);
    else if (strcmp(name, "at") == 0)
        t->at = at->s;
    else
        t->read = at->s;
}

static void read_channel(const struct spot *group, bool seen[HOBBLE_CHANNELS])
{
    struct draft *d = group->d;
    struct table t = {.channel = -2, .readings = d->begun};
    if (!config_setting_is_group(group->s)) {
        complain(group, HOBBLE_E_TYPE, NULL, "a group: { channel = ...; at = ...; read = ...; }");
        return;
    }
    for (unsigned i = 0; i < (unsigned)config_setting_length(group->s); i++) {
        const config_setting_t *s = config_setting_get_elem(group->s, i);
        const struct spot at = spot_at(d, s, group->key, config_setting_name(s));
        const row_p row = row_called(config_setting_name(s), d, false);
        if (row)
            read_member(&t, &at, row);
        else if (!hb_config_repeated(s))
            unknown(&at, config_setting_name(s), false);
    }
    if (t.channel == -2)
        complain(group, HOBBLE_E_MISSING, "", "channel = \"inner\", \"outer\", ... in the group");
    else if (t.channel >= 0 && seen[t.channel])
        complain(group, HOBBLE_E_DUPLICATE, "again", "each channel once");
    if (t.channel < 0 || seen[t.channel])
        return;
    seen[t.channel] = true;
    d->item.channel[t.channel].offset = t.readings.offset;
    d->item.channel[t.channel].scatter = t.readings.scatter;
    read_readings(group, &t);
}

static void read_channels(struct draft *d, const config_setting_t *list)
{
    bool seen[HOBBLE_CHANNELS] = {false};
    struct spot at = spot_at(d, list, d->key, "temperatures");
    const int count = config_setting_is_list(list) ? config_setting_length(list) : 0;
    if (count < 1 || count > HOBBLE_CHANNELS) {
        complain(&at, HOBBLE_E_TYPE, NULL, "a list of 1 to 4 groups: ( {...}, {...} )");
        return;
    }
    for (int i = 0; i < count; i++) {
        char name[32];
        snprintf(name, sizeof name, "temperatures[%d]", i + 1);
        const struct spot group =
            spot_at(d, config_setting_get_elem(list, (unsigned)i), d->key, name);
        read_channel(&group, seen);
    }
}

/* ---- temperatures in a file ------------------------------------------------------------------ */

/* Beside the profile or below: a profile of somebody else's opens nothing of ours. */
static bool stays_below(const char *name)
{
    const char *part = name;
    if (!*name || *name == '/')
        return false;
    while (part) {
        const size_t length = strcspn(part, "/");
        if (length == 2 && part[0] == '.' && part[1] == '.')
            return false;
        part = strchr(part, '/');
        part = part ? part + 1 : NULL;
    }
    return true;
}

static void read_table(struct draft *d, const config_setting_t *s)
{
    const struct spot at = spot_at(d, s, d->key, "file");
    const char *name = read_text(&at), *slash = strrchr(d->file, '/');
    const int folder = slash ? (int)(slash - d->file) + 1 : 0;
    char path[PATH_MOST];
    if (!name)
        return;
    for (int i = 0; i < HOBBLE_CHANNELS; i++)
        if (d->item.channel[i].count > 0) {
            complain(&at, HOBBLE_E_CONFLICT, name, "readings in a file or in the list, not both");
            return;
        }
    const int n = snprintf(path, sizeof path, "%.*s%s", folder, d->file, name);
    if (!stays_below(name) || n < 0 || (size_t)n >= sizeof path) {
        complain(&at, HOBBLE_E_SYNTAX, name,
                 "a file beside the profile or in a folder below: \"runs/a.csv\"");
        return;
    }
    const enum hobble_status status = hb_run_read(path, &d->item, d->sink);
    if (d->first == HOBBLE_OK)
        d->first = status;
}

/* ---- an item --------------------------------------------------------------------------------- */

static const config_setting_t *member(const struct draft *d, const char *name)
{
    return config_setting_get_member(d->group, name);
}

static bool read_kind(struct draft *d)
{
    const config_setting_t *s = member(d, kind_row()->param.key);
    const struct spot at = spot_at(d, s ? s : d->group, d->key, kind_row()->param.key);
    int kind = -1;
    if (s)
        kind = read_word(&at, kind_row());
    else
        complain(&at, HOBBLE_E_MISSING, "", kind_row()->param.words);
    if (kind >= 0) {
        hobble_evidence_begin((enum hobble_evidence_kind)kind, &d->item);
        d->begun = d->item.channel[0];
    }
    return kind >= 0;
}

static void read_members(struct draft *d)
{
    const config_setting_t *channels = NULL, *table = NULL;
    for (unsigned i = 0; i < (unsigned)config_setting_length(d->group); i++) {
        const config_setting_t *s = config_setting_get_elem(d->group, i);
        const char *name = config_setting_name(s);
        const struct spot at = spot_at(d, s, d->key, name);
        const row_p row = row_called(name, d, true);
        if (!row && !hb_config_repeated(s))
            unknown(&at, name, true);
        else if (row && row->place == HOBBLE_AS_GROUPS)
            channels = s;
        else if (row && row->place == HOBBLE_IN_FILE)
            table = s;
        else if (row && row != kind_row())
            read_value(&at, row, &d->item);
    }
    if (channels)
        read_channels(d, channels);
    if (table)
        read_table(d, table);
}

/* Adds the item; what is missing of it or contradicts itself gets its place in the file. A value
 * that had a fault of its own is not missing. */
static void add(struct draft *d, hobble_case *c)
{
    struct hobble_faults own = {0};
    const enum hobble_status status = hobble_case_evidence_add(c, &d->item, &own);
    for (size_t i = 0; status != HOBBLE_OK && i < own.count && i < HOBBLE_FAULTS_KEPT; i++) {
        const struct hobble_fault *f = &own.item[i];
        const bool channel = strchr(f->key, '.') != NULL;
        const config_setting_t *s = channel ? member(d, "temperatures") : member(d, f->key);
        if (channel && !s)
            s = member(d, "file");
        const struct spot at = spot_at(d, s ? s : d->group, d->key, f->key);
        if (!s || channel || f->status != HOBBLE_E_MISSING)
            complain(&at, f->status, f->given, f->allowed);
    }
}

enum hobble_status hb_evidence_read(const config_setting_t *list, const char *file, hobble_case *c,
                                    struct hobble_faults *sink)
{
    struct draft *d = malloc(sizeof *d);
    enum hobble_status first = HOBBLE_OK;
    const int count = config_setting_is_list(list) ? config_setting_length(list) : -1;
    if (count < 0 || count > HOBBLE_EVIDENCE_MAX) {
        free(d);
        return hb_config_fault(sink, count < 0 ? HOBBLE_E_TYPE : HOBBLE_E_TOO_LARGE, file, list,
                               "evidence", NULL, "a list of up to 32 groups: ( {...}, {...} )");
    }
    for (int i = 0; d && i < count; i++) {
        *d = (struct draft){.file = file, .sink = sink, .first = HOBBLE_OK};
        d->group = config_setting_get_elem(list, (unsigned)i);
        snprintf(d->key, sizeof d->key, "evidence[%d]", i + 1);
        const struct spot at = {.d = d, .s = d->group, .key = "evidence"};
        if (!config_setting_is_group(d->group)) {
            complain(&at, HOBBLE_E_TYPE, NULL, "a group: { kind = ...; ... }");
        } else if (read_kind(d)) {
            read_members(d);
            hb_origin(file, (int)config_setting_source_line(d->group), d->item.origin,
                      sizeof d->item.origin);
            add(d, c);
        }
        first = first == HOBBLE_OK ? d->first : first;
    }
    first = d ? first : HOBBLE_E_MEMORY;
    free(d);
    return first;
}
