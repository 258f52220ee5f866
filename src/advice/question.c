/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/question.h"

#include "core/const.h"
#include "core/leak.h"

#include <math.h>
#include <string.h>

#define HORIZON_DISTANCE 2000e3 /* m */
#define HORIZON_TIME 172800.0   /* s, 48 h */
#define EXTENDED_DISTANCE 30e3  /* m, extended mobility without a maker's figure: assumed */

static const char built_in_marking[] = "205/55 RF16 91V";
#define BUILT_IN_LOAD_SHARE 0.75

/* Mass on an axle in kg. */
static double axle_mass(const struct hb_settings *s, bool front)
{
    if (!hb_setting_known(s, HB_P_PEOPLE)) /* unknown counts against: the axle at its limit */
        return hb_setting_value(s, front ? HB_P_FRONT_AXLE_MAX : HB_P_REAR_AXLE_MAX);
    const double people = hb_setting_value(s, HB_P_PEOPLE);
    const double first = fmin(people, hb_setting_value(s, HB_P_SEATS_FRONT));
    const double luggage =
        hb_setting_known(s, HB_P_LUGGAGE) ? hb_setting_value(s, HB_P_LUGGAGE) : 0.0;
    const double person = hb_setting_value(s, HB_P_PERSON_MASS);
    const struct {
        double mass;
        enum hb_param_id share;
    } part[] = {
        {first * person, HB_P_FRONT_SEATS_SHARE},
        {(people - first) * person, HB_P_REAR_SEATS_SHARE},
        {luggage, HB_P_LUGGAGE_SHARE},
    };
    double axle = hb_setting_value(s, front ? HB_P_FRONT_KERB : HB_P_REAR_KERB);
    for (int i = 0; i < 3; i++) {
        const double on_front = hb_setting_value(s, part[i].share);
        axle += part[i].mass * (front ? on_front : 1.0 - on_front);
    }
    return axle;
}

double hb_wheel_load(const struct hb_settings *s)
{
    const double front = axle_mass(s, true), rear = axle_mass(s, false);
    const bool known = s->row[HB_P_WHEEL].given; /* unknown counts against: the heavier axle */
    const bool on_front = known ? hb_setting_word(s, HB_P_WHEEL) < 2 : front >= rear;
    return 0.5 * HB_GRAVITY * (on_front ? front : rear);
}

/* Whether an axle stands above what the vehicle's maker permits, or its wheels above the index of
 * this tyre, which is taken to be on all four. */
static bool axle_overloaded(const struct hb_settings *s, double index_load)
{
    const double front = axle_mass(s, true), rear = axle_mass(s, false);
    return front > hb_setting_value(s, HB_P_FRONT_AXLE_MAX) ||
           rear > hb_setting_value(s, HB_P_REAR_AXLE_MAX) ||
           0.5 * HB_GRAVITY * fmax(front, rear) > index_load;
}

static bool group_given(const struct hb_settings *s, enum hobble_group group)
{
    const struct hobble_param *row = hobble_param_table(NULL);
    for (int i = 0; i < HB_PARAM_COUNT; i++)
        if (row[i].group == group && s->row[i].given)
            return true;
    return false;
}

static enum hobble_status fault(struct hobble_faults *sink, enum hobble_status status,
                                const char *key, const char *allowed)
{
    struct hobble_fault f = {.status = status};
    hobble_fault_text(f.key, key);
    hobble_fault_text(f.allowed, allowed);
    return hobble_faults_add(sink, &f);
}

