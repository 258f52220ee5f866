/* SPDX-License-Identifier: GPL-3.0-or-later */
/* random_case.h - random valid questions, the same ones on every machine. */
#ifndef HB_TEST_RANDOM_CASE_H
#define HB_TEST_RANDOM_CASE_H

#include "core/anchor.h"
#include "core/journey.h"
#include "core/tyre.h"
#include "hobble.h"

#include <stdint.h>

enum { RANDOM_LEGS = 6 };

/* The generator's whole state. splitmix64: G. Steele, D. Lea, C. Flood, "Fast splittable
 * pseudorandom number generators", OOPSLA 2014. */
struct random_source {
    uint64_t state;
};

uint64_t random_word(struct random_source *source);
/* Even in [low, high). */
double random_between(struct random_source *source, double low, double high);
/* 0..count-1. */
int random_below(struct random_source *source, int count);
/* Standard normal, Box and Muller, Ann. Math. Stat. 29 (1958) 610. */
double random_normal(struct random_source *source);

/* A question: a tyre on a journey. journey points at leg: do not copy. */
struct random_case {
    struct hobble_marking marking;
    struct hb_tyre tyre;
    struct hb_leg leg[RANDOM_LEGS];
    struct hb_journey journey;
    char text[160]; /* what it is, for messages */
};

enum random_kind {
    RANDOM_PLAIN,   /* conditions change once, then until the end */
    RANDOM_HISTORY, /* also stops, earlier legs, leaks and holes */
};

/* Load 30-100 % of the index, 10-180 km/h, -20-45 degC, 0-175 kPa. Aborts the program when the
 * library refuses a marking of the list or cannot calibrate it. */
void random_case(struct random_source *source, enum random_kind kind, struct random_case *made);

/* A tyre only, at all values drawn, calibrated. */
void random_tyre(struct random_source *source, struct hobble_marking *marking,
                 struct hb_tyre *tyre);

/* Value of an environment variable that holds a count, or otherwise. */
int random_count(const char *variable, int otherwise);

#endif
