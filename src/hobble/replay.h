/* SPDX-License-Identifier: GPL-3.0-or-later */
/* replay.h - what a recorded drive did to a tyre: a part of hobble.h, which includes it. */
#ifndef HOBBLE_H
#include "hobble.h" /* includes this file where it belongs */
#endif
#ifndef HOBBLE_REPLAY_H
#define HOBBLE_REPLAY_H

/* ---- a drive, kept ----------------------------------------------------------------------------
 */

/* A recorded drive in flat memory, however long it is: at most HOBBLE_RECORDING_STRETCHES even
 * stretches of time, which grow as it goes on. Opaque; NULL without memory. */
typedef struct hobble_recording hobble_recording;
enum { HOBBLE_RECORDING_STRETCHES = 128 };
hobble_recording *hobble_recording_new(void);
void hobble_recording_free(hobble_recording *recording);

/* Takes a sample; a hobble_log_take. Between two samples the mean of their speeds holds. Where the
 * second is unseen and one of the two says that it stood, the speed of the first does. Of two logs
 * of one drive, which overlap in time, the first with speeds tells how it was driven. */
enum hobble_status hobble_recording_take(void *recording, const struct hobble_sample *sample);
/* Another log begins: the drive's next part, or one recorded beside it. */
void hobble_recording_next(hobble_recording *recording);

/* ---- what it did ------------------------------------------------------------------------------
 */

/* Measured over computed at one place of the tyre. */
struct hobble_misfit {
    int count;          /* stretches compared; 0: not measured, and the rest is NAN */
    double bias;        /* K, mean of measured less the middle of computed */
    double scatter;     /* K, one sigma about it */
    double correlation; /* of a stretch's with the next one's, -1..1; NAN below 3 stretches */
    double outside;     /* share of stretches outside the computed band of 90 of 100 */
    double chance;      /* of a miss as large as the mean's or larger among such tyres and sensors,
                         * 0..1 */
};

/* The drive at the end of a stretch. NAN: not measured. */
struct hobble_replay_point {
    double time, way;                 /* s, m from the beginning */
    double speed;                     /* m/s, the stretch's mean */
    double pressure;                  /* Pa, gauge */
    double measured[HOBBLE_CHANNELS]; /* K */
    double low[HOBBLE_CHANNELS], middle[HOBBLE_CHANNELS], high[HOBBLE_CHANNELS]; /* K, computed for
                                                                         5, 50, 95 of 100 tyres */
    double life_low, life_middle, life_high;                                     /* used, 0..1 */
};

struct hobble_replay {
    double seconds, way;      /* s, m recorded */
    double stood;             /* s of it */
    bool pressure_logged;     /* else all of it counts as driven without air */
    double low;               /* Pa: a drop to this is one at which a warning must come (UN R141) */
    double low_at, low_way;   /* s, m where it came; NAN: never, or not logged */
    double flat_at, flat_way; /* the same below 70 kPa, when the run flat began */
    double warned_at, warned_way; /* the same of the mark; NAN: none */
    double unseen;   /* m between the drop and the mark; NAN where one of them is missing */
    bool tyre_ended; /* by a mark */
    double ended_at, ended_way; /* s, m; NAN: it was not */
    int legs;                   /* that the drive was cut into for the answer */
    int left_out;               /* samples whose speed was left out: recorded twice */
    int counted;                /* tyres that the bands rest on */
    struct hobble_misfit misfit[HOBBLE_CHANNELS];
    int points;
    struct hobble_replay_point point[HOBBLE_RECORDING_STRETCHES];
    struct hobble_answer answer; /* at the drive's end: the one decision */
};

/* What the drive did to the case's tyre, and what is left. The case becomes as recorded: what it
 * says of what was driven is replaced, and a pressure that was recorded is the one now, unless the
 * case states another. A tyre that its mark says has ended is never fit to go on.
 * HOBBLE_E_MISSING when no speed was recorded. Case and out are changed on HOBBLE_OK only. */
enum hobble_status hobble_replay(hobble_case *c, const hobble_recording *recording, int threads,
                                 struct hobble_replay *out, struct hobble_faults *sink);

/* The drive below 70 kPa as an item of evidence on the type: a run of another unit than the one
 * that will be asked about, which survived, or ended where its mark says; with the temperatures
 * that were measured. HOBBLE_E_UNSUPPORTED where it is no steady run of 1 km or more: speed within
 * 10 % over the way, standing for 2 % of the time at most. */
enum hobble_status hobble_replay_evidence(const hobble_case *c, const struct hobble_replay *replay,
                                          struct hobble_evidence *item, struct hobble_faults *sink);

#endif
