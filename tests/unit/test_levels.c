/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test_levels.c - from a type to this unit of it: age, repairs, earlier flat running; how well the
 * load is known and how the vehicle warns. */
#include "advice/history.h"
#include "advice/levels.h"
#include "ask.h"
#include "study/study.h"

#include <check.h>
#include <gsl/gsl_cdf.h>
#include <gsl/gsl_statistics_double.h>
#include <math.h>
#include <string.h>

Suite *levels_suite(void);

#define NEED(held, ...)                                                                            \
    do {                                                                                           \
        if (!(held))                                                                               \
            ck_abort_msg(__VA_ARGS__);                                                             \
    } while (0)

/* ---- what is stated ----------------------------------------------------------------------------
 */

/* Age not stated is ten years, a repair that nobody rules out was made, and of tyres of which
 * nobody knows whether they ran flat so many did as the row says: assumed, no source; unknown
 * counts against. At best what is open is good, and what was stated stays. */
START_TEST(open_is_bad)
{
    static const double ages[] = {NOT_GIVEN, 0.0, 3.5, 17.0};
    for (int age = 0; age < 4; age++)
        for (int flat = HB_NOT_KNOWN; flat <= HB_YES; flat++)
            for (int repaired = HB_NOT_KNOWN; repaired <= HB_YES; repaired++) {
                struct hb_settings s;
                hb_settings_default(&s);
                s.row[HB_P_AGE].value = ages[age];
                s.row[HB_P_RAN_FLAT].value = flat;
                s.row[HB_P_REPAIRED].value = repaired;
                s.row[HB_P_FLAT_CHANCE].value = 0.23;
                const struct hb_unit is = hb_unit_as_stated(&s, false), best = hb_unit_at_best(&s);
                ck_assert_double_eq(is.years, age > 0 ? ages[age] : 10.0);
                ck_assert_double_eq(best.years, age > 0 ? ages[age] : 0.0);
                ck_assert_double_eq(is.flat_chance, flat == HB_YES  ? 1.0
                                                    : flat == HB_NO ? 0.0
                                                                    : 0.23);
                ck_assert_double_eq(best.flat_chance, flat == HB_YES);
                ck_assert_int_eq(is.repaired, repaired != HB_NO);
                ck_assert_int_eq(best.repaired, repaired == HB_YES);
                ck_assert_int_eq(hb_unit_same(&is, &best),
                                 age > 0 && flat != HB_NOT_KNOWN && repaired != HB_NOT_KNOWN);
                const struct hb_unit example = hb_unit_as_stated(&s, true);
                ck_assert(hb_unit_same(&example, &best)); /* nothing of it was given as unknown */
            }
}
END_TEST

/* ---- one unit's life ---------------------------------------------------------------------------
 */

/* All that is drawn of a unit at nought, or as asked. */
static double life_at(const struct hb_settings *s, const struct hb_unit *unit, enum hb_param_id row,
                      double z)
{
    double normal[HB_DIMENSIONS_MAX] = {0.0};
    struct hb_draw draw;
    normal[hb_param_dimension(row)] = z;
    hb_draw(s, normal, &draw);
    return hb_unit_life(s, unit, &draw, normal);
}

/* Source: the sentences of the rows, in closed form; the normal law is GSL's. Scatter 0.30 new and
 * 0.45 used, 0.10 a year less (by analogy, the road-wheel runs to failure of the open data set). */
START_TEST(closed_forms)
{
    struct hb_settings s;
    static const double years[] = {0.0, 0.5, 1.0, 2.0, 5.0, 10.0, 30.0};
    hb_settings_default(&s);
    for (size_t i = 0; i < sizeof years / sizeof *years; i++)
        for (double z = -3.0; z <= 3.0; z += 0.5) {
            const double y = years[i], scatter = hypot(0.3, 0.335 * fmin(y / 2.0, 1.0));
            const struct hb_unit whole = {y, 0.0, false}, mended = {y, 0.0, true},
                                 ran = {y, 1.0, false}, maybe = {y, 0.1, false};
            const double middle = exp(-0.1 * y);
            ck_assert_double_eq_tol(life_at(&s, &whole, HB_P_LIFE_UNIT, z),
                                    exp(z * scatter - 0.1 * y), 1e-12);
            ck_assert_double_eq_tol(life_at(&s, &whole, HB_P_LIFE_ROAD, z), middle * exp(0.3 * z),
                                    1e-12);
            ck_assert_double_eq_tol(life_at(&s, &mended, HB_P_LIFE_REPAIR, z),
                                    middle * fmin(0.8 * exp(0.3 * z), 1.0), 1e-12);
            /* lost evenly between a fifth and all; the less is drawn, the more is lost */
            const double below = gsl_cdf_ugaussian_P(z);
            ck_assert_double_eq_tol(life_at(&s, &ran, HB_P_FLAT_LOSS, z), middle * 0.8 * below,
                                    1e-3 * middle);
            ck_assert_double_eq_tol(life_at(&s, &maybe, HB_P_FLAT_LOSS, z),
                                    middle * (below < 0.1 ? 0.8 * below / 0.1 : 1.0),
                                    1e-3 * middle);
            ck_assert(life_at(&s, &whole, HB_P_LIFE_REPAIR, z) == middle);
            ck_assert(life_at(&s, &whole, HB_P_FLAT_LOSS, z) == middle);
        }
}
END_TEST

