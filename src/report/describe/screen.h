/* SPDX-License-Identifier: GPL-3.0-or-later */
/* screen.h - a first screen: few lines, none wider than the terminal. */
#ifndef HB_REPORT_DESCRIBE_SCREEN_H
#define HB_REPORT_DESCRIBE_SCREEN_H

#include <stdbool.h>
#include <stdio.h>

enum {
    HB_SCREEN_LINES = 12, /* a first screen has no more */
    HB_SCREEN_WIDEST = 80,
    HB_SCREEN_NARROWEST = 40,
    HB_SCREEN_ROOM = 40, /* lines kept, so that one too many is seen and not lost */
    HB_SCREEN_BYTES = 400
};

struct hb_screen {
    int width, count;
    bool colour;
    char line[HB_SCREEN_ROOM][HB_SCREEN_BYTES];
};

/* width and colour for standard output: the terminal's, by its size or COLUMNS, and colour unless
 * NO_COLOR or a dumb terminal says otherwise; 80 and none for a file or a pipe. */
void hb_screen_begin(struct hb_screen *s, bool to_file);

/* Columns of a text; wide characters count two. */
int hb_screen_columns(const char *text);
/* Lines that a text takes, wrapped at words. */
int hb_screen_needs(const struct hb_screen *s, const char *text);
/* Adds a text, wrapped; further lines are indented by two. */
void hb_screen_add(struct hb_screen *s, const char *text);
/* Adds one line, cut where it is too long. */
void hb_screen_add_cut(struct hb_screen *s, const char *text);
/* Appends more to text (size bytes) where the whole still fits one line; returns whether it does.
 */
bool hb_screen_append(const struct hb_screen *s, char *text, size_t size, const char *more);

#endif
