/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test_policy_judge.c - what the policy says of solved conditions: thresholds, shifts, costs. */
#include "judged.h"

#include <check.h>
#include <math.h>
#include <string.h>

Suite *policy_judge_suite(void);

/* ---- thresholds ------------------------------------------------------------------------------ */

/* All tyres end after range; half the help is nearer than 10 km, half farther than all but the
 * last 5 km of the rule. */
static const struct hobble_policy_row *judged_at(struct judged *j, double range, double accepted)
{
    static const double distance[] = {10 * KM, 85 * KM};
    judged_set(j, "accepted_chance", accepted);
    ck_assert_int_eq(hobble_help_set(&j->fleet->help, HOBBLE_HELP_TABLE, distance, NULL, 2),
                     HOBBLE_OK);
    judged_alike(j, range, 40900);
    judged_make(j);
    return &j->policy->row[0];
}

/* Unsafe is over the accepted chance, and no more than that is not; wasteful the same of what is
 * lost. Half the help is beyond 80 km: tyres of 50 km fail in half the cases, tyres of 90 km lose
 * them. Source: docs/policy.md, Rows; arithmetic. */
START_TEST(over_the_accepted_chance)
{
    struct judged j;
    judged_prepare(&j);
    ck_assert(!judged_at(&j, 50 * KM, 0.5)->rule_unsafe);
    ck_assert(judged_at(&j, 50 * KM, 0.499)->rule_unsafe);
    ck_assert(!j.policy->row[0].rule_wasteful);
    ck_assert(!judged_at(&j, 90 * KM, 0.5)->rule_wasteful);
    ck_assert(judged_at(&j, 90 * KM, 0.499)->rule_wasteful);
    ck_assert(!j.policy->row[0].rule_unsafe && !j.policy->row[0].rule_barred);
    judged_free(&j);
}
END_TEST

/* The plain rule in the worst hour and axle of each row, and of no other row: half the tyres of one
 * condition end within the last half kilometre of the 80 km, or just behind it. The rule holds
 * where the required share is made beyond doubt, 0.95 and 1.96 deviations of 200 tyres: 0.9802.
 * Source: src/hobble/policy.h; docs/policy.md, Rows; arithmetic. */
START_TEST(worst_hour_of_a_row)
{
    struct judged j;
    judged_prepare(&j);
    for (size_t one = 0; one < j.count; one++) {
        const struct hobble_policy_condition *c = &j.list[one];
        if (c->variant != HOBBLE_VARIANT_BASE)
            continue;
        for (int over = 0; over < 2; over++) {
            struct hobble_policy_way *way = &j.solved[one].way[0];
            judged_alike(&j, 150 * KM, 40900);
            for (size_t i = 0; i < j.count; i++)
                j.solved[i].unseen = i == one ? 9000 : 7000;
            way->ended[300] = 100;
            way->ended[over ? 160 : 159] = 100;
            way->stops = 1 << HOBBLE_STOP_NEAR_RIM;
            judged_make(&j);
            for (int r = 0; r < j.policy->rows; r++) {
                const struct hobble_policy_row *row = &j.policy->row[r];
                const bool its = row->vehicle == c->vehicle && row->load == c->load &&
                                 row->season == (c->tenth > 200);
                ck_assert_double_eq_tol(row->rule_share, its && !over ? 0.5 : 1.0, 1e-12);
                ck_assert_int_eq(row->rule_holds, !(its && !over));
                ck_assert_int_eq(row->rule_stops, its ? 1 << HOBBLE_STOP_NEAR_RIM : 0);
                ck_assert_int_eq(row->unseen, its ? 9000 : 7000);
                ck_assert(row->go && row->stops == 0);
            }
            judged_alike(&j, 150 * KM, 40900);
            for (int n = 3; n < 5; n++) { /* 0.985 is enough, 0.98 is not */
                way->ended[300] = (unsigned short)(200 - n);
                way->ended[10] = (unsigned short)n;
                judged_make(&j);
                bool all = true;
                for (int r = 0; r < j.policy->rows; r++)
                    all = all && j.policy->row[r].rule_holds;
                ck_assert_int_eq(all, n < 4);
            }
        }
    }
    judged_free(&j);
}
END_TEST