/* The middle of ln life falls by a tenth a year, and its spread is 0.30 in new tyres and 0.45 in
 * those that are two years old or more; of tyres that may have run flat a tenth did, and lost
 * between a fifth and all. Source: an even sample of the normal law (GSL). */
START_TEST(spread_by_age)
{
    enum { N = 4001 };
    static double ln_life[N];
    struct hb_settings s;
    hb_settings_default(&s);
    static const double rows[][2] = {
        {0.0, 0.300}, {1.0, 0.344}, {2.0, 0.450}, {4.0, 0.450}, {10.0, 0.450}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        const struct hb_unit unit = {rows[i][0], 0.0, false};
        for (int k = 0; k < N; k++)
            ln_life[k] =
                log(life_at(&s, &unit, HB_P_LIFE_UNIT, gsl_cdf_ugaussian_Pinv((k + 0.5) / N)));
        ck_assert_double_eq_tol(gsl_stats_mean(ln_life, 1, N), -0.1 * rows[i][0], 1e-9);
        ck_assert_double_eq_tol(gsl_stats_sd(ln_life, 1, N), rows[i][1], 1e-3);
    }
    const struct hb_unit maybe = {0.0, 0.1, false};
    double ran = 0.0, lost = 0.0, most = 0.0, least = 1.0;
    for (int k = 0; k < N; k++) {
        const double left =
            life_at(&s, &maybe, HB_P_FLAT_LOSS, gsl_cdf_ugaussian_Pinv((k + 0.5) / N));
        if (left == 1.0)
            continue;
        ran++;
        lost += 1.0 - left;
        most = fmax(most, 1.0 - left);
        least = fmin(least, 1.0 - left);
    }
    ck_assert_double_eq_tol(ran / N, 0.1, 1.0 / N);
    ck_assert_double_eq_tol(lost / ran, 0.6, 2e-3);
    ck_assert(most > 0.99 && most < 1.0 && least >= 0.2 && least < 0.21);
}
END_TEST

/* Member by member: a unit of which more is good never has the shorter life, unknown repairs count
 * as repairs, and one more year costs every tyre the same from two years on. Source: unknown counts
 * against (common practice, no source). */
START_TEST(member_by_member)
{
    struct random_source source = {.state = 8};
    struct hb_settings s;
    hb_settings_default(&s);
    for (int i = 0; i < 3000; i++) {
        double normal[HB_DIMENSIONS_MAX], life[2][3];
        struct hb_draw draw;
        s.row[HB_P_AGE].value =
            random_below(&source, 5) ? random_between(&source, 0.0, 12.0) : NOT_GIVEN;
        for (int k = 0; k < hb_param_dimensions(); k++)
            normal[k] = random_normal(&source);
        hb_draw(&s, normal, &draw);
        for (int other = 0; other < 2; other++)
            for (int word = HB_NOT_KNOWN; word <= HB_YES; word++) {
                s.row[HB_P_RAN_FLAT].value = other ? HB_NO : word;
                s.row[HB_P_REPAIRED].value = other ? word : i % 3;
                const struct hb_unit unit = hb_unit_as_stated(&s, false);
                life[other][word] = hb_unit_life(&s, &unit, &draw, normal);
                ck_assert_double_gt(life[other][word], 0.0);
            }
        ck_assert_double_ge(life[0][HB_NO], life[0][HB_NOT_KNOWN]);
        ck_assert_double_ge(life[0][HB_NOT_KNOWN], life[0][HB_YES]);
        ck_assert_double_ge(life[1][HB_NO], life[1][HB_NOT_KNOWN]);
        ck_assert(life[1][HB_NOT_KNOWN] == life[1][HB_YES]);
        const double years = random_between(&source, 2.0, 12.0);
        const struct hb_unit now = {years, 0.1, true}, then = {years + 1.0, 0.1, true};
        ck_assert_double_eq_tol(hb_unit_life(&s, &then, &draw, normal) /
                                    hb_unit_life(&s, &now, &draw, normal),
                                exp(-0.1), 1e-12);
    }
}
END_TEST

