/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/cli.h"

#include "input/quantity.h"
#include "report/describe/answers.h"
#include "report/json/render.h"
#include "report/text/answers.h"

#include <string.h>

static enum hobble_status bad_rule(struct cli *cli, const char *part, enum hobble_status status)
{
    struct hobble_fault f = {.status = status};
    hobble_fault_text(f.key, "--rule");
    hobble_fault_text(f.given, part);
    hobble_fault_text(f.allowed, "DISTANCE@SPEED, such as 50km@60km/h; at most 80km@80km/h");
    return hobble_faults_add(&cli->faults, &f);
}

/* "50km@60km/h" */
static enum hobble_status read_rule(struct cli *cli, double *distance, double *speed)
{
    char part[HOBBLE_FAULT_TEXT];
    double km = 80.0, kmh = 80.0;
    if (cli->rule) {
        const char *at = strchr(cli->rule, '@');
        if (!at || (size_t)(at - cli->rule) >= sizeof part)
            return bad_rule(cli, cli->rule, HOBBLE_E_SYNTAX);
        memcpy(part, cli->rule, (size_t)(at - cli->rule));
        part[at - cli->rule] = '\0';
        enum hobble_status status =
            hb_quantity_parse(part, HOBBLE_UNIT_KILOMETRE, HB_QUANTITY, &km, NULL);
        if (status == HOBBLE_OK)
            status = hb_quantity_parse(at + 1, HOBBLE_UNIT_KM_PER_HOUR, HB_QUANTITY, &kmh, NULL);
        if (status != HOBBLE_OK)
            return bad_rule(cli, cli->rule, status);
        if (!(km >= 1.0 && km <= 80.0 * (1 + 1e-9) && kmh >= 1.0 && kmh <= 80.0 * (1 + 1e-9)))
            return bad_rule(cli, cli->rule, HOBBLE_E_RANGE);
    }
    *distance = hobble_unit_to_si(HOBBLE_UNIT_KILOMETRE, km < 80.0 ? km : 80.0);
    *speed = hobble_unit_to_si(HOBBLE_UNIT_KM_PER_HOUR, kmh < 80.0 ? kmh : 80.0);
    return HOBBLE_OK;
}

static enum hobble_status body(struct cli *cli, FILE *f, const void *answer)
{
    if (cli->json)
        return hb_cli_json(cli, f, hb_render_json(&hb_rule_answer, cli->c, answer));
    hb_rule_text(f, cli->c, answer, cli->us);
    return hb_cli_explain(cli, f);
}

int hb_cli_rule(struct cli *cli)
{
    struct hobble_rule_answer answer;
    double distance = 0.0, speed = 0.0;
    enum hobble_status status = read_rule(cli, &distance, &speed);
    if (status == HOBBLE_OK)
        status = hobble_rule(cli->c, speed, distance, cli->threads, &answer, &cli->faults);
    if (status == HOBBLE_OK)
        status = hb_cli_print(cli, body, &answer);
    if (status != HOBBLE_OK)
        return hb_cli_fail(cli, status);
    return cli->check && !answer.holds ? 1 : 0;
}
