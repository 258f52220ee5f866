/* SPDX-License-Identifier: GPL-3.0-or-later */
/* advise.h - from ranges to advice: the safety logic, in one place, for program and page. */
#ifndef HB_ADVICE_ADVISE_H
#define HB_ADVICE_ADVISE_H

#include "advice/ensemble.h"

/* Answers the question of an ensemble that hb_ensemble_make has made. solver_difference is left
 * NAN. answer is written whole on HOBBLE_OK. */
enum hobble_status hb_advise(struct hb_ensemble *e, struct hobble_answer *answer);

/* Share of the members that count which make a rule's distance at its speed, flat from the first
 * metre at the question's load and ambient. */
double hb_rule_share(struct hb_ensemble *e, double speed, double distance);

#endif
