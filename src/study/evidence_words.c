/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "study/evidence_words.h"

#include <stdio.h>

void hb_evidence_say_limits(const struct hobble_param *p, char *buf, size_t size)
{
    const char *unit = hobble_unit_symbol(p->unit);
    if (p->kind == HOBBLE_NUMBER)
        snprintf(buf, size, "%.9g to %.9g%s%s", p->min, p->max, *unit ? " " : "", unit);
    else
        snprintf(buf, size, "%s", p->words);
}

void hb_evidence_say_number(const char *before, double value, const char *unit, char *buf,
                            size_t size)
{
    snprintf(buf, size, "%s%.9g%s%s", before, value, *unit ? " " : "", unit);
}

void hb_evidence_say_reading(size_t place, double value, const char *unit, char *buf, size_t size)
{
    snprintf(buf, size, "reading %zu: %.9g %s", place, value, unit);
}
