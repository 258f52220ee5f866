/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "input/profile.h"

#include "input/config_text.h"
#include "input/evidence.h"
#include "input/quantity.h"
#include "input/retired.h"
#include "input/setting.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* What is being read: every function below reports its own faults and counts them by the status. */
struct reading {
    const char *file;
    hobble_case *c; /* a copy */
    enum hobble_status first;
    struct hobble_faults *sink;
};

static void count(struct reading *r, enum hobble_status status)
{
    if (r->first == HOBBLE_OK)
        r->first = status;
}

/* Reports a fault of a setting; given NULL: what it is by type. */
static void complain(struct reading *r, enum hobble_status status, const config_setting_t *s,
                     const char *key, const char *given, const char *allowed)
{
    count(r, hb_config_fault(r->sink, status, r->file, s, key, given, allowed));
}

static void read_value(struct reading *r, const config_setting_t *s, int row, bool spread,
                       const char *key)
{
    const struct hobble_param *p = &hobble_param_table(NULL)[row];
    const struct hb_place place = {r->file, (int)config_setting_source_line(s), key};
    char allowed[HOBBLE_FAULT_TEXT];
    double value;
    if (config_setting_type(s) == CONFIG_TYPE_STRING) {
        count(r, hb_put_text(r->c, row, spread, config_setting_get_string(s), &place, r->sink));
    } else if (p->kind == HOBBLE_NUMBER && hb_config_number(s, &value)) {
        count(r, hb_put_number(r->c, row, spread, value, &place, r->sink));
    } else {
        hb_row_allowed(row, spread, allowed, sizeof allowed);
        complain(r, HOBBLE_E_TYPE, s, key,
                 config_setting_get_format(s) != CONFIG_FORMAT_DEFAULT ? "a hexadecimal number"
                                                                       : NULL,
                 allowed);
    }
}

static void read_provenance(struct reading *r, const config_setting_t *known,
                            const config_setting_t *source, int row, const char *key)
{
    char copy[HOBBLE_FAULT_TEXT], where[HOBBLE_FAULT_TEXT];
    const char *word = known ? config_setting_get_string(known) : "assumed";
    const char *text = source ? config_setting_get_string(source) : "";
    const struct hb_place place = {r->file, known ? (int)config_setting_source_line(known) : 0,
                                   where};
    enum hobble_provenance provenance;
    snprintf(where, sizeof where, "%.60s.provenance", key);
    const enum hobble_status status =
        hb_provenance_read(&place, word, text ? text : "?", &provenance, r->sink);
    count(r, status);
    snprintf(where, sizeof where, "%.60s.source", key);
    hobble_fault_text(copy, text);
    if (!text)
        complain(r, HOBBLE_E_TYPE, source, where, NULL, "a text in quotes");
    else if (strcmp(text, copy) != 0)
        complain(r, strlen(text) >= HOBBLE_FAULT_TEXT ? HOBBLE_E_TOO_LARGE : HOBBLE_E_SYNTAX,
                 source, where, text, "up to 119 bytes of UTF-8 without control characters");
    else if (status == HOBBLE_OK)
        count(r, hobble_case_set_provenance(r->c, row, provenance, text));
}

/* { value, spread, provenance, source } */
static void read_group(struct reading *r, config_setting_t *group, int row, const char *key)
{
    enum { VALUE, SPREAD, PROVENANCE, SOURCE, MEMBERS };
    static const char *const names[MEMBERS] = {"value", "spread", "provenance", "source"};
    const struct hobble_param *p = &hobble_param_table(NULL)[row];
    config_setting_t *member[MEMBERS] = {NULL};
    char where[HOBBLE_FAULT_TEXT];
    for (unsigned i = 0; i < (unsigned)config_setting_length(group); i++) {
        config_setting_t *s = config_setting_get_elem(group, i);
        int at = 0;
        while (at < MEMBERS && strcmp(config_setting_name(s), names[at]) != 0)
            at++;
        snprintf(where, sizeof where, "%.60s.%.50s", key, config_setting_name(s));
        if (at < MEMBERS) {
            member[at] = s;
        } else if (!hb_config_repeated(s)) {
            complain(r, HOBBLE_E_UNKNOWN, s, where, NULL, "value, spread, provenance, source");
            struct hb_near near = hb_near_to(config_setting_name(s));
            hb_near_try_words(&near, "value|spread|provenance|source");
            hb_fault_meant(r->sink, &near);
        }
    }
    if (!member[VALUE] && !member[SPREAD])
        complain(r, HOBBLE_E_MISSING, group, key, NULL, "a value or a spread in the group");
    if (member[VALUE])
        read_value(r, member[VALUE], row, false, key);
    snprintf(where, sizeof where, "%.60s.spread", key);
    if (member[SPREAD] && p->stage == HOBBLE_NOT_DRAWN)
        complain(r, HOBBLE_E_CONFLICT, member[SPREAD], where, NULL,
                 "no spread: this value is not drawn");
    else if (member[SPREAD])
        read_value(r, member[SPREAD], row, true, where);
    if (member[VALUE] || member[PROVENANCE] || member[SOURCE])
        read_provenance(r, member[PROVENANCE], member[SOURCE], row, key);
}

