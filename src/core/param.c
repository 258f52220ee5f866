/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/param.h"

#include <math.h>
#include <string.h>

#define UNSET          ((double)NAN)
#define FIXED          HOBBLE_FIXED, HOBBLE_NOT_DRAWN
#define NORMAL_TYPE    HOBBLE_NORMAL, HOBBLE_WITH_TYPE
#define NORMAL_UNIT    HOBBLE_NORMAL, HOBBLE_WITH_UNIT
#define LOGNORMAL_TYPE HOBBLE_LOGNORMAL, HOBBLE_WITH_TYPE
#define LOGNORMAL_UNIT HOBBLE_LOGNORMAL, HOBBLE_WITH_UNIT
#define UNIFORM_UNIT   HOBBLE_UNIFORM, HOBBLE_WITH_UNIT

/* shape is two fields, so the row's arguments are passed on once more after its expansion */
#define NUMBER(id, key, group, symbol, unit, value, min, max, shape, spread, provenance, source,   \
               meaning)                                                                            \
    {key,                                                                                          \
     HOBBLE_##group,                                                                               \
     HOBBLE_NUMBER,                                                                                \
     symbol,                                                                                       \
     HOBBLE_UNIT_##unit,                                                                           \
     value,                                                                                        \
     min,                                                                                          \
     max,                                                                                          \
     shape,                                                                                        \
     spread,                                                                                       \
     HOBBLE_##provenance,                                                                          \
     source,                                                                                       \
     meaning,                                                                                      \
     NULL},
#define WORD(id, key, group, words, value, meaning)                                                \
    {key,                                                                                          \
     HOBBLE_##group,                                                                               \
     HOBBLE_WORD,                                                                                  \
     "-",                                                                                          \
     HOBBLE_UNIT_NONE,                                                                             \
     value,                                                                                        \
     0,                                                                                            \
     0,                                                                                            \
     FIXED,                                                                                        \
     0,                                                                                            \
     HOBBLE_ASSUMED,                                                                               \
     "asked",                                                                                      \
     meaning,                                                                                      \
     words},
#define TEXT(id, key, group, meaning)                                                              \
    {key,                                                                                          \
     HOBBLE_##group,                                                                               \
     HOBBLE_TEXT,                                                                                  \
     "-",                                                                                          \
     HOBBLE_UNIT_NONE,                                                                             \
     UNSET,                                                                                        \
     0,                                                                                            \
     0,                                                                                            \
     FIXED,                                                                                        \
     0,                                                                                            \
     HOBBLE_ASSUMED,                                                                               \
     "asked",                                                                                      \
     meaning,                                                                                      \
     NULL},

static const struct hobble_param table[] = {
#include "core/param_rows.inc"
};

static const struct {
    const char *symbol;
    double factor, zero;
} units[] = {
#define UNIT_ROW(id, symbol, factor, zero) {symbol, factor, zero},
    HOBBLE_UNIT_LIST(UNIT_ROW)
#undef UNIT_ROW
};

const char *hobble_unit_symbol(enum hobble_unit unit)
{
    return units[unit].symbol;
}

double hobble_unit_to_si(enum hobble_unit unit, double shown)
{
    return shown * units[unit].factor + units[unit].zero;
}

double hobble_unit_from_si(enum hobble_unit unit, double si)
{
    return (si - units[unit].zero) / units[unit].factor;
}

const char *hobble_provenance_word(enum hobble_provenance provenance)
{
    static const char *const words[] = {"published", "measured", "practice",
                                        "memory",    "fitted",   "assumed"};
    return (unsigned)provenance < HOBBLE_PROVENANCE_COUNT ? words[provenance] : "unknown";
}

const char *hobble_group_word(enum hobble_group group)
{
    static const char *const words[] = {"tyre", "vehicle", "trip", "bench", "rules", "study"};
    return (unsigned)group < HOBBLE_GROUP_COUNT ? words[group] : "unknown";
}

const struct hobble_param *hobble_param_table(size_t *count)
{
    if (count)
        *count = HB_PARAM_COUNT;
    return table;
}

int hobble_param_find(const char *key)
{
    for (int i = 0; key && i < HB_PARAM_COUNT; i++)
        if (strcmp(table[i].key, key) == 0)
            return i;
    return -1;
}

/* Start and length of the word at a place of a list with '|' between; NULL past its end. */
static const char *word_at(const char *words, int place, size_t *length)
{
    const char *word = words;
    while (word && place-- > 0) {
        word = strchr(word, '|');
        if (word)
            word++;
    }
    if (word)
        *length = strcspn(word, "|");
    return word;
}

int hobble_param_word(const struct hobble_param *row, const char *word)
{
    size_t length;
    if (row->kind != HOBBLE_WORD || !word)
        return -1;
    for (int place = 0;; place++) {
        const char *here = word_at(row->words, place, &length);
        if (!here)
            return -1;
        if (strlen(word) == length && memcmp(here, word, length) == 0)
            return place;
    }
}

void hobble_param_word_at(const struct hobble_param *row, int place, char *buf, size_t size)
{
    size_t length = 0;
    const char *word =
        row->kind == HOBBLE_WORD && place >= 0 ? word_at(row->words, place, &length) : NULL;
    if (size == 0)
        return;
    if (!word || length >= size)
        length = 0;
    if (length > 0)
        memcpy(buf, word, length);
    buf[length] = '\0';
}

void hb_settings_default(struct hb_settings *settings)
{
    memset(settings, 0, sizeof *settings);
    for (int i = 0; i < HB_PARAM_COUNT; i++) {
        struct hb_setting *row = &settings->row[i];
        row->value = table[i].value;
        row->spread = table[i].spread;
        row->provenance = table[i].provenance;
        memcpy(row->origin, "built in", sizeof "built in");
    }
}

double hb_setting_value(const struct hb_settings *settings, enum hb_param_id id)
{
    return settings->row[id].value;
}

double hb_setting_si(const struct hb_settings *settings, enum hb_param_id id)
{
    return hobble_unit_to_si(table[id].unit, settings->row[id].value);
}

bool hb_setting_known(const struct hb_settings *settings, enum hb_param_id id)
{
    return !isnan(settings->row[id].value);
}

int hb_setting_word(const struct hb_settings *settings, enum hb_param_id id)
{
    return hb_setting_known(settings, id) ? (int)settings->row[id].value : 0;
}

int hb_param_dimension(enum hb_param_id id)
{
    int dimension = 0;
    if (table[id].stage == HOBBLE_NOT_DRAWN)
        return -1;
    for (int i = 0; i < (int)id; i++)
        dimension += table[i].stage != HOBBLE_NOT_DRAWN;
    return dimension;
}

int hb_param_dimensions(void)
{
    int count = 0;
    for (int i = 0; i < HB_PARAM_COUNT; i++)
        count += table[i].stage != HOBBLE_NOT_DRAWN;
    return count;
}
