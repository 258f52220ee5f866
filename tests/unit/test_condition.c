/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test_condition.c - what becomes of the tyre: published criteria with both sides of every
 * threshold, and a table of all combinations. Sources stand in the vector files. */
#include "advice/condition.h"
#include "bench.h"
#include "json_struct.h"
#include "report/describe/answers.h"
#include "report/json/render.h"
#include "study/case.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

Suite *condition_suite(void);

enum { CASE_ROWS = 150, FAULT_ROWS = 18, WIDTHS = 11 };

static struct hobble_faults faults;

/* Worst first, never empty, nothing wanted of a tyre about which everything is known. */
static void check_shape(const struct hobble_condition_answer *a)
{
    NEED(a->rule_count > 0 && a->check_count > 0, "an answer without rules or checks");
    NEED(a->rule[0].verdict == a->verdict, "the worst rule does not stand first");
    for (int i = 1; i < a->rule_count; i++)
        NEED(a->rule[i].verdict <= a->rule[i - 1].verdict, "rules out of order");
    for (int i = 0; i < a->rule_count; i++)
        NEED(*a->rule[i].reason && *a->rule[i].source, "%s has no reason or source", a->rule[i].id);
    NEED(a->basis == HOBBLE_BY_RULE || a->find_out_count > 0, "unknown, and nothing to find out");
}

START_TEST(published_criteria)
{
    struct tsv t;
    bench_load(&t, "condition-cases.tsv", 7, CASE_ROWS);
    for (size_t row = 0; row < t.rows; row++) {
        struct hobble_condition_answer a;
        const char *changes = tsv_cell(&t, row, 2), *rule = tsv_cell(&t, row, 5);
        const bool scrap = strcmp(tsv_cell(&t, row, 3), "scrap") == 0;
        hobble_case *c = bench_make(tsv_cell(&t, row, 0), changes);
        bench_rules(c, tsv_cell(&t, row, 1));
        bench_judge(c, &a);
        check_shape(&a);
        const struct hobble_fired *f = bench_fired(&a, rule);
        NEED(a.verdict == (scrap ? HOBBLE_SCRAP : HOBBLE_DISMOUNT_AND_INSPECT),
             "line %d, %s: %s by %s", t.line[row], changes, hobble_condition_word(a.verdict),
             a.rule[0].id);
        NEED(strcmp(hobble_basis_word(a.basis), tsv_cell(&t, row, 4)) == 0, "line %d, %s: basis %s",
             t.line[row], changes, hobble_basis_word(a.basis));
        NEED(f && f->verdict == a.verdict, "line %d, %s: %s did not decide, but %s", t.line[row],
             changes, rule, a.rule[0].id);
        hobble_case_free(c);
    }
    tsv_free(&t);
}
END_TEST

/* Every rule of the table decides at least once in condition-cases.tsv or is named here with the
 * test that reaches it. */
START_TEST(every_rule_is_tested)
{
    static const char *const elsewhere[] = {"outside_band", "drive_not_described", "model_rim",
                                            "model_life", "model_heat"};
    struct tsv t;
    bench_load(&t, "condition-cases.tsv", 7, CASE_ROWS);
    size_t count = 0;
    for (const struct hobble_rule_row *r; (r = hobble_condition_rule(count)) != NULL; count++) {
        bool named = false;
        for (size_t row = 0; row < t.rows; row++)
            named = named || strcmp(tsv_cell(&t, row, 5), r->rule.id) == 0;
        for (size_t i = 0; i < sizeof elsewhere / sizeof *elsewhere; i++)
            named = named || strcmp(elsewhere[i], r->rule.id) == 0;
        ck_assert_msg(named, "no row for %s", r->rule.id);
    }
    ck_assert_uint_gt(count, 40);
    tsv_free(&t);
}
END_TEST

