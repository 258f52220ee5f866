/* SPDX-License-Identifier: GPL-3.0-or-later */
/* page_entry.c - the door through which the page asks the same core as the program.
 *
 * Compiled for wasm32 with core and advice, never for the native program. The page writes texts
 * into page_text() and sample points into page_cube(), sets rows of the parameter table, asks, and
 * reads the answer back field by field, already in the units shown and already rounded: how far a
 * number may be rounded up is part of the caution, so the page's script has no say in it.
 * There is one question at a time; all memory is static but what taking evidence in frees again. */
#include "page/page_evidence.h"

#include "advice/advise.h"
#include "core/const.h"
#include "core/setting.h"
#include "study/evidence_item.h"

#include <math.h>
#include <string.h>

enum {
    TEXT_MAX = 1024,
    LEGS_MAX = 8, /* at most HB_ANCHOR_LEGS; the page's history: on the way down, unseen, since the
                     warning, now */
};

static struct {
    char text[TEXT_MAX];
    struct hb_settings settings;
    double cube[HB_PAGE_MEMBERS_MAX * HB_DIMENSIONS_MAX];
    struct hb_question question;
    struct hobble_faults faults;
    struct hobble_answer answer;
    bool answered, us, quick;
    bool asked; /* range as asked is there: a quick answer has it where it is the advised drive */
} page;

/* Two samples share the arrays: the quick one is the beginning of the full one. */
static struct tyres {
    struct hb_tyre tyre[HB_PAGE_MEMBERS_MAX], test[HB_PAGE_MEMBERS_MAX];
    bool tied[HB_PAGE_MEMBERS_MAX], passed[HB_PAGE_MEMBERS_MAX];
    double used[HB_PAGE_MEMBERS_MAX], best[HB_PAGE_MEMBERS_MAX];
} arrays, arrays_before;
static struct {
    struct hb_outcome outcome[HB_PAGE_MEMBERS_MAX];
    struct hb_record record[HB_PAGE_MEMBERS_MAX * HB_ANCHOR_LEGS];
    double sorted[HB_PAGE_MEMBERS_MAX];
} driven;

static struct hb_ensemble ensemble, before; /* before: without evidence, made where there is some */
static struct hb_settings made_from;        /* settings of the ensemble */
static struct hobble_marking made_for;
static struct hobble_evidence made_with[HOBBLE_EVIDENCE_MAX];
static size_t made_with_items;
static bool made;

/* ---- the last drive is not driven twice ------------------------------------------------------ */

static struct {
    struct hb_journey journey;
    struct hb_leg leg[HB_ANCHOR_LEGS];
    const struct hb_tyre *tyre;
    const struct hb_outcome *out;
    size_t count;
    double life; /* of all, per metre: the same tyres may be driven as younger ones */
    bool valid;
} last;

static bool same_start(const struct hb_start *a, const struct hb_start *b)
{
    return a->running == b->running && a->speed == b->speed && a->load == b->load &&
           a->ambient == b->ambient && a->pressure == b->pressure;
}

static bool same_leg(const struct hb_leg *a, const struct hb_leg *b)
{
    return a->speed == b->speed && a->load == b->load && a->ambient == b->ambient &&
           a->extent == b->extent && a->kind == b->kind && a->set_pressure == b->set_pressure &&
           a->pressure == b->pressure && a->leak_rate == b->leak_rate && a->hole == b->hole &&
           a->goes_on == b->goes_on;
}

static bool same_journey(const struct hb_journey *a, const struct hb_leg *leg,
                         const struct hb_journey *b)
{
    if (a->count != b->count || a->horizon_distance != b->horizon_distance ||
        a->horizon_time != b->horizon_time || !same_start(&a->start, &b->start))
        return false;
    for (size_t i = 0; i < b->count; i++)
        if (!same_leg(&leg[i], &b->leg[i]))
            return false;
    return true;
}

static double lives(const struct hb_tyre *tyre, size_t count)
{
    double sum = 0.0;
    for (size_t i = 0; i < count; i++)
        sum += tyre[i].life_per_metre;
    return sum;
}

/* The asked and the advised drive are often one; its outcomes then still lie in the arrays. */
static bool driven_last(const struct hb_journey *j, const struct hb_tyre *tyre, size_t count,
                        const struct hb_outcome *out)
{
    return last.valid && last.tyre == tyre && last.out == out && last.count == count &&
           last.life == lives(tyre, count) && same_journey(&last.journey, last.leg, j);
}

static void run(const struct hb_journey *journey, const struct hb_step_control *steps,
                const struct hb_tyre *tyre, size_t count, struct hb_outcome *out,
                struct hb_record *record, int threads)
{
    (void)threads;
    if (driven_last(journey, tyre, count, out))
        return;
    hb_integrate_many(journey, steps, tyre, count, out, record);
    last.journey = *journey;
    last.valid = false;
    if (journey->count > HB_ANCHOR_LEGS)
        return;
    memcpy(last.leg, journey->leg, journey->count * sizeof *last.leg);
    last.tyre = tyre;
    last.out = out;
    last.count = count;
    last.life = lives(tyre, count);
    last.valid = true;
}

