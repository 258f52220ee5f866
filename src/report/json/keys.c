/* SPDX-License-Identifier: GPL-3.0-or-later */
/* keys.c - every key of an answer with its unit and meaning. */
#include "report/describe/answers.h"
#include "report/json/render.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

enum { PATH = 200, TEXT = 700 };

/* One key: where it stands, and what is to be said of it. */
typedef void put_key(FILE *f, const char *path, const char *kind, const struct hb_row *row);

static void words(const struct hb_row *row, char *buf, size_t size)
{
    size_t used = 0;
    buf[0] = '\0';
    for (int i = 0; row->word(i) && *row->word(i) && used < size; i++)
        used += (size_t)snprintf(buf + used, size - used, "%s%s", i > 0 ? ", " : "", row->word(i));
}

/* "show wall": a command, and which of its answers. */
static void name_of(const struct hb_answer *a, char buf[static PATH])
{
    snprintf(buf, PATH, "%s%s%s", a->command, a->which ? " " : "", a->which ? a->which : "");
}

/* either: one of several rows with this key. */
static void kind_of(const struct hb_row *row, bool either, char *buf, size_t size)
{
    static const char *const kind[] = {
        [HB_REAL] = "number", [HB_COUNT] = "whole number", [HB_TRUTH] = "true or false",
        [HB_TEXT] = "text",   [HB_ANY] = "number or text", [HB_OBJECT] = "object",
        [HB_LIST] = "list",   [HB_NAMED] = "object",       [HB_WORD] = "",
        [HB_TUPLE] = "list"};
    const char *unit = row->kind == HB_REAL ? hobble_unit_symbol(row->unit) : "";
    if (row->kind == HB_WORD) {
        const int said = snprintf(buf, size, "one of ");
        words(row, buf + said, size - (size_t)said);
    } else {
        snprintf(buf, size, "%s%s%s", kind[row->kind], *unit ? ", " : "", unit);
    }
    const size_t n = strlen(buf);
    if (row->forms & (HB_NULLABLE | HB_NULLED))
        snprintf(buf + n, size - n, "; null where there is none");
    else if (row->when && !either)
        snprintf(buf + n, size - n, "; left out where there is none");
}

static bool same_key(const struct hb_row *one, const struct hb_row *other)
{
    return other->key && strcmp(one->key, other->key) == 0;
}

static void each(FILE *f, const struct hb_row *row, const char *before, put_key *put);

static void each_of_tuple(FILE *f, const struct hb_row *row, const char *path, put_key *put)
{
    for (int i = 0; row[i].key; i++) {
        char inner[PATH + 16];
        snprintf(inner, sizeof inner, "%s[%d].", path, i);
        each(f, row[i].of, inner, put);
    }
}

static void each(FILE *f, const struct hb_row *row, const char *before, put_key *put)
{
    for (const struct hb_row *first = row; row->key; row++) {
        char path[PATH], kind[TEXT], inner[PATH + 4];
        if (row->forms & HB_NOT_JSON)
            continue;
        snprintf(path, sizeof path, "%s%s", before, row->key);
        kind_of(row, same_key(row, row + 1) || (row > first && same_key(row, row - 1)), kind,
                sizeof kind);
        put(f, path, kind, row);
        const struct hb_row *of = row->of;
        snprintf(inner, sizeof inner, "%s%s", path, row->kind == HB_LIST ? "[]." : ".");
        if (row->kind == HB_TUPLE)
            each_of_tuple(f, of, path, put);
        else if (of && of->key)
            each(f, of, inner, put);
    }
}

/* ---- what stands where, for the tests ----------------------------------------------------------
 */

/* Of one answer: its name, and the rows that were told of. */
struct telling {
    FILE *f;
    char answer[PATH];
    const struct hb_row *told[1000];
    size_t count;
};

/* A row that stands in several objects is told of once. */
static bool is_told(struct telling *t, const struct hb_row *row)
{
    for (size_t i = 0; i < t->count; i++)
        if (t->told[i] == row)
            return true;
    if (t->count < HB_COUNT_ROWS(t->told))
        t->told[t->count++] = row;
    return false;
}

static void put_forms(struct telling *t, const char *path, const struct hb_row *row)
{
    static const struct {
        enum hb_form form;
        const char *name;
    } name[] = {{HB_ON_FIRST, "first"},
                {HB_ON_FULL, "full"},
                {HB_ON_CSV, "csv"},
                {HB_ON_PAPER, "paper"},
                {HB_ON_PICTURE, "picture"}};
    unsigned on = 0;
    for (size_t i = 0; i < HB_COUNT_ROWS(name); i++)
        on |= row->forms & name[i].form;
    if (on == 0 || is_told(t, row))
        return;
    fprintf(t->f, "%s\t%s\t", t->answer, path);
    for (size_t i = 0; i < HB_COUNT_ROWS(name); i++)
        if (on & name[i].form)
            fprintf(t->f, "%s ", name[i].name);
    fputc('\n', t->f);
}

