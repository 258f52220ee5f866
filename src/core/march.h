/* SPDX-License-Identifier: GPL-3.0-or-later */
/* march.h - the fast march: many tyres through one journey. */
#ifndef HB_CORE_MARCH_H
#define HB_CORE_MARCH_H

#include "core/journey.h"
#include "core/tyre.h"

#include <stdbool.h>
#include <stddef.h>

/* How the time step is chosen: first, and more by a fraction of the time since conditions changed.
 */
struct hb_pace {
    double fraction; /* 0.005..0.2 */
    double first;    /* s, 0.1..10 */
};

/* The pace that the agreement with the reference solver was measured for (docs/validation.md). */
struct hb_pace hb_pace_default(void);

/* Marches count tyres through a journey that must have passed hb_journey_check. mark: NULL or
 * count * journey->count marks, one tyre after the other. What a tyre does depends neither on the
 * others nor on the instruction set, to the last bit. */
typedef void hb_march_fn(const struct hb_journey *journey, const struct hb_pace *pace,
                         const struct hb_tyre *tyre, size_t count, struct hb_outcome *out,
                         struct hb_mark *mark);

/* On the best instruction set of this chip. */
hb_march_fn hb_march_many;

/* The instruction sets this program was built for, best first; the last is everywhere. */
struct hb_march_path {
    const char *name;
    bool (*here)(void); /* whether this chip has it */
    hb_march_fn *march;
};
extern const struct hb_march_path hb_march_path[];
extern const size_t hb_march_paths;
hb_march_fn hb_march_base, hb_march_avx2, hb_march_avx512;

#endif
