/* SPDX-License-Identifier: GPL-3.0-or-later */
/* out.h - what a command prints is gathered in memory and written at the end: all of it or an
 * error, and a file only by renaming a whole one. */
#ifndef HB_REPORT_OUT_H
#define HB_REPORT_OUT_H

#include "hobble.h"

#include <stdio.h>

/* A text under way. Zero-initialise, open, print into stream, close. */
struct hb_out {
    FILE *stream;
    char *text;
    size_t size;
};

enum hobble_status hb_out_open(struct hb_out *out);
/* Ends the text and writes it: to standard output (path NULL) or to a file beside which it is
 * first written under a temporary name. HOBBLE_E_WRITE or HOBBLE_E_MEMORY; frees in any case. */
enum hobble_status hb_out_close(struct hb_out *out, const char *path);
/* Throws the text away. */
void hb_out_drop(struct hb_out *out);

/* A temporary name beside path ("path.XXXXXX"), created empty; free it. NULL on failure. */
char *hb_temporary_beside(const char *path);
/* Flushes a finished temporary file to the disk and gives it its name; removes it on failure. An
 * empty file counts as a failure: some programs end with 0 on a full disk. */
enum hobble_status hb_rename_whole(char *temporary, const char *path);

/* Writes bytes to a file in this way. */
enum hobble_status hb_write_whole(const char *path, const char *bytes, size_t size);

#endif
