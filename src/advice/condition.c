/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/condition.h"

#include "core/const.h"

#include <math.h>
#include <string.h>

#define SELF     (1 << HB_SELF_SUPPORTING)
#define EXTENDED (1 << HB_EXTENDED_MOBILITY)
#define LINED    (1 << HB_SEALANT_LINED)
#define PLAIN    (1 << HB_CONVENTIONAL)
#define ALL      (SELF | EXTENDED | LINED | PLAIN)

enum op { ANY, IS, OVER, FROM, UNDER };
enum { TESTS = 3, NUMBER_ONLY = -1 };

/* One comparison of a fact with a number or with another fact. */
struct test {
    enum op op;
    enum hb_fact fact;
    double number;
    int limit; /* a fact, or NUMBER_ONLY */
};

/* What a rule is about. */
enum moment { TYRE, DRIVE };

struct rule {
    struct hobble_rule_row row;
    enum moment moment;
    int built;
    struct test test[TESTS];
};

#define IS(f, n)                                                                                   \
    {                                                                                              \
        IS, HB_F_##f, n, NUMBER_ONLY                                                               \
    }
#define OVER(f, n)                                                                                 \
    {                                                                                              \
        OVER, HB_F_##f, n, NUMBER_ONLY                                                             \
    }
#define FROM(f, n)                                                                                 \
    {                                                                                              \
        FROM, HB_F_##f, n, NUMBER_ONLY                                                             \
    }
#define UNDER(f, n)                                                                                \
    {                                                                                              \
        UNDER, HB_F_##f, n, NUMBER_ONLY                                                            \
    }
#define OVER_LIMIT(f, l)                                                                           \
    {                                                                                              \
        OVER, HB_F_##f, 0, HB_F_##l                                                                \
    }
#define FROM_LIMIT(f, l)                                                                           \
    {                                                                                              \
        FROM, HB_F_##f, 0, HB_F_##l                                                                \
    }
#define UNDER_LIMIT(f, l)                                                                          \
    {                                                                                              \
        UNDER, HB_F_##f, 0, HB_F_##l                                                               \
    }
