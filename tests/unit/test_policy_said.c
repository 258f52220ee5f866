/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test_policy_said.c - the numbers and names in a policy's sentences, against the structs: a policy
 * of chosen numbers, no two alike. */
#include "ask.h"
#include "input/fleet.h"
#include "report/describe/answers.h"
#include "report/describe/policy.h"

#include <check.h>
#include <stdlib.h>
#include <string.h>

Suite *policy_said_suite(void);

enum { TEXT = 2000, ROWS = 8, UNSAFE = 6 };
#define MILE 1609.344 /* m: international agreement of 1959 */

static struct {
    hobble_case *c;
    struct hobble_fleet *fleet;
    struct hobble_policy *policy;
    struct hb_policy_report report;
    struct hb_scope scope;
} desk;

static void open_desk(bool us)
{
    static struct hobble_faults faults;
    memset(&desk, 0, sizeof desk);
    desk.c = hobble_case_new();
    ck_assert_int_eq(hb_fleet_read(TEST_DATA_DIR "/fleet/small.cfg", &desk.fleet, &faults),
                     HOBBLE_OK);
    desk.policy = calloc(1, sizeof *desk.policy);
    desk.policy->rows = ROWS;
    for (int i = 0; i < ROWS; i++) {
        struct hobble_policy_row *row = &desk.policy->row[i];
        *row = (struct hobble_policy_row){.vehicle = i / 4,
                                          .load = i / 2 % 2,
                                          .season = i % 2,
                                          .weight = 0.01 * (i + 1),
                                          .rule_unsafe = i < UNSAFE,
                                          .rule_wasteful = i == UNSAFE};
    }
    desk.report = (struct hb_policy_report){
        .c = desk.c, .fleet = desk.fleet, .policy = desk.policy, .us = us};
    desk.scope = hb_policy_scope(&desk.report);
}

static void close_desk(void)
{
    hobble_case_free(desk.c);
    hobble_fleet_free(desk.fleet);
    free(desk.policy);
}

/* A sentence of an item of a list. */
static const char *say_of(const char *list, size_t place, enum hb_message id)
{
    static char text[TEXT];
    struct hb_scope of;
    const struct hb_row *row = hb_row_find(list, strlen(list), &desk.scope, &of);
    const struct hb_scope item = hb_row_inside(row, &of, place);
    hb_say(id, &item, text, sizeof text);
    return text;
}

static const char *say(enum hb_message id)
{
    static char text[TEXT];
    hb_say(id, &desk.scope, text, sizeof text);
    return text;
}

/* The number behind some words. */
static double behind(const char *text, const char *words)
{
    const char *at = strstr(text, words);
    ck_assert_msg(at != NULL, "no '%s' in: %s", words, text);
    return strtod(at + strlen(words), NULL);
}

static bool has(const char *text, const char *words)
{
    return strstr(text, words) != NULL;
}

/* Every sentence finds the rows that it names: none is left standing as "{name}". */
START_TEST(every_place_is_filled)
{
    static const struct {
        const char *list;
        enum hb_message from, to;
    } part[] = {{NULL, HB_SAY_POLICY_FLEET, HB_SAY_POLICY_VERDICT},
                {"rows", HB_SAY_POLICY_VEHICLE, HB_SAY_POLICY_NO_5_KM},
                {NULL, HB_SAY_POLICY_PLAIN_RULE, HB_SAY_POLICY_T_PAYS_SHEET},
                {"constructions", HB_SAY_POLICY_CONSTRUCTION, HB_SAY_POLICY_PAYS_FROM},
                {NULL, HB_SAY_POLICY_FIRST, HB_SAY_POLICY_TWO_CHANGE},
                {"sensitivity", HB_SAY_POLICY_SHIFT, HB_SAY_POLICY_MEASURE},
                {NULL, HB_SAY_POLICY_METHOD, HB_SAY_POLICY_NUMBERS_SHEET},
                {"inputs", HB_SAY_POLICY_KEY, HB_SAY_POLICY_SOURCE_SHEET},
                {NULL, HB_SAY_POLICY_HELP, HB_SAY_POLICY_HELP_SHEET},
                {"loads", HB_SAY_POLICY_OF_LOAD, HB_SAY_POLICY_BY_PEOPLE},
                {"vehicles", HB_SAY_POLICY_OF_VEHICLE, HB_SAY_POLICY_OF_VEHICLE},
                {NULL, HB_SAY_POLICY_NOT_LISTED, HB_SAY_POLICY_SHEET_FOOT},
                {"rows", HB_SAY_POLICY_CHART_ROW, HB_SAY_POLICY_CHART_ROW}};
    int said = 0;
    open_desk(false);
    for (size_t k = 0; k < sizeof part / sizeof *part; k++)
        for (int id = (int)part[k].from; id <= (int)part[k].to; id++) {
            const char *text = part[k].list ? say_of(part[k].list, 0, (enum hb_message)id)
                                            : say((enum hb_message)id);
            ck_assert_msg(!strchr(text, '{'), "%s", text);
            said++;
        }
    ck_assert_int_gt(said, 80);
    close_desk();
}
END_TEST

