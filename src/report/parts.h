/* SPDX-License-Identifier: GPL-3.0-or-later */
/* parts.h - solved conditions of a policy on disk, so that a run can be cut, shared and taken up
 * again. */
#ifndef HB_REPORT_PARTS_H
#define HB_REPORT_PARTS_H

#include "hobble.h"

enum { HB_PART_CONDITIONS = 16 };

struct hb_policy_run {
    const char *folder; /* of the parts */
    const struct hobble_policy_condition *condition;
    size_t count;
    uint64_t digest; /* hobble_policy_digest of the fleet */
};
size_t hb_policy_parts(size_t conditions);
/* First condition of a part, and how many it has. */
size_t hb_part_begin(size_t part);
size_t hb_part_size(const struct hb_policy_run *run, size_t part);
/* The part's file, "FOLDER/part-0001.txt" for part 0. */
void hb_part_path(const struct hb_policy_run *run, size_t part, char *path, size_t size);
/* Writes a part, whole or not at all. */
enum hobble_status hb_part_write(const struct hb_policy_run *run, size_t part,
                                 const struct hobble_policy_solved *solved);
/* Reads it back into solved. HOBBLE_E_NO_INPUT, without a fault, when there is no file; a fault
 * when it is of another fleet, sample or version, or not whole. solved is written on HOBBLE_OK
 * only. */
enum hobble_status hb_part_read(const struct hb_policy_run *run, size_t part,
                                struct hobble_policy_solved *solved, struct hobble_faults *sink);

#endif
