/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test_rule.c - the share that makes a rule, and where the answer flips. */
#include "ask.h"
#include "json_struct.h"
#include "report/describe/answers.h"
#include "report/json/render.h"

#include <check.h>
#include <gsl/gsl_cdf.h>
#include <math.h>
#include <string.h>

Suite *rule_suite(void);

#define RULE (80.0 * KM) /* UN R30 flat-tyre running mode (second-hand): 80 km at 80 km/h */
#define PACE (80.0 * KMH)
#define NONE ((double)NAN)

static struct hobble_rule_answer rule(const hobble_case *c, double speed, double distance)
{
    struct hobble_rule_answer a;
    const enum hobble_status status = hobble_rule(c, speed, distance, 1, &a, NULL);
    if (status != HOBBLE_OK)
        ck_abort_msg("no answer: %s", hobble_status_text(status));
    return a;
}

/* The distance that the required share makes is one with the share (definition of a quantile); the
 * share itself is the one of the driver's answer, which drives for a distance and not to the end.
 */
START_TEST(share_and_reach_agree)
{
    static const double load[] = {0.5, 0.65, 0.72, 0.75, 0.8, 0.95};
    static const double required[] = {0.5, 0.8, 0.9, 0.95, 0.99, 0.9999};
    int holding = 0, cases = 0;
    for (size_t l = 0; l < sizeof load / sizeof *load; l++)
        for (size_t r = 0; r < sizeof required / sizeof *required; r++) {
            hobble_case *c = ask_bare(120);
            ask_set(c, "load_share", load[l]);
            ask_set(c, "required_share", required[r]);
            const struct hobble_rule_answer a = rule(c, PACE, RULE);
            const struct hobble_answer driver = ask(c);
            ck_assert_int_eq(a.share >= fmin(a.needed, 1.0), a.reach >= RULE);
            ck_assert_int_eq(a.holds, a.share >= a.needed);
            ck_assert_int_eq(a.holds, a.share_low >= a.required);
            ck_assert_double_eq_tol(a.share, driver.share_of_tyres, 1e-12);
            ck_assert_int_eq(a.holds, driver.rule_holds);
            holding += a.holds;
            cases++;
            hobble_case_free(c);
        }
    ck_assert(holding > 0 && holding < cases);
}
END_TEST

/* Beyond a flip by more than its precision the answer is the other one: asked anew. */
static bool holds_at(const hobble_case *from, enum hobble_flip_axis axis, double at)
{
    hobble_case *c = hobble_case_clone(from);
    double speed = 60.0 * KMH;
    if (axis == HOBBLE_FLIP_SPEED)
        speed = at;
    else if (axis == HOBBLE_FLIP_AMBIENT)
        ask_set(c, "ambient", at - 273.15);
    else
        ask_set(c, "load_share", at / (615.0 * 9.80665)); /* LI 91 is 615 kg, ISO 4000-1 */
    const bool holds = rule(c, speed, RULE).holds;
    hobble_case_free(c);
    return holds;
}

START_TEST(flips_where_it_says)
{
    static const double load[] = {0.62, 0.66, 0.70, 0.74};
    static const double apart[HOBBLE_FLIPS] = {0.1 * KMH, 4.0, 0.1};
    int found[HOBBLE_FLIPS] = {0};
    for (size_t l = 0; l < sizeof load / sizeof *load; l++) {
        hobble_case *c = ask_vouched(150);
        ask_set(c, "load_share", load[l]);
        const struct hobble_rule_answer a = rule(c, 60.0 * KMH, RULE);
        for (int i = 0; i < HOBBLE_FLIPS; i++) {
            const struct hobble_flip *flip = &a.flip[i];
            ck_assert_int_eq(isnan(flip->at), flip->why_not != NULL);
            if (isnan(flip->at))
                continue;
            ck_assert(fmin(flip->from, flip->to) <= flip->at);
            ck_assert(flip->at <= fmax(flip->from, flip->to));
            ck_assert_int_eq(flip->at > flip->from, a.holds); /* worse conditions: more of each */
            if (i == HOBBLE_FLIP_SPEED && flip->at + apart[i] > PACE)
                continue; /* a rule over 80 km/h cannot be asked for */
            found[i]++;
            ck_assert(holds_at(c, (enum hobble_flip_axis)i, flip->at - apart[i]));
            ck_assert(!holds_at(c, (enum hobble_flip_axis)i, flip->at + apart[i]));
        }
        hobble_case_free(c);
    }
    for (int i = 0; i < HOBBLE_FLIPS; i++)
        if (found[i] == 0)
            ck_abort_msg("condition %d never flips in this test", i);
}
END_TEST