/* Contradictions between rows that each are in range. */
static enum hobble_status check_together(const struct hb_settings *s, size_t legs,
                                         struct hobble_faults *sink)
{
    static const struct {
        enum hb_param_id a, b;
        const char *key, *allowed;
    } pairs[] = {
        {HB_P_LOAD, HB_P_LOAD_SHARE, "load", "load or load_share, not both"},
        {HB_P_LOAD, HB_P_PEOPLE, "load", "load or people, not both"},
        {HB_P_LOAD_SHARE, HB_P_PEOPLE, "load_share", "load_share or people, not both"},
        {HB_P_LEAK, HB_P_HOLE, "leak", "leak or hole, not both"},
    };
    enum hobble_status status = HOBBLE_OK;
    for (size_t i = 0; i < sizeof pairs / sizeof *pairs; i++)
        if (hb_setting_known(s, pairs[i].a) && hb_setting_known(s, pairs[i].b))
            status = fault(sink, HOBBLE_E_CONFLICT, pairs[i].key, pairs[i].allowed);
    const double seats =
        hb_setting_value(s, HB_P_SEATS_FRONT) + hb_setting_value(s, HB_P_SEATS_REAR);
    char most[] = "00 at most: the vehicle's seats (seats_front and seats_rear)";
    most[0] = (char)('0' + (int)seats / 10 % 10); /* 1 to 19 by their limits */
    most[1] = (char)('0' + (int)seats % 10);
    if (hb_setting_known(s, HB_P_PEOPLE) && hb_setting_value(s, HB_P_PEOPLE) > seats)
        status = fault(sink, HOBBLE_E_CONFLICT, "people", most + (seats < 10.0));
    if (hb_setting_known(s, HB_P_LUGGAGE) && !hb_setting_known(s, HB_P_PEOPLE))
        status = fault(sink, HOBBLE_E_MISSING, "people", "the number of people together with luggage");
    if (hb_setting_value(s, HB_P_LOSS_100C) > hb_setting_value(s, HB_P_LOSS_25C))
        status = fault(sink, HOBBLE_E_CONFLICT, "loss_100c", "no more than loss_25c");
    static const enum hb_param_id before_now[] = {HB_P_RUN, HB_P_RUN_SPEED, HB_P_REST};
    for (size_t i = 0; legs > 0 && i < sizeof before_now / sizeof *before_now; i++)
        if (s->row[before_now[i]].given)
            status = fault(sink, HOBBLE_E_CONFLICT, hobble_param_table(NULL)[before_now[i]].key,
                           "not together with legs, which say what was driven");
    return status;
}

/* A common part for every leg. */
static struct hb_leg leg_of(const struct hb_question *q, double speed, enum hb_extent kind,
                            double extent)
{
    return (struct hb_leg){.speed = speed,
                           .load = q->load,
                           .ambient = q->ambient,
                           .extent = extent,
                           .kind = kind,
                           .leak_rate = q->leak_rate,
                           .hole = q->hole};
}

static struct hb_leg *append(struct hb_question *q, struct hb_leg leg)
{
    q->history[q->history_count] = leg;
    return &q->history[q->history_count++];
}

static void jump(struct hb_leg *leg, double pressure)
{
    leg->set_pressure = true;
    leg->pressure = pressure;
}

/* Section "Pressure is a history": nobody slows down before the warning. With a leak the unseen
 * part is the way down to the warning's pressure and the warning's delay; else the pressure is
 * as it is now from the start, and the delay alone is driven. */
static void before_the_warning(const struct hb_settings *s, struct hb_question *q)
{
    const bool leaks = q->leak_rate > 0.0 || q->hole > 0.0;
    const double delay = hb_setting_known(s, HB_P_UNSEEN) ? hb_setting_si(s, HB_P_UNSEEN)
                                                          : hb_setting_si(s, HB_P_WARNING_DELAY);
    if (leaks) {
        const double warned = q->pressure_inflated * (1.0 - hb_setting_value(s, HB_P_WARNING_DROP));
        const double time = hb_leak_time(q->leak_rate, q->hole, q->pressure_inflated, warned);
        jump(append(q, leg_of(q, q->speed_before, HB_FOR_TIME, fmax(time, 1.0))),
             q->pressure_inflated);
    }
    if (delay > 0.0 && q->speed_before > 0.0) {
        struct hb_leg *leg = append(q, leg_of(q, q->speed_before, HB_FOR_TIME, delay));
        if (!leaks)
            jump(leg, q->pressure);
        q->run_unseen = delay * q->speed_before;
    }
}

static void history_by_rows(const struct hb_settings *s, struct hb_question *q)
{
    const bool leaks = q->leak_rate > 0.0 || q->hole > 0.0;
    const double run = hb_setting_si(s, HB_P_RUN), rest = hb_setting_si(s, HB_P_REST);
    const double run_speed = hb_setting_known(s, HB_P_RUN_SPEED) ? hb_setting_si(s, HB_P_RUN_SPEED)
                                                                 : q->speed_before;
    if (run > 0.0) {
        struct hb_leg *leg =
            append(q, leg_of(q, run_speed > 0.0 ? run_speed : q->speed, HB_FOR_DISTANCE, run));
        if (!leaks)
            jump(leg, q->pressure);
        q->run_seen = run;
    }
    if (rest > 0.0)
        append(q, leg_of(q, 0.0, HB_FOR_TIME, rest));
}

