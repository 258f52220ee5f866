/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/describe/policy.h"
#include "report/describe/words.h"
#include "report/text/answers.h"

#include <libsmartcols.h>
#include <math.h>
#include <stdlib.h>

/* ---- tables ---------------------------------------------------------------------------------- */

static struct libscols_table *new_table(const char *const *column, int columns, int left)
{
    struct libscols_table *t = scols_new_table();
    for (int i = 0; t && i < columns; i++)
        if (!scols_table_new_column(t, column[i], 0, i < left ? 0 : SCOLS_FL_RIGHT)) {
            scols_unref_table(t);
            return NULL;
        }
    return t;
}

static bool add_line(struct libscols_table *t, char cell[][HOBBLE_FAULT_TEXT], int columns)
{
    struct libscols_line *line = scols_table_new_line(t, NULL);
    for (int i = 0; line && i < columns; i++)
        if (scols_line_set_data(line, (size_t)i, cell[i]) != 0)
            return false;
    return line != NULL;
}

static enum hobble_status print_table(FILE *f, struct libscols_table *t, bool good)
{
    if (good) {
        scols_table_set_stream(t, f);
        scols_table_enable_maxout(t, 0);
        scols_table_set_termforce(t, SCOLS_TERMFORCE_NEVER);
        good = scols_print_table(t) == 0;
    }
    scols_unref_table(t);
    return good ? HOBBLE_OK : HOBBLE_E_MEMORY;
}

static enum hobble_status rows(FILE *f, const struct hb_policy_report *r)
{
    struct libscols_table *t = new_table(hb_policy_columns, HB_POLICY_CELLS, 3);
    bool good = t != NULL;
    for (int i = 0; good && i < r->policy->rows; i++) {
        char cell[HB_POLICY_CELLS][HOBBLE_FAULT_TEXT];
        hb_policy_cells(r, i, cell);
        good = add_line(t, cell, HB_POLICY_CELLS);
    }
    return t ? print_table(f, t, good) : HOBBLE_E_MEMORY;
}

static enum hobble_status costs(FILE *f, const struct hb_policy_report *r)
{
    enum { COLUMNS = 5 };
    char money[64];
    snprintf(money, sizeof money, "%s a vehicle and 100 000 km", r->fleet->money);
    const char *const column[COLUMNS] = {"construction", money, "stranded a million km",
                                         "a puncture strands", "self-supporting pays"};
    struct libscols_table *t = new_table(column, COLUMNS, 1);
    bool good = t != NULL;
    for (int b = 0; good && b < HOBBLE_BUILDS; b++) {
        const struct hobble_policy_cost *c = &r->policy->cost[b];
        char cell[COLUMNS][HOBBLE_FAULT_TEXT];
        hobble_fault_text(cell[0], hobble_build_name((enum hobble_build)b));
        snprintf(cell[1], HOBBLE_FAULT_TEXT, "%.0f (%.0f..%.0f)", c->cost.middle, c->cost.p5,
                 c->cost.p95);
        snprintf(cell[2], HOBBLE_FAULT_TEXT, "%.1f (%.1f..%.1f)", c->stranded.middle,
                 c->stranded.p5, c->stranded.p95);
        hb_policy_percent(c->stranding, cell[3], HOBBLE_FAULT_TEXT);
        hb_policy_break(r, (enum hobble_build)b, cell[4], HOBBLE_FAULT_TEXT);
        good = add_line(t, cell, COLUMNS);
    }
    return t ? print_table(f, t, good) : HOBBLE_E_MEMORY;
}

/* ---- the text -------------------------------------------------------------------------------- */

static void simple_rule(FILE *f, const struct hb_policy_report *r)
{
    char line[HB_POLICY_LINES][HB_POLICY_TEXT], text[1200], head[24];
    const int lines = hb_policy_lines(r, line);
    hb_policy_few(r, text, sizeof text);
    if (*text)
        hb_print_wrapped(f, "", 0, text);
    fprintf(f, "%sTHE RULE\n", *text ? "\n" : "");
    for (int i = 0; i < lines; i++) {
        snprintf(head, sizeof head, "  %d. ", i + 1);
        hb_print_wrapped(f, head, 5, line[i]);
    }
    hb_policy_verdict(r, text, sizeof text);
    fputc('\n', f);
    hb_print_wrapped(f, "  ", 2, text);
}

