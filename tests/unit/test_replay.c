/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test_replay.c - a recorded drive through the one decision, and measured over computed. Sources:
 * the same question said in another way has the same answer, a worse drive no better one, unknown
 * counts against (common practice, no source); the readings of the misfit are this file's own. */
#include "ask.h"
#include "core/const.h"
#include "random_case.h"
#include "study/case.h"

#include <check.h>
#include <math.h>
#include <stdlib.h>

Suite *replay_suite(void);

enum { MEMBERS = 400 };

/* Even parts of a drive at a sample a second. kPa below 0: not recorded. */
struct even {
    double kmh, minutes, kpa, celsius;
};

static struct hobble_sample plain_sample(double time, const struct even *e)
{
    struct hobble_sample s = {.time = time};
    for (int i = 0; i < HOBBLE_LOG_FIELDS; i++)
        s.value[i] = (double)NAN;
    s.value[HOBBLE_LOG_SPEED] = e->kmh * KMH;
    if (e->kpa >= 0.0)
        s.value[HOBBLE_LOG_PRESSURE] = e->kpa * 1e3;
    s.value[HOBBLE_LOG_AMBIENT] = e->celsius + HB_CELSIUS;
    return s;
}

static hobble_recording *recorded(const struct even *e, size_t parts)
{
    hobble_recording *r = hobble_recording_new();
    double time = 1.7e9;
    for (size_t i = 0; i < parts; i++)
        for (int k = 0; k < (int)(60.0 * e[i].minutes); k++, time += 1.0) {
            const struct hobble_sample s = plain_sample(time, &e[i]);
            ck_assert_int_eq(hobble_recording_take(r, &s), HOBBLE_OK);
        }
    return r;
}

static struct hobble_replay *replayed(hobble_case *c, hobble_recording *r)
{
    struct hobble_replay *out = calloc(1, sizeof *out);
    struct hobble_faults faults = {.count = 0};
    const enum hobble_status status = hobble_replay(c, r, 0, out, &faults);
    ck_assert_msg(status == HOBBLE_OK, "%s %s", faults.item[0].key, faults.item[0].allowed);
    hobble_recording_free(r);
    return out;
}

static struct hobble_replay *replay_even(hobble_case *c, const struct even *e, size_t parts)
{
    return replayed(c, recorded(e, parts));
}

/* ---- the one decision -------------------------------------------------------------------------
 */

/* What a person tells leg by leg and what a box recorded of it get the same answer. */
START_TEST(told_and_recorded_are_the_same)
{
    static const struct even drive[] = {{80, 20, 0, 20}, {0, 20, 0, 20}, {60, 15, 0, 20}};
    hobble_case *told = ask_vouched(MEMBERS), *box = ask_vouched(MEMBERS);
    ask_set(told, "unseen", 0.0);
    ask_set(box, "unseen", 0.0);
    ask_set(told, "ambient", 20.0);
    ask_set(box, "ambient", 20.0);
    for (size_t i = 0; i < 3; i++) {
        const struct hobble_leg leg = {drive[i].kmh * KMH, NOT_GIVEN, drive[i].minutes * MINUTE,
                                       NOT_GIVEN,          NOT_GIVEN, 0.0,
                                       NOT_GIVEN};
        ck_assert_int_eq(hobble_case_add_leg(told, &leg, NULL), HOBBLE_OK);
    }
    const struct hobble_answer must = ask(told);
    struct hobble_replay *r = replay_even(box, drive, 3);
    /* a stretch either side of a stop has some of it, and one second is between two samples */
    ck_assert_int_eq(r->answer.verdict, must.verdict);
    ck_assert_double_eq_tol(r->answer.run_seen, must.run_seen, 0.01 * must.run_seen);
    ck_assert_double_eq_tol(r->answer.advised.p50, must.advised.p50, 0.02 * must.advised.p50);
    ck_assert_double_eq_tol(r->answer.advised.p5, must.advised.p5, 0.02 * must.advised.p5 + 300.0);
    ck_assert_double_eq_tol(r->answer.life_now_p50, must.life_now_p50, 0.02);
    /* and the case that became as recorded has it as well */
    const struct hobble_answer again = ask(box);
    ck_assert_double_eq(again.advised_distance, r->answer.advised_distance);
    ck_assert_int_eq(again.condition, r->answer.condition);
    free(r);
    hobble_case_free(told);
    hobble_case_free(box);
}
END_TEST

