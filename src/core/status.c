/* SPDX-License-Identifier: GPL-3.0-or-later */
/* status.c - what went wrong, in words, in exit statuses and in a list that the caller owns. */
#include "hobble.h"

#include <string.h>

static const struct {
    const char *text;
    int exit_status;
} STATUS[HOBBLE_STATUS_COUNT] = {
#define STATUS_ROW(code, text, exit_status) [code] = {text, exit_status},
    HOBBLE_STATUS_LIST(STATUS_ROW)
#undef STATUS_ROW
};

static bool is_listed(enum hobble_status status)
{
    /* Unsigned, so that a negative number is outside too, whatever type the compiler gave it. */
    return (unsigned)status < (unsigned)HOBBLE_STATUS_COUNT;
}

const char *hobble_status_text(enum hobble_status status)
{
    return is_listed(status) ? STATUS[status].text : "unknown status";
}

int hobble_status_exit(enum hobble_status status)
{
    return is_listed(status) ? STATUS[status].exit_status : STATUS[HOBBLE_E_INTERNAL].exit_status;
}

enum hobble_status hobble_faults_add(struct hobble_faults *sink, const struct hobble_fault *fault)
{
    if (fault == NULL)
        return HOBBLE_E_INTERNAL;
    if (sink == NULL)
        return fault->status;
    if (sink->count < HOBBLE_FAULTS_KEPT) {
        struct hobble_fault *kept = &sink->item[sink->count];
        *kept = *fault;
        kept->file[HOBBLE_FAULT_TEXT - 1] = '\0';
        kept->key[HOBBLE_FAULT_TEXT - 1] = '\0';
        kept->given[HOBBLE_FAULT_TEXT - 1] = '\0';
        kept->allowed[HOBBLE_FAULT_TEXT - 1] = '\0';
        kept->meant[HOBBLE_FAULT_TEXT - 1] = '\0';
    }
    if (sink->count < SIZE_MAX)
        sink->count++;
    return fault->status;
}

/* Reads one UTF-8 character at *text and says how many bytes it has; 0 when it is broken: a stray
 * continuation, cut short, overlong, a surrogate or beyond U+10FFFF (RFC 3629, section 3). */
static size_t utf8_decode(const unsigned char *text, unsigned long *code)
{
    static const unsigned long least[] = {0, 0, 0x80, 0x800, 0x10000};
    size_t length = 0;

    *code = text[0];
    if (text[0] < 0x80)
        return 1;
    if ((text[0] & 0xE0U) == 0xC0U)
        length = 2;
    else if ((text[0] & 0xF0U) == 0xE0U)
        length = 3;
    else if ((text[0] & 0xF8U) == 0xF0U)
        length = 4;
    else
        return 0;
    *code = text[0] & (0x7FU >> length);
    for (size_t i = 1; i < length; i++) {
        if ((text[i] & 0xC0U) != 0x80U) /* also stops at the terminating NUL */
            return 0;
        *code = *code << 6 | (text[i] & 0x3FU);
    }
    if (*code < least[length] || *code > 0x10FFFF || (*code >= 0xD800 && *code <= 0xDFFF))
        return 0;
    return length;
}

/* Control characters (C0, DEL, C1), and the format characters that reorder or break a line on a
 * terminal (Unicode Bidi_Control, U+2028, U+2029): a fault must not be able to disguise itself. */
static bool is_control(unsigned long code)
{
    return code < 0x20 || (code >= 0x7F && code <= 0x9F) || code == 0x061C ||
           (code >= 0x200E && code <= 0x200F) || (code >= 0x2028 && code <= 0x202E) ||
           (code >= 0x2066 && code <= 0x2069);
}

void hobble_fault_text(char dest[HOBBLE_FAULT_TEXT], const char *text)
{
    const unsigned char *from = (const unsigned char *)(text == NULL ? "" : text);
    size_t used = 0;

    while (*from != '\0') {
        unsigned long code = 0;
        size_t length = utf8_decode(from, &code);
        bool plain = length > 0 && !is_control(code);
        size_t wanted = plain ? length : 1;

        if (used + wanted > HOBBLE_FAULT_TEXT - 1)
            break;
        if (plain)
            memcpy(dest + used, from, length);
        else
            dest[used] = '?';
        used += wanted;
        from += length > 0 ? length : 1;
    }
    dest[used] = '\0';
}
