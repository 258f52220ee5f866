/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/text/explain.h"

#include "input/quantity.h"

#include <libsmartcols.h>
#include <math.h>
#include <stdlib.h>

static void value_text(const hobble_case *c, int i, const struct hobble_param *row, char *buf,
                       size_t size)
{
    const double value = hobble_case_number(c, i);
    if (row->kind == HOBBLE_TEXT)
        snprintf(buf, size, "%s", hobble_case_text(c, i));
    else if (row->kind == HOBBLE_WORD)
        hobble_param_word_at(row, (int)value, buf, size);
    else
        hb_quantity_print(value, row->unit, false, 6, buf, size);
}

static void spread_text(const hobble_case *c, int i, const struct hobble_param *row, char *buf,
                        size_t size)
{
    const double spread = hobble_case_spread(c, i);
    buf[0] = '\0';
    if (row->stage == HOBBLE_NOT_DRAWN)
        return;
    if (row->shape == HOBBLE_LOGNORMAL)
        snprintf(buf, size, "x/ %.3g", exp(spread));
    else
        hb_quantity_print(spread, row->unit == HOBBLE_UNIT_CELSIUS ? HOBBLE_UNIT_KELVIN : row->unit,
                          false, 4, buf, size);
}

static int add_row(struct libscols_table *table, const hobble_case *c, int i,
                   const struct hobble_param *row)
{
    char value[HOBBLE_FAULT_TEXT], spread[64];
    struct libscols_line *line = scols_table_new_line(table, NULL);
    if (!line)
        return -1;
    value_text(c, i, row, value, sizeof value);
    spread_text(c, i, row, spread, sizeof spread);
    const char *cell[] = {
        row->key,
        value,
        spread,
        row->kind == HOBBLE_TEXT ? "" : hobble_provenance_word(hobble_case_provenance(c, i)),
        hobble_case_origin(c, i),
        hobble_case_source(c, i)};
    for (size_t k = 0; k < sizeof cell / sizeof *cell; k++)
        if (scols_line_set_data(line, k, cell[k]) != 0)
            return -1;
    return 0;
}

static enum hobble_status fill(struct libscols_table *table, const hobble_case *c)
{
    static const char *const column[] = {"key", "value", "spread", "known", "set by", "source"};
    size_t count;
    const struct hobble_param *row = hobble_param_table(&count);
    for (size_t i = 0; i < sizeof column / sizeof *column; i++)
        if (!scols_table_new_column(table, column[i], 0, 0))
            return HOBBLE_E_MEMORY;
    for (size_t i = 0; i < count; i++)
        if (add_row(table, c, (int)i, &row[i]) != 0)
            return HOBBLE_E_MEMORY;
    return HOBBLE_OK;
}

enum hobble_status hb_explain_table(FILE *f, const hobble_case *c)
{
    struct libscols_table *table = scols_new_table();
    if (!table)
        return HOBBLE_E_MEMORY;
    fprintf(
        f,
        "\nEvery value used. x/: factor of one standard deviation; source of the built-in value\n"
        "or as the profile gives it.\n\n");
    enum hobble_status status = fill(table, c);
    if (status == HOBBLE_OK) {
        scols_table_set_stream(table, f);
        scols_table_enable_maxout(table, 0);
        scols_table_set_termforce(table, SCOLS_TERMFORCE_NEVER);
        status = scols_print_table(table) == 0 ? HOBBLE_OK : HOBBLE_E_MEMORY;
    }
    scols_unref_table(table);
    return status;
}
