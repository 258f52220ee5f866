/* SPDX-License-Identifier: GPL-3.0-or-later */
/* condition.h - what becomes of the tyre. */
#ifndef HB_ADVICE_CONDITION_H
#define HB_ADVICE_CONDITION_H

#include "advice/question.h"

/* Puts the verdict and the rules that fired into the answer of a driver's question. */
void hb_condition_after(const struct hb_question *question, struct hobble_answer *answer);

#endif
