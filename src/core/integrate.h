/* SPDX-License-Identifier: GPL-3.0-or-later */
/* integrate.h - the fast integrator: many tyres through one journey. */
#ifndef HB_CORE_INTEGRATE_H
#define HB_CORE_INTEGRATE_H

#include "core/journey.h"
#include "core/tyre.h"

#include <stdbool.h>
#include <stddef.h>

/* How the time step is chosen: first, and more by a fraction of the time since conditions
 * changed. */
struct hb_step_control {
    double fraction; /* 0.005..0.2 */
    double first;    /* s, 0.1..10 */
};

/* The step control that the agreement with the reference solver was measured for
 * (docs/validation.md). */
struct hb_step_control hb_step_control_default(void);

/* Integrates count tyres through a journey that must have passed hb_journey_check. record: NULL or
 * count * journey->count records, one tyre after the other. What a tyre does depends neither on the
 * others nor on the instruction set, to the last bit. */
typedef void hb_integrate_fn(const struct hb_journey *journey, const struct hb_step_control *steps,
                             const struct hb_tyre *tyre, size_t count, struct hb_outcome *out,
                             struct hb_record *record);

/* What integrates many tyres: a plain loop, or one that shares them among threads. */
struct hb_runner {
    void (*run)(const struct hb_journey *journey, const struct hb_step_control *steps,
                const struct hb_tyre *tyre, size_t count, struct hb_outcome *out,
                struct hb_record *record, int threads);
    int threads;
};

/* On the best instruction set of this chip. */
hb_integrate_fn hb_integrate_many;

/* The instruction sets this program was built for, best first; the last is everywhere. */
struct hb_integrate_path {
    const char *name;
    bool (*here)(void); /* whether this chip has it */
    hb_integrate_fn *integrate;
};
extern const struct hb_integrate_path hb_integrate_path[];
extern const size_t hb_integrate_paths;
hb_integrate_fn hb_integrate_base, hb_integrate_avx2, hb_integrate_avx512;

#endif
