/* SPDX-License-Identifier: GPL-3.0-or-later */
/* config_text.h - reads files and texts into libconfig trees, with the faults of what was wrong. */
#ifndef HB_INPUT_CONFIG_TEXT_H
#define HB_INPUT_CONFIG_TEXT_H

#include "input/config_scan.h"
#include "input/fault.h"

#include <libconfig.h>

/* Reads a regular file of at most HB_FILE_MAX bytes. *bytes: owned by the caller (free), with a NUL
 * after its *size bytes. Never waits for a pipe or a device. */
enum hobble_status hb_file_read(const char *path, char **bytes, size_t *size,
                                struct hobble_faults *sink);

/* Scans and parses. out: initialised here, and to be destroyed by the caller when *readable;
 * repeated names are reported and left in the tree. */
enum hobble_status hb_config_parse(const char *bytes, size_t size, const char *name, config_t *out,
                                   bool *readable, struct hobble_faults *sink);

/* A fault at the place of a setting (NULL: of the file); given NULL: what it is by type. */
enum hobble_status hb_config_fault(struct hobble_faults *sink, enum hobble_status status,
                                   const char *file, const config_setting_t *s, const char *key,
                                   const char *given, const char *allowed);

/* Whether a setting was given twice, which the scan has reported. */
bool hb_config_repeated(const config_setting_t *s);

/* A number that stands in a file as one, in decimal digits; false for anything else. The scan has
 * made whole numbers that do not fit 32 bits decimal ones. */
bool hb_config_number(const config_setting_t *s, double *value);

#endif
