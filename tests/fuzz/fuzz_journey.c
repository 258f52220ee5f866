/* SPDX-License-Identifier: GPL-3.0-or-later */
/* fuzz_journey.c - any bytes as a journey file and as a --leg option: refused with a reason and no
 * leg added, or read with at least one leg added. */
#include "fuzz.h"
#include "input/journey.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static void need(bool held)
{
    if (!held)
        abort();
}

/* How many legs more a case takes; it is full afterwards. */
static int fill(hobble_case *c)
{
    const struct hobble_leg stop = {.time = 60.0};
    struct hobble_leg leg = stop;
    int room = 0;
    leg.distance = leg.load = leg.ambient = leg.pressure = leg.leak = (double)NAN;
    while (hobble_case_add_leg(c, &leg, NULL) == HOBBLE_OK)
        room++;
    return room;
}

static void check(enum hobble_status status, const struct hobble_faults *faults, hobble_case *c)
{
    const int room = fill(c);
    if (status == HOBBLE_OK) {
        need(faults->count == 0 && room < HOBBLE_LEGS_MAX);
        return;
    }
    need(room == HOBBLE_LEGS_MAX && faults->count > 0 && faults->item[0].status == status);
    for (size_t i = 0; i < faults->count && i < HOBBLE_FAULTS_KEPT; i++)
        need(faults->item[i].allowed[0] != '\0' && faults->item[i].file[0] != '\0');
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    static struct hobble_faults faults;
    hobble_case *a = hobble_case_new(), *b = hobble_case_new();
    char *text = malloc(size + 1);
    need(a != NULL && b != NULL && text != NULL);
    if (size > 0)
        memcpy(text, data, size);
    text[size] = '\0';
    faults.count = 0;
    check(hb_journey_read_text((const char *)data, size, "fuzz", a, &faults), &faults, a);
    faults.count = 0;
    check(hb_leg_option(b, text, &faults), &faults, b);
    hobble_case_free(a);
    hobble_case_free(b);
    free(text);
    return 0;
}
