/* SPDX-License-Identifier: GPL-3.0-or-later */
/* posterior.h - the sample after what is known of the tyre beside its rows has been taken in. */
#ifndef HB_STUDY_POSTERIOR_H
#define HB_STUDY_POSTERIOR_H

#include "advice/ensemble.h"

/* Fewer effective members than this are made more by tempering; fewer after it are a contradiction
 * (assumed: twenty and five in a low quantile of a hundred). */
enum { HB_EFFECTIVE_ENOUGH = 400, HB_EFFECTIVE_LEAST = 100 };
/* So is an item that the sample, before or after all of the evidence, has more rarely than this
 * (assumed). Tempering alone finds a place for nearly everything. */
#define HB_CANNOT_BE 1e-4

/* Takes the items (1 or more) into the sample: cube's rows become members of equal weight, and the
 * ensemble is made anew from them. The ensemble must have been made from cube. The same tyre gives
 * the same bytes, on any number of threads and whatever load, speed, air and way are asked about.
 * HOBBLE_E_MEMORY. Method: importance weights and systematic resampling along the members' ranges;
 * where they leave too few, tempering with moves that keep the prior (sequential Monte Carlo
 * sampler: Del Moral, Doucet and Jasra, J. R. Stat. Soc. B 68 (2006) 411; moves: Cotter, Roberts,
 * Stuart and White, Stat. Sci. 28 (2013) 424). */
enum hobble_status hb_posterior_make(const struct hobble_evidence *item, size_t items, double *cube,
                                     struct hb_ensemble *e, struct hb_taken_in *out);

/* Two items by what they say, and not by who says it or where; 0: they say the same. Items are
 * clean copies (hobble_case_evidence_add). */
int hb_compare_items(const struct hobble_evidence *a, const struct hobble_evidence *b);

/* Adds the logarithm of each member's likelihood of an item to sum (members values). Drives the
 * ensemble's arrays; the tyres of arrays.tyre and arrays.test are left as they were. */
enum hobble_status hb_add_likelihood(const struct hobble_evidence *item, const double *cube,
                                     struct hb_ensemble *e, double *sum);

/* The same, and how likely the sample has something as far out as what the item tells, 0..1: of
 * where the run ended, of the share that a figure leaves out, and of the mean of each channel's
 * readings the least, taken twice (two sides) and as often as there are of these. */
enum hobble_status hb_item_chance(const struct hobble_evidence *item, const double *cube,
                                  struct hb_ensemble *e, double *sum, double *chance);

#endif
