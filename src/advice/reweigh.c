/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/reweigh.h"

#include <math.h>

#define TWO_PI     6.28318530717958647692
#define LEAST_STEP 1e-4 /* of a power: else tempering might not move at all */

double hb_weigh(const double *log_likelihood, size_t count, double power, double *weight)
{
    double most = (double)-INFINITY, sum = 0.0, squares = 0.0;
    for (size_t i = 0; i < count; i++)
        most = fmax(most, log_likelihood[i]); /* fmax leaves NAN out */
    for (size_t i = 0; i < count; i++) {
        const double above = log_likelihood[i] - most;
        weight[i] =
            above <= 0.0 ? exp(power * above) : 0.0; /* false for NAN, and where none can be */
        sum += weight[i];
        squares += weight[i] * weight[i];
    }
    for (size_t i = 0; i < count && sum > 0.0; i++)
        weight[i] /= sum;
    return sum > 0.0 ? sum * sum / squares : 0.0;
}

/* The effective size falls with the power. */
double hb_temper(const double *log_likelihood, size_t count, double most, double share,
                 double *room)
{
    const double wanted = share * (double)count;
    double low = 0.0, high = most;
    if (hb_weigh(log_likelihood, count, most, room) >= wanted)
        return most;
    for (int i = 0; i < 50; i++) {
        const double power = 0.5 * (low + high);
        if (hb_weigh(log_likelihood, count, power, room) >= wanted)
            low = power;
        else
            high = power;
    }
    return fmin(fmax(low, LEAST_STEP), most);
}

/* Kitagawa, J. Comput. Graph. Stat. 5 (1996) 1: one even number, then even steps. */
void hb_resample(const double *weight, const size_t *order, size_t count, double shift,
                 size_t *picked)
{
    double total = 0.0, passed = 0.0;
    size_t at = 0;
    for (size_t i = 0; i < count; i++)
        total += weight[order[i]];
    for (size_t i = 0; i < count; i++) {
        const double mark = ((double)i + shift) * total / (double)count;
        while (at + 1 < count && passed + weight[order[at]] <= mark)
            passed += weight[order[at++]];
        picked[i] = order[at];
    }
}

/* splitmix64: Steele, Lea and Flood, "Fast splittable pseudorandom number generators", OOPSLA 2014.
 */
static uint64_t mixed(uint64_t z)
{
    z = (z ^ z >> 30) * UINT64_C(0xbf58476d1ce4e5b9);
    z = (z ^ z >> 27) * UINT64_C(0x94d049bb133111eb);
    return z ^ z >> 31;
}

uint64_t hb_dice_word(struct hb_dice *d)
{
    d->state += UINT64_C(0x9e3779b97f4a7c15);
    return mixed(d->state);
}

struct hb_dice hb_dice_begin(uint64_t seed, uint64_t stream)
{
    struct hb_dice d = {mixed(seed + UINT64_C(0x9e3779b97f4a7c15))};
    d.state ^= mixed(stream ^ UINT64_C(0xd1b54a32d192ed03));
    return d;
}

double hb_dice_even(struct hb_dice *d)
{
    return ((double)(hb_dice_word(d) >> 11) + 0.5) * 0x1p-53;
}

/* Box and Muller, Ann. Math. Stat. 29 (1958) 610. */
double hb_dice_normal(struct hb_dice *d)
{
    const double far = sqrt(-2.0 * log(hb_dice_even(d)));
    return far * cos(TWO_PI * hb_dice_even(d));
}

/* Cotter, Roberts, Stuart and White, Stat. Sci. 28 (2013) 424. */
void hb_step(const double *from, const bool *moves, int dimensions, double along,
             struct hb_dice *dice, double *to)
{
    const double aside = sqrt(1.0 - along * along);
    for (int i = 0; i < dimensions; i++) {
        const double new = hb_dice_normal(dice); /* always drawn: what a place gets stays its own */
        to[i] = moves[i] ? along * from[i] + aside * new : from[i];
    }
}
