/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/describe/drawn.h"

#include "input/quantity.h"

#include <stdio.h>

double hb_shown(double si, enum hobble_unit unit, bool us)
{
    double value = hobble_unit_from_si(unit, si);
    if (us)
        hb_quantity_us(unit, &value);
    return value;
}

const char *hb_shown_unit(enum hobble_unit unit, bool us)
{
    double unused = 0.0;
    if (unit == HOBBLE_UNIT_CELSIUS)
        return us ? "\u00B0F" : "\u00B0C";
    return us ? hb_quantity_us(unit, &unused) : hobble_unit_symbol(unit);
}

void hb_value_drawn(struct hb_value *value, double si, enum hobble_unit unit, bool us, int digits)
{
    char number[40];
    hb_number_print(hb_shown(si, unit, us), digits, number, sizeof number);
    snprintf(value->room, sizeof value->room, "%s %s", number, hb_shown_unit(unit, us));
    hb_value_text(value, value->room);
}
