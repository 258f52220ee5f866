/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "input/setting.h"

#include "input/fault.h"
#include "input/profile.h"
#include "input/quantity.h"
#include "input/retired.h"

#include <stdio.h>
#include <string.h>

enum { ORIGIN_MAX = 96 }; /* what a case keeps of an origin */

void hb_faults_move(struct hobble_faults *sink, const struct hobble_faults *from,
                    const struct hb_place *place)
{
    for (size_t i = 0; i < from->count && i < HOBBLE_FAULTS_KEPT; i++) {
        struct hobble_fault f = from->item[i];
        hobble_fault_text(f.file, place->file);
        hobble_fault_text(f.key, place->key);
        f.line = place->line;
        hobble_faults_add(sink, &f);
    }
}

enum hobble_status hb_place_fault(const struct hb_place *place, enum hobble_status status,
                                  const char *given, const char *allowed,
                                  struct hobble_faults *sink)
{
    return hb_fault_at(sink, status, place->file, place->line, place->key, given, allowed);
}

void hb_fault_meant(struct hobble_faults *sink, const struct hb_near *near)
{
    if (sink && sink->count > 0 && sink->count <= HOBBLE_FAULTS_KEPT)
        hobble_fault_text(sink->item[sink->count - 1].meant, near->best);
}

static void origin_of(const struct hb_place *place, char origin[ORIGIN_MAX])
{
    if (place->line > 0)
        hb_origin(place->file, place->line, origin, ORIGIN_MAX);
    else
        snprintf(origin, ORIGIN_MAX, "%s", place->file);
}

enum hobble_status hb_provenance_read(const struct hb_place *place, const char *word,
                                      const char *source, enum hobble_provenance *provenance,
                                      struct hobble_faults *sink)
{
    struct hb_near near = hb_near_to(word);
    int at = 0;
    while (word && at < HOBBLE_PROVENANCE_COUNT &&
           strcmp(word, hobble_provenance_word((enum hobble_provenance)at)) != 0)
        hb_near_try(&near, hobble_provenance_word((enum hobble_provenance)at++));
    if (!word || at == HOBBLE_PROVENANCE_COUNT) {
        hb_place_fault(place, word ? HOBBLE_E_SYNTAX : HOBBLE_E_TYPE, word,
                       "published, measured, practice, memory, fitted or assumed", sink);
        hb_fault_meant(sink, &near);
        return word ? HOBBLE_E_SYNTAX : HOBBLE_E_TYPE;
    }
    if (!*source && (at == HOBBLE_PUBLISHED || at == HOBBLE_MEASURED))
        return hb_place_fault(place, HOBBLE_E_MISSING, word,
                              at == HOBBLE_MEASURED
                                  ? "a source with it: how and when it was measured"
                                  : "a source with it",
                              sink);
    *provenance = (enum hobble_provenance)at;
    return HOBBLE_OK;
}

void hb_row_allowed(int row, bool spread, char *buf, size_t size)
{
    const struct hobble_param *p = &hobble_param_table(NULL)[row];
    const bool log = p->shape == HOBBLE_LOGNORMAL;
    const char *unit = spread && log ? "" : hobble_unit_symbol(p->unit);
    char min[40], max[40];
    if (p->kind != HOBBLE_NUMBER) {
        snprintf(buf, size, "%s", p->words ? p->words : "a text in quotes");
        return;
    }
    hb_number_print(spread ? 0.0 : p->min, 9, min, sizeof min);
    hb_number_print(!spread ? p->max : log ? 2.0 : p->max - p->min, 9, max, sizeof max);
    snprintf(buf, size, "%s to %s%s%s", min, max, *unit ? " " : "", unit);
}

enum hobble_status hb_put_number(hobble_case *c, int row, bool spread, double value,
                                 const struct hb_place *place, struct hobble_faults *sink)
{
    struct hobble_faults own;
    char origin[ORIGIN_MAX], source[HOBBLE_FAULT_TEXT];
    own.count = 0;
    origin_of(place, origin);
    /* a new spread leaves what is known of the value as it is */
    const enum hobble_provenance known = spread ? hobble_case_provenance(c, row) : HOBBLE_ASSUMED;
    hobble_fault_text(source, spread ? hobble_case_source(c, row) : "");
    const enum hobble_status status = spread ? hobble_case_set_spread(c, row, value, origin, &own)
                                             : hobble_case_set_number(c, row, value, origin, &own);
    if (status == HOBBLE_OK)
        hobble_case_set_provenance(c, row, known, source);
    hb_faults_move(sink, &own, place);
    return status;
}

