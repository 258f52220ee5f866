/* SPDX-License-Identifier: GPL-3.0-or-later */
/* question.h - what was asked, in SI, and the journeys that answer it. */
#ifndef HB_ADVICE_QUESTION_H
#define HB_ADVICE_QUESTION_H

#include "advice/construction.h"
#include "advice/history.h"
#include "advice/levels.h"
#include "core/build.h"
#include "core/journey.h"
#include "core/param.h"

/* What holds the distance down that is allowed in all. */
struct hb_cap {
    double distance; /* m */
    enum hobble_limit by;
};

struct hb_question {
    struct hb_built built;           /* marking, construction, whether it is the built-in tyre */
    bool wheel_assumed;              /* not stated: the wheel of the heavier axle */
    bool axle_overload;              /* an axle or its wheels above what is permitted */
    bool example_load;               /* nothing about the load was given */
    struct hb_unit unit;             /* what is known of this tyre's age and past */
    bool all_stated;                 /* nothing of it is left open */
    double load;                     /* N, stated */
    double index_load;               /* N */
    double speed, ambient, pressure; /* asked */
    double pressure_inflated;        /* Pa, before the loss */
    struct hb_history past;
    bool empty; /* advice takes the tyre as empty: it was below 70 kPa, or how the air goes is
                   unknown */
    struct hb_cap cap;
    double advised_speed; /* m/s: asked, rule's or local, whichever is least */
};

/* Makes the question out of settings and the legs driven (SI; may be none). Faults go to sink.
 * question is written on HOBBLE_OK only. */
enum hobble_status hb_question_make(const struct hb_settings *settings,
                                    const struct hobble_leg *leg, size_t legs,
                                    struct hb_question *question, struct hobble_faults *sink);

/* A journey with room for its legs. */
struct hb_plan {
    struct hb_leg leg[HB_HISTORY_LEGS + 2];
    struct hb_journey journey; /* points at leg: a plan is not copied */
    size_t now;                /* legs before now */
};

/* From now on: speed and load, until the end (extent 0) or for a distance. */
struct hb_way {
    double speed, load, extent;
    bool flat; /* as advice is given: with no air where the question says empty, in the past as well
                * where nothing says how the air went; else as the pressure is */
    enum hb_past past;
};

/* The history and then one leg. */
void hb_plan_from_now(const struct hb_question *q, const struct hb_way *way, struct hb_plan *plan);

/* The two that are asked for most: as advice is given, and as the question has it. */
void hb_plan_advised(const struct hb_question *q, double extent, struct hb_plan *plan);
void hb_plan_asked(const struct hb_question *q, struct hb_plan *plan);

/* The history alone, which must not be empty; now is its end. */
void hb_plan_history(const struct hb_question *q, struct hb_plan *plan);

/* A rule's drive: flat from the first metre, out of steady inflated running. */
void hb_plan_rule(const struct hb_question *q, double speed, double distance, struct hb_plan *plan);

/* Load on one wheel in N from the vehicle rows, people and luggage. people NAN: the permitted
 * axle load. wheel not given: the heavier axle's. */
double hb_wheel_load(const struct hb_settings *settings);

#endif
