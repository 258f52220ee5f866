/* SPDX-License-Identifier: GPL-3.0-or-later */
/* fuzz_fleet.c - any bytes as a fleet file, and as a table of incidents: refused with a reason and
 * nothing made, or read as a fleet whose shares add up. */
#include "fuzz.h"
#include "input/fleet.h"
#include "input/incidents.h"

#include <math.h>
#include <stdlib.h>

static void need(bool held)
{
    if (!held)
        abort();
}

static void check_refused(const struct hobble_faults *faults, enum hobble_status status)
{
    need(faults->count > 0 && faults->item[0].status == status);
    for (size_t i = 0; i < faults->count && i < HOBBLE_FAULTS_KEPT; i++)
        need(faults->item[i].allowed[0] != '\0' && faults->item[i].file[0] != '\0');
}

static void check_fleet(const struct hobble_fleet *f)
{
    double loads = 0.0, seasons = 0.0;
    need(f->vehicles > 0 && f->loads > 0 && f->seasons > 0 && f->help.mean >= 0.0);
    for (int i = 0; i < f->vehicles; i++)
        need(f->vehicle[i].axle[0] && f->vehicle[i].axle[1] && f->vehicle[i].count > 0);
    for (int i = 0; i < f->loads; i++)
        loads += f->load[i].share;
    for (int i = 0; i < f->seasons; i++)
        seasons += f->season[i].share;
    need(fabs(loads - 1.0) < 1e-5 && fabs(seasons - 1.0) < 1e-5);
    need(hobble_help_beyond(&f->help, 1e9) <= 1e-6 && hobble_help_beyond(&f->help, -1.0) >= 1.0);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    static struct hobble_faults faults;
    static struct hobble_help help;
    struct hobble_fleet *fleet = NULL;
    faults.count = 0;
    enum hobble_status status =
        hb_fleet_read_text((const char *)data, size, "fuzz", &fleet, &faults);
    need((status == HOBBLE_OK) == (fleet != NULL));
    if (status == HOBBLE_OK)
        check_fleet(fleet);
    else
        check_refused(&faults, status);
    hobble_fleet_free(fleet);
    faults.count = 0;
    status = hb_incidents_read_text((const char *)data, size, "fuzz", "km", &help, &faults);
    if (status != HOBBLE_OK)
        check_refused(&faults, status);
    else
        need(help.count > 0 && help.mean >= 0.0 && help.beyond[help.count - 1] <= 0.0);
    return 0;
}
