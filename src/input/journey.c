/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "input/journey.h"

#include "input/config_text.h"
#include "input/quantity.h"
#include "input/setting.h"

#include <math.h>
#include <stddef.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { FIELD_STOP = 7, FIELDS, LEG_TEXT_MAX = 400 };

/* A stop is a leg of speed 0, its length the leg's time. */
static const struct {
    const char *key;
    enum hobble_unit unit;
    size_t offset;
} FIELD[FIELDS] = {
    {"speed", HOBBLE_UNIT_KM_PER_HOUR, offsetof(struct hobble_leg, speed)},
    {"distance", HOBBLE_UNIT_KILOMETRE, offsetof(struct hobble_leg, distance)},
    {"time", HOBBLE_UNIT_MINUTE, offsetof(struct hobble_leg, time)},
    {"load", HOBBLE_UNIT_NEWTON, offsetof(struct hobble_leg, load)},
    {"ambient", HOBBLE_UNIT_CELSIUS, offsetof(struct hobble_leg, ambient)},
    {"pressure", HOBBLE_UNIT_KILOPASCAL, offsetof(struct hobble_leg, pressure)},
    {"leak", HOBBLE_UNIT_MINUTE, offsetof(struct hobble_leg, leak)},
    [FIELD_STOP] = {"stop", HOBBLE_UNIT_MINUTE, offsetof(struct hobble_leg, time)},
};
static const char KEYS[] = "speed, distance, time, load, ambient, pressure, leak or stop";

/* A leg on its way in: what it holds so far, and in which lines. */
struct draft {
    struct hobble_leg leg;
    bool seen[FIELDS];
    int line[FIELDS];
    struct hb_place place; /* of the leg */
};

static struct draft new_draft(const struct hb_place *place)
{
    const double none = (double)NAN;
    struct draft d = {.leg = {none, none, none, none, none, none, none}, .place = *place};
    return d;
}

static int field_of(const char *key)
{
    for (int i = 0; i < FIELDS; i++)
        if (strcmp(key, FIELD[i].key) == 0)
            return i;
    return -1;
}

static enum hobble_status unknown_field(const struct hb_place *place, const char *key,
                                        const char *given, struct hobble_faults *sink)
{
    struct hb_near near = hb_near_to(key);
    hb_place_fault(place, HOBBLE_E_UNKNOWN, given, KEYS, sink);
    for (int i = 0; i < FIELDS; i++)
        hb_near_try(&near, FIELD[i].key);
    hb_fault_meant(sink, &near);
    return HOBBLE_E_UNKNOWN;
}

static void place_field(const struct draft *d, const char *key, int line,
                        char where[HOBBLE_FAULT_TEXT], struct hb_place *place)
{
    snprintf(where, HOBBLE_FAULT_TEXT, "%.40s.%.60s", d->place.key, key);
    *place = (struct hb_place){d->place.file, line, where};
}

/* Puts a value, in the field's unit, into the draft. Not-a-number would mean "not given". */
static enum hobble_status put_field(struct draft *d, int field, double shown, int line,
                                    struct hobble_faults *sink)
{
    char where[HOBBLE_FAULT_TEXT];
    struct hb_place place;
    place_field(d, FIELD[field].key, line, where, &place);
    if (!isfinite(shown))
        return hb_place_fault(&place, HOBBLE_E_RANGE, "not finite", "a finite number", sink);
    if (d->seen[field])
        return hb_place_fault(&place, HOBBLE_E_DUPLICATE, "again", "once", sink);
    const double si = hobble_unit_to_si(FIELD[field].unit, shown);
    d->seen[field] = true;
    d->line[field] = line;
    memcpy((char *)&d->leg + FIELD[field].offset, &si, sizeof si);
    return HOBBLE_OK;
}

static enum hobble_status put_field_text(struct draft *d, int field, const char *text, int line,
                                         struct hobble_faults *sink)
{
    struct hobble_fault why;
    char where[HOBBLE_FAULT_TEXT];
    struct hb_place place;
    double shown;
    if (hb_quantity_parse(text, FIELD[field].unit, HB_QUANTITY, &shown, &why) == HOBBLE_OK)
        return put_field(d, field, shown, line, sink);
    place_field(d, FIELD[field].key, line, where, &place);
    hobble_fault_text(why.key, where);
    hobble_fault_text(why.file, place.file);
    why.line = line;
    return hobble_faults_add(sink, &why);
}

