/* SPDX-License-Identifier: GPL-3.0-or-later */
/* data_dir.h - the folder of the profiles that come with the program, wherever it was put. */
#ifndef HB_INPUT_DATA_DIR_H
#define HB_INPUT_DATA_DIR_H

#include <stdbool.h>
#include <stddef.h>

/* Writes the folder: beside a program that stands in its build tree; as far from the program as the
 * build's prefix has it, so also when the whole was moved or installed below another root; else the
 * one that the build names. A folder is taken by the program's own place only where nobody else may
 * write beside it. False when it does not fit size. */
bool hb_data_dir(char *folder, size_t size);

/* The same for a program of that path: for tests. */
bool hb_data_dir_of(const char *program, char *folder, size_t size);

#endif
