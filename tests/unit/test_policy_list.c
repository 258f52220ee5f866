/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test_policy_list.c - which conditions of a fleet are solved, and how each is set. */
#include "core/param.h"
#include "judged.h"
#include "study/case.h"
#include "study/policy.h"

#include <check.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

Suite *policy_list_suite(void);

/* ---- settings -------------------------------------------------------------------------------- */

static bool same(const struct hb_setting *a, const struct hb_setting *b)
{
    return (a->value == b->value || (isnan(a->value) && isnan(b->value))) &&
           strcmp(a->text, b->text) == 0;
}

/* Every input that is moved is one row, by what docs/policy.md says of it (How it is computed,
 * Sensitivity); the others stay. */
START_TEST(one_input_is_moved)
{
    static const struct {
        enum hobble_variant variant;
        const char *key;
        double factor, more;
    } rows[] = {{HOBBLE_VARIANT_HEAVIER, "load_error", 1.08, 0},
                {HOBBLE_VARIANT_WARMER, "ambient", 1, 5},
                {HOBBLE_VARIANT_LATER, "unseen", 2, 0},
                {HOBBLE_VARIANT_EXACT, "", 1, 0}};
    struct hobble_fleet *fleet = judged_fleet();
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        for (int axle = 0; axle < 2; axle++) {
            struct hobble_policy_condition c = {HOBBLE_VARIANT_BASE, 1, axle, 1, 215};
            struct hb_settings base, moved;
            hb_policy_settings(fleet, &c, &base);
            c.variant = rows[i].variant;
            hb_policy_settings(fleet, &c, &moved);
            for (int k = 0; k < HB_PARAM_COUNT; k++)
                if (k == hobble_param_find(rows[i].key))
                    ck_assert_double_eq_tol(moved.row[k].value,
                                            base.row[k].value * rows[i].factor + rows[i].more,
                                            1e-9);
                else
                    ck_assert(same(&base.row[k], &moved.row[k]));
        }
    hobble_fleet_free(fleet);
}
END_TEST

static double set_to(const struct hb_settings *s, const char *key)
{
    const struct hb_setting *row = &s->row[hobble_param_find(key)];
    ck_assert(row->given || isnan(row->value));
    return row->value;
}

/* Load, air, wheel and what was driven before are the condition's. The car of the fleet has five
 * seats and the bus nine; seats are rounded up to a person (docs/policy.md, The fleet file). */
START_TEST(a_condition_is_put_in)
{
    struct hobble_fleet *fleet = judged_fleet();
    const struct {
        double share, people;
    } seats[] = {{1.0, 9}, {0.5, 5}, {0.45, 5}, {0.44, 4}, {1.0 / 9.0, 1}, {0.0, 1}};
    for (size_t i = 0; i < sizeof seats / sizeof *seats; i++)
        for (int axle = 0; axle < 2; axle++) {
            const struct hobble_policy_condition c = {HOBBLE_VARIANT_BASE, 1, axle, 1, -123};
            struct hb_settings s;
            fleet->load[1].seats = seats[i].share;
            hb_policy_settings(fleet, &c, &s);
            ck_assert_double_eq(set_to(&s, "people"), seats[i].people);
            ck_assert_double_eq(set_to(&s, "luggage"), 40.0);
            ck_assert_double_eq_tol(set_to(&s, "ambient"), -12.3, 1e-9);
            ck_assert_double_eq(set_to(&s, "unseen"), 5.0);
            ck_assert_double_eq(set_to(&s, "speed_before"), 80.0);
            ck_assert_double_eq(set_to(&s, "members"), 40.0);
            ck_assert_double_eq(set_to(&s, "seed"), fleet->seed);
            ck_assert_double_eq(set_to(&s, "wheel"), axle == 0 ? 0.0 : 2.0); /* left ones */
        }
    hobble_fleet_free(fleet);
}
END_TEST

/* Nothing of age, flat running and repairs is stated; another sample is another seed; tyres of
 * extended mobility have no RF and their own wall. Source: docs/policy.md, How it is computed. */
START_TEST(other_tyres)
{
    struct hobble_fleet *fleet = judged_fleet();
    struct hobble_policy_condition c = {HOBBLE_VARIANT_BASE, 0, 0, 0, 215};
    struct hb_settings base, other;
    hb_policy_settings(fleet, &c, &base);
    ck_assert_double_eq(base.row[hobble_param_find("age")].value, 2.0);
    c.variant = HOBBLE_VARIANT_UNVOUCHED;
    hb_policy_settings(fleet, &c, &other);
    ck_assert(isnan(set_to(&other, "age")));
    ck_assert_double_eq(set_to(&other, "ran_flat"), HB_NOT_KNOWN);
    ck_assert_double_eq(set_to(&other, "repaired"), HB_NOT_KNOWN);
    c.variant = HOBBLE_VARIANT_FRESH;
    hb_policy_settings(fleet, &c, &other);
    const int seed = hobble_param_find("seed");
    ck_assert(other.row[seed].value != base.row[seed].value);
    ck_assert(other.row[seed].value <= hobble_param_table(NULL)[seed].max);
    fleet->seed = 900000; /* a seed that another on top would take beyond its limit */
    hb_policy_settings(fleet, &c, &other);
    ck_assert(other.row[seed].value >= 0.0 && other.row[seed].value != 900000.0);
    ck_assert(other.row[seed].value <= hobble_param_table(NULL)[seed].max);
    c.variant = HOBBLE_VARIANT_EXTENDED;
    hb_policy_settings(fleet, &c, &other);
    ck_assert_ptr_nonnull(strstr(base.row[hobble_param_find("marking")].text, "RF"));
    ck_assert_ptr_null(strstr(other.row[hobble_param_find("marking")].text, "RF"));
    ck_assert_double_eq(set_to(&other, "construction"), HB_EXTENDED_MOBILITY);
    static const char *const own[] = {"stiffness_flat", "wall_thickness", "drum_test",
                                      "maker_distance"};
    for (size_t i = 0; i < sizeof own / sizeof *own; i++)
        ck_assert(isnan(other.row[hobble_param_find(own[i])].value));
    hobble_fleet_free(fleet);
}
END_TEST