static void forms_of(struct telling *t, const struct hb_row *row, const char *before);

static void forms_inside(struct telling *t, const struct hb_row *row, const char *path)
{
    char inner[PATH + 40];
    for (int i = 0; row->kind == HB_TUPLE && row->of[i].key; i++) {
        snprintf(inner, sizeof inner, "%s.*", path);
        forms_of(t, row->of[i].of, inner);
    }
    for (int i = 0; row->kind == HB_NAMED && row->word(i) && *row->word(i); i++) {
        snprintf(inner, sizeof inner, "%s.%s", path, row->word(i));
        forms_of(t, row->of, inner);
    }
    snprintf(inner, sizeof inner, "%s%s", path, row->kind == HB_LIST ? ".*" : "");
    if (row->of && row->kind != HB_NAMED && row->kind != HB_TUPLE)
        forms_of(t, row->of, inner);
}

/* Items without a key stand under the path of their list; those of a tuple under their places. */
static void forms_of(struct telling *t, const struct hb_row *row, const char *before)
{
    const bool only = !row->key;
    for (; row->key || only; row++) {
        char path[PATH];
        snprintf(path, sizeof path, "%s%s%s", before, *before && row->key ? "." : "",
                 row->key ? row->key : "");
        if (!(row->forms & HB_NOT_JSON)) {
            put_forms(t, path, row);
            forms_inside(t, row, path);
        }
        if (only)
            return;
    }
}

void hb_render_forms(FILE *f)
{
    for (size_t i = 0; hb_answers[i]; i++) {
        struct telling t = {.f = f};
        name_of(hb_answers[i], t.answer);
        forms_of(&t, hb_answers[i]->row, "");
    }
}

/* ---- the reference ------------------------------------------------------------------------------
 */

/* Meanings may hold what Markdown or scdoc reads as marks. */
static void escaped(FILE *f, const char *text, const char *marks)
{
    for (; text && *text; text++) {
        if (strchr(marks, *text))
            fputc('\\', f);
        fputc(*text, f);
    }
}

static void put_markdown(FILE *f, const char *path, const char *kind, const struct hb_row *row)
{
    fprintf(f, "| `%s` | %s | ", path, kind);
    escaped(f, row->meaning, "|");
    fprintf(f, " |\n");
}

static void table(FILE *f, const char *title, const char *about, const struct hb_row *rows)
{
    fprintf(f, "\n## %s\n\n%s%s| key | value | meaning |\n|---|---|---|\n", title,
            about ? about : "", about ? "\n\n" : "");
    each(f, rows, "", put_markdown);
}

void hb_render_markdown(FILE *f)
{
    fprintf(
        f,
        "# What every answer says in JSON\n\n"
        "Generated from the rows of the answers (`src/report/describe`); do not edit. Keys end in "
        "their\nunit. `a.b` stands in the object `a`, `a[].b` in every item of the list `a`. A "
        "program may rely\non a key that is not said to be left out.\n");
    table(f, "Every answer", NULL, hb_begin_rows);
    table(f, "Every answer about a tyre", NULL, hb_case_rows);
    for (size_t i = 0; hb_answers[i]; i++) {
        char name[PATH], title[PATH + 8];
        const struct hb_answer *a = hb_answers[i];
        name_of(a, name);
        snprintf(title, sizeof title, "hobble %s", name);
        table(f, title, a->about, a->row);
        if (a->end)
            each(f, a->end, "", put_markdown);
    }
    table(f, "At the end of an answer about a tyre", NULL, hb_note_rows);
    table(f, "With --explain", NULL, hb_explain_rows);
}

static void put_manual(FILE *f, const char *path, const char *kind, const struct hb_row *row)
{
    fputc('*', f);
    escaped(f, path, "_*\\#|");
    fputs("*\n\t", f);
    escaped(f, row->meaning ? row->meaning : "", "_*\\#|");
    fputs(row->meaning ? "; " : "", f);
    escaped(f, kind, "_*\\#|");
    fputs(".\n\n", f);
}

void hb_render_manual(FILE *f, const char *command)
{
    bool begun = false;
    for (size_t i = 0; hb_answers[i]; i++) {
        const struct hb_answer *a = hb_answers[i];
        if (strcmp(a->command, command) != 0)
            continue;
        if (!begun)
            fputs("# JSON\n\nWhat *--json* says beside what every answer begins with; keys end in "
                  "their unit. The whole list is in docs/answers.md.\n\n",
                  f);
        begun = true;
        if (a->which)
            fprintf(f, "## %s\n\n", a->which);
        each(f, a->row, "", put_manual);
        if (a->end)
            each(f, a->end, "", put_manual);
    }
}
