/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/describe/word_lists.h"

#define HB_WORD_LIST(name, type, count)                                                            \
    const char *hb_##name##_word(int place)                                                        \
    {                                                                                              \
        return place < (int)(count) ? hobble_##name##_word((type)place) : NULL;                    \
    }
HB_WORD_LISTS(HB_WORD_LIST)
#undef HB_WORD_LIST

void hb_get_marking(const struct hobble_marking *marking, struct hb_value *value)
{
    hobble_marking_print(marking, value->room, sizeof value->room);
    hb_value_text(value, value->room);
}

enum hobble_stop hb_nth_stop(const bool stop[HOBBLE_STOP_COUNT], size_t place)
{
    int i = 0;
    for (; i < HOBBLE_STOP_COUNT - 1; i++)
        if (stop[i] && place-- == 0)
            break;
    return (enum hobble_stop)i;
}

size_t hb_count_stops(const bool stop[HOBBLE_STOP_COUNT])
{
    size_t n = 0;
    for (int i = 0; i < HOBBLE_STOP_COUNT; i++)
        n += stop[i];
    return n;
}

size_t hb_two(const struct hb_scope *scope)
{
    (void)scope;
    return 2;
}
