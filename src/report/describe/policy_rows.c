/* SPDX-License-Identifier: GPL-3.0-or-later */
/* policy_rows.c - the roadside policy of a fleet. */
#include "report/describe/policy_rows.h"
#include "report/describe/answers.h"
#include "report/describe/few.h"
#include "report/describe/policy.h"
#include "report/describe/word_lists.h"

#include <math.h>
#include <stdio.h>

#define TOLD (HB_ON_FULL | HB_ON_PAPER)
#define SAID (HB_NOT_JSON | TOLD)

typedef struct hb_policy_report report;

static const report *of(const struct hb_scope *s)
{
    return s->whole;
}

/* ---- the fleet ------------------------------------------------------------------------------- */

HB_GET(fleet_name, text, of(s)->fleet->name)
HB_GET(money, text, of(s)->fleet->money)
HB_GET(fleet_km, number, hobble_unit_to_si(HOBBLE_UNIT_KILOMETRE, of(s)->policy->fleet_km))
HB_GET(hours, number, (double)of(s)->fleet->hours)

static void vehicle_count(const struct hb_scope *s, struct hb_value *v)
{
    int n = 0;
    for (int i = 0; i < of(s)->fleet->vehicles; i++)
        n += of(s)->fleet->vehicle[i].count;
    hb_value_count(v, n);
}

HB_GET(drawn, number, of(s)->fleet->members)
HB_GET(fleet_seed, number, of(s)->fleet->seed)
HB_GET(accepted, number, of(s)->fleet->number[hobble_fleet_find("accepted_chance")].value)
HB_GET(solved_law, say,
       of(s)->fleet->help.kind == HOBBLE_HELP_EXPONENTIAL ? HB_SAY_POLICY_HELP_LAW
                                                          : HB_SAY_POLICY_OWN_TABLE,
       s)
HB_ITEM(help, &of(s)->fleet->help)

static size_t numbers(const struct hb_scope *s)
{
    size_t count;
    (void)s;
    hobble_fleet_table(&count);
    return count;
}

HB_ITEM(number, &of(s)->fleet->number[place])
HB_HOW_MANY(loads, (size_t)of(s)->fleet->loads)
HB_ITEM(load, &of(s)->fleet->load[place])
HB_HOW_MANY(vehicles, (size_t)of(s)->fleet->vehicles)
HB_ITEM(vehicle, &of(s)->fleet->vehicle[place])
HB_HOW_MANY(sites, (size_t)of(s)->fleet->sites)

/* ---- the policy ------------------------------------------------------------------------------ */

HB_ITEM(policy, of(s)->policy)
HB_GET(counted, count, of(s)->policy->counted)
HB_GET(too_few, truth, hobble_too_few(of(s)->policy->counted))
HB_GET(enough, count, HOBBLE_TYRES_ENOUGH)
HB_GET(enough_members, count, hb_few_members((int)of(s)->fleet->members, of(s)->policy->counted))
HB_ITEM(simple, &of(s)->policy->simple)
HB_HOW_MANY(row_count, (size_t)of(s)->policy->rows)
HB_ITEM(row, &of(s)->policy->row[place])
HB_ITEM(all, &of(s)->policy->all)
HB_ITEM(all_rule, &of(s)->policy->all_rule)
HB_HOW_MANY(builds, HOBBLE_BUILDS)
HB_ITEM(cost, &of(s)->policy->cost[place])

/* ---- what would change it -------------------------------------------------------------------- */

typedef struct hobble_shift shift;

static const shift *moved(const struct hb_scope *s)
{
    return s->of;
}

static const char *shift_word(int place)
{
    return place < HOBBLE_SHIFTS ? hobble_shift_word((enum hobble_shift_code)place) : NULL;
}

HB_GET(shift_what, text, hobble_shift_what(moved(s)->code))
HB_GET(shift_how, text, hobble_shift_how(moved(s)->code))
HB_HOW_MANY(shifts, HOBBLE_SHIFTS)
HB_ITEM(one_shift, &of(s)->policy->shift[place])
HB_ITEM(first_shift, one_shift(s, 0))
HB_ITEM(second_shift, one_shift(s, 1))

