/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test_item.c - what one item says of a type, against many units of that type driven one by one;
 * and what evidence makes of the sample by degrees, against many more members and weights alone.
 * Sources: the definitions of probability and density; that importance weights and tempering aim at
 * one and the same (Del Moral, Doucet and Jasra, J. R. Stat. Soc. B 68 (2006) 411). */
#include "ask.h"
#include "core/const.h"
#include "failing_alloc.h"
#include "simulated.h"
#include "study/posterior.h"

#include <check.h>
#include <gsl/gsl_cdf.h>
#include <gsl/gsl_randist.h>
#include <math.h>
#include <string.h>

Suite *item_suite(void);

enum { TYPES = 24, UNITS = 400 };

static void open_types(struct hb_study *s)
{
    struct hb_settings settings;
    static struct hb_question question;
    struct random_source source = {5};
    hb_settings_default(&settings);
    settings.row[HB_P_MEMBERS].value = TYPES;
    settings.row[HB_P_LOAD_SHARE].value = 0.75;
    settings.row[HB_P_LOAD_SHARE].given = true;
    ck_assert_int_eq(hb_question_make(&settings, NULL, 0, &question, NULL), HOBBLE_OK);
    ck_assert_int_eq(hb_study_of(&settings, &question, 1, s, NULL), HOBBLE_OK);
    simulated_truths(s, &source);
}

/* Ends of units of a member's type, evenly likely, and where each had used half of its life. */
struct units {
    double end[UNITS], half[UNITS];
};

static void drive_units(const struct hb_study *s, size_t member, const struct hobble_evidence *item,
                        struct units *u)
{
    static struct hb_tyre tyre[UNITS];
    static struct hb_outcome out[UNITS];
    enum { PARTS = 60 };
    static struct hb_record record[UNITS * PARTS];
    struct hb_leg leg[PARTS];
    struct hb_draw draw;
    const struct hb_step_control steps = hb_step_control_default();
    const bool drum = item->kind == HOBBLE_EVIDENCE_RUN && item->on == HOBBLE_RUN_ON_DRUM;
    const double load = item->load_share * s->question.index_load;
    const double years = item->kind == HOBBLE_EVIDENCE_RUN ? item->age / HB_YEAR : 0.0;
    hb_draw(&s->settings, &s->cube[member * (size_t)hb_param_dimensions()], &draw);
    for (int k = 0; k < UNITS; k++) {
        const double z = gsl_cdf_ugaussian_Pinv((k + 0.5) / UNITS);
        tyre[k] = s->ensemble.arrays.test[member];
        tyre[k].life_per_metre /= exp(z * hb_unit_scatter(&s->settings, years) -
                                      years * hb_setting_value(&s->settings, HB_P_LIFE_AGEING));
        if (drum)
            continue;
        hb_put_on_drum(&tyre[k], (double)INFINITY);
        tyre[k].life_per_metre /= draw.value[HB_P_LIFE_ROAD];
        hb_work_harder(&tyre[k], s->settings.row[HB_P_WALL_WORK].spread * sqrt(2.0 / HB_PI));
    }
    for (int i = 0; i < PARTS; i++)
        leg[i] = (struct hb_leg){.speed = item->speed,
                                 .load = load,
                                 .ambient = item->ambient,
                                 .extent = item->distance / 20.0,
                                 .kind = i + 1 < PARTS ? HB_FOR_DISTANCE : HB_UNTIL_END,
                                 .set_pressure = i == 0,
                                 .goes_on = i > 0};
    const struct hb_journey journey = {
        {!drum, item->speed, load, item->ambient, s->question.pressure_inflated},
        PARTS,
        leg,
        1e8,
        1e8};
    hb_integrate_many(&journey, &steps, tyre, UNITS, out, record);
    for (int k = 0; k < UNITS; k++) {
        const struct hb_record *r = &record[k * PARTS];
        int i = 1;
        while (i + 1 < PARTS && r[i].life < 0.5)
            i++;
        const double part = (0.5 - r[i - 1].life) / (r[i].life - r[i - 1].life);
        u->end[k] = out[k].distance;
        u->half[k] = r[i].life < 0.5
                         ? out[k].distance
                         : r[i - 1].distance + part * (r[i].distance - r[i - 1].distance);
    }
}