/* Faults of the whole leg carry "leg" or "leg FIELD" as key: they get their place here. */
static void move_leg_faults(const struct draft *d, const struct hobble_faults *own,
                            struct hobble_faults *sink)
{
    for (size_t i = 0; i < own->count && i < HOBBLE_FAULTS_KEPT; i++) {
        const struct hobble_faults one = {.count = 1, .item = {own->item[i]}};
        const char *blank = strchr(own->item[i].key, ' ');
        int field = blank ? field_of(blank + 1) : -1;
        char where[HOBBLE_FAULT_TEXT];
        struct hb_place place = d->place;
        if (field == field_of("time") && d->seen[FIELD_STOP])
            field = FIELD_STOP;
        if (field >= 0)
            place_field(d, FIELD[field].key, d->line[field], where, &place);
        hb_faults_move(sink, &one, &place);
    }
}

static enum hobble_status add_draft(struct draft *d, hobble_case *c, struct hobble_faults *sink)
{
    struct hobble_faults own;
    own.count = 0;
    if (d->seen[FIELD_STOP]) {
        if (d->seen[field_of("speed")] || d->seen[field_of("distance")] ||
            d->seen[field_of("time")])
            return hb_place_fault(&d->place, HOBBLE_E_CONFLICT, "stop with a drive",
                                  "a stop, or a speed with a distance or a time", sink);
        d->leg.speed = 0.0;
    } else if (d->seen[field_of("distance")] && d->seen[field_of("time")]) {
        return hb_place_fault(&d->place, HOBBLE_E_CONFLICT, "distance and time",
                              "one of them, and the speed", sink);
    }
    const enum hobble_status status = hobble_case_add_leg(c, &d->leg, &own);
    move_leg_faults(d, &own, sink);
    return status;
}

/* ---- files --------------------------------------------------------------------------------- */

static enum hobble_status read_field(struct draft *d, const config_setting_t *s,
                                     struct hobble_faults *sink)
{
    const char *key = config_setting_name(s);
    const int field = field_of(key), line = (int)config_setting_source_line(s);
    char where[HOBBLE_FAULT_TEXT], units[HOBBLE_FAULT_TEXT];
    struct hb_place place;
    place_field(d, key, line, where, &place);
    if (hb_config_repeated(s))
        return HOBBLE_OK; /* reported by the scan */
    if (field < 0)
        return unknown_field(&place, key, "", sink);
    double value;
    if (config_setting_type(s) == CONFIG_TYPE_STRING)
        return put_field_text(d, field, config_setting_get_string(s), line, sink);
    if (hb_config_number(s, &value))
        return put_field(d, field, value, line, sink);
    hb_quantity_units(FIELD[field].unit, units, sizeof units);
    return hb_place_fault(&place, HOBBLE_E_TYPE, "", units, sink);
}

static enum hobble_status read_leg(const config_setting_t *s, const char *file, int number,
                                   hobble_case *c, struct hobble_faults *sink)
{
    char key[32];
    snprintf(key, sizeof key, "legs[%d]", number);
    const struct hb_place place = {file, (int)config_setting_source_line(s), key};
    enum hobble_status status = HOBBLE_OK;
    if (!config_setting_is_group(s))
        return hb_place_fault(&place, HOBBLE_E_TYPE, "no group", "{ distance = ...; speed = ...; }",
                              sink);
    struct draft d = new_draft(&place);
    for (unsigned i = 0; i < (unsigned)config_setting_length(s); i++) {
        const enum hobble_status one = read_field(&d, config_setting_get_elem(s, i), sink);
        status = status == HOBBLE_OK ? one : status;
    }
    return status == HOBBLE_OK ? add_draft(&d, c, sink) : status;
}

