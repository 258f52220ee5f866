/* SPDX-License-Identifier: GPL-3.0-or-later */
/* crew.h - the tyres of an ensemble that count, side by side, to be driven again and again. */
#ifndef HB_STUDY_CREW_H
#define HB_STUDY_CREW_H

#include "advice/advise.h"

struct hb_crew {
    size_t count;
    struct hb_tyre *tyre;
    double required; /* share of tyres that must make a rule's distance */
};

/* Takes the tyres that passed approval, or all when none did or there is no test. The crew holds
 * pointers into the ensemble's test room, which is free after the test. */
void hb_crew_make(struct hb_ensemble *e, struct hb_crew *crew);

/* Where one drive of a crew leaves its numbers: count outcomes, count * legs marks, count values.
 */
struct hb_log {
    struct hb_outcome *outcome;
    struct hb_mark *mark;
    double *value;
};
bool hb_log_make(struct hb_log *log, size_t count, size_t legs);
void hb_log_free(struct hb_log *log);

/* Drives the crew through a plan on the calling thread alone, or on threads (0: all). */
void hb_crew_drive(const struct hb_crew *crew, const struct hb_plan *plan, struct hb_log *log);
void hb_crew_drive_shared(const struct hb_crew *crew, const struct hb_plan *plan, int threads,
                          struct hb_log *log);
/* Largest miss of a ledger over the heat that it holds. */
double hb_crew_closure(const struct hb_crew *crew, const struct hb_log *log);

/* Distance of a drive that the required share of the crew makes: the share of tyres that make a
 * distance is at least required if and only if this is no less than the distance. Unlike the share
 * it has no steps, so a root of it can be found. */
double hb_crew_reach(const struct hb_crew *crew, struct hb_log *log);

/* A rule's drive on until the end, or until times the distance. */
void hb_plan_beyond(const struct hb_question *q, double speed, double distance, double times,
                    struct hb_plan *plan);

#endif
