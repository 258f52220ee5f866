/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/advise.h"

#include "advice/condition.h"
#include "advice/facts.h"
#include "advice/seen.h"
#include "core/const.h"

#include <math.h>

#define LEAST_PASSING 0.05         /* below it the profile contradicts the mark */
#define SLOWER        (20.0 / 3.6) /* m/s less, in "what would buy more" */
#define SLOWEST       (30.0 / 3.6)
#define LIGHTER       0.9
#define LEAST_GAIN    1e3               /* m */
#define SURE          1.959963984540054 /* standard deviations: 95 of 100, two-sided */

/* What the checks in docs/validation.md cover; outside it the answer is STOP. */
static const struct {
    enum hb_param_id id;
    double least, most;
} checked[] = {
    {HB_P_SPEED, 10, 130},
    {HB_P_SPEED_LIMIT, 10, 250}, /* advice may be for less than was asked */
    {HB_P_SPEED_BEFORE, 0, 180},
    {HB_P_AMBIENT, -20, 45},
};
#define CHECKED_LOAD_LEAST      0.3
#define CHECKED_PAST_SPEED_MOST (180.0 / 3.6)
#define CHECKED_INDEX_LEAST     75 /* load indices of the sizes that were tried */
#define CHECKED_INDEX_MOST      114

static void note_outside(struct hobble_answer *a, const char *key)
{
    for (int i = 0; i < a->outside_count; i++)
        if (a->outside[i] == key)
            return;
    if (a->outside_count < HOBBLE_OUTSIDE_MAX)
        a->outside[a->outside_count++] = key;
}

/* A part of the past. before: a speed that its own row answers for, m/s. */
static void check_part(const struct hb_question *q, double before, double speed, double load,
                       double ambient, struct hobble_answer *a)
{
    const struct hobble_param *row = hobble_param_table(NULL);
    double least, most;
    hb_checked_range(HB_P_AMBIENT, &least, &most);
    if (speed > CHECKED_PAST_SPEED_MOST * (1.0 + 1e-9) && speed != before)
        note_outside(a, row[HB_P_RUN_SPEED].key);
    if (load > q->index_load && load != q->load)
        note_outside(a, row[HB_P_LOAD].key);
    if (ambient - HB_CELSIUS < least - 1e-9 || ambient - HB_CELSIUS > most + 1e-9)
        note_outside(a, row[HB_P_AMBIENT].key);
}

/* Legs and the bench may say what the rows of the trip do not, also of what was driven with air. */
static void check_history(const struct hb_settings *s, const struct hb_question *q,
                          struct hobble_answer *a)
{
    const struct hobble_param *row = hobble_param_table(NULL);
    const struct hb_history *h = &q->past;
    const double before = hb_setting_si(s, HB_P_SPEED_BEFORE);
    check_part(q, before, h->start_speed, h->start_load, h->start_ambient, a);
    for (size_t i = 0; i < h->count; i++)
        check_part(q, before, h->leg[i].speed, h->leg[i].load, h->leg[i].ambient, a);
    if (q->past.warned < HB_FLAT_PRESSURE) /* what is driven flat before it nobody can count */
        note_outside(a, row[HB_P_WARNING_DROP].key);
}

static void check_envelope(const struct hb_settings *s, const struct hb_question *q,
                           struct hobble_answer *a)
{
    const struct hobble_param *row = hobble_param_table(NULL);
    for (size_t i = 0; i < sizeof checked / sizeof *checked; i++) {
        const double value = hb_setting_value(s, checked[i].id);
        if (value < checked[i].least || value > checked[i].most)
            note_outside(a, row[checked[i].id].key);
    }
    if (q->load < CHECKED_LOAD_LEAST * q->index_load)
        note_outside(a, row[HB_P_LOAD].key);
    const int index = q->built.marking.load_index;
    if (index < CHECKED_INDEX_LEAST || index > CHECKED_INDEX_MOST)
        note_outside(a, row[HB_P_MARKING].key);
    check_history(s, q, a);
}

bool hb_outside_checked(const struct hb_settings *settings, const struct hb_question *question)
{
    struct hobble_answer a = {0};
    check_envelope(settings, question, &a);
    return a.outside_count > 0 || question->load > question->index_load;
}

