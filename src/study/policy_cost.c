/* SPDX-License-Identifier: GPL-3.0-or-later */
/* policy_cost.c - what each construction costs and how often it strands a vehicle. */
#include "advice/ensemble.h"
#include "study/policy.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_rng.h>
#include <math.h>
#include <stdlib.h>

enum { DRAWS = 2000 };
#define DISTANCE 1e5 /* km that costs are told for */
#define MILLION  1e6 /* km that events are told for */
#define WHEELS   4.0

/* Every number of the fleet, drawn or as it is. */
struct draw {
    double x[HB_FLEET_COUNT];
};

static const enum hb_fleet_id kinds[] = {HB_FLEET_NAIL, HB_FLEET_SHOULDER, HB_FLEET_SIDEWALL,
                                         HB_FLEET_BURST, HB_FLEET_SLOW};

/* Shares of kinds always add up to 1. */
static void share_out(struct draw *d)
{
    double sum = 0.0;
    for (size_t i = 0; i < sizeof kinds / sizeof *kinds; i++)
        sum += d->x[kinds[i]];
    for (size_t i = 0; sum > 0.0 && i < sizeof kinds / sizeof *kinds; i++)
        d->x[kinds[i]] /= sum;
}

static void draw_one(const struct hobble_fleet *f, gsl_rng *rng, struct draw *d)
{
    const struct hobble_fleet_row *row = hobble_fleet_table(NULL);
    for (int i = 0; i < HB_FLEET_COUNT; i++) {
        const struct hobble_fleet_number *n = &f->number[i];
        const double z =
            rng && n->spread > 0.0 ? gsl_cdf_ugaussian_Pinv(gsl_rng_uniform_pos(rng)) : 0.0;
        d->x[i] = fmin(fmax(n->value * exp(n->spread * z), row[i].min), row[i].max);
    }
    share_out(d);
}

/* ---- one construction ------------------------------------------------------------------------ */

struct parts {
    double stranding, fixed, a_puncture;
};

static double sealable(const double x[])
{
    return x[HB_FLEET_NAIL] + x[HB_FLEET_SLOW];
}

/* carried: chance of stranding once the wall carries, of the two that run flat. */
static double stranding(enum hobble_build b, const double x[], const double carried[HOBBLE_BUILDS])
{
    const double walls = sealable(x) + x[HB_FLEET_SHOULDER] * x[HB_FLEET_CARRY_SHOULDER] +
                         x[HB_FLEET_SIDEWALL] * x[HB_FLEET_CARRY_SIDEWALL];
    switch (b) {
    case HOBBLE_BUILD_SPARE:
        return 1.0 - x[HB_FLEET_SPARE_WORKS];
    case HOBBLE_BUILD_KIT:
        return 1.0 - sealable(x) * x[HB_FLEET_KIT_WORKS];
    case HOBBLE_BUILD_LINED:
        return 1.0 - sealable(x) * x[HB_FLEET_LINED_WORKS];
    default:
        return 1.0 - walls * (1.0 - carried[b]);
    }
}

static double price(enum hobble_build b, const double x[])
{
    static const enum hb_fleet_id row[HOBBLE_BUILDS] = {
        HB_FLEET_PRICE_CONVENTIONAL, HB_FLEET_PRICE_CONVENTIONAL, HB_FLEET_PRICE_LINED,
        HB_FLEET_PRICE_EXTENDED, HB_FLEET_PRICE_SELF};
    return x[row[b]];
}

/* A tyre that ran flat, or that sealant from a kit went into, is scrap; the others can be repaired
 * when the hole is in the tread. */
static double tyre_again(enum hobble_build b, const double x[])
{
    double repaired = 0.0;
    if (b == HOBBLE_BUILD_SPARE || b == HOBBLE_BUILD_LINED)
        repaired = sealable(x) * x[HB_FLEET_REPAIRED_SHARE];
    return (1.0 - repaired) * price(b, x) + repaired * x[HB_FLEET_REPAIR];
}

static double more_fuel(enum hobble_build b, const double x[])
{
    const double share[HOBBLE_BUILDS] = {x[HB_FLEET_ROLL_SPARE], 0.0,
                                         x[HB_FLEET_ROLL_LINED] * x[HB_FLEET_FUEL_ROLLING],
                                         x[HB_FLEET_ROLL_EXTENDED] * x[HB_FLEET_FUEL_ROLLING],
                                         x[HB_FLEET_ROLL_SELF] * x[HB_FLEET_FUEL_ROLLING]};
    return share[b] * x[HB_FLEET_FUEL_USE] * DISTANCE / 100.0 * x[HB_FLEET_FUEL_PRICE];
}

