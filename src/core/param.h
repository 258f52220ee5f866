/* SPDX-License-Identifier: GPL-3.0-or-later */
/* param.h - the settings of one question: a value, a spread and an origin for every row of the
 * parameter table. */
#ifndef HB_CORE_PARAM_H
#define HB_CORE_PARAM_H

#include "hobble.h"

enum hb_param_id {
#define NUMBER(id, ...) HB_P_##id,
#define WORD(id, ...)   HB_P_##id,
#define TEXT(id, ...)   HB_P_##id,
#include "core/param_rows.inc"
#undef NUMBER
#undef WORD
#undef TEXT
    HB_PARAM_COUNT
};

enum { HB_TEXT_MAX = HOBBLE_FAULT_TEXT, HB_ORIGIN_MAX = 96 };

struct hb_setting {
    double value;  /* in the row's unit, NAN when not given; for a word its place in the list */
    double spread; /* as the row's shape says */
    bool given;    /* by a profile or the user */
    enum hobble_provenance provenance;
    char text[HB_TEXT_MAX];     /* for text rows, and the source given with a value */
    char origin[HB_ORIGIN_MAX]; /* "built in", "file:line", "--set", "--load" */
};

struct hb_settings {
    struct hb_setting row[HB_PARAM_COUNT];
};

/* Defaults of the table; every origin "built in". */
void hb_settings_default(struct hb_settings *settings);
/* Value in the row's unit; NAN when not given. */
double hb_setting_value(const struct hb_settings *settings, enum hb_param_id id);
/* Value in SI; NAN when not given. */
double hb_setting_si(const struct hb_settings *settings, enum hb_param_id id);
bool hb_setting_known(const struct hb_settings *settings, enum hb_param_id id);
/* For words: place in the row's list. */
int hb_setting_word(const struct hb_settings *settings, enum hb_param_id id);
/* The dimension of the sample cube that draws this row, or -1. */
int hb_param_dimension(enum hb_param_id id);

enum { HB_DIMENSIONS_MAX = 24 }; /* the quasi-random sequence is good to 40 */
int hb_param_dimensions(void);

enum hb_construction {
    HB_UNKNOWN,
    HB_SELF_SUPPORTING,
    HB_EXTENDED_MOBILITY,
    HB_SEALANT_LINED,
    HB_CONVENTIONAL
};
enum hb_answer_word { HB_NOT_KNOWN, HB_NO, HB_YES };
enum hb_load_known { HB_LOAD_GUESSED, HB_LOAD_COUNTED, HB_LOAD_WEIGHED };
enum hb_warning { HB_WARNING_UNKNOWN, HB_WARNING_DIRECT, HB_WARNING_INDIRECT, HB_WARNING_NONE };

#endif
