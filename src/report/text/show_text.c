/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/describe/figure.h"
#include "report/describe/screen.h"
#include "report/describe/show_words.h"
#include "report/describe/words.h"
#include "report/text/answers.h"

#include <libsmartcols.h>
#include <math.h>
#include <string.h>

static void cell(FILE *f, double si, enum hobble_unit unit, bool us, int decimals, int width)
{
    char text[64];
    hb_quantity_text(si, unit, us, decimals, text, sizeof text);
    fprintf(f, "%*s%s", width - hb_screen_columns(text), "", text);
}

void hb_wall_text(FILE *f, const hobble_case *c, const struct hobble_wall *w, bool us)
{
    enum { LINES = 12, MIDDLE = HOBBLE_WALL_PLACES / 2 };
    hb_print_heading(f, c, &(struct hb_heading){.marking = &w->marking, .example = w->example});
    fprintf(f, "The middle tyre's wall, from the loss of pressure; %s.\n\n",
            hb_end_sentence(w->end));
    fprintf(f, "%12s%12s%12s%12s%12s\n", "time", "way", "inner face", "middle", "outer face");
    for (int i = 0; i <= LINES; i++) {
        const int k = (HOBBLE_WALL_TIMES - 1) * i / LINES;
        cell(f, w->time[k], HOBBLE_UNIT_MINUTE, us, 0, 12);
        cell(f, w->way[k], HOBBLE_UNIT_KILOMETRE, us, 1, 12);
        cell(f, w->kelvin[k][0], HOBBLE_UNIT_CELSIUS, us, 0, 12);
        cell(f, w->kelvin[k][MIDDLE], HOBBLE_UNIT_CELSIUS, us, 0, 12);
        cell(f, w->kelvin[k][HOBBLE_WALL_PLACES - 1], HOBBLE_UNIT_CELSIUS, us, 0, 12);
        fputc('\n', f);
    }
    hb_cautions_of_study(f, HB_NO_ENSEMBLE);
}

void hb_life_text(FILE *f, const hobble_case *c, const struct hobble_life *life, bool us)
{
    enum { LINES = 16 };
    hb_print_heading(f, c,
                     &(struct hb_heading){.marking = &life->marking, .example = life->example});
    fprintf(f, "Life used along %s. %s.\n\n",
            life->ours ? "a journey of ours with two stops" : "the journey",
            hb_life_headline(life));
    fprintf(f, "%10s%10s%10s%12s%30s%12s\n", "", "", "", "", "life used at most by, of 100", "");
    fprintf(f, "%10s%10s%10s%12s%10s%10s%10s%12s\n", "time", "way", "speed", "wall", "5", "half",
            "95", "carrying");
    for (int i = 0; i <= LINES; i++) {
        const struct hobble_life_point *p = &life->point[(life->count - 1) * i / LINES];
        cell(f, p->time, HOBBLE_UNIT_MINUTE, us, 0, 10);
        cell(f, p->way, HOBBLE_UNIT_KILOMETRE, us, 1, 10);
        cell(f, p->speed, HOBBLE_UNIT_KM_PER_HOUR, us, 0, 10);
        cell(f, p->wall50, HOBBLE_UNIT_CELSIUS, us, 0, 12);
        fprintf(f, "%8.0f %%%8.0f %%%8.0f %%%10.1f %%\n", 100.0 * p->life5, 100.0 * p->life50,
                100.0 * p->life95, 100.0 * p->alive);
    }
    hb_cautions_of_study(f, hb_counted(c, life->passed));
}

/* ---- what the mark is worth ------------------------------------------------------------------ */

static void quantile_line(FILE *f, const char *name, const struct hobble_quantile q[3], bool us)
{
    fprintf(f, "  %-22s", name);
    for (int i = 0; i < 3; i++) {
        char at[64], low[64], high[64], all[200];
        hb_distance_down(q[i].at, us, at);
        hb_distance_down(q[i].low, us, low);
        hb_distance_down(q[i].high, us, high);
        low[strcspn(low, " ")] = high[strcspn(high, " ")] = '\0'; /* the unit stands once */
        snprintf(all, sizeof all, "%s%s (%s..%s)", q[i].cut ? ">" : "", at, low, high);
        fprintf(f, " %20s", all);
    }
    fputc('\n', f);
}

static void moments_text(const struct hobble_moments *m, const char *unit, char *buf, size_t size)
{
    snprintf(buf, size, "%.4g +- %.3g %s", m->mean, m->deviation, unit);
}

static int fill(struct libscols_table *table, const hobble_case *c,
                const struct hobble_mark_worth *m)
{
    static const char *const names[] = {"unknown", "all types", "approved types", "moved by"};
    for (size_t i = 0; i < sizeof names / sizeof *names; i++)
        if (!scols_table_new_column(table, names[i], 0, i == 3 ? SCOLS_FL_RIGHT : 0))
            return -1;
    for (int i = 0; i < m->count; i++) {
        const struct hobble_param *row = &hobble_param_table(NULL)[m->row[i]];
        char text[3][96];
        const char *unit = hb_drawn_unit(c, m->row[i]);
        moments_text(&m->row_before[i], unit, text[0], sizeof text[0]);
        moments_text(&m->row_after[i], unit, text[1], sizeof text[1]);
        snprintf(text[2], sizeof text[2], "%+.2f deviations",
                 m->row_before[i].deviation > 0.0
                     ? (m->row_after[i].mean - m->row_before[i].mean) / m->row_before[i].deviation
                     : 0.0);
        struct libscols_line *line = scols_table_new_line(table, NULL);
        if (!line || scols_line_set_data(line, 0, row->key) != 0)
            return -1;
        for (size_t k = 0; k < 3; k++)
            if (scols_line_set_data(line, k + 1, text[k]) != 0)
                return -1;
    }
    return 0;
}

enum hobble_status hb_mark_text(FILE *f, const hobble_case *c, const struct hobble_mark_worth *m,
                                bool us)
{
    struct libscols_table *table = scols_new_table();
    if (!table)
        return HOBBLE_E_MEMORY;
    hb_print_heading(f, c, &(struct hb_heading){.marking = &m->marking, .example = m->example});
    if (m->tested > 0)
        fprintf(f, "%d of %d sampled types pass the approval test.\n\n", m->passed, m->tested);
    else
        fprintf(f, "This construction has no approval test: the mark says nothing.\n\n");
    fprintf(f, "  %-22s %20s %20s %20s\n", "range from now; so many", "95 of 100", "half",
            "5 of 100");
    fprintf(f, "  %-22s %20s %20s %20s\n", "carry at least", "", "", "");
    quantile_line(f, "all types", m->before, us);
    quantile_line(f, "approved types", m->after, us);
    fprintf(f, "  In brackets: ranks that hold the quantile, 95 of 100 sure (binomial law).\n"
               "\nWhat passing says of each unknown, mean +- deviation:\n\n");
    enum hobble_status status = HOBBLE_E_MEMORY;
    if (fill(table, c, m) == 0) {
        scols_table_set_stream(table, f);
        scols_table_enable_maxout(table, 0);
        scols_table_set_termforce(table, SCOLS_TERMFORCE_NEVER);
        status = scols_print_table(table) == 0 ? HOBBLE_OK : HOBBLE_E_MEMORY;
    }
    scols_unref_table(table);
    hb_cautions_of_study(f, hb_counted(c, m->passed));
    return status;
}