/* Air and loads of a row are told: the coldest and the hottest hour of its season, and what stands
 * on a wheel of each axle, half of what the axle carries (arithmetic; the small fleet's seasons
 * have one temperature each). */
START_TEST(conditions_of_a_row)
{
    struct judged j;
    judged_prepare(&j);
    judged_alike(&j, 50 * KM, 40900);
    judged_make(&j);
    double km = 0.0;
    for (int v = 0; v < j.fleet->vehicles; v++)
        km += j.fleet->vehicle[v].count * j.fleet->vehicle[v].year_km;
    ck_assert_double_eq_tol(j.policy->fleet_km, km, 1e-6);
    for (int r = 0; r < j.policy->rows; r++) {
        const struct hobble_policy_row *row = &j.policy->row[r];
        const double air = 273.15 + (row->season == 0 ? -5.0 : 33.4);
        ck_assert_double_eq_tol(row->coldest, air, 1e-9);
        ck_assert_double_eq_tol(row->hottest, air, 1e-9);
        for (int axle = 0; axle < 2; axle++) {
            hobble_case *c = hobble_case_clone(j.fleet->vehicle[row->vehicle].axle[axle]);
            struct hobble_answer a;
            const double people = row->load == 0 ? 1.0 : row->vehicle == 0 ? 5.0 : 9.0;
            const int rows[] = {hobble_param_find("people"), hobble_param_find("luggage"),
                                hobble_param_find("members")};
            const double to[] = {people, row->load == 0 ? 10.0 : 40.0, 20.0};
            for (int k = 0; k < 3; k++)
                ck_assert_int_eq(hobble_case_set_number(c, rows[k], to[k], "", NULL), HOBBLE_OK);
            ck_assert_int_eq(hobble_case_set_word(c, hobble_param_find("wheel"),
                                                  axle == 0 ? "front_left" : "rear_left", "", NULL),
                             HOBBLE_OK);
            ck_assert_int_eq(hobble_range(c, 1, &a, NULL), HOBBLE_OK);
            ck_assert_double_eq_tol(row->load_n[axle], a.load, 1e-6);
            hobble_case_free(c);
        }
    }
    judged_free(&j);
}
END_TEST

/* Advice at 80 km/h of 40 km, at 65 km/h of 41 km, and none that fail: slowing brings
 * exp(-40/m) - exp(-41/m) more warnings to help, 0.4973 % with m = 16 km and 0.5021 % with
 * m = 16.1 km (arithmetic); 0.5 % is asked for (docs/policy.md, Rows). */
START_TEST(slowing_is_worth_it)
{
    for (int slower = 0; slower < 2; slower++) {
        struct judged j;
        judged_prepare(&j);
        j.fleet->help.mean = (slower ? 16.1 : 16.0) * KM;
        judged_alike(&j, 150 * KM, 40000);
        for (size_t i = 0; i < j.count; i++)
            j.solved[i].way[1].advised = 41000;
        judged_make(&j);
        for (int r = 0; r < j.policy->rows; r++) {
            const struct hobble_policy_row *row = &j.policy->row[r];
            ck_assert_double_eq_tol(row->speed, (slower ? 65.0 : 80.0) / 3.6, 1e-9);
            ck_assert_double_eq_tol(row->distance, (slower ? 41.0 : 40.0) * KM, 1e-9);
            ck_assert_double_eq_tol(row->advised, row->distance, 1e-9);
            ck_assert_double_eq_tol(row->limit[1], 41 * KM, 1e-9);
        }
        judged_free(&j);
    }
}
END_TEST

