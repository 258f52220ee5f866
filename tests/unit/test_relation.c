/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test_relation.c - a worse case gets a worse or equal answer, and the same question said in
 * another way gets the same one: over random questions, and over every pair that once was wrong. */
#include "input/profile.h"
#include "relation.h"
#include "study/case.h"
#include "tsv.h"

#include <check.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

Suite *relation_suite(void);

enum { PAIRS = 1000, TEXT = ITEMS_MOST * ITEM_SIZE, NAMES_MOST = 64 };

static void complain(const struct relation *relation, struct asked q, struct asked other)
{
    static char one[TEXT], two[TEXT];
    relation_shrink(relation, &q, &other);
    const struct told a = relation_ask(&q), b = relation_ask(&other);
    relation_print(&q, one, sizeof one);
    relation_print(&other, two, sizeof two);
    printf("%s (%s)\n  %s\n    %s %.3f km%s\n  %s\n    %s %.3f km%s\n", relation->name,
           relation->why, one, hobble_verdict_word(a.verdict), a.distance / 1e3,
           a.refused ? " refused" : "", two, hobble_verdict_word(b.verdict), b.distance / 1e3,
           b.refused ? " refused" : "");
}

/* Each random question is changed in every way that it can be, one way after the other. */
START_TEST(random_pairs)
{
    size_t count;
    const struct relation *relation = relation_table(&count);
    const int wanted = random_count("HOBBLE_RELATIONS", PAIRS);
    struct random_source r = {.state = (uint64_t)random_count("HOBBLE_RELATION_SEED", 1)};
    int tried[NAMES_MOST] = {0}, wrong[NAMES_MOST] = {0}, refused = 0, going = 0, pairs = 0;
    while (pairs < wanted) {
        struct asked q, other;
        relation_question(&r, &q);
        const struct told a = relation_ask(&q);
        refused += a.refused;
        for (size_t i = 0; i < count && !a.refused && pairs < wanted; i++) {
            if (!relation[i].change(&r, &q, &other))
                continue;
            const struct told b = relation_ask(&other);
            pairs++;
            tried[i]++;
            going += b.verdict != HOBBLE_STOP;
            if (!relation_holds(&relation[i], &a, &b) && wrong[i]++ < 3)
                complain(&relation[i], q, other);
        }
    }
    int all = 0;
    for (size_t i = 0; i < count; i++) {
        if (wrong[i] > 0)
            printf("%-22s %6d pairs, %d wrong\n", relation[i].name, tried[i], wrong[i]);
        all += wrong[i];
        ck_assert_msg(wanted < PAIRS || tried[i] > 0, "%s was never tried", relation[i].name);
    }
    printf("%d pairs, %d wrong, %d to go on, %d questions refused\n", pairs, all, going, refused);
    fflush(stdout);
    ck_assert_int_gt(going, pairs / 10);
    ck_assert_int_eq(all, 0);
}
END_TEST

/* Every pair that was found by hand or by chance, for good. */
START_TEST(kept_pairs)
{
    static const struct relation same = {"same", "", true, NULL},
                                 worse = {"worse", "", false, NULL};
    struct tsv t;
    char why[256];
    size_t going = 0; /* two that stop stand in any order */
    ck_assert_msg(tsv_load(&t, "relations.tsv", 4, 20, why, sizeof why), "%s", why);
    for (size_t row = 0; row < t.rows; row++) {
        struct asked q, other;
        ck_assert_msg(relation_read(tsv_cell(&t, row, 1), &q) &&
                          relation_read(tsv_cell(&t, row, 2), &other),
                      "line %d", t.line[row]);
        const struct told a = relation_ask(&q), b = relation_ask(&other);
        const char *kind = tsv_cell(&t, row, 0);
        ck_assert_msg(!a.refused, "line %d: the first is refused", t.line[row]);
        going += a.verdict != HOBBLE_STOP;
        if (strcmp(kind, "refused") == 0)
            ck_assert_msg(b.refused, "line %d: answered", t.line[row]);
        else if (strcmp(kind, "stop") == 0)
            ck_assert_msg(!b.refused && b.verdict == HOBBLE_STOP && a.verdict == HOBBLE_GO,
                          "line %d: %s and %s", t.line[row], hobble_verdict_word(a.verdict),
                          hobble_verdict_word(b.verdict));
        else
            ck_assert_msg(!b.refused && relation_holds(kind[0] == 's' ? &same : &worse, &a, &b),
                          "line %d: %s %.3f km and %s %.3f km", t.line[row],
                          hobble_verdict_word(a.verdict), a.distance / 1e3,
                          hobble_verdict_word(b.verdict), b.distance / 1e3);
    }
    ck_assert_uint_gt(10 * going, 9 * t.rows);
    tsv_free(&t);
}
END_TEST

