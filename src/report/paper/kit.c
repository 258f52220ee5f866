/* SPDX-License-Identifier: GPL-3.0-or-later */
/* kit.c - the papers of one fleet out of its policy. */
#include "report/paper/kit.h"

#include "report/describe/answers.h"
#include "report/describe/card.h"
#include "report/describe/policy.h"
#include "report/json/render.h"
#include "report/out.h"
#include "report/paper/page.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

bool hb_kit_sheet(const struct hb_policy_report *r, char *why, size_t size)
{
    hb_policy_few(r, why, size);
    return *why == '\0';
}

bool hb_kit_papers(const struct hb_policy_report *r, char *why, size_t size)
{
    if (!hb_kit_sheet(r, why, size))
        return false;
    if (hb_policy_has_rule(r))
        return true;
    const bool found = r->policy->simple.found;
    snprintf(
        why, size, "%s",
        hb_message_text(found ? HB_SAY_POLICY_NOT_KEPT_NO_PAPER : HB_SAY_POLICY_NO_RULE_NO_PAPER));
    return false;
}

/* ---- the vehicle as the policy has it -------------------------------------------------------- */

static double number(const struct hb_policy_report *r, const char *key)
{
    return r->fleet->number[hobble_fleet_find(key)].value;
}

/* The shortest way that the rule tells a vehicle, m: the page does not know the season. */
static double least_told(const struct hb_policy_report *r, int vehicle)
{
    double least = HUGE_VAL;
    for (int i = 0; i < r->policy->rows; i++)
        if (r->policy->row[i].vehicle == vehicle)
            least = fmin(least, r->policy->row[i].told);
    return least;
}

/* Warning, speeds and sample are the fleet's; its rule begins at the warning, the row
 * fleet_distance at the loss of air. */
static hobble_case *vehicle_case(const struct hb_policy_report *r, int vehicle)
{
    const double unseen = number(r, "detection_delay") / 60.0 * number(r, "speed_before"); /* km */
    const struct {
        const char *row;
        double value;
    } same[] = {
        {"unseen", number(r, "detection_delay")},
        {"speed_before", number(r, "speed_before")},
        {"speed_limit", hobble_unit_from_si(HOBBLE_UNIT_KM_PER_HOUR, r->policy->simple.speed)},
        {"fleet_distance", fmin(80.0, least_told(r, vehicle) / 1e3 + unseen)},
        {"members", r->fleet->members},
        {"seed", r->fleet->seed}};
    hobble_case *c = hobble_case_clone(r->fleet->vehicle[vehicle].axle[0]);
    for (size_t i = 0; c && i < sizeof same / sizeof *same; i++)
        if (hobble_case_set_number(c, hobble_param_find(same[i].row), same[i].value, "fleet",
                                   NULL) != HOBBLE_OK) {
            hobble_case_free(c);
            return NULL;
        }
    return c;
}

/* ---- cards ----------------------------------------------------------------------------------- */

/* A cell is what the rule tells the row, which is never more than the row's own limit at the rule's
 * speed; both axles are in it by every value of their tyres. */
static void fill_card(struct hb_kit *kit, int vehicle)
{
    const struct hb_policy_report *r = kit->r;
    const struct hobble_fleet *f = r->fleet;
    struct hb_card *k = &kit->card[vehicle];
    *k = (struct hb_card){.loads = f->loads,
                          .heats = f->seasons,
                          .speed = r->policy->simple.speed,
                          .counted = r->policy->counted,
                          .fleet = f->name,
                          .vehicle = f->vehicle[vehicle].name,
                          .rules = kit->rules};
    memcpy(k->rule, kit->rule, sizeof k->rule);
    if (!hobble_fleet_same_tyres(&f->vehicle[vehicle]))
        k->rear = f->vehicle[vehicle].axle[1];
    hobble_marking_parse(hobble_case_text(kit->c[vehicle], hobble_param_find("marking")),
                         &k->marking, NULL);
    for (int i = 0; i < r->policy->rows; i++) {
        const struct hobble_policy_row *row = &r->policy->row[i];
        if (row->vehicle != vehicle)
            continue;
        k->load[row->load] = f->load[row->load].name;
        k->season[row->season] = f->season[row->season].name;
        k->heat[row->season] = row->hottest;
        k->distance[row->load][row->season] = row->told;
        k->unseen = fmax(k->unseen, row->unseen);
    }
}

