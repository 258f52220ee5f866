/* SPDX-License-Identifier: GPL-3.0-or-later */
/* quantile_by.h - a quantile of one thing, given another that was read. */
#ifndef HB_STUDY_QUANTILE_BY_H
#define HB_STUDY_QUANTILE_BY_H

#include "hobble.h"

#include <stddef.h>

/* At every one of n pairs, the quantile p of y among those that read like it. x rises; y is
 * positive and finite, and its logarithm is what is smoothed: quantile regression on polynomials of
 * the normal score of x, of which what reads alike has the same; Hunter and Lange's MM algorithm
 * (J. Comput. Graph. Stat. 9 (2000) 60), order 0 to 3 by Schwarz's criterion (Ann. Stat. 6 (1978)
 * 461), so that a reading that tells nothing gives the plain quantile at every pair. p: 0..0.5.
 * worth: how many independent pairs they are worth, at most n. HOBBLE_E_MEMORY. */
enum hobble_status hb_quantile_by(const double *x, const double *y, size_t n, double worth,
                                  double p, double *quantile);

#endif
