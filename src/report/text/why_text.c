/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/describe/why_words.h"
#include "report/describe/words.h"
#include "report/text/answers.h"

#include <libsmartcols.h>
#include <math.h>
#include <string.h>

static void share_text(double value, double low, double high, char *buf, size_t size)
{
    if (isnan(value))
        snprintf(buf, size, "-");
    else if (isnan(low))
        snprintf(buf, size, "%.2f", value);
    else
        snprintf(buf, size, "%.2f (%.2f..%.2f)", value, low, high);
}

static int fill(struct libscols_table *table, const struct hobble_why *w)
{
    static const char *const names[] = {"unknown", "range: alone", "range: in all", "peak: in all",
                                        "arrival: in all"};
    int place[HOBBLE_INDICES_MAX];
    hb_why_order(w, place);
    for (size_t i = 0; i < sizeof names / sizeof *names; i++)
        if (!scols_table_new_column(table, names[i], 0, i > 0 ? SCOLS_FL_RIGHT : 0))
            return -1;
    for (int i = 0; i < w->count; i++) {
        char text[4][64];
        const struct hobble_index *x = &w->index[HOBBLE_WHY_RANGE][place[i]];
        share_text(x->first, x->first_low, x->first_high, text[0], sizeof text[0]);
        for (int k = 0; k < HOBBLE_WHY_OUTPUTS; k++) {
            const struct hobble_index *of = &w->index[k][place[i]];
            share_text(of->total, of->total_low, of->total_high, text[k + 1], sizeof text[0]);
        }
        struct libscols_line *line = scols_table_new_line(table, NULL);
        if (!line || scols_line_set_data(line, 0, hobble_param_table(NULL)[x->row].key) != 0)
            return -1;
        for (size_t k = 0; k < 4; k++)
            if (scols_line_set_data(line, k + 1, text[k]) != 0)
                return -1;
    }
    return 0;
}

static void tail(FILE *f, const struct hobble_why *w, bool us)
{
    char peak[64], spread[64], way[64];
    hb_quantity_text(exp(w->mean[HOBBLE_WHY_RANGE]), HOBBLE_UNIT_KILOMETRE, us, 0, way, sizeof way);
    hb_quantity_text(w->mean[HOBBLE_WHY_PEAK], HOBBLE_UNIT_CELSIUS, us, 0, peak, sizeof peak);
    hb_quantity_text(w->deviation[HOBBLE_WHY_PEAK], HOBBLE_UNIT_KELVIN, us, 1, spread,
                     sizeof spread);
    fprintf(f, "\nalone: share of the variance that is gone when this alone is known.\n"
               "in all: share that it takes part in. In brackets: 95 of 100 sure.\n");
    fprintf(f, "range: from the loss of pressure, middle %s, one deviation a factor of %.2f.\n",
            way, exp(w->deviation[HOBBLE_WHY_RANGE]));
    fprintf(f, "peak: %s, one deviation %s. arrival: %.1f %% arrive.\n", peak, spread,
            100.0 * w->mean[HOBBLE_WHY_ARRIVAL]);
    fprintf(f,
            "Inputs are drawn independently of each other, from all types and not only from\n"
            "those that pass approval; %d journeys.\n",
            w->runs);
    hb_caution_few(f, w->base);
}

enum hobble_status hb_why_text(FILE *f, const hobble_case *c, const struct hobble_why *w, bool us)
{
    char advice[320], way[64], pace[64];
    struct libscols_table *table = scols_new_table();
    if (!table)
        return HOBBLE_E_MEMORY;
    hb_print_heading(f, c, &(struct hb_heading){.marking = &w->marking, .example = w->example});
    hb_why_advice(w, advice, sizeof advice);
    hb_print_wrapped(f, "", 0, advice);
    hb_quantity_text(w->distance, HOBBLE_UNIT_KILOMETRE, us, 1, way, sizeof way);
    hb_quantity_text(w->speed, HOBBLE_UNIT_KM_PER_HOUR, us, 0, pace, sizeof pace);
    fprintf(f, "\nShares of the variance, %s from now at %s without air:\n\n", way, pace);
    enum hobble_status status = HOBBLE_E_MEMORY;
    if (fill(table, w) == 0) {
        scols_table_set_stream(table, f);
        scols_table_enable_maxout(table, 0);
        scols_table_set_termforce(table, SCOLS_TERMFORCE_NEVER);
        status = scols_print_table(table) == 0 ? HOBBLE_OK : HOBBLE_E_MEMORY;
    }
    scols_unref_table(table);
    tail(f, w, us);
    return status;
}
