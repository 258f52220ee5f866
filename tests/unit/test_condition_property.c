/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test_condition_property.c - properties of the verdict over random tyres, and the model's part in
 * it. The properties are those that docs/condition.md derives from how rules are weighed. */
#include "advice/condition.h"
#include "bench.h"
#include "random_case.h"
#include "study/case.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

Suite *condition_property_suite(void);

/* Rows that are facts about the tyre and its drive. */
static bool is_fact(const struct hobble_param *p)
{
    static const char *const others[] = {"marking", "construction", "ran_flat", "repaired",
                                         "age",     "load_share",   "ambient"};
    for (size_t i = 0; i < sizeof others / sizeof *others; i++)
        if (strcmp(others[i], p->key) == 0)
            return true;
    return p->group == HOBBLE_BENCH;
}

static void forget(hobble_case *c, int row)
{
    struct hb_settings built_in;
    hb_settings_default(&built_in);
    c->settings.row[row] = built_in.row[row];
}

/* A random change of a fact, to any value of its row; texts only from a few. */
static void shake(struct random_source *source, hobble_case *c, int row)
{
    static const char *const codes[] = {"2622", "2614", "0100", "529", "1024"};
    const struct hobble_param *p = &hobble_param_table(NULL)[row];
    char word[32];
    if (p->kind == HOBBLE_NUMBER) {
        const double most = fmin(p->max, p->min + 100.0);
        double value = random_between(source, p->min, most);
        if (p->unit == HOBBLE_UNIT_WHOLE)
            value = floor(value / 20.0) + p->min;
        hobble_case_set_number(c, row, fmin(value, p->max), "test", NULL);
    } else if (p->kind == HOBBLE_WORD) {
        hobble_param_word_at(p, random_below(source, 4), word, sizeof word);
        hobble_case_set_word(c, row, word, "test", NULL);
    } else if (strcmp(p->key, "date_code") == 0) {
        hobble_case_set_text(c, row, codes[random_below(source, 5)], "test", NULL);
    }
}

/* A tyre of one of the bases with some facts changed; NULL when it contradicts itself. */
static hobble_case *random_bench(struct random_source *source)
{
    struct hobble_condition_answer a;
    size_t rows;
    const struct hobble_param *table = hobble_param_table(&rows);
    hobble_case *c = bench_make(random_below(source, 3) ? "self" : "plain", "members=20");
    bench_set(c, "members", "20");
    for (int i = random_below(source, 4); i > 0; i--) {
        const int row = random_below(source, (int)rows);
        if (is_fact(&table[row]))
            shake(source, c, row);
    }
    if (random_below(source, 2)) {
        bench_set(c, "lowest_pressure", "150");
        hobble_case_set_number(c, hobble_param_find("low_distance"),
                               random_between(source, 0.0, 40.0), "test", NULL);
    }
    if (hobble_condition_judge(c, 1, &a, NULL) == HOBBLE_OK)
        return c;
    hobble_case_free(c);
    return NULL;
}

START_TEST(forgetting_never_improves)
{
    struct random_source source = {20260101};
    size_t rows;
    const struct hobble_param *table = hobble_param_table(&rows);
    int tried = 0, scrap = 0, mild = 0;
    const int wanted = random_count("HB_CONDITION_CASES", 150);
    while (tried < wanted) {
        struct hobble_condition_answer before, after;
        hobble_case *c = random_bench(&source);
        const int row = random_below(&source, (int)rows);
        if (c && is_fact(&table[row]) && hobble_case_given(c, row)) {
            bench_judge(c, &before);
            forget(c, row);
            if (hobble_condition_judge(c, 1, &after, NULL) == HOBBLE_OK) {
                tried++;
                scrap += before.verdict == HOBBLE_SCRAP;
                mild += before.verdict != HOBBLE_SCRAP;
                NEED(after.verdict >= before.verdict, "without %s the verdict is better than by %s",
                     table[row].key, before.rule[0].id);
            }
        }
        hobble_case_free(c);
    }
    ck_assert_int_gt(scrap, wanted / 10);
    ck_assert_int_gt(mild, wanted / 10);
}
END_TEST

