/* SPDX-License-Identifier: GPL-3.0-or-later */
/* reference.h - the parameter table as a page of the docs and as a part of the manual. */
#ifndef HB_REPORT_TEXT_REFERENCE_H
#define HB_REPORT_TEXT_REFERENCE_H

#include <stdio.h>

/* A Markdown page: one table a group, every row with its default, limits, spread and source. */
void hb_reference_markdown(FILE *f);
/* The same as sections of an scdoc manual page. */
void hb_reference_manual(FILE *f);
/* The keys of the list of evidence, as a page and as a section of a manual page. */
void hb_reference_evidence(FILE *f);
void hb_reference_evidence_manual(FILE *f);
/* The numbers of a fleet file, as a section of an scdoc manual page. */
void hb_reference_fleet(FILE *f);

#endif
