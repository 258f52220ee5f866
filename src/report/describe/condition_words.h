/* SPDX-License-Identifier: GPL-3.0-or-later */
/* condition_words.h - facts of a tyre on the bench, as its forms and the dialogue say them. */
#ifndef HB_REPORT_DESCRIBE_CONDITION_WORDS_H
#define HB_REPORT_DESCRIBE_CONDITION_WORDS_H

#include "hobble.h"

/* A row's value as text, "5 mm", "yes" or "not known". */
void hb_condition_value(const hobble_case *c, int row, bool us, char *buf, size_t size);
/* The name of a row's option, "--tread-depth". */
void hb_condition_option(int row, char *buf, size_t size);

#endif
