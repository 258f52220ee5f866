/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test_policy_rows.c - every number of a policy, in JSON, CSV and tables, against the structs that
 * it is of: each in its place, in its unit, and none besides. The structs hold random numbers, so
 * that no two are alike. */
#include "ask.h"
#include "input/fleet.h"
#include "random_case.h"
#include "report/describe/answers.h"
#include "report/describe/policy.h"
#include "report/json/render.h"
#include "report/out.h"

#include <check.h>
#include <stddef.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

Suite *policy_rows_suite(void);

enum { PATH = 120, QUESTIONS = 12 };

/* ---- the table ------------------------------------------------------------------------------- */

/* Structs, and units of the report over those of the structs (definitions). */
enum base { REPORT, FLEET, POLICY, SIMPLE, ROWS, COSTS, SHIFTS, NUMBERS };
enum unit { PLAIN, INT, LONG, SIZE, FLEET_KM, KM_OF, KMH_OF, CELSIUS_OF };
enum when { ALWAYS, GOES, HAS_RULE, HAS_EXCEPTION, NOT_SELF };

#define B(base, type, path, field, unit, when)                                                     \
    {                                                                                              \
        path, base, offsetof(type, field), unit, when                                              \
    }
#define P(path, field, unit) B(POLICY, struct hobble_policy, path, field, unit, ALWAYS)
#define S(path, field, unit) B(SIMPLE, struct hobble_simple_rule, "rule." path, field, unit, ALWAYS)
#define R(path, field, unit, when)                                                                 \
    B(ROWS, struct hobble_policy_row, "rows[]." path, field, unit, when)
#define C(path, field)                                                                             \
    B(COSTS, struct hobble_policy_cost, "constructions[]." path, field, PLAIN, ALWAYS)
#define CHANCE(base, type, path, field)                                                            \
    B(base, type, path ".failed", field.failed, PLAIN, ALWAYS),                                    \
        B(base, type, path ".failed_error", field.error, PLAIN, ALWAYS),                           \
        B(base, type, path ".stranded", field.stranded, PLAIN, ALWAYS),                            \
        B(base, type, path ".lost", field.lost, PLAIN, ALWAYS)
#define BAND(path, field)                                                                          \
    C(path ".middle", field.middle), C(path ".p5", field.p5), C(path ".p95", field.p95)