static const struct hobble_shift *shift_of(const struct judged *j, enum hobble_shift_code code)
{
    for (int i = 0; i < HOBBLE_SHIFTS; i++)
        if (j->policy->shift[i].code == code)
            return &j->policy->shift[i];
    ck_abort_msg("no shift of code %d", (int)code);
    return NULL;
}

/* n of 10 000 tyres end after 20 km, the others never; advice is 60 km, help m = 15 km, 2 % are
 * accepted. The way is 20 km instead where more than the accepted share fails. With help twice as
 * far that is where n exp(-20/30) passes 200, between 389 and 390; with half the chance where
 * n exp(-20/15) passes 100, between 379 and 380 (arithmetic). What is moved: docs/policy.md,
 * Sensitivity. */
START_TEST(shifts_by_hand)
{
    static const struct {
        unsigned short n;
        double help, chance; /* km of change */
    } rows[] = {{379, 0, 0}, {380, 0, 40}, {389, 0, 40}, {390, 40, 40}};
    for (size_t k = 0; k < sizeof rows / sizeof *rows; k++) {
        struct judged j;
        judged_prepare(&j);
        judged_alike(&j, 150 * KM, 60000);
        for (size_t i = 0; i < j.count; i++)
            for (int s = 0; s < HOBBLE_POLICY_SPEEDS; s++) {
                struct hobble_policy_way *way = &j.solved[i].way[s];
                way->counted = way->worth = 10000;
                way->ended[300] = 0; /* 150 km, as all_alike has it */
                way->ended[40] = rows[k].n;
            }
        judged_make(&j);
        ck_assert_double_eq_tol(j.policy->row[0].distance, 60 * KM, 1e-9);
        ck_assert_double_eq_tol(shift_of(&j, HOBBLE_SHIFT_HELP)->change, rows[k].help * KM, 1e-6);
        ck_assert_double_eq_tol(shift_of(&j, HOBBLE_SHIFT_CHANCE)->change, rows[k].chance * KM,
                                1e-6);
        ck_assert_double_eq_tol(shift_of(&j, HOBBLE_SHIFT_AIR)->change, 0.0, 1e-6);
        judged_free(&j);
    }
}
END_TEST

/* Each input that is moved is told under its own name, and go that turns to stop by the kilometres
 * that it turns for. Source: definition; weights as in rows_in_closed_form. */
START_TEST(shifts_have_their_names)
{
    static const struct {
        enum hobble_variant variant;
        enum hobble_shift_code code;
    } rows[] = {{HOBBLE_VARIANT_HEAVIER, HOBBLE_SHIFT_LOAD},
                {HOBBLE_VARIANT_WARMER, HOBBLE_SHIFT_AIR},
                {HOBBLE_VARIANT_LATER, HOBBLE_SHIFT_DELAY},
                {HOBBLE_VARIANT_UNVOUCHED, HOBBLE_SHIFT_HISTORY}};
    for (size_t k = 0; k < sizeof rows / sizeof *rows; k++) {
        struct judged j;
        judged_prepare(&j);
        judged_alike(&j, 150 * KM, 60000);
        for (size_t i = 0; i < j.count; i++)
            if (j.list[i].variant == rows[k].variant && j.list[i].vehicle == 1 &&
                j.list[i].load == 1)
                j.solved[i].way[0].go = 0;
        judged_make(&j);
        const double share = 30.0 / 70.0 * 0.25;
        ck_assert_int_eq(j.policy->shift[0].code, rows[k].code);
        ck_assert_double_eq_tol(j.policy->shift[0].flipped, share, 1e-12);
        ck_assert_double_eq_tol(j.policy->shift[0].change, share * 60 * KM, 1e-6);
        ck_assert_double_eq_tol(j.policy->shift[1].change, 0.0, 1e-6);
        judged_free(&j);
    }
}
END_TEST

/* One of the hours that are solved as they are ends at 30 km where its bin ends at 50 km: the plain
 * rule's chance is exp(-30/15) there and exp(-50/15) in the bin. Source: arithmetic. */
