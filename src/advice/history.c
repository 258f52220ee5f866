/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/history.h"

#include "core/build.h"
#include "core/const.h"
#include "core/leak.h"

#include <math.h>

#define HAIR  1e-9 /* relative: what differs by less is the same */
#define SHORT 1e-2 /* s or m: a part that is shorter is none */

/* What is at hand while a history is made. */
struct making {
    const struct hb_settings *s;
    const struct hb_surroundings *around;
    struct hb_history *h;
    double gauge;   /* Pa: the least that is read or stated */
    double assumed; /* m/s: a speed that nobody stated */
    double carried; /* Pa at the end of the leg before; HUGE_VAL before the first */
    bool tracked;   /* a leg has stated its pressure: from there on the air goes as stated */
    bool inflated;  /* nothing but inflated running so far */
    bool covered;   /* the bench's way tells of the time before the warning */
};

double hb_leg_seconds(const struct hb_leg *leg)
{
    return leg->kind == HB_FOR_TIME ? leg->extent : leg->extent / leg->speed;
}

static bool given(const struct hb_settings *s, enum hb_param_id id)
{
    return s->row[id].given && hb_setting_known(s, id);
}

/* ---- what is stated of the air --------------------------------------------------------------- */

/* A tyre that is said to be flat is empty, whatever a gauge shows now. */
static double gauge_of(const struct hb_settings *s)
{
    const double lowest = hb_setting_si(s, HB_P_LOWEST_PRESSURE);
    const double now = hb_setting_si(s, HB_P_PRESSURE);
    if (given(s, HB_P_FLAT_TYRES))
        return 0.0;
    return !given(s, HB_P_PRESSURE) && !isnan(lowest) ? lowest : fmin(now, lowest);
}

/* The worst stated leak: one that was stated of a leg does not end with it. */
static void worst_leak(const struct hobble_leg *leg, size_t legs, struct making *m)
{
    const struct hb_settings *s = m->s;
    double slowness = hb_setting_known(s, HB_P_LEAK) ? hb_setting_si(s, HB_P_LEAK) : HUGE_VAL;
    for (size_t i = 0; i < legs; i++)
        slowness = fmin(slowness, leg[i].leak); /* fmin passes over what is not given */
    m->h->leak_rate = 1.0 / slowness;
    m->h->hole = hb_setting_known(s, HB_P_HOLE)
                     ? hb_hole_coefficient(hb_setting_si(s, HB_P_HOLE), m->around->volume,
                                           m->around->ambient)
                     : 0.0;
}

/* ---- parts ----------------------------------------------------------------------------------- */

/* What is too short to be a part still tells how fast it was driven and what air it left. */
static void append(struct making *m, struct hb_leg leg, double from, double to)
{
    struct hb_history *h = m->h;
    h->fastest = fmax(h->fastest, leg.speed);
    h->lowest = fmin(h->lowest, to);
    m->carried = to;
    if (leg.extent < SHORT)
        return;
    h->from[h->count] = from;
    h->to[h->count] = to;
    h->leg[h->count++] = leg;
}

/* A part at the gauge's pressure, or on from a lower one. Pressure only falls, so before the gauge
 * was read there was at least as much: to take the gauge's from the start is the worse case. */
static void drive(struct making *m, struct hb_leg leg, double stated)
{
    const double from = !isnan(stated) ? stated : fmin(m->carried, m->gauge);
    m->tracked = m->tracked || !isnan(stated);
    leg.leak_rate = m->tracked ? m->h->leak_rate : 0.0;
    leg.hole = m->tracked ? m->h->hole : 0.0;
    append(m, leg, from, hb_leak_after(leg.leak_rate, leg.hole, from, hb_leg_seconds(&leg)));
}

/* An inflated tyre uses up no run-flat life: what was driven before the pressure was low only warms
 * the tyre up. Low is the drop at which a warning must come (UN R141), whatever this vehicle's own
 * does. Returns whether a part is that; shortens one that becomes too low on the way. */
