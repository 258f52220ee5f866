/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/condition.h"

#include "report/describe/words.h"

#include <stdlib.h>
#include <string.h>

enum { WORD_SIZE = 192, WIDTH = 76 };
static const char unknown[] = "unknown", dont_know[] = "dont know";

/* Lower case, one blank for '_', '-' and blanks, apostrophes (also the curly one) left out; cut to
 * fit: no word is as long. */
static void fold(const char *text, char out[WORD_SIZE])
{
    size_t n = 0;
    for (; *text && n + 1 < WORD_SIZE; text++) {
        if (strncmp(text, "\xe2\x80\x99", 3) == 0)
            text += 2;
        else if (strchr("_- \t", *text))
            out[n] = ' ', n += n > 0 && out[n - 1] != ' ';
        else if (*text != '\'')
            out[n++] = (char)(*text >= 'A' && *text <= 'Z' ? *text + ('a' - 'A') : *text);
    }
    n -= n > 0 && out[n - 1] == ' ';
    out[n] = '\0';
}

/* The word at a place, or false. */
static bool word_at(const char *words, int place, char word[WORD_SIZE])
{
    for (; place > 0 && words; place--) {
        words = strchr(words, '|');
        words += words != NULL;
    }
    if (!words)
        return false;
    snprintf(word, WORD_SIZE, "%.*s", (int)strcspn(words, "|"), words);
    return true;
}

/* The number of the first word. */
static int first_number(const char *words)
{
    return strncmp(words, "unknown|", 8) == 0 ? 0 : 1;
}

static void shown(const char *words, int place, char text[WORD_SIZE])
{
    char word[WORD_SIZE] = "";
    word_at(words, place, word);
    if (place == 0 && first_number(words) == 0)
        snprintf(word, sizeof word, "don't know");
    size_t i = 0;
    for (; word[i]; i++)
        text[i] = word[i] == '_' ? ' ' : word[i];
    text[i] = '\0';
}

static int by_number(const char *words, const char *text)
{
    char word[WORD_SIZE];
    if (strlen(text) > 4)
        return HB_NO_CHOICE;
    const int place = (int)strtol(text, NULL, 10) - first_number(words);
    return place >= 0 && word_at(words, place, word) ? place : HB_NO_CHOICE;
}

bool hb_choice_unknown(const char *text)
{
    char said[WORD_SIZE];
    fold(text, said);
    return strcmp(said, unknown) == 0 || strcmp(said, dont_know) == 0;
}

int hb_choice_read(const char *words, const char *text)
{
    char said[WORD_SIZE], word[WORD_SIZE], folded[WORD_SIZE];
    int found = HB_NO_CHOICE;
    fold(text, said);
    const size_t length = strlen(said);
    if (length == 0 || length + 1 == WORD_SIZE)
        return HB_NO_CHOICE;
    if (strspn(said, "0123456789") == length) /* a sign is no blank before a number */
        return strcmp(said, text) == 0 ? by_number(words, said) : HB_NO_CHOICE;
    for (int place = 0; word_at(words, place, word); place++) {
        fold(word, folded);
        const bool by_other_name =
            strcmp(folded, unknown) == 0 && place == 0 && strncmp(dont_know, said, length) == 0;
        if (strcmp(folded, said) == 0)
            return place;
        if (strncmp(folded, said, length) == 0 || by_other_name)
            found = found == HB_NO_CHOICE ? place : HB_MANY_CHOICES;
    }
    return found;
}

/* On one line where all have room, else each on its own. "Don't know" comes last. */
void hb_choice_print(FILE *out, const char *words)
{
    char text[WORD_SIZE], word[WORD_SIZE];
    int count = 0, width = 0;
    for (; word_at(words, count, word); count++) {
        shown(words, count, text);
        width += (int)strlen(text) + 5;
    }
    const int first = first_number(words);
    for (int i = 0; i < count; i++) {
        const int place = first == 0 ? (i + 1) % count : i;
        shown(words, place, text);
        fprintf(out, "%s%d %s%s", width > WIDTH || i == 0 ? "  " : "   ", place + first, text,
                width > WIDTH || i + 1 == count ? "\n" : "");
    }
}

/* Adds the words that a text begins. */
static void add_begun(const char *words, const char *text, char *to, size_t size)
{
    char said[WORD_SIZE], word[WORD_SIZE], folded[WORD_SIZE];
    const size_t before = strlen(to);
    fold(text, said);
    for (int place = 0; word_at(words, place, word); place++) {
        const size_t used = strlen(to);
        fold(word, folded);
        shown(words, place, word);
        if (strncmp(folded, said, strlen(said)) == 0)
            snprintf(to + used, size - used, "%s%s", used > before ? " or " : "", word);
    }
}

void hb_choice_refuse(FILE *out, const char *words, const char *text, int why)
{
    char given[HOBBLE_FAULT_TEXT], word[WORD_SIZE],
        message[4 * WORD_SIZE] = "One of them is wanted";
    int count = 0;
    while (word_at(words, count, word))
        count++;
    hobble_fault_text(given, text);
    if (*given)
        snprintf(message, sizeof message, "'%s' is %s", given,
                 why == HB_MANY_CHOICES ? "" : "none of them");
    if (why == HB_MANY_CHOICES)
        add_begun(words, text, message, sizeof message);
    const size_t used = strlen(message);
    const int first = first_number(words);
    snprintf(message + used, sizeof message - used,
             ": give a number, %d to %d, or a word or its start.", first, count - 1 + first);
    hb_print_wrapped(out, "  ", 2, message);
}
