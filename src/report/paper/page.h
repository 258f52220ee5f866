/* SPDX-License-Identifier: GPL-3.0-or-later */
/* page.h - the one file with the core inside, for phones and projectors. */
#ifndef HB_REPORT_PAPER_PAGE_H
#define HB_REPORT_PAPER_PAGE_H

#include "hobble.h"

#include <jansson.h>

/* The page without its data, made by the build; size 0 when hobble was built without the page. */
extern const unsigned char hb_page_template[];
extern const size_t hb_page_template_size;

/* Sample points: the first of them as they are, the rest rounded to 1/4096 of a standard deviation,
 * but none where a tyre has evidence, for which members are picked: small moves pick others. The
 * page answers every move with the first and adds the rest when nothing moves. */
enum { HB_PAGE_FIRST = 500, HB_PAGE_MOST = 2000 };

/* One profile that the page offers; c is the caller's. */
struct hb_page_choice {
    enum hobble_group group; /* HOBBLE_TYRE or HOBBLE_VEHICLE */
    char name[HOBBLE_FAULT_TEXT];
    hobble_case *c;
    int tyre; /* a vehicle's own: place among the tyres */
    bool two_tyres;
    int rear_tyre; /* where two_tyres: the same behind, and tyre is the front's */
};
/* One choice as the page has it: of a vehicle also what is given of the trip. */
json_t *hb_page_choice_json(const struct hb_page_choice *choice);

/* Writes the page: all of it or nothing, to standard output (path NULL) or by renaming a whole
 * file. At least one tyre; vehicles may be none. seed: of the sample. HOBBLE_E_UNSUPPORTED without
 * a template. */
enum hobble_status hb_page_write(const char *path, const struct hb_page_choice *choice,
                                 size_t count, bool us, unsigned long seed);

#endif
