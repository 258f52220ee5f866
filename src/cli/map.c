/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/cli.h"
#include "cli/field.h"

#include "report/map.h"
#include "report/out.h"
#include "report/range.h"

#include <string.h>
#include <strings.h>

/* CSV by --csv, or by the name of the file. */
static bool wants_csv(const struct cli *cli)
{
    const size_t length = cli->output ? strlen(cli->output) : 0;
    return cli->csv ||
           (!cli->json && length > 4 && strcasecmp(cli->output + length - 4, ".csv") == 0);
}

static enum hobble_status print(const struct cli *cli, const struct hobble_map *map)
{
    struct hb_out out;
    enum hobble_status status = hb_out_open(&out);
    if (status != HOBBLE_OK)
        return status;
    if (wants_csv(cli))
        hb_map_csv(out.stream, map);
    else if (cli->json)
        status = hb_map_json(out.stream, cli->c, map, NULL);
    else
        status = hb_map_text(out.stream, cli->c, map, cli->us);
    if (status == HOBBLE_OK && cli->explain && !cli->json && !wants_csv(cli))
        status = hb_explain_table(out.stream, cli->c);
    if (status == HOBBLE_OK)
        return hb_out_close(&out, cli->output);
    hb_out_drop(&out);
    return status;
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
        status = hb_chart_map(cli->plot, cli->c, &map, cli->us);
    if (status == HOBBLE_OK)
        status = print(cli, &map);
    hobble_map_free(&map);
    return status == HOBBLE_OK ? 0 : hb_cli_fail(cli, status);
}
