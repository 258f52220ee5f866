/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test_cvode.c - an independent check of the reference: CVODE of SUNDIALS (A. Hindmarsh and others,
 * ACM Trans. Math. Softw. 31 (2005) 363), backward differentiation at a relative tolerance of
 * 1e-10, with its own root-finding for the ends. */
#ifdef HB_WITH_SUNDIALS

#include "independent.h"
#include "random_case.h"
#include "solve/reference.h"

#include <check.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_sort.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

Suite *cvode_suite(void);

#define NEED(held, ...)                                                                            \
    do {                                                                                           \
        if (!(held))                                                                               \
            ck_abort_msg(__VA_ARGS__);                                                             \
    } while (0)

/* Claimed: the ranges agree within 0.1 %. HOBBLE_TEST_CVODE: how many questions. */
START_TEST(range_of_both)
{
    enum { MOST = 2000 };
    static double range[MOST], heat[MOST];
    struct random_source source = {21};
    const struct hb_reference_options options = hb_reference_default();
    const int count = random_count("HOBBLE_TEST_CVODE", 40);
    int ends[HB_END_COUNT] = {0};

    for (int i = 0; i < count && i < MOST; i++) {
        struct random_case made;
        struct hb_outcome got;
        struct independent_solver o;
        random_case(&source, i % 4 ? RANDOM_HISTORY : RANDOM_PLAIN, &made);
        NEED(hb_reference_run(&made.journey, &made.tyre, &options, &got, NULL) == HOBBLE_OK,
             "not solved: %s", made.text);
        independent_open(&o, &made.tyre, &made.journey, 1e-10);
        independent_travel(&o, &made.journey);
        const double *y = N_VGetArrayPointer(o.y);
        range[i] = fabs(got.distance - o.distance) / fmax(o.distance, 1e3);
        heat[i] = fabs(got.made - y[HB_CELLS + HB_Y_MADE]) / fmax(got.made, 1e3);
        NEED(got.end == o.end, "ends differ, %d and %d: %s", (int)got.end, (int)o.end, made.text);
        NEED(range[i] < 1e-3, "range %.1f m, CVODE %.1f m: %s", got.distance, o.distance,
             made.text);
        NEED(heat[i] < 1e-3, "heat %.6g J, CVODE %.6g J: %s", got.made, y[HB_CELLS + HB_Y_MADE],
             made.text);
        ends[o.end]++;
        independent_close(&o);
    }
    gsl_sort(range, 1, (size_t)count);
    gsl_sort(heat, 1, (size_t)count);
    printf(
        "reference and CVODE, %d questions (life %d, heat %d, rim %d, shoulder %d, horizon %d)\n",
        count, ends[HB_END_LIFE], ends[HB_END_HEAT], ends[HB_END_RIM], ends[HB_END_SHOULDER],
        ends[HB_END_HORIZON]);
    printf("range: median %.1e, most %.1e; heat made: median %.1e, most %.1e\n", range[count / 2],
           range[count - 1], heat[count / 2], heat[count - 1]);
}
END_TEST

static void quiet_gsl(void)
{
    gsl_set_error_handler_off();
}

Suite *cvode_suite(void)
{
    Suite *suite = suite_create("cvode");
    TCase *both = tcase_create("reference and CVODE");

    tcase_add_unchecked_fixture(both, quiet_gsl, NULL);
    tcase_set_timeout(both, 600);
    tcase_add_test(both, range_of_both);
    suite_add_tcase(suite, both);
    return suite;
}

#else

typedef int hb_no_cvode; /* a file may not be empty */

#endif
