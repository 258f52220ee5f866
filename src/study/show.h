/* SPDX-License-Identifier: GPL-3.0-or-later */
/* show.h - what the pictures for a class share. */
#ifndef HB_STUDY_SHOW_H
#define HB_STUDY_SHOW_H

#include "study/study.h"

/* Mean and standard deviation of n values. */
struct hobble_moments hb_moments(const double *value, size_t n);

#endif
