/* SPDX-License-Identifier: GPL-3.0-or-later */
/* policy_sheet.h - the policy on a few pages, as PDF. */
#ifndef HB_REPORT_PAPER_POLICY_SHEET_H
#define HB_REPORT_PAPER_POLICY_SHEET_H

#include "report/describe/policy.h"

/* The sheet of a few pages, with the two pictures out of their SVG files. HOBBLE_E_UNSUPPORTED when
 * built without PDF. The same report gives the same bytes. */
enum hobble_status hb_policy_sheet(const char *path, const struct hb_policy_report *r,
                                   const char *chances_svg, const char *costs_svg);

#endif
