/* SPDX-License-Identifier: GPL-3.0-or-later */
/* marking_rest.c - what stands on a sidewall behind the size and the service description.
 *
 * Words that say a kind of tyre that is not covered are refused; extra load is taken; all else is
 * skipped and noted, word by word: winter marks, approval numbers, the identification with its date
 * code, plies, grades, and the letters of makers and vehicle makers, which stand in no open list.
 * None of them can make a tyre a run-flat one: that is RF or ZRF in the size (UN Regulation 30,
 * section 3), or the construction as stated.
 */
#include "core/marking_rest.h"

#include <string.h>

#define REST_WANTED "XL, other words of the sidewall after a space, or the end"
#define F_PLACE                                                                                    \
    "XL or the end; run-flat is written RF or ZRF before the rim code, RF here is ambiguous"
#define SECOND_SIZE "one size and one service description; what else stands there may be left out"
#define PLY_RATED   "commercial tyre (6 plies or more): " HB_NO_HELP

enum {
    DOT_WORDS = 5,  /* of an identification at most */
    PLIES_MOST = 4, /* ply rating of a passenger tyre at most: from memory */
    INDEX_LEAST = 50,
    INDEX_MOST = 125
};

/* How the words that follow are taken. */
enum follow { ALONE, XL_FOLLOWS, NUMBERS, IDENTIFICATION };

static const struct rest_rule {
    const char *word; /* upper case */
    enum hobble_status status;
    const char *reason; /* of a refusal */
    enum follow follow;
} RULES[] = {
    /* UN R30, section 3: extra load; the long forms stand on older tyres (from memory) */
    {"XL", HOBBLE_OK, NULL, XL_FOLLOWS},
    {"REINFORCED", HOBBLE_OK, NULL, XL_FOLLOWS},
    {"EXTRA", HOBBLE_OK, NULL, XL_FOLLOWS},
    {"RF", HOBBLE_E_SYNTAX, F_PLACE, ALONE},
    {"C", HOBBLE_E_UNSUPPORTED, COMMERCIAL, ALONE},
    {"CP", HOBBLE_E_UNSUPPORTED, COMMERCIAL, ALONE},
    {"LT", HOBBLE_E_UNSUPPORTED, COMMERCIAL, ALONE},
    {"ST", HOBBLE_E_UNSUPPORTED, TRAILER, ALONE},
    {"TRAILER", HOBBLE_E_UNSUPPORTED, TRAILER, ALONE},
    {"SPARE", HOBBLE_E_UNSUPPORTED, TEMPORARY, ALONE},
    {"TEMPORARY", HOBBLE_E_UNSUPPORTED, TEMPORARY, ALONE},
    /* winter: UN R30 and R117, M+S and the three-peak mountain with snowflake */
    {"M+S", HOBBLE_OK, NULL, ALONE},
    {"M&S", HOBBLE_OK, NULL, ALONE},
    {"M.S", HOBBLE_OK, NULL, ALONE},
    {"M/S", HOBBLE_OK, NULL, ALONE},
    {"M-S", HOBBLE_OK, NULL, ALONE},
    {"MS", HOBBLE_OK, NULL, ALONE},
    {"3PMSF", HOBBLE_OK, NULL, ALONE},
    /* UN R30: TUBELESS, the approval mark with its number; 49 CFR 574.5: DOT; 49 CFR 575.104:
     * grades; TL and plies: common practice, no source */
    {"TUBELESS", HOBBLE_OK, NULL, ALONE},
    {"TL", HOBBLE_OK, NULL, ALONE},
    {"RADIAL", HOBBLE_OK, NULL, ALONE},
    {"DOT", HOBBLE_OK, NULL, IDENTIFICATION},
    {"PLIES", HOBBLE_OK, NULL, NUMBERS},
    {"PLY", HOBBLE_OK, NULL, NUMBERS},
    {"PR", HOBBLE_OK, NULL, ALONE},
    {"TREADWEAR", HOBBLE_OK, NULL, NUMBERS},
    {"LOAD", HOBBLE_OK, NULL, NUMBERS},
    {"PRESSURE", HOBBLE_OK, NULL, NUMBERS},
    {"PRESS", HOBBLE_OK, NULL, NUMBERS},
    {"+", HOBBLE_OK, NULL, NUMBERS},
    {"TREAD", HOBBLE_OK, NULL, NUMBERS},
    {"SIDEWALL", HOBBLE_OK, NULL, NUMBERS},
    {"STEEL", HOBBLE_OK, NULL, ALONE},
    {"POLYESTER", HOBBLE_OK, NULL, ALONE},
    {"POLYAMIDE", HOBBLE_OK, NULL, ALONE},
    {"NYLON", HOBBLE_OK, NULL, ALONE},
    {"RAYON", HOBBLE_OK, NULL, ALONE},
    {"TRACTION", HOBBLE_OK, NULL, ALONE},
    {"TEMPERATURE", HOBBLE_OK, NULL, ALONE},
    {"MAX", HOBBLE_OK, NULL, NUMBERS},
    {"OUTSIDE", HOBBLE_OK, NULL, ALONE},
    {"INSIDE", HOBBLE_OK, NULL, ALONE},
    {"ROTATION", HOBBLE_OK, NULL, ALONE},
};
enum { RULE_COUNT = sizeof RULES / sizeof RULES[0] };

