/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/describe/message.h"

#include "report/describe/screen.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const char *const sentences[] = {
    [HB_SAY_NOTHING] = "",
#define HB_SENTENCE(id, text)    [HB_SAY_##id] = text,
#define HB_SHARED(id, key, text) [HB_SAY_##id] = text,
#define HB_PAGE_WORD(key, text)
#include HB_WORDS
#undef HB_SENTENCE
#undef HB_SHARED
#undef HB_PAGE_WORD
};

/* What has a key: the page's words, of which the program takes those that stand for the library's.
 */
static const struct {
    const char *key, *text;
} keyed[] = {
#define HB_SENTENCE(id, text)
#define HB_SHARED(id, key, text) {key, text},
#define HB_PAGE_WORD(key, text)  {key, text},
#include HB_WORDS
#undef HB_SENTENCE
#undef HB_SHARED
#undef HB_PAGE_WORD
};

static const char *spoken(const char *kind, const char *word, const char *otherwise)
{
    const size_t length = strlen(kind);
    for (size_t i = 0; i < sizeof keyed / sizeof *keyed; i++)
        if (strncmp(keyed[i].key, kind, length) == 0 && strcmp(keyed[i].key + length, word) == 0)
            return keyed[i].text;
    return otherwise;
}

const char *hb_stop_spoken(enum hobble_stop reason)
{
    return spoken("stop.", hobble_stop_word(reason), hobble_stop_sentence(reason));
}

const char *hb_rule_spoken(const struct hobble_fired *rule)
{
    return spoken("rule.", rule->id, rule->reason);
}

const char *hb_message_text(enum hb_message id)
{
    return sentences[id];
}

/* Appends text at used, in so many columns (right of them, or left where negative). */
static size_t append(char *buf, size_t size, size_t used, const char *text, int columns)
{
    const int blank = abs(columns) - hb_screen_columns(text), before = columns > 0 ? blank : 0;
    const int n = snprintf(buf + used, size - used, "%*s%s%*s", before > 0 ? before : 0, "", text,
                           columns < 0 && blank > 0 ? blank : 0, "");
    const size_t end = used + (size_t)(n > 0 ? n : 0);
    return end < size ? end : size - 1;
}

/* Without the unit behind it. */
static void make_bare(char *text)
{
    char *blank = strchr(text, ' ');
    if (blank)
        *blank = '\0';
}

/* A place: its path, and behind a colon how it is put there. A name that no row has stays as it is,
 * which the tests look for. */
static size_t fill(const char *place, size_t length, const struct hb_scope *scope, char *buf,
                   size_t size, size_t used)
{
    char text[HB_VALUE_TEXT];
    struct hb_scope at;
    const char *colon = memchr(place, ':', length);
    const size_t path = colon ? (size_t)(colon - place) : length;
    const struct hb_row *row = hb_row_find(place, path, scope, &at);
    if (row)
        hb_row_figure(row, &at, text, sizeof text);
    else
        snprintf(text, sizeof text, "{%.*s}", (int)length, place);
    if (colon && strncmp(colon, ":bare", 5) == 0) {
        make_bare(text);
        colon += 4;
    }
    return append(buf, size, used, text, colon ? (int)strtol(colon + 1, NULL, 10) : 0);
}

void hb_say(enum hb_message id, const struct hb_scope *scope, char *buf, size_t size)
{
    size_t used = 0;
    buf[0] = '\0';
    for (const char *from = sentences[id]; *from && used + 1 < size;) {
        const size_t plain = strcspn(from, "{");
        const int n = snprintf(buf + used, size - used, "%.*s", (int)plain, from);
        used = used + (size_t)n < size ? used + (size_t)n : size - 1;
        from += plain;
        if (*from != '{')
            break;
        const size_t length = strcspn(from + 1, "}");
        used = fill(from + 1, length, scope, buf, size, used);
        from += 1 + length + (from[1 + length] == '}');
    }
}

void hb_value_say(struct hb_value *value, enum hb_message id, const struct hb_scope *scope)
{
    hb_say(id, scope, value->room, sizeof value->room);
    hb_value_text(value, value->room);
}
