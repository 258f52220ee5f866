/* SPDX-License-Identifier: GPL-3.0-or-later */
/* config_text.h - looks over the text of a configuration file before libconfig sees it, and reads
 * files and texts into libconfig trees, with the faults of what was wrong.
 *
 * Accepted: UTF-8, with or without its byte order mark; lines that end with LF or CR LF; a last
 * line without an end. Refused here: everything in HB_TEXT_LIMITS, NUL, control and text-reordering
 * characters, broken UTF-8, @include (it would open any path), comments and strings without an end
 * (libconfig takes the first in silence), names given twice, values with a unit outside quotes. */
#ifndef HB_INPUT_CONFIG_TEXT_H
#define HB_INPUT_CONFIG_TEXT_H

#include "hobble.h"

#include <libconfig.h>

enum {                        /* HB_TEXT_LIMITS */
       HB_FILE_MAX = 1000000, /* bytes */
       HB_DEPTH_MAX = 8,      /* open brackets of any kind */
       HB_NAMES_MAX = 2000    /* settings: libconfig's look-up grows with their square */
};

/* Reads a regular file of at most HB_FILE_MAX bytes. *bytes: owned by the caller (free), with a NUL
 * after its *size bytes. Never waits for a pipe or a device. */
enum hobble_status hb_file_read(const char *path, char **bytes, size_t *size,
                                struct hobble_faults *sink);

/* Looks over a text and writes what libconfig should read: the same lines without comments, whole
 * numbers beyond 32 bits as decimal ones (libconfig wraps them in silence), names given twice
 * renamed so that the rest can still be checked. *clean: owned by the caller (free), set on
 * HOBBLE_OK and when *readable; *readable: no fault but repeated names, so libconfig may go on.
 * Returns the first fault. */
enum hobble_status hb_config_scan(const char *bytes, size_t size, const char *name, char **clean,
                                  bool *readable, struct hobble_faults *sink);
/* Begins the new name of a setting that was given twice; no setting in a file can be called so. */
#define HB_REPEATED "*again"

/* Scans and parses. out: initialised here, and to be destroyed by the caller when *readable;
 * repeated names are reported and left in the tree. */
enum hobble_status hb_config_parse(const char *bytes, size_t size, const char *name, config_t *out,
                                   bool *readable, struct hobble_faults *sink);

/* A number that stands in a file as one, in decimal digits; false for anything else. The scan has
 * made whole numbers that do not fit 32 bits decimal ones. */
bool hb_config_number(const config_setting_t *s, double *value);

/* Adds a fault at file:line (0: none) of a key. */
enum hobble_status hb_fault_at(struct hobble_faults *sink, enum hobble_status status,
                               const char *file, int line, const char *key, const char *given,
                               const char *allowed);

/* "file:line" as an origin: the last part of the path, cut at its front to fit size. */
void hb_origin(const char *file, int line, char *buf, size_t size);

#endif
