/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "judged.h"

#include "input/fleet.h"

#include <check.h>
#include <stdlib.h>
#include <string.h>

struct hobble_fleet *judged_fleet(void)
{
    static struct hobble_faults faults;
    struct hobble_fleet *fleet = NULL;
    faults.count = 0;
    if (hb_fleet_read(TEST_DATA_DIR "/fleet/small.cfg", &fleet, &faults) != HOBBLE_OK)
        ck_abort_msg("%s %s", faults.item[0].key, faults.item[0].allowed);
    fleet->members = 40;
    return fleet;
}

void judged_prepare(struct judged *j)
{
    j->fleet = judged_fleet();
    ck_assert_int_eq(hobble_policy_list(j->fleet, &j->list, &j->count, NULL), HOBBLE_OK);
    j->solved = calloc(j->count, sizeof *j->solved);
    j->policy = calloc(1, sizeof *j->policy);
    ck_assert(j->solved && j->policy);
}

void judged_make(struct judged *j)
{
    ck_assert_int_eq(hobble_policy_judge(j->fleet, j->list, j->solved, j->count, j->policy, NULL),
                     HOBBLE_OK);
}

void judged_free(struct judged *j)
{
    hobble_fleet_free(j->fleet);
    free(j->list);
    free(j->solved);
    free(j->policy);
}

void judged_alike(struct judged *j, double range, int advised)
{
    for (size_t i = 0; i < j->count; i++)
        for (int k = 0; k < HOBBLE_POLICY_SPEEDS; k++) {
            struct hobble_policy_way *way = &j->solved[i].way[k];
            memset(way, 0, sizeof *way);
            way->counted = way->worth = 200;
            way->go = advised > 0;
            way->advised = advised;
            way->ended[(int)(range / HOBBLE_REACH_STEP)] = 200;
        }
}

void judged_set(struct judged *j, const char *key, double value)
{
    j->fleet->number[hobble_fleet_find(key)].value = value;
}
