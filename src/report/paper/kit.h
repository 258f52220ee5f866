/* SPDX-License-Identifier: GPL-3.0-or-later */
/* kit.h - what one policy hands out (table, rule, cards, page), made once out of the policy's rows,
 * and the check that no two numbers of it disagree. */
#ifndef HB_REPORT_PAPER_KIT_H
#define HB_REPORT_PAPER_KIT_H

#include "report/describe/card.h"
#include "report/describe/policy.h"
#include "report/paper/page.h"

typedef char hb_kit_row[HB_POLICY_CELLS][HOBBLE_FAULT_TEXT];

struct hb_kit {
    const struct hb_policy_report *r;
    int rules;
    char rule[HB_POLICY_LINES][HB_POLICY_TEXT];
    hb_kit_row *row; /* as the table and the sheet show it */
    char *csv;
    json_t *json;
    /* none where too few tyres count or no rule was kept */
    int cards;
    hobble_case *c[HOBBLE_FLEET_VEHICLES];
    struct hb_card card[HOBBLE_FLEET_VEHICLES];
    size_t choices;
    struct hb_page_choice choice[3 * HOBBLE_FLEET_VEHICLES];
    json_t *page[HOBBLE_FLEET_VEHICLES]; /* a vehicle as the page has it */
    int checked, contradictions;
};

/* Whether sheet, cards and page may be made; why: a sentence where not, for stderr. */
bool hb_kit_sheet(const struct hb_policy_report *r, char *why, size_t size);
bool hb_kit_papers(const struct hb_policy_report *r, char *why, size_t size);

/* kit: the caller's, to free in any case. r must outlive it. */
enum hobble_status hb_kit_make(const struct hb_policy_report *r, struct hb_kit *kit);
/* Compares every number with the policy's rows; each contradiction is a fault that names both
 * numbers and where they stand. Puts the count into the JSON. */
enum hobble_status hb_kit_check(struct hb_kit *kit, struct hobble_faults *sink);
void hb_kit_free(struct hb_kit *kit);

#endif
