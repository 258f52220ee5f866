/* SPDX-License-Identifier: GPL-3.0-or-later */
/* condition_rows.c - what becomes of a tyre, by which rules, and what is still to be found out. */
#include "report/describe/answers.h"
#include "report/describe/condition_words.h"
#include "report/describe/message.h"
#include "report/describe/word_lists.h"
#include "report/describe/words.h"

#include "input/quantity.h"

#include <math.h>
#include <string.h>

typedef struct hobble_condition_answer condition;

#define ANY_MORE   .least = 1, .most = HUGE_VAL
#define NO_LESS    .most = HUGE_VAL
#define ONLY_SAID  .forms = HB_NOT_JSON
#define BOTH_FORMS .forms = HB_ON_FULL | HB_ON_PAPER

static const condition *of(const struct hb_scope *s)
{
    return s->of;
}

static const struct hobble_param *param(const struct hb_scope *s)
{
    return s->of;
}

static int row_of(const struct hb_scope *s)
{
    return (int)(param(s) - hobble_param_table(NULL));
}

static const struct hobble_param *param_at(int row)
{
    return &hobble_param_table(NULL)[row];
}

/* ---- rows of the parameter table: what was stated, what is missing, what was loosened -----------
 */

static void name(const struct hb_scope *s, struct hb_value *v)
{
    hb_words_spaced(param(s)->key, v->room, sizeof v->room);
    hb_value_text(v, v->room);
}

static void option(const struct hb_scope *s, struct hb_value *v)
{
    hb_condition_option(row_of(s), v->room, sizeof v->room);
    hb_value_text(v, v->room);
}

static void said(const struct hb_scope *s, struct hb_value *v)
{
    hb_condition_value(s->c, row_of(s), s->us, v->room, sizeof v->room);
    hb_value_text(v, v->room);
}

/* The table's own value is the strictest. */
static void strictest(const struct hb_scope *s, struct hb_value *v)
{
    const struct hobble_param *p = param(s);
    if (p->kind == HOBBLE_WORD)
        hobble_param_word_at(p, 0, v->room, sizeof v->room);
    else
        hb_quantity_print(p->value, p->unit, s->us, 4, v->room, sizeof v->room);
    hb_value_text(v, v->room);
}

static bool is_fact(const struct hobble_param *p)
{
    return p->group != HOBBLE_STUDY && p->group != HOBBLE_RULES &&
           strcmp(p->key, "job") != 0; /* no fact of the tyre: it stands above them */
}

static const struct hobble_param *fact(size_t place)
{
    size_t rows;
    const struct hobble_param *p = hobble_param_table(&rows);
    for (size_t i = 0; i < rows; i++)
        if (is_fact(&p[i]) && place-- == 0)
            return &p[i];
    return NULL;
}

static const char *fact_key(int place)
{
    const struct hobble_param *p = fact((size_t)place);
    return p ? p->key : NULL;
}

static size_t facts(const struct hb_scope *s)
{
    size_t n = 0;
    (void)s;
    while (fact(n))
        n++;
    return n;
}

HB_ITEM(fact_item, fact(place))
HB_WHEN(is_given, hobble_case_given(s->c, row_of(s)))

static const struct hb_row fact_rows[] = {
    {NULL, HB_ANY, .get = hb_get_param_value, .when = is_given}};

/* On the sheet: facts of the bench, known or not, and of the trip what was given, on which the
 * model's drive rests. */
static const struct hobble_param *stated(const hobble_case *c, size_t place)
{
    const struct hobble_param *p;
    for (size_t i = 0; (p = fact(i)) != NULL; i++) {
        const bool shown =
            p->group == HOBBLE_BENCH || strcmp(p->key, "ran_flat") == 0 ||
            strcmp(p->key, "repaired") == 0 ||
            (p->group == HOBBLE_TRIP && hobble_case_given(c, (int)(p - hobble_param_table(NULL))));
        if (shown && place-- == 0)
            return p;
    }
    return NULL;
}

static size_t stated_count(const struct hb_scope *s)
{
    size_t n = 0;
    while (stated(s->c, n))
        n++;
    return n;
}

HB_ITEM(stated_item, stated(s->c, place))
HB_HOW_MANY(wanted, (size_t)of(s)->find_out_count)
HB_ITEM(wanted_item, param_at(of(s)->find_out[place]))

