/* SPDX-License-Identifier: GPL-3.0-or-later */
/* policy_rows.h - what the rows of the policy's parts share. */
#ifndef HB_REPORT_DESCRIBE_POLICY_ROWS_H
#define HB_REPORT_DESCRIBE_POLICY_ROWS_H

#include "report/describe/row.h"

/* Sums of shares may end a bit above 1. */
#define HB_POLICY_SHARE  .least = 0.0, .most = 1.0000000001
#define HB_POLICY_FROM_0 .least = 0.0, .most = HUGE_VAL

extern const struct hb_row hb_policy_chance_rows[]; /* of struct hobble_chance */
extern const struct hb_row hb_policy_table_rows[];  /* of struct hobble_policy_row */
extern const struct hb_row hb_policy_rule_rows[];   /* of struct hobble_simple_rule */
extern const struct hb_row hb_policy_cost_rows[];   /* of struct hobble_policy_cost */
/* Of what the fleet's file gives: numbers, help, loads, vehicles, sites of weather. */
extern const struct hb_row hb_policy_number_rows[], hb_policy_help_rows[], hb_policy_load_rows[],
    hb_policy_vehicle_rows[], hb_policy_site_rows[];

#endif