/* E. B. Wilson, J. Am. Stat. Assoc. 22 (1927) 209: with none or all of n the limits are z^2/(n +
 * z^2) and n/(n + z^2), z the normal quantile of 97.5 %. */
START_TEST(limits_of_the_share)
{
    const double z = gsl_cdf_ugaussian_Pinv(0.975), z2 = z * z;
    hobble_case *c = ask_vouched(100);
    ask_set(c, "load_share", 0.4);
    const struct hobble_rule_answer all = rule(c, 40.0 * KMH, 10.0 * KM);
    ck_assert_double_eq(all.share, 1.0);
    ck_assert_double_eq_tol(all.share_low, all.counted / (all.counted + z2), 1e-9);
    ck_assert_double_eq_tol(all.share_high, 1.0, 1e-12);
    ask_text(c, "marking", "205/55 R16 91V");
    ask_word(c, "construction", "conventional");
    ask_set(c, "load_share", 0.9);
    const struct hobble_rule_answer none = rule(c, PACE, RULE);
    ck_assert_double_eq(none.share, 0.0);
    ck_assert_double_eq_tol(none.share_low, 0.0, 1e-12);
    ck_assert_double_eq_tol(none.share_high, z2 / (none.counted + z2), 1e-9);
    hobble_case_free(c);
}
END_TEST

/* An ordinary tyre promises nothing without air (common practice, no source): no condition makes a
 * rule hold for it. Over the load index (ISO 4000-1) only a lighter load does. */
START_TEST(barred)
{
    hobble_case *c = ask_bare(200);
    ask_set(c, "load_share", 1.2);
    const struct hobble_rule_answer over = rule(c, PACE, RULE);
    ck_assert(!over.holds && over.stop[HOBBLE_STOP_OVERLOAD]);
    ck_assert(isnan(over.flip[HOBBLE_FLIP_SPEED].at) && isnan(over.flip[HOBBLE_FLIP_AMBIENT].at));
    ck_assert(over.flip[HOBBLE_FLIP_LOAD].at <= 615.0 * 9.80665 + 1e-6);
    ask_word(c, "construction", "sealant_lined");
    ask_set(c, "load_share", 0.3);
    const struct hobble_rule_answer other = rule(c, PACE, RULE);
    ck_assert(!other.holds && other.stop[HOBBLE_STOP_CONSTRUCTION]);
    /* no approval test was run, so that the ledger's miss is that of the rule's own drives */
    ck_assert(other.energy_closure > 0.0 && other.energy_closure < 1e-3);
    for (int i = 0; i < HOBBLE_FLIPS; i++)
        ck_assert(isnan(other.flip[i].at) && other.flip[i].why_not);
    hobble_case_free(c);
}
END_TEST

/* From an overloaded wheel the rule flips where it flips from a lawful one: at one load, found to
 * within 4 N each time (HOBBLE_FLIP_LOAD_TO). Where it holds at the index, it is the index. Source:
 * a load does not depend on where one comes from. */
START_TEST(one_flip_of_the_load)
{
    hobble_case *c = ask_vouched(150);
    ask_set(c, "load_share", 0.98);
    const double lawful = rule(c, 60.0 * KMH, RULE).flip[HOBBLE_FLIP_LOAD].at;
    ask_set(c, "load_share", 1.2);
    const double over = rule(c, 60.0 * KMH, RULE).flip[HOBBLE_FLIP_LOAD].at;
    ck_assert(lawful > 0.5 * 615.0 * 9.80665 && lawful < 0.95 * 615.0 * 9.80665);
    ck_assert_double_eq_tol(over, lawful, 8.0);
    const double index = rule(c, 20.0 * KMH, 2.0 * KM).flip[HOBBLE_FLIP_LOAD].at;
    ck_assert_double_eq_tol(index, 615.0 * 9.80665, 1e-6); /* LI 91 is 615 kg, ISO 4000-1 */
    hobble_case_free(c);
}
END_TEST