/* Of tyres and outcomes that come and go. */
static void run_plainly(const struct hb_journey *journey, const struct hb_step_control *steps,
                        const struct hb_tyre *tyre, size_t count, struct hb_outcome *out,
                        struct hb_record *record, int threads)
{
    (void)threads;
    hb_integrate_many(journey, steps, tyre, count, out, record);
}

/* ---- settings -------------------------------------------------------------------------------- */

HB_PAGE_EXPORT(char *, page_text, void)
{
    return page.text;
}

HB_PAGE_EXPORT(int, page_text_size, void)
{
    return TEXT_MAX;
}

HB_PAGE_EXPORT(double *, page_cube, void)
{
    return page.cube;
}

HB_PAGE_EXPORT(int, page_dimensions, void)
{
    return hb_param_dimensions();
}

/* Everything back to the table's built-in values. */
HB_PAGE_EXPORT(void, page_clear, void)
{
    hb_settings_default(&page.settings);
    hb_page_forget_items();
    page.faults.count = 0;
}

/* Place of the key in page_text, or -1. */
HB_PAGE_EXPORT(int, page_row, void)
{
    page.text[TEXT_MAX - 1] = '\0';
    return hobble_param_find(page.text);
}

/* Limits of a number in its row's unit: 0 least, 1 most, 2 built-in value; NAN for other rows. */
HB_PAGE_EXPORT(double, page_limit, int row, int which)
{
    const bool there = row >= 0 && row < HB_PARAM_COUNT;
    const struct hobble_param *p = there ? &hobble_param_table(NULL)[row] : NULL;
    return !p || p->kind != HOBBLE_NUMBER ? (double)NAN
           : which == 0                   ? p->min
           : which == 1                   ? p->max
                                          : p->value;
}

/* Rows are set as a case's are, with the same checks; all of the page is one source. */
#define ORIGIN "--page"

/* A number in the row's unit. */
HB_PAGE_EXPORT(int, page_set_number, int row, double value)
{
    return (int)hb_setting_put_number(&page.settings, row, value, ORIGIN);
}

HB_PAGE_EXPORT(int, page_set_spread, int row, double spread)
{
    return (int)hb_setting_put_spread(&page.settings, row, spread, ORIGIN);
}

/* The word or the text in page_text, as the row's kind is. */
HB_PAGE_EXPORT(int, page_set_text, int row)
{
    const bool there = row >= 0 && row < HB_PARAM_COUNT;
    page.text[TEXT_MAX - 1] = '\0';
    if (there && hobble_param_table(NULL)[row].kind == HOBBLE_TEXT)
        return (int)hb_setting_put_text(&page.settings, row, page.text, ORIGIN, &page.faults);
    return (int)hb_setting_put_word(&page.settings, row, page.text, ORIGIN, &page.faults);
}

/* Minutes driven since the warning, as distance: nobody is taken to have slowed down unless it is
 * known, so at the speed that the history assumes where none is stated. */
HB_PAGE_EXPORT(int, page_set_minutes_since, double minutes)
{
    const double before = hb_setting_value(&page.settings, HB_P_SPEED_BEFORE);
    const double kmh = fmax(before, hobble_param_table(NULL)[HB_P_SPEED_BEFORE].value);
    return page_set_number(HB_P_RUN, minutes / 60.0 * kmh);
}

/* ---- asking ---------------------------------------------------------------------------------- */

static bool same_value(const struct hb_settings *a, const struct hb_settings *b, int row)
{
    return memcmp(&a->row[row].value, &b->row[row].value, sizeof a->row[row].value) == 0;
}

bool hb_page_same_tyre(const struct hb_settings *settings, const struct hobble_marking *marking,
                       const struct hb_ensemble *e)
{
    const struct hobble_param *row = hobble_param_table(NULL);
    const struct hb_settings *now = e->settings;
    if (!same_value(settings, now, HB_P_LOAD_KNOWN) ||
        !same_value(settings, now, HB_P_PRESSURE_INFLATED) ||
        memcmp(marking, &e->question->built.marking, sizeof *marking) != 0)
        return false;
    for (int i = 0; i < HB_PARAM_COUNT; i++) {
        if (row[i].group != HOBBLE_TYRE && row[i].stage == HOBBLE_NOT_DRAWN)
            continue;
        if (!same_value(settings, now, i) || settings->row[i].spread != now->row[i].spread)
            return false;
    }
    return true;
}

/* Whether the drawn and tested tyres still are those of the settings. */
static bool tyres_stand(size_t members)
{
    return made && ensemble.arrays.members == members &&
           hb_page_same_items(made_with, made_with_items) &&
           hb_page_same_tyre(&made_from, &made_for, &ensemble);
}

static void lay_out(size_t members, struct tyres *t, struct hb_ensemble *e)
{
    *e = (struct hb_ensemble){
        .settings = &page.settings,
        .question = &page.question,
        .runner = {run, 1},
        .arrays = {members, t->tyre, t->test, t->tied, t->passed, t->used, t->best, driven.outcome,
                   driven.record, driven.sorted},
    };
}

