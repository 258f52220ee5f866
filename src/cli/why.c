/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/cli.h"
#include "cli/field.h"

#include "report/out.h"
#include "report/range.h"
#include "report/why.h"

enum { BASE = 1000 };

static enum hobble_status print(const struct cli *cli, const struct hobble_why *why)
{
    struct hb_out out;
    enum hobble_status status = hb_out_open(&out);
    if (status != HOBBLE_OK)
        return status;
    status = cli->json ? hb_why_json(out.stream, cli->c, why)
                       : hb_why_text(out.stream, cli->c, why, cli->us);
    if (status == HOBBLE_OK && cli->explain && !cli->json)
        status = hb_explain_table(out.stream, cli->c);
    if (status == HOBBLE_OK)
        return hb_out_close(&out, cli->output);
    hb_out_drop(&out);
    return status;
}

int hb_cli_why(struct cli *cli)
{
    struct hobble_why why;
    hb_members_where_not_given(cli, BASE);
    enum hobble_status status = hobble_why_find(cli->c, cli->threads, &why, &cli->faults);
    if (status == HOBBLE_OK && cli->plot)
        status = hb_chart_why(cli->plot, cli->c, &why, cli->us);
    if (status == HOBBLE_OK)
        status = print(cli, &why);
    return status == HOBBLE_OK ? 0 : hb_cli_fail(cli, status);
}