START_TEST(contradictions)
{
    struct tsv t;
    bench_load(&t, "condition-faults.tsv", 5, FAULT_ROWS);
    for (size_t row = 0; row < t.rows; row++) {
        static const struct {
            const char *name;
            enum hobble_status status;
        } statuses[] = {{"HOBBLE_E_SYNTAX", HOBBLE_E_SYNTAX},
                        {"HOBBLE_E_CONFLICT", HOBBLE_E_CONFLICT},
                        {"HOBBLE_E_RANGE", HOBBLE_E_RANGE}};
        struct hobble_condition_answer a = {.rule_count = -7};
        hobble_case *c = bench_make(tsv_cell(&t, row, 0), tsv_cell(&t, row, 1));
        memset(&faults, 0, sizeof faults);
        const enum hobble_status status = hobble_condition_judge(c, 1, &a, &faults);
        const char *wanted = tsv_cell(&t, row, 2);
        bool right = false;
        for (size_t i = 0; i < 3; i++)
            right =
                right || (strcmp(statuses[i].name, wanted) == 0 && statuses[i].status == status);
        ck_assert_msg(right, "line %d: %s", t.line[row], hobble_status_text(status));
        ck_assert_uint_gt(faults.count, 0);
        ck_assert_str_eq(faults.item[0].key, tsv_cell(&t, row, 3));
        ck_assert_str_ne(faults.item[0].allowed, ""); /* what is wrong, and what would not be */
        ck_assert_int_eq(a.rule_count, -7);
        hobble_case_free(c);
    }
    tsv_free(&t);
}
END_TEST

/* The printed widths are rounded, to at most half a millimetre from 60/65/70 % of the width. */
START_TEST(repairable_width)
{
    struct tsv t;
    bench_load(&t, "condition-widths.tsv", 2, WIDTHS);
    for (size_t row = 0; row < t.rows; row++) {
        double width = 0, repairable = 0;
        ck_assert(tsv_number(&t, row, 0, &width) && tsv_number(&t, row, 1, &repairable));
        for (int side = -1; side <= 1; side += 2) {
            struct hobble_condition_answer a;
            char changes[BENCH_TEXT];
            const double size = 4.0, edge = 0.5 * repairable + 0.3 * side;
            snprintf(changes, sizeof changes,
                     "marking=%.0f/60 R15 80S;injury_size=%.6f;injury_offset=%.6f", width, size,
                     edge - 0.5 * size);
            hobble_case *c = bench_make("plain", changes);
            bench_judge(c, &a);
            ck_assert_msg((bench_fired(&a, "outside_band") != NULL) == (side > 0), "%s", changes);
            ck_assert_int_eq(a.verdict, side > 0 ? HOBBLE_SCRAP : HOBBLE_DISMOUNT_AND_INSPECT);
            hobble_case_free(c);
        }
    }
    tsv_free(&t);
}
END_TEST

/* ---- every combination --------------------------------------------------------------------- */

static const char *const locals[] = {"-",       "strictest", "uk",         "us",
                                     "germany", "japan",     "new-zealand"};
enum { LOCALS = sizeof locals / sizeof *locals };

static const char *const built_words[] = {"unknown", "self_supporting", "extended_mobility",
                                          "sealant_lined", "conventional"};
static const char *const histories[] = {
    "lowest_pressure=220;pressure_log=yes;low_distance=0",
    "lowest_pressure=220;pressure_log=no;low_distance=0",
    "lowest_pressure=70;pressure_log=yes;low_distance=0",
    "lowest_pressure=69;pressure_log=yes;low_distance=0",
    "lowest_pressure=0;pressure_log=yes;low_distance=0",
    "lowest_pressure=0;pressure_log=yes;low_distance=5",
    "lowest_pressure=0;pressure_log=no;low_distance=120",
    "lowest_pressure=-;pressure_log=-;low_distance=-",
};
/* the first five are flat or unknown for a run-flat tyre from place 3 on */
enum { HISTORIES = sizeof histories / sizeof *histories, FLAT_FROM = 3 };
static const char *const zones[] = {"unknown", "none", "tread", "shoulder", "sidewall", "bead"};
static const char *const knowledge[] = {
    "", /* everything */
    "inspected_inside=-",
    "maker_approval=-;date_code=-;ran_flat=-",
    "tread_depth=-;injury_size=-;injury_count=-;injury_angle=-;sealant=-;repaired=-",
    ("inspected_inside=-;maker_approval=-;date_code=-;ran_flat=-;tread_depth=-;injury_size=-;"
     "injury_count=-;injury_angle=-;injury_offset=-;sealant=-;repaired=-;out_bulge=-;out_ring=-"),
};
enum { KNOWN_WAYS = sizeof knowledge / sizeof *knowledge };