/* X(key, a worse value): facts that speak against a tyre whatever else is so. */
static const char *const bad_facts[][2] = {
    {"ran_flat", "yes"},         {"lowest_pressure", "0"},      {"pressure_log", "no"},
    {"low_distance", "200"},     {"low_speed", "140"},          {"sealant", "yes"},
    {"injury_size", "40"},       {"injury_offset", "200"},      {"injury_angle", "90"},
    {"injury_count", "5"},       {"injury_spacing", "0"},       {"tread_depth", "0"},
    {"injury_zone", "sidewall"}, {"maker_approval", "refused"}, {"date_code", "529"},
    {"out_bulge", "yes"},        {"out_cord", "yes"},           {"out_ring", "yes"},
    {"in_dust", "yes"},          {"in_plies", "yes"},           {"in_insert", "yes"},
    {"rim_damage", "yes"},       {"neighbour_checked", "no"},   {"inspected_inside", "no"},
    {"ambient", "45"},           {"load_share", "1"},
};

START_TEST(a_bad_fact_never_improves)
{
    struct random_source source = {20260202};
    enum { BAD = sizeof bad_facts / sizeof *bad_facts };
    int tried = 0, worse = 0;
    const int wanted = random_count("HB_CONDITION_CASES", 150);
    while (tried < wanted) {
        struct hobble_condition_answer before, after;
        hobble_case *c = random_bench(&source);
        if (c) {
            const char *const *bad = bad_facts[random_below(&source, BAD)];
            bench_judge(c, &before);
            bench_set(c, bad[0], bad[1]);
            if (hobble_condition_judge(c, 1, &after, NULL) == HOBBLE_OK) {
                tried++;
                worse += after.verdict > before.verdict;
                NEED(after.verdict >= before.verdict, "%s = %s improves on %s", bad[0], bad[1],
                     before.rule[0].id);
            }
        }
        hobble_case_free(c);
    }
    ck_assert_int_gt(worse, wanted / 20);
}
END_TEST

/* ---- rows of the trip ---------------------------------------------------------------------- */

/* Each from harmless to bad. "": a leg, of which a part is drawn. */
static const char *const trip_facts[][4] = {
    {"pressure", "300", "90", "0"},
    {"run", "0", "30", "900"},
    {"run_speed", "10", "95", "200"},
    {"unseen", "0", "2", "100"},
    {"leak", "100000", "40", "1"},
    {"hole", "0.02", "0.5", "5"},
    {"rest", "0", "60", "2000"},
    {"speed_before", "0", "90", "200"},
    {"speed", "5", "85", "180"},
    {"flat_tyres", "1", "2", "3"},
    {"", "", "", ""},
};
enum { TRIP_FACTS = sizeof trip_facts / sizeof *trip_facts };

static const struct hobble_leg trip_legs[] = {
    {3.0, 100.0, (double)NAN, (double)NAN, 263.15, 400e3, (double)NAN},
    {25.0, 200e3, (double)NAN, (double)NAN, (double)NAN, (double)NAN, (double)NAN},
    {0.0, (double)NAN, 3e4, (double)NAN, (double)NAN, (double)NAN, 4e4},
    {22.0, 50e3, (double)NAN, (double)NAN, 313.15, 0.0, (double)NAN},
    {22.0, (double)NAN, 600.0, 9000.0, (double)NAN, (double)NAN, (double)NAN},
};

static void add_trip_fact(struct random_source *source, hobble_case *c, int fact)
{
    if (*trip_facts[fact][0])
        bench_set(c, trip_facts[fact][0], trip_facts[fact][1 + random_below(source, 3)]);
    else
        NEED(hobble_case_add_leg(
                 c, &trip_legs[random_below(source, sizeof trip_legs / sizeof *trip_legs)], NULL) ==
                 HOBBLE_OK,
             "a leg is refused");
}