static void told_first(const struct hb_scope *s, struct hb_value *v)
{
    const bool none = of(s)->policy->shift[0].change < 100.0; /* m: not a tenth of a kilometre */
    hb_value_say(v, none ? HB_SAY_POLICY_NOTHING_CHANGES : HB_SAY_POLICY_TWO_CHANGE, s);
}

static const struct hb_row shift_rows[] = {
    {"input", HB_WORD_AT(shift, code, shift_word), .meaning = "that was moved"},
    {"moved", HB_TEXT, .get = shift_what, .forms = TOLD, .meaning = "by how much, in words"},
    {"mean_change_km", HB_REAL_AT(shift, change, KILOMETRE), HB_POLICY_FROM_0,
     .shown = HB_TENTH_NEAR, .forms = TOLD,
     .meaning = "of the advised distance, by kilometres, either way"},
    {"share_of_km_that_turns", HB_REAL_AT(shift, flipped, NONE), HB_POLICY_SHARE,
     .shown = HB_CHANCE_UP, .forms = TOLD, .meaning = "from go to stop or back"},
    {"measure", HB_TEXT, .get = shift_how, .forms = TOLD, .meaning = "what would tell more"},
    {0}};

/* ---- where the plain rule is unsafe, and where it wastes mobility ---------------------------- */

static const bool unsafe_or_wasteful[] = {false, true};

HB_ITEM(unsafe, &unsafe_or_wasteful[0])
HB_ITEM(wasteful, &unsafe_or_wasteful[1])

static bool is_listed(const struct hb_scope *s, int i)
{
    const struct hobble_policy_row *at = &of(s)->policy->row[i];
    return *(const bool *)s->of ? at->rule_wasteful : at->rule_unsafe;
}

static int listed(const struct hb_scope *s)
{
    int n = 0;
    for (int i = 0; i < of(s)->policy->rows; i++)
        n += is_listed(s, i);
    return n;
}

HB_GET(listed_count, count, listed(s))
HB_GET(listed_of, count, of(s)->policy->rows)

static void listed_share(const struct hb_scope *s, struct hb_value *v)
{
    double weight = 0.0;
    for (int i = 0; i < of(s)->policy->rows; i++)
        weight += is_listed(s, i) ? of(s)->policy->row[i].weight : 0.0;
    hb_value_number(v, weight);
}

/* Names of the first few. */
static void listed_names(const struct hb_scope *s, struct hb_value *v)
{
    enum { SHOWN = 4 };
    const struct hobble_fleet *f = of(s)->fleet;
    size_t used = 0;
    for (int i = 0, n = 0; i < of(s)->policy->rows && n < SHOWN && used < sizeof v->room; i++) {
        const struct hobble_policy_row *at = &of(s)->policy->row[i];
        if (is_listed(s, i))
            used += (size_t)snprintf(v->room + used, sizeof v->room - used, "%s%s, %s, %s",
                                     n++ > 0 ? "; " : "", f->vehicle[at->vehicle].name,
                                     f->load[at->load].name, f->season[at->season].name);
    }
    if (listed(s) > SHOWN && used < sizeof v->room)
        snprintf(v->room + used, sizeof v->room - used, "%s",
                 hb_message_text(HB_SAY_POLICY_AND_MORE));
    hb_value_text(v, v->room);
}

HB_GET(listed_told, say,
       listed(s) == 0         ? HB_SAY_POLICY_NOWHERE
       : *(const bool *)s->of ? HB_SAY_POLICY_WASTEFUL_ROWS
                              : HB_SAY_POLICY_UNSAFE_ROWS,
       s)

static const struct hb_row listed_rows[] = {
    {"names", HB_TEXT, .get = listed_names, .forms = SAID},
    {"count", HB_COUNT, .get = listed_count, .forms = SAID},
    {"of", HB_COUNT, .get = listed_of, .forms = SAID},
    {"share_of_km", HB_REAL, .get = listed_share, .shown = HB_SHARE_UP, .forms = SAID},
    {"told", HB_TEXT, .get = listed_told, .forms = SAID},
    {0}};

/* ---- how good it is -------------------------------------------------------------------------- */

HB_GET(conditions, count, (int)of(s)->policy->conditions)