/* Random drives: faster, longer, hotter, with less air, heavier: no better answer. */
START_TEST(a_worse_drive_no_better_answer)
{
    struct random_source source = {71};
    for (int k = 0; k < random_count("HOBBLE_REPLAYS", 25); k++) {
        struct even one[3], worse[3];
        for (int i = 0; i < 3; i++)
            one[i] = (struct even){
                random_below(&source, 4) == 0 ? 0.0 : random_between(&source, 20.0, 120.0),
                random_between(&source, 1.0, 20.0), random_between(&source, 0.0, 260.0),
                random_between(&source, -10.0, 35.0)};
        one[0].kmh = fmax(one[0].kmh, 20.0);
        one[1].kpa = random_between(&source, 0.0, one[0].kpa);
        one[2].kpa = random_between(&source, 0.0, one[1].kpa);
        const int what = random_below(&source, 4);
        for (int i = 0; i < 3; i++) {
            worse[i] = one[i];
            worse[i].kmh *= what == 0 ? 1.15 : 1.0;
            worse[i].minutes *= what == 1 && one[i].kmh > 0.0 ? 1.3 : 1.0;
            worse[i].kpa *= what == 2 ? 0.5 : 1.0;
            worse[i].celsius += what == 3 ? 8.0 : 0.0;
        }
        hobble_case *a = ask_vouched(MEMBERS), *b = ask_vouched(MEMBERS);
        struct hobble_replay *good = replay_even(a, one, 3), *bad = replay_even(b, worse, 3);
        /* cutting into stretches and legs differs from drive to drive: 3 %, and 200 m */
        ck_assert_msg(bad->answer.advised_distance <= 1.03 * good->answer.advised_distance + 200.0,
                      "change %d: %g m after %g m, of %.0f/%.0f/%.0f km/h %.0f/%.0f/%.0f min", what,
                      bad->answer.advised_distance, good->answer.advised_distance, one[0].kmh,
                      one[1].kmh, one[2].kmh, one[0].minutes, one[1].minutes, one[2].minutes);
        ck_assert_int_ge(bad->answer.condition, good->answer.condition);
        free(good);
        free(bad);
        hobble_case_free(a);
        hobble_case_free(b);
    }
}
END_TEST

/* Never beyond what is allowed in all, less what was driven. */
START_TEST(never_beyond_the_cap)
{
    static const struct even drive[] = {{60, 3, 250, 10}, {60, 40, 0, 10}};
    hobble_case *c = ask_vouched(MEMBERS);
    struct hobble_replay *r = replay_even(c, drive, 2);
    ck_assert_double_gt(r->flat_way, 2.9e3);
    ck_assert_double_le(r->answer.advised_distance, r->answer.cap - (r->way - r->flat_way) + 1.0);
    ck_assert(r->answer.condition == HOBBLE_SCRAP);
    free(r);
    hobble_case_free(c);
}
END_TEST

/* A tyre that carried no longer is not fit to go on, whatever the model would say. */
START_TEST(an_ended_tyre_stays_ended)
{
    static const struct even drive[] = {{60, 5, 0, 20}};
    for (int ended = 0; ended < 2; ended++) {
        hobble_recording *recording = recorded(drive, 1);
        struct hobble_sample last = plain_sample(1.7e9 + 300.0, drive);
        last.mark = ended ? HOBBLE_LOG_ENDED : HOBBLE_LOG_NOTE;
        hobble_recording_take(recording, &last);
        hobble_case *c = ask_vouched(MEMBERS);
        ask_set(c, "unseen", 0.0);
        struct hobble_replay *r = replayed(c, recording);
        ck_assert_int_eq(r->tyre_ended, ended);
        ck_assert_int_eq(r->answer.verdict, ended ? HOBBLE_STOP : HOBBLE_GO);
        ck_assert(!ended || r->answer.condition == HOBBLE_SCRAP);
        ck_assert(isnan(r->ended_way) == !ended);
        free(r);
        hobble_case_free(c);
    }
}
END_TEST

/* ---- what is not recorded ---------------------------------------------------------------------
 */

START_TEST(no_speed_no_answer)
{
    hobble_recording *recording = hobble_recording_new();
    struct hobble_sample s = plain_sample(5.0, &(struct even){0, 0, 100, 20});
    s.value[HOBBLE_LOG_SPEED] = (double)NAN;
    hobble_recording_take(recording, &s);
    hobble_case *c = ask_vouched(20);
    const struct hobble_answer before = ask(c);
    struct hobble_replay *out = calloc(1, sizeof *out);
    struct hobble_faults faults = {.count = 0};
    ck_assert_int_eq(hobble_replay(c, recording, 1, out, &faults), HOBBLE_E_MISSING);
    ck_assert_uint_eq(faults.count, 1);
    ck_assert_str_eq(faults.item[0].key, "log");
    ck_assert_double_eq(out->seconds, 0.0);
    const struct hobble_answer after = ask(c);
    ck_assert_double_eq(after.advised_distance, before.advised_distance);
    hobble_recording_free(recording);
    hobble_case_free(c);
    free(out);
}
END_TEST

