/* SPDX-License-Identifier: GPL-3.0-or-later */
/* rows_drum.c - approval test, the rule, handbook distances, endurance at low pressure, and one
 * drive of the trade. Sources beside each row of tests/data/validation.tsv. */
#include "advice/advise.h"
#include "study/study.h"
#include "validate/middle.h"
#include "validate/rows.h"

#include <gsl/gsl_cdf.h>
#include <math.h>

#define INFLATED 230e3 /* Pa, the table's pressure before the loss */

/* ---- the approval test ---------------------------------------------------------------------- */

/* The middle tyre on the approval drum for so many minutes at 80 km/h, by the reference solver
 * (the calibration itself uses the integrator). */
static struct hb_outcome on_drum(double minutes, struct middle *m, struct hb_record record[2])
{
    struct hb_drum_test test;
    middle_make(m, USUAL_SIZE, HB_SELF_SUPPORTING);
    hb_put_on_drum(&m->tyre, HB_DRUM_RADIUS);
    hb_drum_test(&m->marking, minutes * 60.0, &test);
    return middle_run(&m->tyre, test.journey.start, test.leg, HB_DRUM_LEGS, record);
}

static double minutes_at_speed(const struct hb_outcome *out)
{
    return (out->time - HB_DRUM_RUN_UP) / 60.0;
}

/* What the test prescribes, as the program runs it. */
double test_term(double which, double b)
{
    struct middle m;
    struct hb_drum_test test;
    (void)b;
    middle_make(&m, USUAL_SIZE, HB_SELF_SUPPORTING);
    hb_drum_test(&m.marking, hb_drum_test_seconds(&m.settings), &test);
    const struct hb_leg *run = &test.leg[HB_DRUM_LEGS - 1];
    const double term[] = {2.0 * HB_DRUM_RADIUS,
                           run->ambient - HB_CELSIUS,
                           run->load / hb_index_load(&m.marking) * 100.0,
                           test.leg[0].extent / 60.0,
                           run->extent / 60.0,
                           run->speed * 3.6,
                           HB_DRUM_HEIGHT_CHANGE * 100.0};
    return term[(int)which];
}

double drum_first_end(double a, double b)
{
    struct middle m;
    (void)a, (void)b;
    const struct hb_outcome out = on_drum(600.0, &m, NULL);
    return out.end == HB_END_NONE ? (double)NAN : minutes_at_speed(&out);
}

double drum_spare(double a, double b)
{
    return drum_first_end(a, b) - 60.0;
}

double drum_life_used(double a, double b)
{
    struct middle m;
    (void)a, (void)b;
    return on_drum(60.0, &m, NULL).life * 100.0;
}

double drum_height_change(double a, double b)
{
    struct middle m;
    struct hb_record record[HB_DRUM_LEGS];
    (void)a, (void)b;
    const struct hb_outcome out = on_drum(60.0, &m, record);
    const double before = m.tyre.section_height - out.deflection_start;
    const double after = m.tyre.section_height - record[HB_DRUM_LEGS - 1].deflection;
    return out.end == HB_END_NONE ? fabs(before - after) / before * 100.0 : (double)NAN;
}

/* What n passed tests without a failure show, by the binomial law: the chance of passing that is
 * exceeded with this confidence, per cent. */
double passes_show(double passes, double confidence)
{
    return 100.0 * gsl_cdf_beta_Pinv(1.0 - confidence, passes, 1.0);
}

/* Passes without a failure that show so many per cent with that confidence. */
double passes_needed(double share, double confidence)
{
    unsigned n = 1;
    while (gsl_cdf_binomial_P(0, 1.0 - share, n) > 1.0 - confidence)
        n++;
    return n;
}

/* ---- distances ------------------------------------------------------------------------------ */

/* Out of steady running with air at 100 km/h, then this pressure at 80 km/h until the end. */
static struct hb_outcome until_end(double share, int construction, double pressure,
                                   struct middle *m)
{
    middle_make(m, USUAL_SIZE, construction);
    const double load = middle_load(m, share);
    const struct hb_start start = {true, 100.0 / 3.6, load, HB_KELVIN_25C, INFLATED};
    const struct hb_leg leg = middle_leg(80.0, load, 25.0, pressure);
    return middle_run(&m->tyre, start, &leg, 1, NULL);
}

double flat_range(double share, double construction)
{
    struct middle m;
    return until_end(share, (int)construction, 0.0, &m).distance / 1e3;
}

double inflated_range(double share, double construction)
{
    struct middle m;
    return until_end(share, (int)construction, INFLATED, &m).distance / 1e3;
}

