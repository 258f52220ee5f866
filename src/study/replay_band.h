/* SPDX-License-Identifier: GPL-3.0-or-later */
/* replay_band.h - a recorded drive driven by every member, beside what was measured. */
#ifndef HB_STUDY_REPLAY_BAND_H
#define HB_STUDY_REPLAY_BAND_H

#include "advice/ensemble.h"
#include "study/recording.h"

/* Drives the ensemble as recorded, stretch by stretch at each one's own mean speed and pressure,
 * and fills in points, misfit and counted. Its arrays hold that drive afterwards. */
enum hobble_status hb_replay_band(struct hb_ensemble *e, const struct hb_stretches *stretches,
                                  struct hobble_replay *out);

#endif
