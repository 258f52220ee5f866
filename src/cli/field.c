/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/field.h"
#include "cli/progress.h"

#include "input/quantity.h"
#include "input/setting.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

enum { STEPS = 40, MEMBERS = 800 /* enough pass approval, see hobble_too_few */, PARTS = 4 };

void hb_members_where_not_given(struct cli *cli, int members)
{
    const int row = hobble_param_find("members");
    if (!hobble_case_given(cli->c, row))
        hobble_case_set_number(cli->c, row, members, cli->program, NULL);
}

/* ---- axes ------------------------------------------------------------------------------------ */

static enum hobble_status bad_axis(struct cli *cli, int a, enum hobble_status status,
                                   const char *allowed)
{
    struct hobble_fault f = {.status = status};
    hobble_fault_text(f.key, a == 0 ? "--x" : "--y");
    hobble_fault_text(f.given, cli->axis[a]);
    hobble_fault_text(f.allowed, allowed);
    return hobble_faults_add(&cli->faults, &f);
}

/* One end of an axis; "75%" is a share. */
static bool read_end(const char *text, const struct hobble_param *row, bool share, double *value)
{
    char bare[64];
    const size_t length = strlen(text);
    if (!share)
        return hb_quantity_parse(text, row->unit, HB_QUANTITY, value, NULL) == HOBBLE_OK;
    if (length < 2 || length > sizeof bare)
        return false;
    memcpy(bare, text, length - 1);
    bare[length - 1] = '\0';
    if (hb_quantity_parse(bare, HOBBLE_UNIT_NONE, HB_QUANTITY, value, NULL) != HOBBLE_OK)
        return false;
    *value /= 100.0;
    return true;
}

/* Cuts "from:to:count" in place; returns how many parts there are. */
static int cut(char *text, char *part[PARTS])
{
    int n = 0;
    for (char *p = text; p && n < PARTS;) {
        part[n++] = p;
        p = strchr(p, ':');
        if (p)
            *p++ = '\0';
    }
    return n;
}

static bool is_share(const char *text)
{
    return *text && text[strlen(text) - 1] == '%';
}

/* Whether the ends are within the row; a fault says what the row takes. */
static enum hobble_status check_ends(struct cli *cli, int a, const struct hobble_axis *axis)
{
    const struct hobble_param *row = &hobble_param_table(NULL)[axis->row];
    char allowed[HOBBLE_FAULT_TEXT], least[40], most[40];
    if (axis->from >= row->min && axis->to <= row->max && axis->from < axis->to)
        return HOBBLE_OK;
    hb_number_print(row->min, 6, least, sizeof least);
    hb_number_print(row->max, 6, most, sizeof most);
    snprintf(allowed, sizeof allowed, "rising, from %s to %s %s", least, most,
             hobble_unit_symbol(row->unit));
    return bad_axis(cli, a, HOBBLE_E_RANGE, allowed);
}

static enum hobble_status read_count(struct cli *cli, int a, const char *text, int *count)
{
    char *end;
    const long n = strtol(text, &end, 10);
    if (end == text || *end || n < 2 || n > HOBBLE_AXIS_MAX)
        return bad_axis(cli, a, HOBBLE_E_RANGE, "2 to 400 steps");
    *count = (int)n;
    return HOBBLE_OK;
}

static enum hobble_status unknown_axis(struct cli *cli, int a, const char *key)
{
    struct hb_near near = hb_near_to(key);
    size_t rows;
    const struct hobble_param *p = hobble_param_table(&rows);
    bad_axis(cli, a, HOBBLE_E_UNKNOWN, "a key that hobble profile keys lists");
    for (size_t i = 0; i < rows; i++)
        if (hobble_axis_row((int)i))
            hb_near_try(&near, p[i].key);
    hb_fault_meant(&cli->faults, &near);
    return HOBBLE_E_UNKNOWN;
}

/* "KEY=FROM:TO:COUNT" */
static enum hobble_status read_axis(struct cli *cli, int a, struct hobble_axis *axis)
{
    static const char form[] = "KEY=FROM:TO or KEY=FROM:TO:COUNT, such as speed=40:120:40";
    char text[HOBBLE_FAULT_TEXT], *part[PARTS];
    const size_t length = strlen(cli->axis[a]);
    if (length >= sizeof text)
        return bad_axis(cli, a, HOBBLE_E_TOO_LARGE, form);
    memcpy(text, cli->axis[a], length + 1);
    char *value = strchr(text, '=');
    if (!value)
        return bad_axis(cli, a, HOBBLE_E_SYNTAX, form);
    *value++ = '\0';
    for (char *p = text; *p; p++)
        if (*p == '-')
            *p = '_';
    const int parts = cut(value, part);
    if (parts < 2 || parts > 3)
        return bad_axis(cli, a, HOBBLE_E_SYNTAX, form);
    const bool share = strcmp(text, "load") == 0 && is_share(part[0]) && is_share(part[1]);
    axis->row = hobble_param_find(share ? "load_share" : text);
    if (axis->row < 0)
        return unknown_axis(cli, a, text);
    if (!hobble_axis_row(axis->row))
        return bad_axis(cli, a, HOBBLE_E_UNSUPPORTED, "a number that changes the range");
    const struct hobble_param *row = &hobble_param_table(NULL)[axis->row];
    if (!read_end(part[0], row, share, &axis->from) || !read_end(part[1], row, share, &axis->to))
        return bad_axis(cli, a, HOBBLE_E_SYNTAX, form);
    const enum hobble_status status = check_ends(cli, a, axis);
    if (status != HOBBLE_OK)
        return status;
    axis->count = STEPS;
    if (row->unit == HOBBLE_UNIT_WHOLE && axis->to - axis->from < STEPS)
        axis->count = 1 + (int)(axis->to - axis->from);
    return parts == 3 ? read_count(cli, a, part[2], &axis->count) : HOBBLE_OK;
}

enum hobble_status hb_field_make(struct cli *cli, struct hobble_map *map)
{
    struct hobble_axis axis[2] = {
        {hobble_param_find("speed"), 40.0, 120.0, STEPS},
        {hobble_param_find("load_share"), 0.5, 1.0, STEPS},
    };
    struct hb_progress progress;
    enum hobble_status status = HOBBLE_OK;
    for (int a = 0; a < 2; a++)
        if (cli->axis[a]) {
            const enum hobble_status read = read_axis(cli, a, &axis[a]);
            status = status != HOBBLE_OK ? status : read;
        }
    if (status != HOBBLE_OK)
        return status;
    hb_members_where_not_given(cli, MEMBERS);
    hb_progress_begin(&progress);
    status = hobble_map_make(cli->c, axis, cli->threads, isatty(2) ? hb_progress_show : NULL,
                             &progress, map, &cli->faults);
    hb_progress_end(&progress);
    return status;
}