/* Four names at the most, all that there are counted, and their share of the kilometres rounded
 * up; the wasteful row is the only one. */
START_TEST(rows_of_the_plain_rule)
{
    open_desk(false);
    const char *text = say(HB_SAY_POLICY_PLAIN_RULE);
    int names = 0;
    for (const char *at = text; (at = strstr(at, "car, ")) != NULL; at++)
        names++;
    ck_assert_int_eq(names, 4);
    ck_assert_msg(has(text, "; and more (6 of 8 rows, "), "%s", text);
    ck_assert_double_eq_tol(behind(text, "6 of 8 rows, "), 1 + 2 + 3 + 4 + 5 + 6, 0.1001);
    ck_assert_msg(has(text, "than that: bus, full, cold (1 of 8 rows, 7.0 %"), "%s", text);
    for (int i = 0; i < ROWS; i++)
        desk.policy->row[i].rule_unsafe = false;
    ck_assert_msg(has(say(HB_SAY_POLICY_PLAIN_RULE), "accepted chance: nowhere."), "%s", text);
    close_desk();
}
END_TEST

/* The two that move the policy most, each with its own way and measure; none where they move it by
 * less than a tenth of a kilometre. */
START_TEST(what_would_change_it)
{
    open_desk(_i);
    const double unit = _i ? MILE : KM;
    struct hobble_shift *s = desk.policy->shift;
    s[0] = (struct hobble_shift){HOBBLE_SHIFT_HELP, 4321.0, 0.02};
    s[1] = (struct hobble_shift){HOBBLE_SHIFT_AIR, 2222.0, 0.01};
    const char *text = say(HB_SAY_POLICY_FIRST);
    const char *help = strstr(text, hobble_shift_what(HOBBLE_SHIFT_HELP));
    const char *air = strstr(text, hobble_shift_what(HOBBLE_SHIFT_AIR));
    ck_assert_msg(help && air && help < air, "%s", text);
    ck_assert_double_eq_tol(behind(help, "(by "), 4321.0 / unit, 0.05);
    ck_assert_double_eq_tol(behind(air, "(by "), 2222.0 / unit, 0.05);
    ck_assert(has(strstr(text, "Then: "), hobble_shift_how(HOBBLE_SHIFT_AIR)));
    ck_assert_double_eq_tol(behind(say_of("sensitivity", 1, HB_SAY_POLICY_SHIFT), "turns in "), 1.0,
                            0.011);
    s[0].change = 101.0;
    ck_assert(has(say(HB_SAY_POLICY_FIRST), "Two inputs"));
    s[0].change = 99.0;
    ck_assert(!has(say(HB_SAY_POLICY_FIRST), "Two inputs"));
    close_desk();
}
END_TEST

/* Below a rate, from a rate, at any, at none; nothing of self-supporting tyres against themselves.
 */
START_TEST(where_it_pays)
{
    open_desk(false);
    struct hobble_policy_cost *c = desk.policy->cost;
    const double every = desk.fleet->number[hobble_fleet_find("puncture_every")].value;
    for (int b = 0; b < HOBBLE_BUILDS; b++)
        c[b] = (struct hobble_policy_cost){.break_even = 3.25 + b,
                                           .cost = {100.0 + b, 80.0 + b, 130.0 + b},
                                           .stranded = {7.5 + b, 5.5 + b, 9.5 + b}};
    c[0].pays_below = true;
    c[2].pays = HOBBLE_BREAK_ALWAYS;
    c[3].pays = HOBBLE_BREAK_NEVER;
    const char *text = say_of("constructions", 0, HB_SAY_POLICY_PAYS);
    ck_assert_double_eq_tol(behind(text, "below "), 3.25, 1e-9);
    ck_assert_double_eq_tol(behind(text, "(now "), 1e5 / every, 0.005 * 1e5 / every);
    ck_assert_double_eq_tol(behind(say_of("constructions", 1, HB_SAY_POLICY_PAYS), "from "), 4.25,
                            1e-9);
    ck_assert(has(say_of("constructions", 2, HB_SAY_POLICY_PAYS), "any rate"));
    ck_assert(has(say_of("constructions", 3, HB_SAY_POLICY_PAYS), "no rate"));
    ck_assert_str_eq(say_of("constructions", HOBBLE_BUILD_SELF, HB_SAY_POLICY_PAYS), "-");
    static const enum hb_message money[] = {HB_SAY_POLICY_MONEY, HB_SAY_POLICY_MONEY_SHEET};
    static const enum hb_message events[] = {HB_SAY_POLICY_EVENTS, HB_SAY_POLICY_EVENTS_SHEET};
    for (int k = 0; k < 2; k++) {
        const char *to = k ? " to " : "..";
        text = say_of("constructions", 1, money[k]);
        ck_assert(strtod(text, NULL) == 101 && behind(text, "(") == 81 && behind(text, to) == 131);
        text = say_of("constructions", 1, events[k]);
        ck_assert(strtod(text, NULL) == 8.5 && behind(text, "(") == 6.5 &&
                  behind(text, to) == 10.5);
    }
    close_desk();
}
END_TEST

