/* SPDX-License-Identifier: GPL-3.0-or-later */
/* few.h - no paper out of too few tyres: one sentence and one fault for all of them. */
#ifndef HB_REPORT_DESCRIBE_FEW_H
#define HB_REPORT_DESCRIBE_FEW_H

#include "hobble.h"

/* Members with which enough tyres would count, where counted of members do; in fifties. */
int hb_few_members(int members, int counted);
/* HOBBLE_OK where enough tyres count; else a fault that names paper and --members. */
enum hobble_status hb_few_refuse(const hobble_case *c, int counted, const char *paper,
                                 struct hobble_faults *sink);

#endif