static void history_by_legs(const struct hobble_leg *leg, size_t legs, struct hb_question *q)
{
    for (size_t i = 0; i < legs; i++) {
        const bool timed = !isnan(leg[i].time);
        struct hb_leg l = leg_of(q, leg[i].speed, timed ? HB_FOR_TIME : HB_FOR_DISTANCE,
                                 timed ? leg[i].time : leg[i].distance);
        if (!isnan(leg[i].load))
            l.load = leg[i].load;
        if (!isnan(leg[i].ambient))
            l.ambient = leg[i].ambient;
        if (!isnan(leg[i].leak))
            l.leak_rate = 1.0 / leg[i].leak;
        if (!isnan(leg[i].pressure))
            jump(&l, leg[i].pressure);
        else if (i == 0 && l.leak_rate == 0.0 && l.hole == 0.0)
            jump(&l, q->pressure);
        append(q, l);
        q->run_seen += timed ? leg[i].speed * leg[i].time : leg[i].distance;
    }
}

/* Whether it is stated how the air goes. */
static bool leak_known(const struct hb_question *q)
{
    bool known = q->leak_rate > 0.0 || q->hole > 0.0;
    for (size_t i = 0; i < q->history_count; i++)
        known = known || q->history[i].leak_rate > 0.0 || q->history[i].hole > 0.0;
    return known;
}

/* The pressure along the history; a gauge read now counts when it shows less. */
static void follow_pressure(const struct hb_settings *s, struct hb_question *q)
{
    const bool leaks = q->leak_rate > 0.0 || q->hole > 0.0;
    double p = leaks ? q->pressure_inflated : q->pressure, lowest = p;
    for (size_t i = 0; i < q->history_count; i++) {
        const struct hb_leg *l = &q->history[i];
        const double time = l->kind == HB_FOR_TIME ? l->extent : l->extent / l->speed;
        p = hb_leak_after(l->leak_rate, l->hole, l->set_pressure ? l->pressure : p, time);
        lowest = fmin(lowest, p);
    }
    if (!leaks || s->row[HB_P_PRESSURE].given)
        p = fmin(p, q->pressure);
    q->pressure_now = p;
    q->lowest_pressure = fmin(lowest, p);
    q->empty = q->lowest_pressure < HB_FLAT_PRESSURE || !leak_known(q);
}

static void find_load(const struct hb_settings *s, struct hb_question *q)
{
    const bool vehicle = group_given(s, HOBBLE_VEHICLE) || hb_setting_known(s, HB_P_PEOPLE);
    q->index_load = hb_index_load(&q->marking);
    if (hb_setting_known(s, HB_P_LOAD))
        q->load = hb_setting_si(s, HB_P_LOAD);
    else if (hb_setting_known(s, HB_P_LOAD_SHARE))
        q->load = hb_setting_value(s, HB_P_LOAD_SHARE) * q->index_load;
    else if (vehicle) {
        q->load = hb_wheel_load(s);
        q->wheel_assumed = !s->row[HB_P_WHEEL].given;
        q->axle_overload = axle_overloaded(s, q->index_load);
        q->example_load = !group_given(s, HOBBLE_VEHICLE); /* people in the built-in vehicle */
    } else {
        q->load = BUILT_IN_LOAD_SHARE * q->index_load;
        q->example_load = true;
    }
}

static double cap_of(const struct hb_settings *s, enum hb_construction built)
{
    const double most = built == HB_EXTENDED_MOBILITY ? EXTENDED_DISTANCE : HB_RULE_DISTANCE;
    if (!hb_setting_known(s, HB_P_MAKER_DISTANCE))
        return most;
    return fmin(HB_RULE_DISTANCE, hb_setting_si(s, HB_P_MAKER_DISTANCE));
}

/* Approval counts only for a young tyre that never ran flat and was never repaired, as stated.
 * The built-in example is stated to be one where nothing else is said. */
static bool vouched(const struct hb_settings *s, bool example)
{
    static const enum hb_param_id row[] = {HB_P_AGE, HB_P_RAN_FLAT, HB_P_REPAIRED};
    const double age = hb_setting_value(s, HB_P_AGE);
    const bool holds[] = {age <= HB_YOUNG_YEARS, hb_setting_word(s, HB_P_RAN_FLAT) == HB_NO,
                          hb_setting_word(s, HB_P_REPAIRED) == HB_NO};
    for (int i = 0; i < 3; i++)
        if (!holds[i] && !(example && !s->row[row[i]].given))
            return false;
    return true;
}