/* Spread as a factor, the number with its unit, people or seats, help beyond 80 km. */
START_TEST(what_the_fleet_gives)
{
    size_t count;
    int factors = 0;
    open_desk(false);
    hobble_fleet_table(&count);
    for (size_t i = 0; i < count; i++) {
        const double spread = desk.fleet->number[i].spread;
        const char *text = say_of("inputs", i, HB_SAY_POLICY_SPREAD);
        if (spread > 0.0)
            ck_assert_double_eq_tol(behind(text, "x/ "), exp(spread), 0.005 * exp(spread));
        else
            ck_assert_str_eq(text, "");
        factors += spread > 0.0;
        ck_assert_double_eq_tol(strtod(say_of("inputs", i, HB_SAY_POLICY_VALUE), NULL),
                                desk.fleet->number[i].value,
                                1e-8 * fabs(desk.fleet->number[i].value));
    }
    ck_assert_int_gt(factors, 0);
    ck_assert(behind(say_of("loads", 0, HB_SAY_POLICY_OF_LOAD), "people: ") == 1); /* small.cfg */
    ck_assert(has(say_of("loads", 1, HB_SAY_POLICY_OF_LOAD), "\"full\": 1 of the seats, 40 kg"));
    ck_assert(behind(say_of("vehicles", 1, HB_SAY_POLICY_OF_VEHICLE), "them, ") == 30000);
    /* exp(-80/15) is 0.4828 %: the law's definition */
    ck_assert_double_eq_tol(behind(say(HB_SAY_POLICY_HELP), "beyond 80 km in "), 0.49, 1e-9);
    close_desk();
}
END_TEST

/* A season's column says how hot it gets, rounded up; air of a table is the nearest degree. */
START_TEST(columns_of_a_card)
{
    struct hb_card k = {.loads = 1, .heats = 2, .season = {"hot", NULL}};
    k.heat[0] = 273.15 + 33.4;
    k.heat[1] = 273.15 + 24.9;
    open_desk(false);
    for (int us = 0; us < 2; us++) {
        desk.scope = hb_answer_scope(&hb_card_answer, desk.c, &k, us);
        ck_assert(behind(say_of("columns", 0, HB_SAY_CARD_SEASON), "to\u00A0") == (us ? 93 : 34));
        ck_assert(strtod(say_of("columns", 1, HB_SAY_CARD_AIR), NULL) == (us ? 77 : 25));
        ck_assert(has(say_of("columns", 1, HB_SAY_CARD_AIR), us ? "°F" : "°C"));
    }
    close_desk();
}
END_TEST

/* Every sentence of a card finds its rows; its last line has the case's members. */
START_TEST(sentences_of_a_card)
{
    static const enum hb_message all[] = {
        HB_SAY_CARD_ONE_TYRE, HB_SAY_CARD_TWO_TYRES,    HB_SAY_CARD_RULE_OF, HB_SAY_CARD_HEAD,
        HB_SAY_CARD_HEAD_AIR, HB_SAY_CARD_FROM_WARNING, HB_SAY_CARD_CALL,    HB_SAY_CARD_FOOT};
    const struct hb_card k = {.loads = 1, .heats = 1, .speed = 79.9 * KMH, .unseen = 2.41 * KM};
    open_desk(false);
    ask_set(desk.c, "members", 777);
    desk.scope = hb_answer_scope(&hb_card_answer, desk.c, &k, false);
    for (size_t i = 0; i < sizeof all / sizeof *all; i++)
        ck_assert_msg(!strchr(say(all[i]), '{'), "%s", say(all[i]));
    ck_assert(has(say(HB_SAY_CARD_FOOT), " 777 sampled types"));
    ck_assert(has(say(HB_SAY_CARD_FOOT), hobble_version()));
    ck_assert(behind(say(HB_SAY_CARD_HEAD), "km at ") == 79);
    ck_assert(behind(say(HB_SAY_CARD_FROM_WARNING), "The ") == 2.5);
    close_desk();
}
END_TEST

Suite *policy_said_suite(void)
{
    Suite *suite = suite_create("policy_said");
    TCase *all = tcase_create("policy_said");
    tcase_add_test(all, every_place_is_filled);
    tcase_add_test(all, rows_of_the_plain_rule);
    tcase_add_loop_test(all, what_would_change_it, 0, 2);
    tcase_add_test(all, where_it_pays);
    tcase_add_test(all, what_the_fleet_gives);
    tcase_add_test(all, columns_of_a_card);
    tcase_add_test(all, sentences_of_a_card);
    suite_add_tcase(suite, all);
    return suite;
}