void hb_checked_range(enum hb_param_id id, double *least, double *most)
{
    *least = CHECKED_LOAD_LEAST;
    *most = 1.0;
    for (size_t i = 0; i < sizeof checked / sizeof *checked; i++)
        if (checked[i].id == id) {
            *least = checked[i].least;
            *most = checked[i].most;
        }
}

bool hobble_too_few(int counted)
{
    return counted < HOBBLE_TYRES_ENOUGH;
}

bool hb_rim_ends_it(double share)
{
    return share > HB_RIM_SHARE;
}

static const char *construction_word(enum hb_construction built)
{
    static const char *const words[] = {"unknown", "self_supporting", "extended_mobility",
                                        "sealant_lined", "conventional"};
    return words[built];
}

static void assume(struct hobble_answer *a, enum hb_param_id row)
{
    if (a->assumed_count < HOBBLE_ASSUMED_MAX)
        a->assumed[a->assumed_count++] = (int)row;
}

/* What is usual and not the worst, so that it has to be said where it was not stated. */
static void note_assumed(const struct hb_settings *s, const struct hb_question *q,
                         struct hobble_answer *a)
{
    if (!s->row[HB_P_AMBIENT].given)
        assume(a, HB_P_AMBIENT);
    if (!hb_setting_known(s, HB_P_LOAD) && !hb_setting_known(s, HB_P_LOAD_SHARE)) {
        if (q->example_load)
            assume(a, HB_P_LOAD);
        if (hb_setting_known(s, HB_P_PEOPLE) && !s->row[HB_P_LUGGAGE].given)
            assume(a, HB_P_LUGGAGE);
    }
}

static void as_used(const struct hb_ensemble *e, struct hobble_answer *a)
{
    const struct hb_question *q = e->question;
    a->marking = q->built.marking;
    a->construction = construction_word(q->built.construction);
    a->built_by_word = q->built.by_word;
    a->example = q->built.example;
    a->example_load = q->example_load;
    a->wheel_assumed = q->wheel_assumed;
    a->load = q->load;
    a->load_share = q->load / q->index_load;
    a->speed = q->speed;
    a->ambient = q->ambient;
    a->pressure = q->pressure;
    a->pressure_now = q->past.now;
    a->taken_as_empty = q->empty && q->past.now >= HB_FLAT_PRESSURE;
    a->run_seen = q->past.run_seen;
    a->run_unseen = q->past.run_unseen;
    a->unseen_assumed = q->past.unseen_assumed;
    a->cap = q->cap.distance;
    a->cap_by = q->cap.by;
    a->advised_speed = q->advised_speed;
    a->tested = e->tested;
    a->evidence_items = e->taken.items;
    a->evidence_steps = e->taken.steps;
    a->evidence_effective = e->taken.effective;
    a->evidence_against = e->taken.items > 0 ? e->taken.against : -1;
    a->passed = hb_ensemble_passed(e);
    a->counted = (int)hb_ensemble_counted(e);
    a->to = hb_setting_si(e->settings, HB_P_TO);
    a->chance_of_failing = a->sampling_error = (double)NAN;
    a->limit = hb_setting_si(e->settings, HB_P_WALL_LIMIT);
    a->rule_speed = HB_RULE_SPEED;
    a->rule_distance = HB_RULE_DISTANCE;
    a->required_share = hb_setting_value(e->settings, HB_P_REQUIRED_SHARE);
    a->solver_difference = (double)NAN;
    note_assumed(e->settings, q, a);
}

/* ---- the drives that advice rests on --------------------------------------------------------- */

struct ends {
    double rim, near; /* shares of tyres on the rim, and near it, where the way from now begins */
    double ended[HOBBLE_END_COUNT];
};

/* What a group of tyres says of one way from now. */
struct outlook {
    bool at_best; /* as if what is not stated of age and past were good */
    double to;    /* m: the place asked for, or NAN */
    struct hobble_band band;
    struct ends ends;
    double chance, error; /* of not reaching it */
    enum hb_past past;    /* that gave the band */
};

