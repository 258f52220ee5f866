/* SPDX-License-Identifier: GPL-3.0-or-later */
/* replay.h - what hobble replay answers: the drive, and what its logs were like. */
#ifndef HB_REPORT_DESCRIBE_REPLAY_H
#define HB_REPORT_DESCRIBE_REPLAY_H

#include "hobble.h"

struct hb_replay_report {
    struct hobble_replay replay;
    struct hobble_log_tally tally; /* of all logs together */
    int logs;
};

#endif
