/* SPDX-License-Identifier: GPL-3.0-or-later */
/* seen.h - what a drive did to the tyres: for the verdict on the bench and after the advice, alike.
 */
#ifndef HB_ADVICE_SEEN_H
#define HB_ADVICE_SEEN_H

#include "advice/ensemble.h"

/* Reads the arrays after a drive of plan, up to the end of a leg, over all sampled tyres and
 * without the approval's evidence: what was not stated counts against the tyre. High quantiles are
 * taken at or above. seen->pressure, speed, distance are the history's with the leg. */
void hb_drive_read(struct hb_ensemble *e, const struct hb_plan *plan, size_t leg,
                   struct hobble_drive *seen);

#endif
