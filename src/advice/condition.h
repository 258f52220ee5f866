/* SPDX-License-Identifier: GPL-3.0-or-later */
/* condition.h - what becomes of the tyre: every rule weighed against what is known. */
#ifndef HB_ADVICE_CONDITION_H
#define HB_ADVICE_CONDITION_H

#include "advice/facts.h"
#include "advice/question.h"

/* Verdict, basis, rules, what to find out, what to check, what local rules loosen, and the age.
 * Leaves answer->drive alone. */
void hb_condition_of(const struct hb_facts *facts, struct hobble_condition_answer *answer);

/* The same for a driver: the tyre as settings have it, after the history of the question and the
 * drive of the answer. Writes verdict and rules into the answer. */
void hb_condition_after(const struct hb_settings *settings, const struct hb_question *question,
                        struct hobble_answer *answer);

#endif
