/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "input/fleet_reading.h"

#include "input/config_text.h"
#include "input/quantity.h"
#include "input/setting.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define WHOLE_TO 1e-6 /* shares are written with few digits */

void hb_fleet_count(struct hb_fleet_reading *r, enum hobble_status status)
{
    if (r->first == HOBBLE_OK)
        r->first = status;
}

void hb_fleet_complain(struct hb_fleet_reading *r, enum hobble_status status,
                       const config_setting_t *s, const char *key, const char *given,
                       const char *allowed)
{
    hb_fleet_count(r, hb_config_fault(r->sink, status, r->file, s, key, given, allowed));
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
        else if (!hb_config_repeated(e))
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
