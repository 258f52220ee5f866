/* SPDX-License-Identifier: GPL-3.0-or-later */
/* fault.h - faults of files, and where a value came from. */
#ifndef HB_INPUT_FAULT_H
#define HB_INPUT_FAULT_H

#include "hobble.h"

/* Adds a fault at file:line (0: none) of a key. */
enum hobble_status hb_fault_at(struct hobble_faults *sink, enum hobble_status status,
                               const char *file, int line, const char *key, const char *given,
                               const char *allowed);

/* "file:line" as an origin: the last part of the path, cut at its front to fit size. */
void hb_origin(const char *file, int line, char *buf, size_t size);

#endif
