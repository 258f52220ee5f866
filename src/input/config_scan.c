/* SPDX-License-Identifier: GPL-3.0-or-later */
/* config_scan.c - the look over a text before libconfig sees it. The words it is
 * split into are those of libconfig's manual, "Configuration Files". */
#include "input/config_scan.h"

#include "input/fault.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { AGAIN_MAX = 16 }; /* bytes of a new name */

struct name {
    const char *text;
    size_t length;
    int line, bracket;
};

struct scan {
    const char *file, *at, *end;
    int line;
    int depth, opened;
    char kind[HB_DEPTH_MAX + 1];   /* the bracket itself */
    int bracket[HB_DEPTH_MAX + 1]; /* which opening bracket we are in */
    int owner[HB_DEPTH_MAX + 1];   /* place of the name before it, or -1 */
    struct name name[HB_NAMES_MAX];
    size_t names;
    int pending; /* place of the name whose value comes next, or -1 */
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

/* The key of a name as faults show it, with the key of the group around it: "load.value". */
static void full_key(const struct scan *s, const struct name *here, char key[HOBBLE_FAULT_TEXT])
{
    const int owner = s->owner[s->depth];
    const int most = HOBBLE_FAULT_TEXT / 2;
    const int length = here->length < (size_t)most ? (int)here->length : most - 2;
    if (owner < 0 || s->name[owner].length >= (size_t)most)
        snprintf(key, HOBBLE_FAULT_TEXT, "%.*s", length, here->text);
    else
        snprintf(key, HOBBLE_FAULT_TEXT, "%.*s.%.*s", (int)s->name[owner].length,
                 s->name[owner].text, length, here->text);
}

static const struct name *find_name(const struct scan *s, const struct name *here)
{
    for (size_t i = 0; i < s->names; i++)
        if (s->name[i].bracket == here->bracket && s->name[i].length == here->length &&
            memcmp(s->name[i].text, here->text, here->length) == 0)
            return &s->name[i];
    return NULL;
}

/* Copies a name, or puts its new name when this bracket has it already. */
static void scan_name(struct scan *s)
{
    const size_t length = name_length(s->at);
    const struct name here = {s->at, length, s->line, s->bracket[s->depth]};
    if (!names_a_setting(s->at + length)) {
        copy(s, length);
        return;
    }
    char key[HOBBLE_FAULT_TEXT], allowed[64];
    full_key(s, &here, key);
    if (s->names == HB_NAMES_MAX || *s->at == '*') {
        if (*s->at == '*')
            report(s, HOBBLE_E_UNKNOWN, s->line, key, "", "a key that begins with a letter");
        else
            report(s, HOBBLE_E_TOO_LARGE, s->line, key, "", "at most 2000 settings");
        s->fatal = true;
        return;
    }
    const struct name *old = find_name(s, &here);
    if (old) {
        snprintf(allowed, sizeof allowed, "once; the first is in line %d", old->line);
        report(s, HOBBLE_E_DUPLICATE, s->line, key, "again", allowed);
        const int n = snprintf(s->out + s->used, AGAIN_MAX, HB_REPEATED "%zu", s->names);
        s->used += (size_t)n;
        s->at += length;
    } else {
        copy(s, length);
    }
    s->pending = (int)s->names;
    s->name[s->names++] = here;
}

/* After a number: a unit outside quotes is the likeliest slip, so it is named. */
static void check_no_unit(struct scan *s, const char *start)
{
    const char *next = s->at + strspn(s->at, " \t");
    const bool divided = *next == '/' && next[1] != '/' && next[1] != '*';
    if (*next != '%' && !divided &&
        (!is_letter(*next) || names_a_setting(next + name_length(next))))
        return;
    char given[64];
    const size_t length = strcspn(start, ";,}\r\n");
    snprintf(given, sizeof given, "%.*s", (int)(length < 60 ? length : 60), start);
    stop(s, HOBBLE_E_SYNTAX, given, "a value with its unit in quotes: \"80 km/h\"");
}

/* Copies a number. One of 32 bits at most is left as it is; a longer one gets ".0". */
static void scan_number(struct scan *s)
{
    s->pending = -1;
    const char *start = s->at;
    const size_t sign = *start == '+' || *start == '-';
    size_t digits = sign;
    while (is_digit(start[digits]))
        digits++;
    const bool whole = digits > sign && !strchr(".eExX", start[digits] ? start[digits] : ' ');
    if (whole) {
        const long long value = strtoll(start, NULL, 10);
        const bool wraps = value < INT32_MIN || value > INT32_MAX;
        copy(s, digits);
        for (int i = 0; i < 2 && *s->at == 'L'; i++)
            if (wraps)
                s->at++;
            else
                copy(s, 1);
        if (wraps) {
            memcpy(s->out + s->used, ".0", 2);
            s->used += 2;
        }
    } else {
        size_t n = digits;
        while (is_digit(start[n]) || is_letter(start[n]) || start[n] == '.' ||
               ((start[n] == '+' || start[n] == '-') && (start[n - 1] | 0x20) == 'e'))
            n++;
        copy(s, n);
    }
    check_no_unit(s, start);
}

/* A text stands behind an equals sign, in a list or behind another text. Elsewhere libconfig stops
 * at it too, but loses the memory that it took for it. */
static bool text_may_stand(const struct scan *s)
{
    size_t n = s->used;
    while (n > 0 && strchr(" \t\r\n", s->out[n - 1]))
        n--;
    const char before = n > 0 ? s->out[n - 1] : ' ';
    return strchr("=:[(\"", before) || (before == ',' && strchr("[(", s->kind[s->depth]));
}

/* Copies a string in quotes; a NUL cannot hide in it. */
static void scan_string(struct scan *s)
{
    const int began = s->line;
    s->pending = -1;
    if (!text_may_stand(s)) {
        stop(s, HOBBLE_E_SYNTAX, "a text that is no value", "key = \"text\"");
        return;
    }
    copy(s, 1);
    while (s->at < s->end && *s->at != '"') {
        if (s->at[0] == '\\' && s->at[1] == 'x' && s->at[2] == '0' && s->at[3] == '0')
            stop(s, HOBBLE_E_SYNTAX, "\\x00", "text without NUL");
        s->line += *s->at == '\n';
        copy(s, s->at[0] == '\\' && s->end - s->at > 1 && s->at[1] != '\n' ? 2 : 1);
    }
    if (s->at < s->end) {
        copy(s, 1);
    } else {
        s->line = began;
        stop(s, HOBBLE_E_SYNTAX, "a text without an end", "a closing quote");
    }
}

/* Leaves a comment out, but keeps its lines. */
static void scan_comment(struct scan *s)
{
    const int began = s->line;
    if (s->at[0] == '#' || s->at[1] == '/') {
        s->at += strcspn(s->at, "\n");
        return;
    }
    const char *close = strstr(s->at + 2, "*/");
    for (const char *stop_at = close ? close : s->end; s->at < stop_at; s->at++)
        if (*s->at == '\n') {
            s->line++;
            s->out[s->used++] = '\n';
        }
    if (close) {
        s->at = close + 2;
        s->out[s->used++] = ' ';
    } else {
        s->line = began;
        stop(s, HOBBLE_E_SYNTAX, "a comment without an end", "a closing */");
    }
}

static void scan_bracket(struct scan *s)
{
    if (strchr("{([", *s->at)) {
        if (s->depth == HB_DEPTH_MAX) {
            stop(s, HOBBLE_E_TOO_LARGE, "nested too deeply", "at most 8 open brackets");
            return;
        }
        s->depth++;
        s->kind[s->depth] = *s->at;
        s->bracket[s->depth] = ++s->opened;
        /* the groups of a list belong to the name of the list */
        s->owner[s->depth] = s->pending >= 0 ? s->pending : s->owner[s->depth - 1];
        s->pending = -1;
    } else if (s->depth > 0) {
        s->depth--;
    }
    copy(s, 1);
}

static void scan_words(struct scan *s)
{
    while (s->at < s->end && !s->fatal) {
        const char c = *s->at, next = s->at[1];
        if (c == '\n')
            s->line++;
        if (c == '#' || (c == '/' && (next == '/' || next == '*')))
            scan_comment(s);
        else if (c == '"')
            scan_string(s);
        else if (is_letter(c) || c == '*')
            scan_name(s);
        else if (is_digit(c) || (strchr("+-.", c) && (is_digit(next) || next == '.')))
            scan_number(s);
        else if (strchr("{}()[]", c))
            scan_bracket(s);
        else if (c == '@')
            stop(s, HOBBLE_E_UNSUPPORTED, "@", "no @include: a file stands alone");
        else
            copy(s, 1);
    }
}

enum hobble_status hb_config_scan(const char *bytes, size_t size, const char *name, char **clean,
                                  bool *readable, struct hobble_faults *sink)
{
    static const char mark[] = "\xEF\xBB\xBF";
    *readable = false;
    if (size > HB_FILE_MAX)
        return hb_fault_at(sink, HOBBLE_E_TOO_LARGE, name, 0, "", "", "at most 1000000 bytes");
    struct scan *s = calloc(1, sizeof *s);
    char *text = malloc(size + 4); /* four, so that looking ahead stays inside */
    char *out = malloc(2 * size + (size_t)HB_NAMES_MAX * AGAIN_MAX + 4);
    enum hobble_status status = HOBBLE_E_MEMORY;
    if (s && text && out) {
        const size_t skip = size >= 3 && memcmp(bytes, mark, 3) == 0 ? 3 : 0;
        if (size > skip)
            memcpy(text, bytes + skip, size - skip);
        memset(text + (size - skip), 0, 4);
        *s = (struct scan){.file = name,
                           .at = text,
                           .end = text + (size - skip),
                           .line = 1,
                           .pending = -1,
                           .owner = {-1},
                           .kind = "{",
                           .out = out,
                           .first = HOBBLE_OK,
                           .sink = sink};
        check_characters(s);
        scan_words(s);
        out[s->used] = '\0';
        *readable = !s->fatal;
        status = s->first;
    } else {
        hb_fault_at(sink, status, name, 0, "", "", "more memory");
    }
    free(text);
    free(s);
    if (!*readable) {
        free(out);
        return status;
    }
    *clean = out;
    return status;
}