static const struct entry {
    const char *path;
    enum base base;
    size_t offset;
    enum unit unit;
    enum when when;
} entries[] = {
    B(REPORT, struct hb_policy_report, "kit.checked", checked, INT, ALWAYS),
    B(REPORT, struct hb_policy_report, "kit.contradictions", contradictions, INT, ALWAYS),
    B(FLEET, struct hobble_fleet, "hours_of_weather", hours, LONG, ALWAYS),
    B(FLEET, struct hobble_fleet, "help.mean_km", help.mean, KM_OF, ALWAYS),
    B(FLEET, struct hobble_fleet, "help.distances", help.count, INT, ALWAYS),
    P("counted", counted, INT),
    P("fleet_km_a_year", fleet_km, FLEET_KM),
    P("quality.conditions", conditions, SIZE),
    P("quality.energy_closure", closure, PLAIN),
    P("quality.evidence_items", evidence_items, INT),
    P("quality.hours_solved_as_they_are", exact_hours, INT),
    P("quality.binning_distance_km", bin_distance, KM_OF),
    P("quality.binning_chance_mean", bin_chance, PLAIN),
    P("quality.binning_chance_most", bin_chance_most, PLAIN),
    CHANCE(POLICY, struct hobble_policy, "fleet_under_policy", all),
    CHANCE(POLICY, struct hobble_policy, "fleet_under_rule", all_rule),
    S("speed_kmh", speed, KMH_OF),
    S("distance_km", distance, KM_OF),
    B(SIMPLE, struct hobble_simple_rule, "rule.exception.distance_km", other, KM_OF, HAS_EXCEPTION),
    S("worst_chance_of_failing", failed, PLAIN),
    S("worst_error", failed_error, PLAIN),
    S("fresh_worst_chance_of_failing", fresh, PLAIN),
    S("fresh_worst_error", fresh_error, PLAIN),
    S("reaches_help", reaches, PLAIN),
    S("reaches_help_by_rows", reaches_best, PLAIN),
    S("rules_tried", tried, INT),
    CHANCE(SIMPLE, struct hobble_simple_rule, "rule.fleet", all),
    CHANCE(SIMPLE, struct hobble_simple_rule, "rule.fleet_fresh", all_fresh),
    R("share_of_km", weight, PLAIN, ALWAYS),
    R("load_front_n", load_n[0], PLAIN, ALWAYS),
    R("load_rear_n", load_n[1], PLAIN, ALWAYS),
    R("coldest_c", coldest, CELSIUS_OF, ALWAYS),
    R("hottest_c", hottest, CELSIUS_OF, ALWAYS),
    R("advised_speed_kmh", speed, KMH_OF, GOES),
    R("advised_distance_km", distance, KM_OF, ALWAYS),
    R("advice_alone_km", advised, KM_OF, ALWAYS),
    R("by_rule_km", told, KM_OF, HAS_RULE),
    R("counted", counted, INT, ALWAYS),
    R("chance_of_failing", policy.failed, PLAIN, ALWAYS),
    R("chance_of_stranding", policy.stranded, PLAIN, ALWAYS),
    CHANCE(ROWS, struct hobble_policy_row, "rows[].under_policy", policy),
    CHANCE(ROWS, struct hobble_policy_row, "rows[].under_rule", rule),
    CHANCE(ROWS, struct hobble_policy_row, "rows[].under_stop", stop),
    R("rule_share_of_tyres", rule_share, PLAIN, ALWAYS),
    BAND("cost_per_100000_km", cost),
    BAND("stranded_per_million_km", stranded),
    C("chance_a_puncture_strands", stranding),
    C("fixed_per_100000_km", fixed),
    C("cost_of_a_puncture", a_puncture),
    B(COSTS, struct hobble_policy_cost, "constructions[].break_even_punctures_per_100000_km",
      break_even, PLAIN, NOT_SELF),
    B(SHIFTS, struct hobble_shift, "sensitivity[].mean_change_km", change, KM_OF, ALWAYS),
    B(SHIFTS, struct hobble_shift, "sensitivity[].share_of_km_that_turns", flipped, PLAIN, ALWAYS),
    B(NUMBERS, struct hobble_fleet_number, "inputs[].value", value, PLAIN, ALWAYS),
    B(NUMBERS, struct hobble_fleet_number, "inputs[].spread", spread, PLAIN, ALWAYS),
};
enum { ENTRIES = sizeof entries / sizeof *entries };

/* ---- a policy of random numbers -------------------------------------------------------------- */

struct desk {
    hobble_case *c;
    struct hobble_fleet *fleet;
    struct hobble_policy *policy;
    struct hb_policy_report report;
};

static size_t items(const struct desk *d, enum base base)
{
    size_t numbers;
    hobble_fleet_table(&numbers);
    return base == ROWS      ? (size_t)d->policy->rows
           : base == COSTS   ? HOBBLE_BUILDS
           : base == SHIFTS  ? HOBBLE_SHIFTS
           : base == NUMBERS ? numbers
                             : 1;
}

static char *item(struct desk *d, enum base base, size_t i)
{
    void *const at[] = {[REPORT] = &d->report,
                        [FLEET] = d->fleet,
                        [POLICY] = d->policy,
                        [SIMPLE] = &d->policy->simple,
                        [ROWS] = &d->policy->row[i % (size_t)d->policy->rows],
                        [COSTS] = &d->policy->cost[i % HOBBLE_BUILDS],
                        [SHIFTS] = &d->policy->shift[i % HOBBLE_SHIFTS],
                        [NUMBERS] = &d->fleet->number[i]};
    return at[base];
}