/* ---- one question through other doors -------------------------------------------------------- */

static void same_answer(const hobble_case *one, const hobble_case *two, const char *door,
                        const struct asked *q)
{
    static char text[TEXT];
    struct hobble_answer a, b;
    const enum hobble_status first = hobble_range(one, 1, &a, NULL);
    const enum hobble_status second = hobble_range(two, 1, &b, NULL);
    relation_print(q, text, sizeof text);
    if (first != second)
        ck_abort_msg("%s: refused by one door alone: %s", door, text);
    if (first != HOBBLE_OK)
        return;
    bool same = a.verdict == b.verdict && a.advised_distance == b.advised_distance &&
                a.range.p50 == b.range.p50 && a.condition == b.condition &&
                a.drive.life_p95 == b.drive.life_p95 && a.rule_holds == b.rule_holds &&
                a.assumed_count == b.assumed_count;
    for (int i = 0; i < HOBBLE_STOP_COUNT; i++)
        same = same && a.stop[i] == b.stop[i];
    if (!same)
        ck_abort_msg("%s: %.6f and %.6f km: %s", door, a.advised_distance / 1e3,
                     b.advised_distance / 1e3, text);
}

/* A file of the kind with those items whose rows belong to it; the others are left in rest. */
static void into_file(const struct asked *q, enum hobble_group kind, char *file, size_t size,
                      struct asked *rest)
{
    size_t n = (size_t)snprintf(file, size, "kind = \"%s\";\n", hobble_group_word(kind));
    rest->count = 0;
    for (int i = 0; i < q->count; i++) {
        char key[ITEM_SIZE];
        const char *value = strchr(q->item[i], '=') + 1;
        snprintf(key, sizeof key, "%.*s", (int)(value - q->item[i]) - 1, q->item[i]);
        const int row = hobble_param_find(key);
        if (row < 0 || hobble_param_table(NULL)[row].group != kind)
            memcpy(rest->item[rest->count++], q->item[i], ITEM_SIZE);
        else
            n += (size_t)snprintf(file + n, size - n, "%s = \"%s\";\n", key, value);
    }
}

/* As a tyre profile and a bench case, as options, and as numbers from a C program. Source: the same
 * question. */
