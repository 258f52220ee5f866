/* SPDX-License-Identifier: GPL-3.0-or-later */
/* marking.c - reads a passenger tyre's size and service marking.
 *
 * Form: UN Regulation 30, section 3. Read strictly from left to right, ASCII only, with one or
 * more spaces allowed between parts but never inside one:
 *
 *   [P] width / aspect  R|RF|ZR|ZRF  rim  index [symbol]  [rest]
 *   [P] width / aspect  R|RF|ZR|ZRF  rim  ( index Y )     [rest]
 *
 * The rest is read by marking_rest.c.
 *
 * Forms that look alike but mean another kind of tyre get a reason of their own, because a size
 * misread as a passenger tyre's would be advised on as one.
 */
#include "core/marking_reader.h"
#include "core/marking_rest.h"
#include "core/tables.h"

#include <string.h>

enum { NUMBER_CAP = 99999 };

#define DIAGONAL                                                                                   \
    "diagonal or bias-belted tyre: outside what the model was checked on; wanted R, RF, ZR, ZRF"
#define OLD_SPEED                                                                                  \
    "old form with the speed in the size; wanted R, RF, ZR or ZRF, and the symbol at the end"
#define WANTED        "; wanted a passenger size such as 205/55 R16 91V"
#define INCH_SIZE     "inch size: outside what the model was checked on" WANTED
#define DASH_SIZE     "size with a dash (diagonal or millimetre rim): not checked" WANTED
#define HALF_RIM      "rim with a fraction (commercial): not checked; wanted a whole rim code 13..24"
#define MM_RIM        "rim in millimetres: not checked; wanted a rim code 13..24, then a space"
#define WIDTH_WANTED  "section width 125..355 mm in steps of 10, ending in 5"
#define ASPECT_WANTED "aspect ratio 25..85 % in steps of 5"
#define RIM_WANTED    "rim code 13..24"
#define INDEX_WANTED  "load index 50..125"
#define SYMBOL_WANTED "speed symbol J K L M N P Q R S T U H V W Y, or none"

static const struct hb_word_rule PREFIXES[] = {
    {"P", HOBBLE_OK, ""},
    {"LT", HOBBLE_E_UNSUPPORTED, COMMERCIAL},
    {"C", HOBBLE_E_UNSUPPORTED, COMMERCIAL},
    {"ST", HOBBLE_E_UNSUPPORTED, TRAILER},
    {"T", HOBBLE_E_UNSUPPORTED, TEMPORARY},
    {"HL", HOBBLE_E_UNSUPPORTED, HIGH_LOAD},
    {NULL, HOBBLE_E_SYNTAX, "an optional P, then the " WIDTH_WANTED},
};

static const struct hb_word_rule BUILDS[] = {
    {"R", HOBBLE_OK, ""},
    {"RF", HOBBLE_OK, ""},
    {"ZR", HOBBLE_OK, ""},
    {"ZRF", HOBBLE_OK, ""},
    {"D", HOBBLE_E_UNSUPPORTED, DIAGONAL},
    {"DF", HOBBLE_E_UNSUPPORTED, DIAGONAL},
    {"B", HOBBLE_E_UNSUPPORTED, DIAGONAL},
    {"BF", HOBBLE_E_UNSUPPORTED, DIAGONAL},
    {"SR", HOBBLE_E_UNSUPPORTED, OLD_SPEED},
    {"HR", HOBBLE_E_UNSUPPORTED, OLD_SPEED},
    {"VR", HOBBLE_E_UNSUPPORTED, OLD_SPEED},
    {NULL, HOBBLE_E_SYNTAX, "R, RF, ZR or ZRF"},
};

static const struct hb_word_rule AFTER_RIM[] = {
    {"C", HOBBLE_E_UNSUPPORTED, COMMERCIAL},
    {"CP", HOBBLE_E_UNSUPPORTED, COMMERCIAL},
    {"LT", HOBBLE_E_UNSUPPORTED, COMMERCIAL},
    {"ST", HOBBLE_E_UNSUPPORTED, TRAILER},
    {NULL, HOBBLE_E_MISSING, INDEX_WANTED " before anything else"},
};

