/* SPDX-License-Identifier: GPL-3.0-or-later */
/* likelihood.h - what one piece of evidence says of one sampled type: logarithms of probabilities,
 * each up to a summand that is the same for all types.
 *
 * A unit of the type has the life factor U. What became of it at a distance x is said by
 *     q(ln U) = ln(x / where it ends), or, where life is asked for, ln(life used at x) while it
 *     carries there:
 * below 0 it carries, at 0 it ends there. q falls with U, about as -ln U. It is known for three
 * units and taken as straight between them and beyond. */
#ifndef HB_ADVICE_LIKELIHOOD_H
#define HB_ADVICE_LIKELIHOOD_H

/* q of units whose ln U is -spread, 0 and spread. */
enum { HB_FATE_UNITS = 3 };
struct hb_fate {
    double q[HB_FATE_UNITS];
    double spread; /* > 0 */
};
/* q of a unit. */
double hb_fate_of(const struct hb_fate *fate, double ln_unit);

/* Whose ln U is N(mean, sigma): units of the type, or with sigma 0 the one that is known. */
struct hb_units {
    double mean, sigma;
};

/* ln P(q < level) and ln P(q > level), where the distance is read with an error (one sigma of its
 * logarithm, > 0). Accurate to 1e-4 of the probability; far out in a tail as the last straight part
 * goes on. */
double hb_log_carries(const struct hb_fate *fate, const struct hb_units *units, double level,
                      double error);
double hb_log_ended(const struct hb_fate *fate, const struct hb_units *units, double level,
                    double error);
/* ln of the density of the logarithm of where it ends, at x: q at 0. */
double hb_log_ends_at(const struct hb_fate *fate, const struct hb_units *units, double error);
/* ln P(between half of its life used and all of it): destroyed inside, but carrying. */
double hb_log_destroyed(const struct hb_fate *fate, const struct hb_units *units, double error);

/* A maker's figure: the share of new units that end before it is Beta(1.5, 12). */
#define HB_STATED_A 1.5
#define HB_STATED_B 12.0
double hb_log_stated(double share_ended);
/* Chance of a share at most that large. */
double hb_stated_at_most(double share_ended);
/* So many specimens passed: life used (1) by the middle unit at the end of the test; ln U ~ N(0,
 * sigma). */
double hb_log_approved(double life_used, double sigma, int specimens);

/* Readings less what the type's middle unit would have shown: Student's t with 4 degrees of
 * freedom, of covariance scatter^2 I + offset^2 J. count 0: 0. */
#define HB_READING_FREEDOM 4.0
double hb_log_readings(const double *miss, int count, double offset, double scatter);

/* Chance that a Student's t of that freedom is at most x. */
double hb_reading_at_most(double x);

/* ln of the standard normal distribution, into its far tail. */
double hb_log_normal(double x);

#endif
