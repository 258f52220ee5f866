/* SPDX-License-Identifier: GPL-3.0-or-later */
/* fleet_climate.c - seasons of a fleet file: a table, or months and heat out of weather files. */
#include "input/climate.h"
#include "input/fleet_parts.h"
#include "input/profile_dir.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

enum { S_NAME, S_MONTHS, S_ABOVE, S_AMBIENT, S_SHARE, S_KEYS };
static const struct hb_fleet_key season_keys[S_KEYS] = {
    {"name", true}, {"months", false}, {"above", false}, {"ambient", false}, {"share", false}};
enum { W_NAME, W_WEATHER, W_SHARE, W_KEYS };
static const struct hb_fleet_key site_keys[W_KEYS] = {
    {"name", true}, {"weather", true}, {"share", true}};

/* Which hours a season takes: of these months, or above a temperature. */
struct taking {
    unsigned months; /* bit of each */
    int above;       /* tenths; more than can be: none */
};

struct climate {
    struct hb_fleet_reading *r;
    struct taking season[HOBBLE_FLEET_SEASONS];
    double tenth[HOBBLE_FLEET_SEASONS][HOBBLE_FLEET_TENTHS]; /* of one site */
    long untaken;
};

/* ---- a table --------------------------------------------------------------------------------- */

static void read_own(struct hb_fleet_reading *r, config_setting_t *m[S_KEYS], config_setting_t *s,
                     struct hobble_fleet_season *season)
{
    double celsius;
    if (m[S_MONTHS] || m[S_ABOVE] || !m[S_AMBIENT] || !m[S_SHARE]) {
        hb_fleet_complain(
            r, HOBBLE_E_CONFLICT, s, "seasons", "",
            "ambient and share where there are no sites; months or above where there are");
        return;
    }
    const bool warm =
        hb_fleet_number(r, m[S_AMBIENT], "seasons.ambient", HOBBLE_UNIT_CELSIUS, -40, 60, &celsius);
    if (hb_fleet_number(r, m[S_SHARE], "seasons.share", HOBBLE_UNIT_NONE, 1e-9, 1,
                        &season->share) &&
        warm)
        season->tenth[(int)lround(celsius * 10.0) - HOBBLE_FLEET_LEAST] = season->share;
}

/* ---- months and heat ------------------------------------------------------------------------- */

static void read_months(struct hb_fleet_reading *r, const config_setting_t *s, struct taking *t)
{
    const int count = config_setting_is_aggregate(s) ? config_setting_length(s) : 0;
    if (count < 1 || count > 12)
        hb_fleet_complain(r, HOBBLE_E_TYPE, s, "seasons.months", NULL,
                          "[1, 2, ... 12], 1 to 12 of them");
    for (int i = 0; i < count && count <= 12; i++) {
        double month;
        if (hb_fleet_number(r, config_setting_get_elem(s, (unsigned)i), "seasons.months",
                            HOBBLE_UNIT_WHOLE, 1, 12, &month))
            t->months |= 1u << (int)month;
    }
}

static void read_taking(struct hb_fleet_reading *r, config_setting_t *m[S_KEYS],
                        config_setting_t *s, struct taking *t)
{
    double celsius;
    t->above = HOBBLE_FLEET_TENTHS;
    if (m[S_AMBIENT] || m[S_SHARE] || !m[S_MONTHS] == !m[S_ABOVE]) {
        hb_fleet_complain(
            r, HOBBLE_E_CONFLICT, s, "seasons", "",
            "months or above where there are sites; ambient and share where there are none");
        return;
    }
    if (m[S_MONTHS])
        read_months(r, m[S_MONTHS], t);
    else if (hb_fleet_number(r, m[S_ABOVE], "seasons.above", HOBBLE_UNIT_CELSIUS, -40, 60,
                             &celsius))
        t->above = (int)lround(celsius * 10.0);
}

/* Heat comes before months. */
static void take_hour(void *into, int month, int tenth)
{
    struct climate *c = into;
    const int seasons = c->r->fleet->seasons;
    for (int pass = 0; pass < 2; pass++)
        for (int i = 0; i < seasons; i++) {
            const struct taking *t = &c->season[i];
            if (pass == 0 ? tenth > t->above : (t->months >> month & 1u) != 0) {
                c->tenth[i][tenth - HOBBLE_FLEET_LEAST] += 1.0;
                return;
            }
        }
    c->untaken++;
}

