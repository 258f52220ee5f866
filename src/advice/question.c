/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/question.h"

#include "advice/facts.h"
#include "core/const.h"

#include <math.h>
#include <string.h>

#define HORIZON_DISTANCE  2000e3   /* m */
#define HORIZON_TIME      172800.0 /* s, 48 h */
#define EXTENDED_DISTANCE 30e3     /* m, extended mobility without a maker's figure: assumed */

#define BUILT_IN_LOAD_SHARE 0.75

/* Mass on an axle in kg. */
static double axle_mass(const struct hb_settings *s, bool front)
{
    const double kerb = hb_setting_value(s, front ? HB_P_FRONT_KERB : HB_P_REAR_KERB);
    if (!hb_setting_known(s, HB_P_PEOPLE)) /* unknown counts against: the axle at its limit */
        return fmax(kerb, hb_setting_value(s, front ? HB_P_FRONT_AXLE_MAX : HB_P_REAR_AXLE_MAX));
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
    double axle = kerb;
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

/* Whether it is stated of the vehicle what stands on its axles. */
static bool axles_given(const struct hb_settings *s)
{
    static const enum hb_param_id rows[] = {HB_P_FRONT_KERB, HB_P_REAR_KERB, HB_P_FRONT_AXLE_MAX,
                                            HB_P_REAR_AXLE_MAX};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        if (s->row[rows[i]].given)
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
        status =
            fault(sink, HOBBLE_E_MISSING, "people", "the number of people together with luggage");
    if (hb_setting_value(s, HB_P_LOSS_100C) > hb_setting_value(s, HB_P_LOSS_25C))
        status = fault(sink, HOBBLE_E_CONFLICT, "loss_100c", "no more than loss_25c");
    static const enum hb_param_id before_now[] = {HB_P_RUN, HB_P_RUN_SPEED, HB_P_REST};
    for (size_t i = 0; legs > 0 && i < sizeof before_now / sizeof *before_now; i++)
        if (s->row[before_now[i]].given)
            status = fault(sink, HOBBLE_E_CONFLICT, hobble_param_table(NULL)[before_now[i]].key,
                           "not together with legs, which say what was driven");
    return status;
}

static void find_load(const struct hb_settings *s, struct hb_question *q)
{
    const bool axles = axles_given(s);
    q->index_load = hb_index_load(&q->built.marking);
    if (hb_setting_known(s, HB_P_LOAD))
        q->load = hb_setting_si(s, HB_P_LOAD);
    else if (hb_setting_known(s, HB_P_LOAD_SHARE))
        q->load = hb_setting_value(s, HB_P_LOAD_SHARE) * q->index_load;
    else if (axles || hb_setting_known(s, HB_P_PEOPLE)) {
        q->load = hb_wheel_load(s);
        q->wheel_assumed = !s->row[HB_P_WHEEL].given;
        q->axle_overload = axle_overloaded(s, q->index_load);
        q->example_load = !axles; /* people in the built-in vehicle */
    } else {
        q->load = BUILT_IN_LOAD_SHARE * q->index_load;
        q->example_load = true;
    }
}

/* The rule, the maker's word, what is taken for granted without it, and the fleet's own rule: the
 * least of them. */
static struct hb_cap cap_of(const struct hb_settings *s, enum hb_construction built)
{
    struct hb_cap cap = {HB_RULE_DISTANCE, HOBBLE_LIMIT_RULE};
    const double maker = hb_setting_si(s, HB_P_MAKER_DISTANCE);
    const double fleet = hb_setting_si(s, HB_P_FLEET_DISTANCE);
    if (maker < cap.distance)
        cap = (struct hb_cap){maker, HOBBLE_LIMIT_MAKER};
    if (isnan(maker) && built == HB_EXTENDED_MOBILITY)
        cap = (struct hb_cap){EXTENDED_DISTANCE, HOBBLE_LIMIT_CONSTRUCTION};
    if (fleet < cap.distance)
        cap = (struct hb_cap){fleet, HOBBLE_LIMIT_FLEET};
    return cap;
}

/* Whether it is stated how the air goes. */
static bool leaks(const struct hb_question *q)
{
    return q->past.leak_rate > 0.0 || q->past.hole > 0.0;
}

static enum hobble_status find_past(const struct hb_settings *s, const struct hobble_leg *leg,
                                    size_t legs, struct hb_question *q, struct hobble_faults *sink)
{
    const struct hb_surroundings around = {q->load, q->ambient,
                                           hb_cavity_volume(&q->built.marking)};
    const enum hobble_status status = hb_history_make(s, leg, legs, &around, &q->past, sink);
    q->empty = q->past.lowest < HB_FLAT_PRESSURE || !leaks(q);
    return status;
}

enum hobble_status hb_question_make(const struct hb_settings *s, const struct hobble_leg *leg,
                                    size_t legs, struct hb_question *question,
                                    struct hobble_faults *sink)
{
    struct hb_question q = {0};
    enum hobble_status status = hb_built_make(s, &q.built, sink);
    const enum hobble_status together = check_together(s, legs, sink);
    const enum hobble_status stated = hb_stated_check(s, sink);
    status = status != HOBBLE_OK ? status : together != HOBBLE_OK ? together : stated;
    if (status != HOBBLE_OK)
        return status;
    find_load(s, &q);
    q.speed = hb_setting_si(s, HB_P_SPEED);
    q.ambient = hb_setting_si(s, HB_P_AMBIENT);
    q.pressure = hb_setting_si(s, HB_P_PRESSURE);
    q.pressure_inflated = hb_setting_si(s, HB_P_PRESSURE_INFLATED);
    status = find_past(s, leg, legs, &q, sink);
    const double limit =
        hb_setting_known(s, HB_P_SPEED_LIMIT) ? hb_setting_si(s, HB_P_SPEED_LIMIT) : HB_RULE_SPEED;
    const struct hb_unit best = hb_unit_at_best(s);
    q.unit = hb_unit_as_stated(s, q.built.example);
    q.all_stated = hb_unit_same(&q.unit, &best);
    q.advised_speed = fmin(q.speed, fmin(HB_RULE_SPEED, limit));
    q.cap = cap_of(s, q.built.construction);
    if (status == HOBBLE_OK)
        *question = q;
    return status;
}

/* ---- journeys ----------------------------------------------------------------------------------
 */

static void plan_start(const struct hb_question *q, struct hb_plan *plan)
{
    plan->journey = (struct hb_journey){.start = {.running = q->past.start_speed > 0.0,
                                                  .speed = q->past.start_speed,
                                                  .load = q->past.start_load,
                                                  .ambient = q->past.start_ambient,
                                                  .pressure = q->pressure_inflated},
                                        .leg = plan->leg,
                                        .horizon_distance = HORIZON_DISTANCE,
                                        .horizon_time = HORIZON_TIME};
}

/* The horizon is counted from now. */
static void plan_past(const struct hb_question *q, enum hb_past past, double speed, enum hb_air air,
                      struct hb_plan *plan)
{
    plan_start(q, plan);
    plan->now = plan->journey.count = hb_history_legs(&q->past, past, speed, air, plan->leg);
    for (size_t i = 0; i < plan->now; i++) {
        const struct hb_leg *l = &plan->leg[i];
        plan->journey.horizon_time += hb_leg_seconds(l);
        plan->journey.horizon_distance += hb_leg_seconds(l) * l->speed;
    }
}

void hb_plan_history(const struct hb_question *q, struct hb_plan *plan)
{
    plan_past(q, HB_AS_DRIVEN, 0.0, HB_AIR_GAUGE_ERRS, plan);
}

void hb_plan_from_now(const struct hb_question *q, const struct hb_way *way, struct hb_plan *plan)
{
    const enum hb_air air = !way->flat ? HB_AIR_AS_STATED
                            : leaks(q) ? HB_AIR_GAUGE_ERRS
                                       : HB_AIR_NONE;
    plan_past(q, way->past, way->speed, air, plan);
    plan->leg[plan->journey.count++] =
        (struct hb_leg){.speed = way->speed,
                        .load = way->load,
                        .ambient = q->ambient,
                        .extent = way->extent,
                        .kind = way->extent > 0.0 ? HB_FOR_DISTANCE : HB_UNTIL_END,
                        .set_pressure = true,
                        .pressure = way->flat && q->empty ? 0.0 : q->past.now,
                        .leak_rate = q->past.leak_rate,
                        .hole = q->past.hole};
}

void hb_plan_advised(const struct hb_question *q, double extent, struct hb_plan *plan)
{
    const struct hb_way way = {q->advised_speed, q->load, extent, true, HB_AS_DRIVEN};
    hb_plan_from_now(q, &way, plan);
}

void hb_plan_asked(const struct hb_question *q, struct hb_plan *plan)
{
    const struct hb_way way = {q->speed, q->load, 0.0, false, HB_AS_DRIVEN};
    hb_plan_from_now(q, &way, plan);
}

void hb_plan_rule(const struct hb_question *q, double speed, double distance, struct hb_plan *plan)
{
    plan_start(q, plan);
    plan->journey.start.load = q->load; /* a rule has no past */
    plan->journey.start.ambient = q->ambient;
    plan->leg[0] = (struct hb_leg){.speed = speed,
                                   .load = q->load,
                                   .ambient = q->ambient,
                                   .extent = distance,
                                   .kind = HB_FOR_DISTANCE,
                                   .set_pressure = true};
    plan->now = 0;
    plan->journey.count = 1;
}
