/* SPDX-License-Identifier: GPL-3.0-or-later */
/* policy_list.c - the distinct conditions of a fleet, and the settings of one. */
#include "advice/question.h"
#include "study/case.h"
#include "study/policy.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { EXACT_HOURS = 12, WARMER = 50 /* tenths */ };
#define HEAVIER    1.08 /* one standard deviation of load_error */
#define FRESH_SEED 500009
#define SEEDS      1000001

int hb_policy_bin(enum hobble_variant variant, int tenth)
{
    const int width = hb_policy_width(variant);
    return (tenth - HOBBLE_FLEET_LEAST + width / 2) / width * width + HOBBLE_FLEET_LEAST;
}

int hb_policy_width(enum hobble_variant variant)
{
    return variant == HOBBLE_VARIANT_FRESH ? 40 : 10;
}

int hb_season_quantile(const struct hobble_fleet_season *season, double share)
{
    double total = 0.0, sum = 0.0;
    for (int i = 0; i < HOBBLE_FLEET_TENTHS; i++)
        total += season->tenth[i];
    int last = 0;
    for (int i = 0; i < HOBBLE_FLEET_TENTHS; i++)
        if (season->tenth[i] > 0.0) {
            last = i;
            sum += season->tenth[i];
            if (sum >= share * total)
                break;
        }
    return HOBBLE_FLEET_LEAST + last;
}

/* ---- settings -------------------------------------------------------------------------------- */

static void put(struct hb_settings *s, enum hb_param_id id, double value)
{
    s->row[id].value = value;
    s->row[id].given = !isnan(value);
}

static void put_load(const struct hobble_fleet_load *load, struct hb_settings *s)
{
    const double seats =
        hb_setting_value(s, HB_P_SEATS_FRONT) + hb_setting_value(s, HB_P_SEATS_REAR);
    const double people =
        isnan(load->people) ? fmax(1.0, ceil(load->seats * seats - 1e-9)) : load->people;
    put(s, HB_P_PEOPLE, people);
    put(s, HB_P_LUGGAGE, load->luggage);
}

/* A tyre of the same size that passed the milder test; what the profile says of its own wall does
 * not hold for it. */
static void make_extended(struct hb_settings *s)
{
    static const enum hb_param_id own[] = {HB_P_STIFFNESS_FLAT, HB_P_WALL_THICKNESS, HB_P_DRUM_TEST,
                                           HB_P_MAKER_DISTANCE};
    const struct hobble_param *row = hobble_param_table(NULL);
    for (size_t i = 0; i < sizeof own / sizeof *own; i++)
        put(s, own[i], row[own[i]].value);
    put(s, HB_P_CONSTRUCTION, HB_EXTENDED_MOBILITY);
    /* its marking has no RF: a pictogram stands for it (UN R30, supplement 27) */
    struct hobble_marking marking;
    if (hobble_marking_parse(s->row[HB_P_MARKING].text, &marking, NULL) != HOBBLE_OK)
        return;
    marking.flat = HOBBLE_MARK_NONE;
    hobble_marking_print(&marking, s->row[HB_P_MARKING].text, sizeof s->row[HB_P_MARKING].text);
}

/* However well the load is known. */
static void make_heavier(struct hb_settings *s)
{
    double mean, spread;
    hb_load_error(s, &mean, &spread);
    put(s, HB_P_LOAD_ERROR, fmin(2.0, HEAVIER * mean));
    s->row[HB_P_LOAD_ERROR].spread = spread;
    s->row[HB_P_LOAD_ERROR].given = true;
}

static void vary(enum hobble_variant variant, struct hb_settings *s)
{
    switch (variant) {
    case HOBBLE_VARIANT_FRESH:
        put(s, HB_P_SEED, fmod(hb_setting_value(s, HB_P_SEED) + FRESH_SEED, SEEDS));
        break;
    case HOBBLE_VARIANT_EXTENDED:
        make_extended(s);
        break;
    case HOBBLE_VARIANT_HEAVIER:
        make_heavier(s);
        break;
    case HOBBLE_VARIANT_LATER:
        put(s, HB_P_UNSEEN, 2.0 * hb_setting_value(s, HB_P_UNSEEN));
        break;
    case HOBBLE_VARIANT_UNVOUCHED:
        put(s, HB_P_AGE, (double)NAN);
        put(s, HB_P_RAN_FLAT, HB_NOT_KNOWN);
        put(s, HB_P_REPAIRED, HB_NOT_KNOWN);
        break;
    default:
        break;
    }
}

void hb_policy_settings(const struct hobble_fleet *fleet, const struct hobble_policy_condition *c,
                        struct hb_settings *s)
{
    enum { FRONT_LEFT, FRONT_RIGHT, REAR_LEFT };
    const int tenth = c->tenth + (c->variant == HOBBLE_VARIANT_WARMER ? WARMER : 0);
    *s = fleet->vehicle[c->vehicle].axle[c->axle]->settings;
    put(s, HB_P_MEMBERS, fleet->members);
    put(s, HB_P_SEED, fleet->seed);
    put(s, HB_P_REQUIRED_SHARE, fleet->required);
    put(s, HB_P_WHEEL, c->axle == 0 ? FRONT_LEFT : REAR_LEFT);
    put(s, HB_P_AMBIENT, tenth / 10.0);
    put(s, HB_P_UNSEEN, hb_fleet_value(fleet, HB_FLEET_DELAY));
    put(s, HB_P_SPEED_BEFORE, hb_fleet_value(fleet, HB_FLEET_SPEED_BEFORE));
    put_load(&fleet->load[c->load], s);
    vary(c->variant, s);
}

/* ---- the list -------------------------------------------------------------------------------- */

/* Temperatures of a variant, in tenths, each once and rising. */
struct marks {
    bool at[HOBBLE_FLEET_TENTHS];
};

