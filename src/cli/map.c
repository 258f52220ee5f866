/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/cli.h"
#include "cli/field.h"

#include "report/describe/answers.h"
#include "report/json/render.h"
#include "report/picture/charts.h"
#include "report/text/answers.h"

#include <string.h>

static enum hobble_status body(struct cli *cli, FILE *f, const void *map)
{
    if (hb_cli_wants_csv(cli)) {
        struct hb_scope list;
        const struct hb_scope scope = hb_answer_scope(&hb_map_answer, cli->c, map, false);
        hb_render_csv(f, hb_row_find("cells", strlen("cells"), &scope, &list), &scope);
        return HOBBLE_OK;
    }
    if (cli->json)
        return hb_cli_json(cli, f, hb_render_json(&hb_map_answer, cli->c, map));
    const enum hobble_status status = hb_map_text(f, cli->c, map, cli->us);
    return status == HOBBLE_OK ? hb_cli_explain(cli, f) : status;
}

int hb_cli_map(struct cli *cli)
{
    struct hobble_map map = {.made = 0};
    enum hobble_status status = HOBBLE_OK;
    if (cli->csv && cli->json) {
        struct hobble_fault f = {.status = HOBBLE_E_USAGE};
        hobble_fault_text(f.key, "--csv");
        hobble_fault_text(f.allowed, "--csv or --json, not both");
        status = hobble_faults_add(&cli->faults, &f);
    }
    if (status == HOBBLE_OK)
        status = hb_field_make(cli, &map);
    if (status == HOBBLE_OK && cli->plot)
        status = hb_cli_wrote(cli, cli->plot, hb_chart_map(cli->plot, cli->c, &map, cli->us));
    if (status == HOBBLE_OK)
        status = hb_cli_print(cli, body, &map);
    hobble_map_free(&map);
    return status == HOBBLE_OK ? 0 : hb_cli_fail(cli, status);
}
