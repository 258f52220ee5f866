/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test_kit.c - one fleet, one kit: every number of it is the policy's, and a false one is found. */
#include "input/fleet.h"
#include "report/paper/kit.h"

#include <check.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

Suite *kit_suite(void);

#define KM 1e3

struct desk {
    hobble_case *c;
    struct hobble_fleet *fleet;
    struct hobble_policy_condition *list;
    struct hobble_policy_solved *solved;
    size_t count;
    struct hobble_policy *policy;
    struct hb_policy_report report;
    struct hb_kit kit;
};

static struct hobble_faults faults;

static void open_desk(struct desk *d)
{
    memset(d, 0, sizeof *d);
    faults.count = 0;
    d->c = hobble_case_new();
    ck_assert_int_eq(hb_fleet_read(TEST_DATA_DIR "/fleet/small.cfg", &d->fleet, &faults),
                     HOBBLE_OK);
    d->fleet->members = 40;
    ck_assert_int_eq(hobble_policy_list(d->fleet, &d->list, &d->count, NULL), HOBBLE_OK);
    d->solved = calloc(d->count, sizeof *d->solved);
    d->policy = calloc(1, sizeof *d->policy);
    ck_assert(d->c && d->solved && d->policy);
}

/* Every tyre ends after 70 km; advice is 50.9 km, but 31.2 km for the full bus: the search then has
 * a reason for an exception. The warning of small.cfg comes after 5 min at 80 km/h. */
static void all_alike(struct desk *d, int counted)
{
    for (size_t i = 0; i < d->count; i++) {
        const bool full_bus = d->list[i].vehicle == 1 && d->list[i].load == 1;
        d->solved[i].unseen = 6666;
        for (int k = 0; k < HOBBLE_POLICY_SPEEDS; k++) {
            struct hobble_policy_way *way = &d->solved[i].way[k];
            way->counted = way->worth = counted;
            way->go = 1;
            way->advised = full_bus ? 31200 : 50900;
            way->ended[140] = (unsigned short)counted;
        }
    }
}

static void make(struct desk *d, bool us)
{
    ck_assert_int_eq(
        hobble_policy_judge(d->fleet, d->list, d->solved, d->count, d->policy, &faults), HOBBLE_OK);
    d->report =
        (struct hb_policy_report){.c = d->c, .fleet = d->fleet, .policy = d->policy, .us = us};
    ck_assert_int_eq(hb_kit_make(&d->report, &d->kit), HOBBLE_OK);
}

static void close_desk(struct desk *d)
{
    hb_kit_free(&d->kit);
    hobble_case_free(d->c);
    hobble_fleet_free(d->fleet);
    free(d->list);
    free(d->solved);
    free(d->policy);
}

/* ---- what a kit says ------------------------------------------------------------------------- */

/* 50 km, and 30 km for the full bus: fives below the advice (the project's own rule). */
START_TEST(cells_are_the_rules)
{
    struct desk d;
    open_desk(&d);
    all_alike(&d, 500);
    make(&d, _i);
    ck_assert_int_eq(hb_kit_check(&d.kit, &faults), HOBBLE_OK);
    ck_assert_int_eq(d.kit.contradictions, 0);
    /* 8 rows: 2 in the CSV, 5 in table and JSON, 2 on cards; 3 a page and 3 or 4 a card's head */
    ck_assert_int_ge(d.kit.checked, 8 * 9 + 2 * 6);
    ck_assert_int_eq(d.kit.cards, 2);
    for (int load = 0; load < 2; load++)
        for (int season = 0; season < 2; season++) {
            ck_assert_double_eq_tol(d.kit.card[0].distance[load][season], 50 * KM, 1e-9);
            ck_assert_double_eq_tol(d.kit.card[1].distance[load][season],
                                    (load == 1 ? 30 : 50) * KM, 1e-9);
        }
    ck_assert_str_eq(d.kit.card[1].load[1], "full");
    ck_assert_str_eq(d.kit.card[1].season[0], "cold");
    /* from the loss of air on, so that the page tells the rule's way from the warning on */
    const int row = hobble_param_find("fleet_distance");
    ck_assert_double_eq_tol(hobble_case_number(d.kit.c[0], row), 50 + 20.0 / 3, 1e-9);
    ck_assert_double_eq_tol(hobble_case_number(d.kit.c[1], row), 30 + 20.0 / 3, 1e-9);
    close_desk(&d);
}
END_TEST

