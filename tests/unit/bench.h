/* SPDX-License-Identifier: GPL-3.0-or-later */
/* bench.h - tyres on the bench for the tests of hobble condition: those of condition-base.tsv with
 * some facts changed. Everything aborts the test on a fault. */
#ifndef HB_TEST_BENCH_H
#define HB_TEST_BENCH_H

#include "hobble.h"
#include "tsv.h"

#include <check.h>

enum { BENCH_TEXT = 700 };

/* An assertion for the long loops: one of the library's own costs a write to a pipe each time. */
#define NEED(held, ...)                                                                            \
    do {                                                                                           \
        if (!(held))                                                                               \
            ck_abort_msg(__VA_ARGS__);                                                             \
    } while (0)

/* Reads a vector file; free it with tsv_free. */
void bench_load(struct tsv *t, const char *name, size_t fields, size_t least);
/* The two tyres; fixtures of a test case. */
void bench_setup(void);
void bench_teardown(void);

/* A tyre of that name ("self", "plain") with changes "key=value;key=-": "-" takes a fact away, and
 * "-" alone changes nothing. Owned by the caller. */
hobble_case *bench_make(const char *name, const char *changes);
void bench_set(hobble_case *c, const char *key, const char *value);
/* Takes the limits of profiles/rules/NAME.cfg; "-": none. */
void bench_rules(hobble_case *c, const char *name);
void bench_judge(const hobble_case *c, struct hobble_condition_answer *a);
/* The rule of that id, if it fired. */
const struct hobble_fired *bench_fired(const struct hobble_condition_answer *a, const char *id);

#endif
