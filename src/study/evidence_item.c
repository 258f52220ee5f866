/* SPDX-License-Identifier: GPL-3.0-or-later */
/* evidence_item.c - what an item of evidence may say, and the checks of it. */
#include "study/evidence_item.h"
#include "core/setting.h"
#include "study/evidence_words.h"

#include <float.h>
#include <math.h>
#include <stddef.h>
#include <string.h>

/* ---- the table ------------------------------------------------------------------------------- */

#define NEEDED        ((double)NAN)
#define OPEN          ((double)NAN)
#define APPROVAL      (1u << HOBBLE_EVIDENCE_APPROVAL)
#define STATEMENT     (1u << HOBBLE_EVIDENCE_STATEMENT)
#define RUN           (1u << HOBBLE_EVIDENCE_RUN)
#define EVERY         (APPROVAL | STATEMENT | RUN)
#define FIELD(x)      HOBBLE_IN_ITEM, HB_TYPED(x, double)
#define COUNT(x)      HOBBLE_IN_ITEM, HB_TYPED(x, int)
#define NAME(x)       HOBBLE_IN_ITEM, offsetof(struct hobble_evidence, x)
#define READING(x)    HOBBLE_IN_CHANNEL, offsetof(struct hobble_readings, x)
#define IN_GROUP      HOBBLE_IN_GROUP, 0
#define LIST_IN_GROUP HOBBLE_IN_LISTS, 0
#define TABLE         HOBBLE_IN_FILE, 0
#define GROUPS        HOBBLE_AS_GROUPS, 0
/* An offset whose field is of the type that the row says. */
#define HB_TYPED(x, type)                                                                          \
    (offsetof(struct hobble_evidence, x) +                                                         \
     0 * sizeof(char[_Generic(((struct hobble_evidence *)0)->x, type : 1, default                  \
                              : -1)]))

enum row_id {
#define NUMBER(id, ...) ROW_##id,
#define WORD(id, ...)   ROW_##id,
#define TEXT(id, ...)   ROW_##id,
#include "study/evidence_rows.inc"
#undef NUMBER
#undef WORD
#undef TEXT
    ROWS
};

