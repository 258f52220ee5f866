/* SPDX-License-Identifier: GPL-3.0-or-later */
/* show_words.h - words that the pictures for a class share with their numbers. */
#ifndef HB_REPORT_DESCRIBE_SHOW_WORDS_H
#define HB_REPORT_DESCRIBE_SHOW_WORDS_H

#include "hobble.h"

/* What there is to see of a journey: that life never heals, or that there is no run at all. */
const char *hb_life_headline(const struct hobble_life *life);
/* Unit of a drawn row as it is drawn: a stiffness that is not given is a factor on the size law. */
const char *hb_drawn_unit(const hobble_case *c, int row);
/* What ended the middle tyre, in words. */
const char *hb_end_sentence(enum hobble_end end);

#endif
