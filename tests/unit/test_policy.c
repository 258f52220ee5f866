/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test_policy.c - the arithmetic of the fleet's policy against closed forms. */
#include "advice/ensemble.h"
#include "judged.h"
#include "study/policy.h"

#include <check.h>
#include <gsl/gsl_randist.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

Suite *policy_suite(void);

static struct hobble_help *help_of(double mean)
{
    struct hobble_help *help = calloc(1, sizeof *help);
    ck_assert_ptr_nonnull(help);
    help->kind = HOBBLE_HELP_EXPONENTIAL;
    help->mean = mean;
    return help;
}

/* ---- chances --------------------------------------------------------------------------------- */

/* Every tyre ends after exactly r; help is exponential with mean m. Then X > r has the chance
 * exp(-r/m) (arithmetic), and with at most D < r allowed the chance of stranding is exp(-D/m). */
START_TEST(constant_range)
{
    static const double r[] = {5, 12.5, 40, 79.5}, m[] = {3, 15, 60};
    for (size_t i = 0; i < sizeof r / sizeof *r; i++)
        for (size_t k = 0; k < sizeof m / sizeof *m; k++) {
            struct hobble_help *help = help_of(m[k] * KM);
            struct hobble_policy_way way = {.counted = 300, .worth = 300};
            struct hb_reach reach = {.total = 0.0};
            way.ended[(int)(r[i] * KM / HOBBLE_REACH_STEP)] = 300;
            hb_reach_add(&reach, &way, 0.7);
            const struct hobble_chance far_way = hb_reach_chance(&reach, help, 80.0 * KM);
            ck_assert_double_eq_tol(far_way.failed, exp(-r[i] / m[k]), 1e-12);
            ck_assert_double_eq_tol(far_way.stranded, exp(-r[i] / m[k]), 1e-12);
            ck_assert_double_eq_tol(far_way.lost, 0.0, 1e-12);
            const double d = 0.5 * r[i];
            const struct hobble_chance near_way = hb_reach_chance(&reach, help, d * KM);
            ck_assert_double_eq_tol(near_way.failed, 0.0, 1e-12);
            ck_assert_double_eq_tol(near_way.stranded, exp(-d / m[k]), 1e-12);
            ck_assert_double_eq_tol(near_way.lost, exp(-d / m[k]) - exp(-r[i] / m[k]), 1e-12);
            const struct hobble_chance stop = hb_reach_chance(&reach, help, 0.0);
            ck_assert_double_eq_tol(stop.failed, 0.0, 1e-12);
            ck_assert_double_eq_tol(stop.stranded, 1.0, 1e-12);
            free(help);
        }
}
END_TEST

/* Ranges exponential with mean a, too: P(R < min(X, D)) = m/(a+m) (1 - exp(-D (1/a + 1/m)))
 * (arithmetic). Counting an end at the beginning of its half kilometre makes it larger by up to
 * exp(0.5 km/m), never smaller; rounding to whole members moves it by less than a bin's share. */
START_TEST(exponential_range)
{
    const double a = 70.0, m = 15.0, d = 60.0;
    enum { N = 60000 };
    struct hobble_help *help = help_of(m * KM);
    struct hobble_policy_way way = {.counted = N, .worth = N};
    struct hb_reach reach = {.total = 0.0};
    for (int i = 0; i < HOBBLE_REACH_BINS; i++)
        way.ended[i] = (unsigned short)lround(N * (exp(-0.5 * i / a) - exp(-0.5 * (i + 1) / a)));
    hb_reach_add(&reach, &way, 1.0);
    const double exact = m / (a + m) * (1.0 - exp(-d * (1.0 / a + 1.0 / m)));
    const double got = hb_reach_chance(&reach, help, d * KM).failed;
    ck_assert_double_ge(got, exact * (1.0 - 1e-3));
    ck_assert_double_le(got, exact * exp(0.5 / m) * (1.0 + 1e-3));
    free(help);
}
END_TEST

