/* SPDX-License-Identifier: GPL-3.0-or-later */
/* policy_words.c - which sentences a policy is told in. */
#include "report/describe/policy.h"

bool hb_policy_has_rule(const struct hb_policy_report *r)
{
    return r->policy->simple.found && r->policy->simple.verified;
}

static enum hb_message exception_says(const struct hobble_simple_rule *s)
{
    return !(s->other > 0.0)   ? HB_SAY_POLICY_EXCEPT_STOP
           : s->distance > 0.0 ? HB_SAY_POLICY_EXCEPT_AT_MOST
                               : HB_SAY_POLICY_ONLY;
}

int hb_policy_line_says(const struct hb_policy_report *r, enum hb_message say[HB_POLICY_LINES])
{
    const struct hobble_simple_rule *s = &r->policy->simple;
    const bool has = hb_policy_has_rule(r);
    int n = 0;
    say[n++] = !has                ? HB_SAY_POLICY_NO_RULE
               : s->distance > 0.0 ? HB_SAY_POLICY_DRIVE
                                   : HB_SAY_POLICY_STOP;
    if (has && s->exception)
        say[n++] = exception_says(s);
    say[n++] = HB_SAY_POLICY_BANG;
    return n;
}

int hb_policy_lines(const struct hb_policy_report *r, char line[HB_POLICY_LINES][HB_POLICY_TEXT])
{
    enum hb_message say[HB_POLICY_LINES];
    const struct hb_scope scope = hb_policy_scope(r);
    const int n = hb_policy_line_says(r, say);
    for (int i = 0; i < n; i++)
        hb_say(say[i], &scope, line[i], HB_POLICY_TEXT);
    return n;
}

void hb_policy_few(const struct hb_policy_report *r, char *buf, size_t size)
{
    const struct hb_scope scope = hb_policy_scope(r);
    hb_say(hobble_too_few(r->policy->counted) ? HB_SAY_POLICY_FEW : HB_SAY_NOTHING, &scope, buf,
           size);
}
