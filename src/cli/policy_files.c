/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/parts.h"
#include "cli/policy.h"

#include "report/card.h"
#include "report/chart.h"
#include "report/json.h"
#include "report/out.h"
#include "report/page.h"

#include <stdio.h>
#include <string.h>

enum { PATH_SIZE = 4200 };

/* A file that cannot be made is named: there are several. */
static enum hobble_status told(struct cli *cli, const char *name, enum hobble_status status)
{
    struct hobble_fault f = {.status = status};
    char path[PATH_SIZE];
    if (status == HOBBLE_OK || cli->faults.count > 0)
        return status;
    snprintf(path, sizeof path, "%s/%s", cli->out, name);
    hobble_fault_text(f.file, path);
    return hobble_faults_add(&cli->faults, &f);
}

static void path_of(const struct cli *cli, const char *name, char path[PATH_SIZE])
{
    snprintf(path, PATH_SIZE, "%s/%s", cli->out, name);
}

typedef enum hobble_status printer(FILE *f, const struct hb_policy_report *report);

static enum hobble_status csv(FILE *f, const struct hb_policy_report *report)
{
    hb_policy_csv(f, report);
    return HOBBLE_OK;
}

static enum hobble_status json(FILE *f, const struct hb_policy_report *report)
{
    return hb_json_print(f, hb_policy_json(report));
}

static enum hobble_status text(FILE *f, const struct hb_policy_report *report)
{
    const enum hobble_status status = hb_policy_text(f, report);
    return status == HOBBLE_OK ? hb_policy_explain(f, report) : status;
}

static enum hobble_status write_one(struct cli *cli, const char *name, printer *print,
                                    const struct hb_policy_report *report)
{
    struct hb_out out;
    char path[PATH_SIZE];
    enum hobble_status status = hb_out_open(&out);
    if (status != HOBBLE_OK)
        return status;
    status = print(out.stream, report);
    path_of(cli, name, path);
    if (status == HOBBLE_OK)
        return told(cli, name, hb_out_close(&out, path));
    hb_out_drop(&out);
    return status;
}

static enum hobble_status sheet(struct cli *cli, const struct hb_policy_report *report)
{
    char chances[PATH_SIZE], costs[PATH_SIZE], path[PATH_SIZE];
    path_of(cli, "policy-chances.svg", chances);
    path_of(cli, "policy-costs.svg", costs);
    path_of(cli, "policy.pdf", path);
    enum hobble_status status = hb_chart_policy(chances, report);
    if (status == HOBBLE_E_NO_INPUT) { /* and without pictures no sheet */
        hb_part_missing("left out: pictures and policy.pdf", HB_PART_PICTURES);
        return HOBBLE_OK;
    }
    status = told(cli, "policy-chances.svg", status);
    if (status == HOBBLE_OK)
        status = told(cli, "policy-costs.svg", hb_chart_policy_cost(costs, report));
    if (status != HOBBLE_OK || !hb_part_built(HB_PART_PDF))
        return status;
    return told(cli, "policy.pdf", hb_policy_sheet(path, report, chances, costs));
}

/* The vehicle as the policy has it: tyres of an axle, the fleet's delay, speed and sample. */
static hobble_case *vehicle_case(const struct hb_policy_report *r, int vehicle, int axle)
{
    static const struct {
        const char *row, *number;
    } same[] = {{"unseen", "detection_delay"},
                {"speed_before", "speed_before"},
                {"speed_limit", "speed_limit"}};
    hobble_case *c = hobble_case_clone(r->fleet->vehicle[vehicle].axle[axle]);
    for (size_t i = 0; c && i < sizeof same / sizeof *same; i++)
        hobble_case_set_number(c, hobble_param_find(same[i].row),
                               r->fleet->number[hobble_fleet_find(same[i].number)].value, "fleet",
                               NULL);
    if (c) { /* at the speed of the rule that the driver is told */
        hobble_case_set_number(
            c, hobble_param_find("speed"),
            hobble_unit_from_si(HOBBLE_UNIT_KM_PER_HOUR, r->policy->simple.speed), "fleet", NULL);
        hobble_case_set_number(c, hobble_param_find("members"), r->fleet->members, "fleet", NULL);
        hobble_case_set_number(c, hobble_param_find("seed"), r->fleet->seed, "fleet", NULL);
    }
    return c;
}

/* A vehicle whose axles have other tyres gets a card for each axle's. */
static enum hobble_status card(struct cli *cli, const struct hb_policy_report *r, int vehicle,
                               int axle)
{
    char name[64], path[PATH_SIZE];
    struct hb_card made;
    hobble_case *c = vehicle_case(r, vehicle, axle);
    enum hobble_status status = c ? HOBBLE_OK : HOBBLE_E_MEMORY;
    snprintf(name, sizeof name, "card-%d%s.pdf", vehicle + 1, axle == 1 ? "-rear" : "");
    path_of(cli, name, path);
    if (status == HOBBLE_OK)
        status = hb_card_make(c, cli->threads, &made, &cli->faults);
    if (status == HOBBLE_OK)
        status = hb_card_write(path, c, &made, cli->us);
    hobble_case_free(c);
    return told(cli, name, status);
}

static bool same_tyres(const struct hobble_fleet_vehicle *v)
{
    const int row = hobble_param_find("marking");
    return strcmp(hobble_case_text(v->axle[0], row), hobble_case_text(v->axle[1], row)) == 0;
}

static enum hobble_status page(struct cli *cli, const struct hb_policy_report *r)
{
    struct hb_page_choice choice[2 * HOBBLE_FLEET_VEHICLES];
    char path[PATH_SIZE];
    size_t n = 0;
    if (!hb_part_built(HB_PART_PAGE)) {
        hb_part_missing("left out: page.html", HB_PART_PAGE);
        return HOBBLE_OK;
    }
    for (int i = 0; i < r->fleet->vehicles; i++) {
        hobble_case *c = r->fleet->vehicle[i].axle[0];
        choice[n] = (struct hb_page_choice){.group = HOBBLE_VEHICLE, .c = c, .tyre = i};
        hobble_fault_text(choice[n++].name, r->fleet->vehicle[i].name);
        choice[n] = (struct hb_page_choice){.group = HOBBLE_TYRE, .c = c};
        hobble_fault_text(choice[n++].name, hobble_case_text(c, hobble_param_find("tyre_name")));
    }
    path_of(cli, "page.html", path);
    return told(cli, "page.html",
                hb_page_write(path, choice, n, cli->us, (unsigned long)r->fleet->seed));
}

enum hobble_status hb_policy_files(struct cli *cli, const struct hb_policy_report *r)
{
    enum hobble_status status = write_one(cli, "policy.txt", text, r);
    if (status == HOBBLE_OK)
        status = write_one(cli, "policy.json", json, r);
    if (status == HOBBLE_OK)
        status = write_one(cli, "policy.csv", csv, r);
    if (status == HOBBLE_OK)
        status = sheet(cli, r);
    const bool with_pdf = hb_part_built(HB_PART_PDF);
    if (!with_pdf)
        hb_part_missing("left out: cards and policy.pdf", HB_PART_PDF);
    for (int i = 0; status == HOBBLE_OK && with_pdf && i < r->fleet->vehicles; i++) {
        status = card(cli, r, i, 0);
        if (status == HOBBLE_OK && !same_tyres(&r->fleet->vehicle[i]))
            status = card(cli, r, i, 1);
    }
    return status == HOBBLE_OK ? page(cli, r) : status;
}