static void put_random(void *at, enum unit unit, struct random_source *source)
{
    if (unit == INT)
        *(int *)at = 1 + random_below(source, 100000);
    else if (unit == LONG)
        *(long *)at = 1 + random_below(source, 100000);
    else if (unit == SIZE)
        *(size_t *)at = 1 + (size_t)random_below(source, 100000);
    else
        *(double *)at = unit == KM_OF        ? random_between(source, 5.0, 80.0) * KM
                        : unit == KMH_OF     ? random_between(source, 20.0, 80.0) * KMH
                        : unit == CELSIUS_OF ? random_between(source, 240.0, 320.0)
                                             : random_between(source, 0.0, 0.4);
}

static void fill_row(struct desk *d, int i, struct random_source *source)
{
    struct hobble_policy_row *row = &d->policy->row[i];
    const struct hobble_fleet *f = d->fleet;
    row->vehicle = i / (f->loads * f->seasons);
    row->load = i / f->seasons % f->loads;
    row->season = i % f->seasons;
    row->go = random_below(source, 2);
    row->distance = row->go ? row->distance : 0.0;
    row->stops = random_below(source, 1 << HOBBLE_STOP_COUNT);
    row->rule_stops = random_below(source, 1 << HOBBLE_STOP_COUNT);
    row->rule_barred = random_below(source, 2);
    row->rule_holds = random_below(source, 2);
    row->rule_unsafe = random_below(source, 2);
    row->rule_wasteful = random_below(source, 2);
}

static void open_desk(struct desk *d, int question, struct random_source *source)
{
    static struct hobble_faults faults;
    memset(d, 0, sizeof *d);
    d->c = hobble_case_new();
    ck_assert_int_eq(hb_fleet_read(TEST_DATA_DIR "/fleet/small.cfg", &d->fleet, &faults),
                     HOBBLE_OK);
    d->policy = calloc(1, sizeof *d->policy);
    d->policy->rows = d->fleet->vehicles * d->fleet->loads * d->fleet->seasons;
    d->report = (struct hb_policy_report){
        .c = d->c, .fleet = d->fleet, .policy = d->policy, .us = question % 2};
    for (size_t k = 0; k < ENTRIES; k++)
        for (size_t i = 0; i < items(d, entries[k].base); i++)
            put_random(item(d, entries[k].base, i) + entries[k].offset, entries[k].unit, source);
    for (int i = 0; i < d->policy->rows; i++)
        fill_row(d, i, source);
    for (int b = 0; b < HOBBLE_BUILDS; b++)
        d->policy->cost[b].pays = (enum hobble_break)random_below(source, 3);
    for (int i = 0; i < HOBBLE_SHIFTS; i++)
        d->policy->shift[i].code = (enum hobble_shift_code)((i + question) % HOBBLE_SHIFTS);
    struct hobble_simple_rule *s = &d->policy->simple;
    s->found = question % 4 != 1;
    s->verified = question % 4 != 2;
    s->exception = question % 3;
    s->vehicle = question % 2 - 1;
    s->load = -1;
    s->season = question % 3 - 1;
}

static void close_desk(struct desk *d)
{
    hobble_case_free(d->c);
    hobble_fleet_free(d->fleet);
    free(d->policy);
}

/* ---- JSON ------------------------------------------------------------------------------------ */

static bool is_told(struct desk *d, const struct entry *e, size_t i)
{
    const struct hobble_simple_rule *s = &d->policy->simple;
    return e->when == GOES            ? d->policy->row[i].go
           : e->when == HAS_EXCEPTION ? s->exception
           : e->when == NOT_SELF      ? i != HOBBLE_BUILD_SELF
                                      : true;
}

