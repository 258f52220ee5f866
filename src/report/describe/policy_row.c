/* SPDX-License-Identifier: GPL-3.0-or-later */
/* policy_row.c - a row of the policy in words, the same in text and sheet. */
#include "report/describe/few.h"
#include "report/describe/policy.h"
#include "report/describe/words.h"

#include <stdio.h>
#include <string.h>

const char *const hb_policy_columns[HB_POLICY_CELLS] = {
    "vehicle", "load",     "season",       "by the rule", "alone",      "at",
    "fails",   "stranded", "80 km: fails", "stranded",    "80 km at 80"};

void hb_policy_few(const struct hb_policy_report *r, char *buf, size_t size)
{
    const int counted = r->policy->counted, members = (int)r->fleet->members;
    buf[0] = '\0';
    if (hobble_too_few(counted))
        snprintf(buf, size,
                 "TOO FEW TYRES: %d of %d members count; a rule for people needs %d. No sheet, "
                 "card or page is made of this. With --members %d they are.",
                 counted, members, HOBBLE_TYRES_ENOUGH, hb_few_members(members, counted));
}

static void reasons_text(int stops, char *buf, size_t size)
{
    size_t used = 0;
    buf[0] = '\0';
    for (int i = 0; i < HOBBLE_STOP_COUNT && used < size; i++)
        if (stops >> i & 1) {
            char word[64];
            hb_words_spaced(hobble_stop_word((enum hobble_stop)i), word, sizeof word);
            used += (size_t)snprintf(buf + used, size - used, "%s%s", used > 0 ? ", " : "", word);
        }
    if (buf[0] == '\0')
        snprintf(buf, size, "no 5 km within the accepted chance");
}

/* Why the plain rule is unsafe or wasteful here, and why a row is stop. */
static void why_text(const struct hb_policy_report *r, const struct hobble_policy_row *row,
                     char *buf, size_t size)
{
    const double accepted = r->fleet->number[hobble_fleet_find("accepted_chance")].value;
    char most[32], lost[32], reasons[HOBBLE_FAULT_TEXT];
    hb_policy_percent(accepted, most, sizeof most);
    hb_policy_percent(row->rule.lost, lost, sizeof lost);
    reasons_text(row->rule_stops, reasons, sizeof reasons);
    if (!row->go)
        snprintf(buf, size, "%sSTOP: %s", row->rule_unsafe ? "UNSAFE, " : "", reasons);
    else if (row->rule_barred)
        snprintf(buf, size, "UNSAFE at 80 km/h: %s", reasons);
    else if (row->rule_unsafe)
        snprintf(buf, size, "UNSAFE: fails above %s", most);
    else if (row->rule_wasteful)
        snprintf(buf, size, "wasteful: %s lost", lost);
    else
        snprintf(buf, size, row->rule_holds ? "holds" : "within limit");
}

void hb_policy_cells(const struct hb_policy_report *r, int i,
                     char cell[HB_POLICY_CELLS][HOBBLE_FAULT_TEXT])
{
    const struct hobble_policy_row *row = &r->policy->row[i];
    const double share[] = {row->policy.failed, row->policy.stranded, row->rule.failed,
                            row->rule.stranded};
    hobble_fault_text(cell[0], r->fleet->vehicle[row->vehicle].name);
    hobble_fault_text(cell[1], r->fleet->load[row->load].name);
    hobble_fault_text(cell[2], r->fleet->season[row->season].name);
    hb_policy_way(hb_policy_has_rule(r) ? row->told : 0.0, r->us, cell[HB_POLICY_BY_RULE],
                  HOBBLE_FAULT_TEXT);
    hb_policy_way(row->distance, r->us, cell[HB_POLICY_ALONE], HOBBLE_FAULT_TEXT);
    hb_policy_pace(row->speed, r->us, cell[5], HOBBLE_FAULT_TEXT);
    if (!row->go)
        hobble_fault_text(cell[5], "-");
    for (size_t k = 0; k < sizeof share / sizeof *share; k++)
        hb_policy_percent(share[k], cell[6 + k], HOBBLE_FAULT_TEXT);
    why_text(r, row, cell[HB_POLICY_WHY], HOBBLE_FAULT_TEXT);
}
