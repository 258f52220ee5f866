/* SPDX-License-Identifier: GPL-3.0-or-later */
/* policy_fleet_rows.c - what the fleet's file gives, as a policy repeats it. */
#include "report/describe/policy.h"
#include "report/describe/policy_rows.h"
#include "report/describe/word_lists.h"

#include "input/quantity.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define SAID (HB_NOT_JSON | HB_ON_FULL | HB_ON_PAPER)

static const struct hobble_fleet *fleet(const struct hb_scope *s)
{
    return ((const struct hb_policy_report *)s->whole)->fleet;
}

/* ---- numbers --------------------------------------------------------------------------------- */

typedef struct hobble_fleet_number number;

static const number *of(const struct hb_scope *s)
{
    return s->of;
}

static const struct hobble_fleet_row *row(const struct hb_scope *s)
{
    return &hobble_fleet_table(NULL)[s->place];
}

HB_GET(key, text, row(s)->key)
HB_GET(meaning, text, row(s)->meaning)

static const char *unit_of(const struct hobble_fleet_row *r)
{
    return r->unit != HOBBLE_UNIT_NONE ? hobble_unit_symbol(r->unit) : r->shown;
}

HB_GET(unit, text, unit_of(row(s)))
HB_GET(source, text, of(s)->source)
HB_GET(set_by, text, of(s)->origin)

/* With its unit; money is the fleet's. */
static void told_value(const struct hb_scope *s, struct hb_value *v)
{
    static const char money[] = "money";
    const bool costs = strncmp(row(s)->shown, money, strlen(money)) == 0;
    const char *first = costs ? fleet(s)->money : unit_of(row(s));
    const char *rest = costs ? row(s)->shown + strlen(money) : "";
    char figure[48];
    hb_number_print(of(s)->value, 9, figure, sizeof figure);
    snprintf(v->room, sizeof v->room, "%s%s%s%s", figure, *first ? " " : "", first, rest);
    hb_value_text(v, v->room);
}

HB_GET(factor, number, exp(of(s)->spread))
HB_GET(told_spread, say, of(s)->spread > 0.0 ? HB_SAY_POLICY_FACTOR : HB_SAY_NOTHING, s)

const struct hb_row hb_policy_number_rows[] = {
    {"key", HB_TEXT, .get = key, .forms = HB_ON_FULL, .meaning = "as in the fleet's file"},
    {"value", HB_REAL_AT(number, value, NONE), .meaning = "in its unit"},
    {"unit", HB_TEXT, .get = unit, .meaning = "empty for a pure number"},
    {"spread", HB_REAL_AT(number, spread, NONE), HB_POLICY_FROM_0,
     .meaning = "standard deviation of the natural logarithm; 0: taken as known"},
    {"provenance", HB_WORD_AT(number, provenance, hb_provenance_word),
     .forms = HB_ON_FULL | HB_ON_PAPER, .meaning = "how the value is known"},
    {"source", HB_TEXT, .get = source, .forms = HB_ON_FULL | HB_ON_PAPER,
     .meaning = "of the value"},
    {"set_by", HB_TEXT, .get = set_by, .forms = HB_ON_FULL | HB_ON_PAPER,
     .meaning = "file and line, or built in"},
    {"number_meaning", HB_TEXT, .get = meaning, .forms = HB_NOT_JSON | HB_ON_PAPER},
    {"told_value", HB_TEXT, .get = told_value, .forms = SAID},
    {"factor", HB_REAL, .get = factor, .shown = HB_THREE_DIGITS, .forms = SAID},
    {"told_spread", HB_TEXT, .get = told_spread, .forms = SAID},
    {0}};

/* ---- help ------------------------------------------------------------------------------------ */

typedef struct hobble_help help;

static void law(const struct hb_scope *s, struct hb_value *v)
{
    static const enum hb_message kind[] = {[HOBBLE_HELP_EXPONENTIAL] = HB_SAY_POLICY_HELP_LAW,
                                           [HOBBLE_HELP_TABLE] = HB_SAY_POLICY_HELP_TABLE,
                                           [HOBBLE_HELP_INCIDENTS] = HB_SAY_POLICY_HELP_INCIDENTS};
    hb_value_say(v, kind[((const help *)s->of)->kind], s);
}

HB_GET(beyond, number, hobble_help_beyond(s->of, 80e3))
HB_GET(told_help, say,
       ((const help *)s->of)->kind == HOBBLE_HELP_EXPONENTIAL ? HB_SAY_POLICY_HELP_IS
                                                              : HB_SAY_POLICY_HELP_IS_LISTED,
       s)

const struct hb_row hb_policy_help_rows[] = {
    {"mean_km", HB_REAL_AT(help, mean, KILOMETRE), HB_POLICY_FROM_0, .shown = HB_TENTH_NEAR,
     .forms = HB_ON_FULL | HB_ON_PAPER, .meaning = "from the place of the warning"},
    {"distances", HB_COUNT_AT(help, count), HB_POLICY_FROM_0, .forms = HB_ON_FULL | HB_ON_PAPER,
     .meaning = "of a table or of incidents"},
    {"law", HB_TEXT, .get = law, .forms = SAID},
    {"beyond_80_km", HB_REAL, .get = beyond, .shown = HB_CHANCE_UP, .forms = SAID},
    {"told", HB_TEXT, .get = told_help, .forms = SAID},
    {0}};

/* ---- loads, vehicles, sites ------------------------------------------------------------------ */

HB_GET(load_name, text, fleet(s)->load[s->place].name)

static void who(const struct hb_scope *s, struct hb_value *v)
{
    const bool by_seats = isnan(fleet(s)->load[s->place].people);
    hb_value_say(v, by_seats ? HB_SAY_POLICY_BY_SEATS : HB_SAY_POLICY_BY_PEOPLE, s);
}

const struct hb_row hb_policy_load_rows[] = {
    {"name", HB_TEXT, .get = load_name, .forms = SAID},
    {"who", HB_TEXT, .get = who, .forms = SAID},
    {"people", HB_REAL_AT(struct hobble_fleet_load, people, NONE), .shown = HB_WHOLE_NEAR,
     .forms = SAID},
    {"seats", HB_REAL_AT(struct hobble_fleet_load, seats, NONE), .shown = HB_THREE_DIGITS,
     .forms = SAID},
    {"luggage", HB_REAL_AT(struct hobble_fleet_load, luggage, NONE), .shown = HB_HUNDREDTH_NEAR,
     .forms = SAID},
    {"share", HB_REAL_AT(struct hobble_fleet_load, share, NONE), .shown = HB_THREE_DIGITS,
     .forms = SAID},
    {0}};

HB_GET(vehicle_name, text, fleet(s)->vehicle[s->place].name)

const struct hb_row hb_policy_vehicle_rows[] = {
    {"name", HB_TEXT, .get = vehicle_name, .forms = SAID},
    {"count", HB_COUNT_AT(struct hobble_fleet_vehicle, count), .forms = SAID},
    {"year_km", HB_REAL_AT(struct hobble_fleet_vehicle, year_km, NONE), .shown = HB_WHOLE_NEAR,
     .forms = SAID},
    {0}};

HB_GET(site, text, fleet(s)->site[s->place])

const struct hb_row hb_policy_site_rows[] = {{"site", HB_TEXT, .get = site, .forms = SAID}, {0}};