static double expected(struct desk *d, const struct entry *e, size_t i)
{
    const void *at = item(d, e->base, i) + e->offset;
    const struct hobble_simple_rule *s = &d->policy->simple;
    if (e->when == HAS_RULE && !(s->found && s->verified))
        return 0.0;
    if (e->unit == INT || e->unit == LONG || e->unit == SIZE)
        return e->unit == INT    ? (double)*(const int *)at
               : e->unit == LONG ? (double)*(const long *)at
                                 : (double)*(const size_t *)at;
    const double si = *(const double *)at;
    return e->unit == KM_OF        ? si / 1000.0
           : e->unit == KMH_OF     ? si * 3.6
           : e->unit == CELSIUS_OF ? si - 273.15
                                   : si;
}

struct reading {
    struct desk *d;
    int seen[ENTRIES], nulls;
};

static void read_value(struct reading *r, json_t *value, const char *path, size_t place);

static void read_object(struct reading *r, json_t *object, const char *above, size_t place)
{
    const char *key;
    json_t *value;
    json_object_foreach(object, key, value)
    {
        char path[PATH];
        snprintf(path, sizeof path, "%s%s%s", above, *above ? "." : "", key);
        read_value(r, value, path, place);
    }
}

static void read_number(struct reading *r, const json_t *value, const char *path, size_t place)
{
    size_t k = 0;
    while (k < ENTRIES && strcmp(entries[k].path, path) != 0)
        k++;
    if (k == ENTRIES) {
        ck_assert_msg(!json_is_number(value) || strcmp(path, "seed") == 0 ||
                          strcmp(path, "members") == 0,
                      "%s is told, and nobody knows what it is", path);
        return;
    }
    ck_assert_msg(json_is_number(value) == is_told(r->d, &entries[k], place), "%s of %zu", path,
                  place);
    if (!json_is_number(value))
        return;
    const double wanted = expected(r->d, &entries[k], place), is = json_number_value(value);
    ck_assert_msg(fabs(is - wanted) <= 1e-9 * fmax(1.0, fabs(wanted)),
                  "%s of %zu: %.12g, not %.12g", path, place, is, wanted);
    r->seen[k]++;
}

static void read_value(struct reading *r, json_t *value, const char *path, size_t place)
{
    char inner[PATH];
    size_t i;
    json_t *one;
    snprintf(inner, sizeof inner, "%s[]", path);
    if (json_is_object(value))
        read_object(r, value, path, place);
    else if (json_is_array(value)) {
        json_array_foreach(value, i, one) read_value(r, one, inner, i);
    } else if (json_is_number(value) || json_is_null(value)) {
        read_number(r, value, path, place);
    }
}

/* Source: the structs, and definitions of units. */
START_TEST(every_number_of_a_policy)
{
    struct random_source source = {2026};
    for (int question = 0; question < QUESTIONS; question++) {
        struct desk d;
        open_desk(&d, question, &source);
        struct reading r = {.d = &d};
        json_t *o = hb_render_json(&hb_policy_answer, d.c, &d.report);
        ck_assert_ptr_nonnull(o);
        read_object(&r, o, "", 0);
        for (size_t k = 0; k < ENTRIES; k++) {
            int wanted = 0;
            for (size_t i = 0; i < items(&d, entries[k].base); i++)
                wanted += is_told(&d, &entries[k], i);
            ck_assert_msg(r.seen[k] == wanted, "%s: %d times, not %d", entries[k].path, r.seen[k],
                          wanted);
        }
        json_decref(o);
        close_desk(&d);
    }
}
END_TEST

static const char *text_at(json_t *o, const char *list, size_t i, const char *key)
{
    const char *text =
        json_string_value(json_object_get(json_array_get(json_object_get(o, list), i), key));
    ck_assert_msg(text != NULL, "%s[%zu].%s", list, i, key);
    return text;
}

static int bits(int stops)
{
    int n = 0;
    for (int i = 0; i < HOBBLE_STOP_COUNT; i++)
        n += stops >> i & 1;
    return n;
}