START_TEST(binning_of_chances)
{
    struct judged j;
    bool changed = false;
    judged_prepare(&j);
    judged_alike(&j, 50 * KM, 40900);
    for (size_t i = 0; i < j.count && !changed; i++)
        if (j.list[i].variant == HOBBLE_VARIANT_EXACT) {
            j.solved[i].way[0].ended[100] = 0;
            j.solved[i].way[0].ended[60] = 200;
            changed = true;
        }
    judged_make(&j);
    const double miss = exp(-50.0 / 15.0) - exp(-30.0 / 15.0);
    ck_assert_int_gt(j.policy->exact_hours, 1);
    ck_assert_double_eq_tol(j.policy->bin_chance, miss / j.policy->exact_hours, 1e-12);
    ck_assert_double_eq_tol(j.policy->bin_chance_most, -miss, 1e-12);
    ck_assert_double_eq_tol(j.policy->bin_distance, 0.0, 1e-12);
    judged_free(&j);
}
END_TEST

/* ---- the simple rule ------------------------------------------------------------------------- */

/* Full vehicles in the heat are allowed 55 km, all others 60 km: an exception for them brings the
 * others, 0.9 of the kilometres, exp(-55/m) - exp(-60/m) more, 0.1984 % with m = 10.72 km and
 * 0.2008 % with m = 10.75 km (arithmetic). 0.2 % is asked for (docs/policy.md, The simple rule). */
START_TEST(exception_is_worth_its_line)
{
    for (int worth = 0; worth < 2; worth++) {
        struct judged j;
        judged_prepare(&j);
        j.fleet->help.mean = (worth ? 10.75 : 10.72) * KM;
        judged_alike(&j, 150 * KM, 60000);
        for (size_t i = 0; i < j.count; i++)
            if (j.list[i].load == 1 && j.list[i].tenth > 200)
                for (int k = 0; k < HOBBLE_POLICY_SPEEDS; k++)
                    j.solved[i].way[k].advised = 55000;
        judged_make(&j);
        const struct hobble_simple_rule *s = &j.policy->simple;
        ck_assert_int_eq(s->exception, worth);
        ck_assert_double_eq_tol(s->distance, (worth ? 60 : 55) * KM, 1e-9);
        ck_assert_double_eq_tol(s->other, (worth ? 55 : 0) * KM, 1e-9);
        ck_assert_double_eq_tol(s->speed, 80.0 / 3.6, 1e-9);
        const double m = j.fleet->help.mean / KM, e = 0.1;
        const double stranded =
            worth ? (1.0 - e) * exp(-60.0 / m) + e * exp(-55.0 / m) : exp(-55 / m);
        ck_assert_double_eq_tol(s->reaches, 1.0 - stranded, 1e-12);
        ck_assert_double_eq_tol(s->reaches_best,
                                1.0 - (1.0 - e) * exp(-60.0 / m) - e * exp(-55.0 / m), 1e-12);
        for (int r = 0; r < j.policy->rows; r++) {
            const struct hobble_policy_row *row = &j.policy->row[r];
            const bool last = row->load == 1 && row->season == 1;
            ck_assert_double_eq_tol(row->told, worth && last ? s->other : s->distance, 1e-9);
        }
        judged_free(&j);
    }
}
END_TEST

/* n of 10 000 tyres end after 20 km, advice is 60 km, m = 15 km: n exp(-20/15) / 10 000 fail, and
 * the search keeps one sampling error away from the accepted 2 %. The deviation of a mean is the
 * root of (s b^2 - (s b)^2) / n; with one member more that ends where the way does both together
 * pass 2 % between n = 732 and 733 (arithmetic; docs/policy.md, The simple rule). */