/* A table: half the help within 10 km, the rest at 30 km; P(X > d) steps (definition). */
START_TEST(table_help)
{
    static struct hobble_help help;
    const double distance[] = {30 * KM, 10 * KM}, weight[] = {2.0, 2.0};
    ck_assert_int_eq(hobble_help_set(&help, HOBBLE_HELP_TABLE, distance, weight, 2), HOBBLE_OK);
    const double at[] = {0, 9.999, 10, 29.9, 30, 500}, want[] = {1, 1, 0.5, 0.5, 0, 0};
    for (int i = 0; i < 6; i++)
        ck_assert_double_eq_tol(hobble_help_beyond(&help, at[i] * KM), want[i], 1e-12);
    ck_assert_double_eq_tol(help.mean, 20 * KM, 1e-6);
    /* no help is beyond the last, whatever is left of sums such as 0.1 + 0.2 + 0.3 */
    const double three[] = {10 * KM, 30 * KM, 50 * KM}, share[] = {0.1, 0.2, 0.3};
    ck_assert_int_eq(hobble_help_set(&help, HOBBLE_HELP_TABLE, three, share, 3), HOBBLE_OK);
    ck_assert_double_eq(hobble_help_beyond(&help, 50 * KM), 0.0);
    ck_assert_double_eq_tol(hobble_help_beyond(&help, 30 * KM), 0.5, 1e-12);
    ck_assert_double_eq_tol(help.mean, 10 / 6.0 * KM + 10 * KM + 25 * KM, 1e-6);
    ck_assert_int_eq(hobble_help_set(&help, HOBBLE_HELP_TABLE, distance, weight, 0),
                     HOBBLE_E_RANGE);
}
END_TEST

/* Whatever is allowed, every warning either reaches help, fails, or stops short; and those that
 * would have failed with no limit fail or stop short now: stranded - lost = P(X > R) for every D.
 */
START_TEST(shares_are_conserved)
{
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
    struct hobble_help *help = help_of(22.0 * KM);
    for (int round = 0; round < 40; round++) {
        struct hb_reach reach = {.total = 0.0};
        for (int part = 0; part < 3; part++) {
            struct hobble_policy_way way = {.counted = 200, .worth = 200};
            for (int i = 0; i < 150; i++)
                way.ended[gsl_rng_uniform_int(rng, HOBBLE_REACH_BINS)]++;
            hb_reach_add(&reach, &way, 0.1 + gsl_rng_uniform(rng));
        }
        double sum = 0.0, before = 2.0;
        for (int i = 0; i <= HOBBLE_REACH_BINS; i++)
            sum += reach.share[i];
        ck_assert_double_eq_tol(sum, reach.total, 1e-12);
        const double unlimited = hb_reach_chance(&reach, help, 1e9).stranded;
        for (double d = 0.0; d <= 160 * KM; d += 7 * KM) {
            const struct hobble_chance c = hb_reach_chance(&reach, help, d);
            ck_assert_double_eq_tol(c.stranded - c.lost, unlimited, 1e-12);
            ck_assert_double_le(c.failed, c.stranded + 1e-15);
            ck_assert_double_le(c.stranded, before + 1e-15);
            before = c.stranded;
        }
    }
    free(help);
    gsl_rng_free(rng);
}
END_TEST

/* The sampling error that is told is the deviation over repeated samples: 600 of them know it to
 * 3 % (a deviation's own relative deviation is 1/sqrt(2 n)), of which four are allowed; the part
 * for "one member more" is left out of the comparison by help that is never beyond the way. */
