/* SPDX-License-Identifier: GPL-3.0-or-later */
/* policy_words.c - sentences that text and sheet share. */
#include "input/quantity.h"
#include "report/describe/policy.h"
#include "report/describe/words.h"

#include <math.h>
#include <string.h>

const char *const hb_policy_cautions[] = {
    "Advice, not permission: the makers of tyre and vehicle, the law of the place and the people "
    "who come to help decide; where they say less than this, they are right.",
    "Chances are for one warning on a tyre whose wall still carries; bursts and torn walls strand "
    "at once and are counted in the table of constructions.",
    "The model rests on assumed and remembered values, carried as spread; it was not fitted to "
    "drum runs of these tyres. What is not known in the inputs is not in the bands.",
    "A tyre that ran flat is scrap or is taken off the rim and looked at inside: hobble condition.",
    NULL,
};

void hb_policy_way(double metres, bool us, char *buf, size_t size)
{
    if (metres <= 0.0)
        snprintf(buf, size, "stop");
    else
        snprintf(buf, size, "%.0f %s", floor(metres / (us ? 1609.344 : 1e3) + 1e-9),
                 us ? "mi" : "km");
}

void hb_policy_percent(double share, char *buf, size_t size)
{
    if (share <= 0.0)
        snprintf(buf, size, "0 %%");
    else if (share < 0.0001)
        snprintf(buf, size, "<0.01 %%");
    else
        snprintf(buf, size, "%.*f %%", share < 0.0995 ? 2 : 1, 100.0 * share);
}

void hb_policy_pace(double speed, bool us, char *buf, size_t size)
{
    double shown = hobble_unit_from_si(HOBBLE_UNIT_KM_PER_HOUR, speed);
    const char *unit = us ? hb_quantity_us(HOBBLE_UNIT_KM_PER_HOUR, &shown) : "km/h";
    snprintf(buf, size, "%.0f %s", floor(shown + 1e-6), unit);
}

/* "estate, every seat, heat wave" */
static void exception_text(const struct hb_policy_report *r, char *buf, size_t size)
{
    const struct hobble_simple_rule *s = &r->policy->simple;
    const char *part[] = {s->vehicle >= 0 ? r->fleet->vehicle[s->vehicle].name : NULL,
                          s->load >= 0 ? r->fleet->load[s->load].name : NULL,
                          s->season >= 0 ? r->fleet->season[s->season].name : NULL};
    size_t used = 0;
    buf[0] = '\0';
    for (int i = 0; i < 3; i++)
        if (part[i] && used < size)
            used +=
                (size_t)snprintf(buf + used, size - used, "%s%s", used > 0 ? ", " : "", part[i]);
}

bool hb_policy_has_rule(const struct hb_policy_report *r)
{
    return r->policy->simple.found && r->policy->simple.verified;
}

int hb_policy_lines(const struct hb_policy_report *r, char line[HB_POLICY_LINES][HB_POLICY_TEXT])
{
    const struct hobble_simple_rule *s = &r->policy->simple;
    char way[40], pace[40], other[40], what[3 * HOBBLE_FLEET_NAME];
    int n = 0;
    hb_policy_way(s->distance, r->us, way, sizeof way);
    hb_policy_way(s->other, r->us, other, sizeof other);
    hb_policy_pace(s->speed, r->us, pace, sizeof pace);
    exception_text(r, what, sizeof what);
    if (!hb_policy_has_rule(r))
        snprintf(line[n++], HB_POLICY_TEXT,
                 "No rule: none was found that keeps the accepted chance. When the warning comes: "
                 "stop at the first place off the road, and call.");
    else if (s->distance > 0.0)
        snprintf(line[n++], HB_POLICY_TEXT,
                 "When the warning comes: slow to %s; drive at most %s, to the nearest help.", pace,
                 way);
    else
        snprintf(line[n++], HB_POLICY_TEXT,
                 "When the warning comes: stop at the first place off the road, and call.");
    if (!hb_policy_has_rule(r))
        ; /* and no exception from it */
    else if (s->exception && s->other > 0.0 && s->distance > 0.0)
        snprintf(line[n++], HB_POLICY_TEXT, "Exception, %s: at most %s.", what, other);
    else if (s->exception && s->other > 0.0)
        snprintf(line[n++], HB_POLICY_TEXT, "Only %s: at most %s at %s.", what, other, pace);
    else if (s->exception)
        snprintf(line[n++], HB_POLICY_TEXT, "Exception, %s: stop off the road, and call.", what);
    snprintf(line[n++], HB_POLICY_TEXT,
             "Bang, smoke, thumping, a second flat tyre or a trailer: stop at once, and call.");
    return n;
}

