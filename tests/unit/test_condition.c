/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test_condition.c - what becomes of the tyre: published criteria with both sides of every
 * threshold, a table of all combinations, and properties over random cases. Sources stand in the
 * vector files; the properties are those of docs/condition.md. */
#include "advice/condition.h"
#include "input/profile.h"
#include "random_case.h"
#include "study/case.h"
#include "tsv.h"

#include <check.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

Suite *condition_suite(void);

enum { CASE_ROWS = 150, FAULT_ROWS = 18, BASE_ROWS = 80, WIDTHS = 11, TEXT = 700 };

static struct tsv base;
static struct hobble_faults faults;

#define NEED(held, ...)                                                                            \
    do {                                                                                           \
        if (!(held))                                                                               \
            ck_abort_msg(__VA_ARGS__);                                                             \
    } while (0)

static void load(struct tsv *t, const char *name, size_t fields, size_t least)
{
    char why[TEXT] = "";
    NEED(tsv_load(t, name, fields, least, why, sizeof why), "%s", why);
}

static void setup(void)
{
    load(&base, "condition-base.tsv", 3, BASE_ROWS);
    memset(&faults, 0, sizeof faults);
}

static void teardown(void)
{
    tsv_free(&base);
}

static void set(hobble_case *c, const char *key, const char *value)
{
    memset(&faults, 0, sizeof faults);
    NEED(hb_set_text(c, key, value, "test", &faults) == HOBBLE_OK, "%s = %s: %s", key, value,
         faults.item[0].allowed);
}

/* Value that changes give a key, copied into value; false when they do not name it. */
static bool changed(const char *changes, const char *key, char value[TEXT])
{
    const size_t length = strlen(key);
    for (const char *at = changes; *at; at += strcspn(at, ";"), at += *at == ';') {
        const size_t all = strcspn(at, ";");
        if (all > length && strncmp(at, key, length) == 0 && at[length] == '=') {
            snprintf(value, TEXT, "%.*s", (int)(all - length - 1), at + length + 1);
            return true;
        }
    }
    return false;
}

/* Each key of changes that the base does not name. */
static void set_rest(hobble_case *c, const char *changes)
{
    char key[TEXT], value[TEXT];
    for (const char *at = changes; *at && strcmp(changes, "-") != 0;
         at += strcspn(at, ";"), at += *at == ';') {
        snprintf(key, sizeof key, "%.*s", (int)strcspn(at, "="), at);
        NEED(changed(changes, key, value), "'%s' is no change", at);
        if (strcmp(value, "-") != 0)
            set(c, key, value);
    }
}

static hobble_case *make(const char *name, const char *changes)
{
    char value[TEXT];
    hobble_case *c = hobble_case_new();
    size_t rows = 0;
    for (size_t i = 0; i < base.rows; i++)
        if (strcmp(tsv_cell(&base, i, 0), name) == 0) {
            const char *key = tsv_cell(&base, i, 1);
            rows++;
            if (!changed(changes, key, value))
                set(c, key, tsv_cell(&base, i, 2));
        }
    NEED(rows > 0, "no base '%s'", name);
    set_rest(c, changes);
    return c;
}

static void local_rules(hobble_case *c, const char *name)
{
    char path[TEXT];
    enum hobble_group kind = HOBBLE_STUDY;
    if (strcmp(name, "-") == 0)
        return;
    snprintf(path, sizeof path, "%s/../../profiles/rules/%s.cfg", TEST_DATA_DIR, name);
    memset(&faults, 0, sizeof faults);
    NEED(hb_profile_read_kind(path, HOBBLE_RULES, c, &kind, &faults) == HOBBLE_OK, "%s:%d: %s %s",
         path, faults.item[0].line, faults.item[0].key, faults.item[0].allowed);
    NEED(kind == HOBBLE_RULES, "%s is no file of rules", path);
}

static void judge(const hobble_case *c, struct hobble_condition_answer *a)
{
    memset(&faults, 0, sizeof faults);
    NEED(hobble_condition_judge(c, 1, a, &faults) == HOBBLE_OK, "%s: %s", faults.item[0].key,
         faults.item[0].allowed);
}

