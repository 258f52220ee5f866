/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/cli.h"
#include "cli/parts.h"

#include "report/describe/answers.h"
#include "report/describe/card.h"
#include "report/describe/few.h"
#include "report/json/render.h"
#include "report/paper/card_draw.h"

static enum hobble_status body(struct cli *cli, FILE *f, const void *card)
{
    return hb_cli_json(cli, f, hb_render_json(&hb_card_answer, cli->c, card));
}

static enum hobble_status missing_file(struct cli *cli)
{
    struct hobble_fault f = {.status = HOBBLE_E_MISSING};
    hobble_fault_text(f.key, "card");
    hobble_fault_text(f.allowed, "a file for the PDF: -o FILE.pdf");
    return hobble_faults_add(&cli->faults, &f);
}

int hb_cli_card(struct cli *cli)
{
    struct hb_card card;
    if (!cli->json && !hb_part_built(HB_PART_PDF))
        return hb_part_missing("card", HB_PART_PDF);
    enum hobble_status status = cli->json || cli->output ? HOBBLE_OK : missing_file(cli);
    if (status == HOBBLE_OK)
        status = hb_card_make(cli->c, cli->threads, &card, &cli->faults);
    if (status == HOBBLE_OK && !cli->json)
        status = hb_few_refuse(cli->c, card.counted, "card", &cli->faults);
    if (status == HOBBLE_OK)
        status = cli->json ? hb_cli_print(cli, body, &card)
                           : hb_card_write(cli->output, cli->c, &card, cli->us);
    return status == HOBBLE_OK ? 0 : hb_cli_fail(cli, status);
}