static bool still_inflated(struct making *m, struct hb_leg *leg, double *stated)
{
    const struct hb_history *h = m->h;
    if (!m->inflated || isnan(*stated) || *stated < h->low)
        return m->inflated = false;
    m->h->start_speed = fmax(h->start_speed, leg->speed);
    m->h->start_load = fmax(h->start_load, leg->load);
    m->h->start_ambient = fmax(h->start_ambient, leg->ambient);
    const double seconds = hb_leg_seconds(leg);
    const double above = hb_leak_time(h->leak_rate, h->hole, *stated, h->low);
    if (above >= seconds || leg->extent * (1.0 - above / seconds) < SHORT)
        return true;
    leg->extent *= 1.0 - above / seconds;
    *stated = h->low;
    return m->inflated = false;
}

static struct hb_leg part(const struct making *m, double speed, enum hb_extent kind, double extent)
{
    return (struct hb_leg){.speed = speed,
                           .load = m->around->load,
                           .ambient = m->around->ambient,
                           .extent = extent,
                           .kind = kind};
}

static double way_of(const struct hb_leg *leg)
{
    return leg->kind == HB_FOR_TIME ? leg->speed * leg->extent : leg->extent;
}

double hb_warning_delay(const struct hb_settings *s)
{
    static const double minutes[] = {[HB_WARNING_UNKNOWN] = 10.0,
                                     [HB_WARNING_DIRECT] = 1.0,
                                     [HB_WARNING_INDIRECT] = 10.0,
                                     [HB_WARNING_NONE] = 20.0};
    return hb_setting_known(s, HB_P_WARNING_DELAY)
               ? hb_setting_si(s, HB_P_WARNING_DELAY)
               : 60.0 * minutes[hb_setting_word(s, HB_P_WARNING)];
}

/* Before the warning. What is not stated may have been driven as fast as is built in. */
static enum hobble_status drive_unseen(struct making *m, struct hobble_faults *sink)
{
    const struct hb_settings *s = m->s;
    const bool stated = hb_setting_known(s, HB_P_UNSEEN);
    const double time = stated       ? hb_setting_si(s, HB_P_UNSEEN)
                        : m->covered ? 0.0
                                     : hb_warning_delay(s);
    const bool told = stated && (given(s, HB_P_SPEED_BEFORE) || !given(s, HB_P_LOW_SPEED));
    const double before = given(s, HB_P_SPEED_BEFORE) ? hb_setting_si(s, HB_P_SPEED_BEFORE) : 0.0;
    const double speed = told ? hb_setting_si(s, HB_P_SPEED_BEFORE) : fmax(m->assumed, before);
    m->h->unseen_assumed = !stated && time > 0.0;
    if (time <= 0.0)
        return HOBBLE_OK;
    if (speed <= 0.0) {
        struct hobble_fault f = {.status = HOBBLE_E_CONFLICT};
        hobble_fault_text(f.key, "unseen");
        hobble_fault_text(f.allowed, "with a speed_before above 0 km/h: time driven, not stood");
        return hobble_faults_add(sink, &f);
    }
    m->inflated = false;
    m->h->start_speed = fmax(m->h->start_speed, speed);
    drive(m, part(m, speed, HB_FOR_TIME, time), (double)NAN);
    m->h->run_unseen = speed * time;
    return HOBBLE_OK;
}

static void drive_rows(struct making *m)
{
    const double run = hb_setting_si(m->s, HB_P_RUN), rest = hb_setting_si(m->s, HB_P_REST);
    const double speed =
        hb_setting_known(m->s, HB_P_RUN_SPEED) ? hb_setting_si(m->s, HB_P_RUN_SPEED) : m->assumed;
    if (run > 0.0)
        drive(m, part(m, speed, HB_FOR_DISTANCE, run), (double)NAN);
    if (rest > 0.0)
        drive(m, part(m, 0.0, HB_FOR_TIME, rest), (double)NAN);
    m->h->run_seen = run;
}