/* The page's question is the library's: it never answers more than the rule, nor faster. */
START_TEST(page_keeps_the_rule)
{
    struct desk d;
    struct hobble_answer a;
    open_desk(&d);
    all_alike(&d, 500);
    make(&d, false);
    for (int v = 0; v < 2; v++) {
        const double most = v == 1 ? 30 * KM : 50 * KM;
        hobble_case *ask = hobble_case_clone(d.kit.c[v]);
        ck_assert_int_eq(hobble_case_set_number(ask, hobble_param_find("members"), 40, "", NULL),
                         HOBBLE_OK);
        ck_assert_int_eq(hobble_case_set_number(ask, hobble_param_find("people"), 1, "", NULL),
                         HOBBLE_OK);
        ck_assert_int_eq(hobble_case_set_number(ask, hobble_param_find("ambient"), 10, "", NULL),
                         HOBBLE_OK);
        ck_assert_int_eq(hobble_range(ask, 1, &a, NULL), HOBBLE_OK);
        ck_assert_double_le(a.advised_distance, most + 1e-6);
        ck_assert_double_le(a.advised_speed, d.policy->simple.speed + 1e-9);
        ck_assert_double_eq_tol(a.run_unseen, 20e3 / 3, 1e-6);
        if (v == 0) /* a young tyre, cool air and a light load: nothing else holds it down */
            ck_assert_double_eq_tol(a.advised_distance, most, 1e-6);
        hobble_case_free(ask);
    }
    close_desk(&d);
}
END_TEST

/* What is given of a vehicle goes to the page whole, so that its core knows as much as the
 * program's. */
START_TEST(rows_are_all_that_is_given)
{
    struct desk d;
    size_t i, rows = 0;
    json_t *row;
    open_desk(&d);
    all_alike(&d, 500);
    make(&d, false);
    ck_assert_str_eq(json_string_value(json_object_get(d.kit.page[0], "recovery_number")),
                     "555 0100, invented");
    /* the bus says nothing of its own: its profile does */
    ck_assert_str_eq(
        json_string_value(json_object_get(d.kit.page[1], "recovery_number")),
        hobble_case_text(d.fleet->vehicle[1].axle[0], hobble_param_find("recovery_number")));
    json_array_foreach(json_object_get(d.kit.page[0], "rows"), i, row)
    {
        const int at = hobble_param_find(json_string_value(json_array_get(row, 0)));
        const enum hobble_kind kind = hobble_param_table(NULL)[at].kind;
        ck_assert_int_ge(at, 0);
        ck_assert_int_eq(kind == HOBBLE_NUMBER, json_is_number(json_array_get(row, 1)));
        rows++;
    }
    size_t count, given = 0;
    const struct hobble_param *p = hobble_param_table(&count);
    for (size_t k = 0; k < count; k++)
        given += hobble_case_given(d.kit.choice[0].c, (int)k) &&
                 (p[k].group == HOBBLE_VEHICLE || p[k].group == HOBBLE_TRIP);
    ck_assert_uint_eq(rows, given);
    close_desk(&d);
}
END_TEST

/* A name that looks like a number of the rule, quotes and commas: no contradiction, and the
 * exception of STOP stands on card and page as no way at all. */
START_TEST(names_are_not_numbers)
{
    struct desk d;
    open_desk(&d);
    snprintf(d.fleet->vehicle[1].name, HOBBLE_FLEET_NAME, "bus \"A\", at most 5");
    all_alike(&d, 500);
    for (size_t i = 0; i < d.count; i++)
        for (int k = 0; k < HOBBLE_POLICY_SPEEDS; k++)
            if (d.list[i].vehicle == 1 && d.list[i].load == 1)
                d.solved[i].way[k].go = d.solved[i].way[k].advised = 0;
    make(&d, false);
    ck_assert_int_eq(hb_kit_check(&d.kit, &faults), HOBBLE_OK);
    ck_assert(d.policy->simple.exception && !(d.policy->simple.other > 0.0));
    ck_assert_double_eq_tol(d.kit.card[1].distance[1][0], 0.0, 1e-12);
    ck_assert_double_eq_tol(d.kit.card[1].distance[0][0], 50 * KM, 1e-9);
    ck_assert_double_eq_tol(hobble_case_number(d.kit.c[1], hobble_param_find("fleet_distance")),
                            20.0 / 3, 1e-9);
    close_desk(&d);
}
END_TEST

