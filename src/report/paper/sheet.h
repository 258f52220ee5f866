/* SPDX-License-Identifier: GPL-3.0-or-later */
/* sheet.h - the bench sheet: one page for the workshop's file, as PDF. */
#ifndef HB_REPORT_PAPER_SHEET_H
#define HB_REPORT_PAPER_SHEET_H

#include "hobble.h"

/* Writes the sheet to path, whole or not at all. HOBBLE_E_WRITE when it cannot be written,
 * HOBBLE_E_MEMORY, HOBBLE_E_UNSUPPORTED in a program that was built without the PDF libraries.
 * The same answer gives the same bytes. */
enum hobble_status hb_sheet_write(const char *path, const hobble_case *c,
                                  const struct hobble_condition_answer *answer, bool us);

#endif