START_TEST(monte_carlo_error)
{
    enum { ROUNDS = 600, N = 250 };
    static struct hobble_help help;
    const double distance[] = {10 * KM, 30 * KM, 60 * KM};
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
    double sum = 0.0, squares = 0.0, told = 0.0;
    ck_assert_int_eq(hobble_help_set(&help, HOBBLE_HELP_TABLE, distance, NULL, 3), HOBBLE_OK);
    for (int round = 0; round < ROUNDS; round++) {
        struct hobble_policy_way way = {.counted = N, .worth = N};
        struct hb_reach reach = {.total = 0.0};
        for (int i = 0; i < N; i++) {
            const double end = gsl_ran_exponential(rng, 60 * KM) / HOBBLE_REACH_STEP;
            if (end < HOBBLE_REACH_BINS)
                way.ended[(int)end]++;
        }
        hb_reach_add(&reach, &way, 1.0);
        const struct hobble_chance c = hb_reach_chance(&reach, &help, 60 * KM);
        sum += c.failed;
        squares += c.failed * c.failed;
        told += c.error;
    }
    const double mean = sum / ROUNDS, deviation = sqrt(squares / ROUNDS - mean * mean);
    ck_assert_double_eq_tol(told / ROUNDS / deviation, 1.0, 0.12);
    gsl_rng_free(rng);
}
END_TEST

/* ---- conditions ------------------------------------------------------------------------------ */

static void same_condition(const struct hobble_policy_condition *c, struct hobble_answer *a,
                           const struct hobble_fleet *fleet, double kmh)
{
    hobble_case *ask = hobble_case_clone(fleet->vehicle[c->vehicle].axle[c->axle]);
    const struct {
        const char *key;
        double value;
    } set[] = {{"members", fleet->members},
               {"seed", fleet->seed},
               {"ambient", c->tenth / 10.0},
               {"unseen", 5.0},
               {"speed_before", 80.0},
               {"speed", kmh},
               {"people", c->load == 0      ? 1.0
                          : c->vehicle == 0 ? 5.0
                                            : 9.0},
               {"luggage", c->load == 0 ? 10.0 : 40.0}};
    for (size_t i = 0; i < sizeof set / sizeof *set; i++)
        ck_assert_int_eq(
            hobble_case_set_number(ask, hobble_param_find(set[i].key), set[i].value, "", NULL),
            HOBBLE_OK);
    ck_assert_int_eq(hobble_case_set_word(ask, hobble_param_find("wheel"),
                                          c->axle == 0 ? "front_left" : "rear_left", "", NULL),
                     HOBBLE_OK);
    ck_assert_int_eq(hobble_range(ask, 1, a, NULL), HOBBLE_OK);
    hobble_case_free(ask);
}

/* What is known of the tyres of the car: of the front ones less than of those behind. */
static void tell(struct hobble_fleet *fleet)
{
    for (int axle = 0; axle < 2; axle++) {
        struct hobble_evidence item;
        hobble_evidence_begin(HOBBLE_EVIDENCE_RUN, &item);
        item.of = HOBBLE_RUN_ANOTHER_UNIT;
        item.outcome = HOBBLE_RUN_ENDED;
        item.load_share = 0.7;
        item.distance = axle == 0 ? 160e3 : 60e3;
        ck_assert_int_eq(hobble_case_evidence_add(fleet->vehicle[0].axle[axle], &item, NULL),
                         HOBBLE_OK);
    }
}

/* Advice is that of the driver's own question, rounded down to a metre, without evidence (_i 0) and
 * with it; and no farther than the rule and the maker go. Of the bus nothing is known. */
