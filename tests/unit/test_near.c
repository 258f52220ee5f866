/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test_near.c - "did you mean"; the vector file names its source. */
#include "input/near.h"
#include "tsv.h"

#include <check.h>
#include <stdio.h>
#include <string.h>

Suite *near_suite(void);

START_TEST(the_nearest_name_is_found)
{
    struct tsv table;
    char why[700] = "";
    ck_assert_msg(tsv_load(&table, "near.tsv", 4, 20, why, sizeof why), "%s", why);
    for (size_t row = 0; row < table.rows; row++) {
        struct hb_near near = hb_near_to(tsv_cell(&table, row, 0));
        const char *wanted = tsv_cell(&table, row, 2);
        hb_near_try_words(&near, tsv_cell(&table, row, 1));
        ck_assert_msg(strcmp(near.best, strcmp(wanted, "-") == 0 ? "" : wanted) == 0,
                      "line %d: '%s' gives '%s'", table.line[row], near.word, near.best);
    }
    tsv_free(&table);
}
END_TEST

/* A name itself is at no distance, whatever was tried before; nothing at all is near NULL. */
START_TEST(a_name_is_nearest_to_itself)
{
    size_t rows;
    const struct hobble_param *p = hobble_param_table(&rows);
    for (size_t i = 0; i < rows; i++) {
        struct hb_near near = hb_near_to(p[i].key);
        for (size_t k = 0; k < rows; k++)
            hb_near_try(&near, p[k].key);
        ck_assert_str_eq(near.best, p[i].key);
        ck_assert_int_eq(near.distance, 0);
    }
    struct hb_near none = hb_near_to(NULL);
    hb_near_try(&none, "");
    hb_near_try(&none, "a");
    hb_near_try_words(&none, NULL);
    ck_assert_str_eq(none.best, "");
}
END_TEST

Suite *near_suite(void)
{
    Suite *suite = suite_create("near");
    TCase *tests = tcase_create("near");
    tcase_add_test(tests, the_nearest_name_is_found);
    tcase_add_test(tests, a_name_is_nearest_to_itself);
    suite_add_tcase(suite, tests);
    return suite;
}
