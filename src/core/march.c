/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/march.h"

struct hb_pace hb_pace_default(void)
{
    return (struct hb_pace){.fraction = 0.13, .first = 4.0};
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

const struct hb_march_path hb_march_path[] = {
#ifdef HB_WITH_AVX512
    {"AVX-512", has_avx512, hb_march_avx512},
#endif
#ifdef HB_WITH_AVX2
    {"AVX2", has_avx2, hb_march_avx2},
#endif
    {"baseline", has_baseline, hb_march_base},
};
const size_t hb_march_paths = sizeof hb_march_path / sizeof *hb_march_path;

void hb_march_many(const struct hb_journey *journey, const struct hb_pace *pace,
                   const struct hb_tyre *tyre, size_t count, struct hb_outcome *out,
                   struct hb_mark *mark)
{
    const struct hb_march_path *path = hb_march_path;
    while (!path->here())
        path++;
    path->march(journey, pace, tyre, count, out, mark);
}