/* ---- planted faults -------------------------------------------------------------------------- */

static void more_on_a_card(struct hb_kit *kit)
{
    kit->card[1].distance[1][0] += 2 * KM;
}
static void faster_card(struct hb_kit *kit)
{
    kit->card[0].speed += 1.0;
}
static void other_line(struct hb_kit *kit)
{
    snprintf(kit->card[0].rule[0], sizeof kit->card[0].rule[0], "drive at most 500 km");
}
static void more_in_the_rule(struct hb_kit *kit)
{
    char *at = strstr(kit->rule[0], "at most ");
    at[8] = '9';
}
static void more_in_the_table(struct hb_kit *kit)
{
    kit->row[3][HB_POLICY_BY_RULE][0] = '9';
}
static void more_in_csv(struct hb_kit *kit)
{
    char *end = strrchr(kit->csv, ','); /* by the rule stands before the last field */
    while (*--end != ',')
        ;
    end[1] = '9';
}
static void more_in_json(struct hb_kit *kit)
{
    json_t *row = json_array_get(json_object_get(kit->json, "rows"), 2);
    json_object_set_new(row, "by_rule_km", json_real(51));
}
static void more_on_the_page(struct hb_kit *kit)
{
    size_t i;
    json_t *row;
    json_array_foreach(json_object_get(kit->page[1], "rows"), i, row)
    {
        if (strcmp(json_string_value(json_array_get(row, 0)), "fleet_distance") == 0)
            json_array_set_new(row, 1, json_real(50));
    }
}
static void no_warning_on_the_page(struct hb_kit *kit)
{
    json_object_set_new(kit->page[0], "rows", json_array());
}

static const struct {
    void (*plant)(struct hb_kit *kit);
    const char *where, *of;
} planted[] = {
    {more_on_a_card, "card-2.pdf", "bus, full, cold"},
    {faster_card, "card-1.pdf", "the rule"},
    {other_line, "card-1.pdf", "the rule"},
    {more_in_the_rule, "policy.txt, line 1", "the rule"},
    {more_in_the_table, "policy.txt, by the rule", "car, full, hot"},
    {more_in_csv, "policy.csv", "bus, full, hot"},
    {more_in_json, "policy.json", "car, full, cold"},
    {more_on_the_page, "page.html, fleet_distance", "bus, full, cold"},
    {no_warning_on_the_page, "page.html", "car"},
};

START_TEST(finds_a_planted_fault)
{
    struct desk d;
    open_desk(&d);
    all_alike(&d, 500);
    make(&d, false);
    planted[_i].plant(&d.kit);
    ck_assert_int_eq(hb_kit_check(&d.kit, &faults), HOBBLE_E_CONFLICT);
    ck_assert_int_eq(hobble_status_exit(HOBBLE_E_CONFLICT), 65);
    ck_assert_int_ge(d.kit.contradictions, 1);
    const struct hobble_fault *f = &faults.item[0];
    ck_assert_msg(strstr(f->key, planted[_i].where) == f->key, "%s", f->key);
    ck_assert_msg(strstr(f->given, planted[_i].of) == f->given, "%s", f->given);
    ck_assert_msg(strstr(f->allowed, "nothing was written"), "%s", f->allowed);
    close_desk(&d);
}
END_TEST

/* A rule above what a row allows at the rule's speed is found, whatever the papers say. */
START_TEST(finds_a_rule_beyond_a_row)
{
    struct desk d;
    open_desk(&d);
    all_alike(&d, 500);
    make(&d, false);
    for (int k = 0; k < HOBBLE_POLICY_SPEEDS; k++)
        d.policy->row[0].limit[k] = 49 * KM;
    ck_assert_int_eq(hb_kit_check(&d.kit, &faults), HOBBLE_E_CONFLICT);
    ck_assert_msg(strstr(faults.item[0].allowed, "at most 49 km"), "%s", faults.item[0].allowed);
    close_desk(&d);
}
END_TEST

/* ---- no papers ------------------------------------------------------------------------------- */