static hobble_case *combine(int built, int history, int zone, int known)
{
    char changes[2 * BENCH_TEXT];
    snprintf(changes, sizeof changes, "marking=255/40 %s18 95V;construction=%s;%s;%s%s%s",
             built == 1 ? "RF" : "R", built_words[built], histories[history],
             zone == 0 ? "injury_zone=-;" : "",
             zone == 1 ? "injury_size=-;injury_count=-;injury_angle=-;injury_offset=-;" : "",
             knowledge[known]);
    hobble_case *c = bench_make("self", changes);
    bench_set(c, "members", "20");
    if (zone > 0)
        bench_set(c, "injury_zone", zones[zone]);
    return c;
}

/* By the rules alone: without the model, which could hide a rule that is too mild. */
static void judge_by_rules(const hobble_case *c, struct hobble_condition_answer *a)
{
    struct hb_facts facts;
    memset(&faults, 0, sizeof faults);
    NEED(hb_facts_check(&c->settings, &faults) == HOBBLE_OK, "%s", faults.item[0].key);
    hb_facts_make(&c->settings, NULL, &facts);
    hb_condition_of(&facts, a);
}

START_TEST(every_combination)
{
    int judged = 0, not_scrap = 0;
    for (int place = 0; place < LOCALS * 5 * HISTORIES * 6 * KNOWN_WAYS; place++) {
        struct hobble_condition_answer a = {0};
        int rest = place;
        const int known = rest % KNOWN_WAYS, zone = (rest /= KNOWN_WAYS) % 6;
        const int history = (rest /= 6) % HISTORIES, built = (rest /= HISTORIES) % 5;
        const int local = rest / 5;
        hobble_case *c = combine(built, history, zone, known);
        bench_rules(c, locals[local]);
        if (local == 0 && zone == 2)
            bench_judge(c, &a);
        else
            judge_by_rules(c, &a);
        check_shape(&a);
        judged++;
        not_scrap += a.verdict != HOBBLE_SCRAP;
        const bool may_carry = built <= 2; /* unknown counts as self-supporting here */
        NEED(a.verdict == HOBBLE_SCRAP || !(may_carry && history >= FLAT_FROM),
             "%s, %s, %s, %s: better than scrap", locals[local], built_words[built],
             histories[history], zones[zone]);
        NEED(a.verdict == HOBBLE_SCRAP || (known == 0 && (zone == 1 || zone == 2)),
             "%s, %s, %s, %s, knowledge %d: better than scrap", locals[local], built_words[built],
             histories[history], zones[zone], known);
        hobble_case_free(c);
    }
    ck_assert_int_eq(judged, LOCALS * 5 * HISTORIES * 6 * KNOWN_WAYS);
    ck_assert_int_gt(not_scrap, 20); /* or nothing above could have failed */
}
END_TEST

/* A point to check that names something, among those of a tyre with some facts changed. */
static bool to_check(const char *changes, const char *what)
{
    struct hobble_condition_answer a;
    hobble_case *c = bench_make("self", changes);
    bench_judge(c, &a);
    hobble_case_free(c);
    for (int i = 0; i < a.check_count; i++)
        if (strstr(a.check[i], what))
            return true;
    return false;
}