/* Without a pressure all of it counts as driven flat, and so does what may lie before it; from a
 * warning on, only what a warning can have missed does. */
START_TEST(unknown_air_counts_against)
{
    static const struct even drive[] = {{80, 25, -1, 20}, {80, 5, -1, 20}};
    double flat[3];
    for (int how = 0; how < 3; how++) {
        hobble_recording *recording = recorded(drive, 2);
        if (how > 0) { /* at 25 min */
            struct hobble_sample s = plain_sample(1.7e9 + 1800.0, &drive[1]);
            hobble_recording_free(recording);
            recording = hobble_recording_new();
            for (int i = 0; i < 1800; i++) {
                s = plain_sample(1.7e9 + i, &drive[0]);
                s.mark = i == 1500 ? HOBBLE_LOG_WARNING : HOBBLE_LOG_NO_MARK;
                hobble_recording_take(recording, &s);
            }
        }
        hobble_case *c = ask_vouched(MEMBERS);
        if (how == 2)
            ask_word(c, "warning", "direct"); /* within a minute */
        struct hobble_replay *r = replayed(c, recording);
        flat[how] = r->answer.run_seen + r->answer.run_unseen;
        ck_assert(!r->pressure_logged && isnan(r->low_at) && isnan(r->unseen));
        free(r);
        hobble_case_free(c);
    }
    /* 30 min and the 10 min of UN R141 at 100 km/h; 10 + 5 min; 1 + 5 min; a stretch is 16 s */
    ck_assert_double_eq_tol(flat[0], 80e3 * 0.5 + 100e3 / 6.0, 100.0);
    ck_assert_double_eq_tol(flat[1], 80e3 * 0.25, 400.0);
    ck_assert_double_ge(flat[1], 80e3 * 0.25 - 30.0);
    ck_assert_double_eq_tol(flat[2], 80e3 * 0.1, 400.0);
    ck_assert_double_ge(flat[2], 80e3 * 0.1 - 30.0);
}
END_TEST

/* A recording that begins on sound air leaves nothing unseen, and tells the pressure now; one that
 * begins low does not tell what was before. */
START_TEST(sound_air_at_the_beginning)
{
    const struct even sound[] = {{80, 5, 240, 20}, {80, 10, 40, 20}};
    const struct even low[] = {{80, 5, 120, 20}, {80, 10, 40, 20}};
    hobble_case *a = ask_vouched(MEMBERS), *b = ask_vouched(MEMBERS);
    struct hobble_replay *good = replay_even(a, sound, 2), *bad = replay_even(b, low, 2);
    ck_assert(good->pressure_logged && bad->pressure_logged);
    ck_assert_double_eq(good->answer.run_unseen, 0.0);
    ck_assert_double_eq_tol(good->answer.pressure_now, 40e3, 1.0);
    ck_assert_double_eq_tol(good->answer.run_seen, 80e3 / 6.0, 400.0);
    ck_assert_double_eq_tol(good->flat_way, 80e3 / 12.0, 30.0);
    ck_assert_double_gt(bad->answer.run_unseen, 16e3);
    free(good);
    free(bad);
    hobble_case_free(a);
    hobble_case_free(b);
}
END_TEST

/* With air a tyre uses up no run-flat life: neither in the answer nor along the drive. */
START_TEST(no_life_is_used_with_air)
{
    static const struct even drive[] = {{120, 40, 240, 30}, {60, 10, 0, 30}};
    hobble_case *c = ask_vouched(MEMBERS);
    struct hobble_replay *r = replay_even(c, drive, 2);
    int sound = 0;
    for (int i = 0; i < r->points; i++)
        if (r->point[i].time < 2400.0 - 60.0) {
            ck_assert_double_eq(r->point[i].life_high, 0.0);
            sound++;
        }
    const struct hobble_replay_point *end = &r->point[r->points - 1];
    ck_assert_int_gt(sound, r->points / 2);
    ck_assert_double_gt(end->life_middle, 0.0);
    /* the legs look no better than the drive, and have a stretch of 24 s more in them at most */
    ck_assert_double_ge(r->answer.life_now_p50, 0.97 * end->life_middle);
    ck_assert_double_le(r->answer.life_now_p50, 1.15 * end->life_middle);
    free(r);
    hobble_case_free(c);
}
END_TEST

/* ---- measured over computed -------------------------------------------------------------------
 */

