/* SPDX-License-Identifier: GPL-3.0-or-later */
/* profile_rows.h - what hobble profile answers: the structs that its rows read. */
#ifndef HB_REPORT_DESCRIBE_PROFILE_ROWS_H
#define HB_REPORT_DESCRIBE_PROFILE_ROWS_H

#include "hobble.h"

#include <stddef.h>

struct hb_profile_entry;

struct hb_profile_listed {
    const struct hb_profile_entry *entry;
    size_t count;
};

/* Of a profile that was read into the case. */
struct hb_profile_shown {
    const char *name;
    enum hobble_group kind;
};

struct hb_profile_checked {
    const char *name;
    const struct hobble_faults *faults;
};

#endif