/* Shares of members on the rim, or near it, where the last leg begins, and what ended them. */
static void look_at_ends(const struct hb_ensemble *e, const struct hb_plan *plan, struct ends *ends)
{
    double n = 0;
    *ends = (struct ends){0};
    for (size_t i = 0; i < e->arrays.members; i++) {
        if (!hb_ensemble_counts(e, i))
            continue;
        const struct hb_record *last = &e->arrays.record[(i + 1) * plan->journey.count - 1];
        const struct hb_tyre *t = &e->arrays.tyre[i];
        n++;
        ends->rim += last->entry >= t->deflection_max;
        ends->near += HB_NEAR_RIM_FACTOR * last->entry >= t->deflection_max;
        ends->ended[e->arrays.outcome[i].end]++;
    }
    ends->rim /= n;
    ends->near /= n;
    for (int i = 0; i < HOBBLE_END_COUNT; i++)
        ends->ended[i] /= n;
}

/* Share of the members that do not reach a place, and its standard deviation, with one more of each
 * kind so that it is never nought. */
static void look_for(const struct hb_ensemble *e, const struct hb_plan *plan, struct outlook *o)
{
    double n = 0, failing = 0;
    for (size_t i = 0; i < e->arrays.members; i++)
        if (hb_ensemble_counts(e, i)) {
            n++;
            failing += hb_ensemble_remaining(e, plan, i) < o->to;
        }
    const double p = (failing + 1.0) / (n + 2.0);
    o->chance = failing / n;
    o->error = sqrt(p * (1.0 - p) / hb_ensemble_worth(e));
}

/* Drives, and keeps what is worse. */
static void take_worse(struct hb_ensemble *e, const struct hb_plan *plan, enum hb_past past,
                       struct outlook *o)
{
    struct ends ends;
    (o->at_best ? hb_ensemble_drive_at_best : hb_ensemble_drive)(e, plan);
    const struct hobble_band band = hb_ensemble_band(e, plan);
    look_at_ends(e, plan, &ends);
    const double rim = fmax(o->ends.rim, ends.rim), near = fmax(o->ends.near, ends.near);
    if (band.p5 < o->band.p5) {
        o->band = band;
        o->ends = ends;
        o->past = past;
        look_for(e, plan, o);
    }
    o->ends.rim = rim;
    o->ends.near = near;
}

/* Advice from a drive of each past: the shortest band, with what ended it, and the most tyres near
 * the rim in any. Standing still and driving slowly must not lengthen it. */
static void advised_drives(struct hb_ensemble *e, double speed, double load, struct outlook *o)
{
    struct hb_plan plan;
    o->band.p5 = HUGE_VAL;
    for (int past = HB_AS_DRIVEN; past < HB_PASTS; past++) {
        if (past != HB_AS_DRIVEN &&
            !hb_history_differs(&e->question->past, (enum hb_past)past, speed))
            continue;
        const struct hb_way way = {speed, load, 0.0, true, (enum hb_past)past};
        hb_plan_from_now(e->question, &way, &plan);
        take_worse(e, &plan, (enum hb_past)past, o);
    }
}

/* Middle and high values of one of a record's numbers over the members that count. */
static double record_quantile(struct hb_ensemble *e, const struct hb_plan *plan, size_t leg,
                              size_t offset, double p)
{
    size_t n = 0;
    for (size_t i = 0; i < e->arrays.members; i++)
        if (hb_ensemble_counts(e, i)) {
            const struct hb_record *m = &e->arrays.record[i * plan->journey.count + leg];
            e->arrays.sorted[n++] = *(const double *)(const void *)((const char *)m + offset);
        }
    return hb_quantile(e->arrays.sorted, n, p);
}

static double advised_way(const struct hobble_answer *a)
{
    return fmax(a->advised_distance, 1.0);
}

/* What the advised drive did, and what becomes of the tyre. */
static void read_after(struct hb_ensemble *e, const struct hb_plan *plan, struct hobble_answer *a)
{
    hb_drive_read(e, plan, plan->journey.count - 1, &a->drive);
    if (!(a->advised_distance > 0.0)) /* the metre that the plan needs is none */
        a->drive.distance -= advised_way(a);
    hb_condition_after(e->settings, e->question, a);
}

