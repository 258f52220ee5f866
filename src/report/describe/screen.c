/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/describe/screen.h"

#include <stdlib.h>
#include <string.h>
#include <sys/ioctl.h>
#include <unistd.h>

enum { INDENT = 2 };

static bool is_set(const char *variable)
{
    const char *value = getenv(variable);
    return value && *value;
}

static int terminal_columns(void)
{
    struct winsize size;
    const char *columns = getenv("COLUMNS");
    if (ioctl(STDOUT_FILENO, TIOCGWINSZ, &size) == 0 && size.ws_col > 0)
        return size.ws_col;
    return columns ? (int)strtol(columns, NULL, 10) : 0;
}

void hb_screen_begin(struct hb_screen *s, bool to_file)
{
    const bool terminal = !to_file && isatty(STDOUT_FILENO);
    const char *kind = getenv("TERM");
    const int columns = terminal ? terminal_columns() : 0;
    s->count = 0;
    s->colour = terminal && !is_set("NO_COLOR") && kind && *kind && strcmp(kind, "dumb") != 0;
    s->width = columns <= 0 || columns > HB_SCREEN_WIDEST ? HB_SCREEN_WIDEST
               : columns < HB_SCREEN_NARROWEST            ? HB_SCREEN_NARROWEST
                                                          : columns;
}

/* Bytes of the character that begins here, and its columns: from U+1000 on it may be a wide one. */
static int character(const char *text, int *columns)
{
    const unsigned char first = (unsigned char)*text;
    int bytes = 1;
    *columns = first > 0xe0 ? 2 : 1;
    while (((unsigned char)text[bytes] & 0xc0) == 0x80)
        bytes++;
    return bytes;
}

int hb_screen_columns(const char *text)
{
    int sum = 0, columns;
    for (; *text; sum += columns)
        text += character(text, &columns);
    return sum;
}

/* Bytes of text that fit so many columns: whole words, or part of a word longer than a line. *next
 * is where the following line begins. */
static int fitting(const char *text, int room, const char **next)
{
    int used = 0, at = 0, last_space = -1;
    while (text[at]) {
        int columns;
        const int bytes = character(text + at, &columns);
        if (text[at] == ' ')
            last_space = at;
        if (used + columns > room)
            break;
        used += columns;
        at += bytes;
    }
    if (text[at] && last_space > 0)
        at = last_space;
    *next = text + at + strspn(text + at, " ");
    return at;
}

static int lay(const struct hb_screen *s, const char *text, struct hb_screen *into)
{
    int lines = 0;
    for (const char *next; *text; text = next, lines++) {
        const int indent = lines > 0 ? INDENT : 0;
        const int bytes = fitting(text, s->width - indent, &next);
        if (into && into->count < HB_SCREEN_ROOM)
            snprintf(into->line[into->count++], HB_SCREEN_BYTES, "%*s%.*s", indent, "", bytes,
                     text);
    }
    return lines;
}

int hb_screen_needs(const struct hb_screen *s, const char *text)
{
    return lay(s, text, NULL);
}

void hb_screen_add(struct hb_screen *s, const char *text)
{
    lay(s, text, s);
}

void hb_screen_add_cut(struct hb_screen *s, const char *text)
{
    int used = 0, at = 0;
    if (hb_screen_columns(text) <= s->width) {
        hb_screen_add(s, text);
        return;
    }
    for (int columns, bytes; text[at]; at += bytes, used += columns) {
        bytes = character(text + at, &columns);
        if (used + columns > s->width - 3)
            break;
    }
    if (s->count < HB_SCREEN_ROOM)
        snprintf(s->line[s->count++], HB_SCREEN_BYTES, "%.*s...", at, text);
}

bool hb_screen_append(const struct hb_screen *s, char *text, size_t size, const char *more)
{
    const size_t length = strlen(text);
    if (length + strlen(more) >= size ||
        hb_screen_columns(text) + hb_screen_columns(more) > s->width)
        return false;
    memcpy(text + length, more, strlen(more) + 1);
    return true;
}