START_TEST(one_error_away)
{
    for (int over = 0; over < 2; over++) {
        struct judged j;
        judged_prepare(&j);
        judged_alike(&j, 150 * KM, 60000);
        for (size_t i = 0; i < j.count; i++)
            for (int k = 0; k < HOBBLE_POLICY_SPEEDS; k++) {
                struct hobble_policy_way *way = &j.solved[i].way[k];
                way->counted = way->worth = 10000;
                way->ended[300] = 0; /* 150 km, as judged_alike has it */
                way->ended[40] = (unsigned short)(over ? 733 : 732);
            }
        judged_make(&j);
        ck_assert_double_eq_tol(j.policy->row[0].distance, 60 * KM, 1e-9);
        ck_assert_double_eq_tol(j.policy->simple.distance, (over ? 20 : 60) * KM, 1e-9);
        ck_assert_double_eq_tol(j.policy->simple.failed, over ? 0.0 : 0.0732 * exp(-20.0 / 15.0),
                                1e-12);
        judged_free(&j);
    }
}
END_TEST

/* Tyres of the fresh sample end after 30 km in the bus (half of them) and after 45 km in the full
 * car (all): what is told of it is the worst row's, and the kilometres' mean. Source: definition;
 * weights as in rows_in_closed_form. */
START_TEST(fresh_sample_is_told)
{
    struct judged j;
    judged_prepare(&j);
    judged_alike(&j, 150 * KM, 60000);
    for (size_t i = 0; i < j.count; i++)
        for (int k = 0; k < HOBBLE_POLICY_SPEEDS && j.list[i].variant == HOBBLE_VARIANT_FRESH;
             k++) {
            struct hobble_policy_way *way = &j.solved[i].way[k];
            const bool bus = j.list[i].vehicle == 1, full = j.list[i].load == 1;
            way->counted = way->worth = bus ? 200 : 150;
            way->ended[300] = bus ? 100 : full ? 0 : 150;
            way->ended[60] = bus ? 100 : 0;
            way->ended[90] = !bus && full ? 150 : 0;
        }
    judged_make(&j);
    const struct hobble_simple_rule *s = &j.policy->simple;
    const double bus = 0.5 * exp(-30.0 / 15.0), full = exp(-45.0 / 15.0), end = exp(-60.0 / 15.0);
    ck_assert(s->found && !s->verified);
    ck_assert_double_eq_tol(s->fresh, fmax(bus, full), 1e-12);
    ck_assert_int_eq(j.policy->row[s->fresh_row].vehicle, 1);
    ck_assert_int_eq(s->fresh_row, 4); /* the first of the bus: two loads and seasons before */
    const double spread = 0.5 * exp(-60.0 / 15.0) - bus * bus;
    ck_assert_double_eq_tol(s->fresh_error, sqrt(spread / 200.0 + end * end / 40000.0), 1e-12);
    ck_assert_double_eq_tol(s->failed, 0.0, 1e-12);
    ck_assert_double_eq_tol(s->failed_error, end / 200.0, 1e-12);
    const double car = 4.0 / 7.0;
    ck_assert_double_eq_tol(s->all_fresh.failed, 3.0 / 7.0 * bus + car * 0.25 * full, 1e-12);
    ck_assert_double_eq_tol(s->all.failed, 0.0, 1e-12);
    ck_assert_double_eq_tol(s->all.stranded, end, 1e-12);
    ck_assert_double_eq_tol(s->all.error, end / 200.0, 1e-12);
    ck_assert_int_eq(j.policy->counted, 150);
    ck_assert_int_eq(j.policy->row[4].counted, 200);
    judged_free(&j);
}
END_TEST

/* ---- costs ----------------------------------------------------------------------------------- */

/* At the break-even rate both constructions cost the same (definition); the band holds the middle;
 * events in a million km are punctures times the chance (arithmetic). */