static void sensitivity(FILE *f, const struct hb_policy_report *r)
{
    char text[1200], way[40], flipped[32];
    fprintf(f, "\nWhat would change it\n");
    hb_policy_first(r, text, sizeof text);
    hb_print_wrapped(f, "  ", 2, text);
    for (int i = 0; i < HOBBLE_SHIFTS; i++) {
        const struct hobble_shift *s = &r->policy->shift[i];
        hb_quantity_text(s->change, HOBBLE_UNIT_KILOMETRE, r->us, 1, way, sizeof way);
        hb_policy_percent(s->flipped, flipped, sizeof flipped);
        fprintf(f, "  %-48s %9s, go or stop turns in %s of km\n", hobble_shift_what(s->code), way,
                flipped);
    }
}

enum hobble_status hb_policy_text(FILE *f, const struct hb_policy_report *r)
{
    char text[3000], km[40];
    int vehicles = 0;
    for (int i = 0; i < r->fleet->vehicles; i++)
        vehicles += r->fleet->vehicle[i].count;
    hb_quantity_text(r->policy->fleet_km * 1e3, HOBBLE_UNIT_KILOMETRE, r->us, 0, km, sizeof km);
    fprintf(f, "Fleet: %s; %d vehicles, %s a year\n\n", r->fleet->name, vehicles, km);
    simple_rule(f, r);
    fprintf(f, "\nEvery vehicle, load and season, from the warning on\n");
    enum hobble_status status = rows(f, r);
    fprintf(
        f, "\n  Always stopping: no tyre fails on the way, and every warning strands a vehicle.\n");
    hb_policy_plain_rule(r, text, sizeof text);
    hb_print_wrapped(f, "  ", 2, text);
    fprintf(f, "\nWhat other constructions cost (5 to 95 of 100 draws; break-even in punctures per "
               "100 000 km)\n");
    if (status == HOBBLE_OK)
        status = costs(f, r);
    sensitivity(f, r);
    fprintf(f, "\nMethod\n");
    hb_policy_method(r, text, sizeof text);
    hb_print_wrapped(f, "  ", 2, text);
    fprintf(f, "\nCautions\n");
    for (int i = 0; hb_policy_cautions[i]; i++)
        hb_print_wrapped(f, "  ", 2, hb_policy_cautions[i]);
    return status;
}

enum hobble_status hb_policy_explain(FILE *f, const struct hb_policy_report *r)
{
    enum { COLUMNS = 6 };
    static const char *const column[COLUMNS] = {"key",   "value",  "spread",
                                                "known", "set by", "source"};
    size_t count;
    const struct hobble_fleet_row *row = hobble_fleet_table(&count);
    struct libscols_table *t = new_table(column, COLUMNS, COLUMNS);
    bool good = t != NULL;
    char text[400];
    fprintf(f, "\nEvery number of the fleet\n");
    for (size_t i = 0; good && i < count; i++) {
        const struct hobble_fleet_number *n = &r->fleet->number[i];
        char cell[COLUMNS][HOBBLE_FAULT_TEXT];
        hobble_fault_text(cell[0], row[i].key);
        hb_policy_number(r->fleet, (int)i, cell[1], HOBBLE_FAULT_TEXT);
        cell[2][0] = '\0';
        if (n->spread > 0.0)
            snprintf(cell[2], HOBBLE_FAULT_TEXT, "x/ %.3g", exp(n->spread));
        hobble_fault_text(cell[3], hobble_provenance_word(n->provenance));
        hobble_fault_text(cell[4], n->origin);
        hobble_fault_text(cell[5], n->source);
        good = add_line(t, cell, COLUMNS);
    }
    const enum hobble_status status = t ? print_table(f, t, good) : HOBBLE_E_MEMORY;
    hb_policy_help(r, text, sizeof text);
    fprintf(f, "\nHelp: %s\n", text);
    for (int i = 0; i < r->fleet->sites; i++)
        fprintf(f, "Weather: %s\n", r->fleet->site[i]);
    return status;
}