/* The reasons of a list, each once, and no other. */
static void check_reasons(json_t *list, int stops)
{
    size_t i;
    json_t *one;
    ck_assert_int_eq((int)json_array_size(list), bits(stops));
    json_array_foreach(list, i, one) for (int k = 0; k <= HOBBLE_STOP_COUNT; k++)
    {
        ck_assert_msg(k < HOBBLE_STOP_COUNT, "%s", json_string_value(one));
        if (strcmp(json_string_value(one), hobble_stop_word((enum hobble_stop)k)) == 0) {
            ck_assert(stops >> k & 1);
            stops &= ~(1 << k);
            break;
        }
    }
}

static void check_row_words(json_t *o, const struct desk *d, size_t i)
{
    const struct hobble_policy_row *row = &d->policy->row[i];
    json_t *one = json_array_get(json_object_get(o, "rows"), i);
    const struct {
        const char *key;
        bool is;
    } truth[] = {{"rule_holds", row->rule_holds},
                 {"rule_unsafe", row->rule_unsafe},
                 {"rule_wasteful", row->rule_wasteful}};
    ck_assert_str_eq(text_at(o, "rows", i, "vehicle"), d->fleet->vehicle[row->vehicle].name);
    ck_assert_str_eq(text_at(o, "rows", i, "load"), d->fleet->load[row->load].name);
    ck_assert_str_eq(text_at(o, "rows", i, "season"), d->fleet->season[row->season].name);
    ck_assert_str_eq(text_at(o, "rows", i, "verdict"), row->go ? "go" : "stop");
    check_reasons(json_object_get(one, "stop_reasons"), row->go ? 0 : row->stops);
    check_reasons(json_object_get(one, "rule_stop_reasons"),
                  row->rule_barred ? row->rule_stops : 0);
    for (size_t k = 0; k < sizeof truth / sizeof *truth; k++)
        ck_assert_int_eq(json_is_true(json_object_get(one, truth[k].key)), truth[k].is);
}

/* Names and words stand at the items that they are of. */
START_TEST(every_word_of_a_policy)
{
    static const char *const pays[] = {"at_rate", "always", "never"};
    struct random_source source = {7};
    struct desk d;
    open_desk(&d, _i, &source);
    json_t *o = hb_render_json(&hb_policy_answer, d.c, &d.report),
           *rule = json_object_get(o, "rule");
    const struct hobble_simple_rule *s = &d.policy->simple;
    for (size_t i = 0; i < (size_t)d.policy->rows; i++)
        check_row_words(o, &d, i);
    for (size_t b = 0; b < HOBBLE_BUILDS; b++) {
        ck_assert_str_eq(text_at(o, "constructions", b, "construction"),
                         hobble_build_word((enum hobble_build)b));
        ck_assert_str_eq(text_at(o, "constructions", b, "self_supporting_pays"),
                         b == HOBBLE_BUILD_SELF ? "itself" : pays[d.policy->cost[b].pays]);
    }
    for (size_t i = 0; i < HOBBLE_SHIFTS; i++)
        ck_assert_str_eq(text_at(o, "sensitivity", i, "input"),
                         hobble_shift_word(d.policy->shift[i].code));
    for (size_t i = 0; i < items(&d, NUMBERS); i++) {
        ck_assert_str_eq(text_at(o, "inputs", i, "key"), hobble_fleet_table(NULL)[i].key);
        ck_assert_str_eq(text_at(o, "inputs", i, "provenance"),
                         hobble_provenance_word(d.fleet->number[i].provenance));
    }
    ck_assert_int_eq(json_is_true(json_object_get(rule, "goes_on")), s->found);
    ck_assert_int_eq(json_is_true(json_object_get(rule, "verified")), s->verified);
    const json_t *season = json_object_get(json_object_get(rule, "exception"), "season");
    ck_assert_int_eq(json_is_string(season), s->exception && s->season >= 0);
    json_decref(o);
    close_desk(&d);
}
END_TEST

/* ---- CSV ------------------------------------------------------------------------------------- */

