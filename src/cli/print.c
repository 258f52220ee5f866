/* SPDX-License-Identifier: GPL-3.0-or-later */
/* print.c - an answer on its way out, the same for every command. */
#include "cli/cli.h"

#include "report/json/json.h"
#include "report/json/render.h"
#include "report/out.h"
#include "report/text/explain.h"

enum hobble_status hb_cli_print(struct cli *cli, hb_body *body, const void *answer)
{
    struct hb_out out;
    enum hobble_status status = hb_out_open(&out);
    if (status != HOBBLE_OK)
        return status;
    status = body(cli, out.stream, answer);
    if (status == HOBBLE_OK)
        return hb_out_close(&out, cli->output);
    hb_out_drop(&out);
    return status;
}

enum hobble_status hb_cli_json(struct cli *cli, FILE *f, json_t *object)
{
    enum hobble_status status = HOBBLE_OK;
    if (object && (cli->command->takes & TAKES_TYRE))
        hb_render_end(object, hb_note_rows, cli->c);
    if (object && cli->explain) {
        status = hobble_case_fill_in(cli->c, &cli->faults);
        hb_render_end(object, hb_explain_rows, cli->c);
    }
    const enum hobble_status printed = hb_json_print(f, object);
    return status != HOBBLE_OK ? status : printed;
}

enum hobble_status hb_cli_explain(struct cli *cli, FILE *f)
{
    if (!cli->explain)
        return HOBBLE_OK;
    const enum hobble_status status = hobble_case_fill_in(cli->c, &cli->faults);
    return status == HOBBLE_OK ? hb_explain_table(f, cli->c) : status;
}

enum hobble_status hb_cli_wrote(struct cli *cli, const char *path, enum hobble_status status)
{
    if (status == HOBBLE_E_WRITE)
        cli->output = path;
    return status;
}

bool hb_cli_wants_csv(const struct cli *cli)
{
    return cli->csv || (!cli->json && cli->output && hb_ends_in(cli->output, ".csv"));
}