/* ---- page ------------------------------------------------------------------------------------ */

static int add_tyre(struct hb_kit *kit, hobble_case *c, int *tyres)
{
    struct hb_page_choice *choice = &kit->choice[kit->choices++];
    *choice = (struct hb_page_choice){.group = HOBBLE_TYRE, .c = c};
    hobble_fault_text(choice->name, hobble_case_text(c, hobble_param_find("tyre_name")));
    return (*tyres)++;
}

static enum hobble_status fill_page(struct hb_kit *kit)
{
    const struct hobble_fleet *f = kit->r->fleet;
    int tyres = 0;
    for (int i = 0; i < f->vehicles; i++) {
        struct hb_page_choice *v = &kit->choice[kit->choices++];
        *v = (struct hb_page_choice){.group = HOBBLE_VEHICLE, .c = kit->c[i]};
        hobble_fault_text(v->name, f->vehicle[i].name);
        v->tyre = add_tyre(kit, kit->c[i], &tyres);
        v->two_tyres = kit->card[i].rear != NULL;
        if (v->two_tyres)
            v->rear_tyre = add_tyre(kit, f->vehicle[i].axle[1], &tyres);
        kit->page[i] = hb_page_choice_json(v);
        if (!kit->page[i])
            return HOBBLE_E_MEMORY;
    }
    return HOBBLE_OK;
}

/* ---- all of it ------------------------------------------------------------------------------- */

/* The cells of the table, and the CSV. */
static enum hobble_status fill_rows(struct hb_kit *kit, const struct hb_scope *scope)
{
    struct hb_scope list;
    struct hb_out out;
    const struct hb_row *rows = hb_row_find("rows", 4, scope, &list);
    for (int i = 0; i < kit->r->policy->rows; i++) {
        const struct hb_scope item = hb_row_inside(rows, &list, (size_t)i);
        for (int k = 0; k < HB_POLICY_CELLS; k++)
            hb_say(hb_policy_columns[k].cell, &item, kit->row[i][k], sizeof kit->row[i][k]);
    }
    const enum hobble_status status = hb_out_open(&out);
    if (status != HOBBLE_OK)
        return status;
    hb_render_csv(out.stream, rows, &list);
    if (fflush(out.stream) == 0)
        kit->csv = strdup(out.text);
    hb_out_drop(&out);
    return kit->csv ? HOBBLE_OK : HOBBLE_E_MEMORY;
}

static enum hobble_status fill_tables(struct hb_kit *kit)
{
    const struct hb_policy_report *r = kit->r;
    const struct hb_scope scope = hb_policy_scope(r);
    kit->rules = hb_policy_lines(r, kit->rule);
    kit->row = calloc((size_t)r->policy->rows + 1, sizeof *kit->row);
    kit->json = hb_render_json(&hb_policy_answer, r->c, r);
    return kit->row && kit->json ? fill_rows(kit, &scope) : HOBBLE_E_MEMORY;
}

enum hobble_status hb_kit_make(const struct hb_policy_report *r, struct hb_kit *kit)
{
    char why[400];
    memset(kit, 0, sizeof *kit);
    kit->r = r;
    const enum hobble_status status = fill_tables(kit);
    if (status != HOBBLE_OK || !hb_kit_papers(r, why, sizeof why))
        return status;
    for (int i = 0; i < r->fleet->vehicles; i++) {
        kit->c[i] = vehicle_case(r, i);
        if (!kit->c[i])
            return HOBBLE_E_MEMORY;
        fill_card(kit, i);
        kit->cards++;
    }
    return fill_page(kit);
}

void hb_kit_free(struct hb_kit *kit)
{
    for (int i = 0; i < HOBBLE_FLEET_VEHICLES; i++) {
        hobble_case_free(kit->c[i]);
        json_decref(kit->page[i]);
    }
    json_decref(kit->json);
    free(kit->csv);
    free(kit->row);
}
