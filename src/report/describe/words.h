/* SPDX-License-Identifier: GPL-3.0-or-later */
/* words.h - sentences that several reports share. */
#ifndef HB_REPORT_DESCRIBE_WORDS_H
#define HB_REPORT_DESCRIBE_WORDS_H

#include "hobble.h"

#include <stdio.h>

/* What to watch for on the way, and the cautions of every answer; NULL behind the last. */
const char *hb_watch(size_t place);
const char *hb_caution(size_t place);

/* "self-supporting" for "self_supporting". */
void hb_words_spaced(const char *word, char *buf, size_t size);
/* Prints text wrapped at 78 columns, every line indented; first is put before the first line in
 * place of the indent. */
void hb_print_wrapped(FILE *f, const char *first, int indent, const char *text);
/* The degree's sign, or "" where the locale cannot show it. */
const char *hb_degree(void);
/* A number that is already in the unit shown, with that unit. */
void hb_shown_text(double shown, enum hobble_unit unit, bool us, int decimals, char *buf,
                   size_t size);
/* Same into buf. */
void hb_quantity_text(double si, enum hobble_unit unit, bool us, int decimals, char *buf,
                      size_t size);
/* All faults, one a line: "hobble: FILE:LINE: KEY: given ...; allowed ...". */
void hb_print_faults(FILE *f, const struct hobble_faults *faults);

/* How every answer begins: what was changed by hand, and whose tyre and load these are. */
struct hb_heading {
    const struct hobble_marking *marking;
    bool example, example_load;
    double load_share; /* where the load is an example */
};
void hb_print_heading(FILE *f, const hobble_case *c, const struct hb_heading *heading);
/* All of hb_caution. */
void hb_print_cautions(FILE *f);
/* Says so where so few tyres stand behind an answer that the worst of them decide it. */
void hb_caution_few(FILE *f, int counted);
/* Tyres that count where so many types passed: all of the case's members where none did. */
int hb_counted(const hobble_case *c, int passed);
/* "Cautions" of what is no advice: a map, a picture's numbers. counted may be HB_NO_ENSEMBLE. */
enum { HB_NO_ENSEMBLE = 1000000 };
void hb_cautions_of_study(FILE *f, int counted);
/* Values of the model that somebody set by hand must not pass for those of a tyre. */
void hb_print_changed(FILE *f, const hobble_case *c);

/* Keys of the model that are not from the tyre's own profile, which is the file that its marking
 * stands in: options, other files and programs set values by hand. From *place on: returns the next
 * one, or NULL. Begin with *place 0. */
const char *hb_changed_by_hand(const hobble_case *c, size_t *place);

#endif