static void drive_legs(const struct hobble_leg *leg, size_t legs, struct making *m)
{
    for (size_t i = 0; i < legs; i++) {
        const bool timed = !isnan(leg[i].time);
        struct hb_leg l = part(m, leg[i].speed, timed ? HB_FOR_TIME : HB_FOR_DISTANCE,
                               timed ? leg[i].time : leg[i].distance);
        double stated = leg[i].pressure;
        l.load = isnan(leg[i].load) ? l.load : leg[i].load;
        l.ambient = isnan(leg[i].ambient) ? l.ambient : leg[i].ambient;
        if (still_inflated(m, &l, &stated))
            continue;
        drive(m, l, stated);
        m->h->run_seen += way_of(&l);
    }
}

/* ---- what the bench adds --------------------------------------------------------------------- */

/* The highest speed that is stated of any part, by the bench or by rows that no part uses. */
static double stated_speed(const struct hb_settings *s)
{
    static const enum hb_param_id rows[] = {HB_P_RUN_SPEED, HB_P_SPEED_BEFORE};
    double speed = hb_setting_si(s, HB_P_LOW_SPEED);
    for (size_t i = 0; i < sizeof rows / sizeof *rows && !isnan(speed); i++)
        if (given(s, rows[i]))
            speed = fmax(speed, hb_setting_si(s, rows[i]));
    return speed;
}

/* How long the tyre may have carried: the way at the least speed that is stated, and the stops;
 * HUGE_VAL until the bench states way and speed. */
static double longest_time(const struct making *m, double distance)
{
    double slowest = hb_setting_si(m->s, HB_P_LOW_SPEED), stood = 0.0;
    const bool unknown = isnan(slowest) || !hb_setting_known(m->s, HB_P_LOW_DISTANCE);
    for (size_t i = 0; i < m->h->count; i++) {
        const struct hb_leg *l = &m->h->leg[i];
        slowest = l->speed > 0.0 ? fmin(slowest, l->speed) : slowest;
        stood += l->speed > 0.0 ? 0.0 : l->extent;
    }
    if (hb_setting_value(m->s, HB_P_LOW_DISTANCE) <= 0.0 && !(distance > 0.0))
        return stood;
    return unknown ? HUGE_VAL : stood + distance / slowest;
}

/* Of which part the bench's lowest pressure was nobody knows: no part had more. A leak does not end
 * with that reading. */
static void lowest_of_all(struct making *m, double distance)
{
    struct hb_history *h = m->h;
    const double lowest = fmin(h->lowest, hb_setting_si(m->s, HB_P_LOWEST_PRESSURE));
    if (!hb_setting_known(m->s, HB_P_LOWEST_PRESSURE))
        return;
    h->lowest = hb_leak_after(h->leak_rate, h->hole, lowest, longest_time(m, distance));
    for (size_t i = 0; i < h->count; i++) {
        h->from[i] = fmin(h->from[i], h->lowest);
        h->to[i] = fmin(h->to[i], h->lowest);
    }
}

/* Where the bench states a longer way or a higher speed than the parts together do, nobody knows of
 * which part: all of it counts as one drive at its worst. */
static void collapse(struct making *m, double distance)
{
    struct hb_history *h = m->h;
    const double parts = h->run_unseen + h->run_seen, speed = stated_speed(m->s);
    if (!(distance > parts * (1.0 + HAIR)) &&
        !(distance > 0.0 && speed > h->fastest * (1.0 + HAIR)))
        return;
    struct hb_leg all = part(m, 0.0, HB_FOR_DISTANCE, distance);
    const double air = fmin(m->gauge, h->lowest);
    for (size_t i = 0; i < h->count; i++) {
        all.load = fmax(all.load, h->leg[i].load);
        all.ambient = fmax(all.ambient, h->leg[i].ambient);
    }
    /* how fast the part was that only the bench knows of */
    all.speed = fmax(h->fastest, isnan(speed) ? m->assumed : speed);
    h->count = 0;
    append(m, all, air, air);
    h->start_speed = fmax(h->start_speed, all.speed);
    h->run_seen = distance;
    h->run_unseen = 0.0;
    h->collapsed = true;
}

/* The legs' own words for the air, once it is settled. */
static void lay_air(struct hb_history *h)
{
    for (size_t i = 0; i < h->count; i++) {
        struct hb_leg *l = &h->leg[i];
        l->pressure = h->from[i];
        l->set_pressure = i == 0 || h->from[i] != h->to[i - 1];
        if (h->from[i] == h->to[i])
            l->leak_rate = l->hole = 0.0;
        h->lowest = fmin(h->lowest, h->to[i]);
    }
}