/* What else is to be looked at, and until when. Common practice, no source. */
START_TEST(points_to_check)
{
    static const struct {
        const char *what, *asked, *done;
    } rows[] = {{"beside and opposite", "neighbour_checked=-", "neighbour_checked=yes"},
                {"beside and opposite", "neighbour_checked=no", "neighbour_checked=yes"},
                {"The rim is damaged", "rim_damage=yes", "rim_damage=no"},
                {"unfit for use", "out_bulge=yes", "out_bulge=no"},
                {"Probe the injury", "injury_zone=-",
                 "injury_zone=none;injury_offset=-;"
                 "injury_size=-;injury_angle=-;injury_count=-"},
                {"Take the tyre off the rim", "out_bulge=no", "out_bulge=yes"}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        NEED(to_check(rows[i].asked, rows[i].what), "%s: not '%s'", rows[i].asked, rows[i].what);
        NEED(!to_check(rows[i].done, rows[i].what), "%s: '%s'", rows[i].done, rows[i].what);
    }
}
END_TEST

/* Figures that differ by a rounding error are the same: 0.1 * 225 is 22.5 (arithmetic). What is
 * under, over or from a limit by more than that is. */
START_TEST(rounding_errors_are_none)
{
    static const struct {
        enum hb_fact fact;
        double limit, side; /* on which the rule fires: 1 above it, -1 below */
        const char *id;
        bool at_it;
    } rows[] = {{HB_F_LOWEST_PRESSURE, 70, -1, "flat_running", false},
                {HB_F_LOW_DISTANCE, 160, 1, "far_when_warned", false},
                {HB_F_MODEL_LIFE, 0.01, 1, "model_life", true}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        static const double away[] = {-1e-6, -1e-13, 0, 1e-13, 1e-6};
        hobble_case *c = bench_make("self", "-");
        for (size_t k = 0; k < 5; k++) {
            struct hobble_condition_answer a = {0};
            struct hb_facts facts;
            hb_facts_make(&c->settings, NULL, &facts);
            facts.value[rows[i].fact] = rows[i].limit * (1.0 + away[k]);
            hb_condition_of(&facts, &a);
            const bool wanted = fabs(away[k]) < 1e-9 ? rows[i].at_it : away[k] * rows[i].side > 0.0;
            NEED((bench_fired(&a, rows[i].id) != NULL) == wanted, "%s, %g of it away", rows[i].id,
                 away[k]);
        }
        hobble_case_free(c);
    }
}
END_TEST

/* A limit that lets more tyres pass than the built-in one is named, and one that lets fewer is not:
 * more of a least spacing or depth lets fewer pass, more of any other limit lets more (definition).
 */
START_TEST(loosened_limits)
{
    size_t count, limits = 0;
    const struct hobble_param *row = hobble_param_table(&count);
    for (size_t i = 0; i < count; i++) {
        if (row[i].group != HOBBLE_RULES || row[i].kind != HOBBLE_NUMBER)
            continue;
        const bool least =
            strcmp(row[i].key, "min_spacing") == 0 || strcmp(row[i].key, "tread_least") == 0;
        for (int up = 0; up < 2; up++) {
            struct hobble_condition_answer a;
            hobble_case *c = bench_make("self", "-");
            const double to = up ? row[i].max : row[i].min;
            ck_assert_int_eq(hobble_case_set_number(c, (int)i, to, "test", NULL), HOBBLE_OK);
            bench_judge(c, &a);
            const bool looser = to != row[i].value && (up != 0) != least;
            NEED(a.loosened_count == looser && (!looser || a.loosened[0] == (int)i),
                 "%s = %g: %d named", row[i].key, to, a.loosened_count);
            hobble_case_free(c);
        }
        limits++;
    }
    ck_assert_uint_ge(limits, 8);
}
END_TEST

START_TEST(nothing_known)
{
    struct hobble_condition_answer a;
    hobble_case *c = hobble_case_new();
    bench_judge(c, &a);
    check_shape(&a);
    ck_assert_int_eq(a.verdict, HOBBLE_SCRAP);
    ck_assert_int_eq(a.basis, HOBBLE_BY_UNKNOWN);
    ck_assert_int_gt(a.find_out_count, 15);
    ck_assert(isnan(a.age) && !a.drive.run && *a.drive.why_not);
    hobble_case_free(c);
}
END_TEST