START_TEST(every_door)
{
    struct random_source r = {.state = 41};
    static char file[2][TEXT];
    for (int k = 0; k < random_count("HOBBLE_TEST_CASES", 60); k++) {
        struct asked q, rest, left;
        relation_question(&r, &q);
        hobble_case *options = relation_case(&q);
        into_file(&q, HOBBLE_TYRE, file[0], TEXT, &rest);
        into_file(&rest, HOBBLE_BENCH, file[1], TEXT, &left);
        hobble_case *files = relation_case(&left);
        ck_assert_ptr_nonnull(options);
        ck_assert_ptr_nonnull(files);
        for (int i = 0; i < 2; i++)
            ck_assert_int_eq(hb_profile_read_text(file[i], strlen(file[i]), i ? "b.cfg" : "t.cfg",
                                                  HB_ANY_KIND, files, NULL, NULL),
                             HOBBLE_OK);
        same_answer(options, files, "files", &q);
        hobble_case *numbers = hobble_case_clone(options);
        size_t rows;
        const struct hobble_param *row = hobble_param_table(&rows);
        hobble_case *fresh = hobble_case_new();
        for (size_t i = 0; i < rows; i++) {
            if (!hobble_case_given(options, (int)i))
                continue;
            if (row[i].kind == HOBBLE_NUMBER)
                hobble_case_set_number(fresh, (int)i, hobble_case_number(options, (int)i), "C",
                                       NULL);
            else if (row[i].kind == HOBBLE_TEXT)
                hobble_case_set_text(fresh, (int)i, hobble_case_text(options, (int)i), "C", NULL);
            else {
                char word[40];
                hobble_param_word_at(&row[i], (int)hobble_case_number(options, (int)i), word,
                                     sizeof word);
                hobble_case_set_word(fresh, (int)i, word, "C", NULL);
            }
        }
        for (size_t i = 0; i < options->legs; i++)
            hobble_case_add_leg(fresh, &options->leg[i], NULL);
        same_answer(options, fresh, "numbers from C", &q);
        same_answer(options, numbers, "a clone", &q);
        hobble_case_free(options);
        hobble_case_free(files);
        hobble_case_free(numbers);
        hobble_case_free(fresh);
    }
}
END_TEST

/* ---- what becomes of the tyre, before and after ---------------------------------------------- */

/* A drive of which everything is stated. */
static void stated_drive(struct random_source *r, struct asked *q)
{
    do
        relation_question(r, q);
    while (strstr(q->item[0], "RF16 91V") == NULL);
    for (int i = q->count - 1; i >= 0; i--) {
        static const char *const gone[] = {"run",  "rest",      "low_",         "lowest",
                                           "to=",  "pressure=", "ambient=",     "seed=",
                                           "leak", "leg ",      "speed_before", "unseen"};
        for (size_t k = 0; k < sizeof gone / sizeof *gone; k++)
            if (strncmp(q->item[i], gone[k], strlen(gone[k])) == 0) {
                memmove(q->item[i], q->item[i + 1], (size_t)(q->count - i - 1) * ITEM_SIZE);
                q->count--;
                break;
            }
    }
    const char *const stated[] = {"ambient=24 C", "speed_before=90 km/h", "pressure=0 kPa"};
    for (int i = 0; i < 3; i++)
        snprintf(q->item[q->count++], ITEM_SIZE, "%s", stated[i]);
    snprintf(q->item[q->count++], ITEM_SIZE, "unseen=%d min", random_below(r, 8));
    if (random_below(r, 2))
        snprintf(q->item[q->count++], ITEM_SIZE, "leg distance=%dkm,speed=%dkm/h",
                 1 + random_below(r, 20), 30 + random_below(r, 60));
}

static bool fired(const struct hobble_fired *rule, int count, const char *id)
{
    for (int i = 0; i < count; i++)
        if (strcmp(rule[i].id, id) == 0)
            return true;
    return false;
}

/* After the advised way has been driven, the bench comes to the verdict that the driver was told,
 * by the same rules and the same numbers. Source: it is the same drive of the same tyres. */
