/* SPDX-License-Identifier: GPL-3.0-or-later */
/* question.h - what was asked, in SI, and the journeys that answer it. */
#ifndef HB_ADVICE_QUESTION_H
#define HB_ADVICE_QUESTION_H

#include "core/build.h"
#include "core/journey.h"
#include "core/param.h"

#define HB_YOUNG_YEARS 5.0 /* up to this age the approval counts (assumed) */

enum { HB_QUESTION_LEGS = HOBBLE_LEGS_MAX + 2 };

struct hb_question {
    struct hobble_marking marking;
    enum hb_construction construction;
    bool example;      /* no tyre was given: the built-in one, not the asker's */
    bool wheel_assumed; /* not stated: the wheel of the heavier axle */
    bool axle_overload; /* an axle or its wheels above what is permitted */
    bool example_load; /* nothing about the load was given */
    bool vouched;      /* stated: at most five years old, never ran flat, never repaired */
    double load;       /* N, stated */
    double index_load; /* N */
    double speed, ambient, pressure; /* asked */
    double speed_before, pressure_inflated;
    double leak_rate, hole; /* 1/s, 0 for none */
    struct hb_leg history[HOBBLE_LEGS_MAX + 4];
    size_t history_count;
    double run_seen, run_unseen; /* m */
    double pressure_now;         /* Pa, by the history and the gauge, whichever is less */
    double lowest_pressure;      /* Pa, in the history or now */
    bool empty; /* advice takes the tyre as empty: it was below 70 kPa, or how the air goes is unknown */
    double cap;                  /* m */
    double advised_speed;        /* m/s: asked, rule's or local, whichever is least */
};

/* Makes the question out of settings and the legs driven (SI; may be none). Faults go to sink.
 * question is written on HOBBLE_OK only. */
enum hobble_status hb_question_make(const struct hb_settings *settings,
                                    const struct hobble_leg *leg, size_t legs,
                                    struct hb_question *question, struct hobble_faults *sink);

/* A journey with room for its legs. */
struct hb_plan {
    struct hb_leg leg[HOBBLE_LEGS_MAX + 8];
    struct hb_journey journey; /* points at leg */
    size_t now;                /* legs before now */
};

/* The history and then one leg at a speed and load until the end (extent 0) or for a distance.
 * flat: as advice is given, with no air where the question says empty; else as the pressure is. */
void hb_plan_from_now(const struct hb_question *q, double speed, double load, double extent,
                      bool flat, struct hb_plan *plan);

/* A rule's drive: flat from the first metre, out of steady inflated running. */
void hb_plan_rule(const struct hb_question *q, double speed, double distance,
                  struct hb_plan *plan);

/* Load on one wheel in N from the vehicle rows, people and luggage. people NAN: the permitted
 * axle load. wheel not given: the heavier axle's. */
double hb_wheel_load(const struct hb_settings *settings);

#endif
