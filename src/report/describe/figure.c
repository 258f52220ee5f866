/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/describe/figure.h"

#include "report/describe/words.h"

#include "input/quantity.h"

#include <math.h>

#define HAIR 1e-9 /* what is a whole step but for the last bits is that step */

static double to_step(double value, double step, bool up)
{
    const double steps = value / step;
    return (up ? ceil(steps - HAIR) : floor(steps + HAIR)) * step + 0.0; /* no "-0" */
}

static void figure(double si, enum hobble_unit unit, bool us, bool up, double fine_below,
                   char buf[static HB_FIGURE])
{
    double shown = hobble_unit_from_si(unit, si);
    if (us)
        hb_quantity_us(unit, &shown);
    const bool fine = shown < fine_below - HAIR;
    shown = to_step(shown, fine ? 0.1 : 1.0, up);
    hb_shown_text(shown, unit, us, fine ? 1 : 0, buf, HB_FIGURE);
}

void hb_distance_down(double si, bool us, char buf[static HB_FIGURE])
{
    figure(si, HOBBLE_UNIT_KILOMETRE, us, false, 10.0, buf);
}

void hb_distance_up(double si, bool us, char buf[static HB_FIGURE])
{
    figure(si, HOBBLE_UNIT_KILOMETRE, us, true, 10.0, buf);
}

void hb_speed_down(double si, bool us, char buf[static HB_FIGURE])
{
    figure(si, HOBBLE_UNIT_KM_PER_HOUR, us, false, -HUGE_VAL, buf);
}

void hb_load_up(double si, bool us, char buf[static HB_FIGURE])
{
    figure(si, HOBBLE_UNIT_NEWTON, us, true, -HUGE_VAL, buf);
}

void hb_load_down(double si, bool us, char buf[static HB_FIGURE])
{
    figure(si, HOBBLE_UNIT_NEWTON, us, false, -HUGE_VAL, buf);
}

void hb_heat_up(double kelvin, bool us, char buf[static HB_FIGURE])
{
    figure(kelvin, HOBBLE_UNIT_CELSIUS, us, true, -HUGE_VAL, buf);
}

void hb_heat_down(double kelvin, bool us, char buf[static HB_FIGURE])
{
    figure(kelvin, HOBBLE_UNIT_CELSIUS, us, false, -HUGE_VAL, buf);
}

double hb_percent_up(double share, int decimals)
{
    return to_step(100.0 * share, pow(10.0, -decimals), true);
}

double hb_percent_down(double share, int decimals)
{
    return to_step(100.0 * share, pow(10.0, -decimals), false);
}