START_TEST(advice_is_the_drivers)
{
    struct hobble_fleet *fleet = judged_fleet();
    if (_i > 0)
        tell(fleet);
    struct hobble_policy_condition *list;
    size_t count;
    ck_assert_int_eq(hobble_policy_list(fleet, &list, &count, NULL), HOBBLE_OK);
    int compared = 0;
    for (size_t i = 0; i < count && list[i].variant == HOBBLE_VARIANT_BASE; i += 3) {
        struct hobble_policy_solved s;
        struct hobble_answer a;
        ck_assert_int_eq(hobble_policy_solve(fleet, &list[i], 1, 1, NULL, NULL, &s, NULL),
                         HOBBLE_OK);
        for (int k = 0; k < HOBBLE_POLICY_SPEEDS; k++) {
            static const double kmh[] = {80, 65, 50};
            same_condition(&list[i], &a, fleet, kmh[k]);
            ck_assert_int_eq(s.way[k].go, a.verdict == HOBBLE_GO);
            ck_assert_int_eq(s.way[k].advised, (int)floor(a.advised_distance));
            ck_assert_int_eq(s.way[k].counted, a.counted);
            ck_assert_int_eq(a.evidence_items, _i > 0 && list[i].vehicle == 0);
            ck_assert_int_eq(s.way[k].worth,
                             a.evidence_items > 0 ? (int)a.evidence_effective : a.counted);
            ck_assert_int_le(s.way[k].advised, (int)fmin(a.cap, 80e3));
            compared++;
        }
    }
    ck_assert_int_ge(compared, 15);
    free(list);
    hobble_fleet_free(fleet);
}
END_TEST

/* Each distinct condition once, in one order; both axles and every load (definition). */
START_TEST(list_has_each_once)
{
    struct hobble_fleet *fleet = judged_fleet();
    struct hobble_policy_condition *list;
    size_t count, base = 0;
    ck_assert_int_eq(hobble_policy_list(fleet, &list, &count, NULL), HOBBLE_OK);
    for (size_t i = 0; i < count; i++) {
        base += list[i].variant == HOBBLE_VARIANT_BASE;
        for (size_t k = 0; k < i; k++)
            ck_assert(memcmp(&list[i], &list[k], sizeof list[i]) != 0);
    }
    ck_assert_uint_eq(base, 2 * 2 * 2 * 2); /* vehicles, axles, loads, temperatures */
    ck_assert_int_eq(hb_policy_bin(HOBBLE_VARIANT_BASE, 334), 330); /* 33.4 C */
    ck_assert_int_eq(hb_policy_bin(HOBBLE_VARIANT_BASE, 335), 340);
    ck_assert_int_eq(hb_policy_bin(HOBBLE_VARIANT_BASE, -54), -50);
    ck_assert_int_eq(hb_policy_bin(HOBBLE_VARIANT_BASE, -56), -60);
    free(list);
    hobble_fleet_free(fleet);
}
END_TEST

/* The same bytes for any cut of the list and any number of threads, with evidence (_i 1) too. */
START_TEST(cuts_and_threads)
{
    struct hobble_fleet *fleet = judged_fleet();
    if (_i > 0)
        tell(fleet);
    struct hobble_policy_condition *list;
    size_t count;
    ck_assert_int_eq(hobble_policy_list(fleet, &list, &count, NULL), HOBBLE_OK);
    const size_t n = 20;
    struct hobble_policy_solved *one = calloc(n, sizeof *one), *two = calloc(n, sizeof *two);
    ck_assert(count >= n && one && two);
    ck_assert_int_eq(hobble_policy_solve(fleet, list, n, 1, NULL, NULL, one, NULL), HOBBLE_OK);
    ck_assert_int_eq(hobble_policy_solve(fleet, list, 7, 2, NULL, NULL, two, NULL), HOBBLE_OK);
    ck_assert_int_eq(hobble_policy_solve(fleet, &list[7], n - 7, 2, NULL, NULL, &two[7], NULL),
                     HOBBLE_OK);
    ck_assert_int_eq(memcmp(one, two, n * sizeof *one), 0);
    free(one);
    free(two);
    free(list);
    hobble_fleet_free(fleet);
}
END_TEST

/* A tyre that is driven in another one's place inherits nothing of what is known of that: the
 * extended-mobility tyre of the comparison is the same with and without. Definition. */