START_TEST(costs_break_even)
{
    struct judged j;
    int met = 0;
    judged_prepare(&j);
    judged_alike(&j, 50 * KM, 40900);
    judged_make(&j);
    const int every = hobble_fleet_find("puncture_every");
    const double now = j.fleet->number[every].value;
    const struct hobble_policy first = *j.policy;
    for (int b = 0; b < HOBBLE_BUILDS; b++) {
        const struct hobble_policy_cost *c = &first.cost[b];
        ck_assert(c->cost.p5 < c->cost.middle && c->cost.middle < c->cost.p95);
        ck_assert_double_eq_tol(c->stranded.middle, c->stranding * 1e6 / now, 1e-9);
        ck_assert_double_eq_tol(c->cost.middle, c->fixed + c->a_puncture * 1e5 / now, 1e-9);
        if (b == HOBBLE_BUILD_SELF || c->pays != HOBBLE_BREAK_AT)
            continue;
        j.fleet->number[every].value = 1e5 / c->break_even;
        judged_make(&j);
        ck_assert_double_eq_tol(j.policy->cost[b].cost.middle,
                                j.policy->cost[HOBBLE_BUILD_SELF].cost.middle, 1e-6);
        met++;
    }
    ck_assert_int_ge(met, 2);
    /* by hand: with all kinds nails and no wheel changed by the driver, a spare always strands */
    j.fleet->number[hobble_fleet_find("spare_works")].value = 0.0;
    judged_make(&j);
    ck_assert_double_eq_tol(j.policy->cost[HOBBLE_BUILD_SPARE].stranding, 1.0, 1e-12);
    judged_free(&j);
}
END_TEST

/* By hand, on the built-in prices (src/study/policy_rows.inc): four tyres of 40 000 km for
 * 100 000 km, fuel of 6.5 l at 1.7 per 100 km and its part for rolling, what is on board; a
 * puncture costs the tyre, repaired in 0.6 of the 0.62 + 0.18 in the tread where it did not run
 * flat, an hour at the shop, recovery and three hours when stranded, three quarters of an hour at
 * the roadside when not, at 45 the hour. Source: docs/policy.md, Costs; arithmetic. */
START_TEST(costs_by_hand)
{
    const double fuel = 6.5 * 1.7 * 1000.0, tread = 0.62 + 0.18, again = 0.6 * tread;
    const double carried = (tread + 0.08 * 0.9 + 0.08 * 0.6) * (1.0 - exp(-40.0 / 15.0));
    const struct {
        enum hobble_build build;
        double price, more_fuel, on_board, stranding;
        bool repaired, roadside;
    } rows[] = {{HOBBLE_BUILD_SPARE, 90, 0.003, 60, 1.0 - 0.8, true, true},
                {HOBBLE_BUILD_KIT, 90, 0.0, 35, 1.0 - tread * 0.75, false, true},
                {HOBBLE_BUILD_LINED, 115, 0.03 * 0.15, 0, 1.0 - tread * 0.85, true, false},
                {HOBBLE_BUILD_EXTENDED, 115, 0.04 * 0.15, 0, 1.0 - carried, false, false},
                {HOBBLE_BUILD_SELF, 125, 0.08 * 0.15, 0, 1.0 - carried, false, false}};
    struct judged j;
    judged_prepare(&j);
    judged_alike(&j, 50 * KM, 40900);
    judged_make(&j);
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        const struct hobble_policy_cost *c = &j.policy->cost[rows[i].build];
        const double p = rows[i].price, s = rows[i].stranding;
        const double tyre = rows[i].repaired ? (1.0 - again) * p + again * 30.0 : p;
        ck_assert_double_eq_tol(c->stranding, s, 1e-12);
        ck_assert_double_eq_tol(c->fixed,
                                4.0 * p * 2.5 + rows[i].more_fuel * fuel + rows[i].on_board, 1e-9);
        ck_assert_double_eq_tol(c->a_puncture,
                                tyre + 45.0 + s * (250.0 + 3.0 * 45.0) +
                                    (rows[i].roadside ? (1.0 - s) * 0.75 * 45.0 : 0.0),
                                1e-9);
    }
    judged_free(&j);
}
END_TEST

/* On extended-mobility tyres a fleet drives as fast as it may. By hand: 20 km are advised at the
 * rule's speed, 40 at the next and 30 at the slowest; exponential help of 15 km and the shares of
 * punctures as above. */
