/* SPDX-License-Identifier: GPL-3.0-or-later */
/* reweigh.h - a sample of equal weights made of one that evidence has weighed. */
#ifndef HB_ADVICE_REWEIGH_H
#define HB_ADVICE_REWEIGH_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* Weights that add up to 1 of exp(power * log_likelihood); NAN counts as impossible. Returns the
 * effective sample size (sum w)^2 / sum w^2, 0 where all are impossible (weights then are 0). */
double hb_weigh(const double *log_likelihood, size_t count, double power, double *weight);

/* The largest power up to most at which the effective sample size is at least share of count; at
 * worst a small one, never 0. room: count doubles. */
double hb_temper(const double *log_likelihood, size_t count, double most, double share,
                 double *room);

/* Systematic resampling along order (places of members): picked[i] is a member for each i below
 * count, as often as its weight says to within one. shift: 0..1, the same for all. */
void hb_resample(const double *weight, const size_t *order, size_t count, double shift,
                 size_t *picked);

/* A small generator of its own for each stream of a seed, so that what one member gets does not
 * hang on the others or on threads. */
struct hb_dice {
    uint64_t state;
};
struct hb_dice hb_dice_begin(uint64_t seed, uint64_t stream);
uint64_t hb_dice_word(struct hb_dice *dice);
/* Even in (0, 1); standard normal. */
double hb_dice_even(struct hb_dice *dice);
double hb_dice_normal(struct hb_dice *dice);

/* A step that leaves independent standard normals as they are distributed: along * from +
 * sqrt(1 - along^2) * a new one, where moves says so; other places are kept. */
void hb_step(const double *from, const bool *moves, int dimensions, double along,
             struct hb_dice *dice, double *to);

#endif