static enum hobble_status read_tyre(const struct hb_settings *s, struct hb_question *q,
                                    struct hobble_faults *sink)
{
    const char *text = s->row[HB_P_MARKING].text;
    struct hobble_fault why = {0};
    q->example = !*text;
    q->construction = (enum hb_construction)hb_setting_word(s, HB_P_CONSTRUCTION);
    if (q->example && !s->row[HB_P_CONSTRUCTION].given)
        q->construction = HB_SELF_SUPPORTING;
    if (hobble_marking_parse(*text ? text : built_in_marking, &q->marking, &why) != HOBBLE_OK)
        return hobble_faults_add(sink, &why);
    if (q->construction == HB_SELF_SUPPORTING && q->marking.flat != HOBBLE_MARK_RF)
        return fault(sink, HOBBLE_E_CONFLICT, "construction",
                     "self_supporting only with RF or ZRF in the marking");
    return HOBBLE_OK;
}

enum hobble_status hb_question_make(const struct hb_settings *s, const struct hobble_leg *leg,
                                    size_t legs, struct hb_question *question,
                                    struct hobble_faults *sink)
{
    struct hb_question q = {0};
    enum hobble_status status = read_tyre(s, &q, sink);
    const enum hobble_status together = check_together(s, legs, sink);
    status = status != HOBBLE_OK ? status : together;
    if (status != HOBBLE_OK)
        return status;
    find_load(s, &q);
    q.speed = hb_setting_si(s, HB_P_SPEED);
    q.ambient = hb_setting_si(s, HB_P_AMBIENT);
    q.pressure = hb_setting_si(s, HB_P_PRESSURE);
    q.speed_before = hb_setting_si(s, HB_P_SPEED_BEFORE);
    q.pressure_inflated = fmax(hb_setting_si(s, HB_P_PRESSURE_INFLATED), q.pressure);
    q.leak_rate = hb_setting_known(s, HB_P_LEAK) ? 1.0 / hb_setting_si(s, HB_P_LEAK) : 0.0;
    q.hole = hb_setting_known(s, HB_P_HOLE)
                 ? hb_hole_coefficient(hb_setting_si(s, HB_P_HOLE), hb_cavity_volume(&q.marking),
                                       q.ambient)
                 : 0.0;
    before_the_warning(s, &q);
    if (legs > 0)
        history_by_legs(leg, legs, &q);
    else
        history_by_rows(s, &q);
    const double limit =
        hb_setting_known(s, HB_P_SPEED_LIMIT) ? hb_setting_si(s, HB_P_SPEED_LIMIT) : HB_RULE_SPEED;
    q.vouched = vouched(s, q.example);
    follow_pressure(s, &q);
    q.advised_speed = fmin(q.speed, fmin(HB_RULE_SPEED, limit));
    q.cap = cap_of(s, q.construction);
    *question = q;
    return HOBBLE_OK;
}

static void plan_start(const struct hb_question *q, struct hb_plan *plan)
{
    const bool moved = q->speed_before > 0.0;
    plan->journey = (struct hb_journey){.start = {.running = moved,
                                                  .speed = q->speed_before,
                                                  .load = q->load,
                                                  .ambient = q->ambient,
                                                  .pressure = q->pressure_inflated},
                                        .leg = plan->leg,
                                        .horizon_distance = HORIZON_DISTANCE,
                                        .horizon_time = HORIZON_TIME};
}

void hb_plan_from_now(const struct hb_question *q, double speed, double load, double extent,
                      bool flat, struct hb_plan *plan)
{
    plan_start(q, plan);
    for (size_t i = 0; i < q->history_count; i++) {
        plan->leg[i] = q->history[i];
        if (flat && plan->leg[i].set_pressure && plan->leg[i].pressure < HB_FLAT_PRESSURE)
            plan->leg[i].pressure = 0.0; /* what was read then errs as much as now */
        const struct hb_leg *l = &plan->leg[i]; /* the horizon is counted from now */
        const double time = l->kind == HB_FOR_TIME ? l->extent : l->extent / l->speed;
        plan->journey.horizon_time += time;
        plan->journey.horizon_distance += time * l->speed;
    }
    struct hb_leg last =
        leg_of(q, speed, extent > 0.0 ? HB_FOR_DISTANCE : HB_UNTIL_END, extent);
    last.load = load;
    jump(&last, flat && q->empty ? 0.0 : q->pressure_now);
    plan->leg[q->history_count] = last;
    plan->now = q->history_count;
    plan->journey.count = q->history_count + 1;
}

void hb_plan_rule(const struct hb_question *q, double speed, double distance,
                  struct hb_plan *plan)
{
    plan_start(q, plan);
    plan->leg[0] = leg_of(q, speed, HB_FOR_DISTANCE, distance);
    plan->leg[0].leak_rate = plan->leg[0].hole = 0.0;
    jump(&plan->leg[0], 0.0);
    plan->now = 0;
    plan->journey.count = 1;
}