static const struct hb_row find_out[] = {
    {"key", HB_TEXT, .get = hb_get_param_key, ANY_MORE, .meaning = "as after --set"},
    {"what", HB_TEXT_AT(struct hobble_param, meaning), ANY_MORE, .meaning = "it is"},
    {"name", HB_TEXT, .get = name, ONLY_SAID},
    {"option", HB_TEXT, .get = option, ONLY_SAID},
    {0}};

static const struct hb_row stated_rows[] = {
    {"name", HB_TEXT, .get = name}, {"said", HB_TEXT, .get = said}, {0}};

HB_WHEN(something_matters, of(s)->matters_most >= 0)

static void matters_most(const struct hb_scope *s, struct hb_value *v)
{
    if (something_matters(s))
        hb_value_text(v, param_at(of(s)->matters_most)->key);
}

static void matters_option(const struct hb_scope *s, struct hb_value *v)
{
    hb_condition_option(of(s)->matters_most, v->room, sizeof v->room);
    hb_value_text(v, v->room);
}

/* ---- rules ------------------------------------------------------------------------------------
 */

/* Those of the table, and what stands for those that could not be weighed. */
static const char *rule_id(int place)
{
    const struct hobble_rule_row *r = hobble_condition_rule((size_t)place);
    if (r)
        return r->rule.id;
    return place > 0 && hobble_condition_rule((size_t)place - 1) ? "facts_missing" : NULL;
}

HB_HOW_MANY(rules, (size_t)of(s)->rule_count)
HB_ITEM(rule_item, &of(s)->rule[place])
HB_GET(id, text, ((const struct hobble_fired *)s->of)->id)
HB_GET(reason_said, text, hb_rule_spoken(s->of))

#define FIRED struct hobble_fired
static const struct hb_row rule_rows[] = {
    {"id", HB_WORD, .get = id, .word = rule_id, .meaning = "name of the rule"},
    {"verdict", HB_WORD_AT(FIRED, verdict, hb_condition_word), .meaning = "by this rule"},
    {"reason", HB_TEXT_AT(FIRED, reason), ANY_MORE, .meaning = "one sentence"},
    {"source", HB_TEXT_AT(FIRED, source), ANY_MORE, .meaning = "of the rule"},
    {"provenance", HB_WORD_AT(FIRED, provenance, hb_provenance_word),
     .meaning = "how the rule is known"},
    {"reason_said", HB_TEXT, .get = reason_said, ONLY_SAID},
    {0}};

/* ---- local rules ------------------------------------------------------------------------------
 */

static void rules_name(const struct hb_scope *s, struct hb_value *v)
{
    const char *given = hobble_case_text(s->c, hobble_param_find("rules_name"));
    hobble_fault_text(v->room, *given ? given : hb_message_text(HB_SAY_CONDITION_STRICTEST));
    hb_value_text(v, v->room);
}

HB_HOW_MANY(loosened, (size_t)of(s)->loosened_count)
HB_ITEM(loosened_item, param_at(of(s)->loosened[place]))

static const struct hb_row loosened_key[] = {{NULL, HB_TEXT, .get = hb_get_param_key, ANY_MORE}};
static const struct hb_row loosened_said[] = {{"key", HB_TEXT, .get = hb_get_param_key},
                                              {"said", HB_TEXT, .get = said},
                                              {"strictest", HB_TEXT, .get = strictest},
                                              {0}};
static const struct hb_row local_rules[] = {
    {"name", HB_TEXT, .get = rules_name, ANY_MORE, .meaning = "whose limits"},
    {"loosened", HB_LIST, .count = loosened, .item = loosened_item, .of = loosened_key,
     .meaning = "keys of limits that are looser than the strictest ones"},
    {0}};

/* ---- the drive in the model -------------------------------------------------------------------
 */

HB_WHEN(was_run, of(s)->drive.run)
HB_WHEN(was_not_run, !was_run(s))

