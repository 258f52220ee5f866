/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/progress.h"

#include <math.h>
#include <stdio.h>

void hb_progress_begin(struct hb_progress *progress)
{
    *progress = (struct hb_progress){.share = 1.0, .shown = -1};
    clock_gettime(CLOCK_MONOTONIC, &progress->began);
}

void hb_progress_show(void *context, double part)
{
    struct hb_progress *progress = context;
    struct timespec now;
    clock_gettime(CLOCK_MONOTONIC, &now);
    const double done = progress->from + progress->share * part;
    const double passed = (double)(now.tv_sec - progress->began.tv_sec) +
                          1e-9 * (double)(now.tv_nsec - progress->began.tv_nsec);
    const int percent = (int)(100.0 * done);
    if (passed < 1.0 || done <= 0.0 || percent == progress->shown)
        return;
    progress->shown = percent;
    fprintf(stderr, "\r%3d %%, about %.0f s left  ", percent, ceil(passed * (1.0 - done) / done));
    fflush(stderr);
}

void hb_progress_end(struct hb_progress *progress)
{
    if (progress->shown >= 0)
        fprintf(stderr, "\r%*s\r", 40, "");
    progress->shown = -1;
}
