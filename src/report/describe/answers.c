/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/describe/answers.h"

const struct hb_answer *const hb_answers[] = {
#define HB_ANSWER(name, of) &hb_##name##_answer,
    HB_ANSWERS(HB_ANSWER)
#undef HB_ANSWER
        NULL};
