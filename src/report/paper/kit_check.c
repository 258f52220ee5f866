/* SPDX-License-Identifier: GPL-3.0-or-later */
/* kit_check.c - every number of a kit, as it is printed, against the policy's rows. */
#include "report/describe/answers.h"
#include "report/describe/card.h"
#include "report/describe/policy.h"
#include "report/json/render.h"
#include "report/paper/kit.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define MILE 1609.344
#define HAIR 1e-6 /* of a number that is printed with nine digits */

/* One number: where it stands, what it is of, and what it must be. */
struct said {
    const char *where;
    int row; /* of the policy; -1: the rule */
    const char *unit;
    double shown, must;
};

static void row_text(const struct hb_kit *kit, int row, char *buf, size_t size)
{
    const struct hobble_fleet *f = kit->r->fleet;
    if (row < 0) {
        snprintf(buf, size, "the rule");
        return;
    }
    const struct hobble_policy_row *at = &kit->r->policy->row[row];
    snprintf(buf, size, "%.30s, %.24s, %.24s", f->vehicle[at->vehicle].name, f->load[at->load].name,
             f->season[at->season].name);
}

static void complain(struct hb_kit *kit, const struct said *s, const char *relation,
                     struct hobble_faults *sink)
{
    struct hobble_fault f = {.status = HOBBLE_E_CONFLICT};
    char text[2 * HOBBLE_FAULT_TEXT], of[120];
    row_text(kit, s->row, of, sizeof of);
    hobble_fault_text(f.key, s->where);
    snprintf(text, sizeof text, "%s: %.6g %s", of, s->shown, s->unit);
    hobble_fault_text(f.given, text);
    snprintf(text, sizeof text, "%s %.6g %s as in the policy's rows; nothing was written", relation,
             s->must, s->unit);
    hobble_fault_text(f.allowed, text);
    hobble_faults_add(sink, &f);
    kit->contradictions++;
}

static void same(struct hb_kit *kit, struct said s, struct hobble_faults *sink)
{
    kit->checked++;
    if (!(fabs(s.shown - s.must) <= HAIR * fmax(1.0, fabs(s.must))))
        complain(kit, &s, "exactly", sink);
}

static void at_most(struct hb_kit *kit, struct said s, struct hobble_faults *sink)
{
    kit->checked++;
    if (!(s.shown <= s.must + HAIR))
        complain(kit, &s, "at most", sink);
}

/* ---- as printed ------------------------------------------------------------------------------ */

static double whole(const struct hb_kit *kit, double metres)
{
    return floor(metres / (kit->r->us ? MILE : 1e3) + 1e-9);
}

static double whole_speed(const struct hb_kit *kit, double speed)
{
    return floor(speed * 3600.0 / (kit->r->us ? MILE : 1e3) + 1e-6);
}

static const char *way_unit(const struct hb_kit *kit)
{
    return kit->r->us ? "mi" : "km";
}

/* What stands behind the last of some words; 0, as for "stop", where there is no number. */
static double behind(const char *text, const char *words)
{
    const char *last = NULL;
    for (const char *at = strstr(text, words); at; at = strstr(at + 1, words))
        last = at;
    return last ? strtod(last + strlen(words), NULL) : 0.0;
}

/* Names stand before the number of an exception, and none behind. */
static double exception_way(const struct hb_kit *kit)
{
    const char *line = kit->rule[1];
    return strstr(line, ": stop off the road, and call.") ? 0.0 : behind(line, "at most ");
}

/* ---- rule ------------------------------------------------------------------------------------ */