double load_exponent(double light, double heavy)
{
    return log(flat_range(light, HB_SELF_SUPPORTING) / flat_range(heavy, HB_SELF_SUPPORTING)) /
           log(heavy / light);
}

double rim_reach(double share, double construction)
{
    struct middle m;
    middle_make(&m, USUAL_SIZE, (int)construction);
    return middle_deflection(&m.tyre, middle_load(&m, share), 0.0) / m.tyre.deflection_max;
}

double ledger_miss(double a, double b)
{
    static const double share[] = {0.65, 0.75, 0.95};
    double worst = 0.0;
    (void)a, (void)b;
    for (int i = 0; i < 3; i++) {
        struct middle m;
        const struct hb_outcome o = until_end(share[i], HB_SELF_SUPPORTING, 0.0, &m);
        worst = fmax(worst, fabs(o.made - o.stored - o.to_air - o.to_road) / o.made);
    }
    return worst * 100.0;
}

/* ---- questions to the whole program --------------------------------------------------------- */

static void set(hobble_case *c, const char *key, double value)
{
    (void)hobble_case_set_number(c, hobble_param_find(key), value, "validate", NULL);
}

static void set_word(hobble_case *c, const char *key, const char *word)
{
    (void)hobble_case_set_word(c, hobble_param_find(key), word, "validate", NULL);
}

/* A case with this load as it really is: the sources' loads were weighed, not guessed. */
static hobble_case *question(const char *marking, const char *construction, double share)
{
    hobble_case *c = hobble_case_new();
    if (!c)
        return NULL;
    (void)hobble_case_set_text(c, hobble_param_find("marking"), marking, "validate", NULL);
    set_word(c, "construction", construction);
    set(c, "load_share", share);
    set(c, "age", 0.0); /* new and whole, as tyres that are tested are */
    set_word(c, "ran_flat", "no");
    set_word(c, "repaired", "no");
    set(c, "load_error", 1.0);
    (void)hobble_case_set_spread(c, hobble_param_find("load_error"), 0.0, "validate", NULL);
    return c;
}

double rule_share(double share, double b)
{
    struct hb_study study;
    hobble_case *c = question("205/55 RF16 91V", "self_supporting", share);
    double part = (double)NAN;
    (void)b;
    if (c && hb_study_open(c, 2, &study, NULL) == HOBBLE_OK)
        part = hb_rule_share(&study.ensemble, HB_RULE_SPEED, HB_RULE_DISTANCE) * 100.0;
    if (c)
        hb_study_close(&study);
    hobble_case_free(c);
    return part;
}

/* What is said of n distances (m). */
typedef double summary(double *distance, size_t n, double with);

static double median_km(double *distance, size_t n, double with)
{
    (void)with;
    return hb_quantile(distance, n, 0.5) / 1e3;
}

static double share_before(double *distance, size_t n, double km)
{
    size_t before = 0;
    for (size_t i = 0; i < n; i++)
        before += distance[i] < km * 1e3;
    return 100.0 * (double)before / (double)n;
}

/* Of the tyres of approved types: the whole distance, when after what was driven it goes on without
 * air at 80 km/h. Takes the case. */
static double approved(hobble_case *c, summary *say, double with)
{
    struct hb_study study;
    struct hb_plan plan;
    double said = (double)NAN;
    if (c && hb_study_open(c, 2, &study, NULL) == HOBBLE_OK) {
        struct hb_ensemble *e = &study.ensemble;
        size_t n = 0;
        const struct hb_way way = {HB_RULE_SPEED, study.question.load, 0.0, true, HB_AS_DRIVEN};
        hb_plan_from_now(&study.question, &way, &plan);
        hb_ensemble_drive(e, &plan);
        for (size_t i = 0; i < e->arrays.members; i++)
            if (hb_ensemble_counts(e, i))
                e->arrays.sorted[n++] = e->arrays.outcome[i].distance;
        if (n > 0)
            said = say(e->arrays.sorted, n, with);
    }
    if (c)
        hb_study_close(&study);
    hobble_case_free(c);
    return said;
}

/* A new tyre out of steady running with air at 100 km/h, warned at once: chance that it ends before
 * this distance, per cent. */
double ends_before(double share, double km)
{
    hobble_case *c = question("205/55 RF16 91V", "self_supporting", share);
    if (c)
        set(c, "unseen", 0.0);
    return approved(c, share_before, km);
}