static size_t token_length(const char *text)
{
    return strcspn(text, " ");
}

/* Whether the text at the reader is this word, up to a space or the end. */
static bool is_word(const char *text, size_t length, const char *word)
{
    if (strlen(word) != length)
        return false;
    for (size_t i = 0; i < length; i++)
        if (hb_upper(text[i]) != word[i])
            return false;
    return true;
}

/* The rule of a word; a colon behind it does not count where numbers follow. */
static const struct rest_rule *rule_of(const char *text, size_t length)
{
    const size_t bare = length > 1 && text[length - 1] == ':' ? length - 1 : length;

    for (size_t i = 0; i < RULE_COUNT; i++)
        if (is_word(text, RULES[i].follow == NUMBERS ? bare : length, RULES[i].word))
            return &RULES[i];
    return NULL;
}

bool hb_marking_is_rest(const struct hb_marking_reader *in)
{
    const char *text = in->text + in->at;
    const size_t length = token_length(text);

    return rule_of(text, length) != NULL;
}

/* Digits at the text, and the number they are. */
static size_t digits_at(const char *text, size_t length, int *value)
{
    size_t n = 0;

    *value = 0;
    while (n < length && hb_is_digit(text[n]) && *value < 100000) {
        *value = *value * 10 + (text[n] - '0');
        n++;
    }
    return n;
}

/* "10PR", "10 PR", "6-PLY": a ply rating, or 0. */
static int ply_rating(const char *text, size_t length)
{
    int value = 0;
    const size_t n = digits_at(text, length, &value);
    const char *word = text + n + strspn(text + n, " -");

    if (n == 0 ||
        (!is_word(word, token_length(word), "PR") && !is_word(word, token_length(word), "PLY")))
        return 0;
    return value;
}

/* Another size ("205/55"), two indices ("109/107T"), or what might be another service description
 * ("94", "94V"): which one counts cannot be told. */
static bool contradicts(const char *text, size_t length)
{
    int value = 0;
    const size_t n = digits_at(text, length, &value);

    if (n == 0)
        return false;
    if (n < length && text[n] == '/')
        return true;
    return value >= INDEX_LEAST && value <= INDEX_MOST &&
           (n == length || (n + 1 == length && hb_is_letter(hb_upper(text[n]))));
}

/* "E4", "e11", "(E4)": the approval mark; its number follows. */
static bool approval_mark(const char *text, size_t length)
{
    const bool bracket = length > 3 && text[0] == '(' && text[length - 1] == ')';
    int value = 0;

    if (bracket) {
        text++;
        length -= 2;
    }
    return length > 1 && length < 4 && hb_upper(text[0]) == 'E' &&
           digits_at(text + 1, length - 1, &value) == length - 1;
}

/* The last figures of an identification, week and year: 49 CFR 574.5. */
static bool ends_identification(const char *text, size_t length)
{
    size_t n = 0;

    while (n < length && hb_is_digit(text[length - 1 - n]))
        n++;
    return n == length ? n == 3 || n == 4 : n >= 4 && length > 7;
}

/* Whether a word can belong to the one before it. What would contradict the size never does. */
static bool may_follow(const char *text, size_t length, enum follow follow)
{
    for (size_t i = 0; i < length; i++)
        if (!hb_is_digit(text[i]) &&
            (follow == NUMBERS || (follow == IDENTIFICATION && !hb_is_letter(hb_upper(text[i])))))
            return false;
    return ply_rating(text, length) <= PLIES_MOST;
}

