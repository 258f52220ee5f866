/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/marking_reader.h"

#include <string.h>

bool hb_is_digit(char c)
{
    return c >= '0' && c <= '9';
}

bool hb_is_letter(char c)
{
    return c >= 'A' && c <= 'Z';
}

char hb_upper(char c)
{
    return c >= 'a' && c <= 'z' ? (char)(c - 'a' + 'A') : c;
}

char hb_peek(const struct hb_marking_reader *in)
{
    return hb_upper(in->text[in->at]);
}

char hb_peek_part(struct hb_marking_reader *in)
{
    while (in->text[in->at] == ' ')
        in->at++;
    return hb_peek(in);
}

enum hobble_status hb_marking_refuse(const struct hb_marking_reader *in, size_t at,
                                     enum hobble_status status, const char *key,
                                     const char *allowed)
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

bool hb_is_apart(const struct hb_marking_reader *in)
{
    return in->at > 0 && in->text[in->at - 1] == ' ';
}

size_t hb_look_word(const struct hb_marking_reader *in, char word[HB_WORD_MAX])
{
    size_t length = 0;

    while (length < HB_WORD_MAX - 1 && hb_is_letter(hb_upper(in->text[in->at + length]))) {
        word[length] = hb_upper(in->text[in->at + length]);
        length++;
    }
    word[length] = '\0';
    return length;
}

const struct hb_word_rule *hb_find_rule(const struct hb_word_rule *rule, const char *word)
{
    while (rule->word != NULL && strcmp(rule->word, word) != 0)
        rule++;
    return rule;
}
