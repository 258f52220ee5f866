/* SPDX-License-Identifier: GPL-3.0-or-later */
/* condition_line.c - one line of an answer, as a person or a pipe gives it. */
#include "cli/condition.h"

#include <stdlib.h>
#include <string.h>

/* Bytes that a terminal acts on, and NUL, which would hide what follows it. */
static bool holds_control(const char *text, size_t length)
{
    for (size_t i = 0; i < length; i++) {
        const unsigned char byte = (unsigned char)text[i];
        if ((byte < 0x20 && byte != '\t') || byte == 0x7f)
            return true;
    }
    return false;
}

char *hb_asking_line(struct hb_asking *a)
{
    for (;;) {
        const ssize_t got = getline(&a->line, &a->size, a->in);
        a->left = got < 0;
        if (a->left)
            return NULL;
        char *text = a->line;
        size_t length = (size_t)got;
        length -= length > 0 && text[length - 1] == '\n';
        length -= length > 0 && text[length - 1] == '\r';
        text[length] = '\0';
        if (holds_control(text, length)) {
            fprintf(a->out, "  The answer holds control characters; give it again.\n  > ");
            fflush(a->out);
            continue;
        }
        text += strspn(text, " \t");
        for (size_t n = strlen(text); n > 0 && strchr(" \t", text[n - 1]); n--)
            text[n - 1] = '\0';
        a->left = strcmp(text, "quit") == 0 || strcmp(text, "q") == 0;
        return a->left ? NULL : text;
    }
}

void hb_asking_end(struct hb_asking *a)
{
    free(a->line);
    a->line = NULL;
}
