/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/describe/map_words.h"

#include "report/describe/message.h"
#include "report/describe/words.h"

#include "input/quantity.h"

#include <stdio.h>
#include <string.h>

static bool is_share(const struct hobble_param *row)
{
    return strcmp(row->key, "load_share") == 0;
}

double hb_axis_shown(const struct hobble_axis *axis, bool us, double value)
{
    const struct hobble_param *row = &hobble_param_table(NULL)[axis->row];
    if (is_share(row))
        return 100.0 * value;
    if (us)
        hb_quantity_us(row->unit, &value);
    return value;
}

void hb_axis_title(const struct hobble_axis *axis, bool us, char *buf, size_t size)
{
    static const struct {
        const char *key;
        enum hb_message title;
    } titles[] = {
        {"speed", HB_SAY_AXIS_SPEED},           {"load", HB_SAY_AXIS_LOAD},
        {"load_share", HB_SAY_AXIS_LOAD_SHARE}, {"ambient", HB_SAY_AXIS_AMBIENT},
        {"pressure", HB_SAY_AXIS_PRESSURE},     {"run", HB_SAY_AXIS_RUN},
    };
    const struct hobble_param *row = &hobble_param_table(NULL)[axis->row];
    double unused = 0.0;
    const char *unit = us ? hb_quantity_us(row->unit, &unused) : hobble_unit_symbol(row->unit);
    char title[64];
    hb_words_spaced(row->key, title, sizeof title);
    for (size_t i = 0; i < sizeof titles / sizeof *titles; i++)
        if (strcmp(titles[i].key, row->key) == 0)
            snprintf(title, sizeof title, "%s", hb_message_text(titles[i].title));
    const char *degree = row->unit == HOBBLE_UNIT_CELSIUS ? "\u00B0" : "";
    snprintf(buf, size, "%s%s%s%s", title, *unit ? ", " : "", degree, unit);
}