/* A unit is the type with its life divided, its wall at work and its errors; nothing else of it
 * moves. Source: what the sentence says, field by field. */
START_TEST(unit_is_the_type)
{
    struct random_source source = {.state = 9};
    struct hb_settings s;
    hb_settings_default(&s);
    for (int i = 0; i < 50; i++) {
        struct hobble_marking marking;
        struct hb_tyre type, unit;
        struct hb_draw draw;
        double normal[HB_DIMENSIONS_MAX];
        random_tyre(&source, &marking, &type);
        for (int k = 0; k < hb_param_dimensions(); k++)
            normal[k] = random_normal(&source);
        const struct hb_unit how = {random_between(&source, 0.0, 12.0), 0.1, i % 2};
        hb_draw(&s, normal, &draw);
        unit = type;
        hb_unit_take(&s, &how, &draw, normal, &unit);
        ck_assert(unit.load_factor == draw.value[HB_P_LOAD_ERROR]);
        ck_assert(unit.speed_factor == draw.value[HB_P_SPEED_ERROR]);
        ck_assert(unit.ambient_shift == draw.value[HB_P_AMBIENT_ERROR]);
        ck_assert(draw.value[HB_P_WALL_WORK] >= 0.0);
        hb_work_harder(&type, draw.value[HB_P_WALL_WORK]);
        ck_assert_double_eq_tol(type.life_per_metre / unit.life_per_metre,
                                hb_unit_life(&s, &how, &draw, normal), 1e-12);
        type.life_per_metre = unit.life_per_metre;
        type.load_factor = unit.load_factor;
        type.speed_factor = unit.speed_factor;
        type.ambient_shift = unit.ambient_shift;
        ck_assert_int_eq(memcmp(&type, &unit, sizeof type), 0);
    }
}
END_TEST

/* ---- what it comes to --------------------------------------------------------------------------
 */

static hobble_case *somewhere(struct random_source *r)
{
    hobble_case *c = ask_bare(300);
    ask_set(c, "load_share", random_between(r, 0.35, 0.65));
    ask_set(c, "ambient", random_between(r, -10.0, 40.0));
    ask_set(c, "speed", random_between(r, 40.0, 100.0));
    ask_set(c, "unseen", random_between(r, 0.0, 8.0));
    ask_set(c, "seed", random_below(r, 1000));
    return c;
}

static double p5_of(const hobble_case *c)
{
    return ask(c).advised.p5;
}

/* A tyre that is stated to be younger never has the shorter P5; no age counts as ten years. Source:
 * rubber ages (by analogy, the open data set); unknown counts against. */
START_TEST(younger_is_no_worse)
{
    static const double years[] = {0.0, 0.3, 1.0, 1.6, 2.0, 4.0, 9.0, 10.0, 14.0};
    enum { AGES = sizeof years / sizeof *years };
    struct random_source source = {.state = 10};
    for (int i = 0; i < 12; i++) {
        hobble_case *c = somewhere(&source);
        const double unstated = p5_of(c);
        double before = HUGE_VAL;
        for (int k = 0; k < AGES; k++) {
            ask_set(c, "age", years[k]);
            const double p5 = p5_of(c);
            NEED(p5 <= before, "question %d: %g m at %g years, %g m before", i, p5, years[k],
                 before);
            NEED(years[k] != 10.0 || p5 == unstated, "question %d: %g m unstated", i, unstated);
            before = p5;
        }
        hobble_case_free(c);
    }
}
END_TEST

