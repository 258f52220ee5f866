/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/tyre.h"

/* Through the wall, x from 0 at the inner face to 1 outside, the heat density over its mean is
 * w = 0.35 + 0.65 b. Bending about the cord plies at x = 0.75 makes b fall as the square of the
 * distance from them; outside the plies it is small. The two parts of b hold 98 and 2 % of it,
 * so that w integrates to one exactly. */
#define EVEN   0.35
#define PLIES  0.75
#define INSIDE 0.98

/* Integral of w from 0 to x. */
static double heat_within(double x)
{
    const double y = x < PLIES ? (PLIES - x) / PLIES : 0.0;
    const double inside = INSIDE * (1.0 - y * y * y);
    const double outside = x > PLIES ? (1.0 - INSIDE) * (x - PLIES) / (1.0 - PLIES) : 0.0;
    return EVEN * x + (1.0 - EVEN) * (inside + outside);
}

double hb_heat_share(int i, int n)
{
    return heat_within((i + 1.0) / n) - heat_within((double)i / n);
}

double hb_heat_density_inner(void)
{
    return EVEN + (1.0 - EVEN) * INSIDE * 3.0 / PLIES;
}
