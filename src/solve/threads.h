/* SPDX-License-Identifier: GPL-3.0-or-later */
/* threads.h - the integrator shared among threads. */
#ifndef HB_SOLVE_THREADS_H
#define HB_SOLVE_THREADS_H

#include "core/integrate.h"

/* As hb_integrate_many, with groups of lanes shared among threads (0: all there are). Every member
 * is computed by itself, so the bytes do not depend on the number of threads. */
void hb_integrate_shared(const struct hb_journey *journey, const struct hb_step_control *steps,
                         const struct hb_tyre *tyre, size_t count, struct hb_outcome *out,
                         struct hb_record *record, int threads);

#endif