/* The same of repairs and earlier flat running, said and unsaid. */
START_TEST(known_good_is_no_worse)
{
    static const char *const words[] = {"no", "unknown", "yes"};
    struct random_source source = {.state = 11};
    int shorter = 0;
    for (int i = 0; i < 12; i++) {
        double p5[2][3];
        hobble_case *c = somewhere(&source);
        ask_set(c, "age", random_between(&source, 0.0, 9.0));
        for (int row = 0; row < 2; row++) {
            hobble_case *said = hobble_case_clone(c);
            ask_word(said, row ? "repaired" : "ran_flat", "no");
            for (int k = 0; k < 3; k++) {
                ask_word(said, row ? "ran_flat" : "repaired", words[k]);
                p5[row][k] = p5_of(said);
            }
            hobble_case_free(said);
            ck_assert(p5[row][0] >= p5[row][1] && p5[row][1] >= p5[row][2]);
            shorter += p5[row][0] > p5[row][1];
        }
        ck_assert(p5[0][1] == p5[0][2]); /* repaired, or perhaps */
        hobble_case_free(c);
    }
    ck_assert_int_eq(shorter, 24);
}
END_TEST

/* How well the load is known is said in a word; it is the error's two numbers, and those count
 * where they are given themselves. Source: the row's own sentence. */
START_TEST(load_by_a_word)
{
    static const struct {
        const char *word;
        double mean, spread;
    } rows[] = {{NULL, 1.05, 0.08},
                {"guessed", 1.05, 0.08},
                {"counted", 1.03, 0.05},
                {"weighed", 1.00, 0.02}};
    double p5[4];
    for (int i = 0; i < 4; i++) {
        hobble_case *by_word = ask_vouched(200), *by_hand = ask_vouched(200);
        ask_set(by_word, "load_share", 0.6);
        ask_set(by_hand, "load_share", 0.6);
        ask_set(by_hand, "load_error", rows[i].mean);
        ask_spread(by_hand, "load_error", rows[i].spread);
        if (rows[i].word)
            ask_word(by_word, "load_known", rows[i].word);
        p5[i] = p5_of(by_word);
        ck_assert(p5[i] == p5_of(by_hand));
        ask_word(by_hand, "load_known", i == 3 ? "guessed" : "weighed");
        ck_assert(p5_of(by_hand) == p5[i]);
        hobble_case_free(by_word);
        hobble_case_free(by_hand);
    }
    ck_assert(p5[0] == p5[1] && p5[1] < p5[2] && p5[2] < p5[3]);
}
END_TEST

/* How the vehicle warns: minutes unseen, at the 100 km/h that is built in; a delay that is given
 * counts before the word. Sources: UN R141, within 10 min for one wheel (second-hand); 49 CFR
 * 571.138: 20 min; one minute of a sensor in the wheel: assumed. */
START_TEST(warned_by_a_word)
{
    static const struct {
        const char *word;
        double minutes;
    } rows[] = {{NULL, 10}, {"unknown", 10}, {"direct", 1}, {"indirect", 10}, {"none", 20}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        hobble_case *c = ask_vouched(20);
        if (rows[i].word)
            ask_word(c, "warning", rows[i].word);
        ck_assert_double_eq_tol(hb_warning_delay(&c->settings), rows[i].minutes * MINUTE, 1e-9);
        struct hobble_answer a = ask(c);
        ck_assert(a.unseen_assumed);
        ck_assert_double_eq_tol(a.run_unseen, rows[i].minutes * MINUTE * 100.0 * KMH, 1e-6);
        ask_set(c, "warning_delay", 7.0);
        a = ask(c);
        ck_assert_double_eq_tol(a.run_unseen, 7.0 * MINUTE * 100.0 * KMH, 1e-6);
        ask_set(c, "unseen", 2.0); /* and what is known of this drive before both */
        a = ask_free(c);
        ck_assert(!a.unseen_assumed);
        ck_assert_double_eq_tol(a.run_unseen, 2.0 * MINUTE * 100.0 * KMH, 1e-6);
    }
}
END_TEST

Suite *levels_suite(void)
{
    Suite *s = suite_create("levels");
    TCase *t = tcase_create("levels");
    tcase_set_timeout(t, 120.0); /* sanitizers and valgrind are slow */
    tcase_add_test(t, open_is_bad);
    tcase_add_test(t, closed_forms);
    tcase_add_test(t, spread_by_age);
    tcase_add_test(t, member_by_member);
    tcase_add_test(t, unit_is_the_type);
    tcase_add_test(t, younger_is_no_worse);
    tcase_add_test(t, known_good_is_no_worse);
    tcase_add_test(t, load_by_a_word);
    tcase_add_test(t, warned_by_a_word);
    suite_add_tcase(s, t);
    return s;
}