static enum hobble_status put_quantity(hobble_case *c, int row, bool spread, const char *text,
                                       const struct hb_place *place, struct hobble_faults *sink)
{
    const struct hobble_param *p = &hobble_param_table(NULL)[row];
    const bool pure = spread && p->shape == HOBBLE_LOGNORMAL;
    struct hobble_fault why;
    double value;
    const enum hobble_status status =
        hb_quantity_parse(text, pure ? HOBBLE_UNIT_NONE : p->unit,
                          spread ? HB_DIFFERENCE : HB_QUANTITY, &value, &why);
    if (status == HOBBLE_OK)
        return hb_put_number(c, row, spread, value, place, sink);
    char range[HOBBLE_FAULT_TEXT], allowed[2 * HOBBLE_FAULT_TEXT + 2];
    hb_row_allowed(row, spread, range, sizeof range);
    snprintf(allowed, sizeof allowed, "%s; %s", range, why.allowed);
    hobble_fault_text(why.allowed, allowed);
    hobble_fault_text(why.file, place->file);
    hobble_fault_text(why.key, place->key);
    why.line = place->line;
    return hobble_faults_add(sink, &why);
}

enum hobble_status hb_put_text(hobble_case *c, int row, bool spread, const char *text,
                               const struct hb_place *place, struct hobble_faults *sink)
{
    const struct hobble_param *p = &hobble_param_table(NULL)[row];
    struct hobble_faults own;
    char origin[ORIGIN_MAX];
    if (spread || p->kind == HOBBLE_NUMBER)
        return put_quantity(c, row, spread, text, place, sink);
    own.count = 0;
    origin_of(place, origin);
    const enum hobble_status status = p->kind == HOBBLE_WORD
                                          ? hobble_case_set_word(c, row, text, origin, &own)
                                          : hobble_case_set_text(c, row, text, origin, &own);
    if (status == HOBBLE_OK)
        hobble_case_set_provenance(c, row, HOBBLE_ASSUMED, "");
    hb_faults_move(sink, &own, place);
    if (status != HOBBLE_OK && p->kind == HOBBLE_WORD) {
        struct hb_near near = hb_near_to(text);
        hb_near_try_words(&near, p->words);
        hb_fault_meant(sink, &near);
    }
    return status;
}

/* A key that is none: with the nearest that is one. */
static enum hobble_status unknown_key(const struct hb_place *place, const char *bare,
                                      const char *value, struct hobble_faults *sink)
{
    struct hb_near near = hb_near_to(bare);
    size_t rows;
    const struct hobble_param *p = hobble_param_table(&rows);
    hb_place_fault(place, HOBBLE_E_UNKNOWN, value, "a key that hobble profile keys lists", sink);
    for (size_t i = 0; i < rows; i++)
        hb_near_try(&near, p[i].key);
    hb_fault_meant(sink, &near);
    return HOBBLE_E_UNKNOWN;
}

/* Text up to length as a key: blanks around it cut, and whether ".spread" ended it. */
static bool split_key(const char *text, size_t length, char key[HOBBLE_FAULT_TEXT], bool *spread)
{
    static const char tail[] = ".spread";
    const size_t tail_length = sizeof tail - 1;
    while (length > 0 && text[0] == ' ') {
        text++;
        length--;
    }
    while (length > 0 && text[length - 1] == ' ')
        length--;
    *spread = length > tail_length && memcmp(text + length - tail_length, tail, tail_length) == 0;
    if (length >= HOBBLE_FAULT_TEXT)
        return false;
    snprintf(key, HOBBLE_FAULT_TEXT, "%.*s", (int)length, text);
    return true;
}

static enum hobble_status set_pair(hobble_case *c, const char *key, size_t key_length,
                                   const char *value, const char *origin,
                                   struct hobble_faults *sink)
{
    char name[HOBBLE_FAULT_TEXT] = "", bare[HOBBLE_FAULT_TEXT];
    struct hb_place place = {origin, 0, name};
    bool spread;
    if (!split_key(key, key_length, name, &spread))
        return hb_place_fault(&place, HOBBLE_E_UNKNOWN, key, "a key that hobble profile keys lists",
                              sink);
    snprintf(bare, sizeof bare, "%.*s", (int)(strlen(name) - (spread ? strlen(".spread") : 0)),
             name);
    const int row = hobble_param_find(bare);
    const struct hb_retired *old = row < 0 ? hb_retired_find(bare) : NULL;
    if (old)
        return hb_place_fault(&place, HOBBLE_E_UNKNOWN, value, old->how, sink);
    if (row < 0)
        return unknown_key(&place, bare, value, sink);
    if (spread && hobble_param_table(NULL)[row].stage == HOBBLE_NOT_DRAWN)
        return hb_place_fault(&place, HOBBLE_E_CONFLICT, value,
                              "no spread: this value is not drawn", sink);
    return hb_put_text(c, row, spread, value, &place, sink);
}

enum hobble_status hb_set_option(hobble_case *c, const char *key_equals_value,
                                 struct hobble_faults *sink)
{
    static const struct hb_place nowhere = {"--set", 0, ""};
    const char *text = key_equals_value ? key_equals_value : "";
    const char *equals = strchr(text, '=');
    if (!equals)
        return hb_place_fault(&nowhere, HOBBLE_E_SYNTAX, text, "key=value", sink);
    return set_pair(c, text, (size_t)(equals - text), equals + 1, "--set", sink);
}

enum hobble_status hb_set_text(hobble_case *c, const char *key, const char *value,
                               const char *origin, struct hobble_faults *sink)
{
    return set_pair(c, key, strlen(key), value ? value : "", origin, sink);
}
