/* SPDX-License-Identifier: GPL-3.0-or-later */
/* ensemble.h - many tyres: drawn, tested for approval, driven, and what they say together. */
#ifndef HB_ADVICE_ENSEMBLE_H
#define HB_ADVICE_ENSEMBLE_H

#include "advice/question.h"
#include "core/integrate.h"

/* What integrates many tyres: a plain loop, or one that shares them among threads. */
struct hb_runner {
    void (*run)(const struct hb_journey *journey, const struct hb_step_control *steps,
                const struct hb_tyre *tyre, size_t count, struct hb_outcome *out,
                struct hb_record *record, int threads);
    int threads;
};

/* The caller's arrays for members tyres and a journey's records. */
struct hb_arrays {
    size_t members;
    struct hb_tyre *tyre;       /* members: as driven */
    struct hb_tyre *test;       /* members: as tested */
    bool *passed;               /* members */
    struct hb_outcome *outcome; /* members */
    struct hb_record *record;   /* members * HB_ARRAY_LEGS */
    double *sorted;             /* members */
};
enum { HB_ARRAY_LEGS = HOBBLE_LEGS_MAX + 8 };

struct hb_ensemble {
    const struct hb_settings *settings;
    const struct hb_question *question;
    struct hb_runner runner;
    struct hb_arrays arrays;
    struct hb_life_reference life;
    int tested, passed;
    double closure; /* largest miss of a ledger so far, 1 */
};

/* Draws all members from the sample cube (members rows of hb_param_dimensions() standard normal
 * numbers) and runs the approval test where the construction has one. */
enum hobble_status hb_ensemble_make(const double *cube, struct hb_ensemble *e);

/* Drives every member; outcomes and records are left in the arrays. */
void hb_ensemble_drive(struct hb_ensemble *e, const struct hb_plan *plan);

/* Remaining distance from now of member i after a drive of plan. */
double hb_ensemble_remaining(const struct hb_ensemble *e, const struct hb_plan *plan, size_t i);

/* Whether a member counts: all of them, or only those that passed. */
bool hb_ensemble_counts(const struct hb_ensemble *e, bool passed_only, size_t i);

/* Quantiles of remaining distance over the members that count. */
struct hobble_band hb_ensemble_band(struct hb_ensemble *e, const struct hb_plan *plan,
                                    bool passed_only);

/* Value below which a share p (0..1) of n values lies: the order statistic at or below, so that a
 * low quantile is never flattered. Sorts values. n >= 1. */
double hb_quantile(double *values, size_t n, double p);
void hb_sort(double *values, size_t n);

#endif