static double entry_value(struct desk *d, const char *path, size_t i)
{
    for (size_t k = 0; k < ENTRIES; k++)
        if (strcmp(entries[k].path, path) == 0)
            return is_told(d, &entries[k], i) ? expected(d, &entries[k], i) : (double)NAN;
    ck_abort_msg("%s", path);
}

/* The columns as users have them, in their order. */
static const struct {
    const char *name, *path; /* NULL: told by a function below */
} csv[] = {{"vehicle", NULL},
           {"load", NULL},
           {"season", NULL},
           {"share of km", "rows[].share_of_km"},
           {"front wheel (N)", "rows[].load_front_n"},
           {"rear wheel (N)", "rows[].load_rear_n"},
           {"coldest (C)", "rows[].coldest_c"},
           {"hottest (C)", "rows[].hottest_c"},
           {"go", NULL},
           {"speed (km/h)", "rows[].advised_speed_kmh"},
           {"distance (km)", "rows[].advised_distance_km"},
           {"policy: failed", "rows[].under_policy.failed"},
           {"policy: failed error", "rows[].under_policy.failed_error"},
           {"policy: stranded", "rows[].under_policy.stranded"},
           {"rule: failed", "rows[].under_rule.failed"},
           {"rule: stranded", "rows[].under_rule.stranded"},
           {"rule: lost", "rows[].under_rule.lost"},
           {"stop: stranded", "rows[].under_stop.stranded"},
           {"share making the rule", "rows[].rule_share_of_tyres"},
           {"rule holds", NULL},
           {"rule unsafe", NULL},
           {"rule wasteful", NULL},
           {"by the rule (km)", "rows[].by_rule_km"},
           {"tyres counted", "rows[].counted"}};
enum { COLUMNS = sizeof csv / sizeof *csv };

static void check_cell(struct desk *d, size_t row, size_t column, const char *cell)
{
    const struct hobble_policy_row *r = &d->policy->row[row];
    const bool truth[] = {r->go, r->rule_holds, r->rule_unsafe, r->rule_wasteful};
    if (csv[column].path) {
        const double wanted = entry_value(d, csv[column].path, row);
        ck_assert_int_eq(*cell == '\0', isnan(wanted));
        ck_assert_msg(isnan(wanted) || fabs(strtod(cell, NULL) - wanted) <= 1e-8 * fabs(wanted),
                      "%s of %zu: %s, not %.9g", csv[column].name, row, cell, wanted);
    } else if (column >= 3) {
        ck_assert_str_eq(cell, truth[column == 8 ? 0 : column - 18] ? "1" : "0");
    }
}

/* Format: RFC 4180; the names of the test's fleet hold no commas. */
START_TEST(every_cell_of_the_csv)
{
    struct random_source source = {11};
    struct desk d;
    struct hb_out out;
    struct hb_scope list;
    open_desk(&d, _i, &source);
    const struct hb_scope scope = hb_policy_scope(&d.report);
    const struct hb_row *rows = hb_row_find("rows", 4, &scope, &list);
    ck_assert_int_eq(hb_out_open(&out), HOBBLE_OK);
    hb_render_csv(out.stream, rows, &list);
    fflush(out.stream);
    char *text = strdup(out.text), *line = text;
    for (size_t row = 0; row <= (size_t)d.policy->rows; row++) {
        for (size_t column = 0; column < COLUMNS; column++) {
            char *end = line + strcspn(line, ",\n");
            ck_assert_int_eq(*end, column + 1 < COLUMNS ? ',' : '\n');
            *end = '\0';
            if (row == 0)
                ck_assert_str_eq(line, csv[column].name);
            else
                check_cell(&d, row - 1, column, line);
            line = end + 1;
        }
    }
    ck_assert_str_eq(line, "");
    free(text);
    hb_out_drop(&out);
    close_desk(&d);
}
END_TEST

/* ---- as people read it ----------------------------------------------------------------------- */

/* Never more to drive than there is; never less chance than there is. A mile is 1.609344 km
 * (international agreement of 1959). */
