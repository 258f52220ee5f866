/* SPDX-License-Identifier: GPL-3.0-or-later */
/* fuzz_climate.c - any bytes as a weather file: refused with a reason, or read as a year of hours
 * that can be. The bytes also stand for hours behind a good head, so that hours are reached. */
#include "fuzz.h"
#include "input/climate.h"

#include <stdlib.h>
#include <string.h>

static void need(bool held)
{
    if (!held)
        abort();
}

static void take(void *into, int month, int tenth)
{
    long *taken = into;
    need(month >= 1 && month <= 12 && tenth >= -700 && tenth <= 700);
    (*taken)++;
}

static void try_text(const char *text, size_t size)
{
    static struct hobble_faults faults;
    char place[HOBBLE_FAULT_TEXT];
    long taken = 0, hours = 0;
    FILE *f = size > 0 ? fmemopen((void *)(uintptr_t)text, size, "rb") : fopen("/dev/null", "rb");
    faults.count = 0;
    need(f != NULL);
    const enum hobble_status status =
        hb_climate_read(f, "fuzz", take, &taken, place, &hours, &faults);
    (void)fclose(f);
    need(memchr(place, '\0', sizeof place) != NULL);
    if (status == HOBBLE_OK)
        need(faults.count == 0 && taken == hours && (hours == 8760 || hours == 8784));
    else
        need(faults.count > 0 && faults.item[0].status == status && taken <= hours &&
             faults.item[0].allowed[0] != '\0');
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    static const char head[] = "LOCATION,x\n2\n3\n4\n5\n6\n7\nDATA PERIODS,1\n";
    char *text = malloc(sizeof head + size);
    need(text != NULL);
    try_text((const char *)data, size);
    memcpy(text, head, sizeof head - 1);
    if (size > 0)
        memcpy(text + sizeof head - 1, data, size);
    try_text(text, sizeof head - 1 + size);
    free(text);
    return 0;
}