static void mark(struct marks *m, int tenth)
{
    const int place = tenth - HOBBLE_FLEET_LEAST;
    if (place >= 0 && place < HOBBLE_FLEET_TENTHS)
        m->at[place] = true;
}

/* Hours at equal shares of the year from its coldest to its hottest, as they are. */
static void mark_exact(const struct hobble_fleet *fleet, struct marks *m)
{
    static const struct hobble_fleet_season none;
    struct hobble_fleet_season year = none;
    for (int s = 0; s < fleet->seasons; s++)
        for (int i = 0; i < HOBBLE_FLEET_TENTHS; i++)
            year.tenth[i] += fleet->season[s].tenth[i];
    for (int i = 0; i < EXACT_HOURS; i++)
        mark(m, hb_season_quantile(&year, fmax(1e-12, i / (EXACT_HOURS - 1.0))));
}

static void mark_all(const struct hobble_fleet *fleet, enum hobble_variant variant, struct marks *m)
{
    memset(m, 0, sizeof *m);
    if (variant == HOBBLE_VARIANT_EXACT) {
        mark_exact(fleet, m);
        return;
    }
    for (int s = 0; s < fleet->seasons; s++) {
        const struct hobble_fleet_season *season = &fleet->season[s];
        if (variant == HOBBLE_VARIANT_EXTENDED)
            mark(m, hb_policy_bin(variant, hb_season_quantile(season, 0.5)));
        else if (variant > HOBBLE_VARIANT_EXTENDED)
            mark(m, hb_policy_bin(variant, hb_season_quantile(season, 1.0)));
        for (int i = 0; variant < HOBBLE_VARIANT_EXACT && i < HOBBLE_FLEET_TENTHS; i++)
            if (season->tenth[i] > 0.0)
                mark(m, hb_policy_bin(variant, HOBBLE_FLEET_LEAST + i));
    }
}

/* Writes the list into at, or only counts where at is NULL. */
static size_t lay_out(const struct hobble_fleet *fleet, struct hobble_policy_condition *at)
{
    struct marks m;
    size_t n = 0;
    for (int v = 0; v < HOBBLE_VARIANTS; v++) {
        mark_all(fleet, (enum hobble_variant)v, &m);
        const int first = v == HOBBLE_VARIANT_EXACT ? fleet->loads - 1 : 0;
        for (int vehicle = 0; vehicle < fleet->vehicles; vehicle++)
            for (int axle = 0; axle < 2; axle++)
                for (int load = first; load < fleet->loads; load++)
                    for (int i = 0; i < HOBBLE_FLEET_TENTHS; i++)
                        if (m.at[i]) {
                            if (at)
                                at[n] = (struct hobble_policy_condition){(enum hobble_variant)v,
                                                                         vehicle, axle, load,
                                                                         HOBBLE_FLEET_LEAST + i};
                            n++;
                        }
    }
    return n;
}

/* Every question is asked once, so that no fault waits for hours. */
static enum hobble_status check(const struct hobble_fleet *fleet, struct hobble_faults *sink)
{
    struct hobble_faults own;
    enum hobble_status first = HOBBLE_OK;
    for (int vehicle = 0; vehicle < fleet->vehicles; vehicle++)
        for (int axle = 0; axle < 2; axle++)
            for (int load = 0; load < fleet->loads; load++) {
                const struct hobble_policy_condition c = {HOBBLE_VARIANT_BASE, vehicle, axle, load,
                                                          0};
                struct hb_settings s;
                struct hb_question q;
                own.count = 0;
                hb_policy_settings(fleet, &c, &s);
                const enum hobble_status status = hb_question_make(&s, NULL, 0, &q, &own);
                for (size_t i = 0; i < own.count && i < HOBBLE_FAULTS_KEPT; i++) {
                    char given[2 * HOBBLE_FAULT_TEXT];
                    snprintf(given, sizeof given, "%s, %s", fleet->vehicle[vehicle].name,
                             fleet->load[load].name);
                    hobble_fault_text(own.item[i].given, given);
                    hobble_faults_add(sink, &own.item[i]);
                }
                first = first != HOBBLE_OK ? first : status;
            }
    return first;
}

enum hobble_status hobble_policy_list(const struct hobble_fleet *fleet,
                                      struct hobble_policy_condition **list, size_t *count,
                                      struct hobble_faults *sink)
{
    const enum hobble_status status = check(fleet, sink);
    if (status != HOBBLE_OK)
        return status;
    const size_t n = lay_out(fleet, NULL);
    struct hobble_policy_condition *room = calloc(n > 0 ? n : 1, sizeof *room);
    if (!room)
        return HOBBLE_E_MEMORY;
    lay_out(fleet, room);
    *list = room;
    *count = n;
    return HOBBLE_OK;
}

/* ---- looking up ------------------------------------------------------------------------------ */

static int compare(const void *a, const void *b)
{
    const struct hobble_policy_condition *x = a, *y = b;
    const int difference[] = {(int)x->variant - (int)y->variant, x->vehicle - y->vehicle,
                              x->axle - y->axle, x->load - y->load, x->tenth - y->tenth};
    for (size_t i = 0; i < sizeof difference / sizeof *difference; i++)
        if (difference[i] != 0)
            return difference[i];
    return 0;
}

const struct hobble_policy_solved *hb_policy_look(const struct hb_policy_set *set,
                                                  enum hobble_variant variant, int vehicle,
                                                  int axle, int load, int tenth)
{
    const struct hobble_policy_condition key = {variant, vehicle, axle, load, tenth};
    const struct hobble_policy_condition *found =
        bsearch(&key, set->condition, set->count, sizeof key, compare);
    return found ? &set->solved[found - set->condition] : NULL;
}
