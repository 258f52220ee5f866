/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test_calibration.c - whether evidence moves the answer by as much as it should. A member of the
 * prior is the truth, evidence is simulated from it, and the truth's place among the members that
 * the evidence leaves must be even: simulation-based calibration, after Talts, Betancourt, Simpson,
 * Vehtari and Gelman, arXiv:1804.06788 (2018), and Cook, Gelman and Rubin, J. Comput. Graph. Stat.
 * 15 (2006) 675. HOBBLE_CALIBRATION=1000 draws that many truths for each list, and lists of ten
 * items as well; HOBBLE_CALIBRATION_FILE takes the places down (docs/calibration.sh). */
#include "ask.h"
#include "simulated.h"
#include "study/posterior.h"

#include <check.h>
#include <gsl/gsl_cdf.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

Suite *calibration_suite(void);

enum { MEMBERS = 300, POOL = 32, BINS = 10, ITEMS_MOST = 10, TRUTHS = 60 };

/* What is held against the truth: the question's range, and the type's margin. */
enum { RANGE, MARGIN, LOOKS };
static const char *const looks[LOOKS] = {"range", "margin"};

struct calibration {
    int items, truths, refused;
    int bin[LOOKS][BINS];
    double effective; /* least */
    FILE *file;
};

static double margin_of(const struct hb_study *s, size_t member)
{
    struct hb_draw draw;
    hb_draw(&s->settings, &s->cube[member * (size_t)hb_param_dimensions()], &draw);
    return draw.value[HB_P_MARGIN];
}

/* Share of the members below the truth; of those that are equal a random part, so that the place is
 * even where it should be. */
static double place_of(double truth, const double *value, size_t n, struct random_source *r)
{
    size_t below = 0, equal = 1;
    for (size_t i = 0; i < n; i++) {
        below += value[i] < truth;
        equal += !(value[i] < truth) && !(value[i] > truth);
    }
    return ((double)below + random_between(r, 0.0, 1.0) * (double)equal) / (double)(n + 1);
}

static void note(struct calibration *k, int look, double place)
{
    const int bin = (int)(place * BINS);
    k->bin[look][bin < BINS ? bin : BINS - 1]++;
    if (k->file)
        fprintf(k->file, "%d\t%s\t%.4f\n", k->items, looks[look], place);
}

/* A sample of the same question, brought to the evidence, and the truth's places in it. */
static void compare(struct calibration *k, const struct simulated *truth, double way,
                    const struct hobble_evidence *item, int seed)
{
    static double value[MEMBERS];
    struct hb_settings settings = truth->study->settings;
    struct hb_study s;
    struct hb_plan plan;
    settings.row[HB_P_SEED].value = seed;
    settings.row[HB_P_MEMBERS].value = MEMBERS;
    ck_assert_int_eq(hb_study_of(&settings, &truth->study->question, 1, &s, NULL), HOBBLE_OK);
    struct hb_ensemble *e = &s.ensemble;
    if (k->items > 0)
        ck_assert_int_eq(hb_posterior_make(item, (size_t)k->items, s.cube, e, &e->taken),
                         HOBBLE_OK);
    if (k->items > 0 && e->taken.against >= 0)
        k->refused++; /* its place counts all the same: as the prior has it */
    k->effective = fmin(k->effective, k->items > 0 ? e->taken.effective : MEMBERS);
    hb_plan_asked(&s.question, &plan);
    hb_ensemble_drive(e, &plan);
    for (int look = 0; look < LOOKS; look++) {
        size_t n = 0;
        for (size_t i = 0; i < e->arrays.members; i++)
            if (hb_ensemble_counts(e, i))
                value[n++] = look == RANGE ? hb_ensemble_remaining(e, &plan, i) : margin_of(&s, i);
        const double at = look == RANGE ? way : margin_of(truth->study, truth->member);
        note(k, look, place_of(at, value, n, truth->source));
    }
    hb_study_close(&s);
}

