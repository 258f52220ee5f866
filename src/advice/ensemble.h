/* SPDX-License-Identifier: GPL-3.0-or-later */
/* ensemble.h - many tyres: drawn, tested for approval, driven, and what they say together. */
#ifndef HB_ADVICE_ENSEMBLE_H
#define HB_ADVICE_ENSEMBLE_H

#include "advice/question.h"
#include "core/anchor.h"
#include "core/integrate.h"

/* The caller's arrays for members tyres and a journey's records. */
struct hb_arrays {
    size_t members;
    struct hb_tyre *tyre;       /* members: as driven */
    struct hb_tyre *test;       /* members: as tested */
    bool *tied;                 /* members: tied to their test, which is not to pass it */
    bool *passed;               /* members: tied, and as high after it as it asks */
    double *used;               /* members: life used at the end of the test, 0..1 */
    double *best;               /* members: 1/m, life used if what is not stated were good */
    struct hb_outcome *outcome; /* members */
    struct hb_record *record;   /* members * HB_ARRAY_LEGS */
    double *sorted;             /* members */
};
enum { HB_ARRAY_LEGS = HOBBLE_LEGS_MAX + 8 };

/* What was taken in of the profile's evidence. */
struct hb_taken_in {
    int items;                /* 0: none, and the rest is of no meaning */
    int steps;                /* of tempering; 0: weights alone */
    double effective;         /* members that the sample is worth */
    int against;              /* the item that contradicts; -1: none */
    int passed;               /* types that passed their test before it: those left all did */
    struct hobble_band prior; /* of the range as asked, without it */
    double moved[HB_DIMENSIONS_MAX]; /* by how much the middle of each coordinate moved */
};

struct hb_ensemble {
    const struct hb_settings *settings;
    const struct hb_question *question;
    struct hb_runner runner;
    struct hb_arrays arrays;
    bool untied; /* as if there were no approval mark: for comparison alone */
    int tested, tied, passed;
    double closure; /* largest miss of a ledger so far, 1 */
    struct hb_taken_in taken;
};

/* Draws all members from the sample cube (members rows of hb_param_dimensions() standard normal
 * numbers): each a type tied to its own approval test where the construction has one, and a unit of
 * it. Types that cannot be tied do not count. */
enum hobble_status hb_ensemble_make(const double *cube, struct hb_ensemble *e);

/* Drives every member; outcomes and records are left in the arrays. */
void hb_ensemble_drive(struct hb_ensemble *e, const struct hb_plan *plan);

/* Remaining distance from now of member i after a drive of plan. */
double hb_ensemble_remaining(const struct hb_ensemble *e, const struct hb_plan *plan, size_t i);

/* The same as if what is not stated of age and past were good. */
void hb_ensemble_drive_at_best(struct hb_ensemble *e, const struct hb_plan *plan);

/* Whether a member counts, and how many do. Where none is tied to its test all count: the answer
 * is STOP, and its numbers are of no use to anybody. */
bool hb_ensemble_counts(const struct hb_ensemble *e, size_t i);
size_t hb_ensemble_counted(const struct hb_ensemble *e);

/* How many types passed their own test: of those sampled, before evidence chose among them. */
int hb_ensemble_passed(const struct hb_ensemble *e);

/* How many tyres a share of those that count is worth: fewer after evidence, which leaves some more
 * than once. At least 1. */
double hb_ensemble_worth(const struct hb_ensemble *e);

/* Quantiles of remaining distance over the members that count. */
struct hobble_band hb_ensemble_band(struct hb_ensemble *e, const struct hb_plan *plan);

/* The middle tyre of the question, load and speed as stated; after evidence the one that stands as
 * far from it as the middle of the sample moved. HOBBLE_E_NOT_CONVERGED: it cannot be tied. */
enum hobble_status hb_ensemble_middle(const struct hb_ensemble *e, struct hb_tyre *tyre);

/* Value below which a share p (0..1) of n values lies: the order statistic at or below, so that a
 * low quantile is never flattered. Sorts values. n >= 1. */
double hb_quantile(double *values, size_t n, double p);
void hb_sort(double *values, size_t n);

#endif