/* ---- what is told ---------------------------------------------------------------------------- */

#define D(path, field, unit)                                                                       \
    {                                                                                              \
        "model." path, offsetof(struct hobble_condition_answer, drive.field), unit                 \
    }
static const struct json_number told[] = {
    D("pressure_kpa", pressure, JSON_KPA),
    D("distance_km", distance, JSON_KM),
    D("speed_kmh", speed, JSON_KMH),
    D("load_n", load, JSON_ONE),
    D("ambient_c", ambient, JSON_CELSIUS),
    D("peak_c_p50", peak_p50, JSON_CELSIUS),
    D("peak_c_p95", peak_p95, JSON_CELSIUS),
    D("above_80_c_min_p95", above_80, JSON_MINUTES),
    D("above_100_c_min_p95", above_100, JSON_MINUTES),
    D("above_120_c_min_p95", above_120, JSON_MINUTES),
    D("life_used_p50", life_p50, JSON_ONE),
    D("life_used_p95", life_p95, JSON_ONE),
    D("deflection_of_rim_contact_p95", deflection_p95, JSON_ONE),
    D("rim_share_of_tyres", rim_share, JSON_ONE),
};
enum { TOLD = sizeof told / sizeof *told };

static const char *text_at(const json_t *json, const char *list, int place, const char *key)
{
    const json_t *item = json_array_get(json_object_get(json, list), (size_t)place);
    return json_string_value(key ? json_object_get(item, key) : item);
}

static void words_are_told(const json_t *json, const struct hobble_condition_answer *a)
{
    const json_t *local = json_object_get(json, "local_rules");
    const struct hobble_param *p = hobble_param_table(NULL);
    ck_assert_str_eq(json_string_value(json_object_get(json, "verdict")),
                     a->verdict == HOBBLE_SCRAP ? "scrap" : "dismount_and_inspect");
    ck_assert_str_eq(json_string_value(json_object_get(json, "basis")),
                     a->basis == HOBBLE_BY_RULE ? "rule" : "unknown");
    ck_assert_int_eq(json_is_true(json_object_get(json, "decided")), a->decided);
    ck_assert_int_eq((int)json_array_size(json_object_get(json, "rules")), a->rule_count);
    for (int i = 0; i < a->rule_count; i++) {
        ck_assert_str_eq(text_at(json, "rules", i, "id"), a->rule[i].id);
        ck_assert_str_eq(text_at(json, "rules", i, "reason"), a->rule[i].reason);
        ck_assert_str_eq(text_at(json, "rules", i, "source"), a->rule[i].source);
        ck_assert_str_eq(text_at(json, "rules", i, "provenance"),
                         hobble_provenance_word(a->rule[i].provenance));
    }
    ck_assert_int_eq((int)json_array_size(json_object_get(json, "find_out")), a->find_out_count);
    for (int i = 0; i < a->find_out_count; i++)
        ck_assert_str_eq(text_at(json, "find_out", i, "key"), p[a->find_out[i]].key);
    ck_assert_int_eq((int)json_array_size(json_object_get(json, "still_to_check")), a->check_count);
    for (int i = 0; i < a->check_count; i++)
        ck_assert_str_eq(text_at(json, "still_to_check", i, NULL), a->check[i]);
    ck_assert_int_eq((int)json_array_size(json_object_get(local, "loosened")), a->loosened_count);
    for (int i = 0; i < a->loosened_count; i++)
        ck_assert_str_eq(text_at(local, "loosened", i, NULL), p[a->loosened[i]].key);
    if (a->matters_most < 0)
        ck_assert(json_is_null(json_object_get(json, "matters_most")));
    else
        ck_assert_str_eq(json_string_value(json_object_get(json, "matters_most")),
                         p[a->matters_most].key);
}

