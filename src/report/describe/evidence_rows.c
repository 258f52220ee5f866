/* SPDX-License-Identifier: GPL-3.0-or-later */
/* evidence_rows.c - what is known of a tyre beside its values, and what can be. */
#include "report/describe/evidence_rows.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

typedef struct hobble_evidence item;
typedef struct hobble_readings readings;

/* ---- items of a case ------------------------------------------------------------------------- */

static const item *of_item(const struct hb_scope *s)
{
    return s->of;
}

/* A word of the table, by its key. */
static void word(struct hb_value *v, const char *key, int place)
{
    size_t count;
    const struct hobble_evidence_row *row = hobble_evidence_table(&count);
    for (size_t i = 0; i < count; i++)
        if (strcmp(row[i].param.key, key) == 0)
            hobble_param_word_at(&row[i].param, place, v->room, sizeof v->room);
    hb_value_text(v, v->room);
}

static void kind(const struct hb_scope *s, struct hb_value *v)
{
    word(v, "kind", (int)of_item(s)->kind);
}

static void run_of(const struct hb_scope *s, struct hb_value *v)
{
    word(v, "of", (int)of_item(s)->of);
}

static void run_on(const struct hb_scope *s, struct hb_value *v)
{
    word(v, "on", (int)of_item(s)->on);
}

static void outcome(const struct hb_scope *s, struct hb_value *v)
{
    word(v, "outcome", (int)of_item(s)->outcome);
}

HB_GET(source, text, of_item(s)->source)
HB_GET(origin, text, of_item(s)->origin)
HB_WHEN(is_approval, of_item(s)->kind == HOBBLE_EVIDENCE_APPROVAL)
HB_WHEN(is_statement, of_item(s)->kind == HOBBLE_EVIDENCE_STATEMENT)
HB_WHEN(is_run, of_item(s)->kind == HOBBLE_EVIDENCE_RUN)
HB_WHEN(has_condition, !is_approval(s))

/* ---- its readings ---------------------------------------------------------------------------- */

static int nth_channel(const item *e, size_t place)
{
    int i = 0;
    for (; i < HOBBLE_CHANNELS - 1; i++)
        if (e->channel[i].count > 0 && place-- == 0)
            break;
    return i;
}

static size_t channels(const struct hb_scope *s)
{
    size_t n = 0;
    for (int i = 0; i < HOBBLE_CHANNELS; i++)
        n += of_item(s)->channel[i].count > 0;
    return n;
}

HB_WHEN(has_readings, is_run(s) && channels(s) > 0)
HB_ITEM(channel_item, &of_item(s)->channel[nth_channel(of_item(s), place)])

static void channel(const struct hb_scope *s, struct hb_value *v)
{
    word(v, "channel", nth_channel(of_item(s->up), s->place));
}

static const readings *of_readings(const struct hb_scope *s)
{
    return s->of;
}

HB_HOW_MANY(taken, (size_t)of_readings(s)->count)
HB_GET(time_at, number, of_readings(s)->time[s->place])
HB_GET(read_at, number, of_readings(s)->celsius[s->place])

static const struct hb_row time_item[] = {
    {NULL, HB_REAL, .unit = HOBBLE_UNIT_MINUTE, .get = time_at}};
static const struct hb_row read_item[] = {{NULL, HB_REAL, .get = read_at}};
#define A_LIST(item_rows) .count = taken, .of = (item_rows), .least = 1, .most = HOBBLE_READINGS_MAX
static const struct hb_row channel_rows[] = {
    {"channel", HB_TEXT, .get = channel, .meaning = "where it was taken"},
    {"offset_k", HB_REAL_AT(readings, offset, KELVIN), .most = 50,
     .meaning = "one sigma, the same for all of them"},
    {"scatter_k", HB_REAL_AT(readings, scatter, KELVIN), .most = 50,
     .meaning = "one sigma, each one's own"},
    {"at_min", HB_LIST, A_LIST(time_item), .meaning = "from the loss of air"},
    {"read_c", HB_LIST, A_LIST(read_item), .meaning = "one for each time"},
    {0}};
#undef A_LIST

