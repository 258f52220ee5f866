/* SPDX-License-Identifier: GPL-3.0-or-later */
/* validate.c - holds the model against tests/data/validation.tsv and writes the table.
 *   validate [FILE]   FILE: where the table goes, "validation.md" when not given
 * Ends with 1 when a row has no function, a function no row, rows are missing, or a figure that
 * defaults may be fitted to, or that is transcribed or exact, is missed. What is only checked may
 * be missed: that is shown. */
#include "hobble.h"
#include "unit/tsv.h"
#include "validate/rows.h"

#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { ID, SECTION, WHAT, KIND, PUBLISHED, UNIT, TOLERANCE, REASON, KNOWN, SOURCE, FIELDS };
enum { CALIBRATE, CHECK, TABLE, FACT, KINDS };
static const char *const kinds[KINDS] = {"calibrate", "check", "table", "fact"};
static const char *const known[] = {"read", "second-hand", "from memory, unconfirmed",
                                    "common practice, no source", "arithmetic"};

static const struct {
    const char *id;
    double (*value)(double, double);
    double a, b;
} functions[] = {
#define ROW(id, function, a, b) {id, function, a, b},
    VALIDATION_ROWS(ROW)
#undef ROW
};
enum { FUNCTIONS = sizeof functions / sizeof *functions };

struct result {
    int kind;
    double computed, low, high; /* published band, or the published figure twice */
    double least, most;         /* what the tolerance accepts */
    bool within;
};

static int faults;

static void fault(const struct tsv *t, size_t row, const char *what)
{
    (void)fprintf(stderr, "%s:%d: %s: %s\n", t->path, t->line[row], tsv_cell(t, row, ID), what);
    faults++;
}

static int place_in(const char *const *list, int count, const char *word)
{
    for (int i = 0; i < count; i++)
        if (strcmp(list[i], word) == 0)
            return i;
    return -1;
}

static int function_of(const char *id)
{
    for (int i = 0; i < FUNCTIONS; i++)
        if (strcmp(functions[i].id, id) == 0)
            return i;
    return -1;
}

/* A number followed by rest. */
static bool number(const char *text, const char *rest, double *value)
{
    char *end = NULL;
    *value = strtod(text, &end);
    return end != text && strcmp(end, rest) == 0 && isfinite(*value);
}

static bool read_published(const char *text, struct result *r)
{
    const char *dots = strstr(text, "..");
    char low[32];
    if (!dots) {
        const bool good = number(text, "", &r->low);
        r->high = r->low;
        return good;
    }
    /* strtod would take the first dot for a decimal point */
    (void)snprintf(low, sizeof low, "%.*s", (int)(dots - text), text);
    return number(low, "", &r->low) && number(dots + 2, "", &r->high) && r->high > r->low;
}

static bool read_tolerance(const char *text, struct result *r)
{
    double by;
    r->least = r->low;
    r->most = r->high;
    if (strcmp(text, "band") == 0)
        return r->high > r->low;
    if (strcmp(text, "least") == 0 || strcmp(text, "most") == 0) {
        *(*text == 'l' ? &r->most : &r->least) = *text == 'l' ? HUGE_VAL : -HUGE_VAL;
        return r->high <= r->low;
    }
    if (*text == 'x' && number(text + 1, "", &by) && by > 1.0) {
        r->least /= by;
        r->most *= by;
        return r->low > 0.0;
    }
    if (number(text, "%", &by) && by > 0.0) {
        r->least -= by / 100.0 * fabs(r->low);
        r->most += by / 100.0 * fabs(r->high);
        return true;
    }
    if (!number(text, "", &by) || by < 0.0)
        return false;
    r->least -= by;
    r->most += by;
    return true;
}

