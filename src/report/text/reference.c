/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/text/reference.h"

#include "hobble.h"
#include "input/evidence.h"
#include "input/quantity.h"
#include "report/describe/evidence_rows.h"

#include <math.h>
#include <string.h>

static void number(double value, char *buf, size_t size)
{
    if (isnan(value))
        snprintf(buf, size, "not given");
    else
        hb_number_print(value, 9, buf, size);
}

/* Default, limits and spread of a row, in words. */
static void describe(const struct hobble_param *p, char *buf, size_t size)
{
    char value[40], min[40], max[40], word[40];
    const char *unit = hobble_unit_symbol(p->unit);
    if (p->kind == HOBBLE_TEXT) {
        snprintf(buf, size, "text");
    } else if (p->kind == HOBBLE_WORD) {
        hobble_param_word_at(p, (int)p->value, word, sizeof word);
        snprintf(buf, size, "%s; default %s", p->words, word);
        for (char *bar = strchr(buf, '|'); bar; bar = strchr(bar, '|'))
            *bar = '/';
    } else {
        number(p->value, value, sizeof value);
        number(p->min, min, sizeof min);
        number(p->max, max, sizeof max);
        const int n =
            snprintf(buf, size, "%s; %s to %s%s%s", value, min, max, *unit ? " " : "", unit);
        if (p->stage != HOBBLE_NOT_DRAWN && n > 0 && (size_t)n < size) {
            hb_number_print(p->spread, 4, value, sizeof value);
            snprintf(buf + n, size - (size_t)n, "; drawn with the %s, %s %s",
                     p->stage == HOBBLE_WITH_TYPE ? "type" : "unit",
                     p->shape == HOBBLE_LOGNORMAL ? "lognormal, log-sd"
                     : p->shape == HOBBLE_UNIFORM ? "uniform, half the width"
                                                  : "normal, sd",
                     value);
        }
    }
}

static const char *const about_group[] = {"Rows of a tyre profile", "Rows of a vehicle profile",
                                          "What happens and is asked", "How it is computed"};

static const char *heading(enum hobble_group group)
{
    return (size_t)group < sizeof about_group / sizeof *about_group ? about_group[group]
                                                                    : hobble_group_word(group);
}

void hb_reference_markdown(FILE *f)
{
    size_t count;
    const struct hobble_param *p = hobble_param_table(&count);
    fprintf(
        f,
        "# Every quantity that can be set\n\n"
        "Generated from the parameter table (`hobble profile keys`); do not edit. A key stands in "
        "a\n"
        "profile, after `--set`, and where it is asked of a driver also as an option with `-` for "
        "`_`.\n"
        "How a value is known: *published* (a source is named), *practice* (common practice, no\n"
        "source), *memory* (recalled, unconfirmed), *fitted* (chosen so that checks hold), "
        "*assumed*.\n");
    for (size_t i = 0; i < count; i++) {
        char text[400];
        if (i == 0 || p[i].group != p[i - 1].group)
            fprintf(f,
                    "\n## %s\n\n| key | value and limits | known | source | meaning |\n"
                    "|---|---|---|---|---|\n",
                    heading(p[i].group));
        describe(&p[i], text, sizeof text);
        fprintf(f, "| `%s` | %s | %s | %s | %s |\n", p[i].key, text,
                p[i].kind == HOBBLE_NUMBER ? hobble_provenance_word(p[i].provenance) : "",
                p[i].kind == HOBBLE_NUMBER ? p[i].source : "", p[i].meaning);
    }
}

/* ---- evidence -------------------------------------------------------------------------------- */

/* What a key takes, and the value when it is not given. */
static void describe_evidence(const struct hobble_evidence_row *row, char *buf, size_t size)
{
    const struct hobble_param *p = &row->param;
    char value[64], range[HOBBLE_FAULT_TEXT], *bar;
    const bool listed = row->place == HOBBLE_IN_LISTS || row->place == HOBBLE_AS_GROUPS;
    hb_evidence_allowed(row, range, sizeof range);
    while ((bar = strchr(range, '|')) != NULL)
        *bar = '/';
    if (p->kind == HOBBLE_WORD)
        hobble_param_word_at(p, isnan(p->value) ? -1 : (int)p->value, value, sizeof value);
    else
        number(p->value, value, sizeof value);
    if (row->place == HOBBLE_AS_GROUPS)
        snprintf(buf, size, "list of groups");
    else if (p->kind == HOBBLE_TEXT)
        snprintf(buf, size, "text");
    else if (listed)
        snprintf(buf, size, "list; each %s", range);
    else if (isnan(p->value))
        snprintf(buf, size, "%s; needed", range);
    else if (p->kind == HOBBLE_WORD)
        snprintf(buf, size, "%s; default %s", range, value);
    else
        snprintf(buf, size, "%s; %s", value, range);
}