/* Facts of the trip are added one after another; each must leave the verdict or make it worse
 * (docs/condition.md, "What a trip states"). */
START_TEST(a_trip_fact_never_improves)
{
    struct random_source source = {20260404};
    int tried[TRIP_FACTS] = {0}, worse[TRIP_FACTS] = {0};
    const int wanted = random_count("HB_CONDITION_CASES", 150);
    for (int i = 0; i < 2 * wanted;) {
        struct hobble_condition_answer before, after;
        bool stated[TRIP_FACTS] = {false};
        hobble_case *c = i % 2 ? bench_make("self", "members=20") : random_bench(&source);
        for (int n = 0; c && n < 3; n++) {
            const int fact = (i + n * random_below(&source, TRIP_FACTS)) % TRIP_FACTS;
            if (stated[fact]) /* a row stated anew is changed, not added */
                continue;
            stated[fact] = true;
            bench_judge(c, &before);
            add_trip_fact(&source, c, fact);
            if (hobble_condition_judge(c, 1, &after, NULL) != HOBBLE_OK)
                break; /* run beside legs, or time driven where the car stood: refused */
            tried[fact]++;
            worse[fact] += after.verdict > before.verdict;
            NEED(after.verdict >= before.verdict && after.rule_count > 0, "%s improves on %s",
                 *trip_facts[fact][0] ? trip_facts[fact][0] : "a leg", before.rule[0].id);
        }
        i += c != NULL;
        hobble_case_free(c);
    }
    for (int fact = 0; fact < TRIP_FACTS; fact++)
        ck_assert_msg(tried[fact] > wanted / 30, "%s: too few", trip_facts[fact][0]);
    ck_assert_int_gt(worse[0] + worse[3] + worse[9] + worse[TRIP_FACTS - 1], wanted / 20);
}
END_TEST

/* Each of these alone says flat running (0-70 kPa, UN R30, second-hand) or a way in which the
 * model uses 1 % of life (limit assumed), of a tyre that gets the better verdict without it. */
START_TEST(a_bad_trip_fact_decides)
{
    static const char *const rows[][3] = {
        {"pressure", "69.9", "flat_running"},
        {"run", "1000", "far_when_warned"},
        {"unseen", "600", "far_when_warned"},
        {"leak", "1", "flat_running"},
        {"hole", "5", "flat_running"},
        {"flat_tyres", "3", "flat_running"},
        {"run_speed", "200", ""},
        {"speed_before", "200", ""},
    };
    struct hobble_condition_answer a;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        hobble_case *c = bench_make("self", "members=50;lowest_pressure=210;low_distance=3");
        bench_judge(c, &a);
        ck_assert_int_eq(a.verdict, HOBBLE_DISMOUNT_AND_INSPECT);
        bench_set(c, rows[i][0], rows[i][1]);
        bench_judge(c, &a);
        NEED(a.verdict == HOBBLE_SCRAP, "%s = %s is passed over", rows[i][0], rows[i][1]);
        NEED(!*rows[i][2] || bench_fired(&a, rows[i][2]), "%s = %s: not %s but %s", rows[i][0],
             rows[i][1], rows[i][2], a.rule[0].id);
        hobble_case_free(c);
    }
}
END_TEST

/* Errors that are stated low do not cool the tyre: real load, speed and air are never taken to be
 * below what was stated (docs/condition.md). */