static void judge(const struct tsv *t, size_t row, struct result *r)
{
    const int function = function_of(tsv_cell(t, row, ID));
    *r = (struct result){.kind = place_in(kinds, KINDS, tsv_cell(t, row, KIND))};
    if (r->kind < 0)
        fault(t, row, "no such kind");
    if (place_in(known, sizeof known / sizeof *known, tsv_cell(t, row, KNOWN)) < 0)
        fault(t, row, "no such way of knowing");
    if (r->kind == FACT) {
        if (function >= 0)
            fault(t, row, "a fact without a number has a function");
        return;
    }
    if (function < 0) {
        fault(t, row, "no function computes it");
        return;
    }
    if (!read_published(tsv_cell(t, row, PUBLISHED), r) ||
        !read_tolerance(tsv_cell(t, row, TOLERANCE), r)) {
        fault(t, row, "published figure or tolerance cannot be read");
        return;
    }
    r->computed = functions[function].value(functions[function].a, functions[function].b);
    r->within = r->computed >= r->least && r->computed <= r->most;
    if (isnan(r->computed))
        fault(t, row, "could not be computed");
    else if (!r->within && r->kind != CHECK)
        fault(t, row, "missed");
}

/* Distance of the computed from the published figure or band; "none" where a limit is kept. */
static void write_miss(const struct result *r, char *text, size_t size)
{
    const bool limit = isinf(r->least) || isinf(r->most);
    const bool inside = (r->computed >= r->low && r->computed <= r->high) || (limit && r->within);
    const double from = r->computed < r->low ? r->low : r->high;
    const double by = r->computed - from;
    if (inside || fabs(by) < 1e-12 * fabs(from))
        (void)snprintf(text, size, "none");
    else if (from == 0.0)
        (void)snprintf(text, size, "%+.3g", by);
    else
        (void)snprintf(text, size, "%+.3g (%+.2f %%)", by, 100.0 * by / fabs(from));
}

static void write_row(FILE *f, const struct tsv *t, size_t row, const struct result *r)
{
    char computed[40] = "", miss[60] = "-";
    const char *unit = tsv_cell(t, row, UNIT);
    unit = strcmp(unit, "1") == 0 || strcmp(unit, "-") == 0 ? "" : unit;
    if (r->kind != FACT) {
        const int digits = r->most - r->least < 1e-6 ? 10 : 4;
        (void)snprintf(computed, sizeof computed, "%.*g", digits, r->computed);
        write_miss(r, miss, sizeof miss);
    }
    (void)fprintf(f, "| %s (%s) | %s | %s %s | %s | %s | %s: %s | %s | %s |\n",
                  tsv_cell(t, row, SOURCE), tsv_cell(t, row, KNOWN), tsv_cell(t, row, WHAT),
                  r->kind == FACT ? "-" : tsv_cell(t, row, PUBLISHED), unit,
                  r->kind == FACT ? tsv_cell(t, row, PUBLISHED) : computed, miss,
                  tsv_cell(t, row, TOLERANCE), tsv_cell(t, row, REASON), kinds[r->kind],
                  r->kind == FACT ? "-"
                  : r->within     ? "within"
                                  : "MISS");
}

static const char head[] =
    "# What the model was held against\n\n"
    "Written by tests/validate/validate.c from tests/data/validation.tsv; every computed figure "
    "is\n"
    "that of hobble %s. `make docs` brings this page up to date.\n\n"
    "How a published figure is known: *read*: the official or primary text was seen; "
    "*second-hand*:\n"
    "quoted by another source; *from memory, unconfirmed*: recalled, not looked up again; *common\n"
    "practice, no source*: what the trade says; *arithmetic*: worked out from the source named.\n\n"
    "What a row is for: *calibrate*: defaults were chosen so that it holds, which proves nothing\n"
    "but that they could be; *check*: never fitted, a miss is shown and left; *table*: "
    "transcribed\n"
    "or exact, a miss is a fault; *fact*: the model has no number for it.\n\n"
    "Tolerance: a number is plus or minus in the unit, or per cent of the published figure; x is "
    "a\n"
    "factor up or down; least and most make the published figure a limit; band means inside it.\n"
    "A miss is the distance from the published figure or the nearer end of its band.\n\n";

static void write_counts(FILE *f, const int within[KINDS], const int missed[KINDS])
{
    (void)fprintf(f, "| kind | within | MISS |\n| --- | ---: | ---: |\n");
    for (int k = 0; k < FACT; k++)
        (void)fprintf(f, "| %s | %d | %d |\n", kinds[k], within[k], missed[k]);
    (void)fprintf(f, "\nFacts without a number in the model: %d.\n", missed[FACT]);
}