/* Every fact that was given and none besides, and the age; then they are taken out. Returns how
 * many. */
static int facts_are_told(json_t *json, const hobble_case *c,
                          const struct hobble_condition_answer *a)
{
    size_t rows;
    int given = 0;
    const struct hobble_param *p = hobble_param_table(&rows);
    const json_t *told_facts = json_object_get(json, "facts");
    const json_t *age = json_object_get(json, "age_years");
    for (size_t i = 0; i < rows; i++) {
        const json_t *fact = json_object_get(told_facts, p[i].key);
        const bool is_one = hobble_case_given(c, (int)i) && p[i].group != HOBBLE_STUDY &&
                            p[i].group != HOBBLE_RULES && strcmp(p[i].key, "job") != 0;
        ck_assert_msg(is_one == (fact != NULL), "%s", p[i].key);
        given += is_one;
        if (fact && p[i].kind == HOBBLE_NUMBER)
            ck_assert_double_eq(json_number_value(fact), hobble_case_number(c, (int)i));
    }
    ck_assert_int_eq((int)json_object_size(told_facts), given);
    /* a year of 365.25 days, as the table of units has it (IAU 1976: Julian year) */
    ck_assert(isnan(a->age) ? json_is_null(age)
                            : fabs(json_number_value(age) - a->age / (365.25 * 86400.0)) < 1e-8);
    json_object_del(json, "facts");
    json_object_del(json, "age_years");
    return given;
}

/* Source: the answer itself; units by definition. */
START_TEST(json_is_the_answer)
{
    static const char *const changes[] = {
        "-",
        "low_distance=5;lowest_pressure=40",
        "low_distance=70;low_speed=70;load_share=0.9",
        "low_distance=20;lowest_pressure=100;ambient=35;job=AB 1",
        "date_code=-;in_dust=-",
        "low_distance=75;low_speed=110;lowest_pressure=0;load_share=1;ambient=40;ran_flat=-"};
    bool seen[TOLD] = {false};
    int not_run = 0, facts = 0, hot = 0;
    for (size_t i = 0; i < sizeof changes / sizeof *changes; i++) {
        struct hobble_condition_answer a;
        hobble_case *c = bench_make("self", changes[i]);
        bench_set(c, "members", "60");
        bench_rules(c, i == 1 ? "japan" : "-");
        bench_judge(c, &a);
        json_t *json = hb_render_json(&hb_condition_answer, c, &a);
        words_are_told(json, &a);
        facts += facts_are_told(json, c, &a);
        json_struct_compare(json, &a, told, TOLD, seen);
        not_run += json_object_get(json_object_get(json, "model"), "why_not") != NULL;
        ck_assert_int_eq(json_is_true(json_object_get(json_object_get(json, "model"), "run")),
                         a.drive.run);
        hot += a.drive.above_120 > 0.0;
        json_decref(json);
        hobble_case_free(c);
    }
    json_struct_all(told, TOLD, seen);
    ck_assert_int_gt(not_run, 0);
    ck_assert_int_gt(hot, 0); /* noughts are the same in every unit */
    ck_assert_int_gt(facts, 100);
}
END_TEST

Suite *condition_suite(void)
{
    Suite *suite = suite_create("condition");
    TCase *rules = tcase_create("rules");

    tcase_add_checked_fixture(rules, bench_setup, bench_teardown);
    tcase_set_timeout(rules, 300);
    tcase_add_test(rules, published_criteria);
    tcase_add_test(rules, every_rule_is_tested);
    tcase_add_test(rules, contradictions);
    tcase_add_test(rules, repairable_width);
    tcase_add_test(rules, every_combination);
    tcase_add_test(rules, points_to_check);
    tcase_add_test(rules, rounding_errors_are_none);
    tcase_add_test(rules, loosened_limits);
    tcase_add_test(rules, nothing_known);
    tcase_add_test(rules, json_is_the_answer);
    suite_add_tcase(suite, rules);
    return suite;
}