/* Lists begin with each kind in turn. */
static bool make_list(const struct simulated *truth, int items, int turn,
                      struct hobble_evidence *item)
{
    for (int i = 0; i < items; i++) {
        const int kind =
            i == 0 ? turn % SIMULATED_KINDS : random_below(truth->source, SIMULATED_KINDS);
        if (!simulated_item(truth, (enum simulated_kind)kind, i == 0 ? 0.5 : 0.3, &item[i]))
            return false;
    }
    return true;
}

static void calibrate(struct calibration *k)
{
    static struct hobble_evidence item[ITEMS_MOST];
    struct random_source source = {(uint64_t)(1000 + k->items)};
    struct hb_question question;
    struct hb_settings settings;
    hb_settings_default(&settings);
    settings.row[HB_P_MEMBERS].value = POOL;
    settings.row[HB_P_LOAD_SHARE].value = 0.75;
    settings.row[HB_P_LOAD_SHARE].given = true;
    settings.row[HB_P_UNSEEN].value = 0.0;
    settings.row[HB_P_UNSEEN].given = true;
    ck_assert_int_eq(hb_question_make(&settings, NULL, 0, &question, NULL), HOBBLE_OK);
    for (int done = 0, round = 0; done < k->truths; round++) {
        struct hb_study pool;
        ck_assert_int_eq(hb_study_of(&settings, &question, 1, &pool, NULL), HOBBLE_OK);
        simulated_truths(&pool, &source);
        for (size_t i = 0; i < POOL && done < k->truths; i++) {
            const struct simulated truth = {&pool, i, &source};
            if (!hb_ensemble_counts(&pool.ensemble, i) || !make_list(&truth, k->items, done, item))
                continue;
            compare(k, &truth, simulated_way(&pool, i), item, 1 + done);
            done++;
        }
        hb_study_close(&pool);
    }
}

/* Pearson's statistic; its chance to be larger, if the places are even. */
static double chance_of(const int *bin, int bins, int truths)
{
    double sum = 0.0;
    const double wanted = (double)truths / bins;
    for (int i = 0; i < bins; i++)
        sum += pow(bin[i] - wanted, 2) / wanted;
    return gsl_cdf_chisq_Q(sum, bins - 1);
}

static void check_list(int items)
{
    const int many = random_count("HOBBLE_CALIBRATION", 0);
    const char *path = getenv("HOBBLE_CALIBRATION_FILE");
    struct calibration k = {.items = items, .truths = many ? many : TRUTHS, .effective = MEMBERS};
    char text[BINS * 8] = "";
    if (path)
        k.file = fopen(path, "a");
    if (k.file)
        setvbuf(k.file, NULL, _IOLBF, 0); /* what was counted before somebody stops it counts */
    calibrate(&k);
    if (k.file)
        fclose(k.file);
    for (int look = 0; look < LOOKS; look++) {
        const double chance = chance_of(k.bin[look], BINS, k.truths);
        size_t used = 0;
        for (int i = 0; i < BINS; i++)
            used += (size_t)snprintf(text + used, sizeof text - used, " %d", k.bin[look][i]);
        if (many)
            printf("%d items, %s: %d truths, chance %.4f, least effective %.0f, refused %d:%s\n",
                   items, looks[look], k.truths, chance, k.effective, k.refused, text);
        ck_assert_msg(chance > 1e-3, "%d items, %s: chance %.2g:%s", items, looks[look], chance,
                      text);
    }
}

START_TEST(truths_lie_evenly)
{
    static const int lists[] = {0, 1, 3, 10};
    if (lists[_i] == ITEMS_MOST && !random_count("HOBBLE_CALIBRATION", 0))
        return;
    check_list(lists[_i]);
}
END_TEST

Suite *calibration_suite(void)
{
    Suite *suite = suite_create("calibration");
    TCase *tests = tcase_create("calibration");
    tcase_set_timeout(tests, random_count("HOBBLE_CALIBRATION", 0) ? 40000 : 120);
    tcase_add_loop_test(tests, truths_lie_evenly, 0, 4);
    suite_add_tcase(suite, tests);
    return suite;
}