/* Keys at the top of the file: legs, and kind when it says journey. */
static enum hobble_status check_top(const config_setting_t *root, const char *file,
                                    struct hobble_faults *sink)
{
    const config_setting_t *legs = config_setting_get_member(root, "legs");
    const struct hb_place top = {file, legs ? (int)config_setting_source_line(legs) : 0, "legs"};
    enum hobble_status status = HOBBLE_OK, one = HOBBLE_OK;
    for (unsigned i = 0; i < (unsigned)config_setting_length(root); i++) {
        const config_setting_t *s = config_setting_get_elem(root, i);
        const char *key = config_setting_name(s), *word = config_setting_get_string(s);
        const struct hb_place place = {file, (int)config_setting_source_line(s), key};
        if (s == legs || hb_config_repeated(s) ||
            (strcmp(key, "kind") == 0 && word && strcmp(word, "journey") == 0))
            continue;
        one = hb_place_fault(&place, HOBBLE_E_UNKNOWN, word, "legs, kind = \"journey\"", sink);
        status = status == HOBBLE_OK ? one : status;
    }
    one = HOBBLE_OK;
    if (!legs || !config_setting_is_list(legs))
        one = hb_place_fault(&top, legs ? HOBBLE_E_TYPE : HOBBLE_E_MISSING, "",
                             "legs = ( { ... }, { ... } )", sink);
    else if (config_setting_length(legs) < 1 || config_setting_length(legs) > HOBBLE_LEGS_MAX)
        one = hb_place_fault(&top, HOBBLE_E_RANGE, "", "1 to 32 legs", sink);
    return status == HOBBLE_OK ? one : status;
}

enum hobble_status hb_journey_read_text(const char *bytes, size_t size, const char *name,
                                        hobble_case *c, struct hobble_faults *sink)
{
    config_t config;
    bool readable;
    enum hobble_status status = hb_config_parse(bytes, size, name, &config, &readable, sink);
    if (!readable)
        return status;
    const config_setting_t *root = config_root_setting(&config);
    const config_setting_t *legs = config_setting_get_member(root, "legs");
    hobble_case *copy = hobble_case_clone(c);
    enum hobble_status one = copy ? check_top(root, name, sink) : HOBBLE_E_MEMORY;
    status = status == HOBBLE_OK ? one : status;
    const int count =
        copy && legs && config_setting_is_list(legs) ? config_setting_length(legs) : 0;
    for (int i = 0; i < count && i < HOBBLE_LEGS_MAX; i++) {
        one = read_leg(config_setting_get_elem(legs, (unsigned)i), name, i + 1, copy, sink);
        status = status == HOBBLE_OK ? one : status;
    }
    if (status == HOBBLE_OK)
        hobble_case_assign(c, copy);
    hobble_case_free(copy);
    config_destroy(&config);
    return status;
}

enum hobble_status hb_journey_read(const char *path, hobble_case *c, struct hobble_faults *sink)
{
    char *bytes;
    size_t size;
    enum hobble_status status = hb_file_read(path, &bytes, &size, sink);
    if (status == HOBBLE_OK) {
        status = hb_journey_read_text(bytes, size, path, c, sink);
        free(bytes);
    }
    return status;
}

/* ---- the option ---------------------------------------------------------------------------- */

static enum hobble_status put_pair(struct draft *d, char *pair, struct hobble_faults *sink)
{
    char *equals = strchr(pair, '=');
    if (!equals)
        return hb_place_fault(&d->place, HOBBLE_E_SYNTAX, pair,
                              "key=value, with commas between and a decimal point", sink);
    *equals = '\0';
    pair += strspn(pair, " ");
    char *end = equals;
    while (end > pair && end[-1] == ' ')
        *--end = '\0';
    const int field = field_of(pair);
    if (field < 0)
        return unknown_field(&d->place, pair, pair, sink);
    return put_field_text(d, field, equals + 1, 0, sink);
}

enum hobble_status hb_leg_option(hobble_case *c, const char *text, struct hobble_faults *sink)
{
    static const struct hb_place place = {"--leg", 0, "leg"};
    char copy[LEG_TEXT_MAX];
    char *rest = copy, *pair;
    enum hobble_status status = HOBBLE_OK;
    struct draft d = new_draft(&place);
    const size_t length = text ? strlen(text) : 0;
    if (length == 0 || length >= sizeof copy)
        return hb_place_fault(&place, length ? HOBBLE_E_TOO_LARGE : HOBBLE_E_MISSING, text,
                              "distance=12km,speed=100km/h or stop=10min", sink);
    memcpy(copy, text, length + 1);
    while ((pair = rest) != NULL) {
        rest = strchr(pair, ',');
        if (rest)
            *rest++ = '\0';
        const enum hobble_status one = put_pair(&d, pair, sink);
        status = status == HOBBLE_OK ? one : status;
    }
    return status == HOBBLE_OK ? add_draft(&d, c, sink) : status;
}
