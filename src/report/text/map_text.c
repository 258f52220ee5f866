/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/describe/map_words.h"
#include "report/describe/words.h"
#include "report/text/answers.h"

#include "input/quantity.h"

#include <libsmartcols.h>
#include <math.h>
#include <string.h>

enum { COLUMNS_MOST = 9, LINES_MOST = 11 };

/* ---- the table ------------------------------------------------------------------------------- */

/* Places to print out of count: all, or evenly chosen ones with both ends. */
static int choose(int count, int most, int *place)
{
    const int n = count < most ? count : most;
    for (int i = 0; i < n; i++)
        place[i] = n > 1 ? (int)lround((double)i * (count - 1) / (n - 1)) : 0;
    return n;
}

static void cell_text(const struct hobble_map *m, size_t cell, bool us, char *buf, size_t size)
{
    double km = m->p5[cell] / 1e3;
    if (isnan(km)) {
        snprintf(buf, size, "rim");
        return;
    }
    if (us)
        hb_quantity_us(HOBBLE_UNIT_KILOMETRE, &km);
    snprintf(buf, size, "%s%.0f%s%s", m->cut[cell] & 1 ? ">" : "", floor(km),
             m->holds[cell] ? "" : "-", m->outside[cell] ? "?" : "");
}

static int fill(struct libscols_table *table, const struct hobble_map *m, bool us)
{
    int column[COLUMNS_MOST], line[LINES_MOST];
    const int columns = choose(m->axis[0].count, COLUMNS_MOST, column);
    const int lines = choose(m->axis[1].count, LINES_MOST, line);
    char text[64];
    if (!scols_table_new_column(table, "", 0, SCOLS_FL_RIGHT))
        return -1;
    for (int i = 0; i < columns; i++) {
        hb_number_print(hb_axis_shown(&m->axis[0], us, m->value[0][column[i]]), 3, text,
                        sizeof text);
        if (!scols_table_new_column(table, text, 0, SCOLS_FL_RIGHT))
            return -1;
    }
    for (int k = lines - 1; k >= 0; k--) { /* upwards, as in the picture */
        struct libscols_line *at = scols_table_new_line(table, NULL);
        if (!at)
            return -1;
        hb_number_print(hb_axis_shown(&m->axis[1], us, m->value[1][line[k]]), 3, text, sizeof text);
        if (scols_line_set_data(at, 0, text) != 0)
            return -1;
        for (int i = 0; i < columns; i++) {
            const size_t cell = (size_t)line[k] * (size_t)m->axis[0].count + (size_t)column[i];
            cell_text(m, cell, us, text, sizeof text);
            if (scols_line_set_data(at, (size_t)i + 1, text) != 0)
                return -1;
        }
    }
    return 0;
}

enum hobble_status hb_map_text(FILE *f, const hobble_case *c, const struct hobble_map *m, bool us)
{
    char across[96], up[96];
    struct libscols_table *table = scols_new_table();
    if (!table)
        return HOBBLE_E_MEMORY;
    hb_axis_title(&m->axis[0], us, across, sizeof across);
    hb_axis_title(&m->axis[1], us, up, sizeof up);
    hb_print_heading(f, c, &(struct hb_heading){.marking = &m->marking, .example = m->example});
    fprintf(f,
            "Range from now in %s: 95 of 100 carry at least this; %d of %d types pass approval.\n",
            us ? "mi" : "km", m->passed, m->tested);
    fprintf(f, "Across: %s. Up: %s. %d x %d computed.\n\n", across, up, m->axis[0].count,
            m->axis[1].count);
    enum hobble_status status = HOBBLE_E_MEMORY;
    if (fill(table, m, us) == 0) {
        scols_table_set_stream(table, f);
        scols_table_enable_maxout(table, 0);
        scols_table_set_termforce(table, SCOLS_TERMFORCE_NEVER);
        status = scols_print_table(table) == 0 ? HOBBLE_OK : HOBBLE_E_MEMORY;
    }
    scols_unref_table(table);
    fprintf(
        f,
        "\n-   the rule does not hold: 80 km at that speed, flat from the first metre, by %.4g %%\n"
        "    beyond doubt by chance, with nothing else in the way (hobble rule)\n"
        "?   outside the checked range     >   more than     rim   no range: on the rim\n",
        100.0 * m->required);
    hb_cautions_of_study(f, m->counted);
    return status;
}