START_TEST(too_few_make_no_papers)
{
    struct desk d;
    char why[400];
    open_desk(&d);
    all_alike(&d, HOBBLE_TYRES_ENOUGH - 1);
    make(&d, false);
    ck_assert_int_eq(hb_kit_check(&d.kit, &faults), HOBBLE_OK);
    ck_assert_int_eq(d.kit.cards, 0);
    ck_assert_uint_eq(d.kit.choices, 0);
    ck_assert(!hb_kit_sheet(&d.report, why, sizeof why));
    ck_assert_msg(strstr(why, "399 of 40") && strstr(why, "--members"), "%s", why);
    close_desk(&d);
}
END_TEST

/* Where no rule was kept, the lines say stop and no card is made; the sheet still is. */
START_TEST(no_rule_no_papers)
{
    struct desk d;
    char why[400];
    open_desk(&d);
    all_alike(&d, 500);
    make(&d, false);
    hb_kit_free(&d.kit);
    d.policy->simple.verified = false;
    ck_assert_int_eq(hb_kit_make(&d.report, &d.kit), HOBBLE_OK);
    ck_assert_int_eq(hb_kit_check(&d.kit, &faults), HOBBLE_OK);
    ck_assert_int_eq(d.kit.cards, 0);
    ck_assert(hb_kit_sheet(&d.report, why, sizeof why));
    ck_assert(!hb_kit_papers(&d.report, why, sizeof why));
    ck_assert_msg(strstr(d.kit.rule[0], "No rule") == d.kit.rule[0], "%s", d.kit.rule[0]);
    ck_assert_str_eq(d.kit.row[0][HB_POLICY_BY_RULE], "stop");
    close_desk(&d);
}
END_TEST

/* ---- axles ----------------------------------------------------------------------------------- */

/* Same marking on both axles, but the maker allows 20 km behind: counted from the loss of air, less
 * 6.7 km before the warning, 13 km are left (arithmetic), of which the rule keeps 10. */
START_TEST(the_worse_axle_by_every_value)
{
    struct desk d;
    open_desk(&d);
    const int row = hobble_param_find("maker_distance");
    ck_assert(hobble_fleet_same_tyres(&d.fleet->vehicle[0]));
    ck_assert_int_eq(hobble_case_set_number(d.fleet->vehicle[0].axle[1], row, 20, "", NULL),
                     HOBBLE_OK);
    ck_assert(!hobble_fleet_same_tyres(&d.fleet->vehicle[0]));
    ck_assert_int_eq(
        hobble_policy_solve(d.fleet, d.list, d.count, 1, NULL, NULL, d.solved, &faults), HOBBLE_OK);
    make(&d, false);
    hb_kit_free(&d.kit);
    d.policy->counted =
        HOBBLE_TYRES_ENOUGH; /* few, to be quick; the maker holds whatever they say */
    d.policy->simple.verified = true;
    ck_assert_int_eq(hb_kit_make(&d.report, &d.kit), HOBBLE_OK);
    ck_assert_int_eq(hb_kit_check(&d.kit, &faults), HOBBLE_OK);
    ck_assert_int_eq(d.kit.cards, 2);
    for (int load = 0; load < 2; load++)
        for (int season = 0; season < 2; season++)
            ck_assert_double_le(d.kit.card[0].distance[load][season], 10 * KM);
    ck_assert_ptr_eq(d.kit.card[0].rear, d.fleet->vehicle[0].axle[1]);
    ck_assert(d.kit.choice[0].two_tyres && d.kit.choice[0].rear_tyre == 1);
    close_desk(&d);
}
END_TEST

Suite *kit_suite(void)
{
    Suite *s = suite_create("kit");
    TCase *t = tcase_create("kit");
    tcase_set_timeout(t, 120);
    tcase_add_loop_test(t, cells_are_the_rules, 0, 2);
    tcase_add_test(t, page_keeps_the_rule);
    tcase_add_test(t, rows_are_all_that_is_given);
    tcase_add_test(t, names_are_not_numbers);
    tcase_add_loop_test(t, finds_a_planted_fault, 0, sizeof planted / sizeof *planted);
    tcase_add_test(t, finds_a_rule_beyond_a_row);
    tcase_add_test(t, too_few_make_no_papers);
    tcase_add_test(t, no_rule_no_papers);
    tcase_add_test(t, the_worse_axle_by_every_value);
    suite_add_tcase(s, t);
    return s;
}