static void check_rule(struct hb_kit *kit, struct hobble_faults *sink)
{
    const struct hobble_simple_rule *s = &kit->r->policy->simple;
    const bool has = hb_policy_has_rule(kit->r);
    const char *unit = way_unit(kit);
    json_t *rule = json_object_get(kit->json, "rule");
    same(kit,
         (struct said){"policy.txt, line 1 of the rule", -1, unit, behind(kit->rule[0], "at most "),
                       has ? whole(kit, s->distance) : 0.0},
         sink);
    if (has && s->distance > 0.0)
        same(kit,
             (struct said){"policy.txt, line 1 of the rule", -1, kit->r->us ? "mph" : "km/h",
                           behind(kit->rule[0], "slow to "), whole_speed(kit, s->speed)},
             sink);
    if (has && s->exception)
        same(kit,
             (struct said){"policy.txt, line 2 of the rule", -1, unit, exception_way(kit),
                           whole(kit, s->other)},
             sink);
    same(kit,
         (struct said){"policy.json, rule.distance_km", -1, "km",
                       json_number_value(json_object_get(rule, "distance_km")), s->distance / 1e3},
         sink);
    same(kit,
         (struct said){"policy.json, rule.speed_kmh", -1, "km/h",
                       json_number_value(json_object_get(rule, "speed_kmh")), s->speed * 3.6},
         sink);
}

/* ---- table ----------------------------------------------------------------------------------- */

static double limit_at(const struct hb_kit *kit, const struct hobble_policy_row *row)
{
    double speed[HOBBLE_POLICY_SPEEDS];
    hobble_policy_speeds(kit->r->fleet, speed);
    for (int k = 0; k < HOBBLE_POLICY_SPEEDS; k++)
        if (fabs(speed[k] - kit->r->policy->simple.speed) < 1e-9)
            return row->limit[k];
    return 0.0;
}

/* The field of a line of CSV, RFC 4180; *line goes on behind the line. */
enum { FIELDS = 40 };
static int csv_fields(const char **line, const char *field[FIELDS])
{
    int n = 0;
    bool quoted = false;
    const char *at = *line;
    if (*at)
        field[n++] = at;
    for (; *at && (quoted || *at != '\n'); at++) {
        quoted = quoted != (*at == '"');
        if (*at == ',' && !quoted && n < FIELDS)
            field[n++] = at + 1;
    }
    *line = *at ? at + 1 : at;
    return n;
}

static int csv_column(const struct hb_kit *kit, const char *name)
{
    const char *line = kit->csv, *field[FIELDS];
    const int n = csv_fields(&line, field);
    for (int i = 0; i < n; i++)
        if (strncmp(field[i], name, strlen(name)) == 0)
            return i;
    return -1;
}

static double csv_number(const char *const *field, int n, int column)
{
    return column >= 0 && column < n ? strtod(field[column], NULL) : (double)NAN;
}

static void check_csv(struct hb_kit *kit, struct hobble_faults *sink)
{
    const struct hobble_policy *p = kit->r->policy;
    const int by_rule = csv_column(kit, "by the rule (km)"),
              alone = csv_column(kit, "distance (km)");
    const char *line = kit->csv, *field[FIELDS];
    csv_fields(&line, field);
    for (int i = 0; i < p->rows; i++) {
        const int n = csv_fields(&line, field);
        const double told = hb_policy_has_rule(kit->r) ? p->row[i].told / 1e3 : 0.0;
        same(kit,
             (struct said){"policy.csv, by the rule", i, "km", csv_number(field, n, by_rule), told},
             sink);
        same(kit,
             (struct said){"policy.csv, distance", i, "km", csv_number(field, n, alone),
                           p->row[i].distance / 1e3},
             sink);
    }
}

static void check_rows(struct hb_kit *kit, struct hobble_faults *sink)
{
    const struct hobble_policy *p = kit->r->policy;
    const bool has = hb_policy_has_rule(kit->r);
    json_t *rows = json_object_get(kit->json, "rows");
    for (int i = 0; i < p->rows; i++) {
        const struct hobble_policy_row *row = &p->row[i];
        const double told = has ? row->told : 0.0;
        json_t *o = json_array_get(rows, (size_t)i);
        const struct said each[] = {
            {"policy.txt, by the rule", i, way_unit(kit),
             strtod(kit->row[i][HB_POLICY_BY_RULE], NULL), whole(kit, told)},
            {"policy.txt, alone", i, way_unit(kit), strtod(kit->row[i][HB_POLICY_ALONE], NULL),
             whole(kit, row->distance)},
            {"policy.json, by_rule_km", i, "km",
             json_number_value(json_object_get(o, "by_rule_km")), told / 1e3},
            {"policy.json, advised_distance_km", i, "km",
             json_number_value(json_object_get(o, "advised_distance_km")), row->distance / 1e3}};
        for (size_t k = 0; k < sizeof each / sizeof *each; k++)
            same(kit, each[k], sink);
        at_most(kit,
                (struct said){"the rule, at its own speed", i, "km", told / 1e3,
                              limit_at(kit, row) / 1e3},
                sink);
    }
}