/* Temperatures and life now and at the end of the advised drive. */
static void along_the_way(struct hb_ensemble *e, struct hobble_answer *a)
{
    struct hb_plan plan;
    hb_plan_advised(e->question, advised_way(a), &plan);
    hb_ensemble_drive(e, &plan);
    const size_t end = plan.journey.count - 1, now = plan.now > 0 ? plan.now - 1 : end;
#define RECORD(leg, field, p) record_quantile(e, &plan, leg, offsetof(struct hb_record, field), p)
    a->now_p50 = RECORD(now, hottest, 0.5);
    a->life_now_p50 = plan.now > 0 ? RECORD(now, life, 0.5) : 0.0;
    a->peak_p50 = RECORD(end, peak, 0.5);
    a->peak_p95 = RECORD(end, peak, 0.95);
    a->life_at_advised_p50 = RECORD(end, life, 0.5);
#undef RECORD
    read_after(e, &plan, a);
}

void hb_advise_after(struct hb_ensemble *e, struct hobble_answer *a)
{
    struct hb_plan plan;
    hb_plan_advised(e->question, advised_way(a), &plan);
    hb_ensemble_drive(e, &plan);
    read_after(e, &plan, a);
}

double hb_rule_share(struct hb_ensemble *e, double speed, double distance)
{
    struct hb_plan plan;
    double n = 0, arrived = 0;
    hb_plan_rule(e->question, speed, distance, &plan);
    hb_ensemble_drive(e, &plan);
    for (size_t i = 0; i < e->arrays.members; i++)
        if (hb_ensemble_counts(e, i)) {
            n++;
            arrived += e->arrays.outcome[i].end == HB_END_NONE;
        }
    return arrived / n;
}

double hb_rule_counted(const struct hb_ensemble *e)
{
    return hb_ensemble_worth(e);
}

double hb_needed_share(double required, double n)
{
    return required + SURE * sqrt(required * (1.0 - required) / n);
}

void hb_share_limits(double share, double n, double *low, double *high)
{
    const double z2 = SURE * SURE, whole = 1.0 + z2 / n;
    const double middle = (share + 0.5 * z2 / n) / whole;
    const double half = SURE * sqrt(share * (1.0 - share) / n + 0.25 * z2 / (n * n)) / whole;
    *low = fmax(middle - half, 0.0);
    *high = fmin(middle + half, 1.0);
}

/* What stands in the way at any distance and of any rule. */
static void common_stops(const struct hb_ensemble *e, double load_share,
                         bool stop[HOBBLE_STOP_COUNT])
{
    const struct hb_settings *s = e->settings;
    const enum hb_construction built = e->question->built.construction;
    struct hobble_answer outside = {0};
    struct hobble_fired unused;
    check_envelope(s, e->question, &outside);
    stop[HOBBLE_STOP_CONSTRUCTION] = built != HB_SELF_SUPPORTING && built != HB_EXTENDED_MOBILITY;
    stop[HOBBLE_STOP_CONTRADICTION] =
        e->tested > 0 && hb_ensemble_passed(e) < LEAST_PASSING * e->tested;
    stop[HOBBLE_STOP_EVIDENCE] = e->taken.items > 0 && e->taken.against >= 0;
    stop[HOBBLE_STOP_OVERLOAD] = load_share > 1.0;
    stop[HOBBLE_STOP_AXLE] = e->question->axle_overload;
    stop[HOBBLE_STOP_OUTSIDE] = outside.outside_count > 0;
    stop[HOBBLE_STOP_SECOND_FLAT] = hb_setting_value(s, HB_P_FLAT_TYRES) > 1.0;
    stop[HOBBLE_STOP_TRAILER] =
        hb_setting_word(s, HB_P_TRAILER) == 1 && hb_setting_word(s, HB_P_MAKER_TRAILER) != HB_YES;
    stop[HOBBLE_STOP_CONDEMNED] = hb_condemned(s, &unused);
}

