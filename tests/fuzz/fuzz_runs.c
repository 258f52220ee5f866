/* SPDX-License-Identifier: GPL-3.0-or-later */
/* fuzz_runs.c - any bytes as a table of a run's temperatures: refused with a reason and nothing
 * changed, or read as rising readings that can be. The bytes also stand behind a good first line,
 * so that rows are reached. */
#include "fuzz.h"
#include "input/runs.h"

#include <stdlib.h>
#include <string.h>

static void need(bool held)
{
    if (!held)
        abort();
}

static void check_channel(const struct hobble_readings *r)
{
    need(r->count >= 0 && r->count <= HOBBLE_READINGS_MAX);
    for (int i = 0; i < r->count; i++) {
        need(r->time[i] >= 0.0 && r->time[i] <= 2880.0 * 60.0);
        need(r->celsius[i] >= -40.0 && r->celsius[i] <= 300.0);
        need(i == 0 || r->time[i] > r->time[i - 1]);
    }
}

static void try_text(const char *text, size_t size)
{
    static struct hobble_faults faults;
    struct hobble_evidence item;
    int kept = 0;
    faults.count = 0;
    hobble_evidence_begin(HOBBLE_EVIDENCE_RUN, &item);
    const enum hobble_status status = hb_run_read_text(text, size, "fuzz", &item, &faults);
    for (int i = 0; i < HOBBLE_CHANNELS; i++) {
        check_channel(&item.channel[i]);
        kept += item.channel[i].count;
    }
    need((status == HOBBLE_OK) == (kept > 0));
    if (status == HOBBLE_OK)
        need(faults.count == 0);
    else
        need(faults.count > 0 && faults.count <= 9 && faults.item[0].status == status &&
             faults.item[0].allowed[0] != '\0');
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    static const char head[] = "time_min,inner_c,cavity_c\n";
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