/* ---- hours ----------------------------------------------------------------------------------- */

/* A season whose hours are spread evenly over count tenths from first on. */
static void spread_out(struct hobble_fleet_season *season, int first, int count)
{
    memset(season->tenth, 0, sizeof season->tenth);
    for (int i = 0; i < count; i++)
        season->tenth[first - HOBBLE_FLEET_LEAST + i] = season->share / count;
}

/* Source: what a quantile is; of no hours the least value there is. */
START_TEST(quantiles_of_a_season)
{
    static struct hobble_fleet_season season = {.share = 0.25};
    ck_assert_int_eq(hb_season_quantile(&season, 0.5), -700);
    spread_out(&season, -100, 200);
    ck_assert_int_eq(hb_season_quantile(&season, 1e-12), -100);
    ck_assert_int_eq(hb_season_quantile(&season, 0.4975), -1);
    ck_assert_int_eq(hb_season_quantile(&season, 0.5025), 0);
    ck_assert_int_eq(hb_season_quantile(&season, 0.7475), 49);
    ck_assert_int_eq(hb_season_quantile(&season, 1.0), 99);
}
END_TEST

/* Bins of 1 K, of 4 K for the sample that verifies; a temperature is in the nearest. Source:
 * docs/policy.md, How it is computed. */
START_TEST(bins)
{
    for (int tenth = -700; tenth <= 680; tenth++) {
        const int base = hb_policy_bin(HOBBLE_VARIANT_BASE, tenth);
        const int fresh = hb_policy_bin(HOBBLE_VARIANT_FRESH, tenth);
        ck_assert_int_eq((base + 700) % 10, 0);
        ck_assert_int_eq((fresh + 700) % 40, 0);
        ck_assert(base - tenth <= 5 && base - tenth > -5);
        ck_assert(fresh - tenth <= 20 && fresh - tenth > -20);
    }
}
END_TEST

/* How many conditions of a variant there are, and how often a temperature is asked for. */
static int listed(const struct hobble_fleet *fleet, enum hobble_variant variant, int tenth)
{
    struct hobble_policy_condition *list;
    size_t count;
    int n = 0;
    ck_assert_int_eq(hobble_policy_list(fleet, &list, &count, NULL), HOBBLE_OK);
    for (size_t i = 0; i < count; i++)
        n += list[i].variant == variant && (tenth == 9999 || list[i].tenth == tenth);
    free(list);
    return n;
}

/* The cold season from -10 to 9.9 degC, 0.6 of the year, the hot one from 10 to 39.9 degC, evenly;
 * two vehicles with two axles and two loads make eight of each temperature. Which temperatures each
 * is asked for: docs/policy.md, How it is computed; arithmetic. */
START_TEST(temperatures)
{
    struct hobble_fleet *fleet = judged_fleet();
    spread_out(&fleet->season[0], -100, 200);
    spread_out(&fleet->season[1], 100, 300);
    ck_assert_int_eq(listed(fleet, HOBBLE_VARIANT_BASE, 9999), 8 * 51);  /* -10 to 40 */
    ck_assert_int_eq(listed(fleet, HOBBLE_VARIANT_FRESH, 9999), 8 * 13); /* -10 to 38 */
    static const enum hobble_variant hottest[] = {HOBBLE_VARIANT_HEAVIER, HOBBLE_VARIANT_LATER,
                                                  HOBBLE_VARIANT_UNVOUCHED, HOBBLE_VARIANT_WARMER};
    for (size_t i = 0; i < sizeof hottest / sizeof *hottest; i++) {
        ck_assert_int_eq(listed(fleet, hottest[i], 9999), 8 * 2);
        ck_assert_int_eq(listed(fleet, hottest[i], 100), 8); /* 9.9 degC */
        ck_assert_int_eq(listed(fleet, hottest[i], 400), 8); /* 39.9 degC */
    }
    ck_assert_int_eq(listed(fleet, HOBBLE_VARIANT_EXTENDED, 9999), 8 * 2);
    ck_assert_int_eq(listed(fleet, HOBBLE_VARIANT_EXTENDED, 0), 8);   /* -0.1 degC */
    ck_assert_int_eq(listed(fleet, HOBBLE_VARIANT_EXTENDED, 250), 8); /* 24.9 degC */
    /* twelve hours as they are, of the last load alone: the coldest, the hottest, and eleven even
     * steps between; 6/11 of the year is at 600 * 6 / 11 / 0.6 / 3 of the cold season's tenths */
    ck_assert_int_eq(listed(fleet, HOBBLE_VARIANT_EXACT, 9999), 4 * 12);
    ck_assert_int_eq(listed(fleet, HOBBLE_VARIANT_EXACT, -100), 4);
    ck_assert_int_eq(listed(fleet, HOBBLE_VARIANT_EXACT, 399), 4);
    ck_assert_int_eq(
        listed(fleet, HOBBLE_VARIANT_EXACT, -100 + (int)ceil(200 * 6 / 11.0 / 0.6) - 1), 4);
    hobble_fleet_free(fleet);
}
END_TEST

