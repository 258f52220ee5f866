/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/setting.h"

#include <math.h>
#include <string.h>

static const struct hobble_param *row_of(int row)
{
    return row >= 0 && row < HB_PARAM_COUNT ? &hobble_param_table(NULL)[row] : NULL;
}

enum hobble_status hb_fault(struct hobble_faults *sink, enum hobble_status status,
                            const struct hobble_param *p, const char *origin, const char *given,
                            const char *allowed)
{
    struct hobble_fault f = {.status = status};
    hobble_fault_text(f.key, p ? p->key : "");
    hobble_fault_text(f.file, origin);
    hobble_fault_text(f.given, given);
    hobble_fault_text(f.allowed, allowed);
    return hobble_faults_add(sink, &f);
}

static void note(struct hb_setting *set, const char *origin)
{
    set->given = true;
    const size_t length = origin ? strlen(origin) : 0, most = sizeof set->origin - 1;
    memcpy(set->origin, origin ? origin : "", length < most ? length : most);
    set->origin[length < most ? length : most] = '\0';
}

enum hobble_status hb_setting_put_number(struct hb_settings *s, int row, double value,
                                         const char *origin)
{
    const struct hobble_param *p = row_of(row);
    if (!p || p->kind != HOBBLE_NUMBER)
        return p ? HOBBLE_E_TYPE : HOBBLE_E_UNKNOWN;
    if (!isfinite(value) || value < p->min || value > p->max)
        return HOBBLE_E_RANGE;
    if (p->unit == HOBBLE_UNIT_WHOLE && value != floor(value))
        return HOBBLE_E_TYPE;
    s->row[row].value = value;
    s->row[row].provenance = HOBBLE_ASSUMED;
    note(&s->row[row], origin);
    return HOBBLE_OK;
}

double hb_spread_most(const struct hobble_param *p)
{
    return p->shape == HOBBLE_LOGNORMAL ? 2.0 : p->max - p->min;
}

enum hobble_status hb_setting_put_spread(struct hb_settings *s, int row, double spread,
                                         const char *origin)
{
    const struct hobble_param *p = row_of(row);
    if (!p || p->stage == HOBBLE_NOT_DRAWN)
        return p ? HOBBLE_E_CONFLICT : HOBBLE_E_UNKNOWN;
    if (!isfinite(spread) || spread < 0.0 || spread > hb_spread_most(p))
        return HOBBLE_E_RANGE;
    s->row[row].spread = spread;
    note(&s->row[row], origin);
    return HOBBLE_OK;
}

enum hobble_status hb_setting_put_word(struct hb_settings *s, int row, const char *word,
                                       const char *origin, struct hobble_faults *sink)
{
    const struct hobble_param *p = row_of(row);
    if (!p || p->kind != HOBBLE_WORD)
        return hb_fault(sink, p ? HOBBLE_E_TYPE : HOBBLE_E_UNKNOWN, p, origin, word, "a value");
    const int place = hobble_param_word(p, word);
    if (place < 0)
        return hb_fault(sink, HOBBLE_E_SYNTAX, p, origin, word, p->words);
    s->row[row].value = place;
    note(&s->row[row], origin);
    return HOBBLE_OK;
}

/* Length in bytes of well-formed UTF-8 without control characters, or -1. */
static long text_length(const char *text)
{
    const unsigned char *t = (const unsigned char *)text;
    long n = 0;
    while (t[n]) {
        const int extra = t[n] < 0x80 ? 0 : t[n] >= 0xf0 ? 3 : t[n] >= 0xe0 ? 2 : 1;
        if (t[n] < 0x20 || t[n] == 0x7f || (t[n] >= 0x80 && t[n] < 0xc2) || t[n] > 0xf4)
            return -1;
        for (int i = 1; i <= extra; i++)
            if ((t[n + i] & 0xc0) != 0x80)
                return -1;
        n += extra + 1;
    }
    return n;
}

/* Whether two origins are one source: all options are one, and all lines of a file. */
static bool same_source(const char *a, const char *b)
{
    const char *const end_a = strrchr(a, ':'), *const end_b = strrchr(b, ':');
    const size_t length_a = end_a ? (size_t)(end_a - a) : strlen(a);
    const size_t length_b = end_b ? (size_t)(end_b - b) : strlen(b);
    if (strncmp(a, "--", 2) == 0 && strncmp(b, "--", 2) == 0)
        return true;
    return length_a == length_b && strncmp(a, b, length_a) == 0;
}

/* A new marking is another tyre: how an earlier one was said to be built does not hold for it. */
static void forget_construction(struct hb_settings *s, const char *origin)
{
    struct hb_setting *built = &s->row[HB_P_CONSTRUCTION];
    if (built->given && !same_source(built->origin, origin)) {
        built->value = HB_UNKNOWN;
        built->given = false;
        built->origin[0] = '\0';
    }
}

enum hobble_status hb_setting_put_text(struct hb_settings *s, int row, const char *text,
                                       const char *origin, struct hobble_faults *sink)
{
    const struct hobble_param *p = row_of(row);
    if (!p || p->kind != HOBBLE_TEXT || !text)
        return hb_fault(sink, p ? HOBBLE_E_TYPE : HOBBLE_E_UNKNOWN, p, origin, text, "a value");
    const long length = text_length(text);
    if (length < 0 || length >= HB_TEXT_MAX)
        return hb_fault(sink, length < 0 ? HOBBLE_E_SYNTAX : HOBBLE_E_TOO_LARGE, p, origin, text,
                        "up to 119 bytes of UTF-8 without control characters");
    if (row == HB_P_MARKING) {
        struct hobble_marking marking;
        struct hobble_fault why = {0};
        if (hobble_marking_parse(text, &marking, &why) != HOBBLE_OK) {
            hobble_fault_text(why.key, p->key);
            hobble_fault_text(why.file, origin);
            return hobble_faults_add(sink, &why);
        }
    }
    if (row == HB_P_MARKING)
        forget_construction(s, origin ? origin : "");
    memcpy(s->row[row].text, text, (size_t)length + 1);
    note(&s->row[row], origin);
    return HOBBLE_OK;
}
