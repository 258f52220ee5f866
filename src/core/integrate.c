/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/integrate.h"

struct hb_step_control hb_step_control_default(void)
{
    return (struct hb_step_control){.fraction = 0.13, .first = 4.0};
}

#ifdef HB_WITH_AVX512
static bool has_avx512(void)
{
    return __builtin_cpu_supports("avx512f") && __builtin_cpu_supports("avx512dq");
}
#endif

#ifdef HB_WITH_AVX2
static bool has_avx2(void)
{
    return __builtin_cpu_supports("avx2");
}
#endif

static bool has_baseline(void)
{
    return true;
}

const struct hb_integrate_path hb_integrate_path[] = {
#ifdef HB_WITH_AVX512
    {"AVX-512", has_avx512, hb_integrate_avx512},
#endif
#ifdef HB_WITH_AVX2
    {"AVX2", has_avx2, hb_integrate_avx2},
#endif
    {"baseline", has_baseline, hb_integrate_base},
};
const size_t hb_integrate_paths = sizeof hb_integrate_path / sizeof *hb_integrate_path;

void hb_integrate_many(const struct hb_journey *journey, const struct hb_step_control *steps,
                       const struct hb_tyre *tyre, size_t count, struct hb_outcome *out,
                       struct hb_record *record)
{
    const struct hb_integrate_path *path = hb_integrate_path;
    while (!path->here())
        path++;
    path->integrate(journey, steps, tyre, count, out, record);
}
