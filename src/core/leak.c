/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/leak.h"

#include "core/const.h"
#include "core/tyre.h"
#include "core/vector.h"

#define REAL     double
#define OP(name) hb_one_##name
#define FN(name) name##_leak
#define TYRE     struct hb_tyre
#define ROOM     1
#include "core/physics.inc"

enum { STEPS = 400 };

double hb_leak_rate(double leak_rate, double hole, double pressure)
{
    const struct hb_scene_leak scene = {.leak_rate = leak_rate, .hole = hole, .leaks = 1};
    return hb_leak_leak(&scene, pressure);
}

/* Runge-Kutta of order 4 in steps that keep each one below a tenth of the emptying time. */
double hb_leak_after(double leak_rate, double hole, double pressure, double time)
{
    double p = pressure, left = time;
    while (left > 0.0 && p > 1e-3) {
        const double first = hb_leak_rate(leak_rate, hole, p);
        if (first <= 0.0)
            break;
        const double dt = fmin(left, 0.05 * p / first);
        const double second = hb_leak_rate(leak_rate, hole, p - 0.5 * dt * first);
        const double third = hb_leak_rate(leak_rate, hole, p - 0.5 * dt * second);
        const double fourth = hb_leak_rate(leak_rate, hole, p - dt * third);
        p -= dt / 6.0 * (first + 2.0 * second + 2.0 * third + fourth);
        left -= dt;
    }
    return p > 1e-3 ? p : 0.0;
}

/* Simpson's rule for the integral of dp / rate. */
double hb_leak_time(double leak_rate, double hole, double from, double to)
{
    if (leak_rate <= 0.0 && hole <= 0.0)
        return HUGE_VAL;
    const double h = (from - to) / STEPS;
    double sum = 0.0;
    for (int i = 0; i <= STEPS; i++) {
        const double weight = i == 0 || i == STEPS ? 1.0 : i % 2 ? 4.0 : 2.0;
        sum += weight / hb_leak_rate(leak_rate, hole, to + h * i);
    }
    return sum * h / 3.0;
}
