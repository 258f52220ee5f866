/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "input/evidence.h"
#include "input/profile.h"
#include "input/quantity.h"
#include "input/setting.h"

#include <math.h>
#include <string.h>

enum { EXACT = 17 }; /* significant digits that give every double back */

void hb_quoted_write(FILE *out, const char *text)
{
    fputc('"', out);
    for (; *text; text++) {
        if (*text == '"' || *text == '\\')
            fputc('\\', out);
        fputc(*text, out);
    }
    fputc('"', out);
}

static void put_number(FILE *out, const char *name, double value)
{
    char number[40];
    hb_number_print(value, EXACT, number, sizeof number);
    fprintf(out, " %s = %s;", name, number);
}

static void put_known(FILE *out, const hobble_case *c, int row)
{
    fprintf(out, " provenance = \"%s\";", hobble_provenance_word(hobble_case_provenance(c, row)));
    if (*hobble_case_source(c, row)) {
        fputs(" source = ", out);
        hb_quoted_write(out, hobble_case_source(c, row));
        fputc(';', out);
    }
}

static void put_value(FILE *out, const hobble_case *c, int row)
{
    const struct hobble_param *p = &hobble_param_table(NULL)[row];
    const double value = hobble_case_number(c, row);
    char word[64];
    fprintf(out, "%s =", p->key);
    if (p->kind == HOBBLE_TEXT) {
        fputc(' ', out);
        hb_quoted_write(out, hobble_case_text(c, row));
        fputs(";\n", out);
        return;
    }
    fputs(" {", out);
    if (p->kind == HOBBLE_WORD) {
        hobble_param_word_at(p, isnan(value) ? 0 : (int)value, word, sizeof word);
        fputs(" value = ", out);
        hb_quoted_write(out, word);
        fputc(';', out);
    } else if (!isnan(value)) {
        put_number(out, "value", value);
    }
    if (p->stage != HOBBLE_NOT_DRAWN)
        put_number(out, "spread", hobble_case_spread(c, row));
    put_known(out, c, row);
    fputs(" };\n", out);
}

static void put_row(FILE *out, const hobble_case *c, int row)
{
    const struct hobble_param *p = &hobble_param_table(NULL)[row];
    char allowed[HOBBLE_FAULT_TEXT];
    hb_row_allowed(row, false, allowed, sizeof allowed);
    fprintf(out, "\n# %s\n# allowed: %s\n", p->meaning, allowed);
    if (!hobble_case_given(c, row))
        fputs("# ", out);
    if (hobble_case_given(c, row) || p->kind != HOBBLE_NUMBER || !isnan(hobble_case_number(c, row)))
        put_value(out, c, row);
    else
        fprintf(out, "%s: not given\n", p->key);
}

enum hobble_status hb_rows_write(FILE *out, const hobble_case *c, enum hobble_group group)
{
    size_t rows;
    const struct hobble_param *table = hobble_param_table(&rows);
    for (size_t i = 0; i < rows; i++)
        if (table[i].group == group)
            put_row(out, c, (int)i);
    return fflush(out) == 0 && !ferror(out) ? HOBBLE_OK : HOBBLE_E_WRITE;
}

enum hobble_status hb_profile_write(FILE *out, const hobble_case *c, enum hobble_group group)
{
    if (group == HOBBLE_TRIP || group == HOBBLE_STUDY)
        return HOBBLE_E_CONFLICT;
    fprintf(out, "# A %s profile of hobble. Lines behind # are built-in values, not given here.\n",
            hobble_group_word(group));
    fprintf(out, "kind = \"%s\";\n", hobble_group_word(group));
    const enum hobble_status status = hb_rows_write(out, c, group);
    if (status != HOBBLE_OK || (group != HOBBLE_TYRE && group != HOBBLE_BENCH))
        return status;
    if (hobble_case_evidence_count(c) == 0)
        fputs("\n# what is known of it beside these values: docs/evidence.md\n"
              "# evidence = ( { kind = \"statement\"; load_share = 0.75; distance = \"150 km\";\n"
              "#                source = \"the vehicle's handbook\"; } );\n",
              out);
    hb_evidence_write(out, c);
    return fflush(out) == 0 && !ferror(out) ? HOBBLE_OK : HOBBLE_E_WRITE;
}

enum hobble_status hb_case_write(FILE *out, const hobble_case *c)
{
    size_t rows;
    const struct hobble_param *table = hobble_param_table(&rows);
    fprintf(out, "# One tyre on the bench, for hobble condition --case FILE.\nkind = \"bench\";\n");
    for (size_t i = 0; i < rows; i++)
        if (table[i].group != HOBBLE_STUDY && table[i].group != HOBBLE_RULES &&
            hobble_case_given(c, (int)i))
            put_row(out, c, (int)i);
    hb_evidence_write(out, c);
    return fflush(out) == 0 && !ferror(out) ? HOBBLE_OK : HOBBLE_E_WRITE;
}
