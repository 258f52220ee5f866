/* SPDX-License-Identifier: GPL-3.0-or-later */
/* leak.h - how the pressure of a leaking tyre falls when nothing else is asked. */
#ifndef HB_CORE_LEAK_H
#define HB_CORE_LEAK_H

/* Rate of pressure loss in Pa/s at a gauge pressure (Pa, >= 0). leak_rate: 1/s of an exponential
 * leak, hole: coefficient of a hole (hb_hole_coefficient), either may be 0. */
double hb_leak_rate(double leak_rate, double hole, double pressure);
/* Pressure (Pa) after a time (s) that starts at a pressure (Pa). */
double hb_leak_after(double leak_rate, double hole, double pressure, double time);
/* Time (s) until the pressure has fallen from one value to a lower one above zero;
 * HUGE_VAL when nothing leaks. */
double hb_leak_time(double leak_rate, double hole, double from, double to);

#endif