START_TEST(another_tyre_is_not_known)
{
    struct hobble_policy_condition extended = {HOBBLE_VARIANT_EXTENDED, 0, 1, 1, 330};
    struct hobble_policy_condition base = {HOBBLE_VARIANT_BASE, 0, 1, 1, 330};
    struct hobble_policy_solved without[2], with[2];
    for (int told = 0; told < 2; told++) {
        struct hobble_fleet *fleet = judged_fleet();
        struct hobble_policy_solved *into = told ? with : without;
        if (told)
            tell(fleet);
        ck_assert_int_eq(hobble_policy_solve(fleet, &extended, 1, 1, NULL, NULL, into, NULL),
                         HOBBLE_OK);
        ck_assert_int_eq(hobble_policy_solve(fleet, &base, 1, 1, NULL, NULL, &into[1], NULL),
                         HOBBLE_OK);
        hobble_fleet_free(fleet);
    }
    ck_assert_int_eq(memcmp(&without[0], &with[0], sizeof with[0]), 0);
    ck_assert_int_ne(memcmp(&without[1], &with[1], sizeof with[1]), 0);
}
END_TEST

/* A tyre that evidence says ran flat before is scrap in the policy as on the road. */
START_TEST(destroyed_is_stop)
{
    const struct hobble_policy_condition list[] = {{HOBBLE_VARIANT_BASE, 0, 0, 0, 200},
                                                   {HOBBLE_VARIANT_BASE, 0, 0, 0, 210}};
    struct hobble_policy_solved solved[2];
    struct hobble_fleet *fleet = judged_fleet();
    struct hobble_evidence item;
    hobble_evidence_begin(HOBBLE_EVIDENCE_RUN, &item);
    item.of = HOBBLE_RUN_THIS_UNIT;
    item.outcome = HOBBLE_RUN_DESTROYED;
    item.load_share = 0.7;
    item.distance = 60e3;
    hobble_case_evidence_add(fleet->vehicle[0].axle[0], &item, NULL);
    ck_assert_int_eq(hobble_policy_solve(fleet, list, 2, 1, NULL, NULL, solved, NULL), HOBBLE_OK);
    for (int i = 0; i < 2; i++)
        for (int k = 0; k < HOBBLE_POLICY_SPEEDS; k++) {
            ck_assert(!solved[i].way[k].go && solved[i].way[k].advised == 0);
            ck_assert(solved[i].way[k].stops >> HOBBLE_STOP_CONDEMNED & 1);
        }
    hobble_fleet_free(fleet);
}
END_TEST

/* A share of few tyres' worth is less sure: the same ends, worth a quarter of the members, have the
 * error of a quarter of the members (arithmetic). */
START_TEST(worth_less_is_less_sure)
{
    struct hobble_help *help = help_of(15 * KM);
    double error[2];
    for (int k = 0; k < 2; k++) {
        struct hobble_policy_way way = {.counted = k == 0 ? 400 : 100, .worth = 100};
        struct hb_reach reach = {.total = 0.0};
        way.ended[40] = (unsigned short)(way.counted / 10);
        hb_reach_add(&reach, &way, 1.0);
        error[k] = hb_reach_chance(&reach, help, 50 * KM).error;
    }
    ck_assert_double_eq_tol(error[0], error[1], 1e-12);
    free(help);
}
END_TEST

/* ---- the policy ------------------------------------------------------------------------------ */

/* Constant range 50 km, advice 40.9 km, help exponential with mean 15 km: the policy stops at 40 km
 * and strands exp(-40/15), the plain rule runs until the tyre ends, exp(-50/15) (arithmetic). */
