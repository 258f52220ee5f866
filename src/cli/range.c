/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/cli.h"

#include "report/describe/answers.h"
#include "report/describe/screen.h"
#include "report/json/render.h"
#include "report/picture/charts.h"
#include "report/text/answers.h"
#include "report/text/explain.h"
#include "report/text/range.h"

#include <math.h>

static enum hobble_status body(struct cli *cli, FILE *f, const void *answer)
{
    if (cli->json)
        return hb_cli_json(cli, f, hb_render_json(&hb_range_answer, cli->c, answer));
    struct hb_screen first;
    hb_screen_begin(&first, cli->output != NULL);
    hb_range_first(&first, cli->c, answer, cli->us);
    hb_range_first_print(f, &first, !cli->full);
    if (cli->full)
        hb_range_full(f, cli->c, answer, cli->us);
    if (cli->explain)
        hb_range_rim(f, cli->c, answer, cli->us);
    return hb_cli_explain(cli, f);
}

/* The picture shows the way to the rule's cap or to the destination, whichever is farther. */
static enum hobble_status plot(struct cli *cli, const struct hobble_answer *answer)
{
    struct hobble_trace_point trace[HOBBLE_TRACE_POINTS];
    double way = fmax(answer->rule_distance, answer->advised_distance);
    if (!isnan(answer->to))
        way = fmax(way, answer->to);
    const enum hobble_status status =
        hobble_trace(cli->c, cli->threads, 1.25 * way, trace, &cli->faults);
    return status == HOBBLE_OK ? hb_chart_range(cli->plot, cli->c, answer, trace, cli->us) : status;
}

int hb_cli_range(struct cli *cli)
{
    struct hobble_answer answer;
    enum hobble_status status = hobble_range(cli->c, cli->threads, &answer, &cli->faults);
    if (status == HOBBLE_OK && cli->plot)
        status = hb_cli_wrote(cli, cli->plot, plot(cli, &answer));
    if (status == HOBBLE_OK)
        status = hb_cli_print(cli, body, &answer);
    if (status != HOBBLE_OK)
        return hb_cli_fail(cli, status);
    return cli->check && answer.verdict != HOBBLE_GO ? 1 : 0;
}
