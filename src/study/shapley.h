/* SPDX-License-Identifier: GPL-3.0-or-later */
/* shapley.h - shares of inputs that may hang together in the variance of what came out. */
#ifndef HB_STUDY_SHAPLEY_H
#define HB_STUDY_SHAPLEY_H

#include "hobble.h"

#include <stddef.h>

/* Shapley effects from a sample: share[i] for each of dimensions inputs (1..HOBBLE_INDICES_MAX), of
 * the variance of y; they add up to explained. x: n rows, worth
 * so many independent ones (at most n). Owen, SIAM/ASA J. Uncertain. Quantif. 2
 * (2014) 245; Song, Nelson and Staum, ibid. 4 (2016) 1060, of whom the random orders are.
 *
 * y is taken as a polynomial of second degree (least squares), inputs as jointly normal with the
 * sample's covariance: then the variance of what is expected when some of them are known has a
 * closed form, and random orders and their reverses are summed over. Exact, but for the sample, for
 * independent normal inputs and for a linear y. explained: share of the variance that the
 * polynomial has, adjusted for its terms. Products are left out where there are fewer than five
 * rows a term, then squares; with fewer than that all are NAN, as where y does not vary.
 * HOBBLE_E_MEMORY. */
enum hobble_status hb_shapley(const double *x, const double *y, size_t n, double worth,
                              int dimensions, double *share, double *explained);

#endif
