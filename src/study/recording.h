/* SPDX-License-Identifier: GPL-3.0-or-later */
/* recording.h - a recorded drive as even stretches of time, and as the legs of a history. */
#ifndef HB_STUDY_RECORDING_H
#define HB_STUDY_RECORDING_H

#include "hobble.h"

/* What was recorded in one stretch. */
struct hb_stretch {
    double driven, stood; /* s */
    double way;           /* m */
    double way_speed;     /* m^2/s: its way by the speed of each part */
    double least;         /* Pa, lowest pressure; NAN: not known */
    double sum[HOBBLE_LOG_FIELDS];
    unsigned long count[HOBBLE_LOG_FIELDS];
};

/* The stretches: which is the first, so that what begins earlier can be put before it. */
struct hb_stretches {
    double start; /* s, as the samples count it */
    double wide;  /* s each */
    size_t count; /* up to the last that holds anything */
    struct hb_stretch at[HOBBLE_RECORDING_STRETCHES];
};

/* A mark's first moment, s from the start; NAN: never. */
double hb_recording_mark(const hobble_recording *recording, enum hobble_log_mark mark);
/* When a pressure (Pa) was first read below, s from the start; NAN: never. Known by the kPa: that
 * above counts. */
double hb_recording_below(const hobble_recording *recording, double pressure);
/* A copy of the stretches, in which the speeds at either end hold to the ends of the recording.
 * Returns false where no speed was recorded. */
bool hb_recording_stretches(const hobble_recording *recording, struct hb_stretches *stretches);
/* For so long a last reading holds on, s (assumed, no source: sensors tell once a minute or so). */
#define HB_SILENCE 120.0
/* Fills in what is known of the air where none was recorded: between two readings the lower one
 * counts, before the first there was no less, and the last holds for HB_SILENCE: then it is not
 * known. Where nothing was read at all the air was sound (Pa) until some seconds from the start.
 * Returns whether any was read. */
bool hb_stretches_air(struct hb_stretches *stretches, double sound_until, double sound);
/* Samples whose speed was left out: recorded beside another log's. */
int hb_recording_left_out(const hobble_recording *recording);

/* Mean of a field over a stretch; NAN where it was not recorded there. */
double hb_stretch_mean(const struct hb_stretch *stretch, enum hobble_log_field field);
/* Way from the start to a time (s from the start). */
double hb_stretches_way(const struct hb_stretches *stretches, double time);

/* The drive as at most HOBBLE_LEGS_MAX legs, for a history: of legs made one the way is the same,
 * its speed the mean over the way (which is not below the mean over time), the pressure the least.
 * Standing that is too short to keep is left out, so that nothing cools that did not. low: Pa;
 * stretches above and below it stay apart. */
size_t hb_stretches_legs(const struct hb_stretches *stretches, double low,
                         struct hobble_leg leg[HOBBLE_LEGS_MAX]);

#endif
