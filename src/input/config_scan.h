/* SPDX-License-Identifier: GPL-3.0-or-later */
/* config_scan.h - looks over the text of a configuration file before libconfig sees it.
 *
 * Accepted: UTF-8, with or without its byte order mark; lines that end with LF or CR LF; a last
 * line without an end. Refused here: everything in HB_TEXT_LIMITS, NUL, control and text-reordering
 * characters, broken UTF-8, @include (it would open any path), comments and strings without an end
 * (libconfig takes the first in silence), names given twice, values with a unit outside quotes. */
#ifndef HB_INPUT_CONFIG_SCAN_H
#define HB_INPUT_CONFIG_SCAN_H

#include "hobble.h"

enum {                        /* HB_TEXT_LIMITS */
       HB_FILE_MAX = 1000000, /* bytes */
       HB_DEPTH_MAX = 8,      /* open brackets of any kind */
       HB_NAMES_MAX = 2000    /* settings: libconfig's look-up grows with their square */
};

/* Looks over a text and writes what libconfig should read: the same lines without comments, whole
 * numbers beyond 32 bits as decimal ones (libconfig wraps them in silence), names given twice
 * renamed so that the rest can still be checked. *clean: owned by the caller (free), set on
 * HOBBLE_OK and when *readable; *readable: no fault but repeated names, so libconfig may go on.
 * Returns the first fault. */
enum hobble_status hb_config_scan(const char *bytes, size_t size, const char *name, char **clean,
                                  bool *readable, struct hobble_faults *sink);
/* Begins the new name of a setting that was given twice; no setting in a file can be called so. */
#define HB_REPEATED "*again"

#endif
