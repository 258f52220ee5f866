/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/cli.h"
#include "cli/field.h"

#include "input/near.h"

#include "report/describe/answers.h"
#include "report/json/render.h"
#include "report/picture/charts.h"
#include "report/text/answers.h"

#include <stdlib.h>
#include <string.h>

/* Each picture: makes its numbers, draws them when asked, prints them. There is no answer to pass.
 */

static enum hobble_status wall(struct cli *cli, FILE *f, const void *unused)
{
    (void)unused;
    struct hobble_wall w;
    enum hobble_status status = hobble_wall_make(cli->c, &w, &cli->faults);
    if (status == HOBBLE_OK && cli->plot)
        status = hb_cli_wrote(cli, cli->plot, hb_chart_wall(cli->plot, cli->c, &w, cli->us));
    if (status != HOBBLE_OK)
        return status;
    if (cli->json)
        return hb_cli_json(cli, f, hb_render_json(&hb_wall_answer, cli->c, &w));
    hb_wall_text(f, cli->c, &w, cli->us);
    return hb_cli_explain(cli, f);
}

static enum hobble_status life(struct cli *cli, FILE *f, const void *unused)
{
    (void)unused;
    struct hobble_life way;
    enum hobble_status status = hobble_life_make(cli->c, cli->threads, &way, &cli->faults);
    if (status == HOBBLE_OK && cli->plot)
        status = hb_cli_wrote(cli, cli->plot, hb_chart_life(cli->plot, cli->c, &way, cli->us));
    if (status != HOBBLE_OK)
        return status;
    if (cli->json)
        return hb_cli_json(cli, f, hb_render_json(&hb_life_answer, cli->c, &way));
    hb_life_text(f, cli->c, &way, cli->us);
    return hb_cli_explain(cli, f);
}

static enum hobble_status mark(struct cli *cli, FILE *f, const void *unused)
{
    (void)unused;
    struct hobble_mark_worth m;
    enum hobble_status status = hobble_mark_make(cli->c, cli->threads, &m, &cli->faults);
    if (status == HOBBLE_OK && cli->plot)
        status = hb_cli_wrote(cli, cli->plot, hb_chart_mark(cli->plot, cli->c, &m, cli->us));
    if (status != HOBBLE_OK)
        return status;
    if (cli->json)
        return hb_cli_json(cli, f, hb_render_json(&hb_mark_answer, cli->c, &m));
    status = hb_mark_text(f, cli->c, &m, cli->us);
    return status == HOBBLE_OK ? hb_cli_explain(cli, f) : status;
}

static enum hobble_status contour(struct cli *cli, FILE *f, const void *unused)
{
    (void)unused;
    struct hobble_map map = {.made = 0};
    enum hobble_status status = hb_field_make(cli, &map);
    if (status == HOBBLE_OK && cli->plot)
        status = hb_cli_wrote(cli, cli->plot, hb_chart_contour(cli->plot, cli->c, &map, cli->us));
    if (status == HOBBLE_OK)
        status = cli->json ? hb_cli_json(cli, f, hb_render_json(&hb_contour_answer, cli->c, &map))
                           : hb_map_text(f, cli->c, &map, cli->us);
    if (status == HOBBLE_OK && !cli->json)
        status = hb_cli_explain(cli, f);
    hobble_map_free(&map);
    return status;
}

static const struct {
    const char *name;
    hb_body *body;
} pictures[] = {{"wall", wall}, {"contour", contour}, {"life", life}, {"mark", mark}};

int hb_cli_show(struct cli *cli)
{
    for (size_t i = 0; i < sizeof pictures / sizeof *pictures; i++) {
        if (strcmp(cli->word[0], pictures[i].name) != 0)
            continue;
        const enum hobble_status status = hb_cli_print(cli, pictures[i].body, NULL);
        return status == HOBBLE_OK ? 0 : hb_cli_fail(cli, status);
    }
    char shown[HOBBLE_FAULT_TEXT];
    struct hb_near near = hb_near_to(cli->word[0]);
    hobble_fault_text(shown, cli->word[0]);
    for (size_t i = 0; i < sizeof pictures / sizeof *pictures; i++)
        hb_near_try(&near, pictures[i].name);
    fprintf(stderr, "hobble show: '%s' is none of wall, contour, life or mark", shown);
    hb_cli_meant(&near, "");
    return hobble_status_exit(HOBBLE_E_USAGE);
}
