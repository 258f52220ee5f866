/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/parts.h"
#include "cli/policy.h"

#include "report/describe/policy.h"
#include "report/json/json.h"
#include "report/out.h"
#include "report/paper/card_draw.h"
#include "report/paper/kit.h"
#include "report/paper/page.h"
#include "report/paper/policy_sheet.h"
#include "report/picture/charts.h"
#include "report/text/answers.h"

#include <stdio.h>
#include <unistd.h>

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

typedef enum hobble_status printer(FILE *f, const struct hb_kit *kit);

static enum hobble_status csv(FILE *f, const struct hb_kit *kit)
{
    fputs(kit->csv, f);
    return HOBBLE_OK;
}

static enum hobble_status json(FILE *f, const struct hb_kit *kit)
{
    return hb_json_print(f, json_incref(kit->json));
}

static enum hobble_status text(FILE *f, const struct hb_kit *kit)
{
    const enum hobble_status status = hb_policy_text(f, kit->r);
    return status == HOBBLE_OK ? hb_policy_explain(f, kit->r) : status;
}

static enum hobble_status write_one(struct cli *cli, const char *name, printer *print,
                                    const struct hb_kit *kit)
{
    struct hb_out out;
    char path[PATH_SIZE];
    enum hobble_status status = hb_out_open(&out);
    if (status != HOBBLE_OK)
        return status;
    status = print(out.stream, kit);
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

static enum hobble_status card(struct cli *cli, const struct hb_kit *kit, int vehicle)
{
    char name[64], path[PATH_SIZE];
    snprintf(name, sizeof name, "card-%d.pdf", vehicle + 1);
    path_of(cli, name, path);
    return told(cli, name, hb_card_write(path, kit->c[vehicle], &kit->card[vehicle], cli->us));
}

static enum hobble_status page(struct cli *cli, const struct hb_kit *kit)
{
    char path[PATH_SIZE];
    if (!hb_part_built(HB_PART_PAGE)) {
        hb_part_missing("left out: page.html", HB_PART_PAGE);
        return HOBBLE_OK;
    }
    path_of(cli, "page.html", path);
    return told(cli, "page.html",
                hb_page_write(path, kit->choice, kit->choices, cli->us,
                              (unsigned long)kit->r->fleet->seed));
}

/* A paper of an earlier run must not lie beside a table that it does not belong to. */
static void remove_old(const struct cli *cli, const char *name)
{
    char path[PATH_SIZE];
    path_of(cli, name, path);
    unlink(path);
}

static void remove_papers(const struct cli *cli, bool sheet_too)
{
    static const char *const sheet_files[] = {"policy.pdf", "policy-chances.svg",
                                              "policy-costs.svg"};
    char name[64];
    for (size_t i = 0; sheet_too && i < sizeof sheet_files / sizeof *sheet_files; i++)
        remove_old(cli, sheet_files[i]);
    remove_old(cli, "page.html");
    for (int i = 1; i <= HOBBLE_FLEET_VEHICLES; i++) {
        snprintf(name, sizeof name, "card-%d.pdf", i);
        remove_old(cli, name);
    }
}

enum hobble_status hb_policy_files(struct cli *cli, const struct hb_kit *kit)
{
    char why[400];
    const bool with_sheet = hb_kit_sheet(kit->r, why, sizeof why);
    if (!hb_kit_papers(kit->r, why, sizeof why)) {
        fprintf(stderr, "hobble: %s: %s Left out: %scard-1.pdf .. card-%d.pdf, page.html.\n",
                cli->out, why, with_sheet ? "" : "policy.pdf and its pictures, ",
                kit->r->fleet->vehicles);
        remove_papers(cli, !with_sheet);
    }
    enum hobble_status status = write_one(cli, "policy.txt", text, kit);
    if (status == HOBBLE_OK)
        status = write_one(cli, "policy.json", json, kit);
    if (status == HOBBLE_OK)
        status = write_one(cli, "policy.csv", csv, kit);
    if (status == HOBBLE_OK && with_sheet)
        status = sheet(cli, kit->r);
    const bool with_pdf = hb_part_built(HB_PART_PDF);
    if (!with_pdf && kit->cards > 0)
        hb_part_missing("left out: cards and policy.pdf", HB_PART_PDF);
    for (int i = 0; status == HOBBLE_OK && with_pdf && i < kit->cards; i++)
        status = card(cli, kit, i);
    return status == HOBBLE_OK && kit->choices > 0 ? page(cli, kit) : status;
}