START_TEST(after_the_advised_way)
{
    struct random_source r = {.state = 77};
    int drove = 0;
    for (int k = 0; k < random_count("HOBBLE_TEST_CASES", 60); k++) {
        static char text[TEXT];
        struct asked q;
        struct hobble_answer a;
        struct hobble_condition_answer b;
        stated_drive(&r, &q);
        relation_print(&q, text, sizeof text);
        hobble_case *c = relation_case(&q);
        ck_assert_ptr_nonnull(c);
        ck_assert_int_eq(hobble_range(c, 1, &a, NULL), HOBBLE_OK);
        const struct hobble_leg way = {.speed = a.advised_speed,
                                       .distance = a.advised_distance,
                                       .time = (double)NAN,
                                       .load = (double)NAN,
                                       .ambient = (double)NAN,
                                       .pressure = 0.0,
                                       .leak = (double)NAN};
        if (a.advised_distance > 0.0)
            ck_assert_int_eq(hobble_case_add_leg(c, &way, NULL), HOBBLE_OK);
        else if (c->legs == 0) /* one has to be driven for the model to speak */
            goto next;
        ck_assert_int_eq(hobble_condition_judge(c, 1, &b, NULL), HOBBLE_OK);
        ck_assert_msg(a.condition == b.verdict, "%s", text);
        if (!b.drive.run)
            ck_abort_msg("not run: %s: %s", b.drive.why_not, text);
        drove += a.advised_distance > 0.0;
        /* a metre is driven beyond where nothing is advised */
        const double hair = a.advised_distance > 0.0 ? 1e-9 : 1e-3;
        ck_assert_double_eq_tol(a.drive.life_p95, b.drive.life_p95, hair);
        ck_assert_double_eq_tol(a.drive.peak_p95, b.drive.peak_p95, 1e3 * hair);
        ck_assert_double_eq_tol(a.drive.distance, b.drive.distance, 1e-6);
        ck_assert_double_eq_tol(a.drive.speed, b.drive.speed, 1e-9);
        ck_assert(a.drive.pressure == b.drive.pressure);
        for (int i = 0; i < a.rule_count; i++)
            ck_assert_msg(fired(b.rule, b.rule_count, a.rule[i].id), "%s not on the bench: %s",
                          a.rule[i].id, text);
        for (int i = 0; i < b.rule_count; i++)
            ck_assert_msg(fired(a.rule, a.rule_count, b.rule[i].id), "%s not to the driver: %s",
                          b.rule[i].id, text);
    next:
        hobble_case_free(c);
    }
    ck_assert_int_gt(drove, 3);
}
END_TEST

/* Whatever scraps a tyre for what it was is STOP for every distance, and holds no rule. Source:
 * each rule's own (docs/condition-rules.md). */
START_TEST(condemned_is_stop)
{
    static const char *const facts[][3] = {
        {"ran_flat", "yes", "flat_before"},   {"age", "12", "too_old"},
        {"out_bulge", "yes", "bulge"},        {"out_cord", "yes", "cord_outside"},
        {"in_plies", "yes", "plies_parted"},  {"injury_zone", "sidewall", "injury_sidewall"},
        {"tread_depth", "1.2", "tread_worn"}, {"date_code", "2008", "too_old"}};
    for (size_t i = 0; i < sizeof facts / sizeof *facts; i++) {
        struct asked q = {2, {"marking=205/55 RF16 91V", "load_share=0.5"}};
        struct hobble_answer a;
        struct hobble_rule_answer rule;
        hobble_case *c = relation_case(&q);
        ck_assert_int_eq(hobble_range(c, 1, &a, NULL), HOBBLE_OK);
        ck_assert(!a.stop[HOBBLE_STOP_CONDEMNED]);
        hb_set_text(c, "inspection_date", "2026-03-31", "test", NULL);
        ck_assert_int_eq(hb_set_text(c, facts[i][0], facts[i][1], "test", NULL), HOBBLE_OK);
        ck_assert_int_eq(hobble_range(c, 1, &a, NULL), HOBBLE_OK);
        ck_assert(a.verdict == HOBBLE_STOP && a.stop[HOBBLE_STOP_CONDEMNED]);
        ck_assert_str_eq(a.condemned.id, facts[i][2]);
        ck_assert_int_eq(a.condition, HOBBLE_SCRAP);
        ck_assert_int_eq(hobble_rule(c, a.rule_speed, a.rule_distance, 1, &rule, NULL), HOBBLE_OK);
        ck_assert(!rule.holds && rule.stop[HOBBLE_STOP_CONDEMNED] && !a.rule_holds);
        hobble_case_free(c);
    }
}
END_TEST

