/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/cli.h"

#include "report/describe/answers.h"
#include "report/json/render.h"
#include "report/picture/charts.h"
#include "report/text/answers.h"

static enum hobble_status body(struct cli *cli, FILE *f, const void *why)
{
    if (cli->json)
        return hb_cli_json(cli, f, hb_render_json(&hb_why_answer, cli->c, why));
    const enum hobble_status status = hb_why_text(f, cli->c, why, cli->us);
    return status == HOBBLE_OK ? hb_cli_explain(cli, f) : status;
}

int hb_cli_why(struct cli *cli)
{
    struct hobble_why why;
    enum hobble_status status = hobble_why_find(cli->c, cli->threads, &why, &cli->faults);
    if (status == HOBBLE_OK && cli->plot)
        status = hb_cli_wrote(cli, cli->plot, hb_chart_why(cli->plot, cli->c, &why, cli->us));
    if (status == HOBBLE_OK)
        status = hb_cli_print(cli, body, &why);
    return status == HOBBLE_OK ? 0 : hb_cli_fail(cli, status);
}