static const struct hobble_evidence_row table[ROWS] = {
#define PARAM(name, is, in_unit, when_not, least, most, said, of)                                  \
    {                                                                                              \
        .key = (name), .group = HOBBLE_TYRE, .kind = (is), .symbol = "-", .unit = (in_unit),       \
        .value = (when_not), .min = (least), .max = (most), .provenance = HOBBLE_ASSUMED,          \
        .source = "asked", .meaning = (said), .words = (of)                                        \
    }
#define NUMBER(id, key, kinds, unit, value, min, max, place, meaning)                              \
    {PARAM(key, HOBBLE_NUMBER, HOBBLE_UNIT_##unit, value, min, max, meaning, NULL), kinds, place},
#define WORD(id, key, kinds, words, value, place, meaning)                                         \
    {PARAM(key, HOBBLE_WORD, HOBBLE_UNIT_NONE, value, 0, 0, meaning, words), kinds, place},
#define TEXT(id, key, kinds, place, meaning)                                                       \
    {PARAM(key, HOBBLE_TEXT, HOBBLE_UNIT_NONE, OPEN, 0, 0, meaning, NULL), kinds, place},
#include "study/evidence_rows.inc"
};

_Static_assert(sizeof(enum hobble_run_of) == sizeof(int) &&
                   sizeof(enum hobble_evidence_kind) == sizeof(int) &&
                   sizeof(enum hobble_run_on) == sizeof(int) &&
                   sizeof(enum hobble_run_outcome) == sizeof(int),
               "a word is read and written as an int");

const struct hobble_evidence_row *hobble_evidence_table(size_t *count)
{
    if (count)
        *count = ROWS;
    return table;
}

/* ---- items ----------------------------------------------------------------------------------- */

static bool is_int(const struct hobble_param *p)
{
    return p->kind == HOBBLE_WORD || p->unit == HOBBLE_UNIT_WHOLE;
}

/* A number in the row's unit, or a word's place. */
static double value_at(const struct hobble_evidence_row *row, const void *item)
{
    const char *at = (const char *)item + row->at;
    double si;
    int whole;
    if (is_int(&row->param)) {
        memcpy(&whole, at, sizeof whole);
        return whole;
    }
    memcpy(&si, at, sizeof si);
    return hobble_unit_from_si(row->param.unit, si);
}

static void begin_row(const struct hobble_evidence_row *row, void *item)
{
    char *at = (char *)item + row->at;
    const double si = hobble_unit_to_si(row->param.unit, row->param.value);
    const int whole = isnan(row->param.value) ? -1 : (int)row->param.value;
    if (row->param.kind == HOBBLE_TEXT)
        return;
    if (is_int(&row->param))
        memcpy(at, &whole, sizeof whole);
    else
        memcpy(at, &si, sizeof si);
}

/* Two rows may share a field; the one of the kind counts. */
void hobble_evidence_begin(enum hobble_evidence_kind kind, struct hobble_evidence *item)
{
    memset(item, 0, sizeof *item);
    for (int i = 0; i < ROWS; i++)
        if (table[i].place == HOBBLE_IN_ITEM)
            begin_row(&table[i], item);
        else if (table[i].place == HOBBLE_IN_CHANNEL)
            for (int k = 0; k < HOBBLE_CHANNELS; k++)
                begin_row(&table[i], &item->channel[k]);
    item->kind = kind;
}

/* ---- checks ---------------------------------------------------------------------------------- */

struct check {
    const struct hobble_evidence *item;
    struct hobble_faults *sink;
    enum hobble_status first;
    const char *channel; /* NULL: of the item */
};

/* Into zeroes. */
static void copy_text(char *to, const char *from, size_t size)
{
    for (size_t i = 0; i + 1 < size && from[i]; i++)
        to[i] = from[i];
}

static void complain(struct check *k, enum hobble_status status, const char *key, const char *given,
                     const char *allowed)
{
    struct hobble_param row = {.key = key};
    char full[HOBBLE_FAULT_TEXT] = {0};
    if (k->channel) { /* both are short words of the table */
        const size_t dot = strlen(k->channel);
        copy_text(full, k->channel, sizeof full);
        full[dot] = '.';
        copy_text(&full[dot + 1], key, sizeof full - dot - 1);
        row.key = full;
    }
    hb_fault(k->sink, status, &row, k->item->origin, given, allowed);
    if (k->first == HOBBLE_OK)
        k->first = status;
}

/* A value may have gone to SI and back. */
static bool within(const struct hobble_param *p, double shown)
{
    const double room = 8.0 * DBL_EPSILON * (fabs(shown) + 273.15);
    return isfinite(shown) && shown >= p->min - room && shown <= p->max + room;
}

static void check_row(struct check *k, const struct hobble_evidence_row *row, const void *item)
{
    const struct hobble_param *p = &row->param;
    char given[64], allowed[HOBBLE_FAULT_TEXT];
    const double value = value_at(row, item);
    hb_evidence_say_limits(p, allowed, sizeof allowed);
    if (p->kind == HOBBLE_WORD) {
        hobble_param_word_at(p, (int)value, given, sizeof given);
        if (!*given)
            complain(k, value < 0.0 ? HOBBLE_E_MISSING : HOBBLE_E_RANGE, p->key, "", allowed);
        return;
    }
    hb_evidence_say_number("", value, hobble_unit_symbol(p->unit), given, sizeof given);
    if (isnan(value) && isnan(p->value))
        complain(k, HOBBLE_E_MISSING, p->key, "", allowed);
    else if (!within(p, value))
        complain(k, HOBBLE_E_RANGE, p->key, given, allowed);
}

static bool has(const struct hobble_evidence *item, int row)
{
    return table[row].kinds >> item->kind & 1u;
}

static void check_source(struct check *k)
{
    const char *text = k->item->source;
    char shown[HOBBLE_FAULT_TEXT];
    if (!memchr(text, '\0', sizeof k->item->source)) {
        complain(k, HOBBLE_E_TOO_LARGE, table[ROW_SOURCE].param.key, "", "up to 119 bytes");
        return;
    }
    hobble_fault_text(shown, text);
    if (strcmp(shown, text) != 0)
        complain(k, HOBBLE_E_SYNTAX, table[ROW_SOURCE].param.key, shown,
                 "up to 119 bytes of UTF-8 without control characters");
    else if (!*text && k->item->kind == HOBBLE_EVIDENCE_STATEMENT)
        complain(k, HOBBLE_E_MISSING, table[ROW_SOURCE].param.key, "",
                 "where the maker says so: the handbook, a page, a letter");
}

/* Times and values of any number of readings, up to the first bad one. */
static bool check_readings(struct check *k, const double *time, const double *celsius, size_t count)
{
    const struct hobble_param *when = &table[ROW_TIMES].param, *what = &table[ROW_READ].param;
    char given[64], allowed[HOBBLE_FAULT_TEXT];
    for (size_t i = 0; i < count; i++) {
        const double minutes = hobble_unit_from_si(when->unit, time[i]);
        const bool late = within(when, minutes), rises = i == 0 || time[i] > time[i - 1];
        if (late && rises && within(what, celsius[i]))
            continue;
        hb_evidence_say_limits(late && rises ? what : when, allowed, sizeof allowed);
        hb_evidence_say_reading(i + 1, late && rises ? celsius[i] : minutes,
                                late && rises ? "C" : "min", given, sizeof given);
        complain(k, late && !rises ? HOBBLE_E_CONFLICT : HOBBLE_E_RANGE,
                 late && rises ? what->key : when->key, given,
                 late && !rises ? "later than the one before" : allowed);
        return false;
    }
    return true;
}

/* The car may have stood at the end, but a tyre that stands does not tell what the way tells. */
static void check_end(struct check *k, const struct hobble_readings *r)
{
    const struct hobble_evidence *e = k->item;
    const double end = e->distance * (1.0 + 2.0 * e->reading_error) / e->speed;
    char given[64], allowed[64];
    if (r->count == 0 || !(end > 0.0) || r->time[r->count - 1] <= end)
        return;
    hb_evidence_say_number("", r->time[r->count - 1] / 60.0, "min", given, sizeof given);
    hb_evidence_say_number("within the run: up to ", end / 60.0, "min", allowed, sizeof allowed);
    complain(k, HOBBLE_E_CONFLICT, table[ROW_TIMES].param.key, given, allowed);
}

static void check_channel(struct check *k, const struct hobble_readings *r)
{
    for (int i = 0; i < ROWS; i++)
        if (table[i].place == HOBBLE_IN_CHANNEL)
            check_row(k, &table[i], r);
    if (r->count < 0 || r->count > HOBBLE_READINGS_MAX)
        complain(k, HOBBLE_E_TOO_LARGE, table[ROW_TIMES].param.key, "", "at most 64 readings");
    else if (check_readings(k, r->time, r->celsius, (size_t)r->count))
        check_end(k, r);
}

static void check_run(struct check *k)
{
    char channel[32];
    const struct hobble_evidence *e = k->item;
    if (e->of == HOBBLE_RUN_THIS_UNIT && e->age > 0.0)
        complain(k, HOBBLE_E_CONFLICT, table[ROW_UNIT_AGE].param.key, "",
                 "with another unit; this one's age is the profile's own key age");
    for (int i = 0; i < HOBBLE_CHANNELS; i++) {
        hobble_param_word_at(&table[ROW_CHANNEL].param, i, channel, sizeof channel);
        k->channel = channel;
        check_channel(k, &e->channel[i]);
    }
    k->channel = NULL;
}

enum hobble_status hb_evidence_check(const struct hobble_evidence *e, struct hobble_faults *sink)
{
    struct check k = {.item = e, .sink = sink, .first = HOBBLE_OK};
    if ((unsigned)e->kind >= HOBBLE_EVIDENCE_KINDS) {
        complain(&k, HOBBLE_E_RANGE, table[ROW_KIND].param.key, "", table[ROW_KIND].param.words);
        return k.first;
    }
    check_source(&k);
    for (int i = 0; i < ROWS; i++)
        if (table[i].place == HOBBLE_IN_ITEM && has(e, i) && table[i].param.kind != HOBBLE_TEXT)
            check_row(&k, &table[i], e);
    if (e->kind == HOBBLE_EVIDENCE_RUN)
        check_run(&k);
    return k.first;
}

/* ---- readings -------------------------------------------------------------------------------- */

/* Keeps of count readings, by place, those that stand a spacing behind the last one kept; says how
 * many there would be, and one more than HOBBLE_READINGS_MAX when they do not fit. */
static size_t thin(const double *time, size_t count, double spacing, size_t *place)
{
    size_t kept = 0;
    for (size_t i = 0; i < count; i++) {
        if (kept > 0 && time[i] - time[place[kept - 1]] < spacing * (1.0 - 1e-9))
            continue;
        if (kept == HOBBLE_READINGS_MAX)
            return kept + 1;
        place[kept++] = i;
    }
    return kept;
}

enum hobble_status hobble_evidence_readings(struct hobble_evidence *item,
                                            enum hobble_channel channel, const double *time,
                                            const double *celsius, size_t count,
                                            struct hobble_faults *sink)
{
    size_t place[HOBBLE_READINGS_MAX];
    char word[32];
    hobble_param_word_at(&table[ROW_CHANNEL].param, (int)channel, word, sizeof word);
    struct check k = {.item = item, .sink = sink, .first = HOBBLE_OK, .channel = word};
    if (!*word || item->kind != HOBBLE_EVIDENCE_RUN)
        complain(&k, HOBBLE_E_CONFLICT, table[ROW_CHANNEL].param.key, word,
                 "inner, outer, cavity or shoulder of a run");
    else
        check_readings(&k, time, celsius, count);
    if (k.first != HOBBLE_OK)
        return k.first;
    struct hobble_readings *r = &item->channel[channel];
    size_t kept = thin(time, count, item->correlation, place);
    if (kept > HOBBLE_READINGS_MAX)
        kept = thin(time, count, (time[count - 1] - time[0]) / (HOBBLE_READINGS_MAX - 1), place);
    r->count = (int)kept;
    for (size_t i = 0; i < kept; i++) {
        r->time[i] = time[place[i]];
        r->celsius[i] = celsius[place[i]];
    }
    return HOBBLE_OK;
}

/* ---- copies ---------------------------------------------------------------------------------- */

void hb_evidence_clean(const struct hobble_evidence *from, struct hobble_evidence *to)
{
    hobble_evidence_begin(from->kind, to);
    copy_text(to->source, from->source, sizeof to->source);
    copy_text(to->origin, from->origin, sizeof to->origin);
    for (int i = 0; i < ROWS; i++)
        if (table[i].place == HOBBLE_IN_ITEM && has(from, i) && table[i].param.kind != HOBBLE_TEXT)
            memcpy((char *)to + table[i].at, (const char *)from + table[i].at,
                   is_int(&table[i].param) ? sizeof(int) : sizeof(double));
    for (int i = 0; i < HOBBLE_CHANNELS && from->kind == HOBBLE_EVIDENCE_RUN; i++) {
        const struct hobble_readings *r = &from->channel[i];
        if (r->count == 0) /* nothing is said of it */
            continue;
        to->channel[i].offset = r->offset;
        to->channel[i].scatter = r->scatter;
        hobble_evidence_readings(to, (enum hobble_channel)i, r->time, r->celsius, (size_t)r->count,
                                 NULL);
    }
}

bool hb_evidence_ran_flat(const struct hobble_evidence *item, size_t items, double way)
{
    for (size_t i = 0; i < items; i++)
        if (item[i].kind == HOBBLE_EVIDENCE_RUN && item[i].of == HOBBLE_RUN_THIS_UNIT &&
            (item[i].outcome != HOBBLE_RUN_SURVIVED ||
             item[i].distance > way * (1.0 + item[i].reading_error)))
            return true;
    return false;
}
