/* SPDX-License-Identifier: GPL-3.0-or-later */
/* reference.h - one tyre through one journey by a stiff solver with error control and events
 * located by root-finding: what the fast integrator is measured against. */
#ifndef HB_SOLVE_REFERENCE_H
#define HB_SOLVE_REFERENCE_H

#include "core/journey.h"
#include "core/tyre.h"
#include "hobble.h"

struct hb_reference_options {
    int cells;        /* wall cells, 6..96 */
    double tolerance; /* relative, 1e-12..1e-3 */
};
struct hb_reference_options hb_reference_default(void);

/* Runs the tyre through the journey. out: written on HOBBLE_OK only. record: NULL or room for
 * journey->count records. HOBBLE_E_NOT_CONVERGED when the integrator or a root-finder fails,
 * HOBBLE_E_MEMORY without memory. */
enum hobble_status hb_reference_run(const struct hb_journey *journey, const struct hb_tyre *tyre,
                                    const struct hb_reference_options *options,
                                    struct hb_outcome *out, struct hb_record *record);

#endif
