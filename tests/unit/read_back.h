/* SPDX-License-Identifier: GPL-3.0-or-later */
/* read_back.h - numbers that are printed, read and compared with those that they tell of. */
#ifndef HB_TEST_READ_BACK_H
#define HB_TEST_READ_BACK_H

#include <stdbool.h>

enum side { DOWN, UP, NEAR, EXACT };

/* A number that must stand there. step: by how much it may stand off; FINE: a tenth below ten, else
 * one, as distances are shown (the project's own rule; arithmetic). */
#define FINE 0.0
struct expected {
    double value;
    enum side side;
    double step;
};

/* From SI to the unit shown: km or mi, km/h or mph, degC or degF, N or lbf. */
double told_length(double si, bool us);
double told_pace(double si, bool us);
double told_degrees(double kelvin, bool us);
double told_force(double newton, bool us);

/* Reads all numbers of a text, in order; fails where one is missing, besides or on the wrong side.
 * Option names and words are passed over. */
void read_numbers(const char *text, const struct expected *e, int count);

#endif