/* What the driver's question answers; false when it is refused. */
static bool ask(hobble_case *c, struct hobble_answer *answer)
{
    const bool answered = c && hobble_range(c, 2, answer, NULL) == HOBBLE_OK;
    hobble_case_free(c);
    return answered;
}

double extended_cap(double a, double b)
{
    struct hobble_answer answer;
    (void)a, (void)b;
    return ask(question(USUAL_SIZE, "extended_mobility", 0.65), &answer) ? answer.cap / 1e3
                                                                         : (double)NAN;
}

double warning_drop(double a, double b)
{
    struct hb_settings s;
    (void)a, (void)b;
    hb_settings_default(&s);
    return hb_setting_value(&s, HB_P_WARNING_DROP) * 100.0;
}

double hidden_distance(double minutes, double kmh)
{
    struct hobble_answer answer;
    hobble_case *c = question("205/55 RF16 91V", "self_supporting", 0.65);
    if (c) {
        set(c, "unseen", minutes);
        set(c, "speed_before", kmh);
    }
    return ask(c, &answer) ? answer.run_unseen / 1e3 : (double)NAN;
}

/* ---- endurance at low pressure, 49 CFR 571.139 S6.4 ----------------------------------------- */

/* A conventional tyre on the drum at 120 km/h, full load, 38 degC, from the room's temperature. */
static struct hb_outcome low_pressure(double kpa, double minutes, struct middle *m,
                                      struct hb_record *record)
{
    middle_make(m, USUAL_SIZE, HB_CONVENTIONAL);
    hb_put_on_drum(&m->tyre, HB_DRUM_RADIUS);
    struct hb_leg leg = middle_leg(120.0, middle_load(m, 1.0), 38.0, kpa * 1e3);
    const struct hb_start soaked = {.running = false, .ambient = leg.ambient};
    leg.kind = HB_FOR_TIME;
    leg.extent = minutes * 60.0;
    return middle_run(&m->tyre, soaked, &leg, 1, record);
}

double low_pressure_minutes(double kpa, double b)
{
    struct middle m;
    (void)b;
    return low_pressure(kpa, 1440.0, &m, NULL).time / 60.0;
}

/* Largest part used of any of its limits: life, wall, shoulder, room above the rim. */
double low_pressure_used(double kpa, double b)
{
    struct middle m;
    struct hb_record record;
    (void)b;
    const struct hb_outcome out = low_pressure(kpa, 90.0, &m, &record);
    const double room = 38.0 + HB_CELSIUS;
    if (out.end != HB_END_NONE)
        return 100.0;
    const double heat = fmax((out.peak - room) / (m.tyre.wall_limit - room),
                             (record.shoulder - room) / (m.tyre.shoulder_limit - room));
    return 100.0 * fmax(fmax(out.life, out.deflection_most / m.tyre.deflection_max), heat);
}

double low_pressure_stop(double kpa, double b)
{
    struct hobble_answer answer;
    hobble_case *c = question(USUAL_SIZE, "conventional", 1.0);
    (void)b;
    if (c) {
        set(c, "pressure", kpa);
        set(c, "speed", 120.0);
        set(c, "ambient", 38.0);
    }
    return ask(c, &answer) ? (double)(answer.verdict == HOBBLE_STOP) : (double)NAN;
}

/* ---- one drive of the trade ------------------------------------------------------------------
 * About 90 km, mostly at 80 and at times at 90 km/h, valve core out from the start, tyre cold.
 * The 85 min that it took hold slow parts of which nothing is known; leaving them out makes it
 * harder for the tyre. */

static bool add_way(hobble_case *c, double kmh, double km)
{
    const double unset = (double)NAN;
    const struct hobble_leg leg = {kmh / 3.6, km * 1e3, unset, unset, unset, unset, unset};
    return hobble_case_add_leg(c, &leg, NULL) == HOBBLE_OK;
}

static hobble_case *hatchback(double share)
{
    hobble_case *c = question("205/55 RF16 91V", "self_supporting", share);
    bool added = c != NULL;
    if (c)
        set(c, "speed_before", 0.0);
    for (int i = 0; added && i < 3; i++)
        added = add_way(c, 80.0, 25.0) && add_way(c, 90.0, 5.0);
    return c;
}

double hatchback_range(double share, double b)
{
    (void)b;
    return approved(hatchback(share), median_km, 0.0);
}

double hatchback_scrap(double share, double b)
{
    struct hobble_answer answer;
    (void)b;
    return ask(hatchback(share), &answer) ? (double)(answer.condition == HOBBLE_SCRAP)
                                          : (double)NAN;
}
