/* SPDX-License-Identifier: GPL-3.0-or-later */
/* progress.h - how far a long run is, and how long it still takes. */
#ifndef HB_CLI_PROGRESS_H
#define HB_CLI_PROGRESS_H

#include <time.h>

/* A part of a run of parts; begin sets the whole run. */
struct hb_progress {
    struct timespec began;
    double from, share; /* of the whole run: what is done, and what the part is */
    int shown;          /* per cent shown last; -1: nothing yet */
};
void hb_progress_begin(struct hb_progress *progress);
/* Shows the share done of the part on standard error, once more than a second has gone by; of type
 * hobble_progress. To be used where standard error is a terminal. */
void hb_progress_show(void *progress, double done);
/* Wipes the line. */
void hb_progress_end(struct hb_progress *progress);

#endif