static void use_bench(struct making *m)
{
    const double parts = m->h->run_unseen + m->h->run_seen;
    const double distance = fmax(parts, hb_setting_si(m->s, HB_P_LOW_DISTANCE));
    lowest_of_all(m, distance);
    collapse(m, distance);
}

/* ---- what of it is stated -------------------------------------------------------------------- */

static void note_known(const struct hobble_leg *leg, size_t legs, struct making *m)
{
    const struct hb_settings *s = m->s;
    struct hb_history *h = m->h;
    const bool unseen = hb_setting_known(s, HB_P_UNSEEN);
    const bool driven = legs > 0 || s->row[HB_P_RUN].given;
    const bool stood = unseen && hb_setting_value(s, HB_P_UNSEEN) <= 0.0;
    const bool flat =
        given(s, HB_P_FLAT_TYRES) ||
        (given(s, HB_P_PRESSURE) && hb_setting_si(s, HB_P_PRESSURE) < HB_FLAT_PRESSURE);
    const bool before = stood || s->row[HB_P_SPEED_BEFORE].given;
    const bool since =
        legs > 0 || hb_setting_value(s, HB_P_RUN) <= 0.0 || hb_setting_known(s, HB_P_RUN_SPEED);
    bool by_legs = legs > 0 && stood;
    for (size_t i = 0; i < legs; i++)
        by_legs = by_legs && !isnan(leg[i].pressure);
    h->distance_known = hb_setting_known(s, HB_P_LOW_DISTANCE) || (unseen && driven);
    h->speed_known = hb_setting_known(s, HB_P_LOW_SPEED) || (unseen && driven && before && since);
    /* A gauge tells of now; only that it was flat is known of the past, and nothing is worse. */
    h->pressure_known = hb_setting_known(s, HB_P_LOWEST_PRESSURE) || flat || by_legs;
    for (size_t i = 0; i < legs; i++)
        h->pressure_known = h->pressure_known || leg[i].pressure < HB_FLAT_PRESSURE;
}

/* A speed that nobody stated is not slow: never below the one before the warning, nor the built-in
 * one (assumed); unless the bench states the highest of all. */
static double assumed_speed(const struct hb_settings *s)
{
    const struct hobble_param *row = &hobble_param_table(NULL)[HB_P_SPEED_BEFORE];
    const double least = hobble_unit_to_si(row->unit, row->value);
    return given(s, HB_P_LOW_SPEED) ? hb_setting_si(s, HB_P_LOW_SPEED)
                                    : fmax(hb_setting_si(s, HB_P_SPEED_BEFORE), least);
}

static void finish(struct making *m)
{
    struct hb_history *h = m->h;
    const double end = m->carried;
    use_bench(m);
    lay_air(h);
    h->now = fmin(m->gauge, end);
    h->lowest = fmin(h->lowest, h->now);
}

/* covered: the bench's way counts from before the warning, so that nothing is assumed of then. */
static enum hobble_status lay_parts(const struct hb_settings *s, const struct hobble_leg *leg,
                                    size_t legs, const struct hb_surroundings *around, bool covered,
                                    struct hb_history *h, struct making *m,
                                    struct hobble_faults *sink)
{
    *h = (struct hb_history){.lowest = HUGE_VAL,
                             .start_speed = hb_setting_si(s, HB_P_SPEED_BEFORE),
                             .start_load = around->load,
                             .start_ambient = around->ambient,
                             .warned = hb_setting_si(s, HB_P_PRESSURE_INFLATED) *
                                       (1.0 - hb_setting_value(s, HB_P_WARNING_DROP)),
                             .low = hb_setting_si(s, HB_P_PRESSURE_INFLATED) *
                                    (1.0 - hobble_param_table(NULL)[HB_P_WARNING_DROP].value),
                             .assumed_speed = assumed_speed(s)};
    *m = (struct making){.s = s,
                         .around = around,
                         .h = h,
                         .gauge = gauge_of(s),
                         .assumed = h->assumed_speed,
                         .carried = HUGE_VAL,
                         .inflated = true,
                         .covered = covered};
    worst_leak(leg, legs, m);
    const enum hobble_status status = drive_unseen(m, sink);
    if (status == HOBBLE_OK && legs > 0)
        drive_legs(leg, legs, m);
    else if (status == HOBBLE_OK)
        drive_rows(m);
    return status;
}

