/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/likelihood.h"

#include <math.h>

#define ROOT_HALF    0.70710678118654752440
#define LOG_ROOT_2PI 0.91893853320467274178
#define LN_HALF      (-0.69314718055994530942)
#define SATURATED    8.0   /* standard deviations beyond which a normal chance is 0 or 1 */
#define REACH        9.0   /* units that many sigma out are not */
#define FAR          1e-12 /* a chance below is taken from the straight part alone */
#define STATED_LEAST 1e-6
#define LOG_STATED   3.8785505480060607 /* -ln B(1.5, 12) */
enum { PARTS = 48 };

/* ---- the normal distribution ----------------------------------------------------------------- */

/* Far out the asymptotic series (Abramowitz and Stegun, 26.2.12, from memory): erfc leaves the
 * range of numbers near -38. */
double hb_log_normal(double x)
{
    if (x > 0.0)
        return log1p(-0.5 * erfc(x * ROOT_HALF));
    if (x > -30.0)
        return log(0.5 * erfc(-x * ROOT_HALF));
    const double r = 1.0 / (x * x);
    return -0.5 * x * x - log(-x) - LOG_ROOT_2PI + log1p(-r * (1.0 - 3.0 * r * (1.0 - 5.0 * r)));
}

static double normal(double x)
{
    return 0.5 * erfc(-x * ROOT_HALF);
}

/* ln(exp(a) - exp(b)), a >= b. */
static double log_less(double a, double b)
{
    return b < a ? a + log1p(-exp(b - a)) : (double)-INFINITY;
}

static double log_sum(double a, double b)
{
    const double most = fmax(a, b);
    return isinf(most) ? most : most + log(exp(a - most) + exp(b - most));
}

/* ---- a unit's fate --------------------------------------------------------------------------- */

/* q of the units that are sigma * z off their mean, on one of the two straight parts: at + by z. */
struct line {
    double at, by;
};

static struct line line_of(const struct hb_fate *f, const struct hb_units *u, int part)
{
    const double slope = (f->q[part + 1] - f->q[part]) / f->spread;
    return (struct line){f->q[1] + slope * u->mean, slope * u->sigma};
}

double hb_fate_of(const struct hb_fate *f, double ln_unit)
{
    const int part = ln_unit > 0.0;
    return f->q[1] + (f->q[part + 1] - f->q[part]) / f->spread * ln_unit;
}

/* How far q is on the asked side of the level, in errors of the reading: side 1 below, -1 above. */
struct asked {
    const struct hb_fate *fate;
    const struct hb_units *units;
    double level, error, side;
};

static double clear_of(const struct asked *a, double z)
{
    const double q = hb_fate_of(a->fate, a->units->mean + a->units->sigma * z);
    return a->side * (a->level - q) / a->error;
}

/* Where clear_of, which never falls along side * z, passes a value: within REACH. */
static double passes(const struct asked *a, double value)
{
    double low = -REACH, high = REACH;
    for (int i = 0; i < 40; i++) {
        const double z = 0.5 * (low + high);
        if (clear_of(a, a->side * z) < value)
            low = z;
        else
            high = z;
    }
    return 0.5 * (low + high);
}

/* Between two places along z times side, on one straight part: by Simpson's rule. */
static double between(const struct asked *a, double from, double to)
{
    const double step = (to - from) / PARTS;
    double sum = 0.0;
    for (int i = 0; i <= PARTS; i++) {
        const double z = from + step * i;
        const double weight = i == 0 || i == PARTS ? 1.0 : i % 2 ? 4.0 : 2.0;
        sum += weight * exp(-0.5 * z * z - LOG_ROOT_2PI) * normal(clear_of(a, a->side * z));
    }
    return sum * step / 3.0;
}

/* Along z times side the chance rises: it is 0 before one place and 1 behind another. */
static double chance(const struct asked *a)
{
    const double from = passes(a, -SATURATED), to = passes(a, SATURATED);
    const double kink = -a->side * a->units->mean / a->units->sigma;
    const double within = fmin(fmax(kink, from), to);
    double sum = normal(-to);
    if (within > from)
        sum += between(a, from, within);
    if (within < to)
        sum += between(a, within, to);
    return sum;
}