/* The drive again, with what was computed for half of the tyres as if it had been measured. */
static struct hobble_replay *as_measured(const struct hobble_replay *r, int channel, double warmer)
{
    static const enum hobble_log_field field[HOBBLE_CHANNELS] = {
        HOBBLE_LOG_INNER, HOBBLE_LOG_OUTER, HOBBLE_LOG_CAVITY, HOBBLE_LOG_SHOULDER};
    hobble_recording *recording = hobble_recording_new();
    int k = 0;
    for (int i = 0; i < 1800; i++) {
        while (k + 1 < r->points && r->point[k].time < i)
            k++;
        const struct hobble_replay_point *to = &r->point[k];
        const double from_time = k > 0 ? to[-1].time : 0.0;
        const double from = k > 0 ? to[-1].middle[channel] : to->middle[channel];
        struct hobble_sample s = plain_sample(1.7e9 + i, &(struct even){80, 30, 0, 20});
        s.value[field[channel]] =
            from + (to->middle[channel] - from) * (i - from_time) / (to->time - from_time) + warmer;
        hobble_recording_take(recording, &s);
    }
    hobble_case *c = ask_vouched(MEMBERS);
    ask_set(c, "unseen", 0.0);
    struct hobble_replay *again = replayed(c, recording);
    hobble_case_free(c);
    return again;
}

START_TEST(a_misfit_is_what_was_put_in)
{
    static const struct even drive[] = {{80, 30, 0, 20}};
    hobble_case *c = ask_vouched(MEMBERS);
    ask_set(c, "unseen", 0.0);
    struct hobble_replay *plain = replay_even(c, drive, 1);
    for (int channel = 0; channel < HOBBLE_CHANNELS; channel++) {
        double before = 2.0;
        ck_assert_int_eq(plain->misfit[channel].count, 0);
        for (int warmer = 0; warmer <= 60; warmer += 20) {
            struct hobble_replay *r = as_measured(plain, channel, warmer);
            const struct hobble_misfit *m = &r->misfit[channel];
            ck_assert_int_ge(m->count, r->points - 1);
            /* a stretch of 16 s in which the wall gains 3 K bends by a tenth of that */
            ck_assert_double_eq_tol(m->bias, warmer, 0.25);
            ck_assert_double_lt(m->scatter, 0.25);
            ck_assert_double_lt(m->chance, before);
            ck_assert(warmer > 0 || (m->chance > 0.8 && m->outside == 0.0));
            ck_assert(warmer < 60 || (m->chance < 0.05 && m->outside == 1.0));
            before = m->chance;
            free(r);
        }
    }
    free(plain);
    hobble_case_free(c);
}
END_TEST

/* What was driven, as recorded, and the same as it would be driven: two doors to the integrator. */
START_TEST(band_and_trace_agree)
{
    static const struct even drive[] = {{80, 40, 0, 20}};
    hobble_case *c = ask_vouched(MEMBERS), *ahead = ask_vouched(MEMBERS);
    ask_set(c, "unseen", 0.0);
    ask_set(ahead, "unseen", 0.0);
    ask_set(ahead, "ambient", 20.0);
    ask_set(ahead, "speed_before", 80.0);
    struct hobble_replay *r = replay_even(c, drive, 1);
    struct hobble_trace_point trace[HOBBLE_TRACE_POINTS];
    ck_assert_int_eq(hobble_trace(ahead, 0, r->way, trace, NULL), HOBBLE_OK);
    const struct hobble_replay_point *end = &r->point[r->points - 1];
    const struct hobble_trace_point *must = &trace[HOBBLE_TRACE_POINTS - 1];
    /* steps begin anew at each stretch: 1 % */
    ck_assert_double_eq_tol(end->life_middle, must->life50, 0.01 * must->life50);
    ck_assert_double_eq_tol(end->life_high, must->life95, 0.01 * must->life95);
    ck_assert_double_eq_tol(end->way, must->distance, 1.0);
    /* and the decision's own: its legs look no better than the drive */
    ck_assert_double_ge(r->answer.life_now_p50, 0.99 * end->life_middle);
    free(r);
    hobble_case_free(c);
    hobble_case_free(ahead);
}
END_TEST

Suite *replay_suite(void)
{
    Suite *suite = suite_create("replay");
    TCase *tcase = tcase_create("replay");
    tcase_set_timeout(tcase, 600);
    tcase_add_test(tcase, told_and_recorded_are_the_same);
    tcase_add_test(tcase, a_worse_drive_no_better_answer);
    tcase_add_test(tcase, never_beyond_the_cap);
    tcase_add_test(tcase, an_ended_tyre_stays_ended);
    tcase_add_test(tcase, no_speed_no_answer);
    tcase_add_test(tcase, unknown_air_counts_against);
    tcase_add_test(tcase, sound_air_at_the_beginning);
    tcase_add_test(tcase, no_life_is_used_with_air);
    tcase_add_test(tcase, a_misfit_is_what_was_put_in);
    tcase_add_test(tcase, band_and_trace_agree);
    suite_add_tcase(suite, tcase);
    return suite;
}