enum hobble_status hb_history_make(const struct hb_settings *s, const struct hobble_leg *leg,
                                   size_t legs, const struct hb_surroundings *around,
                                   struct hb_history *history, struct hobble_faults *sink)
{
    struct hb_history h;
    struct making m;
    const bool covered = hb_setting_known(s, HB_P_LOW_DISTANCE);
    enum hobble_status status = lay_parts(s, leg, legs, around, covered, &h, &m, sink);
    /* a way that is less than what was driven since the warning tells nothing of before it */
    if (status == HOBBLE_OK && covered &&
        h.run_seen > hb_setting_si(s, HB_P_LOW_DISTANCE) * (1.0 + HAIR))
        status = lay_parts(s, leg, legs, around, false, &h, &m, sink);
    if (status != HOBBLE_OK)
        return status;
    note_known(leg, legs, &m);
    finish(&m);
    *history = h;
    return HOBBLE_OK;
}

/* ---- the past again, without what cooled the tyre -------------------------------------------- */

/* The least air that was left by any part before. */
static double left_before(const struct hb_history *h, size_t part)
{
    double least = HUGE_VAL;
    for (size_t i = 0; i < part; i++)
        least = fmin(least, h->to[i]);
    return least;
}

/* What a past changes that no past before it has changed. */
static bool changes(const struct hb_history *h, size_t part, enum hb_past past, double speed)
{
    const double driven = h->leg[part].speed;
    return past == HB_WITHOUT_STOPS ? driven <= 0.0
           : past == HB_WITHOUT_FILLED
               ? driven > 0.0 && h->from[part] > left_before(h, part) * (1.0 + HAIR)
           : past == HB_WITHOUT_COOLING ? driven > 0.0 && driven < speed * (1.0 - HAIR)
                                        : false;
}

bool hb_history_differs(const struct hb_history *h, enum hb_past past, double speed)
{
    bool differs = false;
    for (size_t i = 0; i < h->count; i++)
        differs = differs || changes(h, i, past, speed);
    return differs;
}

static double air_of(double pressure, enum hb_air air)
{
    const bool errs = air == HB_AIR_GAUGE_ERRS && pressure < HB_FLAT_PRESSURE;
    return errs || air == HB_AIR_NONE ? 0.0 : pressure;
}

/* A part as a past drives it: on no more air than was left before, and no slower than the advice.
 */
static struct hb_leg driven_again(const struct hb_history *h, size_t i, enum hb_past past,
                                  double speed)
{
    struct hb_leg l = h->leg[i];
    const bool slow = past >= HB_WITHOUT_COOLING && changes(h, i, HB_WITHOUT_COOLING, speed);
    const bool filled = past >= HB_WITHOUT_FILLED && changes(h, i, HB_WITHOUT_FILLED, speed);
    l.pressure = slow ? h->to[i] : h->from[i];
    if (filled)
        l.pressure = fmin(h->to[i], left_before(h, i));
    if (slow || filled)
        l.leak_rate = l.hole = 0.0;
    if (slow) {
        l.extent = way_of(&l);
        l.kind = HB_FOR_DISTANCE;
        l.speed = speed;
    }
    return l;
}

size_t hb_history_legs(const struct hb_history *h, enum hb_past past, double speed, enum hb_air air,
                       struct hb_leg *leg)
{
    size_t n = 0;
    for (size_t i = 0; i < h->count; i++) {
        struct hb_leg l = driven_again(h, i, past, speed);
        if ((past >= HB_WITHOUT_STOPS && l.speed <= 0.0) || l.extent < SHORT)
            continue;
        l.pressure = air_of(l.pressure, air);
        l.set_pressure = l.set_pressure || past != HB_AS_DRIVEN || air == HB_AIR_NONE;
        leg[n++] = l;
    }
    return n;
}
