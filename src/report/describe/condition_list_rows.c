/* SPDX-License-Identifier: GPL-3.0-or-later */
/* condition_list_rows.c - every rule by which a tyre is judged, for the list of them. */
#include "report/describe/answers.h"
#include "report/describe/word_lists.h"
#include "report/describe/words.h"

#include <stdio.h>
#include <string.h>

static size_t every_rule(const struct hb_scope *s)
{
    size_t n = 0;
    (void)s;
    while (hobble_condition_rule(n))
        n++;
    return n;
}

HB_ITEM(every_rule_item, hobble_condition_rule(place))

/* The names that a row's construction mask is written with. */
static void constructions(const struct hb_scope *s, struct hb_value *v)
{
    static const char *const mask[][2] = {{"ALL", "all"},
                                          {"SELF", "self-supporting"},
                                          {"EXTENDED", "extended mobility"},
                                          {"LINED", "sealant-lined"},
                                          {"PLAIN", "conventional"}};
    const char *of_rule = ((const struct hobble_rule_row *)s->of)->constructions;
    size_t used = 0;
    v->room[0] = '\0';
    for (size_t i = 0; i < sizeof mask / sizeof *mask; i++)
        if (strstr(of_rule, mask[i][0]))
            used += (size_t)snprintf(v->room + used, sizeof v->room - used, "%s%s",
                                     used > 0 ? ", " : "", mask[i][1]);
    hb_value_text(v, v->room);
}

static void verdict_said(const struct hb_scope *s, struct hb_value *v)
{
    const struct hobble_rule_row *r = s->of;
    hb_words_spaced(hobble_condition_word(r->rule.verdict), v->room, sizeof v->room);
    hb_value_text(v, v->room);
}

static const struct hb_row rule_rows[] = {
    {"id", HB_TEXT_AT(struct hobble_rule_row, rule.id)},
    {"constructions", HB_TEXT, .get = constructions},
    {"verdict", HB_TEXT, .get = verdict_said},
    {"reason", HB_TEXT_AT(struct hobble_rule_row, rule.reason)},
    {"known", HB_WORD_AT(struct hobble_rule_row, rule.provenance, hb_provenance_word)},
    {"source", HB_TEXT_AT(struct hobble_rule_row, rule.source)},
    {0}};

const struct hb_row hb_condition_list_rows[] = {
    {"every_rule", HB_LIST, .count = every_rule, .item = every_rule_item, .of = rule_rows}, {0}};