const struct hb_row hb_evidence_rows[] = {
    {"kind", HB_TEXT, .get = kind, .meaning = "approval, statement or run"},
    {"source", HB_TEXT, .get = source, .meaning = "who says so"},
    {"set_by", HB_TEXT, .get = origin, .meaning = "file and line"},
    {"specimens", HB_COUNT_AT(item, specimens), .least = 1, .most = 1000, .when = is_approval,
     .meaning = "that passed the flat-tyre running test"},
    {"load_share", HB_REAL_AT(item, load_share, NONE), .when = has_condition, .most = 1,
     .meaning = "on the wheel over the load index"},
    {"speed_kmh", HB_REAL_AT(item, speed, KM_PER_HOUR), .when = has_condition, .most = HUGE_VAL,
     .meaning = "without air"},
    {"ambient_c", HB_REAL_AT(item, ambient, CELSIUS), .when = has_condition,
     .meaning = "outside, or of the room of a drum"},
    {"distance_km", HB_REAL_AT(item, distance, KILOMETRE), .when = is_statement, .most = HUGE_VAL,
     .meaning = "that the maker says it carries"},
    {"of", HB_TEXT, .get = run_of, .when = is_run, .meaning = "this unit or another one"},
    {"on", HB_TEXT, .get = run_on, .when = is_run, .meaning = "road or drum"},
    {"outcome", HB_TEXT, .get = outcome, .when = is_run, .meaning = "what had become of it"},
    {"at_km", HB_REAL_AT(item, distance, KILOMETRE), .when = is_run, .most = HUGE_VAL,
     .meaning = "how far it had gone without air"},
    {"reading_error_share", HB_REAL_AT(item, reading_error, NONE), .when = is_run, .most = 1,
     .meaning = "of that distance, one sigma"},
    {"age_years", HB_REAL_AT(item, age, YEAR), .when = is_run, .most = HUGE_VAL,
     .meaning = "of another unit when it ran"},
    {"correlation_min", HB_REAL_AT(item, correlation, MINUTE), .when = is_run, .most = HUGE_VAL,
     .meaning = "readings of a channel stand that far apart at least"},
    {"temperatures", HB_LIST, .count = channels, .item = channel_item, .of = channel_rows,
     .when = has_readings, .least = 1, .most = HOBBLE_CHANNELS, .meaning = "a channel each"},
    {0}};

size_t hb_count_evidence(const struct hb_scope *s)
{
    return hobble_case_evidence_count(s->c);
}

const void *hb_nth_evidence(const struct hb_scope *s, size_t place)
{
    return hobble_case_evidence_at(s->c, place);
}

/* ---- what can be said ------------------------------------------------------------------------ */

static const struct hobble_evidence_row *key_row(const struct hb_scope *s)
{
    return s->of;
}

static const char *place_word(int place)
{
    static const char *const words[] = {"item", "temperatures"};
    return place < 2 ? words[place] : NULL;
}

static bool in_group(const struct hobble_evidence_row *row)
{
    return row->place == HOBBLE_IN_CHANNEL || row->place == HOBBLE_IN_GROUP ||
           row->place == HOBBLE_IN_LISTS;
}

HB_GET(stands_in, text, place_word(in_group(key_row(s))))

void hb_evidence_kinds(const struct hobble_evidence_row *row, const char *between, char *buf,
                       size_t size)
{
    const struct hobble_param *kinds = &hobble_evidence_table(NULL)->param;
    size_t used = 0;
    buf[0] = '\0';
    for (int i = 0; i < HOBBLE_EVIDENCE_KINDS && used < size; i++) {
        char name[32];
        hobble_param_word_at(kinds, i, name, sizeof name);
        if (row->kinds >> i & 1u)
            used +=
                (size_t)snprintf(buf + used, size - used, "%s%s", used > 0 ? between : "", name);
    }
}

static void of_kinds(const struct hb_scope *s, struct hb_value *v)
{
    hb_evidence_kinds(key_row(s), "|", v->room, sizeof v->room);
    hb_value_text(v, v->room);
}

HB_GET(name, text, key_row(s)->param.key)
HB_GET(meaning, text, key_row(s)->param.meaning)
HB_GET(unit, text, hobble_unit_symbol(key_row(s)->param.unit))
HB_GET(least, number, key_row(s)->param.min)
HB_GET(most, number, key_row(s)->param.max)
HB_GET(words, text, key_row(s)->param.words)
HB_WHEN(is_number, key_row(s)->param.kind == HOBBLE_NUMBER)
HB_WHEN(is_word, key_row(s)->param.kind == HOBBLE_WORD)
HB_WHEN(has_built_in, key_row(s)->param.kind != HOBBLE_TEXT && !isnan(key_row(s)->param.value))

static void built_in(const struct hb_scope *s, struct hb_value *v)
{
    const struct hobble_param *p = &key_row(s)->param;
    if (p->kind == HOBBLE_NUMBER) {
        hb_value_number(v, p->value);
        return;
    }
    hobble_param_word_at(p, (int)p->value, v->room, sizeof v->room);
    hb_value_text(v, v->room);
}

const struct hb_row hb_evidence_key_rows[] = {
    {"key", HB_TEXT, .get = name, .meaning = "as in the list"},
    {"kinds", HB_TEXT, .get = of_kinds, .meaning = "of evidence that have it"},
    {"stands_in", HB_WORD, .get = stands_in, .word = place_word,
     .meaning = "an item, or the group of a channel in it"},
    {"meaning", HB_TEXT, .get = meaning, .meaning = "what it is"},
    {"built_in", HB_ANY, .get = built_in, .when = has_built_in,
     .meaning = "value where none is given"},
    {"words", HB_TEXT, .get = words, .when = is_word, .meaning = "that it may be"},
    {"unit", HB_TEXT, .get = unit, .when = is_number,
     .meaning = "of its values; empty for a pure number"},
    {"least", HB_REAL, .get = least, .when = is_number, .meaning = "that it may be"},
    {"most", HB_REAL, .get = most, .when = is_number, .meaning = "that it may be"},
    {0}};

size_t hb_count_evidence_keys(const struct hb_scope *s)
{
    size_t count;
    (void)s;
    hobble_evidence_table(&count);
    return count;
}

const void *hb_nth_evidence_key(const struct hb_scope *s, size_t place)
{
    (void)s;
    return &hobble_evidence_table(NULL)[place];
}
