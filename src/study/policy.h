/* SPDX-License-Identifier: GPL-3.0-or-later */
/* policy.h - what the parts of the fleet's policy share. */
#ifndef HB_STUDY_POLICY_H
#define HB_STUDY_POLICY_H

#include "core/param.h"

enum hb_fleet_id {
#define ROW(id, ...) HB_FLEET_##id,
#include "study/policy_rows.inc"
#undef ROW
    HB_FLEET_COUNT
};

#define HB_POLICY_LEAST 5e3 /* m: a shorter way is no help; as advice has it */
#define HB_POLICY_WHOLE 1e3 /* m: distances are told in whole kilometres */
#define HB_POLICY_FIVE  5e3 /* m: those of a rule to be remembered in fives */
#define HB_POLICY_RULE                                                                             \
    80e3 /* m: the plain rule's distance; its speed is the first of the speeds                     \
          */

double hb_fleet_value(const struct hobble_fleet *fleet, enum hb_fleet_id id);
/* Whether advice may be given for a speed: no local limit is below it. */
bool hb_policy_allowed(const struct hobble_fleet *fleet, double speed);

/* Width of a variant's bins, and the middle of the one that holds a temperature, in tenths of a
 * degree: 1 K, and 4 K where a rule that was found is only verified. */
int hb_policy_width(enum hobble_variant variant);
int hb_policy_bin(enum hobble_variant variant, int tenth);
/* The tenth of a season below which a share of its hours lies; least value for a season of no
 * hours. */
int hb_season_quantile(const struct hobble_fleet_season *season, double share);

/* Settings of one condition: the vehicle's case with load, air and history put in. */
void hb_policy_settings(const struct hobble_fleet *fleet,
                        const struct hobble_policy_condition *condition, struct hb_settings *s);

/* ---- distributions --------------------------------------------------------------------------- */

/* Share of tyres that end in each step of distance; the last: beyond them all. */
struct hb_reach {
    double share[HOBBLE_REACH_BINS + 1];
    double total;
    int counted; /* members that the shares rest on */
    int worth;   /* tyres that they are worth */
};
void hb_reach_add(struct hb_reach *reach, const struct hobble_policy_way *way, double weight);
/* Chances where at most distance (m) may be driven. A tyre that ends within a step counts as ended
 * at its beginning. */
struct hobble_chance hb_reach_chance(const struct hb_reach *reach, const struct hobble_help *help,
                                     double distance);
/* The longest way in whole steps (m) up to most that keeps the chance of failing, with errors times
 * its sampling error on top, at or below accepted; 0 when less than HB_POLICY_LEAST. */
double hb_reach_limit(const struct hb_reach *reach, const struct hobble_help *help, double accepted,
                      double errors, double step, double most);

/* ---- conditions and their answers ------------------------------------------------------------ */

struct hb_policy_set {
    const struct hobble_fleet *fleet;
    const struct hobble_policy_condition *condition;
    const struct hobble_policy_solved *solved;
    size_t count;
};
/* NULL when the list does not hold it. */
const struct hobble_policy_solved *hb_policy_look(const struct hb_policy_set *set,
                                                  enum hobble_variant variant, int vehicle,
                                                  int axle, int load, int tenth);
/* Distribution of a row's year at a speed, BASE or FRESH, or EXTENDED at the middle of its season.
 */
void hb_policy_reach(const struct hb_policy_set *set, enum hobble_variant variant,
                     const struct hobble_policy_row *row, int speed, struct hb_reach *reach);
/* Advised distance of the worse axle, m, within the local limit, over the hours of the season
 * (BASE); or at its middle (EXTENDED) or hottest hour. */
double hb_policy_advised(const struct hb_policy_set *set, enum hobble_variant variant,
                         const struct hobble_policy_row *row, int speed);

/* Places that a fleet's speed has in the list of speeds, or -1. */
int hb_policy_speed_place(const struct hobble_fleet *fleet, double speed);

/* ---- parts of the judgement ------------------------------------------------------------------ */

/* Finds the simple rule for rows that are judged. */
enum hobble_status hb_policy_find_rule(const struct hb_policy_set *set, struct hobble_policy *p);
/* Costs by construction. */
enum hobble_status hb_policy_costs(const struct hb_policy_set *set, struct hobble_policy *p);
/* What would change the policy, and the error of binning. */
enum hobble_status hb_policy_shifts(const struct hb_policy_set *set, struct hobble_policy *p);
void hb_policy_binning(const struct hb_policy_set *set, struct hobble_policy *p);

#endif
