/* SPDX-License-Identifier: GPL-3.0-or-later */
/* marking.c - reads a passenger tyre's size and service marking.
 *
 * Form: UN Regulation 30, section 3. Read strictly from left to right, ASCII only, with one or
 * more spaces allowed between parts but never inside one:
 *
 *   [P] width / aspect  R|RF|ZR|ZRF  rim  index [symbol]  [XL]
 *   [P] width / aspect  R|RF|ZR|ZRF  rim  ( index Y )     [XL]
 *
 * Forms that look alike but mean another kind of tyre get a reason of their own, because a size
 * misread as a passenger tyre's would be advised on as one.
 */
#include "core/tables.h"
#include "hobble.h"

#include <string.h>

enum {
    TEXT_MAX = 64, /* the longest valid marking has 23 characters; leaves room for spaces */
    WORD_MAX = 12,
    NUMBER_CAP = 99999,
};

#define WANTED      "; wanted a passenger size such as 205/55 R16 91V"
#define COMMERCIAL  "commercial tyre: outside what the model was checked on" WANTED
#define TWO_INDICES "commercial tyre (two load indices): outside what the model was checked on"
#define TRAILER     "trailer tyre: outside what the model was checked on" WANTED
#define TEMPORARY   "temporary-use spare: outside what the model was checked on" WANTED
#define HIGH_LOAD   "high-load tyre: outside what the model was checked on" WANTED
#define DIAGONAL                                                                                   \
    "diagonal or bias-belted tyre: outside what the model was checked on; wanted R, RF, ZR, ZRF"
#define OLD_SPEED                                                                                  \
    "old form with the speed in the size; wanted R, RF, ZR or ZRF, and the symbol at the end"
#define INCH_SIZE "inch size: outside what the model was checked on" WANTED
#define DASH_SIZE "size with a dash (diagonal or millimetre rim): not checked" WANTED
#define HALF_RIM  "rim with a fraction (commercial): not checked; wanted a whole rim code 13..24"
#define MM_RIM    "rim in millimetres: not checked; wanted a rim code 13..24, then a space"
#define F_PLACE                                                                                    \
    "XL or the end; run-flat is written RF or ZRF before the rim code, RF here is ambiguous"
#define WIDTH_WANTED  "section width 125..355 mm in steps of 10, ending in 5"
#define ASPECT_WANTED "aspect ratio 25..85 % in steps of 5"
#define RIM_WANTED    "rim code 13..24"
#define INDEX_WANTED  "load index 50..125"
#define SYMBOL_WANTED "speed symbol J K L M N P Q R S T U H V W Y, or none"
#define TAIL_WANTED   "XL or the end of the marking"

/* What a word of letters means at one place of the form. status HOBBLE_OK: accepted. */
struct word_rule {
    const char *word;
    enum hobble_status status;
    const char *reason;
};

static const struct word_rule PREFIXES[] = {
    {"P", HOBBLE_OK, ""},
    {"LT", HOBBLE_E_UNSUPPORTED, COMMERCIAL},
    {"C", HOBBLE_E_UNSUPPORTED, COMMERCIAL},
    {"ST", HOBBLE_E_UNSUPPORTED, TRAILER},
    {"T", HOBBLE_E_UNSUPPORTED, TEMPORARY},
    {"HL", HOBBLE_E_UNSUPPORTED, HIGH_LOAD},
    {NULL, HOBBLE_E_SYNTAX, "an optional P, then the " WIDTH_WANTED},
};