#define RULE(id, moment, built, verdict, provenance, reason, source, ...)                          \
    {{{id, reason, source, HOBBLE_##verdict, HOBBLE_##provenance}, #built},                        \
     moment,                                                                                       \
     built,                                                                                        \
     {__VA_ARGS__}},

static const struct rule rules[] = {
#include "advice/condition_rules.inc"
};
enum { RULES = sizeof rules / sizeof *rules };
_Static_assert(RULES + 1 <= HOBBLE_RULES_MAX, "room for every rule and for what is unknown");

#undef IS
#undef OVER
#undef FROM
#undef UNDER

static const struct hobble_fired facts_missing = {
    "facts_missing",
    "Not enough is known: what is unknown counts at its worst.",
    "common practice, no source",
    HOBBLE_SCRAP,
    HOBBLE_PRACTICE,
};

/* Ordered: what all of several say is the least of them. */
enum truth { NO, UNKNOWN, YES };

/* Decimal figures such as 0.1 * 225 are not exact in binary: differences this small are none. */
#define SLACK 1e-9

static enum truth holds(const struct test *t, const struct hb_facts *facts)
{
    const double value = facts->value[t->fact];
    const double against = t->limit == NUMBER_ONLY ? t->number : facts->value[t->limit];
    const double slack = SLACK * (1.0 + fabs(against));
    if (t->op == ANY)
        return YES;
    if (isnan(value) || isnan(against))
        return UNKNOWN;
    const bool held[] = {
        [IS] = fabs(value - against) < slack,
        [OVER] = value > against + slack,
        [FROM] = value >= against - slack,
        [UNDER] = value < against - slack,
    };
    return held[t->op] ? YES : NO;
}

static enum truth built_so(const struct rule *rule, const struct hb_facts *facts)
{
    const double built = facts->value[HB_F_BUILT];
    if (rule->built == ALL)
        return YES;
    if (isnan(built))
        return UNKNOWN;
    return rule->built >> (int)built & 1 ? YES : NO;
}

static enum truth fires(const struct rule *rule, const struct hb_facts *facts)
{
    enum truth least = built_so(rule, facts);
    for (int i = 0; i < TESTS && least > NO; i++) {
        const enum truth one = holds(&rule->test[i], facts);
        least = one < least ? one : least;
    }
    return least;
}

/* What to find out, each row once, in the order of the parameter table. */
struct wanted {
    bool row[HB_PARAM_COUNT];
};

static void want(void *into, enum hb_param_id row)
{
    ((struct wanted *)into)->row[row] = true;
}

typedef void note(void *into, enum hb_param_id row);

/* The first row that is noted, and no other. */
static void want_first(void *into, enum hb_param_id row)
{
    int *first = into;
    *first = *first < 0 ? (int)row : *first;
}

static void want_of(const struct rule *rule, const struct hb_facts *facts, note *note_row, void *w)
{
    if (built_so(rule, facts) == UNKNOWN)
        hb_facts_missing(facts, HB_F_BUILT, note_row, w);
    for (int i = 0; i < TESTS; i++) {
        const struct test *t = &rule->test[i];
        if (holds(t, facts) != UNKNOWN)
            continue;
        if (isnan(facts->value[t->fact]))
            hb_facts_missing(facts, t->fact, note_row, w);
        if (t->limit != NUMBER_ONLY && isnan(facts->value[t->limit]))
            hb_facts_missing(facts, (enum hb_fact)t->limit, note_row, w);
    }
}

static void list_wanted(const struct wanted *w, struct hobble_condition_answer *a)
{
    for (int i = 0; i < HB_PARAM_COUNT; i++)
        if (w->row[i] && a->find_out_count < HOBBLE_FIND_MAX)
            a->find_out[a->find_out_count++] = i;
}

static void add(struct hobble_condition_answer *a, const struct hobble_fired *fired)
{
    a->rule[a->rule_count++] = *fired;
}

static void weigh(const struct hb_facts *facts, struct hobble_condition_answer *a)
{
    struct wanted w = {{false}};
    bool unknown = false;
    a->matters_most = -1;
    for (int i = 0; i < RULES; i++) {
        const struct hobble_fired *fired = &rules[i].row.rule;
        const enum truth truth = fires(&rules[i], facts);
        if (truth == UNKNOWN)
            want_of(&rules[i], facts, want, &w);
        if (truth == UNKNOWN && fired->verdict == HOBBLE_SCRAP) /* the worst of them comes first */
            want_of(&rules[i], facts, want_first, &a->matters_most);
        if (fired->verdict == HOBBLE_SCRAP && truth == YES)
            add(a, fired);
        unknown = unknown || (fired->verdict == HOBBLE_SCRAP && truth == UNKNOWN);
    }
    a->basis = a->rule_count == 0 && unknown ? HOBBLE_BY_UNKNOWN : HOBBLE_BY_RULE;
    if (a->basis != HOBBLE_BY_UNKNOWN)
        a->matters_most = -1;
    a->verdict = a->rule_count > 0 || unknown ? HOBBLE_SCRAP : HOBBLE_DISMOUNT_AND_INSPECT;
    if (unknown)
        add(a, &facts_missing);
    for (int i = 0; i < RULES; i++) {
        const struct hobble_fired *fired = &rules[i].row.rule;
        const bool last_word = i == RULES - 1; /* "nothing decides against it" */
        if (fired->verdict != HOBBLE_SCRAP && fires(&rules[i], facts) == YES &&
            !(last_word && a->verdict == HOBBLE_SCRAP))
            add(a, fired);
    }
    list_wanted(&w, a);
}

/* When a point is to be checked. */
enum when { ALWAYS, NOT_CONDEMNED, CONDEMNED, INJURY_LEFT, NEIGHBOUR, RIM };

static const struct {
    enum when when;
    const char *text;
} checks[] = {
    {NOT_CONDEMNED,
     "Take the tyre off the rim; see and feel all of its inside, both walls, in good light. "
     "No sign is not proof."},
    {NOT_CONDEMNED,
     "Look for everything that this list of signs names again: it was stated, not proven."},
    {INJURY_LEFT, "Probe the injury from both sides, prepare it, and measure its size, place and "
                  "channel again."},
    {INJURY_LEFT, "Plug and patch together, from the inside, in the tread, no two overlapping; "
                  "nothing else counts as a repair."},
    {NOT_CONDEMNED,
     "Read what the makers of the tyre and of the vehicle write today: a refusal decides."},
    {CONDEMNED, "Make the tyre unfit for use, so that nobody fits it again."},
    {RIM, "The rim is damaged: no tyre goes on it until it is judged."},
    {ALWAYS,
     "Look at the rim all around, both flanges and the seats, for bends, cracks and scrapes."},
    {NEIGHBOUR,
     "Look at the tyres beside and opposite: they carried more, and may have met the same "
     "thing."},
    {ALWAYS, "Look at the valve and the pressure sensor, and find what let the air out."},
};

static void list_checks(const struct hb_facts *facts, struct hobble_condition_answer *a)
{
    const bool condemned = a->verdict == HOBBLE_SCRAP && a->basis == HOBBLE_BY_RULE;
    const double *v = facts->value;
    const bool holds_now[] = {
        [ALWAYS] = true,
        [NOT_CONDEMNED] = !condemned,
        [CONDEMNED] = condemned,
        [INJURY_LEFT] = !condemned && !(v[HB_F_INJURED] < 1.0),
        [NEIGHBOUR] = !(v[HB_F_NEIGHBOUR_CHECKED] >= HB_YES),
        [RIM] = v[HB_F_RIM_DAMAGE] >= HB_YES,
    };
    for (size_t i = 0; i < sizeof checks / sizeof *checks; i++)
        if (holds_now[checks[i].when] && a->check_count < HOBBLE_CHECK_MAX)
            a->check[a->check_count++] = checks[i].text;
}

/* Limits that are looser than the table's own. */
static void list_loosened(const struct hb_settings *s, struct hobble_condition_answer *a)
{
    const struct hobble_param *row = hobble_param_table(NULL);
    for (int i = 0; i < HB_PARAM_COUNT; i++) {
        const bool less_is_looser = i == HB_P_MIN_SPACING || i == HB_P_TREAD_LEAST;
        const double change = s->row[i].value - row[i].value;
        if (row[i].group == HOBBLE_RULES && (less_is_looser ? -change : change) > SLACK &&
            a->loosened_count < HOBBLE_LOOSENED_MAX)
            a->loosened[a->loosened_count++] = i;
    }
}

void hb_condition_of(const struct hb_facts *facts, struct hobble_condition_answer *a)
{
    const struct hobble_drive drive = a->drive;
    memset(a, 0, sizeof *a);
    a->drive = drive;
    weigh(facts, a);
    list_checks(facts, a);
    list_loosened(facts->settings, a);
    a->age = hobble_unit_to_si(HOBBLE_UNIT_YEAR, facts->value[HB_F_YEARS]);
}

void hb_condition_use(const struct hobble_drive *seen, struct hb_facts *facts)
{
    facts->value[HB_F_MODEL_LIFE] = seen->life_p95;
    facts->value[HB_F_MODEL_PEAK] = seen->peak_p95 - HB_CELSIUS;
    facts->value[HB_F_MODEL_RIM] = seen->rim_share;
}

void hb_condition_after(const struct hb_settings *settings, const struct hb_question *q,
                        struct hobble_answer *answer)
{
    struct hb_facts facts;
    struct hobble_condition_answer a = {0};
    const struct hobble_drive *d = &answer->drive;
    hb_facts_make(settings, &q->past, &facts);
    /* the advised way makes it known, and a driver's assumptions count as if they were stated */
    facts.value[HB_F_LOWEST_PRESSURE] = hobble_unit_from_si(HOBBLE_UNIT_KILOPASCAL, d->pressure);
    facts.value[HB_F_LOW_DISTANCE] = hobble_unit_from_si(HOBBLE_UNIT_KILOMETRE, d->distance);
    facts.value[HB_F_LOW_SPEED] = hobble_unit_from_si(HOBBLE_UNIT_KM_PER_HOUR, d->speed);
    if (q->built.construction != HB_UNKNOWN)
        facts.value[HB_F_BUILT] = q->built.construction;
    hb_condition_use(d, &facts);
    hb_condition_of(&facts, &a);
    answer->condition = a.verdict;
    memcpy(answer->rule, a.rule, sizeof answer->rule);
    answer->rule_count = a.rule_count;
}

bool hb_condemned(const struct hb_settings *settings, struct hobble_fired *first)
{
    struct hb_facts facts;
    hb_facts_make(settings, NULL, &facts);
    for (int i = 0; i < RULES; i++)
        if (rules[i].moment == TYRE && rules[i].row.rule.verdict == HOBBLE_SCRAP &&
            fires(&rules[i], &facts) == YES) {
            *first = rules[i].row.rule;
            return true;
        }
    return false;
}

const struct hobble_rule_row *hobble_condition_rule(size_t place)
{
    return place < RULES ? &rules[place].row : NULL;
}

bool hobble_condition_rule_uses(size_t place, int row)
{
    for (int i = 0; place < RULES && i < TESTS; i++) {
        const struct test *t = &rules[place].test[i];
        if (t->op != ANY &&
            (hb_facts_told_by(t->fact, row) ||
             (t->limit != NUMBER_ONLY && hb_facts_told_by((enum hb_fact)t->limit, row))))
            return true;
    }
    return place < RULES && rules[place].built != ALL && hb_facts_told_by(HB_F_BUILT, row);
}

const char *hobble_condition_word(enum hobble_condition condition)
{
    return condition == HOBBLE_DISMOUNT_AND_INSPECT ? "dismount_and_inspect" : "scrap";
}

const char *hobble_basis_word(enum hobble_basis basis)
{
    return basis == HOBBLE_BY_RULE ? "rule" : "unknown";
}

const char *const *hobble_condition_cautions(void)
{
    static const char *const cautions[] = {
        "This is not a release to service. It judges what was stated, and nobody has seen the tyre "
        "by it.",
        "No published standard says when a tyre may be used again after running flat: ISO 16992 "
        "leaves inspection and servicing afterwards out of its scope.",
        "A stiff wall hides the usual signs, and even a qualified repairer may miss damage: no "
        "sign "
        "is not proof.",
        "Most rules here come second-hand, and local law may ask for more: where makers, law or "
        "the "
        "qualified person say less, they are right.",
        NULL,
    };
    return cautions;
}