START_TEST(low_errors_do_not_cool)
{
    static const char *const rows[][3] = {
        {"load_error", "0.5", "1"}, {"speed_error", "0.5", "1"}, {"ambient_error", "-20", "0"}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct hobble_condition_answer low, none;
        hobble_case *c = bench_make("self", "members=50;lowest_pressure=120;low_distance=20");
        bench_set(c, rows[i][0], rows[i][1]);
        bench_judge(c, &low);
        bench_set(c, rows[i][0], rows[i][2]);
        bench_judge(c, &none);
        ck_assert(low.drive.run && none.drive.run);
        ck_assert_double_eq_tol(low.drive.peak_p95, none.drive.peak_p95, 1e-9);
        ck_assert_double_eq_tol(low.drive.life_p95, none.drive.life_p95, 1e-12);
        hobble_case_free(c);
    }
}
END_TEST

/* The same facts with and without what the model said. */
START_TEST(the_model_never_improves)
{
    struct random_source source = {20260303};
    int run = 0, worse = 0;
    const int wanted = random_count("HB_CONDITION_CASES", 150);
    for (int i = 0; i < wanted; i++) {
        struct hobble_condition_answer with, without = {0};
        struct hb_facts facts;
        hobble_case *c = random_bench(&source);
        if (c) {
            bench_judge(c, &with);
            hb_facts_make(&c->settings, NULL, &facts);
            hb_condition_of(&facts, &without);
            NEED(with.verdict >= without.verdict, "the model improves on %s", without.rule[0].id);
            run += with.drive.run;
            worse += with.verdict > without.verdict;
        }
        hobble_case_free(c);
    }
    ck_assert_int_gt(run, wanted / 10);
    ck_assert_int_gt(worse, 0);
}
END_TEST

/* ---- the model's part ---------------------------------------------------------------------- */

/* Limits of the design: 1 % of life, 80 degC. Whether the rules fire is checked against the
 * numbers that the same answer reports, so this rests on no value of the model's. */
START_TEST(model_rules_follow_the_drive)
{
    static const char *const drives[] = {
        "lowest_pressure=180;low_distance=1;low_speed=30", "lowest_pressure=120;low_distance=5",
        "lowest_pressure=100;low_distance=60;low_speed=90",
        "lowest_pressure=75;low_distance=150;low_speed=90;load_share=1;ambient=40"};
    double life = -1.0, peak = -1.0;
    bool heated = false, cool = false;
    for (size_t i = 0; i < sizeof drives / sizeof *drives; i++) {
        struct hobble_condition_answer a;
        hobble_case *c = bench_make("self", drives[i]);
        bench_set(c, "members", "100");
        bench_judge(c, &a);
        ck_assert(a.drive.run);
        ck_assert_msg((bench_fired(&a, "model_life") != NULL) == (a.drive.life_p95 >= 0.01), "%s",
                      drives[i]);
        ck_assert_msg((bench_fired(&a, "model_heat") != NULL) == (a.drive.peak_p95 >= 353.15), "%s",
                      drives[i]);
        ck_assert_msg((bench_fired(&a, "model_rim") != NULL) == (a.drive.rim_share >= 0.01), "%s",
                      drives[i]);
        ck_assert(a.drive.life_p95 >= a.drive.life_p50 && a.drive.peak_p95 >= a.drive.peak_p50);
        ck_assert(a.drive.above_80 >= a.drive.above_100 && a.drive.above_100 >= a.drive.above_120);
        ck_assert_msg(a.drive.life_p95 > life && a.drive.peak_p95 > peak,
                      "a harder drive is milder");
        life = a.drive.life_p95;
        peak = a.drive.peak_p95;
        heated = heated || peak >= 353.15;
        cool = cool || peak < 353.15;
        hobble_case_free(c);
    }
    ck_assert(heated && cool);
}
END_TEST

/* RF in the marking tells the construction (UN R30): the same drive, whether it is stated again or
 * not. */