static const struct hb_row quality[] = {
    {"conditions", HB_COUNT, .get = conditions, .least = 1.0, .most = HUGE_VAL, .forms = TOLD,
     .meaning = "distinct ones that were solved"},
    {"evidence_items", HB_COUNT_AT(struct hobble_policy, evidence_items), HB_POLICY_FROM_0,
     .meaning = "of the tyres of both axles of all vehicles, taken in"},
    {"energy_closure", HB_REAL_AT(struct hobble_policy, closure, NONE), HB_POLICY_FROM_0,
     .shown = HB_ONE_DIGIT, .forms = TOLD,
     .meaning = "largest miss of an energy ledger over the heat made"},
    {"hours_solved_as_they_are", HB_COUNT_AT(struct hobble_policy, exact_hours), HB_POLICY_FROM_0,
     .forms = TOLD, .meaning = "for the error of binning"},
    {"binning_distance_km", HB_REAL_AT(struct hobble_policy, bin_distance, KILOMETRE),
     HB_POLICY_FROM_0, .shown = HB_HUNDREDTH_UP, .forms = TOLD,
     .meaning = "largest difference of an advised distance over those hours"},
    {"binning_chance_mean", HB_REAL_AT(struct hobble_policy, bin_chance, NONE),
     .shown = HB_TWO_DIGITS, .forms = TOLD,
     .meaning = "mean difference of the plain rule's chance of failing"},
    {"binning_chance_most", HB_REAL_AT(struct hobble_policy, bin_chance_most, NONE),
     HB_POLICY_FROM_0, .shown = HB_TWO_DIGITS, .forms = TOLD,
     .meaning = "largest difference of that chance"},
    {0}};

/* ---- cautions, and what was checked ---------------------------------------------------------- */

const enum hb_message hb_policy_cautions[HB_POLICY_CAUTIONS] = {
    HB_SAY_POLICY_NO_PERMISSION, HB_SAY_POLICY_WALL_CARRIES, HB_SAY_POLICY_NOT_FITTED,
    HB_SAY_POLICY_SCRAP};

HB_HOW_MANY(cautions, HB_POLICY_CAUTIONS)
HB_GET(caution, say, hb_policy_cautions[s->place], s)

static const struct hb_row caution_row[] = {{NULL, HB_TEXT, .get = caution}};

static const struct hb_row kit[] = {
    {"checked", HB_COUNT_AT(report, checked), .least = 1.0, .most = HUGE_VAL,
     .meaning = "numbers that were compared with the rows"},
    {"contradictions", HB_COUNT_AT(report, contradictions), .least = 0.0, .most = 0.5,
     .meaning = "always 0: where two numbers contradict each other nothing is written"},
    {0}};

/* The command line adds these where they hold. */
static const struct hb_row inherited_key[] = {{NULL, HB_TEXT, .at = 0}};
static const struct hb_row inherited[] = {{"vehicle", HB_TEXT, .meaning = "as the fleet names it"},
                                          {"keys", HB_LIST, .of = inherited_key, .least = 1,
                                           .most = HUGE_VAL,
                                           .meaning = "that its profile does not state"},
                                          {0}};
static const struct hb_row end_rows[] = {
    {"inherited", HB_LIST, .of = inherited, .least = 1, .most = HUGE_VAL,
     .meaning = "vehicles whose profile leaves some keys to the built-in, invented vehicle"},
    {0}};

/* ---- all of it ------------------------------------------------------------------------------- */

