/* SPDX-License-Identifier: GPL-3.0-or-later */
/* figure.h - numbers of an answer as they are shown: always rounded to the safe side, in both
 * systems of units, so that no reading of them allows more than was computed. */
#ifndef HB_REPORT_DESCRIBE_FIGURE_H
#define HB_REPORT_DESCRIBE_FIGURE_H

#include "hobble.h"

enum { HB_FIGURE = 64 };

/* How a number is shown: its side, its step in the unit shown, and below which value the step is a
 * tenth of that. What may still be driven and what is good goes down, what was driven, is carried
 * or reached and what is bad goes up; near is for what was stated. SHARE: per cent, with as many
 * decimals as the step has. */
#define HB_SHOWN_LIST(X)                                                                           \
    X(WAY_DOWN, DOWN, 1.0, 10.0)                                                                   \
    X(WAY_UP, UP, 1.0, 10.0)                                                                       \
    X(WHOLE_DOWN, DOWN, 1.0, -HUGE_VAL)                                                            \
    X(WHOLE_UP, UP, 1.0, -HUGE_VAL)                                                                \
    X(WHOLE_NEAR, NEAR, 1.0, -HUGE_VAL)                                                            \
    X(TENTH_DOWN, DOWN, 0.1, -HUGE_VAL)                                                            \
    X(TENTH_UP, UP, 0.1, -HUGE_VAL)                                                                \
    X(TENTH_NEAR, NEAR, 0.1, -HUGE_VAL)                                                            \
    X(HUNDREDTH_NEAR, NEAR, 0.01, -HUGE_VAL)                                                       \
    X(HUNDREDTH_UP, UP, 0.01, -HUGE_VAL)                                                           \
    X(ONE_DIGIT, NEAR, 1.0, -HUGE_VAL) /* 3e-06: how large at all */                               \
    X(SHARE_DOWN, DOWN, 0.1, -HUGE_VAL)                                                            \
    X(SHARE_UP, UP, 0.1, -HUGE_VAL)                                                                \
    X(SHARE_TENTH_NEAR, NEAR, 0.1, -HUGE_VAL)                                                      \
    X(SHARE_HUNDREDTH_UP, UP, 0.01, -HUGE_VAL)                                                     \
    X(SHARE_WHOLE_DOWN, DOWN, 1.0, -HUGE_VAL)                                                      \
    X(SHARE_WHOLE_UP, UP, 1.0, -HUGE_VAL)                                                          \
    X(SHARE_WHOLE_NEAR, NEAR, 1.0, -HUGE_VAL)                                                      \
    X(SHARE_STATED, NEAR, 1e-4, -HUGE_VAL) /* as it was stated, without noughts at its end */      \
    X(CHANCE_UP, UP, 0.1, 9.95)            /* per cent; "<0.01 %" below that */                    \
    X(CHANCE_DOWN, DOWN, 0.1, 9.95)                                                                \
    X(CHANCE_NEAR, NEAR, 0.1, 9.95)                                                                \
    X(ONE_DECIMAL, NEAR, 0.1, -HUGE_VAL) /* pure numbers: "0.5" */                                 \
    X(TWO_PLACES, NEAR, 0.01, -HUGE_VAL) /* "0.50" */                                              \
    X(SIGNED, NEAR, 0.01, -HUGE_VAL)     /* "+0.50" */                                             \
    X(TWO_DIGITS, NEAR, 0.0, -HUGE_VAL)                                                            \
    X(THREE_DIGITS, NEAR, 0.0, -HUGE_VAL)                                                          \
    X(FOUR_DIGITS, NEAR, 0.0, -HUGE_VAL)

enum hb_shown {
    HB_NOT_SHOWN,
#define HB_SHOWN_ENUM(id, side, step, fine) HB_##id,
    HB_SHOWN_LIST(HB_SHOWN_ENUM)
#undef HB_SHOWN_ENUM
};

/* Writes a number of a unit in one of these ways, with its unit. */
void hb_figure(double si, enum hobble_unit unit, bool us, enum hb_shown shown,
               char buf[static HB_FIGURE]);

#endif
