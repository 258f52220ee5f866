/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "solve/threads.h"

#ifdef _OPENMP
#include <omp.h>
#endif

enum { CHUNK = 128 };

void hb_integrate_shared(const struct hb_journey *journey, const struct hb_step_control *steps,
                         const struct hb_tyre *tyre, size_t count, struct hb_outcome *out,
                         struct hb_record *record, int threads)
{
    const long chunks = (long)((count + CHUNK - 1) / CHUNK);
#ifdef _OPENMP
    const int most = omp_get_max_threads();
    const int team = threads > 0 && threads < most ? threads : most;
#pragma omp parallel for schedule(dynamic) num_threads(team)
#else
    (void)threads;
#endif
    for (long chunk = 0; chunk < chunks; chunk++) {
        const size_t from = (size_t)chunk * CHUNK;
        const size_t size = count - from < CHUNK ? count - from : CHUNK;
        hb_integrate_many(journey, steps, &tyre[from], size, &out[from],
                          record ? &record[from * journey->count] : NULL);
    }
}
