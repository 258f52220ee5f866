/* SPDX-License-Identifier: GPL-3.0-or-later */
/* replay.c - a recorded drive: through the one decision, and measured over computed. */
#include "core/const.h"
#include "study/recording.h"
#include "study/replay_band.h"
#include "study/study.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* ---- the case as the recording has it ---------------------------------------------------------
 */

/* Pa: a drop to it is one at which a warning must come, whatever this vehicle's own does. */
static double low_of(const struct hb_settings *s)
{
    return hb_setting_si(s, HB_P_PRESSURE_INFLATED) *
           (1.0 - hobble_param_table(NULL)[HB_P_WARNING_DROP].value);
}

/* Longest time that it was driven with too little air before the mark, s. */
static double longest_unseen(const struct hb_settings *s)
{
    return hb_setting_known(s, HB_P_UNSEEN) ? hb_setting_si(s, HB_P_UNSEEN) : hb_warning_delay(s);
}

/* Of the time before the warning that which lies before the recording: none where it begins on
 * sound air; where no air was recorded, what the longest has more than the recording up to its
 * mark. Else it is as the case says. */
static double unseen_before(const struct hb_settings *s, const struct hb_stretches *r,
                            const struct hobble_replay *out)
{
    if (out->pressure_logged && r->at[0].least >= out->low)
        return 0.0;
    if (!out->pressure_logged && !isnan(out->warned_at))
        return fmax(longest_unseen(s) - out->warned_at, 0.0);
    return hb_setting_known(s, HB_P_UNSEEN) ? hb_setting_si(s, HB_P_UNSEEN) : (double)NAN;
}

static enum hobble_status set(hobble_case *c, enum hb_param_id row, double si,
                              struct hobble_faults *sink)
{
    const struct hobble_param *p = &hobble_param_table(NULL)[row];
    const double shown = hobble_unit_from_si(p->unit, si);
    return hobble_case_set_number(c, (int)row, fmin(fmax(shown, p->min), p->max), "the recording",
                                  sink);
}

/* The pressure now is the last that was read, unless the case states one. */
static enum hobble_status state(hobble_case *c, const struct hb_stretches *r,
                                struct hobble_replay *out, struct hobble_faults *sink)
{
    struct hobble_leg leg[HOBBLE_LEGS_MAX];
    const double unseen = unseen_before(&c->settings, r, out);
    const double last = out->pressure_logged ? r->at[r->count - 1].least : (double)NAN;
    enum hobble_status status = HOBBLE_OK;
    if (!isnan(unseen))
        status = set(c, HB_P_UNSEEN, unseen, sink);
    if (status == HOBBLE_OK && !isnan(last) && !c->settings.row[HB_P_PRESSURE].given)
        status = set(c, HB_P_PRESSURE, last, sink);
    if (status == HOBBLE_OK && out->tyre_ended)
        status = hobble_case_set_word(c, HB_P_RAN_FLAT, "yes", "the recording", sink);
    hobble_case_forget(c, HB_P_RUN);
    hobble_case_forget(c, HB_P_REST);
    c->legs = 0;
    out->legs = (int)hb_stretches_legs(r, out->low, leg);
    for (int i = 0; i < out->legs && status == HOBBLE_OK; i++)
        status = hobble_case_add_leg(c, &leg[i], sink);
    return status;
}

/* ---- when what came ---------------------------------------------------------------------------
 */

static double way_at(const struct hb_stretches *r, double time)
{
    return isnan(time) ? (double)NAN : hb_stretches_way(r, time);
}

static void when_it_came(const hobble_recording *recording, const struct hb_stretches *r,
                         struct hobble_replay *out)
{
    out->warned_at = hb_recording_mark(recording, HOBBLE_LOG_WARNING);
    out->ended_at = hb_recording_mark(recording, HOBBLE_LOG_ENDED);
    out->tyre_ended = !isnan(out->ended_at);
    out->low_at = hb_recording_below(recording, out->low);
    out->flat_at = hb_recording_below(recording, HB_FLAT_PRESSURE);
    out->warned_way = way_at(r, out->warned_at);
    out->ended_way = way_at(r, out->ended_at);
    out->low_way = way_at(r, out->low_at);
    out->flat_way = way_at(r, out->flat_at);
    out->unseen = fmax(out->warned_way - out->low_way, 0.0);
    if (isnan(out->warned_way) || isnan(out->low_way))
        out->unseen = (double)NAN;
    for (size_t i = 0; i < r->count; i++) {
        out->way += r->at[i].way;
        out->stood += r->at[i].stood;
        out->seconds += r->at[i].driven + r->at[i].stood;
    }
}

/* ---- all of it --------------------------------------------------------------------------------
 */

static enum hobble_status no_speed(struct hobble_faults *sink)
{
    struct hobble_fault f = {.status = HOBBLE_E_MISSING};
    hobble_fault_text(f.key, "log");
    hobble_fault_text(f.allowed, "a speed, or places with their times, in one of the logs");
    return hobble_faults_add(sink, &f);
}

static enum hobble_status compute(const hobble_case *c, const struct hb_stretches *r, int threads,
                                  struct hobble_replay *out, struct hobble_faults *sink)
{
    struct hb_study study;
    enum hobble_status status = hobble_range(c, threads, &out->answer, sink);
    if (status != HOBBLE_OK)
        return status;
    status = hb_study_open(c, threads, &study, sink);
    if (status == HOBBLE_OK)
        status = hb_replay_band(&study.ensemble, r, out);
    hb_study_close(&study);
    return status;
}

enum hobble_status hobble_replay(hobble_case *c, const hobble_recording *recording, int threads,
                                 struct hobble_replay *out, struct hobble_faults *sink)
{
    struct hb_stretches r;
    if (!hb_recording_stretches(recording, &r))
        return no_speed(sink);
    hobble_case *as_recorded = hobble_case_clone(c);
    struct hobble_replay *made = calloc(1, sizeof *made);
    enum hobble_status status = as_recorded && made ? HOBBLE_OK : HOBBLE_E_MEMORY;
    if (status == HOBBLE_OK) {
        const struct hb_settings *s = &as_recorded->settings;
        made->low = low_of(s);
        made->left_out = hb_recording_left_out(recording);
        when_it_came(recording, &r, made);
        made->pressure_logged = hb_stretches_air(&r, made->warned_at - longest_unseen(s),
                                                 hb_setting_si(s, HB_P_PRESSURE_INFLATED));
        status = state(as_recorded, &r, made, sink);
    }
    if (status == HOBBLE_OK)
        status = compute(as_recorded, &r, threads, made, sink);
    if (status == HOBBLE_OK) {
        hobble_case_assign(c, as_recorded);
        *out = *made;
    }
    free(made);
    hobble_case_free(as_recorded);
    return status;
}