/* Bytes from the end of a word up to the end of what belongs to it. */
static size_t followers(const char *text, enum follow follow)
{
    size_t end = 0;

    for (int words = 0; words < DOT_WORDS && follow != ALONE; words++) {
        size_t start = end + strspn(text + end, " ");
        size_t length = token_length(text + start);
        if (length == 0)
            break;
        if (!may_follow(text + start, length, follow))
            break;
        if (follow == XL_FOLLOWS)
            return is_word(text + start, length, "LOAD") ? start + length : 0;
        end = start + length;
        if (follow == IDENTIFICATION && ends_identification(text + start, length))
            return end;
    }
    return follow == NUMBERS ? end : 0;
}

static bool is_plain(char c)
{
    return hb_is_digit(c) || hb_is_letter(hb_upper(c)) ||
           (c != '\0' && strchr("+-/.*&()#:", c) != NULL);
}

static void note_skipped(struct hobble_marking *m, const char *text, size_t length)
{
    size_t used = strlen(m->skipped);

    if (used > 0)
        m->skipped[used++] = ' ';
    memcpy(m->skipped + used, text, length); /* not longer than the marking, which fits */
    m->skipped[used + length] = '\0';
}

static enum hobble_status read_extra_load(struct hb_marking_reader *in, struct hobble_marking *m,
                                          size_t length)
{
    const char *after = in->text + in->at + length;
    const size_t load = followers(after, XL_FOLLOWS);

    if (is_word(in->text + in->at, length, "EXTRA") && load == 0)
        return hb_marking_refuse(in, in->at, HOBBLE_E_SYNTAX, "marking",
                                 "XL or EXTRA LOAD for extra load");
    if (m->extra_load)
        return hb_marking_refuse(in, in->at, HOBBLE_E_DUPLICATE, "marking", "XL once");
    m->extra_load = true;
    in->at += length + (is_word(in->text + in->at, length, "EXTRA") ? load : 0);
    return HOBBLE_OK;
}

static enum hobble_status refuse_word(const struct hb_marking_reader *in, size_t length, bool apart)
{
    const char *text = in->text + in->at;
    const struct rest_rule *rule = rule_of(text, length);

    if (rule != NULL && rule->status != HOBBLE_OK)
        return hb_marking_refuse(in, in->at, rule->status, "marking", rule->reason);
    if (!apart && (rule == NULL || rule->follow != XL_FOLLOWS))
        return hb_marking_refuse(in, in->at, HOBBLE_E_SYNTAX, "marking", REST_WANTED);
    if (ply_rating(text, length) > PLIES_MOST)
        return hb_marking_refuse(in, in->at, HOBBLE_E_UNSUPPORTED, "marking", PLY_RATED);
    if (contradicts(text, length))
        return hb_marking_refuse(in, in->at, HOBBLE_E_CONFLICT, "marking", SECOND_SIZE);
    return HOBBLE_OK;
}

static enum hobble_status read_word(struct hb_marking_reader *in, struct hobble_marking *m,
                                    bool apart)
{
    const char *text = in->text + in->at;
    size_t length = token_length(text);
    const enum hobble_status status = refuse_word(in, length, apart);
    const struct rest_rule *rule = rule_of(text, length);

    if (status != HOBBLE_OK)
        return status;
    if (rule != NULL && rule->follow == XL_FOLLOWS)
        return read_extra_load(in, m, length);
    const bool approval = approval_mark(text, length);
    if (rule == NULL && !approval && ply_rating(text, length) == 0)
        m->unknown_words = true;
    if (approval || rule != NULL)
        length += followers(text + length, approval ? NUMBERS : rule->follow);
    for (size_t i = 0; i < length; i++)
        if (text[i] != ' ' && !is_plain(text[i]))
            return hb_marking_refuse(in, in->at + i, HOBBLE_E_SYNTAX, "marking", REST_WANTED);
    note_skipped(m, text, length);
    in->at += length;
    return HOBBLE_OK;
}

enum hobble_status hb_marking_read_rest(struct hb_marking_reader *in, struct hobble_marking *m)
{
    while (hb_peek_part(in) != '\0') {
        const enum hobble_status status = read_word(in, m, hb_is_apart(in));
        if (status != HOBBLE_OK)
            return status;
    }
    return HOBBLE_OK;
}