static void add_site(struct climate *c, double share, long hours)
{
    struct hobble_fleet *f = c->r->fleet;
    for (int i = 0; i < f->seasons; i++)
        for (int t = 0; t < HOBBLE_FLEET_TENTHS; t++) {
            const double part = share * c->tenth[i][t] / (double)hours;
            f->season[i].tenth[t] += part;
            f->season[i].share += part;
        }
}

static double read_site(struct climate *c, config_setting_t *s, char site[HOBBLE_FAULT_TEXT])
{
    struct hb_fleet_reading *r = c->r;
    config_setting_t *m[W_KEYS];
    char name[HOBBLE_FLEET_NAME] = "", file[HOBBLE_FAULT_TEXT], path[HB_PATH_MAX];
    char place[HOBBLE_FAULT_TEXT], shown[3 * HOBBLE_FAULT_TEXT];
    double share = 0.0;
    long hours = 0;
    if (!hb_fleet_members(r, s, "sites", site_keys, W_KEYS, m) || !m[W_NAME] || !m[W_WEATHER] ||
        !m[W_SHARE] || !hb_fleet_text(r, m[W_NAME], "sites.name", name, sizeof name) ||
        !hb_fleet_text(r, m[W_WEATHER], "sites.weather", file, sizeof file) ||
        !hb_fleet_number(r, m[W_SHARE], "sites.share", HOBBLE_UNIT_NONE, 1e-9, 1, &share))
        return share;
    memset(c->tenth, 0, sizeof c->tenth);
    hb_fleet_beside(r, file, path, sizeof path);
    const enum hobble_status status = hb_climate_file(path, take_hour, c, place, &hours, r->sink);
    hb_fleet_count(r, status);
    if (status == HOBBLE_OK)
        add_site(c, share, hours);
    r->fleet->hours += hours;
    snprintf(shown, sizeof shown, "%s: %s (%s)", name, place, file);
    hobble_fault_text(site, shown);
    return share;
}

static void read_sites(struct climate *c, config_setting_t *sites)
{
    struct hb_fleet_reading *r = c->r;
    const int count = hb_fleet_list(r, sites, "sites", 1, HOBBLE_FLEET_SITES);
    double sum = 0.0;
    char given[40];
    for (int i = 0; i < count; i++)
        sum += read_site(c, config_setting_get_elem(sites, (unsigned)i), r->fleet->site[i]);
    r->fleet->sites = count;
    if (count > 0)
        hb_fleet_whole(r, sites, "sites.share", sum);
    snprintf(given, sizeof given, "%ld hours are in none", c->untaken);
    if (c->untaken > 0)
        hb_fleet_complain(r, HOBBLE_E_CONFLICT, sites, "seasons", given,
                          "seasons that take every month or heat");
}

/* ---- both ------------------------------------------------------------------------------------ */

static void check_seasons(struct hb_fleet_reading *r, config_setting_t *list)
{
    double sum = 0.0;
    for (int i = 0; i < r->fleet->seasons; i++) {
        sum += r->fleet->season[i].share;
        if (r->first == HOBBLE_OK && !(r->fleet->season[i].share > 0.0))
            hb_fleet_complain(r, HOBBLE_E_CONFLICT, list, "seasons", r->fleet->season[i].name,
                              "seasons that some hour of the weather files is in");
    }
    if (r->first == HOBBLE_OK)
        hb_fleet_whole(r, list, "seasons.share", sum);
}

void hb_fleet_climate(struct hb_fleet_reading *r, config_setting_t *list, config_setting_t *sites)
{
    static const struct climate none;
    struct climate c = none;
    const int count = hb_fleet_list(r, list, "seasons", 1, HOBBLE_FLEET_SEASONS);
    c.r = r;
    r->fleet->seasons = count;
    for (int i = 0; i < count; i++) {
        config_setting_t *m[S_KEYS], *s = config_setting_get_elem(list, (unsigned)i);
        struct hobble_fleet_season *season = &r->fleet->season[i];
        if (!hb_fleet_members(r, s, "seasons", season_keys, S_KEYS, m))
            continue;
        if (m[S_NAME])
            hb_fleet_text(r, m[S_NAME], "seasons.name", season->name, sizeof season->name);
        if (sites)
            read_taking(r, m, s, &c.season[i]);
        else
            read_own(r, m, s, season);
    }
    if (sites && count > 0)
        read_sites(&c, sites);
    if (count > 0)
        check_seasons(r, list);
}
