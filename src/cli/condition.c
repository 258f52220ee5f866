/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/condition.h"
#include "cli/cli.h"
#include "cli/parts.h"
#include "cli/today.h"

#include "cli/condition.h"
#include "input/profile.h"
#include "input/profile_dir.h"

#include "report/describe/answers.h"
#include "report/describe/few.h"
#include "report/json/render.h"
#include "report/paper/sheet.h"
#include "report/text/answers.h"

#include <stdlib.h>
#include <string.h>
#include <unistd.h>

/* Every sign of a list looked for and none seen. */
static void no_signs(hobble_case *c, const char *prefix, const char *origin,
                     struct hobble_faults *faults)
{
    size_t rows;
    const struct hobble_param *p = hobble_param_table(&rows);
    for (size_t i = 0; i < rows; i++)
        if (p[i].group == HOBBLE_BENCH && strncmp(p[i].key, prefix, strlen(prefix)) == 0 &&
            !hobble_case_given(c, (int)i))
            hb_set_text(c, p[i].key, p[i].kind == HOBBLE_WORD ? "no" : "0", origin, faults);
}

static void take_options(struct cli *cli)
{
    struct hobble_faults *faults = &cli->faults;
    if (cli->outside_clean)
        no_signs(cli->c, "out_", "--outside-clean", faults);
    if (cli->inside_clean) {
        no_signs(cli->c, "in_", "--inside-clean", faults);
        if (!hobble_case_given(cli->c, hobble_param_find("inspected_inside")))
            hb_set_text(cli->c, "inspected_inside", "yes", "--inside-clean", faults);
    }
}

static enum hobble_status body(struct cli *cli, FILE *f, const void *answer)
{
    if (cli->json)
        return hb_cli_json(cli, f, hb_render_json(&hb_condition_answer, cli->c, answer));
    hb_condition_text(f, cli->c, answer, cli->us);
    return HOBBLE_OK;
}

static enum hobble_status list(struct cli *cli, FILE *f, const void *unused)
{
    (void)cli;
    (void)unused;
    hb_condition_list(f);
    return HOBBLE_OK;
}

static int list_rules(struct cli *cli)
{
    const enum hobble_status status = hb_cli_print(cli, list, NULL);
    return status == HOBBLE_OK ? 0 : hb_cli_fail(cli, status);
}

static enum hobble_status question(struct cli *cli)
{
    char day[HB_DAY_SIZE];
    static struct hb_asking a; /* messages name the file that it holds */
    a = (struct hb_asking){.in = stdin,
                           .out = stderr,
                           .c = cli->c,
                           .threads = cli->threads,
                           .today = hb_today(day),
                           .path = cli->case_file};
    enum hobble_status status = HOBBLE_OK;
    if (!a.path)
        status = hb_kept_choose(&a, &cli->faults);
    else if (access(a.path, F_OK) == 0)
        hb_kept_tell(stderr, a.path, cli->c);
    if (status == HOBBLE_OK && a.path && !a.left)
        status = hb_condition_ask(&a, &cli->faults);
    hb_cli_wrote(cli, a.path, status);
    if (status == HOBBLE_OK && a.path && access(a.path, F_OK) == 0)
        fprintf(stderr, "Kept in %s; go on with: hobble condition --ask --case %s\n\n", a.path,
                a.path);
    hb_asking_end(&a);
    return status;
}

/* A case file that is there was read with the options (--case), so that those after it count;
 * without --ask it has to be there. */
static enum hobble_status go_through_case(struct cli *cli, bool ask)
{
    if (cli->faults.count > 0)
        return cli->faults.item[0].status;
    if (ask)
        return question(cli);
    if (cli->case_file && access(cli->case_file, F_OK) != 0)
        return hb_profile_read_kind(cli->case_file, HOBBLE_BENCH, cli->c, NULL, &cli->faults);
    return HOBBLE_OK;
}

int hb_cli_condition(struct cli *cli)
{
    struct hobble_condition_answer answer;
    if (cli->list)
        return list_rules(cli);
    if (cli->sheet && !hb_part_built(HB_PART_PDF))
        return hb_part_missing("--sheet", HB_PART_PDF);
    const bool by_itself = cli->bare && isatty(STDIN_FILENO) && isatty(STDOUT_FILENO);
    enum hobble_status status = go_through_case(cli, cli->ask || by_itself);
    if (status == HOBBLE_OK) {
        take_options(cli);
        hb_date_it(cli->c, &cli->faults);
        status = cli->faults.count > 0 ? cli->faults.item[0].status : HOBBLE_OK;
    }
    if (status == HOBBLE_OK)
        status = hobble_condition_judge(cli->c, cli->threads, &answer, &cli->faults);
    if (status == HOBBLE_OK && cli->sheet && answer.drive.run) /* over all types that are drawn */
        status =
            hb_few_refuse(cli->c, (int)hobble_case_number(cli->c, hobble_param_find("members")),
                          "bench sheet", &cli->faults);
    if (status == HOBBLE_OK && cli->sheet)
        status =
            hb_cli_wrote(cli, cli->sheet, hb_sheet_write(cli->sheet, cli->c, &answer, cli->us));
    if (status == HOBBLE_OK)
        status = hb_cli_print(cli, body, &answer);
    if (status != HOBBLE_OK)
        return hb_cli_fail(cli, status);
    return cli->check && answer.verdict == HOBBLE_SCRAP ? 1 : 0;
}
