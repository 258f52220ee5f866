/* SPDX-License-Identifier: GPL-3.0-or-later */
/* fuzz_quantity.c - the first byte chooses a unit and a use, the rest is the text: refused with a
 * place and a reason, or read as a finite number that prints and reads back the same. */
#include "fuzz.h"
#include "input/quantity.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static void need(bool held)
{
    if (!held)
        abort();
}

static void check_accepted(double value, enum hobble_unit unit)
{
    char text[64];
    double again;
    need(isfinite(value));
    need(hb_quantity_print(value, unit, false, 17, text, sizeof text) == HOBBLE_OK);
    need(hb_quantity_parse(text, unit, HB_QUANTITY, &again, NULL) == HOBBLE_OK);
    need(!(again < value) && !(again > value));
    need(hb_quantity_print(value, unit, true, 5, text, sizeof text) == HOBBLE_OK);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    const enum hobble_unit unit =
        (enum hobble_unit)(size > 0 ? (data[0] & 0x7F) % HOBBLE_UNIT_COUNT : 0);
    const enum hb_quantity_use use = size > 0 && data[0] & 0x80 ? HB_DIFFERENCE : HB_QUANTITY;
    struct hobble_fault fault;
    double value = -1.25;
    char *text = malloc(size + 1); /* exactly as long as it is, so that an overrun is seen */
    if (text == NULL)
        return 0;
    if (size > 1)
        memcpy(text, data + 1, size - 1);
    text[size > 0 ? size - 1 : 0] = '\0';
    memset(&fault, 0x5A, sizeof fault);
    const enum hobble_status status = hb_quantity_parse(text, unit, use, &value, &fault);
    if (status == HOBBLE_OK) {
        check_accepted(value, unit);
    } else {
        need(fault.status == status && fault.allowed[0] != '\0' && !(value < -1.25) &&
             !(value > -1.25));
        need(fault.column >= 1 && (size_t)fault.column <= strlen(fault.given) + 1);
    }
    free(text);
    return 0;
}
