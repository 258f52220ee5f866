/* SPDX-License-Identifier: GPL-3.0-or-later */
/* advise.h - from ranges to advice: the safety logic, in one place, for program and page. */
#ifndef HB_ADVICE_ADVISE_H
#define HB_ADVICE_ADVISE_H

#include "advice/ensemble.h"

#define HB_LEAST_ADVICE    5e3  /* m: a shorter advice is no help */
#define HB_LOW             0.05 /* advice is this quantile of what the tyres have left */
#define HB_RIM_SHARE       0.01 /* of tyres on the rim at the start: more of them end it, */
#define HB_NEAR_RIM_SHARE  0.05 /* as more do that a blow of 1.3 times the load would ground */
#define HB_NEAR_RIM_FACTOR 1.3

/* Answers the question of an ensemble that hb_ensemble_make has made. solver_difference is left
 * NAN. answer is written whole on HOBBLE_OK. */
enum hobble_status hb_advise(struct hb_ensemble *e, struct hobble_answer *answer);

/* What becomes of the tyre after the advised way: drive and verdict of an answer that hb_advise has
 * written. Asked of an ensemble without evidence, as hobble condition is: nothing that is known of
 * a type clears a tyre. */
void hb_advise_after(struct hb_ensemble *e, struct hobble_answer *answer);

/* The advice alone: verdict, reasons, advised distance and band, exactly as hb_advise gives them.
 * The arrays hold the last drive afterwards, which is plan's where nothing was driven slowly or
 * stood; what else an answer has is left 0. plan: may be NULL. */
enum hobble_status hb_advise_way(struct hb_ensemble *e, struct hb_plan *plan,
                                 struct hobble_answer *answer);

/* Which past the advice rests on: the one with the shortest band. Drives the ensemble. */
enum hb_past hb_advise_past(struct hb_ensemble *e);

/* Share of the members that count which make a rule's distance at its speed, flat from the first
 * metre at the question's load and ambient. */
double hb_rule_share(struct hb_ensemble *e, double speed, double distance);
/* How many members count there. */
double hb_rule_counted(const struct hb_ensemble *e);

/* The share of n tyres that must make a distance for at least the required share of all such tyres
 * to make it, 95 of 100 sure (two-sided); may be above 1, when n is too small to tell. And the
 * limits of that kind around a share. Source: E. B. Wilson, J. Am. Stat. Assoc. 22 (1927) 209. */
double hb_needed_share(double required, double n);
void hb_share_limits(double share, double n, double *low, double *high);

/* Whether a question lies outside what the model was checked on, an overload included; and the
 * checked range of the rows speed and ambient (in their units) and load_share. */
bool hb_outside_checked(const struct hb_settings *settings, const struct hb_question *question);
void hb_checked_range(enum hb_param_id id, double *least, double *most);

/* Whether so many tyres on the rim at the start (0..1) mean that there is no range. */
bool hb_rim_ends_it(double share);

/* Reasons for which a rule of this distance does not hold whatever share of the tyres makes it.
 * Sets those of stop and returns whether there is one. */
bool hb_rule_barred(const struct hb_ensemble *e, double load_share, double distance,
                    bool stop[HOBBLE_STOP_COUNT]);

#endif
