/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/describe/card.h"

#include <limits.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

/* The temperatures of the columns, degC: frost, a cool day, the warm reference, a heat wave. */
enum { LOADS = 4, HEATS = 4 };
static const double heats_c[HEATS] = {-10.0, 10.0, 25.0, 36.0};

/* People as a share of the seats, luggage in kg; the last row gives neither: the permitted axle
 * load. */
static const struct {
    const char *name;
    double seats, luggage;
} rows[LOADS] = {
    {"driver alone", 0.0, 0.0},
    {"half the seats", 0.5, 20.0},
    {"every seat", 1.0, 40.0},
    {"axles at their limit", (double)NAN, (double)NAN},
};

static int row_of(const char *key)
{
    return hobble_param_find(key);
}

static bool any_given(const hobble_case *c, enum hobble_group group)
{
    size_t count;
    const struct hobble_param *p = hobble_param_table(&count);
    for (size_t i = 0; i < count; i++)
        if (p[i].group == group && hobble_case_given(c, (int)i))
            return true;
    return false;
}

static enum hobble_status refuse_these(const hobble_case *c, const char *const key[], size_t count,
                                       const char *why, struct hobble_faults *sink)
{
    enum hobble_status status = HOBBLE_OK;
    for (size_t i = 0; i < count; i++)
        if (hobble_case_given(c, row_of(key[i]))) {
            struct hobble_fault f = {.status = HOBBLE_E_CONFLICT};
            hobble_fault_text(f.key, key[i]);
            hobble_fault_text(f.file, hobble_case_origin(c, row_of(key[i])));
            hobble_fault_text(f.allowed, why);
            status = hobble_faults_add(sink, &f);
        }
    return status;
}

/* What the card itself sets cannot be set beside it. */
static enum hobble_status refuse(const hobble_case *c, struct hobble_faults *sink)
{
    static const char *const own[] = {"people",     "luggage", "load",
                                      "load_share", "wheel",   "ambient"};
    /* and what only a driver can say who has the warning; the card is written before it */
    static const char *const later[] = {"pressure",  "leak", "hole", "run",
                                        "run_speed", "rest", "to"};
    enum hobble_status status =
        refuse_these(c, own, sizeof own / sizeof *own,
                     "the card goes through loads, axles and temperatures itself", sink);
    const enum hobble_status second =
        refuse_these(c, later, sizeof later / sizeof *later,
                     "the card is for a tyre that is empty from the warning on", sink);
    if (hobble_case_leg_count(c) == 0)
        return status != HOBBLE_OK ? status : second;
    struct hobble_fault f = {.status = HOBBLE_E_CONFLICT};
    hobble_fault_text(f.key, "--leg");
    hobble_fault_text(f.allowed, "the card is for a tyre that is empty from the warning on");
    return hobble_faults_add(sink, &f);
}

static enum hobble_status set_cell(hobble_case *c, int load, double heat_c, const char *wheel,
                                   struct hobble_faults *sink)
{
    const double seats =
        hobble_case_number(c, row_of("seats_front")) + hobble_case_number(c, row_of("seats_rear"));
    enum hobble_status status = hobble_case_set_number(c, row_of("ambient"), heat_c, "card", sink);
    if (status == HOBBLE_OK)
        status = hobble_case_set_word(c, row_of("wheel"), wheel, "card", sink);
    if (status != HOBBLE_OK || isnan(rows[load].seats))
        return status;
    const double people = fmax(1.0, ceil(rows[load].seats * seats));
    status = hobble_case_set_number(c, row_of("people"), people, "card", sink);
    return status == HOBBLE_OK
               ? hobble_case_set_number(c, row_of("luggage"), rows[load].luggage, "card", sink)
               : status;
}

static enum hobble_status ask(const hobble_case *c, int threads, int load, double heat_c,
                              const char *wheel, struct hobble_answer *a,
                              struct hobble_faults *sink)
{
    hobble_case *cell = hobble_case_clone(c);
    enum hobble_status status = cell ? set_cell(cell, load, heat_c, wheel, sink) : HOBBLE_E_MEMORY;
    if (status == HOBBLE_OK)
        status = hobble_range(cell, threads, a, sink);
    hobble_case_free(cell);
    return status;
}

enum hobble_status hb_card_make(const hobble_case *c, int threads, struct hb_card *card,
                                struct hobble_faults *sink)
{
    static const char *const wheel[] = {"front_left", "rear_left"};
    const bool vehicle = any_given(c, HOBBLE_VEHICLE);
    struct hb_card k = {.loads = vehicle ? LOADS : LOADS - 1,
                        .heats = HEATS,
                        .counted = INT_MAX,
                        .speed = HUGE_VAL,
                        .scrap = true,
                        .example = !vehicle};
    enum hobble_status status = refuse(c, sink);
    for (int i = 0; status == HOBBLE_OK && i < k.loads; i++) {
        k.load[i] = rows[i].name;
        for (int j = 0; status == HOBBLE_OK && j < HEATS; j++) {
            k.heat[j] = heats_c[j] + 273.15;
            k.distance[i][j] = HUGE_VAL;
            for (int w = 0; status == HOBBLE_OK && w < 2; w++) {
                struct hobble_answer a;
                status = ask(c, threads, i, heats_c[j], wheel[w], &a, sink);
                if (status != HOBBLE_OK)
                    break;
                k.distance[i][j] = fmin(k.distance[i][j], a.advised_distance);
                k.speed = fmin(k.speed, a.advised_speed);
                k.unseen = a.run_unseen;
                k.counted = a.counted < k.counted ? a.counted : k.counted;
                k.scrap = k.scrap && a.condition == HOBBLE_SCRAP;
                k.example = k.example || a.example;
                k.marking = a.marking;
            }
        }
    }
    if (status == HOBBLE_OK)
        *card = k;
    return status;
}
