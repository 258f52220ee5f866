/* SPDX-License-Identifier: GPL-3.0-or-later */
/* policy_shift.c - what would change the policy, and what binning the hours costs. */
#include "study/policy.h"

#include <math.h>
#include <stdlib.h>

/* ---- one input moved ------------------------------------------------------------------------- */

/* Distance of a row at its own speed with the advice of a variant in the hottest hour; BASE with
 * the whole year's accepted chance. */
struct moved {
    const struct hb_policy_set *set;
    const struct hobble_help *help;
    double accepted;
    enum hobble_variant variant; /* HOBBLE_VARIANTS: none, only help or accepted are moved */
};

static int row_speed(const struct hb_policy_set *set, const struct hobble_policy_row *row)
{
    double speed[HOBBLE_POLICY_SPEEDS];
    const int place = hb_policy_speed_place(set->fleet, row->speed);
    hobble_policy_speeds(set->fleet, speed);
    for (int k = 0; place < 0 && k < HOBBLE_POLICY_SPEEDS; k++)
        if (hb_policy_allowed(set->fleet, speed[k]))
            return k;
    return place < 0 ? 0 : place;
}

static double distance_of(const struct moved *m, const struct hobble_policy_row *row)
{
    const int k = row_speed(m->set, row);
    struct hb_reach reach;
    double advised = hb_policy_advised(m->set, HOBBLE_VARIANT_BASE, row, k);
    if (m->variant < HOBBLE_VARIANTS) {
        advised = fmin(advised, hb_policy_advised(m->set, m->variant, row, k));
        hb_policy_reach(m->set, m->variant, row, k, &reach);
    } else {
        hb_policy_reach(m->set, HOBBLE_VARIANT_BASE, row, k, &reach);
    }
    return hb_reach_limit(&reach, m->help, m->accepted, 0.0, HB_POLICY_WHOLE, advised);
}

/* A variant is held against the base in the same, hottest, hour. */
static void compare(const struct moved *from, const struct moved *to, const struct hobble_policy *p,
                    struct hobble_shift *shift)
{
    for (int r = 0; r < p->rows; r++) {
        const struct hobble_policy_row *row = &p->row[r];
        const double before = distance_of(from, row), after = distance_of(to, row);
        shift->change += row->weight * fabs(after - before);
        shift->flipped += (before > 0.0) != (after > 0.0) ? row->weight : 0.0;
    }
}

static void sort_shifts(struct hobble_shift *shift)
{
    for (int i = 1; i < HOBBLE_SHIFTS; i++)
        for (int k = i; k > 0 && shift[k].change > shift[k - 1].change; k--) {
            const struct hobble_shift other = shift[k];
            shift[k] = shift[k - 1];
            shift[k - 1] = other;
        }
}

/* Help twice as far away. */
static struct hobble_help *farther(const struct hobble_help *help)
{
    struct hobble_help *copy = malloc(sizeof *copy);
    if (!copy)
        return NULL;
    *copy = *help;
    copy->mean *= 2.0;
    for (int i = 0; i < copy->count; i++)
        copy->distance[i] *= 2.0;
    return copy;
}

enum hobble_status hb_policy_shifts(const struct hb_policy_set *set, struct hobble_policy *p)
{
    static const enum hobble_variant variant[HOBBLE_SHIFTS] = {
        HOBBLE_VARIANT_HEAVIER,   HOBBLE_VARIANT_WARMER, HOBBLE_VARIANT_LATER,
        HOBBLE_VARIANT_UNVOUCHED, HOBBLE_VARIANTS,       HOBBLE_VARIANTS};
    const struct hobble_help *help = &set->fleet->help;
    const double accepted = hb_fleet_value(set->fleet, HB_FLEET_ACCEPTED);
    struct hobble_help *far_help = farther(help);
    if (!far_help)
        return HOBBLE_E_MEMORY;
    for (int i = 0; i < HOBBLE_SHIFTS; i++) {
        struct moved from = {set, help, accepted, HOBBLE_VARIANTS}, to = from;
        p->shift[i] = (struct hobble_shift){(enum hobble_shift_code)i, 0.0, 0.0};
        to.variant = variant[i];
        if (i == HOBBLE_SHIFT_HELP)
            to.help = far_help;
        if (i == HOBBLE_SHIFT_CHANCE)
            to.accepted = 0.5 * accepted;
        compare(&from, &to, p, &p->shift[i]);
    }
    free(far_help);
    sort_shifts(p->shift);
    return HOBBLE_OK;
}

/* ---- binning --------------------------------------------------------------------------------- */

/* The plain rule's chance of failing, for one condition. */
static double rule_chance(const struct hb_policy_set *set, const struct hobble_policy_solved *s)
{
    struct hb_reach reach = {.total = 0.0};
    hb_reach_add(&reach, &s->way[0], 1.0);
    return hb_reach_chance(&reach, &set->fleet->help, HB_POLICY_RULE).failed;
}

void hb_policy_binning(const struct hb_policy_set *set, struct hobble_policy *p)
{
    double sum = 0.0;
    for (size_t i = 0; i < set->count; i++) {
        const struct hobble_policy_condition *c = &set->condition[i];
        if (c->variant != HOBBLE_VARIANT_EXACT)
            continue;
        const struct hobble_policy_solved *bin =
            hb_policy_look(set, HOBBLE_VARIANT_BASE, c->vehicle, c->axle, c->load,
                           hb_policy_bin(HOBBLE_VARIANT_BASE, c->tenth));
        if (!bin)
            continue;
        const double miss = rule_chance(set, bin) - rule_chance(set, &set->solved[i]);
        for (int k = 0; k < HOBBLE_POLICY_SPEEDS; k++)
            p->bin_distance = fmax(
                p->bin_distance, fabs((double)bin->way[k].advised - set->solved[i].way[k].advised));
        sum += miss;
        p->bin_chance_most = fmax(p->bin_chance_most, fabs(miss));
        p->exact_hours++;
    }
    p->bin_chance = p->exact_hours > 0 ? sum / p->exact_hours : 0.0;
}