START_TEST(extended_at_the_fastest)
{
    static const struct {
        double limit, way;
    } rows[] = {{80.0, 20.0}, {79.0, 40.0}, {66.0, 40.0}, {60.0, 40.0}, {45.0, 40.0}};
    static const int advised[HOBBLE_POLICY_SPEEDS] = {20900, 40900, 30900};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        const double carried =
            (0.62 + 0.18 + 0.08 * 0.9 + 0.08 * 0.6) * (1.0 - exp(-rows[i].way / 15.0));
        struct judged j;
        judged_prepare(&j);
        judged_set(&j, "speed_limit", rows[i].limit);
        judged_alike(&j, 50 * KM, 40900);
        for (size_t c = 0; c < j.count; c++)
            for (int k = 0; k < HOBBLE_POLICY_SPEEDS; k++)
                if (j.list[c].variant == HOBBLE_VARIANT_EXTENDED)
                    j.solved[c].way[k].advised = advised[k];
        judged_make(&j);
        ck_assert_double_eq_tol(j.policy->cost[HOBBLE_BUILD_EXTENDED].stranding, 1.0 - carried,
                                1e-12);
        judged_free(&j);
    }
}
END_TEST

/* A band of nothing but one lognormal number is that number's: with a spread of 0.15 of the price
 * of a tyre alone, and nothing else that costs, the cost lies between exp(+-1.645 * 0.15) of its
 * middle. 2000 draws know such a quantile to 0.7 % of itself (sqrt(p q / n) over the density);
 * three of that are allowed. Source: the quantiles of a normal distribution. */
START_TEST(band_of_one_price)
{
    struct judged j;
    size_t count;
    const struct hobble_fleet_row *row = hobble_fleet_table(&count);
    judged_prepare(&j);
    judged_alike(&j, 50 * KM, 40900);
    for (size_t i = 0; i < count; i++) {
        j.fleet->number[i].spread = strcmp(row[i].key, "price_self_supporting") == 0 ? 0.15 : 0.0;
        if (strstr(row[i].key, "fuel_price") || strstr(row[i].key, "hours_") ||
            strcmp(row[i].key, "recovery_price") == 0)
            j.fleet->number[i].value = 0.0;
    }
    judged_make(&j);
    const struct hobble_spread *c = &j.policy->cost[HOBBLE_BUILD_SELF].cost;
    ck_assert_double_eq_tol(c->p5 / c->middle / exp(-1.6449 * 0.15), 1.0, 0.021);
    ck_assert_double_eq_tol(c->p95 / c->middle / exp(1.6449 * 0.15), 1.0, 0.021);
    const struct hobble_spread *none = &j.policy->cost[HOBBLE_BUILD_LINED].cost;
    ck_assert_double_eq_tol(none->p5, none->middle, 1e-9);
    ck_assert_double_eq_tol(none->p95, none->middle, 1e-9);
    judged_free(&j);
}
END_TEST

/* Kinds are shares of all punctures, whatever they add up to (docs/policy.md, the fleet file). */
START_TEST(kinds_are_shares)
{
    static const char *const kinds[] = {"share_nail", "share_shoulder", "share_sidewall",
                                        "share_burst", "share_slow"};
    struct judged j;
    judged_prepare(&j);
    judged_alike(&j, 50 * KM, 40900);
    judged_make(&j);
    const struct hobble_policy before = *j.policy;
    for (size_t i = 0; i < sizeof kinds / sizeof *kinds; i++)
        j.fleet->number[hobble_fleet_find(kinds[i])].value *= 0.37;
    judged_make(&j);
    for (int b = 0; b < HOBBLE_BUILDS; b++) {
        ck_assert_double_eq_tol(j.policy->cost[b].stranding, before.cost[b].stranding, 1e-12);
        ck_assert_double_eq_tol(j.policy->cost[b].cost.p5, before.cost[b].cost.p5, 1e-6);
        ck_assert_double_eq_tol(j.policy->cost[b].cost.p95, before.cost[b].cost.p95, 1e-6);
    }
    judged_free(&j);
}
END_TEST