static enum hobble_status make_tyres(size_t members)
{
    if (tyres_stand(members))
        return HOBBLE_OK;
    last.valid = made = false;
    lay_out(members, &arrays, &ensemble);
    lay_out(members, &arrays_before, &before);
    enum hobble_status status = HOBBLE_OK;
    if (hb_page_items() == 0) {
        status = hb_ensemble_make(page.cube, &ensemble);
    } else {
        status = hb_ensemble_make(page.cube, &before);
        ensemble.runner = (struct hb_runner){run_plainly, 1};
        if (status == HOBBLE_OK)
            status = hb_page_take_in(page.cube, &ensemble);
        ensemble.runner = (struct hb_runner){run, 1};
    }
    last.valid = false;
    made = status == HOBBLE_OK;
    made_from = page.settings;
    made_with_items = hb_page_copy_items(made_with);
    memset(&made_for, 0, sizeof made_for);
    memcpy(&made_for, &page.question.built.marking, sizeof made_for);
    return status;
}

static enum hobble_status question(void)
{
    page.faults.count = 0;
    const enum hobble_status status =
        hb_question_make(&page.settings, NULL, 0, &page.question, &page.faults);
    if (status == HOBBLE_OK)
        page.settings.row[HB_P_CONSTRUCTION].value = page.question.built.construction;
    return status;
}

/* Where the asked drive is the advised one, its outcomes still lie in the arrays; after evidence
 * the range without it is told beside, and that is another drive. */
static void take_asked(void)
{
    struct hobble_answer *a = &page.answer;
    struct hb_plan plan;
    hb_plan_asked(&page.question, &plan);
    struct hb_journey asked = plan.journey;
    asked.leg = plan.leg;
    page.asked = hb_page_items() == 0 &&
                 driven_last(&asked, arrays.tyre, ensemble.arrays.members, driven.outcome);
    if (!page.asked || a->stop[HOBBLE_STOP_CONTRADICTION] || a->stop[HOBBLE_STOP_EVIDENCE])
        return;
    a->range = a->unconditioned = hb_ensemble_band(&ensemble, &plan);
}

/* What evidence tells of this very tyre's past is for the verdict alone. */
static void mark_flat(void)
{
    const struct hb_history *past = &page.question.past;
    if (hb_evidence_ran_flat(hb_page_item(0), hb_page_items(), past->run_seen + past->run_unseen))
        page.settings.row[HB_P_RAN_FLAT].value = HB_YES;
}

static enum hobble_status advise_at_once(void)
{
    mark_flat();
    const enum hobble_status status = hb_advise_way(&ensemble, NULL, &page.answer);
    if (status == HOBBLE_OK)
        take_asked();
    return status;
}

/* As the program: the range without evidence beside the range, and what becomes of the tyre judged
 * without it. */
static enum hobble_status advise(void)
{
    struct hb_plan plan;
    const bool known = hb_page_items() > 0;
    if (known) {
        hb_plan_asked(&page.question, &plan);
        hb_ensemble_drive(&before, &plan);
        ensemble.taken.prior = hb_ensemble_band(&before, &plan);
    }
    mark_flat();
    const enum hobble_status status = hb_advise(&ensemble, &page.answer);
    if (status == HOBBLE_OK && known)
        hb_advise_after(&before, &page.answer);
    return status;
}

/* Answers with members sample types (1..HB_PAGE_MEMBERS_MAX). quick: a partial answer, only the
 * drives that verdict, advised distance and chance rest on; the fields that need other drives are
 * NAN then. */
HB_PAGE_EXPORT(int, page_ask, int members, int us, int quick)
{
    page.answered = false;
    page.us = us != 0;
    page.quick = quick != 0;
    page.asked = !page.quick;
    if (members < 1 || members > HB_PAGE_MEMBERS_MAX)
        return HOBBLE_E_RANGE;
    enum hobble_status status = question();
    if (status == HOBBLE_OK && page.question.past.count + 2 > LEGS_MAX)
        status = HOBBLE_E_TOO_LARGE;
    if (status == HOBBLE_OK)
        status = make_tyres((size_t)members);
    if (status == HOBBLE_OK)
        status = page.quick ? advise_at_once() : advise();
    page.answered = status == HOBBLE_OK;
    return (int)status;
}

/* Whether an answer to what was set, or its fault, comes as fast as any: 0 where evidence has to be
 * taken in first. */
HB_PAGE_EXPORT(int, page_ready, int members)
{
    struct hb_ensemble e = {.settings = &page.settings,
                            .question = &page.question,
                            .arrays = {.members = members > 0 ? (size_t)members : 0}};
    page.answered = false;
    return hb_page_items() == 0 || question() != HOBBLE_OK || hb_page_has_taken_in(&e);
}

struct hb_page_view hb_page_look(void)
{
    return (struct hb_page_view){page.answered ? &page.answer : NULL,
                                 &page.settings,
                                 &page.question,
                                 &ensemble,
                                 &page.faults,
                                 page.text,
                                 TEXT_MAX,
                                 page.us,
                                 page.quick,
                                 page.asked};
}