void hb_reference_evidence(FILE *f)
{
    size_t count;
    const struct hobble_evidence_row *row = hobble_evidence_table(&count);
    fputs(
        "# Every key of the list of evidence\n\n"
        "Generated from the table of its keys (`hobble profile evidence-keys`); do not edit. What "
        "each kind\nmeans to the answer: [evidence.md](evidence.md).\n\n"
        "| key | of | value and limits | meaning |\n|---|---|---|---|\n",
        f);
    for (size_t i = 0; i < count; i++) {
        char text[400], kinds[64];
        const bool group = row[i].place == HOBBLE_IN_CHANNEL || row[i].place == HOBBLE_IN_GROUP ||
                           row[i].place == HOBBLE_IN_LISTS;
        describe_evidence(&row[i], text, sizeof text);
        hb_evidence_kinds(&row[i], ", ", kinds, sizeof kinds);
        fprintf(f, "| `%s%s` | %s | %s | %s |\n", group ? "temperatures." : "", row[i].param.key,
                kinds, text, row[i].param.meaning);
    }
}

/* scdoc reads '_' and '*' as marks. */
static void escaped(FILE *f, const char *text)
{
    for (; *text; text++) {
        if (strchr("_*\\#|", *text))
            fputc('\\', f);
        fputc(*text, f);
    }
}

void hb_reference_manual(FILE *f)
{
    size_t count;
    const struct hobble_param *p = hobble_param_table(&count);
    for (size_t i = 0; i < count; i++) {
        char text[400];
        if (i == 0 || p[i].group != p[i - 1].group) {
            fputs("\n# ", f);
            for (const char *c = heading(p[i].group); *c; c++)
                fputc(*c >= 'a' && *c <= 'z' ? *c - 'a' + 'A' : *c, f);
            fputs("\n\n", f);
        }
        describe(&p[i], text, sizeof text);
        fputc('*', f);
        escaped(f, p[i].key);
        fputs("*\n\t", f);
        escaped(f, p[i].meaning);
        fputs(".\n\n\t", f);
        escaped(f, text);
        if (p[i].kind == HOBBLE_NUMBER) {
            fprintf(f, "; %s: ", hobble_provenance_word(p[i].provenance));
            escaped(f, p[i].source);
        }
        fputs(".\n\n", f);
    }
}

void hb_reference_evidence_manual(FILE *f)
{
    size_t count;
    const struct hobble_evidence_row *row = hobble_evidence_table(&count);
    fputs("\n# EVIDENCE\n\nKeys of the groups in the list _evidence_ of a tyre's or a bench's "
          "profile.\n\n",
          f);
    for (size_t i = 0; i < count; i++) {
        char text[400], kinds[64];
        describe_evidence(&row[i], text, sizeof text);
        hb_evidence_kinds(&row[i], ", ", kinds, sizeof kinds);
        fputc('*', f);
        escaped(f, row[i].param.key);
        fprintf(f, "* (%s)\n\t", kinds);
        escaped(f, row[i].param.meaning);
        fputs(".\n\n\t", f);
        escaped(f, text);
        fputs(".\n\n", f);
    }
}

void hb_reference_fleet(FILE *f)
{
    size_t count;
    const struct hobble_fleet_row *p = hobble_fleet_table(&count);
    fputs("\n# NUMBERS\n\n", f);
    for (size_t i = 0; i < count; i++) {
        char value[40], min[40], max[40];
        const char *unit =
            p[i].unit == HOBBLE_UNIT_NONE ? p[i].shown : hobble_unit_symbol(p[i].unit);
        number(p[i].value, value, sizeof value);
        number(p[i].min, min, sizeof min);
        number(p[i].max, max, sizeof max);
        fputc('*', f);
        escaped(f, p[i].key);
        fputs("*\n\t", f);
        escaped(f, p[i].meaning);
        fprintf(f, ".\n\n\t%s; %s to %s%s%s", value, min, max, *unit ? " " : "", unit);
        if (p[i].spread > 0.0) {
            hb_number_print(p[i].spread, 4, value, sizeof value);
            fprintf(f, "; log-sd %s", value);
        }
        fprintf(f, "; %s: ", hobble_provenance_word(p[i].provenance));
        escaped(f, p[i].source);
        fputs(".\n\n", f);
    }
}