void hb_policy_verdict(const struct hb_policy_report *r, char *buf, size_t size)
{
    const struct hobble_simple_rule *s = &r->policy->simple;
    const struct hobble_policy_row *row = &r->policy->row[s->fresh_row];
    const double accepted = r->fleet->number[hobble_fleet_find("accepted_chance")].value;
    char most[32], fresh[32], error[32], helped[32], best[32];
    hb_policy_percent(accepted, most, sizeof most);
    hb_policy_percent(s->fresh, fresh, sizeof fresh);
    hb_policy_percent(s->fresh_error, error, sizeof error);
    hb_policy_percent(s->reaches, helped, sizeof helped);
    hb_policy_percent(s->reaches_best, best, sizeof best);
    snprintf(
        buf, size,
        "%s on a fresh sample that had no part in finding it: a tyre fails on the way in at most "
        "%s of warnings (+- %s; %s, %s, %s), %s are accepted. %s of warnings reach help by this "
        "rule, %s by the table's own distances. The simplest of %d rules looked at.",
        s->verified ? "Kept" : "NOT KEPT", fresh, error, r->fleet->vehicle[row->vehicle].name,
        r->fleet->load[row->load].name, r->fleet->season[row->season].name, most, helped, best,
        s->tried);
}

void hb_policy_break(const struct hb_policy_report *r, enum hobble_build build, char *buf,
                     size_t size)
{
    const struct hobble_policy_cost *c = &r->policy->cost[build];
    const double rate = 1e5 / r->fleet->number[hobble_fleet_find("puncture_every")].value;
    if (build == HOBBLE_BUILD_SELF)
        snprintf(buf, size, "-");
    else if (c->pays == HOBBLE_BREAK_AT)
        snprintf(buf, size, "%s %.3g (now %.3g)", c->pays_below ? "below" : "from", c->break_even,
                 rate);
    else
        snprintf(buf, size, c->pays == HOBBLE_BREAK_ALWAYS ? "at any rate" : "at no rate");
}

void hb_policy_first(const struct hb_policy_report *r, char *buf, size_t size)
{
    const struct hobble_shift *a = &r->policy->shift[0], *b = &r->policy->shift[1];
    char one[40], two[40];
    hb_quantity_text(a->change, HOBBLE_UNIT_KILOMETRE, r->us, 1, one, sizeof one);
    hb_quantity_text(b->change, HOBBLE_UNIT_KILOMETRE, r->us, 1, two, sizeof two);
    if (a->change < 100.0) {
        snprintf(buf, size, "None of the inputs that were moved would change this policy.");
        return;
    }
    snprintf(buf, size,
             "Two inputs would change this policy most: %s (by %s on the average), and %s (by %s). "
             "First: "
             "%s Then: %s",
             hobble_shift_what(a->code), one, hobble_shift_what(b->code), two,
             hobble_shift_how(a->code), hobble_shift_how(b->code));
}

/* Names of up to a few rows with a property, and how many there are. */
static void list_rows(const struct hb_policy_report *r, bool wasteful, char *buf, size_t size)
{
    enum { SHOWN = 4 };
    int count = 0;
    size_t used = 0;
    double weight = 0.0;
    buf[0] = '\0';
    for (int i = 0; i < r->policy->rows; i++) {
        const struct hobble_policy_row *row = &r->policy->row[i];
        if (wasteful ? !row->rule_wasteful : !row->rule_unsafe)
            continue;
        weight += row->weight;
        if (count++ < SHOWN && used < size)
            used += (size_t)snprintf(buf + used, size - used, "%s%s, %s, %s", used > 0 ? "; " : "",
                                     r->fleet->vehicle[row->vehicle].name,
                                     r->fleet->load[row->load].name,
                                     r->fleet->season[row->season].name);
    }
    if (count == 0)
        snprintf(buf, size, "nowhere");
    else if (used < size)
        snprintf(buf + used, size - used, "%s (%d of %d rows, %.1f %% of the kilometres)",
                 count > SHOWN ? "; and more" : "", count, r->policy->rows, 100.0 * weight);
}

