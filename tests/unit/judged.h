/* SPDX-License-Identifier: GPL-3.0-or-later */
/* judged.h - the small fleet of the tests, judged on conditions that a test makes up. */
#ifndef HB_TEST_JUDGED_H
#define HB_TEST_JUDGED_H

#include "hobble.h"

#define KM 1e3

/* tests/data/fleet/small.cfg, of 40 members. */
struct hobble_fleet *judged_fleet(void);

struct judged {
    struct hobble_fleet *fleet;
    struct hobble_policy_condition *list;
    struct hobble_policy_solved *solved;
    size_t count;
    struct hobble_policy *policy;
};
void judged_prepare(struct judged *j);
/* All tyres end after range (m) at every speed; advice is advised (m). */
void judged_alike(struct judged *j, double range, int advised);
/* A number of the fleet in its own unit. */
void judged_set(struct judged *j, const char *key, double value);
void judged_make(struct judged *j);
void judged_free(struct judged *j);

#endif
