/* SPDX-License-Identifier: GPL-3.0-or-later */
/* answers.h - every command's answer as JSON; NULL without memory. And the tables as CSV. */
#ifndef HB_REPORT_JSON_ANSWERS_H
#define HB_REPORT_JSON_ANSWERS_H

#include "hobble.h"
#include "report/describe/card.h"
#include "report/describe/policy.h"

#include <jansson.h>
#include <stdio.h>

json_t *hb_why_json(const hobble_case *c, const struct hobble_why *why);

json_t *hb_wall_json(const hobble_case *c, const struct hobble_wall *wall);

json_t *hb_life_json(const hobble_case *c, const struct hobble_life *life);

json_t *hb_mark_json(const hobble_case *c, const struct hobble_mark_worth *mark);

/* picture: NULL, or the picture of hobble show that these are the numbers of. */
json_t *hb_map_json(const hobble_case *c, const struct hobble_map *map, const char *picture);

/* One line a cell under a line of names with units; RFC 4180 with line feeds. */
void hb_map_csv(FILE *f, const struct hobble_map *map);

json_t *hb_policy_json(const struct hb_policy_report *r);

/* One line a row, with a first line of names (RFC 4180). */
void hb_policy_csv(FILE *f, const struct hb_policy_report *r);

/* What the card says; NULL without memory. */
json_t *hb_card_json(const hobble_case *c, const struct hb_card *card);

#endif