static struct parts parts_of(enum hobble_build b, const double x[],
                             const double carried[HOBBLE_BUILDS])
{
    const double on_board[HOBBLE_BUILDS] = {x[HB_FLEET_SPARE_PRICE], x[HB_FLEET_KIT_PRICE], 0, 0,
                                            0};
    const double roadside =
        b == HOBBLE_BUILD_SPARE || b == HOBBLE_BUILD_KIT ? x[HB_FLEET_HOURS_CHANGE] : 0.0;
    struct parts p;
    p.stranding = stranding(b, x, carried);
    p.fixed =
        WHEELS * price(b, x) * DISTANCE / x[HB_FLEET_TYRE_LIFE] + more_fuel(b, x) + on_board[b];
    p.a_puncture =
        tyre_again(b, x) + x[HB_FLEET_HOURS_SHOP] * x[HB_FLEET_HOUR] +
        p.stranding * (x[HB_FLEET_RECOVERY] + x[HB_FLEET_HOURS_STRANDED] * x[HB_FLEET_HOUR]) +
        (1.0 - p.stranding) * roadside * x[HB_FLEET_HOUR];
    return p;
}

static double cost_of(const struct parts *p, const double x[])
{
    return p->fixed + p->a_puncture * DISTANCE / x[HB_FLEET_EVERY];
}

/* ---- break-even ------------------------------------------------------------------------------ */

static void break_even(const struct parts *self, const struct parts *other,
                       struct hobble_policy_cost *c)
{
    const double dearer = self->fixed - other->fixed;          /* money per 100 000 km */
    const double saved = other->a_puncture - self->a_puncture; /* money a puncture */
    c->pays = (saved > 0.0) == (dearer > 0.0) ? HOBBLE_BREAK_AT
              : saved > 0.0                   ? HOBBLE_BREAK_ALWAYS
                                              : HOBBLE_BREAK_NEVER;
    c->break_even = c->pays == HOBBLE_BREAK_AT && fabs(saved) > 0.0 ? dearer / saved : (double)NAN;
    c->pays_below = !(saved > 0.0);
}

/* ---- all of them ----------------------------------------------------------------------------- */

/* Chance of stranding on extended-mobility tyres of the same sizes: at the fastest speed that is
 * allowed, in the middle of each season. */
static double extended(const struct hb_policy_set *set, const struct hobble_policy *p)
{
    double speed[HOBBLE_POLICY_SPEEDS], sum = 0.0;
    struct hb_reach reach;
    int k = 0;
    hobble_policy_speeds(set->fleet, speed);
    while (!hb_policy_allowed(set->fleet, speed[k])) /* all but the first keep to the limit */
        k++;
    for (int r = 0; r < p->rows; r++) {
        const struct hobble_policy_row *row = &p->row[r];
        const double advised = hb_policy_advised(set, HOBBLE_VARIANT_EXTENDED, row, k);
        hb_policy_reach(set, HOBBLE_VARIANT_EXTENDED, row, k, &reach);
        const double way =
            hb_reach_limit(&reach, &set->fleet->help, hb_fleet_value(set->fleet, HB_FLEET_ACCEPTED),
                           0.0, HB_POLICY_WHOLE, advised);
        sum += row->weight * hb_reach_chance(&reach, &set->fleet->help, way).stranded;
    }
    return sum;
}

static struct hobble_spread spread_of(double middle, double *value)
{
    return (struct hobble_spread){middle, hb_quantile(value, DRAWS, 0.05),
                                  hb_quantile(value, DRAWS, 0.95)};
}

static void bands(const struct hobble_fleet *f, gsl_rng *rng, const double carried[HOBBLE_BUILDS],
                  double *room, struct hobble_policy *p)
{
    struct draw d;
    for (int i = 0; i < DRAWS; i++) { /* one draw for all constructions: they meet the same world */
        draw_one(f, rng, &d);
        for (int b = 0; b < HOBBLE_BUILDS; b++) {
            const struct parts q = parts_of((enum hobble_build)b, d.x, carried);
            room[(2 * b) * DRAWS + i] = cost_of(&q, d.x);
            room[(2 * b + 1) * DRAWS + i] = q.stranding * MILLION / d.x[HB_FLEET_EVERY];
        }
    }
    draw_one(f, NULL, &d);
    const struct parts self = parts_of(HOBBLE_BUILD_SELF, d.x, carried);
    for (int b = 0; b < HOBBLE_BUILDS; b++) {
        struct hobble_policy_cost *c = &p->cost[b];
        const struct parts q = parts_of((enum hobble_build)b, d.x, carried);
        c->stranding = q.stranding;
        c->fixed = q.fixed;
        c->a_puncture = q.a_puncture;
        c->cost = spread_of(cost_of(&q, d.x), &room[(2 * b) * DRAWS]);
        c->stranded =
            spread_of(q.stranding * MILLION / d.x[HB_FLEET_EVERY], &room[(2 * b + 1) * DRAWS]);
        break_even(&self, &q, c);
    }
}

enum hobble_status hb_policy_costs(const struct hb_policy_set *set, struct hobble_policy *p)
{
    double carried[HOBBLE_BUILDS] = {0};
    double *room = calloc((size_t)(2 * HOBBLE_BUILDS) * DRAWS, sizeof *room);
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
    const bool good = room && rng;
    if (good) {
        carried[HOBBLE_BUILD_EXTENDED] = extended(set, p);
        carried[HOBBLE_BUILD_SELF] = p->all.stranded;
        gsl_rng_set(rng, (unsigned long)set->fleet->seed);
        bands(set->fleet, rng, carried, room, p);
    }
    if (rng)
        gsl_rng_free(rng);
    free(room);
    return good ? HOBBLE_OK : HOBBLE_E_MEMORY;
}