static const struct hobble_fired *fired(const struct hobble_condition_answer *a, const char *id)
{
    for (int i = 0; i < a->rule_count; i++)
        if (strcmp(a->rule[i].id, id) == 0)
            return &a->rule[i];
    return NULL;
}

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
    load(&t, "condition-cases.tsv", 7, CASE_ROWS);
    for (size_t row = 0; row < t.rows; row++) {
        struct hobble_condition_answer a;
        const char *changes = tsv_cell(&t, row, 2), *rule = tsv_cell(&t, row, 5);
        const bool scrap = strcmp(tsv_cell(&t, row, 3), "scrap") == 0;
        hobble_case *c = make(tsv_cell(&t, row, 0), changes);
        local_rules(c, tsv_cell(&t, row, 1));
        judge(c, &a);
        check_shape(&a);
        const struct hobble_fired *f = fired(&a, rule);
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
    load(&t, "condition-cases.tsv", 7, CASE_ROWS);
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
    load(&t, "condition-faults.tsv", 5, FAULT_ROWS);
    for (size_t row = 0; row < t.rows; row++) {
        static const struct {
            const char *name;
            enum hobble_status status;
        } statuses[] = {{"HOBBLE_E_SYNTAX", HOBBLE_E_SYNTAX},
                        {"HOBBLE_E_CONFLICT", HOBBLE_E_CONFLICT},
                        {"HOBBLE_E_RANGE", HOBBLE_E_RANGE}};
        struct hobble_condition_answer a = {.rule_count = -7};
        hobble_case *c = make(tsv_cell(&t, row, 0), tsv_cell(&t, row, 1));
        memset(&faults, 0, sizeof faults);
        const enum hobble_status status = hobble_condition_judge(c, 1, &a, &faults);
        const char *wanted = tsv_cell(&t, row, 2);
        bool right = false;
        for (size_t i = 0; i < 3; i++)
            right = right || (strcmp(statuses[i].name, wanted) == 0 && statuses[i].status == status);
        ck_assert_msg(right, "line %d: %s", t.line[row], hobble_status_text(status));
        ck_assert_uint_gt(faults.count, 0);
        ck_assert_str_eq(faults.item[0].key, tsv_cell(&t, row, 3));
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
    load(&t, "condition-widths.tsv", 2, WIDTHS);
    for (size_t row = 0; row < t.rows; row++) {
        double width = 0, repairable = 0;
        ck_assert(tsv_number(&t, row, 0, &width) && tsv_number(&t, row, 1, &repairable));
        for (int side = -1; side <= 1; side += 2) {
            struct hobble_condition_answer a;
            char changes[TEXT];
            const double size = 4.0, edge = 0.5 * repairable + 0.3 * side;
            snprintf(changes, sizeof changes,
                     "marking=%.0f/60 R15 80S;injury_size=%.6f;injury_offset=%.6f", width, size,
                     edge - 0.5 * size);
            hobble_case *c = make("plain", changes);
            judge(c, &a);
            ck_assert_msg((fired(&a, "outside_band") != NULL) == (side > 0), "%s", changes);
            ck_assert_int_eq(a.verdict, side > 0 ? HOBBLE_SCRAP : HOBBLE_DISMOUNT_AND_INSPECT);
            hobble_case_free(c);
        }
    }
    tsv_free(&t);
}
END_TEST

/* ---- every combination --------------------------------------------------------------------- */

static const char *const locals[] = {"-",     "strictest", "uk",         "us",
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
    "inspected_inside=-;maker_approval=-;date_code=-;ran_flat=-;tread_depth=-;injury_size=-;"
    "injury_count=-;injury_angle=-;injury_offset=-;sealant=-;repaired=-;out_bulge=-;out_ring=-",
};
enum { KNOWN_WAYS = sizeof knowledge / sizeof *knowledge };

static hobble_case *combine(int built, int history, int zone, int known)
{
    char changes[2 * TEXT];
    snprintf(changes, sizeof changes, "marking=255/40 %s18 95V;construction=%s;%s;%s%s%s",
             built == 1 ? "RF" : "R", built_words[built], histories[history],
             zone == 0 ? "injury_zone=-;" : "",
             zone == 1 ? "injury_size=-;injury_count=-;injury_angle=-;injury_offset=-;" : "",
             knowledge[known]);
    hobble_case *c = make("self", changes);
    set(c, "members", "20");
    if (zone > 0)
        set(c, "injury_zone", zones[zone]);
    return c;
}

/* By the rules alone: without the model, which could hide a rule that is too mild. */
static void judge_by_rules(const hobble_case *c, struct hobble_condition_answer *a)
{
    struct hb_facts facts;
    memset(&faults, 0, sizeof faults);
    NEED(hb_facts_check(&c->settings, &faults) == HOBBLE_OK, "%s", faults.item[0].key);
    hb_facts_make(&c->settings, &facts);
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
        local_rules(c, locals[local]);
        if (local == 0 && zone == 2)
            judge(c, &a);
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

START_TEST(nothing_known)
{
    struct hobble_condition_answer a;
    hobble_case *c = hobble_case_new();
    judge(c, &a);
    check_shape(&a);
    ck_assert_int_eq(a.verdict, HOBBLE_SCRAP);
    ck_assert_int_eq(a.basis, HOBBLE_BY_UNKNOWN);
    ck_assert_int_gt(a.find_out_count, 15);
    ck_assert(isnan(a.age) && !a.drive.run && *a.drive.why_not);
    hobble_case_free(c);
}
END_TEST

/* ---- properties over random cases ---------------------------------------------------------- */

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
        if (p->unit == HOBBLE_UNIT_NONE && p->max > 1.5)
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
    hobble_case *c = make(random_below(source, 3) ? "self" : "plain", "members=20");
    set(c, "members", "20");
    for (int i = random_below(source, 4); i > 0; i--) {
        const int row = random_below(source, (int)rows);
        if (is_fact(&table[row]))
            shake(source, c, row);
    }
    if (random_below(source, 2)) {
        set(c, "lowest_pressure", "150");
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
            judge(c, &before);
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
    {"ran_flat", "yes"},       {"lowest_pressure", "0"},   {"pressure_log", "no"},
    {"low_distance", "200"},   {"low_speed", "140"},       {"sealant", "yes"},
    {"injury_size", "40"},     {"injury_offset", "200"},   {"injury_angle", "90"},
    {"injury_count", "5"},     {"injury_spacing", "0"},    {"tread_depth", "0"},
    {"injury_zone", "sidewall"}, {"maker_approval", "refused"}, {"date_code", "529"},
    {"out_bulge", "yes"},      {"out_cord", "yes"},        {"out_ring", "yes"},
    {"in_dust", "yes"},        {"in_plies", "yes"},        {"in_insert", "yes"},
    {"rim_damage", "yes"},     {"neighbour_checked", "no"}, {"inspected_inside", "no"},
    {"ambient", "45"},         {"load_share", "1"},
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
            judge(c, &before);
            set(c, bad[0], bad[1]);
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

/* The same facts with and without what the model said. */
START_TEST(the_model_never_improves)
{
    struct random_source source = {20260303};
    int run = 0, worse = 0;
    for (int i = 0; i < random_count("HB_CONDITION_CASES", 150); i++) {
        struct hobble_condition_answer with, without = {0};
        struct hb_facts facts;
        hobble_case *c = random_bench(&source);
        if (c) {
            judge(c, &with);
            hb_facts_make(&c->settings, &facts);
            hb_condition_of(&facts, &without);
            NEED(with.verdict >= without.verdict, "the model improves on %s", without.rule[0].id);
            run += with.drive.run;
            worse += with.verdict > without.verdict;
        }
        hobble_case_free(c);
    }
    ck_assert_int_gt(run, 20);
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
        hobble_case *c = make("self", drives[i]);
        set(c, "members", "100");
        judge(c, &a);
        ck_assert(a.drive.run);
        ck_assert_msg((fired(&a, "model_life") != NULL) == (a.drive.life_p95 >= 0.01), "%s", drives[i]);
        ck_assert_msg((fired(&a, "model_heat") != NULL) == (a.drive.peak_p95 >= 353.15), "%s", drives[i]);
        ck_assert_msg((fired(&a, "model_rim") != NULL) == (a.drive.rim_share >= 0.01), "%s", drives[i]);
        ck_assert(a.drive.life_p95 >= a.drive.life_p50 && a.drive.peak_p95 >= a.drive.peak_p50);
        ck_assert(a.drive.above_80 >= a.drive.above_100 && a.drive.above_100 >= a.drive.above_120);
        ck_assert_msg(a.drive.life_p95 > life && a.drive.peak_p95 > peak, "a harder drive is milder");
        life = a.drive.life_p95;
        peak = a.drive.peak_p95;
        heated = heated || peak >= 353.15;
        cool = cool || peak < 353.15;
        hobble_case_free(c);
    }
    ck_assert(heated && cool);
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
        hobble_case *c = make("self", "-");
        hb_facts_make(&c->settings, &facts);
        facts.value[rows[i].fact] = rows[i].mild;
        hb_condition_of(&facts, &a);
        ck_assert_int_eq(a.verdict, HOBBLE_DISMOUNT_AND_INSPECT);
        facts.value[rows[i].fact] = rows[i].bad;
        hb_condition_of(&facts, &a);
        ck_assert_int_eq(a.verdict, HOBBLE_SCRAP);
        ck_assert(fired(&a, rows[i].id) != NULL);
        hobble_case_free(c);
    }
}
END_TEST

/* The rim carries far over the index at 0 kPa; the number must reach the rule. */
START_TEST(model_sees_the_rim)
{
    struct hobble_condition_answer a;
    hobble_case *c = make("self", "lowest_pressure=0;low_distance=5;load_share=1.5");
    set(c, "members", "100");
    set(c, "stiffness_flat", "20"); /* a very soft wall */
    judge(c, &a);
    ck_assert(a.drive.run && a.drive.rim_share > 0.5);
    ck_assert(fired(&a, "model_rim") != NULL && fired(&a, "flat_running") != NULL);
    hobble_case_free(c);
}
END_TEST

/* After a driver's drive the same rules speak: flat is scrap, whatever the rest. */
START_TEST(after_a_drive)
{
    struct hobble_answer a;
    hobble_case *c = make("self", "lowest_pressure=220");
    set(c, "members", "50");
    ck_assert_int_eq(hobble_range(c, 1, &a, NULL), HOBBLE_OK);
    ck_assert_int_eq(a.condition, HOBBLE_SCRAP);
    ck_assert_int_gt(a.rule_count, 0);
    ck_assert_str_eq(a.rule[0].id, "flat_running");
    hobble_case_free(c);
}
END_TEST

Suite *condition_suite(void)
{
    Suite *suite = suite_create("condition");
    TCase *rules = tcase_create("rules"), *properties = tcase_create("properties");

    tcase_add_checked_fixture(rules, setup, teardown);
    tcase_set_timeout(rules, 300);
    tcase_add_test(rules, published_criteria);
    tcase_add_test(rules, every_rule_is_tested);
    tcase_add_test(rules, contradictions);
    tcase_add_test(rules, repairable_width);
    tcase_add_test(rules, every_combination);
    tcase_add_test(rules, nothing_known);
    suite_add_tcase(suite, rules);

    tcase_add_checked_fixture(properties, setup, teardown);
    tcase_set_timeout(properties, 600);
    tcase_add_test(properties, forgetting_never_improves);
    tcase_add_test(properties, a_bad_fact_never_improves);
    tcase_add_test(properties, the_model_never_improves);
    tcase_add_test(properties, model_rules_follow_the_drive);
    tcase_add_test(properties, model_thresholds);
    tcase_add_test(properties, model_sees_the_rim);
    tcase_add_test(properties, after_a_drive);
    suite_add_tcase(suite, properties);
    return suite;
}
