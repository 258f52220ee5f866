/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test_card_rows.c - every number of a card, in JSON and in its cells, against the card's struct,
 * which holds random numbers. */
#include "ask.h"
#include "random_case.h"
#include "report/describe/answers.h"
#include "report/describe/card.h"
#include "report/json/render.h"

#include <check.h>
#include <stdlib.h>

Suite *card_rows_suite(void);

enum { QUESTIONS = 12 };

static void fill_card(struct hb_card *k, struct random_source *source)
{
    static const char *const name[] = {"a", "b", "c", "d"};
    *k = (struct hb_card){.loads = 4,
                          .heats = 4,
                          .counted = random_below(source, 2000),
                          .speed = random_between(source, 20.0, 80.0) * KMH,
                          .unseen = random_between(source, 0.0, 9.0) * KM,
                          .scrap = random_below(source, 2)};
    hobble_marking_parse("205/55 RF16 91V", &k->marking, NULL);
    for (int i = 0; i < k->loads; i++) {
        k->load[i] = name[i];
        k->heat[i] = random_between(source, 240.0, 320.0);
        for (int j = 0; j < k->heats; j++)
            k->distance[i][j] =
                random_below(source, 4) > 0 ? random_between(source, 5.0, 80.0) * KM : 0.0;
    }
}

static int count_numbers(json_t *value)
{
    int n = json_is_number(value);
    size_t i;
    const char *key;
    json_t *one;
    json_array_foreach(value, i, one) n += count_numbers(one);
    json_object_foreach(value, key, one) n += count_numbers(one);
    return n;
}

static double number_of(json_t *o, const char *key)
{
    ck_assert_msg(json_is_number(json_object_get(o, key)), "%s", key);
    return json_number_value(json_object_get(o, key));
}

/* Whole kilometres or miles below what is advised, or STOP. */
static void check_card_cell(const struct hb_scope *scope, int i, int j, double metres)
{
    char cell[40];
    hb_card_cell(scope, i, j, cell, sizeof cell);
    if (!(metres > 0.0))
        ck_assert_str_eq(cell, "STOP");
    else
        ck_assert_msg(strtod(cell, NULL) == floor(metres / (scope->us ? 1609.344 : 1000.0)),
                      "%s for %.9g m", cell, metres);
}

START_TEST(every_number_of_a_card)
{
    struct random_source source = {17};
    hobble_case *c = hobble_case_new();
    for (int question = 0; question < QUESTIONS; question++) {
        struct hb_card k;
        fill_card(&k, &source);
        json_t *o = hb_render_json(&hb_card_answer, c, &k);
        const struct hb_scope scope = hb_answer_scope(&hb_card_answer, c, &k, question % 2);
        ck_assert_double_eq_tol(number_of(o, "speed_kmh"), k.speed * 3.6, 1e-9);
        ck_assert_double_eq_tol(number_of(o, "driven_before_warning_km"), k.unseen / 1000.0, 1e-9);
        ck_assert_double_eq(number_of(o, "counted"), k.counted);
        ck_assert_int_eq(json_is_true(json_object_get(o, "too_few")), k.counted < 400);
        ck_assert_str_eq(json_string_value(json_object_get(o, "afterwards")),
                         k.scrap ? "scrap" : "dismount_and_inspect");
        for (size_t i = 0; i < 4; i++) {
            json_t *row = json_array_get(json_object_get(o, "rows"), i);
            const json_t *heat = json_array_get(json_object_get(o, "ambient_c"), i);
            ck_assert_double_eq_tol(json_number_value(heat), k.heat[i] - 273.15, 1e-9);
            ck_assert_str_eq(json_string_value(json_object_get(row, "load")), k.load[i]);
            for (size_t j = 0; j < 4; j++) {
                const json_t *way = json_array_get(json_object_get(row, "distance_km"), j);
                ck_assert_double_eq_tol(json_number_value(way), k.distance[i][j] / 1000.0, 1e-9);
                check_card_cell(&scope, (int)i, (int)j, k.distance[i][j]);
            }
        }
        /* the 20 of the table, the three above, seed and members */
        ck_assert_int_eq(count_numbers(o), 4 * 4 + 4 + 3 + 2);
        json_decref(o);
    }
    hobble_case_free(c);
}
END_TEST

Suite *card_rows_suite(void)
{
    Suite *suite = suite_create("card_rows");
    TCase *all = tcase_create("card_rows");
    tcase_add_test(all, every_number_of_a_card);
    suite_add_tcase(suite, all);
    return suite;
}
