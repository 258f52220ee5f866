/* SPDX-License-Identifier: GPL-3.0-or-later */
/* ask.h - questions for tests, put through the public functions but for one count. */
#ifndef HB_TEST_ASK_H
#define HB_TEST_ASK_H

#include "hobble.h"
#include "random_case.h"

#include <math.h>

#define KM        1000.0
#define KMH       (1.0 / 3.6)
#define MINUTE    60.0
#define NOT_GIVEN ((double)NAN)

/* A row's number in its unit, its word or text, its spread; all fail the test where refused. */
void ask_set(hobble_case *c, const char *key, double value);
void ask_word(hobble_case *c, const char *key, const char *word);
void ask_text(hobble_case *c, const char *key, const char *text);
void ask_spread(hobble_case *c, const char *key, double spread);
/* Every drawn row at its middle: all members are the same tyre. */
void ask_no_spread(hobble_case *c);

/* A 205/55 RF16 91V, self-supporting, 75 % of the index, this many members; bare: nothing is
 * stated of age, flat running and repairs; vouched: two years old, neither of the other two. */
hobble_case *ask_bare(int members);
hobble_case *ask_vouched(int members);
/* A new whole tyre otherwise as ask_bare, all members the same, with exact load, nothing driven
 * before now. */
hobble_case *ask_one_tyre(void);

/* A question of any kind: goes on, goes on and stops, stops. */
hobble_case *ask_random(struct random_source *source);

/* Share of the tyres that the advice rests on which end before this distance (m) at the advised
 * speed. */
double ask_ending_before(const hobble_case *c, double distance);
/* The answer; fails the test when there is none. free: also frees the case. */
struct hobble_answer ask(const hobble_case *c);
struct hobble_answer ask_free(hobble_case *c);
/* The number of reasons to stop that hold. */
int ask_stops(const struct hobble_answer *a);

#endif