/* So few tyres that even all of them leave doubt of 95 in 100: 1.96 deviations of n tyres reach
 * beyond all up to n = 72 (arithmetic: 1.96^2 * 0.95 * 0.05 / 0.05^2 = 72.99). */
START_TEST(too_few_to_be_sure)
{
    for (int n = 72; n < 74; n++) {
        hobble_case *c = ask_bare(n);
        ask_text(c, "marking", "205/55 R16 91V");
        ask_word(c, "construction", "sealant_lined"); /* no approval test: all of them count */
        ask_set(c, "required_share", 0.95);
        const struct hobble_rule_answer a = rule(c, 60.0 * KMH, 20.0 * KM);
        ck_assert_int_eq(a.counted, n);
        for (int i = 0; i < HOBBLE_FLIPS; i++)
            ck_assert_int_eq(strstr(a.flip[i].why_not, "--members") != NULL, n < 73);
        hobble_case_free(c);
    }
}
END_TEST

/* A tyre that ran flat is scrap (British rubber manufacturers' association, September 2005), so
 * that no rule holds for it however many sampled tyres make it. Age and repairs bar nothing; they
 * cost life, so that fewer tyres make it: the share never rises with them, and falls in all. */
START_TEST(a_past_bars)
{
    static const struct {
        double age;
        const char *repaired, *ran_flat;
    } rows[] = {{0.0, "no", "no"},  {4.9, "no", "no"},       {5.1, "no", "no"},  {5.1, "yes", "no"},
                {9.9, "yes", "no"}, {9.9, "yes", "unknown"}, {9.9, "yes", "yes"}};
    double before = 1.0;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        hobble_case *c = ask_vouched(200);
        ask_set(c, "load_share", 0.6);
        ask_set(c, "age", rows[i].age);
        ask_word(c, "repaired", rows[i].repaired);
        ask_word(c, "ran_flat", rows[i].ran_flat);
        const bool scrapped = strcmp(rows[i].ran_flat, "yes") == 0;
        const struct hobble_rule_answer a = rule(c, PACE, RULE);
        ck_assert_double_le(a.share, before);
        ck_assert(i > 0 || a.share > 0.9);
        before = a.share;
        ck_assert_int_eq(a.stop[HOBBLE_STOP_PAST], scrapped);
        ck_assert_int_eq(a.vouched, i != 5);
        ask_set(c, "required_share", 0.5); /* made by enough, but barred all the same */
        ask_set(c, "load_share", 0.3);
        const struct hobble_rule_answer light = rule(c, 30.0 * KMH, 1.0 * KM);
        const struct hobble_answer driver = ask_free(c);
        ck_assert_msg(light.share >= light.needed && light.holds == !scrapped, "%zu: %g of %g", i,
                      light.share, light.needed);
        ck_assert(!scrapped || !driver.rule_holds);
    }
    ck_assert_double_lt(before, 0.5);
}
END_TEST

/* Advice never goes beyond 80 km at 80 km/h, so no rule beyond is answered (the project's own). */
START_TEST(refuses)
{
    static const double bad[][2] = {{81, 80},   {80, 81},   {0.5, 80}, {80, 0.5},
                                    {NONE, 80}, {80, NONE}, {-1, 80},  {HUGE_VAL, 80}};
    hobble_case *c = ask_bare(20);
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
        static struct hobble_faults faults;
        struct hobble_rule_answer a;
        faults.count = 0;
        ck_assert_int_eq(hobble_rule(c, bad[i][1] * KMH, bad[i][0] * KM, 1, &a, &faults),
                         HOBBLE_E_RANGE);
        ck_assert_int_eq((int)faults.count, 1);
    }
    hobble_case_free(c);
}
END_TEST