bool hb_rule_barred(const struct hb_ensemble *e, double load_share, double distance,
                    bool stop[HOBBLE_STOP_COUNT])
{
    common_stops(e, load_share, stop);
    stop[HOBBLE_STOP_PAST] = hb_setting_word(e->settings, HB_P_RAN_FLAT) == HB_YES;
    stop[HOBBLE_STOP_MAKER] = distance > e->question->cap.distance;
    for (int i = 0; i < HOBBLE_STOP_COUNT; i++)
        if (stop[i])
            return true;
    return false;
}

static void decide_stops(const struct hb_ensemble *e, struct hobble_answer *a)
{
    common_stops(e, a->load_share, a->stop);
    if (a->stop[HOBBLE_STOP_CONDEMNED])
        hb_condemned(e->settings, &a->condemned);
    a->stop[HOBBLE_STOP_RIM] = hb_rim_ends_it(a->rim_share);
    a->stop[HOBBLE_STOP_NEAR_RIM] = a->near_rim_share > HB_NEAR_RIM_SHARE;
}

/* The advised distance before any reason to stop, and what holds it down. */
static double distance_of(const struct hobble_answer *a, double p5, enum hobble_limit *limit)
{
    const double left = a->cap - a->run_seen - a->run_unseen;
    *limit = p5 <= left ? HOBBLE_LIMIT_RANGE : a->cap_by;
    return fmax(0.0, fmin(p5, left));
}

static bool any_stop(const struct hobble_answer *a)
{
    for (int i = 0; i < HOBBLE_STOP_COUNT; i++)
        if (a->stop[i])
            return true;
    return false;
}

static bool no_range(const struct hobble_answer *a)
{
    return a->stop[HOBBLE_STOP_CONTRADICTION] || a->stop[HOBBLE_STOP_EVIDENCE];
}

static void decide(struct hobble_answer *a)
{
    a->advised_distance = distance_of(a, a->advised.p5, &a->limited_by);
    const bool used_up = a->cap - a->run_seen - a->run_unseen < HB_LEAST_ADVICE;
    a->stop[HOBBLE_STOP_USED_UP] = used_up;
    a->stop[HOBBLE_STOP_SHORT] = !used_up && !no_range(a) && a->advised_distance < HB_LEAST_ADVICE;
    a->verdict = any_stop(a)                   ? HOBBLE_STOP
                 : a->to > a->advised_distance ? HOBBLE_GO_THEN_STOP
                                               : HOBBLE_GO;
    if (a->verdict == HOBBLE_STOP) {
        a->advised_distance = 0.0;
        a->limited_by = HOBBLE_LIMIT_STOP;
    }
    if (a->verdict != HOBBLE_GO) /* a chance would be read as leave */
        a->chance_of_failing = a->sampling_error = (double)NAN;
    a->advised_time = a->advised_distance / a->advised_speed;
}

/* Slower or lighter, when either helps; never a rest. */
static void offer_more(struct hb_ensemble *e, struct hobble_answer *a)
{
    const double had = a->advised_distance;
    const struct {
        bool slower;
        double speed, load;
    } offer[] = {
        {true, fmax(SLOWEST, a->advised_speed - SLOWER), a->load},
        {false, a->advised_speed, a->load * LIGHTER},
    };
    for (int i = 0; i < 2; i++) {
        struct outlook there = {.to = (double)NAN};
        enum hobble_limit unused;
        if (offer[i].slower ? offer[i].speed >= a->advised_speed
                            : offer[i].load < CHECKED_LOAD_LEAST * e->question->index_load)
            continue;
        advised_drives(e, offer[i].speed, offer[i].load, &there);
        const double distance = distance_of(a, there.band.p5, &unused);
        if (distance >= had + LEAST_GAIN && distance >= HB_LEAST_ADVICE)
            a->more[a->more_count++] =
                (struct hobble_more){offer[i].slower, offer[i].speed, offer[i].load, distance};
    }
}

/* Whether anything but the distance itself forbids driving on. */
static bool only_short(const struct hobble_answer *a)
{
    for (int i = 0; i < HOBBLE_STOP_COUNT; i++)
        if (a->stop[i] && i != HOBBLE_STOP_SHORT)
            return false;
    return true;
}

