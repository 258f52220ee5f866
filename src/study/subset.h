/* SPDX-License-Identifier: GPL-3.0-or-later */
/* subset.h - the tyres of an ensemble that count, side by side, to be driven again and again. */
#ifndef HB_STUDY_SUBSET_H
#define HB_STUDY_SUBSET_H

#include "advice/advise.h"

struct hb_subset {
    size_t count;
    double worth; /* tyres that a share of them is worth (hb_ensemble_worth) */
    struct hb_tyre *tyre;
    double required; /* share of tyres that must make a rule's distance */
};

/* Takes the tyres that passed approval, or all when none did or there is no test. The subset holds
 * pointers into the ensemble's test array, which is free after the test. */
void hb_subset_make(struct hb_ensemble *e, struct hb_subset *subset);

/* Where one drive of a subset leaves its numbers: count outcomes, count * legs records,
 * count values. */
struct hb_log {
    struct hb_outcome *outcome;
    struct hb_record *record;
    double *value;
};
bool hb_log_make(struct hb_log *log, size_t count, size_t legs);
void hb_log_free(struct hb_log *log);

/* Drives the subset through a plan on the calling thread alone, or on threads (0: all). */
void hb_subset_drive(const struct hb_subset *subset, const struct hb_plan *plan,
                     struct hb_log *log);
void hb_subset_drive_shared(const struct hb_subset *subset, const struct hb_plan *plan, int threads,
                            struct hb_log *log);
/* Largest miss of a ledger over the heat that it holds. */
double hb_subset_closure(const struct hb_subset *subset, const struct hb_log *log);

/* Distance of a drive that the required share of the subset makes: the share of tyres that make a
 * distance is at least required if and only if this is no less than the distance. Unlike the share
 * it has no steps, so a root of it can be found. */
double hb_subset_reach(const struct hb_subset *subset, struct hb_log *log);

/* A rule's drive on until the end, or until times the distance. */
void hb_plan_beyond(const struct hb_question *q, double speed, double distance, double times,
                    struct hb_plan *plan);

#endif