static void check_way(const char *cell, double metres, bool us)
{
    const double unit = us ? 1609.344 : 1000.0;
    if (!(metres > 0.0)) {
        ck_assert_str_eq(cell, "stop");
        return;
    }
    const double shown = strtod(cell, NULL) * unit;
    ck_assert_msg(shown <= metres + 1e-6 && shown > metres - unit, "%s for %.9g m", cell, metres);
    ck_assert_msg(strstr(cell, us ? " mi" : " km"), "%s", cell);
}

static void check_chance(const char *cell, double chance, bool bad)
{
    const double shown = strtod(*cell == '<' ? cell + 1 : cell, NULL) / 100.0;
    const double step = chance < 0.0995 ? 1e-4 : 1e-3, over = bad ? shown - chance : chance - shown;
    ck_assert_msg(over > -1e-9 && over < step + 1e-9, "%s for %.9g", cell, chance);
}

START_TEST(rounded_to_the_safe_side)
{
    struct random_source source = {13};
    struct desk d;
    struct hb_scope list;
    open_desk(&d, _i, &source);
    const struct hb_scope scope = hb_policy_scope(&d.report);
    const struct hb_row *rows = hb_row_find("rows", 4, &scope, &list);
    for (size_t i = 0; i < (size_t)d.policy->rows; i++) {
        const struct hobble_policy_row *row = &d.policy->row[i];
        const struct hb_scope one = hb_row_inside(rows, &list, i);
        const double speed = row->speed / (d.report.us ? 1609.344 : 1000.0) * 3600.0;
        char cell[HB_POLICY_CELLS][HOBBLE_FAULT_TEXT];
        for (int k = 0; k < HB_POLICY_CELLS; k++)
            hb_say(hb_policy_columns[k].cell, &one, cell[k], sizeof cell[k]);
        check_way(cell[HB_POLICY_BY_RULE], hb_policy_has_rule(&d.report) ? row->told : 0.0,
                  d.report.us);
        check_way(cell[HB_POLICY_ALONE], row->distance, d.report.us);
        check_chance(cell[6], row->policy.failed, true);
        check_chance(cell[7], row->policy.stranded, true);
        check_chance(cell[8], row->rule.failed, true);
        check_chance(cell[9], row->rule.stranded, true);
        ck_assert_int_eq(strcmp(cell[5], "-") == 0, !row->go);
        ck_assert_msg(!row->go || strtod(cell[5], NULL) == floor(speed), "%s for %g", cell[5],
                      speed);
        ck_assert_msg(!row->rule_unsafe || strstr(cell[HB_POLICY_WHY], "UNSAFE"), "%s",
                      cell[HB_POLICY_WHY]);
        ck_assert_msg(row->rule_unsafe || row->rule_barred ||
                          !strstr(cell[HB_POLICY_WHY], "UNSAFE"),
                      "%s", cell[HB_POLICY_WHY]);
    }
    char verdict[2000];
    hb_say(HB_SAY_POLICY_VERDICT, &scope, verdict, sizeof verdict);
    check_chance(strstr(verdict, "at most ") + 8, d.policy->simple.fresh, true);
    check_chance(strstr(verdict, "accepted. ") + 10, d.policy->simple.reaches, false);
    check_chance(strstr(verdict, "by this rule, ") + 14, d.policy->simple.reaches_best, false);
    close_desk(&d);
}
END_TEST

Suite *policy_rows_suite(void)
{
    Suite *suite = suite_create("policy_rows");
    TCase *all = tcase_create("policy_rows");
    tcase_set_timeout(all, 120.0); /* sanitizers and valgrind are slow */
    tcase_add_test(all, every_number_of_a_policy);
    tcase_add_loop_test(all, every_word_of_a_policy, 0, QUESTIONS);
    tcase_add_loop_test(all, every_cell_of_the_csv, 0, QUESTIONS);
    tcase_add_loop_test(all, rounded_to_the_safe_side, 0, QUESTIONS);
    suite_add_tcase(suite, all);
    return suite;
}