static const struct hb_row rows[] = {
    {"fleet", HB_TEXT, .get = fleet_name, .forms = TOLD, .meaning = "its name"},
    {"money", HB_TEXT, .get = money, .forms = TOLD, .meaning = "unit of all costs"},
    {"counted", HB_COUNT, .get = counted, HB_POLICY_FROM_0, .forms = HB_ON_FULL,
     .meaning = "tyres that the row with the fewest rests on"},
    {"too_few", HB_TRUTH, .get = too_few,
     .meaning = "counted is too few: no sheet, card or page is made"},
    {"fleet_km_a_year", HB_REAL, .unit = HOBBLE_UNIT_KILOMETRE, .get = fleet_km, HB_POLICY_FROM_0,
     .shown = HB_WHOLE_NEAR, .forms = HB_ON_FULL, .meaning = "of all its vehicles"},
    {"hours_of_weather", HB_REAL, .get = hours, HB_POLICY_FROM_0,
     .meaning = "that were read from files; 0: the seasons give temperatures"},
    {"help", HB_OBJECT, .item = help, .of = hb_policy_help_rows,
     .meaning = "how far away the nearest is"},
    {"rule", HB_OBJECT, .item = simple, .of = hb_policy_rule_rows,
     .meaning = "of at most three lines, and how it was verified on fresh samples"},
    {"rows", HB_LIST, .count = row_count, .item = row, .of = hb_policy_table_rows, .least = 1,
     .most = HUGE_VAL, .meaning = "one a vehicle, load and season"},
    {"fleet_under_policy", HB_OBJECT, .item = all, .of = hb_policy_chance_rows,
     .meaning = "chances over the fleet's kilometres, with the rows' own distances"},
    {"fleet_under_rule", HB_OBJECT, .item = all_rule, .of = hb_policy_chance_rows,
     .meaning = "the same with the plain rule of 80 km at 80 km/h"},
    {"constructions", HB_LIST, .count = builds, .item = cost, .of = hb_policy_cost_rows,
     .least = HOBBLE_BUILDS, .most = HOBBLE_BUILDS,
     .meaning = "what each costs and how it strands"},
    {"sensitivity", HB_LIST, .count = shifts, .item = one_shift, .of = shift_rows,
     .least = HOBBLE_SHIFTS, .most = HOBBLE_SHIFTS,
     .meaning = "what would change the policy, the most first"},
    {"inputs", HB_LIST, .count = numbers, .item = number, .of = hb_policy_number_rows, .least = 1,
     .most = HUGE_VAL, .meaning = "every number of the fleet"},
    {"quality", HB_OBJECT, .item = policy, .of = quality, .meaning = "of the numbers"},
    {"cautions", HB_LIST, .count = cautions, .of = caution_row, .least = 1, .most = HUGE_VAL,
     .meaning = "sentences that belong to it"},
    {"kit", HB_OBJECT, .of = kit, .meaning = "rule, table, cards and page, compared with the rows"},
    /* said in sentences and tables */
    {"vehicle_count", HB_COUNT, .get = vehicle_count, .forms = SAID},
    {"drawn", HB_REAL, .get = drawn, .shown = HB_WHOLE_NEAR, .forms = SAID},
    {"fleet_seed", HB_REAL, .get = fleet_seed, .shown = HB_WHOLE_NEAR, .forms = SAID},
    {"accepted", HB_REAL, .get = accepted, .shown = HB_CHANCE_NEAR, .forms = SAID},
    {"enough", HB_COUNT, .get = enough, .forms = SAID},
    {"enough_members", HB_COUNT, .get = enough_members, .forms = SAID},
    {"solved_law", HB_TEXT, .get = solved_law, .forms = SAID},
    {"unsafe", HB_OBJECT, .item = unsafe, .of = listed_rows, .forms = SAID},
    {"wasteful", HB_OBJECT, .item = wasteful, .of = listed_rows, .forms = SAID},
    {"first", HB_OBJECT, .item = first_shift, .of = shift_rows, .forms = SAID},
    {"second", HB_OBJECT, .item = second_shift, .of = shift_rows, .forms = SAID},
    {"told_first", HB_TEXT, .get = told_first, .forms = SAID},
    {"loads", HB_LIST, .count = loads, .item = load, .of = hb_policy_load_rows, .forms = SAID},
    {"vehicles", HB_LIST, .count = vehicles, .item = vehicle, .of = hb_policy_vehicle_rows,
     .forms = SAID},
    {"sites", HB_LIST, .count = sites, .of = hb_policy_site_rows, .forms = SAID},
    {0}};

const struct hb_answer hb_policy_answer = {
    .command = "policy",
    .about = "The roadside policy of a fleet: one row a vehicle, load and season. Chances are for "
             "one warning on a tyre whose wall still carries.",
    .of_case = true,
    .unexplained = true,
    .row = rows,
    .end = end_rows};

struct hb_scope hb_policy_scope(const struct hb_policy_report *r)
{
    return hb_answer_scope(&hb_policy_answer, r->c, r, r->us);
}