static void write_misses(FILE *f, const struct tsv *t, const struct result *r)
{
    (void)fprintf(f, "\n## Missed\n\n");
    int count = 0;
    for (size_t i = 0; i < t->rows; i++)
        if (r[i].kind != FACT && !r[i].within) {
            char miss[60];
            write_miss(&r[i], miss, sizeof miss);
            (void)fprintf(f, "* %s: published %s, computed %.4g %s, miss %s\n",
                          tsv_cell(t, i, WHAT), tsv_cell(t, i, PUBLISHED), r[i].computed,
                          strcmp(tsv_cell(t, i, UNIT), "1") == 0 ? "" : tsv_cell(t, i, UNIT), miss);
            count++;
        }
    if (count == 0)
        (void)fprintf(f, "Nothing.\n");
}

static void write_page(FILE *f, const struct tsv *t, const struct result *r)
{
    int within[KINDS] = {0}, missed[KINDS] = {0};
    const char *section = "";
    for (size_t i = 0; i < t->rows; i++)
        (r[i].within ? within : missed)[r[i].kind]++;
    (void)fprintf(f, head, hobble_version());
    write_counts(f, within, missed);
    write_misses(f, t, r);
    for (size_t i = 0; i < t->rows; i++) {
        if (strcmp(section, tsv_cell(t, i, SECTION)) != 0) {
            section = tsv_cell(t, i, SECTION);
            (void)fprintf(f,
                          "\n## %s\n\n| source | what | published | computed | miss | tolerance "
                          "| kind | verdict |\n| --- | --- | --- | --- | --- | --- | --- | --- |\n",
                          section);
        }
        write_row(f, t, i, &r[i]);
    }
    (void)printf("validation: %zu rows", t->rows);
    for (int k = 0; k < FACT; k++)
        (void)printf(", %s %d within %d missed", kinds[k], within[k], missed[k]);
    (void)printf(", %d facts\n", missed[FACT]);
}

/* The file says how many rows it has, so that a row taken out is noticed. */
static bool rows_counted(const struct tsv *t)
{
    char line[256];
    long rows = -1;
    FILE *f = fopen(t->path, "r");
    while (f && rows < 0 && fgets(line, sizeof line, f))
        if (strncmp(line, "# rows: ", 8) == 0)
            rows = strtol(line + 8, NULL, 10);
    if (f)
        (void)fclose(f);
    if (rows < 0 || (size_t)rows != t->rows)
        (void)fprintf(stderr, "%s: %zu rows, %ld by its header\n", t->path, t->rows, rows);
    return rows >= 0 && (size_t)rows == t->rows;
}

static void check_ids(const struct tsv *t)
{
    for (int i = 0; i < FUNCTIONS; i++) {
        int found = 0;
        for (size_t row = 0; row < t->rows; row++)
            found += strcmp(functions[i].id, tsv_cell(t, row, ID)) == 0;
        if (found != 1) {
            (void)fprintf(stderr, "%s: %d rows for the function of %s\n", t->path, found,
                          functions[i].id);
            faults++;
        }
    }
}

int main(int argc, char **argv)
{
    const char *target = argc > 1 ? argv[1] : "validation.md";
    struct tsv t;
    char why[700];
    if (!tsv_load(&t, "validation.tsv", FIELDS, 1, why, sizeof why)) {
        (void)fprintf(stderr, "validate: %s\n", why);
        return EXIT_FAILURE;
    }
    struct result *result = calloc(t.rows, sizeof *result);
    bool good = result && rows_counted(&t);
    check_ids(&t);
    for (size_t i = 0; good && i < t.rows; i++)
        judge(&t, i, &result[i]);
    for (size_t i = 0; good && i < t.rows; i++)
        good = result[i].kind >= 0;
    FILE *f = good ? fopen(target, "w") : NULL;
    if (f)
        write_page(f, &t, result);
    if (!f || ferror(f) || fclose(f) != 0) {
        (void)fprintf(stderr, "validate: %s not written\n", target);
        good = false;
    }
    free(result);
    tsv_free(&t);
    return good && faults == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
