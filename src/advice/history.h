/* SPDX-License-Identifier: GPL-3.0-or-later */
/* history.h - what a tyre went through before now, told once.
 *
 * It is made of whatever came in: rows of the trip, legs, rows of the bench. What is stated is
 * taken as stated; what is not is assumed at its worst, and marked so that a verdict which must not
 * rest on assumptions can tell. Everything that asks about the past (range, advice, what becomes of
 * the tyre, map, card, policy, page) reads this and nothing else. */
#ifndef HB_ADVICE_HISTORY_H
#define HB_ADVICE_HISTORY_H

#include "core/journey.h"
#include "core/param.h"

enum { HB_HISTORY_LEGS = HOBBLE_LEGS_MAX + 2 };

struct hb_history {
    /* What was driven with too little air, in order: first unseen, before the warning, then seen.
     */
    struct hb_leg leg[HB_HISTORY_LEGS];
    double from[HB_HISTORY_LEGS], to[HB_HISTORY_LEGS]; /* Pa at the ends of each */
    size_t count;
    double assumed_speed;             /* m/s: what a speed that nobody stated is taken for */
    double start_speed;               /* m/s of the steady running with air before; 0: it stood */
    double start_load, start_ambient; /* N, K of it: the worst of what was driven with air */
    double run_unseen, run_seen;      /* m */
    double fastest;                   /* m/s of any part; 0 when nothing was driven */
    double now, lowest;               /* Pa: the gauge's or less; the least there ever was */
    double leak_rate, hole;           /* 1/s: the worst that was stated; 0 for none */
    double warned;                    /* Pa at which this vehicle warns */
    double low;                       /* Pa below which a tyre is no longer an inflated one */
    bool unseen_assumed;              /* how long it was driven unseen is not stated */
    bool collapsed; /* the bench states worse than the parts do: all of it at its worst */
    /* stated, so that a verdict may rest on it; else what stands above was assumed */
    bool pressure_known, distance_known, speed_known;
};

/* What the history is driven with where a leg does not say. */
struct hb_surroundings {
    double load, ambient; /* N, K */
    double volume;        /* of the cavity, m^3 */
};

/* Makes the history of settings and the legs stated (may be none). Faults go to sink; history is
 * written on HOBBLE_OK only. Source of the order of events: nobody slows down before the warning,
 * which comes within warning_delay of warning_drop (UN R141, 49 CFR 571.138). */
enum hobble_status hb_history_make(const struct hb_settings *settings, const struct hobble_leg *leg,
                                   size_t legs, const struct hb_surroundings *around,
                                   struct hb_history *history, struct hobble_faults *sink);

/* How the past is driven again. Standing, driving slowly and air that is filled in cool a tyre and
 * give no life back: advice is the least of all. */
enum hb_past {
    HB_AS_DRIVEN,
    HB_WITHOUT_STOPS,
    HB_WITHOUT_FILLED,  /* and on no more air than a part before had left */
    HB_WITHOUT_COOLING, /* and what was slower than the advised speed at that speed */
    HB_PASTS
};

/* What air the past is driven with again. */
enum hb_air {
    HB_AIR_AS_STATED,
    HB_AIR_GAUGE_ERRS, /* what was read below 70 kPa counts as nothing */
    HB_AIR_NONE,       /* and so does all of it: how the air went is not known */
};

/* Whether the history has a part that a past leaves out or speeds up, and the one before it does
 * not. */
bool hb_history_differs(const struct hb_history *history, enum hb_past past, double speed);
/* The legs of such a past (room for HB_HISTORY_LEGS); returns how many. What deflated on the way is
 * kept: each changed leg runs at the pressure that it ended with. */
size_t hb_history_legs(const struct hb_history *history, enum hb_past past, double speed,
                       enum hb_air air, struct hb_leg *leg);

/* Longest time from the loss to the warning, s: as given, or by how the vehicle warns. */
double hb_warning_delay(const struct hb_settings *settings);

/* Duration of a leg of a history, s. */
double hb_leg_seconds(const struct hb_leg *leg);

#endif