static double log_side(const struct hb_fate *f, const struct hb_units *u, double level,
                       double error, double side)
{
    const struct asked a = {f, u, level, error, side};
    if (u->sigma <= 0.0)
        return hb_log_normal(clear_of(&a, 0.0));
    const double p = chance(&a);
    if (p > FAR)
        return log(fmin(p, 1.0));
    const struct line end = line_of(f, u, side > 0.0);
    return hb_log_normal(side * (level - end.at) / hypot(end.by, error));
}

double hb_log_carries(const struct hb_fate *f, const struct hb_units *u, double level, double error)
{
    return log_side(f, u, level, error, 1.0);
}

double hb_log_ended(const struct hb_fate *f, const struct hb_units *u, double level, double error)
{
    return log_side(f, u, level, error, -1.0);
}

/* Of a straight part of q = at + by z the density at 0 is normal, and of the units that make it a
 * share is on this part: before the kink or behind it. */
static double log_part(const struct line *l, double kink, double side, double error)
{
    const double wide = hypot(l->by, error);
    const double centre = -l->at * l->by / (wide * wide), narrow = error / wide;
    return -0.5 * (l->at / wide) * (l->at / wide) - log(wide) - LOG_ROOT_2PI +
           hb_log_normal(side * (kink - centre) / narrow);
}

double hb_log_ends_at(const struct hb_fate *f, const struct hb_units *u, double error)
{
    const struct line before = line_of(f, u, 0), behind = line_of(f, u, 1);
    if (u->sigma <= 0.0) {
        const double t = hb_fate_of(f, u->mean) / error;
        return -0.5 * t * t - log(error) - LOG_ROOT_2PI;
    }
    const double kink = -u->mean / u->sigma;
    return log_sum(log_part(&before, kink, 1.0, error), log_part(&behind, kink, -1.0, error));
}

/* Of the two ways to the difference the one that does not cancel. */
double hb_log_destroyed(const struct hb_fate *f, const struct hb_units *u, double error)
{
    const double light = hb_log_carries(f, u, LN_HALF, error);
    if (light < LN_HALF)
        return log_less(hb_log_carries(f, u, 0.0, error), light);
    return log_less(hb_log_ended(f, u, LN_HALF, error), hb_log_ended(f, u, 0.0, error));
}

/* ---- the others ------------------------------------------------------------------------------ */

double hb_log_stated(double share_ended)
{
    const double share = fmin(fmax(share_ended, STATED_LEAST), 1.0 - STATED_LEAST);
    return LOG_STATED + (HB_STATED_A - 1.0) * log(share) + (HB_STATED_B - 1.0) * log1p(-share);
}

double hb_log_approved(double life_used, double sigma, int specimens)
{
    return specimens * hb_log_normal(-log(life_used) / sigma);
}

/* The inverse of scatter^2 I + offset^2 J by Sherman and Morrison, Ann. Math. Stat. 21 (1950) 124.
 */
double hb_log_readings(const double *miss, int count, double offset, double scatter)
{
    const double own = scatter * scatter, common = offset * offset;
    double sum = 0.0, squares = 0.0;
    for (int i = 0; i < count; i++) {
        sum += miss[i];
        squares += miss[i] * miss[i];
    }
    const double form = (squares - common * sum * sum / (own + count * common)) / own;
    return count > 0
               ? -0.5 * (HB_READING_FREEDOM + count) * log1p(form / (HB_READING_FREEDOM - 2.0))
               : 0.0;
}

/* The incomplete beta function whose second number is whole: a finite sum. */
double hb_stated_at_most(double share)
{
    const double x = fmin(fmax(share, 0.0), 1.0);
    double term = pow(x, HB_STATED_A), sum = 0.0;
    for (int j = 0; j < (int)HB_STATED_B; j++) {
        sum += term;
        term *= (HB_STATED_A + j) / (j + 1.0) * (1.0 - x);
    }
    return fmin(sum, 1.0);
}

/* Of four degrees of freedom, in closed form. */
double hb_reading_at_most(double x)
{
    const double far = x / sqrt(1.0 + 0.25 * x * x);
    return 0.5 + 0.375 * far * (1.0 - far * far / 12.0);
}
