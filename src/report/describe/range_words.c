/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/describe/range_words.h"

#include "report/describe/figure.h"
#include "report/describe/words.h"

#include <math.h>
#include <string.h>

void hb_place_text(double place, double than, bool us, char *buf, size_t size)
{
    char shown[HB_FIGURE], limit[HB_FIGURE];
    hb_distance_down(place, us, shown);
    hb_distance_down(than, us, limit);
    if (place > than && strcmp(shown, limit) == 0) /* rounded they look alike */
        hb_quantity_text(place, HOBBLE_UNIT_KILOMETRE, us, 2, shown, sizeof shown);
    snprintf(buf, size, "%s", shown);
}

const char *hb_usual_end(const struct hobble_answer *a)
{
    static const char *const sentence[HOBBLE_END_COUNT] = {
        [HOBBLE_END_NONE] = "none of the limits",
        [HOBBLE_END_HORIZON] = "none of the limits within 2000 km or 48 h",
        [HOBBLE_END_LIFE] = "fatigue of the hot wall",
        [HOBBLE_END_HEAT] = "heat in the wall",
        [HOBBLE_END_RIM] = "the rim coming down on the folded wall",
        [HOBBLE_END_SHOULDER] = "heat in the shoulder",
    };
    int most = 0;
    for (int i = 1; i < HOBBLE_END_COUNT; i++)
        if (a->share_ended[i] > a->share_ended[most])
            most = i;
    return sentence[most];
}

void hb_decides_text(const struct hobble_answer *a, bool us, char *buf, size_t size)
{
    static const char *const who[HOBBLE_LIMIT_COUNT] = {
        [HOBBLE_LIMIT_RULE] = "the rule allows",
        [HOBBLE_LIMIT_MAKER] = "the maker allows",
        [HOBBLE_LIMIT_FLEET] = "the fleet's own rule allows",
        [HOBBLE_LIMIT_CONSTRUCTION] = "without a maker's figure, this kind is taken for",
    };
    char way[HB_FIGURE], driven[HB_FIGURE];
    const double before = a->run_seen + a->run_unseen;
    if (a->limited_by == HOBBLE_LIMIT_RANGE) {
        hb_distance_down(a->advised.p5, us, way);
        snprintf(buf, size, "95 of 100 such tyres carry at least %s", way);
        return;
    }
    hb_distance_down(a->cap, us, way);
    hb_distance_up(before, us, driven);
    snprintf(buf, size, "%s %s in all", who[a->limited_by] ? who[a->limited_by] : "it is", way);
    const size_t n = strlen(buf);
    if (before > 0.0)
        snprintf(buf + n, size - n, ", %s are driven", driven);
}

static const char *text_of(const hobble_case *c, const char *key)
{
    return hobble_case_text(c, hobble_param_find(key));
}

void hb_call_text(const hobble_case *c, const struct hobble_answer *a, enum hb_call how, char *buf,
                  size_t size)
{
    const int wheel = hobble_param_find("wheel");
    char number[HOBBLE_FAULT_TEXT], vehicle[HOBBLE_FAULT_TEXT], marking[64];
    char place[HOBBLE_FAULT_TEXT] = "which wheel", spaced[HOBBLE_FAULT_TEXT];
    hobble_fault_text(number, text_of(c, "recovery_number"));
    hobble_fault_text(vehicle, text_of(c, "vehicle_name"));
    hobble_marking_print(&a->marking, marking, sizeof marking);
    if (hobble_case_given(c, wheel)) {
        hobble_param_word_at(&hobble_param_table(NULL)[wheel], (int)hobble_case_number(c, wheel),
                             spaced, sizeof spaced);
        hb_words_spaced(spaced, place, sizeof place);
    }
    if (how == HB_CALL_SHORTER)
        vehicle[strcspn(vehicle, ",")] = '\0';
    snprintf(buf, size, "Call: %s. Say: the place, ", *number ? number : "a recovery service");
    const size_t n = strlen(buf);
    if (how == HB_CALL_WORDS)
        snprintf(buf + n, size - n, "wheel, tyre, vehicle.");
    else
        snprintf(buf + n, size - n, "%s, %s, %s", place,
                 a->example ? "the tyre's marking" : marking, *vehicle ? vehicle : "which vehicle");
}

void hb_remedy_text(enum hobble_stop reason, char *buf, size_t size)
{
    const char *remedy = hobble_stop_remedy(reason), *rest = remedy;
    const bool nothing = strncmp(remedy, "nothing", 7) == 0;
    if (nothing)
        rest = remedy + 7;
    snprintf(buf, size, "%s%s", nothing ? "nothing would change it" : "would change it: ", rest);
}
