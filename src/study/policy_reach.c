/* SPDX-License-Identifier: GPL-3.0-or-later */
/* policy_reach.c - where tyres end against where help is. */
#include "study/policy.h"

#include <math.h>

void hb_reach_add(struct hb_reach *reach, const struct hobble_policy_way *way, double weight)
{
    int ended = 0;
    if (way->counted < 1 || !(weight > 0.0))
        return;
    for (int i = 0; i < HOBBLE_REACH_BINS; i++) {
        ended += way->ended[i];
        reach->share[i] += weight * way->ended[i] / way->counted;
    }
    reach->share[HOBBLE_REACH_BINS] += weight * (way->counted - ended) / way->counted;
    reach->total += weight;
    if (reach->counted == 0 || way->counted < reach->counted)
        reach->counted = way->counted;
    if (reach->worth == 0 || way->worth < reach->worth)
        reach->worth = way->worth;
}

struct hobble_chance hb_reach_chance(const struct hb_reach *reach, const struct hobble_help *help,
                                     double distance)
{
    struct hobble_chance c = {0.0, 0.0, 0.0, 0.0};
    const double at_end = hobble_help_beyond(help, distance);
    double squares = 0.0;
    if (!(reach->total > 0.0))
        return (struct hobble_chance){1.0, 1.0, 0.0, 1.0};
    for (int i = 0; i <= HOBBLE_REACH_BINS; i++) {
        const double end = i * HOBBLE_REACH_STEP;
        if (!(reach->share[i] > 0.0))
            continue;
        const double share = reach->share[i] / reach->total;
        const double beyond = hobble_help_beyond(help, end);
        if (end < distance) {
            c.failed += share * beyond;
            squares += share * beyond * beyond;
            c.stranded += share * beyond;
        } else {
            c.stranded += share * at_end;
            c.lost += share * (at_end - beyond);
        }
    }
    /* The deviation of a mean over so many tyres, and as if one member more had ended where the way
     * does, so that no failure among few does not pass for none at all. Conditions share their
     * members, so that more conditions do not make it smaller. */
    const double n = fmax(reach->worth, 1.0);
    c.error = sqrt(fmax(squares - c.failed * c.failed, 0.0) / n + at_end * at_end / (n * n));
    return c;
}

double hb_reach_limit(const struct hb_reach *reach, const struct hobble_help *help, double accepted,
                      double errors, double step, double most)
{
    double way = floor(most / step + 1e-9) * step;
    while (way >= HB_POLICY_LEAST) {
        const struct hobble_chance c = hb_reach_chance(reach, help, way);
        if (c.failed + errors * c.error <= accepted)
            return way;
        way -= step;
    }
    return 0.0;
}

/* ---- a row's year ---------------------------------------------------------------------------- */

static double axle_share(const struct hobble_fleet *fleet, int axle)
{
    const double front = hb_fleet_value(fleet, HB_FLEET_FRONT);
    return axle == 0 ? front : 1.0 - front;
}

/* Shares of a season's hours in bins. */
enum { BINS = HOBBLE_FLEET_TENTHS / 10 + 2 };
static void bin_hours(const struct hobble_fleet_season *season, enum hobble_variant variant,
                      double bin[BINS])
{
    for (int i = 0; i < BINS; i++)
        bin[i] = 0.0;
    for (int i = 0; i < HOBBLE_FLEET_TENTHS; i++) {
        const int from_least = hb_policy_bin(variant, HOBBLE_FLEET_LEAST + i) - HOBBLE_FLEET_LEAST;
        bin[from_least / hb_policy_width(variant)] += season->tenth[i];
    }
}

/* Calls take for every condition of a row in a variant with its share of the hours. */
typedef void taker(void *into, const struct hobble_policy_solved *s, double weight);
static void each(const struct hb_policy_set *set, enum hobble_variant variant,
                 const struct hobble_policy_row *row, taker *take, void *into)
{
    const struct hobble_fleet_season *season = &set->fleet->season[row->season];
    double bin[BINS];
    bin_hours(season, variant, bin);
    const bool year = variant == HOBBLE_VARIANT_BASE || variant == HOBBLE_VARIANT_FRESH;
    const int one = hb_policy_bin(
        variant, hb_season_quantile(season, variant == HOBBLE_VARIANT_EXTENDED ? 0.5 : 1.0));
    for (int i = 0; i < BINS; i++) {
        const int tenth = HOBBLE_FLEET_LEAST + hb_policy_width(variant) * i;
        if (year ? !(bin[i] > 0.0) : tenth != one)
            continue;
        for (int axle = 0; axle < 2; axle++) {
            const struct hobble_policy_solved *s =
                hb_policy_look(set, variant, row->vehicle, axle, row->load, tenth);
            if (s)
                take(into, s, (year ? bin[i] : 1.0) * axle_share(set->fleet, axle));
        }
    }
}

struct reach_of {
    struct hb_reach *reach;
    int speed;
};
static void take_reach(void *into, const struct hobble_policy_solved *s, double weight)
{
    const struct reach_of *r = into;
    hb_reach_add(r->reach, &s->way[r->speed], weight);
}

void hb_policy_reach(const struct hb_policy_set *set, enum hobble_variant variant,
                     const struct hobble_policy_row *row, int speed, struct hb_reach *reach)
{
    struct reach_of r = {reach, speed};
    *reach = (struct hb_reach){.total = 0.0};
    each(set, variant, row, take_reach, &r);
}

struct least {
    double way;
    int speed;
};
static void take_least(void *into, const struct hobble_policy_solved *s, double weight)
{
    struct least *l = into;
    const struct hobble_policy_way *way = &s->way[l->speed];
    (void)weight; /* an axle that is seldom flat needs its advice as well */
    l->way = fmin(l->way, way->go ? way->advised : 0.0);
}

double hb_policy_advised(const struct hb_policy_set *set, enum hobble_variant variant,
                         const struct hobble_policy_row *row, int speed)
{
    struct least l = {HUGE_VAL, speed};
    each(set, variant, row, take_least, &l);
    const double most = hobble_unit_to_si(HOBBLE_UNIT_KILOMETRE,
                                          hb_fleet_value(set->fleet, HB_FLEET_DISTANCE_LIMIT));
    const double way = isfinite(l.way) ? fmin(l.way, most) : 0.0;
    return way < HB_POLICY_LEAST ? 0.0 : way;
}