/* ---- digest, front and rear ------------------------------------------------------------------ */

/* Whatever conditions or answers rest on changes the digest: parts of another fleet are refused by
 * it (docs/policy.md, Stopped, and taken up again). */
START_TEST(digest_of_everything)
{
    struct hobble_fleet *f = judged_fleet();
    struct hobble_help *help = &f->help;
    const double away[] = {10 * KM, 30 * KM};
    ck_assert_int_eq(hobble_help_set(help, HOBBLE_HELP_TABLE, away, NULL, 2), HOBBLE_OK);
    double *const number[] = {&f->number[0].value,
                              &f->number[HB_FLEET_COUNT - 1].spread,
                              &f->vehicle[1].year_km,
                              &f->load[1].seats,
                              &f->load[0].people,
                              &f->load[1].luggage,
                              &f->load[0].share,
                              &f->season[1].tenth[0],
                              &f->season[0].tenth[HOBBLE_FLEET_TENTHS - 1],
                              &help->mean,
                              &help->distance[1],
                              &help->beyond[0],
                              &f->members,
                              &f->seed,
                              &f->required,
                              &f->vehicle[1].axle[0]->settings.row[HB_P_LOAD_ERROR].value,
                              &f->vehicle[0].axle[1]->settings.row[HB_P_LOAD_ERROR].spread};
    char *const text[] = {f->vehicle[1].name, f->load[1].name, f->season[1].name,
                          f->vehicle[1].axle[1]->settings.row[HB_P_MARKING].text};
    const uint64_t before = hobble_policy_digest(f);
    for (size_t i = 0; i < sizeof number / sizeof *number; i++) {
        const double was = *number[i];
        *number[i] = isnan(was) ? 1.0 : was + 0.125;
        ck_assert_msg(hobble_policy_digest(f) != before, "number %zu", i);
        *number[i] = was;
    }
    for (size_t i = 0; i < sizeof text / sizeof *text; i++) {
        text[i][0]++;
        ck_assert_msg(hobble_policy_digest(f) != before, "text %zu", i);
        text[i][0]--;
    }
    f->vehicle[0].count++;
    ck_assert(hobble_policy_digest(f) != before);
    f->vehicle[0].count--;
    ck_assert(hobble_policy_digest(f) == before);
    hobble_fleet_free(f);
}
END_TEST

/* Front and rear are one tyre when every value of tyre and vehicle is: what a trip says is none.
 * Source: src/hobble/policy.h. */
START_TEST(same_tyres)
{
    static const struct {
        enum hb_param_id row;
        bool spread, differs;
    } rows[] = {{HB_P_WALL_THICKNESS, false, true},
                {HB_P_WALL_THICKNESS, true, true},
                {HB_P_AGE, false, true},
                {HB_P_SPEED, false, false},
                {HB_P_MEMBERS, false, false},
                {HB_P_FRONT_KERB, false, true}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct hobble_fleet *f = judged_fleet();
        const struct hobble_fleet_vehicle *v = &f->vehicle[0];
        ck_assert(hobble_fleet_same_tyres(v));
        struct hb_setting *s = &v->axle[1]->settings.row[rows[i].row];
        *(rows[i].spread ? &s->spread : &s->value) += 0.5;
        if (isnan(s->value))
            s->value = 12.0;
        ck_assert_msg(hobble_fleet_same_tyres(v) == !rows[i].differs, "row %zu", i);
        hobble_fleet_free(f);
    }
}
END_TEST

Suite *policy_list_suite(void)
{
    Suite *suite = suite_create("policy_list");
    TCase *all = tcase_create("policy_list");
    tcase_set_timeout(all, 120.0); /* sanitizers and valgrind are slow */
    tcase_add_test(all, one_input_is_moved);
    tcase_add_test(all, a_condition_is_put_in);
    tcase_add_test(all, other_tyres);
    tcase_add_test(all, quantiles_of_a_season);
    tcase_add_test(all, bins);
    tcase_add_test(all, temperatures);
    tcase_add_test(all, digest_of_everything);
    tcase_add_test(all, same_tyres);
    suite_add_tcase(suite, all);
    return suite;
}
