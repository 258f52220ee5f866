/* SPDX-License-Identifier: GPL-3.0-or-later */
/* policy_judge.c - rows of the policy out of solved conditions. */
#include "advice/advise.h"
#include "advice/question.h"
#include "study/policy.h"

#include <math.h>
#include <string.h>

#define WORTH_SLOWING 0.005 /* a slower speed must bring so many more to help */

/* ---- one row --------------------------------------------------------------------------------- */

static double weight_of(const struct hobble_fleet *f, const struct hobble_policy_row *row)
{
    const struct hobble_fleet_vehicle *v = &f->vehicle[row->vehicle];
    double all = 0.0;
    for (int i = 0; i < f->vehicles; i++)
        all += f->vehicle[i].count * f->vehicle[i].year_km;
    return v->count * v->year_km / all * f->load[row->load].share * f->season[row->season].share;
}

static void conditions_of(const struct hobble_fleet *f, struct hobble_policy_row *row)
{
    const struct hobble_fleet_season *season = &f->season[row->season];
    row->coldest = 273.15 + hb_season_quantile(season, 1e-12) / 10.0;
    row->hottest = 273.15 + hb_season_quantile(season, 1.0) / 10.0;
    for (int axle = 0; axle < 2; axle++) {
        const struct hobble_policy_condition c = {HOBBLE_VARIANT_BASE, row->vehicle, axle,
                                                  row->load, 0};
        struct hb_settings s;
        hb_policy_settings(f, &c, &s);
        row->load_n[axle] = hb_wheel_load(&s);
    }
}

/* Share that makes the plain rule in the row's worst hour and axle, and why advice is to stop. */
static void worst_of(const struct hb_policy_set *set, struct hobble_policy_row *row)
{
    const struct hobble_fleet_season *season = &set->fleet->season[row->season];
    const int from = hb_policy_bin(HOBBLE_VARIANT_BASE, hb_season_quantile(season, 1e-12));
    const int to = hb_policy_bin(HOBBLE_VARIANT_BASE, hb_season_quantile(season, 1.0));
    row->rule_share = 1.0;
    row->rule_holds = true;
    for (size_t i = 0; i < set->count; i++) {
        const struct hobble_policy_condition *c = &set->condition[i];
        if (c->variant != HOBBLE_VARIANT_BASE || c->vehicle != row->vehicle ||
            c->load != row->load || c->tenth < from || c->tenth > to)
            continue;
        const struct hobble_policy_way *way = &set->solved[i].way[0];
        double made = way->counted;
        for (int k = 0; k < (int)(HB_POLICY_RULE / HOBBLE_REACH_STEP); k++)
            made -= way->ended[k];
        const double n = fmax(way->counted, 1.0);
        row->rule_share = fmin(row->rule_share, made / n);
        row->rule_holds = row->rule_holds &&
                          made / n >= hb_needed_share(set->fleet->required, fmax(way->worth, 1.0));
        row->rule_stops |= way->stops;
        row->unseen = set->solved[i].unseen > row->unseen ? set->solved[i].unseen : row->unseen;
    }
}

static void choose_speed(const struct hb_policy_set *set, struct hobble_policy_row *row)
{
    const double accepted = hb_fleet_value(set->fleet, HB_FLEET_ACCEPTED);
    double speed[HOBBLE_POLICY_SPEEDS], best = -1.0;
    struct hb_reach reach;
    hobble_policy_speeds(set->fleet, speed);
    for (int k = 0; k < HOBBLE_POLICY_SPEEDS; k++) {
        if (!hb_policy_allowed(set->fleet, speed[k]))
            continue;
        const double advised = hb_policy_advised(set, HOBBLE_VARIANT_BASE, row, k);
        hb_policy_reach(set, HOBBLE_VARIANT_BASE, row, k, &reach);
        row->limit[k] =
            hb_reach_limit(&reach, &set->fleet->help, accepted, 0.0, HB_POLICY_WHOLE, advised);
        const struct hobble_chance c = hb_reach_chance(&reach, &set->fleet->help, row->limit[k]);
        const double helped = 1.0 - c.stranded;
        if (helped < best + WORTH_SLOWING)
            continue;
        best = helped;
        row->speed = speed[k];
        row->distance = row->limit[k];
        row->advised = advised;
        row->policy = c;
    }
    row->go = row->distance > 0.0;
}

static void judge_row(const struct hb_policy_set *set, struct hobble_policy_row *row)
{
    const double accepted = hb_fleet_value(set->fleet, HB_FLEET_ACCEPTED);
    struct hb_reach reach;
    row->weight = weight_of(set->fleet, row);
    conditions_of(set->fleet, row);
    worst_of(set, row);
    choose_speed(set, row);
    hb_policy_reach(set, HOBBLE_VARIANT_BASE, row, 0, &reach);
    row->counted = reach.counted;
    row->rule = hb_reach_chance(&reach, &set->fleet->help, HB_POLICY_RULE);
    row->stop = hb_reach_chance(&reach, &set->fleet->help, 0.0);
    row->rule_barred = hb_policy_advised(set, HOBBLE_VARIANT_BASE, row, 0) <= 0.0;
    row->rule_holds = row->rule_holds && !row->rule_barred;
    row->rule_unsafe = row->rule.failed > accepted || row->rule_barred;
    row->rule_wasteful = !row->rule_unsafe && row->rule.lost > accepted;
    row->stops = row->go ? 0 : row->rule_stops;
}

/* ---- all of them ----------------------------------------------------------------------------- */

static void add_chance(struct hobble_chance *to, const struct hobble_chance *c, double weight)
{
    to->failed += weight * c->failed;
    to->stranded += weight * c->stranded;
    to->lost += weight * c->lost;
    to->error += weight * c->error;
}

static void judge_rows(const struct hb_policy_set *set, struct hobble_policy *p)
{
    const struct hobble_fleet *f = set->fleet;
    for (int v = 0; v < f->vehicles; v++)
        for (int l = 0; l < f->loads; l++)
            for (int s = 0; s < f->seasons; s++) {
                struct hobble_policy_row *row = &p->row[p->rows++];
                row->vehicle = v;
                row->load = l;
                row->season = s;
                judge_row(set, row);
                add_chance(&p->all, &row->policy, row->weight);
                add_chance(&p->all_rule, &row->rule, row->weight);
            }
    for (int v = 0; v < f->vehicles; v++)
        for (int axle = 0; axle < 2; axle++)
            p->evidence_items += (int)hobble_case_evidence_count(f->vehicle[v].axle[axle]);
    for (int v = 0; v < f->vehicles; v++)
        p->fleet_km += f->vehicle[v].count * f->vehicle[v].year_km;
}

enum hobble_status hobble_policy_judge(const struct hobble_fleet *fleet,
                                       const struct hobble_policy_condition *condition,
                                       const struct hobble_policy_solved *solved, size_t count,
                                       struct hobble_policy *out, struct hobble_faults *sink)
{
    const struct hb_policy_set set = {fleet, condition, solved, count};
    int closure = 0;
    (void)sink;
    memset(out, 0, sizeof *out);
    for (size_t i = 0; i < count; i++)
        closure = solved[i].closure > closure ? solved[i].closure : closure;
    out->conditions = count;
    out->closure = closure * 1e-9;
    judge_rows(&set, out);
    enum hobble_status status = hb_policy_find_rule(&set, out);
    if (status == HOBBLE_OK)
        status = hb_policy_costs(&set, out);
    if (status == HOBBLE_OK)
        status = hb_policy_shifts(&set, out);
    hb_policy_binning(&set, out);
    return status;
}