/* Share that is beyond a place which was read with an error, and the density there. */
static double beyond(const double *at, double x, double error)
{
    double sum = 0.0;
    for (int k = 0; k < UNITS; k++)
        sum += gsl_cdf_ugaussian_P(log(at[k] / x) / error) / UNITS;
    return sum;
}

static double density(const double *at, double x, double error)
{
    double sum = 0.0;
    for (int k = 0; k < UNITS; k++)
        sum += gsl_ran_gaussian_pdf(log(at[k] / x), error) / UNITS;
    return sum;
}

static double expected(const struct hobble_evidence *item, const struct units *u)
{
    const double x = item->distance, e = item->reading_error;
    if (item->kind == HOBBLE_EVIDENCE_STATEMENT)
        return gsl_ran_beta_pdf(fmax(1.0 - beyond(u->end, x, 0.02), 1e-6), 1.5, 12.0) *
               density(u->end, x, 0.02);
    if (item->outcome == HOBBLE_RUN_SURVIVED)
        return beyond(u->end, x, e);
    return item->outcome == HOBBLE_RUN_ENDED ? density(u->end, x, e)
                                             : beyond(u->end, x, e) - beyond(u->half, x, e);
}

/* Of every kind, on the drum and on the road. Where a unit ends is known of three and straight
 * between: chances to 0.01, densities to 0.03 (they are near 1). Life used rises more steeply than
 * the way, so that of a tyre which was found destroyed the chance is known to 0.05 alone. */
START_TEST(items_say_what_units_do)
{
    static struct hb_study s;
    static struct units u;
    double worst[4] = {0.0};
    open_types(&s);
    for (int kind = 0; kind < 4; kind++)
        for (int drum = 0; drum < 2; drum++) {
            struct hobble_evidence item;
            double sum[TYPES] = {0.0};
            hobble_evidence_begin(kind == 3 ? HOBBLE_EVIDENCE_STATEMENT : HOBBLE_EVIDENCE_RUN,
                                  &item);
            item.load_share = 0.72;
            item.distance = kind == 3 ? 90e3 : 130e3;
            if (kind < 3) {
                item.of = HOBBLE_RUN_ANOTHER_UNIT;
                item.outcome = (enum hobble_run_outcome)kind;
                item.on = drum ? HOBBLE_RUN_ON_DRUM : HOBBLE_RUN_ON_ROAD;
                item.age = drum ? 0.0 : 3.0 * HB_YEAR;
                item.reading_error = 0.05;
            }
            ck_assert_int_eq(hb_add_likelihood(&item, s.cube, &s.ensemble, sum), HOBBLE_OK);
            for (size_t i = 0; i < TYPES; i++) {
                if (!hb_ensemble_counts(&s.ensemble, i))
                    continue;
                drive_units(&s, i, &item, &u);
                const double got = exp(sum[i]), must = expected(&item, &u);
                const double miss =
                    kind == 3 ? fabs(sum[i] - log(must)) : fabs(got - must); /* a ratio counts */
                worst[kind] = fmax(worst[kind], kind == 3 && must < 0.5 ? 0.0 : miss);
            }
        }
    ck_assert_double_lt(worst[0], 0.01);
    ck_assert_double_lt(worst[1], 0.03);
    ck_assert_double_lt(worst[2], 0.05);
    ck_assert_double_lt(worst[3], 0.12);
    hb_study_close(&s);
}
END_TEST

/* ---- by degrees and by weights --------------------------------------------------------------- */

enum { ROWS = 3, SEEDS = 6 };
static const enum hb_param_id looked_at[ROWS] = {HB_P_MARGIN, HB_P_FILM_OUTER, HB_P_LIFE_POWER};

/* Means and standard deviations of three coordinates after evidence. */
static void moments(hobble_case *c, int members, int seed, double mean[ROWS], double sd[ROWS],
                    struct hb_taken_in *taken)
{
    struct hb_study s;
    ask_set(c, "members", members);
    ask_set(c, "seed", seed);
    ck_assert_int_eq(hb_study_open(c, 1, &s, NULL), HOBBLE_OK);
    for (int k = 0; k < ROWS; k++) {
        double sum = 0.0, squares = 0.0;
        for (int i = 0; i < members; i++) {
            const int at = i * hb_param_dimensions() + hb_param_dimension(looked_at[k]);
            sum += s.cube[at];
            squares += s.cube[at] * s.cube[at];
        }
        mean[k] = sum / members;
        sd[k] = sqrt(squares / members - mean[k] * mean[k]);
    }
    *taken = s.ensemble.taken;
    hb_study_close(&s);
}