/* A case from the bench also says which tyre it is, on what it ran and how: a file of its own. */
static bool belongs(enum hobble_group group, enum hobble_group kind)
{
    const bool of_case = group == HOBBLE_TYRE || group == HOBBLE_VEHICLE || group == HOBBLE_TRIP;
    return group == kind || (kind == HOBBLE_BENCH && of_case);
}

static const char EVIDENCE[] = "evidence";

/* The nearest key that a profile of this kind may have. */
static struct hb_near near_key(const char *key, enum hobble_group kind)
{
    struct hb_near near = hb_near_to(key);
    size_t rows;
    const struct hobble_param *p = hobble_param_table(&rows);
    for (size_t i = 0; i < rows; i++)
        if (belongs(p[i].group, kind))
            hb_near_try(&near, p[i].key);
    if (belongs(HOBBLE_TYRE, kind))
        hb_near_try(&near, EVIDENCE);
    return near;
}

/* A number of a unit, bare or in a text; false after a fault. */
static bool read_number(struct reading *r, const config_setting_t *s, const char *key,
                        enum hobble_unit unit, double *value)
{
    struct hobble_fault why = {.status = HOBBLE_OK};
    const char *text = config_setting_get_string(s);
    if (hb_config_number(s, value) ||
        (text && hb_quantity_parse(text, unit, HB_QUANTITY, value, &why) == HOBBLE_OK))
        return true;
    complain(r, HOBBLE_E_TYPE, s, key, text, "a number");
    return false;
}

/* A key of older profiles: what it said is said by another one now. */
static void read_retired(struct reading *r, config_setting_t *s, const struct hb_retired *old)
{
    const bool group = config_setting_is_group(s);
    config_setting_t *value = group ? config_setting_get_member(s, "value") : s;
    config_setting_t *spread = group ? config_setting_get_member(s, "spread") : NULL;
    const struct hb_place place = {r->file, (int)config_setting_source_line(s), old->key};
    const int row = hobble_param_find(old->by);
    const struct hobble_param *p = &hobble_param_table(NULL)[row];
    double x;
    if (value && read_number(r, value, old->key, old->unit, &x)) {
        if (x < old->least || x > old->most)
            complain(r, HOBBLE_E_RANGE, s, old->key, config_setting_get_string(value), old->how);
        else
            count(r, hb_put_number(r->c, row, false, fmin(fmax(x * old->factor, p->min), p->max),
                                   &place, r->sink));
    }
    if (spread && old->spread && read_number(r, spread, old->key, HOBBLE_UNIT_NONE, &x))
        count(r, hb_put_number(r->c, row, true, x, &place, r->sink));
}