START_TEST(rows_in_closed_form)
{
    struct judged j;
    double weight = 0.0;
    judged_prepare(&j);
    judged_alike(&j, 50 * KM, 40900);
    judged_make(&j);
    ck_assert_int_eq(j.policy->rows, 8);
    for (int i = 0; i < j.policy->rows; i++) {
        const struct hobble_policy_row *row = &j.policy->row[i];
        weight += row->weight;
        ck_assert_double_eq_tol(row->distance, 40 * KM, 1e-9);
        ck_assert_double_eq_tol(row->speed, 80.0 / 3.6, 1e-9); /* nothing is won by slowing */
        ck_assert_double_eq_tol(row->policy.failed, 0.0, 1e-12);
        ck_assert_double_eq_tol(row->policy.stranded, exp(-40.0 / 15.0), 1e-12);
        ck_assert_double_eq_tol(row->rule.failed, exp(-50.0 / 15.0), 1e-12);
        ck_assert_double_eq_tol(row->stop.stranded, 1.0, 1e-12);
        ck_assert(row->rule_unsafe && !row->rule_holds && !row->rule_wasteful);
    }
    ck_assert_double_eq_tol(weight, 1.0, 1e-12);
    ck_assert_double_eq_tol(j.policy->all.stranded, exp(-40.0 / 15.0), 1e-12);
    ck_assert(j.policy->simple.found && j.policy->simple.verified && !j.policy->simple.exception);
    ck_assert_double_eq_tol(j.policy->simple.distance, 40 * KM, 1e-9);
    /* 20 000 km of two cars and 30 000 km of one bus, three quarters driven alone, 60 % cold */
    ck_assert_double_eq_tol(j.policy->row[0].weight, 40.0 / 70.0 * 0.75 * 0.6, 1e-12);
    judged_free(&j);
}
END_TEST

/* With the tyres ending at 30 km but advice of 70 km (which the model never gives), the accepted
 * chance of 2 % shortens the way to 30 km: nothing fails before, exp(-2) would after. */
START_TEST(accepted_chance_shortens)
{
    struct judged j;
    judged_prepare(&j);
    judged_alike(&j, 30 * KM, 70000);
    judged_make(&j);
    for (int i = 0; i < j.policy->rows; i++)
        ck_assert_double_eq_tol(j.policy->row[i].distance, 30 * KM, 1e-9);
    judged_free(&j);
}
END_TEST

/* Only the full bus in the heat is short: it becomes the exception, with its own distance, and the
 * rest keeps its own (the only choice of the search's kind that loses nothing). */
START_TEST(exception_is_found)
{
    struct judged j;
    judged_prepare(&j);
    judged_alike(&j, 150 * KM, 60000);
    for (size_t i = 0; i < j.count; i++)
        if (j.list[i].vehicle == 1 && j.list[i].load == 1 && j.list[i].tenth > 200)
            for (int k = 0; k < HOBBLE_POLICY_SPEEDS; k++)
                j.solved[i].way[k].advised = 12000;
    judged_make(&j);
    const struct hobble_simple_rule *s = &j.policy->simple;
    ck_assert(s->found && s->exception && s->verified);
    ck_assert_double_eq_tol(s->distance, 60 * KM, 1e-9);
    ck_assert_double_eq_tol(s->other, 10 * KM, 1e-9);
    ck_assert_int_eq((s->vehicle == 1) + (s->load == 1) + (s->season == 1), 2);
    judged_free(&j);
}
END_TEST

/* Tyres of the fresh sample that end early unmask a rule that the first sample allowed. */
START_TEST(fresh_sample_can_refuse)
{
    struct judged j;
    judged_prepare(&j);
    judged_alike(&j, 150 * KM, 60000);
    for (size_t i = 0; i < j.count; i++)
        if (j.list[i].variant == HOBBLE_VARIANT_FRESH)
            for (int k = 0; k < HOBBLE_POLICY_SPEEDS; k++) {
                j.solved[i].way[k].ended[300] = 0;
                j.solved[i].way[k].ended[40] = 200;
            }
    judged_make(&j);
    ck_assert(j.policy->simple.found && !j.policy->simple.verified);
    ck_assert_double_eq_tol(j.policy->simple.fresh, exp(-20.0 / 15.0), 1e-12);
    judged_free(&j);
}
END_TEST

