/* SPDX-License-Identifier: GPL-3.0-or-later */
/* answers.h - every command's answer as JSON; NULL without memory. And the tables as CSV. */
#ifndef HB_REPORT_JSON_ANSWERS_H
#define HB_REPORT_JSON_ANSWERS_H

#include "hobble.h"
#include "report/describe/card.h"
#include "report/describe/policy.h"

#include <jansson.h>
#include <stdio.h>

enum { HB_ALL_GROUPS = -1 };

json_t *hb_why_json(const hobble_case *c, const struct hobble_why *why);

json_t *hb_wall_json(const hobble_case *c, const struct hobble_wall *wall);

json_t *hb_life_json(const hobble_case *c, const struct hobble_life *life);

json_t *hb_mark_json(const hobble_case *c, const struct hobble_mark_worth *mark);

/* picture: NULL, or the picture of hobble show that these are the numbers of. */
json_t *hb_map_json(const hobble_case *c, const struct hobble_map *map, const char *picture);

/* One line a cell under a line of names with units; RFC 4180 with line feeds. */
void hb_map_csv(FILE *f, const struct hobble_map *map);

/* NULL without memory. */
json_t *hb_condition_json(const hobble_case *c, const struct hobble_condition_answer *answer);

/* Every profile that a name finds. Also NULL when they cannot be listed. */
json_t *hb_profile_list_json(void);

/* The rows of a profile that was read into c. */
json_t *hb_profile_show_json(const char *name, enum hobble_group kind, const hobble_case *c);

json_t *hb_profile_check_json(const char *name, const struct hobble_faults *faults);

/* Every row that can be set, with its limits. */
json_t *hb_profile_keys_json(void);

/* As a list of objects, of the rows of one group (enum hobble_group) or of all; NULL without
 * memory. A number stands in the row's unit, null where it is not given. */
json_t *hb_explain_json(const hobble_case *c, int group);

#endif
