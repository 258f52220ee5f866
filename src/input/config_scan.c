/* SPDX-License-Identifier: GPL-3.0-or-later */
/* config_scan.c - the look over a text before libconfig sees it; see config_text.h. The words it is
 * split into are those of libconfig's manual, "Configuration Files". */
#include "input/config_text.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

struct name {
    const char *text;
    size_t length;
    int line, bracket;
};

struct scan {
    const char *file, *at, *end;
    int line;
    int depth, opened, bracket[HB_DEPTH_MAX + 1]; /* which opening bracket we are in */
    struct name name[HB_NAMES_MAX];
    size_t names;
    char *out;
    size_t used;
    enum hobble_status first; /* fault */
    bool fatal;
    struct hobble_faults *sink;
};

static void report(struct scan *s, enum hobble_status status, int line, const char *key,
                   const char *given, const char *allowed)
{
    hb_fault_at(s->sink, status, s->file, line, key, given, allowed);
    if (s->first == HOBBLE_OK)
        s->first = status;
}

static void stop(struct scan *s, enum hobble_status status, const char *given, const char *allowed)
{
    report(s, status, s->line, "", given, allowed);
    s->fatal = true;
}

/* ---- characters ---------------------------------------------------------------------------- */

/* Bytes of the well-formed, printable character at text (tab and line ends count), 0 for any other.
 * hobble_fault_text is the one judge of what may be shown. */
static size_t character(const char *text, const char *end)
{
    const unsigned char first = (unsigned char)*text;
    const size_t length = first >= 0xF0 ? 4 : first >= 0xE0 ? 3 : first >= 0xC0 ? 2 : 1;
    char one[HOBBLE_FAULT_TEXT] = "", shown[HOBBLE_FAULT_TEXT];
    if (first == '\t' || first == '\n' || (first >= ' ' && first < 0x7F))
        return 1;
    if (first == '\r')
        return end - text > 1 && text[1] == '\n';
    if (first < 0x80 || (size_t)(end - text) < length)
        return 0;
    memcpy(one, text, length);
    hobble_fault_text(shown, one);
    return strcmp(one, shown) == 0 ? length : 0;
}

/* Reports the first bad character of each line. */
static void check_characters(struct scan *s)
{
    bool told = false;
    for (const char *at = s->at; at < s->end;) {
        const size_t length = character(at, s->end);
        if (length == 0 && !told) {
            char given[32];
            snprintf(given, sizeof given, "byte 0x%02X", (unsigned)(unsigned char)*at);
            stop(s, HOBBLE_E_SYNTAX, given, "UTF-8 text without control characters");
            told = true;
        }
        if (*at == '\n') {
            s->line++;
            told = false;
        }
        at += length > 0 ? length : 1;
    }
    s->line = 1;
}

/* ---- words --------------------------------------------------------------------------------- */

static bool is_digit(char c)
{
    return c >= '0' && c <= '9';
}

static bool is_letter(char c)
{
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

static bool is_name(char c)
{
    return is_letter(c) || is_digit(c) || c == '-' || c == '_' || c == '*';
}

/* The text ends with a NUL, so looking one further is always allowed. */
static void copy(struct scan *s, size_t bytes)
{
    memcpy(s->out + s->used, s->at, bytes);
    s->used += bytes;
    s->at += bytes;
}

static size_t name_length(const char *at)
{
    size_t n = 0;
    while (is_name(at[n]))
        n++;
    return n;
}

static bool names_a_setting(const char *after)
{
    after += strspn(after, " \t\r\n");
    return *after == '=' || *after == ':';
}

/* Copies a name, or its new name when this bracket has it already. */
static void scan_name(struct scan *s)
{
    const size_t length = name_length(s->at);
    const struct name here = {s->at, length, s->line, s->bracket[s->depth]};
    if (!names_a_setting(s->at + length)) {
        copy(s, length);
        return;
    }
    if (s->names == HB_NAMES_MAX) {
        stop(s, HOBBLE_E_TOO_LARGE, "", "at most 2000 settings");
        return;
    }
    for (size_t i = 0; i < s->names; i++) {
        const struct name *old = &s->name[i];
        if (old->bracket != here.bracket || old->length != length ||
            memcmp(old->text, here.text, length) != 0)
            continue;
        char key[HOBBLE_FAULT_TEXT] = "", allowed[64];
        memcpy(key, here.text, length < sizeof key ? length : sizeof key - 1);
        snprintf(allowed, sizeof allowed, "once; it is given in line %d", old->line);
        report(s, HOBBLE_E_DUPLICATE, s->line, key, "again", allowed);
        s->used += (size_t)sprintf_again(s->out + s->used, s->names);
        break;
    }
    s->name[s->names++] = here;
}