/* A part is not there: missing at the end of the text, wrongly written anywhere else. */
static enum hobble_status refuse_absent(const struct hb_marking_reader *in, const char *key,
                                        const char *allowed)
{
    return hb_marking_refuse(in, in->at, hb_peek(in) == '\0' ? HOBBLE_E_MISSING : HOBBLE_E_SYNTAX,
                             key, allowed);
}

/* Reads a whole number without leading zeros; returns how many digits, 0 when there is none. */
static size_t read_number(struct hb_marking_reader *in, int *value)
{
    size_t start = in->at;

    *value = 0;
    if (hb_peek(in) == '0')
        return 0;
    while (hb_is_digit(hb_peek(in))) {
        *value = *value * 10 + (hb_peek(in) - '0');
        if (*value > NUMBER_CAP)
            *value = NUMBER_CAP;
        in->at++;
    }
    return in->at - start;
}

static enum hobble_status read_prefix(struct hb_marking_reader *in, struct hobble_marking *m)
{
    char word[HB_WORD_MAX];
    size_t length = 0;
    const struct hb_word_rule *rule = NULL;

    if (!hb_is_letter(hb_peek_part(in)))
        return HOBBLE_OK;
    length = hb_look_word(in, word);
    rule = hb_find_rule(PREFIXES, word);
    if (rule->status != HOBBLE_OK)
        return hb_marking_refuse(in, in->at, rule->status, "marking", rule->reason);
    m->p_metric = true;
    in->at += length;
    return HOBBLE_OK;
}

/* "120/116": the second of two load indices is the lower one (dual fitting), and above any aspect
 * ratio in the table. */
static bool looks_like_two_indices(int first, int second)
{
    return first < 200 && second > HB_ASPECT_MAX && second <= first;
}

static enum hobble_status read_width(struct hb_marking_reader *in, int *width, size_t *start)
{
    char next = hb_peek_part(in);

    *start = in->at;
    if (read_number(in, width) == 0)
        return refuse_absent(in, "section width", WIDTH_WANTED);
    next = hb_peek(in);
    if (next == '.' || next == ',' || next == 'X')
        return hb_marking_refuse(in, in->at, HOBBLE_E_UNSUPPORTED, "section width", INCH_SIZE);
    if (next == '-')
        return hb_marking_refuse(in, in->at, HOBBLE_E_UNSUPPORTED, "section width", DASH_SIZE);
    return HOBBLE_OK;
}

static enum hobble_status read_size(struct hb_marking_reader *in, struct hobble_marking *m)
{
    int width = 0;
    int aspect = 0;
    size_t width_at = 0;
    size_t aspect_at = 0;
    bool slash = false;
    enum hobble_status status = read_width(in, &width, &width_at);

    if (status != HOBBLE_OK)
        return status;
    slash = hb_peek_part(in) == '/';
    if (slash) {
        in->at++;
        hb_peek_part(in);
        aspect_at = in->at;
        if (read_number(in, &aspect) > 0 && looks_like_two_indices(width, aspect))
            return hb_marking_refuse(in, width_at, HOBBLE_E_UNSUPPORTED, "marking", TWO_INDICES);
    }
    if (!hb_width_allowed(width))
        return hb_marking_refuse(in, width_at, HOBBLE_E_RANGE, "section width", WIDTH_WANTED);
    if (!slash && hb_is_letter(hb_peek(in)))
        return hb_marking_refuse(in, in->at, HOBBLE_E_MISSING, "aspect ratio",
                                 "/ and an " ASPECT_WANTED);
    if (!slash)
        return refuse_absent(in, "aspect ratio", "/ and an " ASPECT_WANTED);
    if (in->at == aspect_at)
        return refuse_absent(in, "aspect ratio", ASPECT_WANTED);
    if (!hb_aspect_allowed(aspect))
        return hb_marking_refuse(in, aspect_at, HOBBLE_E_RANGE, "aspect ratio", ASPECT_WANTED);
    m->width_mm = width;
    m->aspect = aspect;
    return HOBBLE_OK;
}