/* ---- cards and page -------------------------------------------------------------------------- */

static void check_card(struct hb_kit *kit, int vehicle, struct hobble_faults *sink)
{
    const struct hobble_policy *p = kit->r->policy;
    const struct hb_card *k = &kit->card[vehicle];
    char where[40], text[24];
    const struct hb_scope scope = hb_answer_scope(&hb_card_answer, kit->c[vehicle], k, kit->r->us);
    snprintf(where, sizeof where, "card-%d.pdf", vehicle + 1);
    for (int i = 0; i < p->rows; i++) {
        if (p->row[i].vehicle != vehicle)
            continue;
        hb_card_cell(&scope, p->row[i].load, p->row[i].season, text, sizeof text);
        same(kit,
             (struct said){where, i, way_unit(kit), strtod(text, NULL), whole(kit, p->row[i].told)},
             sink);
        at_most(kit, (struct said){where, i, "m before the warning", p->row[i].unseen, k->unseen},
                sink);
    }
    same(kit, (struct said){where, -1, "km/h", k->speed * 3.6, p->simple.speed * 3.6}, sink);
    for (int i = 0; i < kit->rules; i++)
        same(kit,
             (struct said){where, -1, "lines that differ from the rule's",
                           strcmp(k->rule[i], kit->rule[i]) != 0, 0.0},
             sink);
}

static double page_number(json_t *vehicle, const char *key)
{
    size_t i;
    json_t *row;
    json_array_foreach(json_object_get(vehicle, "rows"), i, row)
    {
        const char *name = json_string_value(json_array_get(row, 0));
        if (name && strcmp(name, key) == 0)
            return json_number_value(json_array_get(row, 1));
    }
    return (double)NAN;
}

static void check_page(struct hb_kit *kit, int vehicle, struct hobble_faults *sink)
{
    const struct hobble_policy *p = kit->r->policy;
    json_t *v = kit->page[vehicle];
    const double unseen = page_number(v, "unseen") / 60.0 * page_number(v, "speed_before");
    double least = HUGE_VAL;
    int which = -1;
    for (int i = 0; i < p->rows; i++)
        if (p->row[i].vehicle == vehicle && p->row[i].told < least) {
            least = p->row[i].told;
            which = i;
        }
    same(kit,
         (struct said){"page.html, fleet_distance from the warning on", which, "km",
                       page_number(v, "fleet_distance") - unseen, least / 1e3},
         sink);
    same(kit,
         (struct said){"page.html, unseen", which, "m before the warning",
                       floor(unseen * 1e3 + HAIR), p->row[which < 0 ? 0 : which].unseen},
         sink);
    same(kit,
         (struct said){"page.html, speed_limit", -1, "km/h", page_number(v, "speed_limit"),
                       p->simple.speed * 3.6},
         sink);
}

/* ---- all of it ------------------------------------------------------------------------------- */

/* The row "kit" is known only now. */
static void put_count(struct hb_kit *kit)
{
    struct hb_policy_report told = *kit->r;
    struct hb_scope found;
    told.checked = kit->checked;
    told.contradictions = kit->contradictions;
    const struct hb_scope scope = hb_policy_scope(&told);
    const struct hb_row *row = hb_row_find("kit", 3, &scope, &found);
    json_object_set_new(kit->json, "kit", hb_render_row(row, &found));
}

enum hobble_status hb_kit_check(struct hb_kit *kit, struct hobble_faults *sink)
{
    kit->checked = kit->contradictions = 0;
    check_rule(kit, sink);
    check_csv(kit, sink);
    check_rows(kit, sink);
    for (int i = 0; i < kit->cards; i++) {
        check_card(kit, i, sink);
        check_page(kit, i, sink);
    }
    put_count(kit);
    return kit->contradictions > 0 ? HOBBLE_E_CONFLICT : HOBBLE_OK;
}