static bool condemned(const char *key, const char *value, const char *more)
{
    struct asked q = {2, {"marking=205/55 RF16 91V", "load_share=0.5"}};
    struct hobble_answer a;
    if (*more)
        snprintf(q.item[q.count++], ITEM_SIZE, "%s", more);
    snprintf(q.item[q.count++], ITEM_SIZE, "%s=%s", key, value);
    hobble_case *c = relation_case(&q);
    ck_assert_ptr_nonnull(c);
    ck_assert_int_eq(hobble_range(c, 1, &a, NULL), HOBBLE_OK);
    hobble_case_free(c);
    if (a.stop[HOBBLE_STOP_CONDEMNED] && a.verdict != HOBBLE_STOP)
        ck_abort_msg("%s: condemned and no STOP", key);
    return a.stop[HOBBLE_STOP_CONDEMNED];
}

/* Whoever states a sign of damage has the answer STOP. Source: repair codes (second-hand) scrap a
 * tyre for any sign; that the road is no milder than the bench: the project's own. */
START_TEST(every_sign_is_stop)
{
    size_t rows;
    const struct hobble_param *row = hobble_param_table(&rows);
    int signs = 0;
    for (size_t i = 0; i < rows; i++) {
        const char *key = row[i].key;
        if (row[i].kind != HOBBLE_WORD || strcmp(key, "out_cut_to_cord") == 0 ||
            (strncmp(key, "in_", 3) != 0 && strncmp(key, "out_", 4) != 0))
            continue;
        ck_assert_msg(condemned(key, "yes", ""), "%s", key);
        ck_assert_msg(!condemned(key, "no", ""), "%s", key);
        signs++;
    }
    ck_assert_int_ge(signs, 15);
}
END_TEST

/* On both sides of what a repair allows of the tyre itself; and what only its repair hangs on,
 * which says nothing of the road. Source: BS AU 159, 6 mm; UK roadworthiness rules, a cut of 25 mm
 * (both second-hand); 10 years: tyre makers' service advice. */
START_TEST(of_the_tyre_or_of_its_repair)
{
    static const struct {
        const char *more, *key, *stands, *condemns;
    } rows[] = {
        {"injury_zone=tread", "injury_size", "6 mm", "6.1 mm"},
        {"injury_size=4 mm", "injury_zone", "tread", "shoulder"},
        {"injury_size=4 mm", "injury_zone", "tread", "bead"},
        {"out_cut_to_cord=yes", "out_cut_length", "20 mm", "25.1 mm"},
        {"earlier_repairs=1", "earlier_repair_quality", "good", "bad"},
        {"", "age", "10", "10.1"},
        {"", "maker_approval", "refused", NULL},
        {"", "maker_approval", "none", NULL},
        {"", "sealant", "yes", NULL},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        ck_assert_msg(!condemned(rows[i].key, rows[i].stands, rows[i].more), "%s = %s", rows[i].key,
                      rows[i].stands);
        ck_assert_msg(!rows[i].condemns || condemned(rows[i].key, rows[i].condemns, rows[i].more),
                      "%s = %s", rows[i].key, rows[i].condemns);
    }
}
END_TEST

Suite *relation_suite(void)
{
    Suite *s = suite_create("relation");
    TCase *t = tcase_create("relation");
    tcase_set_timeout(t, 3000.0);
    tcase_add_test(t, kept_pairs);
    tcase_add_test(t, random_pairs);
    tcase_add_test(t, every_door);
    tcase_add_test(t, after_the_advised_way);
    tcase_add_test(t, condemned_is_stop);
    tcase_add_test(t, every_sign_is_stop);
    tcase_add_test(t, of_the_tyre_or_of_its_repair);
    suite_add_tcase(s, t);
    return s;
}