static enum hobble_status read_build(struct hb_marking_reader *in, struct hobble_marking *m)
{
    char word[HB_WORD_MAX];
    const struct hb_word_rule *rule = NULL;
    size_t length = 0;

    if (hb_peek_part(in) == '-')
        return hb_marking_refuse(in, in->at, HOBBLE_E_UNSUPPORTED, "construction", DIAGONAL);
    length = hb_look_word(in, word);
    if (length == 0)
        return refuse_absent(in, "construction", "R, RF, ZR or ZRF");
    rule = hb_find_rule(BUILDS, word);
    if (rule->status != HOBBLE_OK)
        return hb_marking_refuse(in, in->at, rule->status, "construction", rule->reason);
    m->z_rated = word[0] == 'Z';
    m->flat = word[length - 1] == 'F' ? HOBBLE_MARK_RF : HOBBLE_MARK_NONE;
    in->at += length;
    return HOBBLE_OK;
}

static enum hobble_status read_rim(struct hb_marking_reader *in, struct hobble_marking *m)
{
    size_t start = 0;
    size_t digits = 0;

    hb_peek_part(in);
    start = in->at;
    digits = read_number(in, &m->rim_code);
    if (digits == 0)
        return refuse_absent(in, "rim code", RIM_WANTED);
    if (hb_peek(in) == '.' || hb_peek(in) == ',')
        return hb_marking_refuse(in, in->at, HOBBLE_E_UNSUPPORTED, "rim code", HALF_RIM);
    if (digits == 3)
        return hb_marking_refuse(in, start, HOBBLE_E_UNSUPPORTED, "rim code", MM_RIM);
    if (digits > 3)
        return hb_marking_refuse(in, start, HOBBLE_E_SYNTAX, "rim code",
                                 RIM_WANTED ", a space, then the load index");
    if (!(hobble_rim_diameter(m->rim_code) > 0.0))
        return hb_marking_refuse(in, start, HOBBLE_E_RANGE, "rim code", RIM_WANTED);
    return HOBBLE_OK;
}

static enum hobble_status read_index(struct hb_marking_reader *in, struct hobble_marking *m)
{
    char word[HB_WORD_MAX];
    size_t start = 0;

    hb_peek_part(in);
    if (hb_look_word(in, word) > 0) {
        const struct hb_word_rule *rule = hb_find_rule(AFTER_RIM, word);
        return hb_marking_refuse(in, in->at, rule->status, "load index", rule->reason);
    }
    start = in->at;
    if (read_number(in, &m->load_index) == 0)
        return refuse_absent(in, "load index", INDEX_WANTED);
    if (hb_peek_part(in) == '/')
        return hb_marking_refuse(in, in->at, HOBBLE_E_UNSUPPORTED, "load index", TWO_INDICES);
    if (!(hobble_load_index_kg(m->load_index) > 0.0))
        return hb_marking_refuse(in, start, HOBBLE_E_RANGE, "load index", INDEX_WANTED);
    return HOBBLE_OK;
}

/* After the opening bracket: UN R30 puts the service description of a tyre for more than 300 km/h
 * in brackets, and it carries Y. */
static enum hobble_status read_bracket(struct hb_marking_reader *in, struct hobble_marking *m)
{
    enum hobble_status status = read_index(in, m);

    if (status != HOBBLE_OK)
        return status;
    if (!hb_is_letter(hb_peek_part(in)))
        return refuse_absent(in, "speed symbol", "speed symbol Y inside the brackets");
    if (hb_peek(in) != 'Y')
        return hb_marking_refuse(in, in->at, HOBBLE_E_CONFLICT, "speed symbol",
                                 "speed symbol Y: brackets stand for more than 300 km/h");
    m->speed_symbol = 'Y';
    m->above_300 = true;
    in->at++;
    if (hb_peek_part(in) != ')')
        return refuse_absent(in, "speed symbol", ") after the speed symbol");
    in->at++;
    return HOBBLE_OK;
}