/* Advice, maker and local limit hold for every row and for the rule, whatever the tyres do. */
START_TEST(never_beyond_advice)
{
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
    for (int round = 0; round < 30; round++) {
        struct judged j;
        judged_prepare(&j);
        j.fleet->number[hobble_fleet_find("distance_limit")].value = round % 3 == 0 ? 33.0 : 80.0;
        j.fleet->number[hobble_fleet_find("speed_limit")].value = round % 2 == 0 ? 60.0 : 80.0;
        judged_alike(&j, 150 * KM, 0);
        for (size_t i = 0; i < j.count; i++)
            for (int k = 0; k < HOBBLE_POLICY_SPEEDS; k++) {
                struct hobble_policy_way *way = &j.solved[i].way[k];
                way->advised = (int)gsl_rng_uniform_int(rng, 80001);
                way->go = way->advised >= 5000 && gsl_rng_uniform(rng) > 0.05;
                way->ended[300] = 150;
                way->ended[gsl_rng_uniform_int(rng, 300)] += 50;
            }
        judged_make(&j);
        const struct hobble_simple_rule *s = &j.policy->simple;
        for (int r = 0; r < j.policy->rows; r++) {
            const struct hobble_policy_row *row = &j.policy->row[r];
            const bool other = s->exception && (s->vehicle < 0 || s->vehicle == row->vehicle) &&
                               (s->load < 0 || s->load == row->load) &&
                               (s->season < 0 || s->season == row->season);
            const double told = other ? s->other : s->distance;
            const int tenth = row->season == 0 ? -50 : 330;
            for (size_t i = 0; i < j.count; i++) {
                const struct hobble_policy_condition *c = &j.list[i];
                if (c->variant != HOBBLE_VARIANT_BASE || c->vehicle != row->vehicle ||
                    c->load != row->load || c->tenth != tenth)
                    continue;
                const int k = hb_policy_speed_place(j.fleet, row->speed);
                const int q = hb_policy_speed_place(j.fleet, s->speed);
                const struct hobble_policy_way *own = &j.solved[i].way[k < 0 ? 0 : k];
                const struct hobble_policy_way *rule = &j.solved[i].way[q];
                ck_assert_double_le(row->distance, own->go ? own->advised : 0.0);
                ck_assert_double_le(told, rule->go ? rule->advised : 0.0);
            }
            const double most = j.fleet->number[hobble_fleet_find("distance_limit")].value * KM;
            const double fast = j.fleet->number[hobble_fleet_find("speed_limit")].value / 3.6;
            ck_assert_double_le(fmax(row->distance, told), most + 1e-9);
            ck_assert_double_le(fmax(row->speed, s->speed), fast + 1e-9);
            ck_assert_double_le(row->policy.failed, 0.02 + 1e-12);
        }
        judged_free(&j);
    }
    gsl_rng_free(rng);
}
END_TEST

Suite *policy_suite(void)
{
    Suite *suite = suite_create("policy");
    TCase *all = tcase_create("policy");
    tcase_set_timeout(all, 240.0); /* sanitizers and valgrind are slow */
    tcase_add_test(all, constant_range);
    tcase_add_test(all, exponential_range);
    tcase_add_test(all, table_help);
    tcase_add_test(all, shares_are_conserved);
    tcase_add_test(all, monte_carlo_error);
    tcase_add_loop_test(all, advice_is_the_drivers, 0, 2);
    tcase_add_test(all, list_has_each_once);
    tcase_add_loop_test(all, cuts_and_threads, 0, 2);
    tcase_add_test(all, another_tyre_is_not_known);
    tcase_add_test(all, destroyed_is_stop);
    tcase_add_test(all, worth_less_is_less_sure);
    tcase_add_test(all, rows_in_closed_form);
    tcase_add_test(all, accepted_chance_shortens);
    tcase_add_test(all, exception_is_found);
    tcase_add_test(all, fresh_sample_can_refuse);
    tcase_add_test(all, never_beyond_advice);
    suite_add_tcase(suite, all);
    return suite;
}
