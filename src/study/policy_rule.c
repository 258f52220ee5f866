/* SPDX-License-Identifier: GPL-3.0-or-later */
/* policy_rule.c - the simplest rule that keeps the accepted chance, searched for and verified. */
#include "study/policy.h"

#include <math.h>
#include <stdlib.h>

#define MARGIN_ERRORS 1.0   /* the search keeps so many sampling errors away from the limit */
#define WORTH_A_LINE  0.002 /* an exception must bring so many more to help */
#define WORTH_SLOWING 0.005 /* and so many a slower speed, as in the rows */
enum { FIVES = 17 };        /* 0, 5, .. 80 km */

/* One row at one speed: the most it allows, in fives of km, and who reaches help for each. */
struct cell {
    int most;
    double helped[FIVES];
};

struct search {
    const struct hb_policy_set *set;
    struct hobble_policy *p;
    struct cell *cell; /* rows x speeds */
    double best;
};

static struct cell *cell_of(const struct search *s, int row, int speed)
{
    return &s->cell[row * HOBBLE_POLICY_SPEEDS + speed];
}

static void fill_cell(struct search *s, int r, int speed)
{
    const struct hobble_fleet *f = s->set->fleet;
    const struct hobble_policy_row *row = &s->p->row[r];
    struct cell *c = cell_of(s, r, speed);
    struct hb_reach reach;
    hb_policy_reach(s->set, HOBBLE_VARIANT_BASE, row, speed, &reach);
    const double most = hb_reach_limit(&reach, &f->help, hb_fleet_value(f, HB_FLEET_ACCEPTED),
                                       MARGIN_ERRORS, HB_POLICY_FIVE, row->limit[speed]);
    c->most = (int)lround(most / HB_POLICY_FIVE);
    for (int i = 0; i < FIVES; i++)
        c->helped[i] = 1.0 - hb_reach_chance(&reach, &f->help, i * HB_POLICY_FIVE).stranded;
}

static bool excepted(const struct hobble_policy_row *row, const struct hobble_simple_rule *rule)
{
    return rule->exception && (rule->vehicle < 0 || rule->vehicle == row->vehicle) &&
           (rule->load < 0 || rule->load == row->load) &&
           (rule->season < 0 || rule->season == row->season);
}

/* The longest distances that no row forbids, for a choice of speed and exception. */
static void try_rule(struct search *s, int place, double speed, struct hobble_simple_rule rule)
{
    int base = FIVES - 1, other = FIVES - 1;
    bool all_excepted = true;
    double helped = 0.0;
    for (int r = 0; r < s->p->rows; r++) {
        const int most = cell_of(s, r, place)->most;
        int *least = excepted(&s->p->row[r], &rule) ? &other : &base;
        *least = most < *least ? most : *least;
        all_excepted = all_excepted && least == &other;
    }
    s->p->simple.tried++;
    if (all_excepted)
        return;
    for (int r = 0; r < s->p->rows; r++) {
        const int step = excepted(&s->p->row[r], &rule) ? other : base;
        helped += s->p->row[r].weight * cell_of(s, r, place)->helped[step];
    }
    if (helped < s->best + (speed < s->p->simple.speed ? WORTH_SLOWING : WORTH_A_LINE))
        return;
    const int tried = s->p->simple.tried;
    s->best = helped;
    s->p->simple = rule;
    s->p->simple.found = base > 0 || (rule.exception && other > 0);
    s->p->simple.speed = speed;
    s->p->simple.distance = base * HB_POLICY_FIVE;
    s->p->simple.other = rule.exception ? other * HB_POLICY_FIVE : 0.0;
    s->p->simple.reaches = fmax(helped, 0.0); /* a sum of shares that cancel */
    s->p->simple.tried = tried;
}

/* No exception first, then those of one word, then of two: an equal later one does not win. */
static void try_all(struct search *s)
{
    const struct hobble_fleet *f = s->set->fleet;
    double speed[HOBBLE_POLICY_SPEEDS];
    hobble_policy_speeds(f, speed);
    for (int words = 0; words <= 2; words++)
        for (int k = 0; k < HOBBLE_POLICY_SPEEDS; k++)
            for (int v = -1; v < f->vehicles; v++)
                for (int l = -1; l < f->loads; l++)
                    for (int e = -1; e < f->seasons; e++) {
                        const bool repeats = k > 0 && fabs(speed[k] - speed[k - 1]) < 1e-9;
                        if ((v >= 0) + (l >= 0) + (e >= 0) != words || repeats ||
                            !hb_policy_allowed(f, speed[k]))
                            continue;
                        const struct hobble_simple_rule rule = {
                            .exception = words > 0, .vehicle = v, .load = l, .season = e};
                        try_rule(s, k, speed[k], rule);
                    }
}

static double told(const struct hobble_simple_rule *rule, const struct hobble_policy_row *row)
{
    return excepted(row, rule) ? rule->other : rule->distance;
}

static void add(struct hobble_chance *to, const struct hobble_chance *c, double weight)
{
    to->failed += weight * c->failed;
    to->stranded += weight * c->stranded;
    to->lost += weight * c->lost;
    to->error += weight * c->error;
}

/* The rule found, on the sample that found it and on one that had no part in it. */
static void verify(const struct hb_policy_set *set, struct hobble_policy *p)
{
    struct hobble_simple_rule *rule = &p->simple;
    const int place = hb_policy_speed_place(set->fleet, rule->speed);
    struct hb_reach reach;
    for (int r = 0; r < p->rows; r++) {
        struct hobble_policy_row *row = &p->row[r];
        const double way = row->told = told(rule, row);
        hb_policy_reach(set, HOBBLE_VARIANT_BASE, row, place, &reach);
        const struct hobble_chance first = hb_reach_chance(&reach, &set->fleet->help, way);
        hb_policy_reach(set, HOBBLE_VARIANT_FRESH, row, place, &reach);
        row->counted = reach.counted < row->counted ? reach.counted : row->counted;
        p->counted = r == 0 || row->counted < p->counted ? row->counted : p->counted;
        const struct hobble_chance fresh = hb_reach_chance(&reach, &set->fleet->help, way);
        add(&rule->all, &first, row->weight);
        add(&rule->all_fresh, &fresh, row->weight);
        if (r == 0 || first.failed > rule->failed) {
            rule->failed = first.failed;
            rule->failed_error = first.error;
        }
        if (r == 0 || fresh.failed > rule->fresh) {
            rule->fresh = fresh.failed;
            rule->fresh_error = fresh.error;
            rule->fresh_row = r;
        }
    }
    rule->verified = rule->fresh <= hb_fleet_value(set->fleet, HB_FLEET_ACCEPTED);
}

enum hobble_status hb_policy_find_rule(const struct hb_policy_set *set, struct hobble_policy *p)
{
    struct search s = {set, p, NULL, -1.0};
    s.cell = calloc((size_t)p->rows * HOBBLE_POLICY_SPEEDS, sizeof *s.cell);
    if (!s.cell)
        return HOBBLE_E_MEMORY;
    for (int r = 0; r < p->rows; r++)
        for (int k = 0; k < HOBBLE_POLICY_SPEEDS; k++)
            fill_cell(&s, r, k);
    try_all(&s);
    free(s.cell);
    p->simple.reaches_best = 1.0 - p->all.stranded;
    verify(set, p);
    return HOBBLE_OK;
}
