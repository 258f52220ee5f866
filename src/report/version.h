/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef HB_REPORT_VERSION_H
#define HB_REPORT_VERSION_H

#include <stdio.h>

/* Version of the program, its licence, and the versions of the libraries it runs with. */
void hb_print_versions(FILE *f);

#endif