/* Every kind that a stiff wall carries strands as the rows say, every other always (definition). */
START_TEST(kinds_add_up)
{
    struct judged j;
    judged_prepare(&j);
    judged_alike(&j, 50 * KM, 40900);
    judged_make(&j);
    const double rows = exp(-40.0 / 15.0);
    const double carried = 0.62 + 0.18 + 0.08 * 0.9 + 0.08 * 0.6; /* of the built-in table */
    ck_assert_double_eq_tol(j.policy->cost[HOBBLE_BUILD_SELF].stranding,
                            1.0 - carried * (1.0 - rows), 1e-12);
    judged_free(&j);
}
END_TEST

/* Half a kilometre more of range in one hour's condition than in its bin is found as binning. */
START_TEST(binning_is_told)
{
    struct judged j;
    judged_prepare(&j);
    judged_alike(&j, 50 * KM, 40900);
    for (size_t i = 0; i < j.count; i++)
        if (j.list[i].variant == HOBBLE_VARIANT_EXACT)
            j.solved[i].way[0].advised = 40400;
    judged_make(&j);
    ck_assert_int_gt(j.policy->exact_hours, 0);
    ck_assert_double_eq_tol(j.policy->bin_distance, 500.0, 1e-9);
    ck_assert_double_eq_tol(j.policy->bin_chance_most, 0.0, 1e-12);
    judged_free(&j);
}
END_TEST

/* What is moved is told by how far it moves the way, the largest first. */
START_TEST(sensitivity_is_told)
{
    struct judged j;
    judged_prepare(&j);
    judged_alike(&j, 150 * KM, 60000);
    for (size_t i = 0; i < j.count; i++)
        for (int k = 0; k < HOBBLE_POLICY_SPEEDS; k++) {
            if (j.list[i].variant == HOBBLE_VARIANT_HEAVIER)
                j.solved[i].way[k].advised = 35000;
            if (j.list[i].variant == HOBBLE_VARIANT_LATER)
                j.solved[i].way[k].go = 0;
        }
    judged_make(&j);
    const struct hobble_shift *s = j.policy->shift;
    ck_assert_int_eq(s[0].code, HOBBLE_SHIFT_DELAY);
    ck_assert_double_eq_tol(s[0].change, 60 * KM, 1e-6);
    ck_assert_double_eq_tol(s[0].flipped, 1.0, 1e-12);
    ck_assert_int_eq(s[1].code, HOBBLE_SHIFT_LOAD);
    ck_assert_double_eq_tol(s[1].change, 25 * KM, 1e-6);
    ck_assert_double_eq_tol(s[1].flipped, 0.0, 1e-12);
    judged_free(&j);
}
END_TEST

Suite *policy_judge_suite(void)
{
    Suite *suite = suite_create("policy_judge");
    TCase *all = tcase_create("policy_judge");
    tcase_add_test(all, over_the_accepted_chance);
    tcase_add_test(all, worst_hour_of_a_row);
    tcase_add_test(all, conditions_of_a_row);
    tcase_add_test(all, slowing_is_worth_it);
    tcase_add_test(all, shifts_by_hand);
    tcase_add_test(all, shifts_have_their_names);
    tcase_add_test(all, binning_of_chances);
    tcase_add_test(all, exception_is_worth_its_line);
    tcase_add_test(all, one_error_away);
    tcase_add_test(all, fresh_sample_is_told);
    tcase_add_test(all, costs_break_even);
    tcase_add_test(all, costs_by_hand);
    tcase_add_test(all, extended_at_the_fastest);
    tcase_add_test(all, band_of_one_price);
    tcase_add_test(all, kinds_are_shares);
    tcase_add_test(all, kinds_add_up);
    tcase_add_test(all, binning_is_told);
    tcase_add_test(all, sensitivity_is_told);
    suite_add_tcase(suite, all);
    return suite;
}