static const struct word_rule BUILDS[] = {
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

static const struct word_rule AFTER_RIM[] = {
    {"C", HOBBLE_E_UNSUPPORTED, COMMERCIAL},
    {"CP", HOBBLE_E_UNSUPPORTED, COMMERCIAL},
    {"LT", HOBBLE_E_UNSUPPORTED, COMMERCIAL},
    {"ST", HOBBLE_E_UNSUPPORTED, TRAILER},
    {NULL, HOBBLE_E_MISSING, INDEX_WANTED " before anything else"},
};

static const struct word_rule TAILS[] = {
    {"XL", HOBBLE_OK, ""},
    {"C", HOBBLE_E_UNSUPPORTED, COMMERCIAL},
    {"LT", HOBBLE_E_UNSUPPORTED, COMMERCIAL},
    {"RF", HOBBLE_E_SYNTAX, F_PLACE},
    {"RFT", HOBBLE_E_SYNTAX, F_PLACE},
    {"EXTRA", HOBBLE_E_SYNTAX, "XL for extra load"},
    {"REINFORCED", HOBBLE_E_SYNTAX, "XL for extra load"},
    {NULL, HOBBLE_E_SYNTAX, TAIL_WANTED},
};

struct reader {
    const char *text;
    size_t at;
    struct hobble_fault *fault;
};

static bool is_digit(char c)
{
    return c >= '0' && c <= '9';
}

static bool is_letter(char c)
{
    return c >= 'A' && c <= 'Z';
}

static char upper(char c)
{
    return c >= 'a' && c <= 'z' ? (char)(c - 'a' + 'A') : c;
}

static char peek(const struct reader *in)
{
    return upper(in->text[in->at]);
}

static char peek_part(struct reader *in)
{
    while (in->text[in->at] == ' ')
        in->at++;
    return peek(in);
}

static enum hobble_status refuse(const struct reader *in, size_t at, enum hobble_status status,
                                 const char *key, const char *allowed)
{
    struct hobble_fault *fault = in->fault;

    if (fault != NULL) {
        memset(fault, 0, sizeof *fault);
        fault->status = status;
        /* The reader never passes a character outside ASCII, so bytes count as characters. */
        fault->column = (int)at + 1;
        hobble_fault_text(fault->key, key);
        hobble_fault_text(fault->given, in->text);
        hobble_fault_text(fault->allowed, allowed);
    }
    return status;
}

/* A part is not there: missing at the end of the text, wrongly written anywhere else. */
static enum hobble_status refuse_absent(const struct reader *in, const char *key,
                                        const char *allowed)
{
    return refuse(in, in->at, peek(in) == '\0' ? HOBBLE_E_MISSING : HOBBLE_E_SYNTAX, key, allowed);
}

/* Copies the run of letters at the reader into word, upper case and cut to fit; does not move. */
static size_t look_word(const struct reader *in, char word[WORD_MAX])
{
    size_t length = 0;

    while (length < WORD_MAX - 1 && is_letter(upper(in->text[in->at + length]))) {
        word[length] = upper(in->text[in->at + length]);
        length++;
    }
    word[length] = '\0';
    return length;
}

/* The rule for a word, or the last one of the table (word NULL), which is the refusal. */
static const struct word_rule *find_rule(const struct word_rule *rule, const char *word)
{
    while (rule->word != NULL && strcmp(rule->word, word) != 0)
        rule++;
    return rule;
}

/* Reads a whole number without leading zeros; returns how many digits, 0 when there is none. */
static size_t read_number(struct reader *in, int *value)
{
    size_t start = in->at;

    *value = 0;
    if (peek(in) == '0')
        return 0;
    while (is_digit(peek(in))) {
        *value = *value * 10 + (peek(in) - '0');
        if (*value > NUMBER_CAP)
            *value = NUMBER_CAP;
        in->at++;
    }
    return in->at - start;
}

static enum hobble_status read_prefix(struct reader *in, struct hobble_marking *m)
{
    char word[WORD_MAX];
    size_t length = 0;
    const struct word_rule *rule = NULL;

    if (!is_letter(peek_part(in)))
        return HOBBLE_OK;
    length = look_word(in, word);
    rule = find_rule(PREFIXES, word);
    if (rule->status != HOBBLE_OK)
        return refuse(in, in->at, rule->status, "marking", rule->reason);
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

static enum hobble_status read_width(struct reader *in, int *width, size_t *start)
{
    char next = peek_part(in);

    *start = in->at;
    if (read_number(in, width) == 0)
        return refuse_absent(in, "section width", WIDTH_WANTED);
    next = peek(in);
    if (next == '.' || next == ',' || next == 'X')
        return refuse(in, in->at, HOBBLE_E_UNSUPPORTED, "section width", INCH_SIZE);
    if (next == '-')
        return refuse(in, in->at, HOBBLE_E_UNSUPPORTED, "section width", DASH_SIZE);
    return HOBBLE_OK;
}

static enum hobble_status read_size(struct reader *in, struct hobble_marking *m)
{
    int width = 0;
    int aspect = 0;
    size_t width_at = 0;
    size_t aspect_at = 0;
    bool slash = false;
    enum hobble_status status = read_width(in, &width, &width_at);

    if (status != HOBBLE_OK)
        return status;
    slash = peek_part(in) == '/';
    if (slash) {
        in->at++;
        peek_part(in);
        aspect_at = in->at;
        if (read_number(in, &aspect) > 0 && looks_like_two_indices(width, aspect))
            return refuse(in, width_at, HOBBLE_E_UNSUPPORTED, "marking", TWO_INDICES);
    }
    if (!hb_width_allowed(width))
        return refuse(in, width_at, HOBBLE_E_RANGE, "section width", WIDTH_WANTED);
    if (!slash && is_letter(peek(in)))
        return refuse(in, in->at, HOBBLE_E_MISSING, "aspect ratio", "/ and an " ASPECT_WANTED);
    if (!slash)
        return refuse_absent(in, "aspect ratio", "/ and an " ASPECT_WANTED);
    if (in->at == aspect_at)
        return refuse_absent(in, "aspect ratio", ASPECT_WANTED);
    if (!hb_aspect_allowed(aspect))
        return refuse(in, aspect_at, HOBBLE_E_RANGE, "aspect ratio", ASPECT_WANTED);
    m->width_mm = width;
    m->aspect = aspect;
    return HOBBLE_OK;
}

static enum hobble_status read_build(struct reader *in, struct hobble_marking *m)
{
    char word[WORD_MAX];
    const struct word_rule *rule = NULL;
    size_t length = 0;

    if (peek_part(in) == '-')
        return refuse(in, in->at, HOBBLE_E_UNSUPPORTED, "construction", DIAGONAL);
    length = look_word(in, word);
    if (length == 0)
        return refuse_absent(in, "construction", "R, RF, ZR or ZRF");
    rule = find_rule(BUILDS, word);
    if (rule->status != HOBBLE_OK)
        return refuse(in, in->at, rule->status, "construction", rule->reason);
    m->z_rated = word[0] == 'Z';
    m->flat = word[length - 1] == 'F' ? HOBBLE_MARK_RF : HOBBLE_MARK_NONE;
    in->at += length;
    return HOBBLE_OK;
}

static enum hobble_status read_rim(struct reader *in, struct hobble_marking *m)
{
    size_t start = 0;
    size_t digits = 0;

    peek_part(in);
    start = in->at;
    digits = read_number(in, &m->rim_code);
    if (digits == 0)
        return refuse_absent(in, "rim code", RIM_WANTED);
    if (peek(in) == '.' || peek(in) == ',')
        return refuse(in, in->at, HOBBLE_E_UNSUPPORTED, "rim code", HALF_RIM);
    if (digits == 3)
        return refuse(in, start, HOBBLE_E_UNSUPPORTED, "rim code", MM_RIM);
    if (digits > 3)
        return refuse(in, start, HOBBLE_E_SYNTAX, "rim code",
                      RIM_WANTED ", a space, then the load index");
    if (!(hobble_rim_diameter(m->rim_code) > 0.0))
        return refuse(in, start, HOBBLE_E_RANGE, "rim code", RIM_WANTED);
    return HOBBLE_OK;
}

static enum hobble_status read_index(struct reader *in, struct hobble_marking *m)
{
    char word[WORD_MAX];
    size_t start = 0;

    peek_part(in);
    if (look_word(in, word) > 0) {
        const struct word_rule *rule = find_rule(AFTER_RIM, word);
        return refuse(in, in->at, rule->status, "load index", rule->reason);
    }
    start = in->at;
    if (read_number(in, &m->load_index) == 0)
        return refuse_absent(in, "load index", INDEX_WANTED);
    if (peek_part(in) == '/')
        return refuse(in, in->at, HOBBLE_E_UNSUPPORTED, "load index", TWO_INDICES);
    if (!(hobble_load_index_kg(m->load_index) > 0.0))
        return refuse(in, start, HOBBLE_E_RANGE, "load index", INDEX_WANTED);
    return HOBBLE_OK;
}

/* After the opening bracket: UN R30 puts the service description of a tyre for more than 300 km/h
 * in brackets, and it carries Y. */
static enum hobble_status read_bracket(struct reader *in, struct hobble_marking *m)
{
    enum hobble_status status = read_index(in, m);

    if (status != HOBBLE_OK)
        return status;
    if (!is_letter(peek_part(in)))
        return refuse_absent(in, "speed symbol", "speed symbol Y inside the brackets");
    if (peek(in) != 'Y')
        return refuse(in, in->at, HOBBLE_E_CONFLICT, "speed symbol",
                      "speed symbol Y: brackets stand for more than 300 km/h");
    m->speed_symbol = 'Y';
    m->above_300 = true;
    in->at++;
    if (peek_part(in) != ')')
        return refuse_absent(in, "speed symbol", ") after the speed symbol");
    in->at++;
    return HOBBLE_OK;
}

static enum hobble_status read_symbol(struct reader *in, struct hobble_marking *m)
{
    char word[WORD_MAX];
    double kmh = 0.0;

    peek_part(in);
    if (look_word(in, word) == 0 || find_rule(TAILS, word)->word != NULL)
        return HOBBLE_OK; /* none given, or what comes after it */
    kmh = hobble_speed_symbol_kmh(word[0]);
    if (!(kmh > 0.0))
        return refuse(in, in->at, HOBBLE_E_RANGE, "speed symbol", SYMBOL_WANTED);
    if (m->z_rated && kmh <= HB_Z_ABOVE_KMH)
        return refuse(in, in->at, HOBBLE_E_CONFLICT, "speed symbol",
                      "speed symbol W or Y: ZR and ZRF stand for more than 240 km/h");
    m->speed_symbol = word[0];
    in->at++;
    return HOBBLE_OK;
}

static enum hobble_status read_service(struct reader *in, struct hobble_marking *m)
{
    enum hobble_status status = HOBBLE_OK;

    if (peek_part(in) == '(') {
        in->at++;
        return read_bracket(in, m);
    }
    status = read_index(in, m);
    return status == HOBBLE_OK ? read_symbol(in, m) : status;
}

static enum hobble_status read_tail(struct reader *in, struct hobble_marking *m)
{
    char word[WORD_MAX];
    const struct word_rule *rule = NULL;
    size_t length = 0;

    while (peek_part(in) != '\0') {
        length = look_word(in, word);
        rule = find_rule(TAILS, word);
        if (rule->status != HOBBLE_OK)
            return refuse(in, in->at, rule->status, "marking", rule->reason);
        if (m->extra_load)
            return refuse(in, in->at, HOBBLE_E_DUPLICATE, "marking", "XL once");
        m->extra_load = true;
        in->at += length;
    }
    return HOBBLE_OK;
}

/* Over-long text: the column is the character after the last one allowed, counted in what is
 * shown, which may hold characters of several bytes. */
static enum hobble_status refuse_long(struct reader *in)
{
    enum hobble_status status =
        refuse(in, TEXT_MAX, HOBBLE_E_TOO_LARGE, "marking", "at most 64 bytes" WANTED);
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
    typedef enum hobble_status (*part_reader)(struct reader *, struct hobble_marking *);
    static const part_reader PARTS[] = {read_prefix, read_size,    read_build,
                                        read_rim,    read_service, read_tail};
    struct hobble_marking marking = {.flat = HOBBLE_MARK_NONE};
    struct reader in = {.text = text == NULL ? "" : text, .at = 0, .fault = fault};

    if (text == NULL || out == NULL)
        return refuse(&in, 0, HOBBLE_E_MISSING, "marking", "a marking such as 205/55 R16 91V");
    if (memchr(text, '\0', TEXT_MAX + 1) == NULL)
        return refuse_long(&in);
    for (size_t i = 0; i < sizeof PARTS / sizeof PARTS[0]; i++) {
        enum hobble_status status = PARTS[i](&in, &marking);
        if (status != HOBBLE_OK)
            return status;
    }
    *out = marking;
    return HOBBLE_OK;
}
