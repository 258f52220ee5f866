/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/text/answers.h"

#include <string.h>

/* The names that a row's construction mask is written with. */
static void constructions(FILE *f, const char *mask)
{
    static const char *const name[][2] = {{"SELF", "self-supporting"},
                                          {"EXTENDED", "extended mobility"},
                                          {"LINED", "sealant-lined"},
                                          {"PLAIN", "conventional"}};
    bool first = true;
    if (strcmp(mask, "ALL") == 0)
        fprintf(f, "all");
    for (int i = 0; i < 4; i++)
        if (strstr(mask, name[i][0])) {
            fprintf(f, "%s%s", first ? "" : ", ", name[i][1]);
            first = false;
        }
}

void hb_condition_list(FILE *f)
{
    const struct hobble_rule_row *r;
    fprintf(f, "# The rules of hobble condition\n\n"
               "Generated from the table of rules (`hobble condition --list`); do not edit. Worst "
               "first; the verdict\nis that of the worst rule that fires. How they are weighed: "
               "condition.md.\n\n"
               "| rule | constructions | verdict | reason | known | source |\n"
               "|---|---|---|---|---|---|\n");
    for (size_t i = 0; (r = hobble_condition_rule(i)) != NULL; i++) {
        fprintf(f, "| `%s` | ", r->rule.id);
        constructions(f, r->constructions);
        fprintf(f, " | %s | %s | %s | %s |\n",
                r->rule.verdict == HOBBLE_SCRAP ? "scrap" : "dismount and inspect", r->rule.reason,
                hobble_provenance_word(r->rule.provenance), r->rule.source);
    }
}
