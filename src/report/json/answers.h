/* SPDX-License-Identifier: GPL-3.0-or-later */
/* answers.h - every command's answer as JSON; NULL without memory. And the tables as CSV. */
#ifndef HB_REPORT_JSON_ANSWERS_H
#define HB_REPORT_JSON_ANSWERS_H

#include "hobble.h"
#include "report/describe/card.h"
#include "report/describe/policy.h"

#include <jansson.h>
#include <stdio.h>

json_t *hb_policy_json(const struct hb_policy_report *r);

/* One line a row, with a first line of names (RFC 4180). */
void hb_policy_csv(FILE *f, const struct hb_policy_report *r);

/* What the card says; NULL without memory. */
json_t *hb_card_json(const hobble_case *c, const struct hb_card *card);

#endif
