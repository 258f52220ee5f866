/* SPDX-License-Identifier: GPL-3.0-or-later */
/* evidence_write.c - the list of evidence as a profile has it. */
#include "input/evidence.h"
#include "input/profile.h"
#include "input/quantity.h"

#include <math.h>
#include <string.h>

enum { DIGITS = 17 }; /* that give every double back */

/* A value in SI units as the shortest number of the unit that is read back as the same one; a value
 * may lie between two that can be written, one of which then is the nearest. */
static void put_si(FILE *out, enum hobble_unit unit, double si)
{
    char best[40] = "";
    const double near = hobble_unit_from_si(unit, si);
    const double tried[] = {near, nextafter(near, HUGE_VAL), nextafter(near, -HUGE_VAL)};
    for (int digits = 1; digits <= DIGITS && !*best; digits++)
        for (size_t i = 0; i < sizeof tried / sizeof *tried && !*best; i++) {
            char text[40];
            hb_number_print(tried[i], digits, text, sizeof text);
            const double back = hobble_unit_to_si(unit, hb_number_read(text, NULL));
            if (!(back < si || back > si))
                memcpy(best, text, sizeof best);
        }
    if (!*best)
        hb_number_print(near, DIGITS, best, sizeof best);
    fputs(best, out);
}

static void put_row(FILE *out, const struct hobble_evidence_row *row, const void *item)
{
    const char *at = (const char *)item + row->at;
    const struct hobble_param *p = &row->param;
    const bool whole = p->kind == HOBBLE_WORD || p->unit == HOBBLE_UNIT_WHOLE;
    char word[64];
    double si = (double)NAN;
    int place = 0;
    if (p->kind == HOBBLE_TEXT && !*at)
        return;
    fprintf(out, " %s = ", p->key);
    if (p->kind != HOBBLE_TEXT)
        memcpy(whole ? (void *)&place : (void *)&si, at, whole ? sizeof place : sizeof si);
    if (p->kind == HOBBLE_WORD) {
        hobble_param_word_at(p, place, word, sizeof word);
        hb_quoted_write(out, word);
    } else if (p->kind == HOBBLE_TEXT) {
        hb_quoted_write(out, at);
    } else if (whole) {
        fprintf(out, "%d", place);
    } else {
        put_si(out, p->unit, si);
    }
    fputc(';', out);
}

static void put_list(FILE *out, const char *key, enum hobble_unit unit, const double *si, int count)
{
    fprintf(out, "\n          %s = (", key);
    for (int i = 0; i < count; i++) {
        fputs(i > 0 ? ", " : " ", out);
        put_si(out, unit, si[i]);
    }
    fputs(" );", out);
}

static void put_channel(FILE *out, int channel, const struct hobble_readings *r)
{
    size_t count;
    const struct hobble_evidence_row *row = hobble_evidence_table(&count);
    fputs("        {", out);
    for (size_t i = 0; i < count; i++) {
        if (row[i].place == HOBBLE_IN_GROUP) {
            char word[32];
            hobble_param_word_at(&row[i].param, channel, word, sizeof word);
            fprintf(out, " %s = \"%s\";", row[i].param.key, word);
        } else if (row[i].place == HOBBLE_IN_CHANNEL) {
            put_row(out, &row[i], r);
        }
    }
    put_list(out, "at", HOBBLE_UNIT_MINUTE, r->time, r->count);
    put_list(out, "read", HOBBLE_UNIT_NONE, r->celsius, r->count); /* as they were read */
    fputs(" }", out);
}

static void put_channels(FILE *out, const struct hobble_evidence *item)
{
    const char *before = "\n      temperatures = (\n";
    for (int i = 0; i < HOBBLE_CHANNELS; i++) {
        if (item->channel[i].count == 0)
            continue;
        fputs(before, out);
        put_channel(out, i, &item->channel[i]);
        before = ",\n";
    }
    if (*before == ',')
        fputs(" );", out);
}

void hb_evidence_write(FILE *out, const hobble_case *c)
{
    size_t rows;
    const struct hobble_evidence_row *row = hobble_evidence_table(&rows);
    const size_t count = hobble_case_evidence_count(c);
    if (count == 0)
        return;
    fputs("\n# what is known of it beside these values: docs/evidence.md\nevidence = (\n", out);
    for (size_t i = 0; i < count; i++) {
        const struct hobble_evidence *item = hobble_case_evidence_at(c, i);
        fputs("    {", out);
        for (size_t k = 0; k < rows; k++)
            if (row[k].place == HOBBLE_IN_ITEM && (row[k].kinds >> item->kind & 1u))
                put_row(out, &row[k], item);
        put_channels(out, item);
        fputs(i + 1 < count ? " },\n" : " }\n", out);
    }
    fputs(");\n", out);
}
