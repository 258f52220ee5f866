/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/cli.h"
#include "cli/field.h"

#include "report/map.h"
#include "report/out.h"
#include "report/range.h"
#include "report/show.h"

#include <stdlib.h>
#include <string.h>

/* Each picture: makes its numbers, draws them when asked, prints them. */
typedef enum hobble_status picture(struct cli *cli, FILE *f);

static enum hobble_status wall(struct cli *cli, FILE *f)
{
    struct hobble_wall w;
    enum hobble_status status = hobble_wall_make(cli->c, &w, &cli->faults);
    if (status == HOBBLE_OK && cli->plot)
        status = hb_chart_wall(cli->plot, cli->c, &w, cli->us);
    if (status != HOBBLE_OK)
        return status;
    if (cli->json)
        return hb_wall_json(f, cli->c, &w);
    hb_wall_text(f, cli->c, &w, cli->us);
    return HOBBLE_OK;
}

static enum hobble_status life(struct cli *cli, FILE *f)
{
    struct hobble_life way;
    enum hobble_status status = hobble_life_make(cli->c, cli->threads, &way, &cli->faults);
    if (status == HOBBLE_OK && cli->plot)
        status = hb_chart_life(cli->plot, cli->c, &way, cli->us);
    if (status != HOBBLE_OK)
        return status;
    if (cli->json)
        return hb_life_json(f, cli->c, &way);
    hb_life_text(f, cli->c, &way, cli->us);
    return HOBBLE_OK;
}

static enum hobble_status mark(struct cli *cli, FILE *f)
{
    struct hobble_mark_worth m;
    enum hobble_status status = hobble_mark_make(cli->c, cli->threads, &m, &cli->faults);
    if (status == HOBBLE_OK && cli->plot)
        status = hb_chart_mark(cli->plot, cli->c, &m, cli->us);
    if (status != HOBBLE_OK)
        return status;
    return cli->json ? hb_mark_json(f, cli->c, &m) : hb_mark_text(f, cli->c, &m, cli->us);
}

static enum hobble_status equal(struct cli *cli, FILE *f)
{
    struct hobble_map map = {.made = 0};
    enum hobble_status status = hb_field_make(cli, &map);
    if (status == HOBBLE_OK && cli->plot)
        status = hb_chart_equal(cli->plot, cli->c, &map, cli->us);
    if (status == HOBBLE_OK)
        status = cli->json ? hb_map_json(f, cli->c, &map, "equal")
                           : hb_map_text(f, cli->c, &map, cli->us);
    hobble_map_free(&map);
    return status;
}

static const struct {
    const char *name;
    picture *make;
} pictures[] = {{"wall", wall}, {"equal", equal}, {"life", life}, {"mark", mark}};

int hb_cli_show(struct cli *cli)
{
    for (size_t i = 0; i < sizeof pictures / sizeof *pictures; i++) {
        struct hb_out out;
        if (strcmp(cli->word[0], pictures[i].name) != 0)
            continue;
        enum hobble_status status = hb_out_open(&out);
        if (status == HOBBLE_OK) {
            status = pictures[i].make(cli, out.stream);
            if (status == HOBBLE_OK && cli->explain && !cli->json)
                status = hb_explain_table(out.stream, cli->c);
            if (status == HOBBLE_OK)
                status = hb_out_close(&out, cli->output);
            else
                hb_out_drop(&out);
        }
        return status == HOBBLE_OK ? 0 : hb_cli_fail(cli, status);
    }
    char shown[HOBBLE_FAULT_TEXT];
    hobble_fault_text(shown, cli->word[0]);
    fprintf(stderr, "hobble show: '%s' is none of wall, equal, life or mark\n", shown);
    return hobble_status_exit(HOBBLE_E_USAGE);
}