/* A light load in mild air flips by no weather within the limits, and the answer says so. */
START_TEST(does_not_flip)
{
    hobble_case *c = ask_vouched(300);
    ask_set(c, "load_share", 0.4);
    const struct hobble_rule_answer a = rule(c, 40.0 * KMH, 20.0 * KM);
    ck_assert(a.holds && isnan(a.flip[HOBBLE_FLIP_AMBIENT].at));
    ck_assert_ptr_nonnull(strstr(a.flip[HOBBLE_FLIP_AMBIENT].why_not, "still holds"));
    ck_assert_double_eq_tol(a.flip[HOBBLE_FLIP_AMBIENT].to, 273.15 + 45.0, 1e-9);
    hobble_case_free(c);
}
END_TEST

/* ---- what is told ---------------------------------------------------------------------------- */

#define R(path, field, unit)                                                                       \
    {                                                                                              \
        path, offsetof(struct hobble_rule_answer, field), unit                                     \
    }
#define FLIP(key, i, unit)                                                                         \
    R("flips_at." key, flip[i].at, unit), R("searched." key ".0", flip[i].from, unit),             \
        R("searched." key ".1", flip[i].to, unit)
static const struct json_number told[] = {
    R("inputs.load_n", load, JSON_ONE),
    R("inputs.load_share_of_index", load_share, JSON_ONE),
    R("inputs.ambient_c", ambient, JSON_CELSIUS),
    R("speed_kmh", speed, JSON_KMH),
    R("distance_km", distance, JSON_KM),
    R("share_of_tyres", share, JSON_ONE),
    R("share_confidence_95.0", share_low, JSON_ONE),
    R("share_confidence_95.1", share_high, JSON_ONE),
    R("required_share", required, JSON_ONE),
    R("reach_km", reach, JSON_KM),
    FLIP("speed_kmh", HOBBLE_FLIP_SPEED, JSON_KMH),
    FLIP("load_n", HOBBLE_FLIP_LOAD, JSON_ONE),
    FLIP("ambient_c", HOBBLE_FLIP_AMBIENT, JSON_CELSIUS),
    R("advice_cap_km", cap, JSON_KM),
    R("approval.tested", tested, JSON_COUNT),
    R("approval.passed", passed, JSON_COUNT),
    R("counted", counted, JSON_COUNT),
    R("energy_closure", energy_closure, JSON_ONE),
};
enum { TOLD = sizeof told / sizeof *told };

/* Source: the answer itself; units by definition. */
START_TEST(json_is_the_answer)
{
    static const double load[] = {0.4, 0.6, 0.65, 0.7, 0.9, 1.2};
    bool seen[TOLD] = {false};
    for (size_t i = 0; i < sizeof load / sizeof *load; i++) {
        hobble_case *c = ask_vouched(300);
        ask_set(c, "load_share", load[i]);
        const struct hobble_rule_answer a = rule(c, 70.0 * KMH, 50.0 * KM);
        json_t *json = hb_render_json(&hb_rule_answer, c, &a);
        json_struct_compare(json, &a, told, TOLD, seen);
        ck_assert_int_eq(json_is_true(json_object_get(json, "holds")), a.holds);
        ck_assert_int_eq(json_is_true(json_object_get(json, "reach_is_more")), a.reach_censored);
        json_decref(json);
        hobble_case_free(c);
    }
    json_struct_all(told, TOLD, seen);
}
END_TEST

Suite *rule_suite(void)
{
    Suite *suite = suite_create("rule");
    TCase *all = tcase_create("rule");
    tcase_set_timeout(all, 120.0); /* sanitizers and valgrind are slow */
    tcase_add_test(all, json_is_the_answer);
    tcase_add_test(all, share_and_reach_agree);
    tcase_add_test(all, flips_where_it_says);
    tcase_add_test(all, limits_of_the_share);
    tcase_add_test(all, barred);
    tcase_add_test(all, too_few_to_be_sure);
    tcase_add_test(all, one_flip_of_the_load);
    tcase_add_test(all, a_past_bars);
    tcase_add_test(all, refuses);
    tcase_add_test(all, does_not_flip);
    suite_add_tcase(suite, all);
    return suite;
}