START_TEST(degrees_agree_with_weights)
{
    const double time[] = {600.0, 1200.0, 2400.0}, celsius[] = {50.0, 59.0, 63.0};
    struct hobble_evidence item;
    struct hb_taken_in taken;
    double mean[ROWS], sd[ROWS], sum_mean[ROWS] = {0.0}, sum_sd[ROWS] = {0.0};
    hobble_case *c = ask_vouched(300);
    hobble_evidence_begin(HOBBLE_EVIDENCE_RUN, &item);
    item.load_share = 0.72;
    item.distance = 120e3;
    item.of = HOBBLE_RUN_ANOTHER_UNIT;
    item.outcome = HOBBLE_RUN_ENDED;
    ck_assert_int_eq(hobble_evidence_readings(&item, HOBBLE_CHANNEL_OUTER, time, celsius, 3, NULL),
                     HOBBLE_OK);
    item.channel[HOBBLE_CHANNEL_OUTER].offset = item.channel[HOBBLE_CHANNEL_OUTER].scatter = 5.0;
    ck_assert_int_eq(hobble_case_evidence_add(c, &item, NULL), HOBBLE_OK);
    for (int seed = 1; seed <= SEEDS; seed++) {
        moments(c, 300, seed, mean, sd, &taken);
        ck_assert_int_gt(taken.steps, 0);
        for (int k = 0; k < ROWS; k++) {
            sum_mean[k] += mean[k] / SEEDS;
            sum_sd[k] += sd[k] / SEEDS;
        }
    }
    moments(c, 12000, 7, mean, sd, &taken);
    ck_assert_int_eq(taken.steps, 0);
    /* three standard errors of a mean over what both are worth; of a standard deviation by 2 n */
    const double error = 3.0 * sqrt(1.0 / taken.effective + 1.0 / (SEEDS * 100.0));
    for (int k = 0; k < ROWS; k++) {
        ck_assert_double_eq_tol(sum_mean[k], mean[k], error * sd[k]);
        ck_assert_double_eq_tol(sum_sd[k], sd[k], error * sd[k] / sqrt(2.0));
    }
    hobble_case_free(c);
}
END_TEST

/* ---- memory ---------------------------------------------------------------------------------- */

/* Whichever request is refused, there is a fault and nothing is kept. */
START_TEST(memory_runs_out)
{
    const double time[] = {600.0, 1200.0}, celsius[] = {48.0, 57.0};
    struct hobble_evidence item;
    struct hobble_answer answer;
    long open, n = 0;
    hobble_case *c = ask_vouched(20);
    hobble_evidence_begin(HOBBLE_EVIDENCE_RUN, &item);
    item.load_share = 0.72;
    item.distance = 110e3;
    item.of = HOBBLE_RUN_ANOTHER_UNIT;
    item.outcome = HOBBLE_RUN_ENDED;
    hobble_evidence_readings(&item, HOBBLE_CHANNEL_OUTER, time, celsius, 2, NULL);
    ck_assert_int_eq(hobble_case_evidence_add(c, &item, NULL), HOBBLE_OK);
    for (bool refused = true; refused; n++) {
        failing_alloc_arm(n + 1);
        const enum hobble_status status = hobble_range(c, 1, &answer, NULL);
        refused = failing_alloc_disarm(&open);
        if (status != (refused ? HOBBLE_E_MEMORY : HOBBLE_OK) || open != 0 || n > 1000)
            ck_abort_msg("request %ld: %s, %ld not released", n + 1, hobble_status_text(status),
                         open);
    }
    ck_assert_int_gt(answer.evidence_steps, 0); /* all of it was tried */
    ck_assert_int_gt(n, 40);
    hobble_case_free(c);
}
END_TEST

Suite *item_suite(void)
{
    Suite *suite = suite_create("item");
    TCase *tests = tcase_create("item");
    tcase_set_timeout(tests, 120);
    tcase_add_test(tests, items_say_what_units_do);
    tcase_add_test(tests, degrees_agree_with_weights);
    tcase_add_test(tests, memory_runs_out);
    suite_add_tcase(suite, tests);
    return suite;
}
