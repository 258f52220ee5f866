/* SPDX-License-Identifier: GPL-3.0-or-later */
/* fuzz.h - the entry that every fuzz target has: libFuzzer calls it, and so does replay_main.c. */
#ifndef HB_TEST_FUZZ_H
#define HB_TEST_FUZZ_H

#include <stddef.h>
#include <stdint.h>

/* Tries size bytes of any content. Returns 0; aborts when a promise is broken. */
int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

#endif