/* The pressure that was stated is shown near; what was driven, carried, reached or used up, up. */
#define D(field, unit) HB_REAL_AT(condition, drive.field, unit)
static const struct hb_row model_run[] = {
    {"run", HB_TRUTH_AT(condition, drive.run), .least = 1, .forms = HB_ALWAYS, .meaning = "true"},
    {"pressure_kpa", D(pressure, KILOPASCAL), NO_LESS, .shown = HB_WHOLE_NEAR, BOTH_FORMS,
     .meaning = "above the air's, all the way"},
    {"distance_km", D(distance, KILOMETRE), NO_LESS, .shown = HB_TENTH_UP, BOTH_FORMS,
     .meaning = "that was driven with too little air"},
    {"speed_kmh", D(speed, KM_PER_HOUR), NO_LESS, .shown = HB_WHOLE_UP, BOTH_FORMS,
     .meaning = "all the way"},
    {"load_n", D(load, NEWTON), NO_LESS, .shown = HB_WHOLE_UP, .forms = HB_ON_FULL,
     .meaning = "on the wheel"},
    {"ambient_c", D(ambient, CELSIUS), .meaning = "outside air"},
    {"peak_c_p50", D(peak_p50, CELSIUS), .shown = HB_WHOLE_UP, .forms = HB_ON_FULL,
     .meaning = "hottest place of the wall, at its hottest, in half of the tyres at most"},
    {"peak_c_p95", D(peak_p95, CELSIUS), .shown = HB_WHOLE_UP, BOTH_FORMS,
     .meaning = "the same in 95 of 100 at most"},
    {"above_80_c_min_p95", D(above_80, MINUTE), NO_LESS, .shown = HB_TENTH_UP, BOTH_FORMS,
     .meaning = "time above 80 degC in 95 of 100 tyres at most"},
    {"above_100_c_min_p95", D(above_100, MINUTE), NO_LESS, .shown = HB_TENTH_UP, BOTH_FORMS,
     .meaning = "the same above 100 degC"},
    {"above_120_c_min_p95", D(above_120, MINUTE), NO_LESS, .shown = HB_TENTH_UP, BOTH_FORMS,
     .meaning = "the same above 120 degC"},
    {"life_used_p50", D(life_p50, NONE), .most = 1, .shown = HB_SHARE_HUNDREDTH_UP,
     .forms = HB_ON_FULL, .meaning = "share of life in half of the tyres at most"},
    {"life_used_p95", D(life_p95, NONE), .most = 1, .shown = HB_SHARE_HUNDREDTH_UP, BOTH_FORMS,
     .meaning = "the same in 95 of 100 at most"},
    {"deflection_of_rim_contact_p95", D(deflection_p95, NONE), NO_LESS, .shown = HB_SHARE_WHOLE_UP,
     .forms = HB_ON_FULL,
     .meaning = "deepest deflection over that at which the rim carries, in 95 of 100 at most"},
    {"rim_share_of_tyres", D(rim_share, NONE), .most = 1, .shown = HB_SHARE_UP, BOTH_FORMS,
     .meaning = "on which the rim carried load"},
    {0}};
static const struct hb_row model_not_run[] = {
    {"run", HB_TRUTH_AT(condition, drive.run), .forms = HB_ALWAYS, .meaning = "false"},
    {"why_not", HB_TEXT_AT(condition, drive.why_not), ANY_MORE, .meaning = "why it was not"},
    {0}};

/* ---- the answer -------------------------------------------------------------------------------
 */

HB_GET(job, text, hobble_case_text(s->c, hobble_param_find("job")))

/* Cut to fit, and without control characters. */
static void job_said(const struct hb_scope *s, struct hb_value *v)
{
    hobble_fault_text(v->room, hobble_case_text(s->c, hobble_param_find("job")));
    hb_value_text(v, v->room);
}

HB_GET(headline, say,
       of(s)->verdict == HOBBLE_DISMOUNT_AND_INSPECT ? HB_SAY_CONDITION_INSPECT
       : of(s)->basis == HOBBLE_BY_RULE              ? HB_SAY_CONDITION_SCRAP
                                                     : HB_SAY_CONDITION_UNKNOWN,
       s)
HB_GET(meaning, say,
       of(s)->verdict == HOBBLE_DISMOUNT_AND_INSPECT ? HB_SAY_CONDITION_INSPECT_MEANS
       : of(s)->basis == HOBBLE_BY_RULE              ? HB_SAY_CONDITION_SCRAP_MEANS
                                                     : HB_SAY_CONDITION_UNKNOWN_MEANS,
       s)
HB_HOW_MANY(checks, (size_t)of(s)->check_count)
HB_GET(check, text, of(s)->check[s->place])

static size_t cautions(const struct hb_scope *s)
{
    size_t n = 0;
    (void)s;
    while (hobble_condition_cautions()[n])
        n++;
    return n;
}

HB_GET(caution, text, hobble_condition_cautions()[s->place])

