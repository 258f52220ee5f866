/* SPDX-License-Identifier: GPL-3.0-or-later */
/* march.h - the fast march: many tyres through one journey. */
#ifndef HB_CORE_MARCH_H
#define HB_CORE_MARCH_H

#include "core/journey.h"
#include "core/lane.h"
#include "core/tyre.h"

/* How the time step is chosen: fraction of the time since conditions changed, not below first. */
struct hb_pace {
    double fraction; /* 0.005..0.2 */
    double first;    /* s, 0.1..10 */
};

/* The pace that the agreement with the reference solver was measured for (docs/validation.md). */
struct hb_pace hb_pace_default(void);

/* Marches HB_LANES tyres. out is written whole. mark may be NULL, or hold for each lane NULL or
 * room for journey->count marks. The journey must have passed hb_journey_check. */
void hb_march_four(const struct hb_journey *journey, const struct hb_pace *pace,
                   const struct hb_tyre *const tyre[HB_LANES], struct hb_outcome out[HB_LANES],
                   struct hb_mark *const mark[HB_LANES]);

/* Marches count tyres; the last group is filled up by repeating its last tyre. mark: NULL or
 * count * journey->count marks, one tyre after the other. */
void hb_march_many(const struct hb_journey *journey, const struct hb_pace *pace,
                   const struct hb_tyre *tyre, size_t count, struct hb_outcome *out,
                   struct hb_mark *mark);

/* Same, on a named instruction set; hb_march_four picks the best at run time. */
typedef void hb_march_fn(const struct hb_journey *, const struct hb_pace *,
                         const struct hb_tyre *const[HB_LANES], struct hb_outcome[HB_LANES],
                         struct hb_mark *const[HB_LANES]);
hb_march_fn hb_march_four_base;
#ifdef HB_WITH_AVX2
hb_march_fn hb_march_four_avx2;
#endif

#endif