START_TEST(marking_tells_the_construction)
{
    struct hobble_condition_answer stated, marked;
    hobble_case *c = bench_make("self", "lowest_pressure=120;low_distance=20");
    hobble_case *d = bench_make("self", "lowest_pressure=120;low_distance=20;construction=-");
    bench_judge(c, &stated);
    bench_judge(d, &marked);
    ck_assert(stated.drive.run && marked.drive.run);
    ck_assert_double_eq_tol(marked.drive.life_p95, stated.drive.life_p95, 1e-12);
    ck_assert_double_eq_tol(marked.drive.peak_p95, stated.drive.peak_p95, 1e-9);
    hobble_case_free(c);
    hobble_case_free(d);
}
END_TEST

/* Both sides of the three limits, which are the design's own (assumed): 1 % of life, 80 degC, one
 * tyre in a hundred on its rim. */
START_TEST(model_thresholds)
{
    static const struct {
        enum hb_fact fact;
        double mild, bad;
        const char *id;
    } rows[] = {{HB_F_MODEL_LIFE, 0.0099, 0.01, "model_life"},
                {HB_F_MODEL_PEAK, 79.9, 80.0, "model_heat"},
                {HB_F_MODEL_RIM, 0.0099, 0.01, "model_rim"}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct hobble_condition_answer a = {0};
        struct hb_facts facts;
        hobble_case *c = bench_make("self", "-");
        hb_facts_make(&c->settings, NULL, &facts);
        facts.value[rows[i].fact] = rows[i].mild;
        hb_condition_of(&facts, &a);
        ck_assert_int_eq(a.verdict, HOBBLE_DISMOUNT_AND_INSPECT);
        facts.value[rows[i].fact] = rows[i].bad;
        hb_condition_of(&facts, &a);
        ck_assert_int_eq(a.verdict, HOBBLE_SCRAP);
        ck_assert(bench_fired(&a, rows[i].id) != NULL);
        hobble_case_free(c);
    }
}
END_TEST

/* The rim carries far over the index at 0 kPa; the number must reach the rule. */
START_TEST(model_sees_the_rim)
{
    struct hobble_condition_answer a;
    hobble_case *c = bench_make("self", "lowest_pressure=0;low_distance=5;load_share=1.5");
    bench_set(c, "members", "100");
    bench_set(c, "stiffness_flat", "20"); /* a very soft wall */
    bench_judge(c, &a);
    ck_assert(a.drive.run && a.drive.rim_share > 0.5);
    ck_assert(bench_fired(&a, "model_rim") != NULL && bench_fired(&a, "flat_running") != NULL);
    hobble_case_free(c);
}
END_TEST

/* After a driver's drive the same rules speak: flat is scrap, whatever the rest. */
START_TEST(after_a_drive)
{
    struct hobble_answer a;
    hobble_case *c = bench_make("self", "lowest_pressure=220");
    bench_set(c, "members", "50");
    ck_assert_int_eq(hobble_range(c, 1, &a, NULL), HOBBLE_OK);
    ck_assert_int_eq(a.condition, HOBBLE_SCRAP);
    ck_assert_int_gt(a.rule_count, 0);
    ck_assert_str_eq(a.rule[0].id, "flat_running");
    hobble_case_free(c);
}
END_TEST

Suite *condition_property_suite(void)
{
    Suite *suite = suite_create("condition_property");
    TCase *properties = tcase_create("properties");

    tcase_add_checked_fixture(properties, bench_setup, bench_teardown);
    tcase_set_timeout(properties, 600);
    tcase_add_test(properties, forgetting_never_improves);
    tcase_add_test(properties, a_bad_fact_never_improves);
    tcase_add_test(properties, a_trip_fact_never_improves);
    tcase_add_test(properties, a_bad_trip_fact_decides);
    tcase_add_test(properties, low_errors_do_not_cool);
    tcase_add_test(properties, the_model_never_improves);
    tcase_add_test(properties, model_rules_follow_the_drive);
    tcase_add_test(properties, marking_tells_the_construction);
    tcase_add_test(properties, model_thresholds);
    tcase_add_test(properties, model_sees_the_rim);
    tcase_add_test(properties, after_a_drive);
    suite_add_tcase(suite, properties);
    return suite;
}