static const struct hb_row check_text[] = {{NULL, HB_TEXT, .get = check, ANY_MORE}};
static const struct hb_row caution_text[] = {{NULL, HB_TEXT, .get = caution, ANY_MORE}};

/* The head of the sheet. */
static void row_said(const struct hb_scope *s, const char *key, struct hb_value *v)
{
    hb_condition_value(s->c, hobble_param_find(key), s->us, v->room, sizeof v->room);
    hb_value_text(v, v->room);
}

static void marking(const struct hb_scope *s, struct hb_value *v)
{
    row_said(s, "marking", v);
}

static void construction(const struct hb_scope *s, struct hb_value *v)
{
    row_said(s, "construction", v);
}

static void date_code(const struct hb_scope *s, struct hb_value *v)
{
    row_said(s, "date_code", v);
}

static void inspection_date(const struct hb_scope *s, struct hb_value *v)
{
    row_said(s, "inspection_date", v);
}

HB_GET(made_by, text, hobble_version())

static const struct hb_row rows[] = {
    {"job", HB_TEXT, .get = job, .meaning = "job number or plate, as given; empty where none was"},
    {"verdict", HB_WORD_AT(condition, verdict, hb_condition_word),
     .meaning = "that of the worst rule"},
    {"basis", HB_WORD_AT(condition, basis, hb_basis_word),
     .meaning = "unknown: no rule fired on what is known, but facts that count at their worst are "
                "missing"},
    {"rules", HB_LIST, .count = rules, .item = rule_item, .of = rule_rows, ANY_MORE,
     .meaning = "those that fired, worst first"},
    {"decided", HB_TRUTH_AT(condition, decided),
     .meaning = "scrap by a rule, and nothing stated beside it can change that"},
    {"find_out", HB_LIST, .count = wanted, .item = wanted_item, .of = find_out,
     .meaning = "facts whose values would tell"},
    {"matters_most", HB_TEXT, .get = matters_most, .forms = HB_NULLABLE,
     .meaning = "with basis unknown: the key on which the worst rule that is still open hangs"},
    {"still_to_check", HB_LIST, .count = checks, .of = check_text, ANY_MORE,
     .meaning = "by a qualified person"},
    {"facts", HB_NAMED, .word = fact_key, .count = facts, .item = fact_item, .of = fact_rows,
     .meaning = "what was stated, in the units of the keys (hobble-keys)"},
    {"age_years", HB_REAL_AT(condition, age, YEAR), .forms = HB_NULLABLE,
     .meaning = "at the inspection, at its most"},
    {"local_rules", HB_OBJECT, .of = local_rules, .meaning = "limits that were used"},
    {"model", HB_OBJECT, .of = model_run, .when = was_run,
     .meaning =
         "the drive with too little air, where it was run; it can make the verdict worse and "
         "never better"},
    {"model", HB_OBJECT, .of = model_not_run, .when = was_not_run,
     .meaning = "where it was not run"},
    {"cautions", HB_LIST, .count = cautions, .of = caution_text, ANY_MORE,
     .meaning = "that stand under every verdict"},
    /* only said */
    {"headline", HB_TEXT, .get = headline, ONLY_SAID},
    {"meaning", HB_TEXT, .get = meaning, ONLY_SAID},
    {"job_said", HB_TEXT, .get = job_said, ONLY_SAID},
    {"matters_option", HB_TEXT, .get = matters_option, .when = something_matters, ONLY_SAID},
    {"looser", HB_LIST, .count = loosened, .item = loosened_item, .of = loosened_said, ONLY_SAID},
    {"stated", HB_LIST, .count = stated_count, .item = stated_item, .of = stated_rows, ONLY_SAID},
    {"marking", HB_TEXT, .get = marking, ONLY_SAID},
    {"construction", HB_TEXT, .get = construction, ONLY_SAID},
    {"date_code", HB_TEXT, .get = date_code, ONLY_SAID},
    {"inspection_date", HB_TEXT, .get = inspection_date, ONLY_SAID},
    {"made_by", HB_TEXT, .get = made_by, ONLY_SAID},
    {0}};

const struct hb_answer hb_condition_answer = {
    .command = "condition",
    .about = "Units are in the key names; p95: in 95 of 100 sampled tyres at most. Numbers that do "
             "not exist are null.",
    .of_case = true,
    .unexplained = true,
    .row = rows};