static void take_outlook(const struct outlook *o, struct hobble_answer *a)
{
    a->advised = o->band;
    a->rim_share = o->ends.rim;
    a->near_rim_share = o->ends.near;
    for (int i = 0; i < HOBBLE_END_COUNT; i++)
        a->share_ended[i] = o->ends.ended[i];
    a->stops_left_out = o->past != HB_AS_DRIVEN;
    if (!isnan(a->to)) {
        a->chance_of_failing = o->chance;
        a->sampling_error = o->error;
    }
}

static void judge(struct hb_ensemble *e, struct hobble_answer *a)
{
    decide_stops(e, a);
    a->rim_at_start = a->stop[HOBBLE_STOP_RIM];
    decide(a);
}

/* What the advice would be if what is not stated of age and past were good. */
static double advice_at_best(struct hb_ensemble *e, const struct hobble_answer *a)
{
    struct outlook good = {.at_best = true, .to = a->to};
    struct hobble_answer vouched = *a;
    advised_drives(e, e->question->advised_speed, e->question->load, &good);
    take_outlook(&good, &vouched);
    judge(e, &vouched);
    return vouched.advised_distance;
}

/* The drives, and what they decide. Returns the past that gave the advice. */
static enum hb_past decide_way(struct hb_ensemble *e, struct hobble_answer *a)
{
    const struct hb_question *q = e->question;
    struct outlook mine = {.to = a->to};
    const double best = a->all_stated ? (double)NAN : advice_at_best(e, a);
    advised_drives(e, q->advised_speed, q->load, &mine);
    take_outlook(&mine, a);
    judge(e, a);
    a->if_vouched = a->all_stated ? a->advised_distance : best;
    if (no_range(a)) /* numbers that nobody should use */
        a->advised = (struct hobble_band){0};
    return mine.past;
}

static void begin(const struct hb_ensemble *e, struct hobble_answer *a)
{
    *a =
        (struct hobble_answer){.all_stated = e->question->all_stated, .conditioned = e->passed > 0};
    as_used(e, a);
    check_envelope(e->settings, e->question, a);
}

enum hobble_status hb_advise_way(struct hb_ensemble *e, struct hb_plan *plan,
                                 struct hobble_answer *answer)
{
    struct hobble_answer a;
    begin(e, &a);
    decide_way(e, &a);
    if (plan)
        hb_plan_advised(e->question, 0.0, plan);
    a.energy_closure = e->closure;
    *answer = a;
    return e->closure > 1e-3 ? HOBBLE_E_ENERGY : HOBBLE_OK;
}

enum hb_past hb_advise_past(struct hb_ensemble *e)
{
    struct hobble_answer unused;
    begin(e, &unused);
    return decide_way(e, &unused);
}

/* The range as it is asked for. */
static void range_asked(struct hb_ensemble *e, struct hobble_answer *a)
{
    struct hb_plan plan;
    hb_plan_asked(e->question, &plan);
    hb_ensemble_drive(e, &plan);
    a->range = hb_ensemble_band(e, &plan);
    a->unconditioned = e->taken.items > 0 ? e->taken.prior : a->range;
}

static void rule_here(struct hb_ensemble *e, struct hobble_answer *a)
{
    bool barred[HOBBLE_STOP_COUNT] = {false};
    a->share_of_tyres = hb_rule_share(e, a->rule_speed, a->rule_distance);
    a->rule_holds = a->share_of_tyres >= hb_needed_share(a->required_share, hb_rule_counted(e)) &&
                    !hb_rule_barred(e, a->load_share, a->rule_distance, barred);
}

enum hobble_status hb_advise(struct hb_ensemble *e, struct hobble_answer *answer)
{
    struct hobble_answer a;
    begin(e, &a);
    range_asked(e, &a);
    decide_way(e, &a);
    if (a.limited_by == HOBBLE_LIMIT_RANGE || only_short(&a))
        offer_more(e, &a);
    along_the_way(e, &a);
    rule_here(e, &a);
    if (no_range(&a))
        a.range = a.unconditioned = (struct hobble_band){0};
    a.energy_closure = e->closure;
    *answer = a;
    return e->closure > 1e-3 ? HOBBLE_E_ENERGY : HOBBLE_OK;
}