/* Whether a letter at the reader is a speed symbol: not in "91 M+S" or "91 TUBELESS", but in
 * "94 WXL". A word right behind the index that is none of the rest is taken for a symbol, so that
 * what is wrong behind it is shown. */
static bool is_symbol(struct hb_marking_reader in)
{
    char word[HB_WORD_MAX];
    const size_t length = hb_look_word(&in, word);
    const bool apart = hb_is_apart(&in);

    if (length == 0 || hb_marking_is_rest(&in))
        return false;
    in.at++;
    return length == 1 || !apart || hb_marking_is_rest(&in);
}

static enum hobble_status read_symbol(struct hb_marking_reader *in, struct hobble_marking *m)
{
    const char letter = hb_peek_part(in);
    double kmh = 0.0;

    if (!is_symbol(*in))
        return HOBBLE_OK; /* none given, or what comes after it */
    kmh = hobble_speed_symbol_kmh(letter);
    if (!(kmh > 0.0))
        return hb_marking_refuse(in, in->at, HOBBLE_E_RANGE, "speed symbol", SYMBOL_WANTED);
    if (m->z_rated && kmh <= HB_Z_ABOVE_KMH)
        return hb_marking_refuse(in, in->at, HOBBLE_E_CONFLICT, "speed symbol",
                                 "speed symbol W or Y: ZR and ZRF stand for more than 240 km/h");
    m->speed_symbol = letter;
    in->at++;
    return HOBBLE_OK;
}

static enum hobble_status read_service(struct hb_marking_reader *in, struct hobble_marking *m)
{
    enum hobble_status status = HOBBLE_OK;

    if (hb_peek_part(in) == '(') {
        in->at++;
        return read_bracket(in, m);
    }
    status = read_index(in, m);
    return status == HOBBLE_OK ? read_symbol(in, m) : status;
}

/* Over-long text: the column is the character after the last one allowed, counted in what is
 * shown, which may hold characters of several bytes. */
static enum hobble_status refuse_long(struct hb_marking_reader *in)
{
    enum hobble_status status =
        hb_marking_refuse(in, HB_MARKING_MAX, HOBBLE_E_TOO_LARGE, "marking",
                          "at most 100 bytes; wanted a passenger size such as 205/55 R16 91V");
    int shown = 0;

    if (in->fault == NULL)
        return status;
    for (const char *p = in->fault->given; *p != '\0'; p++)
        if (((unsigned char)*p & 0xC0U) != 0x80U)
            shown++;
    if (shown < in->fault->column)
        in->fault->column = shown;
    return status;
}

enum hobble_status hobble_marking_parse(const char *text, struct hobble_marking *out,
                                        struct hobble_fault *fault)
{
    typedef enum hobble_status (*part_reader)(struct hb_marking_reader *, struct hobble_marking *);
    static const part_reader PARTS[] = {read_prefix, read_size,    read_build,
                                        read_rim,    read_service, hb_marking_read_rest};
    struct hobble_marking marking = {.flat = HOBBLE_MARK_NONE};
    struct hb_marking_reader in = {.text = text == NULL ? "" : text, .at = 0, .fault = fault};

    if (text == NULL || out == NULL)
        return hb_marking_refuse(&in, 0, HOBBLE_E_MISSING, "marking",
                                 "a marking such as 205/55 R16 91V");
    if (memchr(text, '\0', HB_MARKING_MAX + 1) == NULL)
        return refuse_long(&in);
    for (size_t i = 0; i < sizeof PARTS / sizeof PARTS[0]; i++) {
        enum hobble_status status = PARTS[i](&in, &marking);
        if (status != HOBBLE_OK)
            return status;
    }
    *out = marking;
    return HOBBLE_OK;
}
