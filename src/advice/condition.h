/* SPDX-License-Identifier: GPL-3.0-or-later */
/* condition.h - what becomes of the tyre: every rule weighed against what is known. */
#ifndef HB_ADVICE_CONDITION_H
#define HB_ADVICE_CONDITION_H

#include "advice/facts.h"
#include "advice/question.h"

/* Verdict, basis, rules, what to find out, what to check, what local rules loosen, and the age.
 * Leaves answer->drive alone. */
void hb_condition_of(const struct hb_facts *facts, struct hobble_condition_answer *answer);

/* Facts of the model out of a drive. */
void hb_condition_use(const struct hobble_drive *seen, struct hb_facts *facts);

/* The same for a driver: the tyre as settings have it, after the history of the question and the
 * advised way, both of which answer->drive tells. Writes verdict and rules into the answer. */
void hb_condition_after(const struct hb_settings *settings, const struct hb_question *question,
                        struct hobble_answer *answer);

/* Whether the tyre is scrap for what it was before this drive, by what is stated; first: the rule
 * that weighs most, written when it is. */
bool hb_condemned(const struct hb_settings *settings, struct hobble_fired *first);

#endif
