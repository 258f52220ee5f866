/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/march.h"

struct hb_pace hb_pace_default(void)
{
    return (struct hb_pace){.fraction = 0.065, .first = 8.0};
}

void hb_march_four(const struct hb_journey *journey, const struct hb_pace *pace,
                   const struct hb_tyre *const tyre[HB_LANES], struct hb_outcome out[HB_LANES],
                   struct hb_mark *const mark[HB_LANES])
{
#ifdef HB_WITH_AVX2
    if (__builtin_cpu_supports("avx2")) {
        hb_march_four_avx2(journey, pace, tyre, out, mark);
        return;
    }
#endif
    hb_march_four_base(journey, pace, tyre, out, mark);
}

void hb_march_many(const struct hb_journey *journey, const struct hb_pace *pace,
                   const struct hb_tyre *tyre, size_t count, struct hb_outcome *out,
                   struct hb_mark *mark)
{
    for (size_t from = 0; from < count; from += HB_LANES) {
        const struct hb_tyre *group[HB_LANES];
        struct hb_outcome result[HB_LANES];
        struct hb_mark *marks[HB_LANES] = {NULL};
        const size_t size = count - from < HB_LANES ? count - from : HB_LANES;
        for (size_t i = 0; i < HB_LANES; i++)
            group[i] = &tyre[from + (i < size ? i : size - 1)];
        for (size_t i = 0; mark && i < size; i++)
            marks[i] = &mark[(from + i) * journey->count];
        hb_march_four(journey, pace, group, result, mark ? marks : NULL);
        for (size_t i = 0; i < size; i++)
            out[from + i] = result[i];
    }
}
