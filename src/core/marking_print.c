/* SPDX-License-Identifier: GPL-3.0-or-later */
/* marking_print.c - writes a marking in its usual form, and turns it into lengths. */
#include "core/tables.h"
#include "hobble.h"

#include <string.h>

static bool is_whole(double value, double least, double most)
{
    return value >= least && value <= most && value <= (int)value; /* false for a NaN */
}

static bool is_valid(const struct hobble_marking *m)
{
    double kmh = hobble_speed_symbol_kmh(m->speed_symbol);

    if (!is_whole(m->width_mm, HB_WIDTH_MIN, HB_WIDTH_MAX) || !hb_width_allowed((int)m->width_mm))
        return false;
    if (!is_whole(m->aspect, HB_ASPECT_MIN, HB_ASPECT_MAX) || !hb_aspect_allowed((int)m->aspect))
        return false;
    if (!(hobble_rim_diameter(m->rim_code) > 0.0) || !(hobble_load_index_kg(m->load_index) > 0.0))
        return false;
    if (m->flat != HOBBLE_MARK_NONE && m->flat != HOBBLE_MARK_RF)
        return false;
    if (m->above_300 && m->speed_symbol != 'Y')
        return false;
    if (m->speed_symbol == 0)
        return true;
    return kmh > (m->z_rated ? HB_Z_ABOVE_KMH : 0);
}

/* The longest marking is P355/85 ZRF24 (125Y) XL: line needs no check beyond this size. */
enum { LINE_SIZE = 32 };

struct line {
    char text[LINE_SIZE];
    size_t used;
};

static void put_text(struct line *line, const char *text)
{
    size_t length = strlen(text);

    if (length < LINE_SIZE - line->used) {
        memcpy(line->text + line->used, text, length + 1);
        line->used += length;
    }
}

/* value 0..999 */
static void put_number(struct line *line, int value)
{
    char digits[4] = {(char)('0' + value / 100 % 10), (char)('0' + value / 10 % 10),
                      (char)('0' + value % 10), '\0'};

    put_text(line, value >= 100 ? digits : value >= 10 ? digits + 1 : digits + 2);
}

enum hobble_status hobble_marking_print(const struct hobble_marking *marking, char *buf,
                                        size_t size)
{
    struct line line = {.used = 0};
    char symbol[2] = {0, 0};

    if (buf == NULL || size == 0)
        return HOBBLE_E_TOO_LARGE;
    buf[0] = '\0';
    if (marking == NULL)
        return HOBBLE_E_MISSING;
    if (!is_valid(marking))
        return HOBBLE_E_RANGE;
    symbol[0] = marking->speed_symbol;
    put_text(&line, marking->p_metric ? "P" : "");
    put_number(&line, (int)marking->width_mm);
    put_text(&line, "/");
    put_number(&line, (int)marking->aspect);
    put_text(&line, marking->z_rated ? " ZR" : " R");
    put_text(&line, marking->flat == HOBBLE_MARK_RF ? "F" : "");
    put_number(&line, marking->rim_code);
    put_text(&line, marking->above_300 ? " (" : " ");
    put_number(&line, marking->load_index);
    put_text(&line, symbol);
    put_text(&line, marking->above_300 ? ")" : "");
    put_text(&line, marking->extra_load ? " XL" : "");
    if (line.used >= size)
        return HOBBLE_E_TOO_LARGE;
    memcpy(buf, line.text, line.used + 1);
    return HOBBLE_OK;
}

struct hobble_geometry hobble_marking_geometry(const struct hobble_marking *marking)
{
    struct hobble_geometry g = {0.0, 0.0, 0.0, 0.0, 0.0};

    if (marking == NULL || !is_valid(marking))
        return g; /* all zero: there is no such tyre */
    g.section_width = marking->width_mm / 1000.0;
    /* One division of an exact product, so that H is S*a/100 to the last bit: UN R30, section 6. */
    g.section_height = marking->width_mm * marking->aspect / 100000.0;
    g.rim_diameter = hobble_rim_diameter(marking->rim_code);
    g.overall_diameter = g.rim_diameter + 2.0 * g.section_height;
    g.free_radius = g.overall_diameter / 2.0;
    return g;
}