void hb_policy_plain_rule(const struct hb_policy_report *r, char *buf, size_t size)
{
    char unsafe[900], wasteful[900];
    list_rows(r, false, unsafe, sizeof unsafe);
    list_rows(r, true, wasteful, sizeof wasteful);
    snprintf(
        buf, size,
        "The plain rule of 80 km at 80 km/h from the warning on is over the accepted chance: %s. "
        "It leaves tyres that would still reach help at the roadside, in more warnings than that: "
        "%s; no advice goes beyond it all the same.",
        unsafe, wasteful);
}

void hb_policy_help(const struct hb_policy_report *r, char *buf, size_t size)
{
    static const char *const kind[] = {"an exponential law", "a table", "a list of incidents"};
    const struct hobble_help *help = &r->fleet->help;
    char mean[40], beyond[40];
    hb_quantity_text(help->mean, HOBBLE_UNIT_KILOMETRE, r->us, 1, mean, sizeof mean);
    hb_policy_percent(hobble_help_beyond(help, 80e3), beyond, sizeof beyond);
    snprintf(buf, size, "%s, %s away on the average, beyond 80 km in %s", kind[help->kind], mean,
             beyond);
    if (help->kind != HOBBLE_HELP_EXPONENTIAL) {
        const size_t used = strlen(buf);
        snprintf(buf + used, size - used, " (%d distances)", help->count);
    }
}

void hb_policy_number(const struct hobble_fleet *fleet, int row, char *buf, size_t size)
{
    const struct hobble_fleet_row *p = &hobble_fleet_table(NULL)[row];
    char value[48];
    const char *unit = strncmp(p->shown, "money", 5) == 0 ? fleet->money : p->shown;
    const char *rest = strncmp(p->shown, "money", 5) == 0 ? p->shown + 5 : "";
    hb_number_print(fleet->number[row].value, 9, value, sizeof value);
    if (p->unit != HOBBLE_UNIT_NONE)
        unit = hobble_unit_symbol(p->unit);
    snprintf(buf, size, "%s%s%s%s", value, *unit ? " " : "", unit, rest);
}

void hb_policy_method(const struct hb_policy_report *r, char *buf, size_t size)
{
    const struct hobble_policy *p = r->policy;
    char way[40];
    hb_quantity_text(p->bin_distance, HOBBLE_UNIT_KILOMETRE, r->us, 2, way, sizeof way);
    snprintf(
        buf, size,
        "%.0f tyres that might be the one on the wheel are drawn for each axle; those whose type "
        "would fail its approval test are left out where the tyre is stated to be young, never run "
        "flat "
        "and never repaired. Each is driven flat from before the warning until it ends, at three "
        "speeds, "
        "for every load and every 1 K of outside air that the year has: %zu distinct conditions, "
        "with those of verification and sensitivity, each solved once. Advice is the distance that "
        "95 of 100 reach in every hour of a season, on "
        "the worse axle, never more than the rule, the maker or the local limit allow; it is "
        "shortened "
        "until the chance of failing before help is within the accepted one. Help lies at a random "
        "distance: %s. Failed: the tyre ends before help and before the allowed distance. "
        "Stranded: "
        "help is not reached on one's own wheels. A tyre that ends within half a kilometre counts "
        "as ended at its beginning. Binning the hours moved an advised distance by at most %s and "
        "the "
        "plain rule's chance of failing by %.2g on the average, %.2g at most, over %d hours that "
        "were solved as they are. Energy ledgers close to %.0e. Costs are means; their bands draw "
        "every "
        "number of the annex that has a spread, all constructions in the same draw.",
        r->fleet->members, p->conditions,
        r->fleet->help.kind == HOBBLE_HELP_EXPONENTIAL ? "an exponential law"
                                                       : "the fleet's own table",
        way, p->bin_chance, p->bin_chance_most, p->exact_hours, p->closure);
}