static void read_setting(struct reading *r, config_setting_t *s, enum hobble_group kind)
{
    const char *key = config_setting_name(s);
    const int row = hobble_param_find(key);
    const struct hobble_param *p = row >= 0 ? &hobble_param_table(NULL)[row] : NULL;
    char allowed[HOBBLE_FAULT_TEXT];
    if (strcmp(key, "kind") == 0 || hb_config_repeated(s))
        return;
    if (strcmp(key, EVIDENCE) == 0 && belongs(HOBBLE_TYRE, kind)) {
        count(r, hb_evidence_read(s, r->file, r->c, r->sink));
        return;
    }
    const struct hb_retired *old = p ? NULL : hb_retired_find(key);
    if (old && belongs(HOBBLE_TYRE, kind)) {
        read_retired(r, s, old);
    } else if (!p || !belongs(p->group, kind)) {
        snprintf(allowed, sizeof allowed, "a key of %s profiles%s%s", hobble_group_word(kind),
                 p ? "; this one is of the group " : "", p ? hobble_group_word(p->group) : "");
        complain(r, HOBBLE_E_UNKNOWN, s, key, NULL, allowed);
        const struct hb_near near = near_key(key, kind);
        if (!p)
            hb_fault_meant(r->sink, &near);
    } else if (config_setting_is_group(s) && p->kind != HOBBLE_TEXT) {
        read_group(r, s, row, key);
    } else {
        read_value(r, s, row, false, key);
    }
}

/* The group that kind names; false after reporting that it names none, or not the one wanted. */
static bool read_kind(struct reading *r, const config_setting_t *root, int wanted,
                      enum hobble_group *kind)
{
    static const enum hobble_group kinds[] = {HOBBLE_TYRE, HOBBLE_VEHICLE, HOBBLE_BENCH,
                                              HOBBLE_RULES};
    const config_setting_t *s = config_setting_get_member(root, "kind");
    const char *word = s ? config_setting_get_string(s) : NULL;
    char allowed[HOBBLE_FAULT_TEXT];
    snprintf(allowed, sizeof allowed, "kind = \"%s\"",
             hobble_group_word((enum hobble_group)(wanted == HB_ANY_KIND ? 0 : wanted)));
    if (wanted == HB_ANY_KIND)
        hobble_fault_text(allowed,
                          "kind = \"tyre\" or kind = \"vehicle\", or \"bench\" or \"rules\"");
    for (size_t i = 0; word && i < sizeof kinds / sizeof *kinds; i++) {
        if (strcmp(word, hobble_group_word(kinds[i])) != 0)
            continue;
        *kind = kinds[i];
        if (wanted == HB_ANY_KIND || wanted == (int)kinds[i])
            return true;
        complain(r, HOBBLE_E_CONFLICT, s, "kind", word, allowed);
        return false;
    }
    complain(r,
             !s     ? HOBBLE_E_MISSING
             : word ? HOBBLE_E_SYNTAX
                    : HOBBLE_E_TYPE,
             s, "kind", word, allowed);
    struct hb_near near = hb_near_to(word);
    hb_near_try_words(&near, "tyre|vehicle|bench|rules");
    hb_fault_meant(r->sink, &near);
    return false;
}

enum hobble_status hb_profile_read_text(const char *bytes, size_t size, const char *name,
                                        int wanted, hobble_case *c, enum hobble_group *kind,
                                        struct hobble_faults *sink)
{
    struct reading r = {.file = name, .first = HOBBLE_OK, .sink = sink};
    config_t config;
    bool readable;
    enum hobble_group group = HOBBLE_TYRE;
    r.first = hb_config_parse(bytes, size, name, &config, &readable, sink);
    if (!readable)
        return r.first;
    r.c = hobble_case_clone(c);
    const config_setting_t *root = config_root_setting(&config);
    if (!r.c) {
        r.first = HOBBLE_E_MEMORY;
    } else if (read_kind(&r, root, wanted, &group)) {
        for (unsigned i = 0; i < (unsigned)config_setting_length(root); i++)
            read_setting(&r, config_setting_get_elem(root, i), group);
    }
    if (r.first == HOBBLE_OK) {
        hobble_case_assign(c, r.c);
        if (kind)
            *kind = group;
    }
    hobble_case_free(r.c);
    config_destroy(&config);
    return r.first;
}

enum hobble_status hb_profile_read_kind(const char *path, int wanted, hobble_case *c,
                                        enum hobble_group *kind, struct hobble_faults *sink)
{
    char *bytes;
    size_t size;
    enum hobble_status status = hb_file_read(path, &bytes, &size, sink);
    if (status == HOBBLE_OK) {
        status = hb_profile_read_text(bytes, size, path, wanted, c, kind, sink);
        free(bytes);
    }
    return status;
}

enum hobble_status hb_profile_read(const char *path, hobble_case *c, struct hobble_faults *sink)
{
    return hb_profile_read_kind(path, HB_ANY_KIND, c, NULL, sink);
}
