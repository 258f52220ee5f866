/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/cli.h"

#include "input/evidence.h"
#include "report/describe/answers.h"
#include "report/describe/screen.h"
#include "report/json/render.h"
#include "report/out.h"
#include "report/picture/charts.h"
#include "report/text/answers.h"
#include "report/text/explain.h"
#include "report/text/range.h"

#include <string.h>
#include <unistd.h>

/* ---- the logs ---------------------------------------------------------------------------------
 */

/* Bytes as they come, for a pipe may be slow. */
static enum hobble_status read_standard(hobble_log *log, struct hobble_faults *sink)
{
    char bytes[4096];
    ssize_t got = 0;
    enum hobble_status status = hobble_log_begin(log, "standard input", sink);
    while (status == HOBBLE_OK && (got = read(STDIN_FILENO, bytes, sizeof bytes)) > 0)
        status = hobble_log_feed(log, bytes, (size_t)got, sink);
    if (got < 0)
        return HOBBLE_E_NO_INPUT;
    return status == HOBBLE_OK ? hobble_log_finish(log, sink) : status;
}

static enum hobble_status read_logs(struct cli *cli, hobble_recording *recording,
                                    struct hobble_log_tally *tally)
{
    const struct hobble_log_options options = {.columns = cli->columns, .sensor = cli->sensor};
    hobble_log *log = hobble_log_new(&options, hobble_recording_take, recording);
    enum hobble_status status = log ? HOBBLE_OK : HOBBLE_E_MEMORY;
    for (int i = 0; i < cli->words && status == HOBBLE_OK; i++) {
        hobble_recording_next(recording);
        status = strcmp(cli->word[i], "-") == 0 ? read_standard(log, &cli->faults)
                                                : hobble_log_read(log, cli->word[i], &cli->faults);
    }
    if (status == HOBBLE_OK)
        *tally = *hobble_log_tally(log);
    hobble_log_free(log);
    return status;
}

/* ---- evidence ---------------------------------------------------------------------------------
 */

static enum hobble_status write_item(struct cli *cli, const hobble_case *one)
{
    struct hb_out out;
    enum hobble_status status = hb_out_open(&out);
    if (status != HOBBLE_OK)
        return status;
    fputs("# One run, out of its log; look it over before it is used: whose tyre, how old, how it\n"
          "# ended. Read it with --profile beside the tyre's own profile.\n"
          "kind = \"tyre\";\n",
          out.stream);
    hb_evidence_write(out.stream, one);
    return hb_out_close(&out, cli->evidence);
}

static enum hobble_status write_evidence(struct cli *cli, const struct hb_replay_report *report)
{
    struct hobble_evidence item;
    hobble_case *one = hobble_case_new();
    enum hobble_status status =
        one ? hobble_replay_evidence(cli->c, &report->replay, &item, &cli->faults)
            : HOBBLE_E_MEMORY;
    if (status == HOBBLE_OK) {
        hobble_fault_text(item.source, cli->word[0]);
        status = hobble_case_evidence_add(one, &item, &cli->faults);
    }
    if (status == HOBBLE_OK)
        status = hb_cli_wrote(cli, cli->evidence, write_item(cli, one));
    hobble_case_free(one);
    return status;
}

/* ---- the answer -------------------------------------------------------------------------------
 */

static enum hobble_status body(struct cli *cli, FILE *f, const void *answer)
{
    const struct hb_replay_report *report = answer;
    struct hb_screen first;
    if (cli->json)
        return hb_cli_json(cli, f, hb_render_json(&hb_replay_answer, cli->c, report));
    hb_screen_begin(&first, true);
    hb_range_first(&first, cli->c, &report->replay.answer, cli->us);
    hb_range_first_print(f, &first, false);
    if (cli->full)
        hb_range_full(f, cli->c, &report->replay.answer, cli->us);
    hb_replay_text(f, cli->c, report, cli->us);
    return hb_cli_explain(cli, f);
}

static enum hobble_status answer(struct cli *cli, const hobble_recording *recording,
                                 struct hb_replay_report *report)
{
    enum hobble_status status =
        hobble_replay(cli->c, recording, cli->threads, &report->replay, &cli->faults);
    if (status == HOBBLE_OK && cli->plot)
        status = hb_cli_wrote(cli, cli->plot, hb_chart_replay(cli->plot, cli->c, report, cli->us));
    if (status == HOBBLE_OK && cli->evidence)
        status = write_evidence(cli, report);
    return status == HOBBLE_OK ? hb_cli_print(cli, body, report) : status;
}

int hb_cli_replay(struct cli *cli)
{
    struct hb_replay_report report = {.logs = cli->words};
    hobble_recording *recording = hobble_recording_new();
    enum hobble_status status = recording ? HOBBLE_OK : HOBBLE_E_MEMORY;
    if (status == HOBBLE_OK)
        status = read_logs(cli, recording, &report.tally);
    if (status == HOBBLE_OK)
        status = answer(cli, recording, &report);
    hobble_recording_free(recording);
    if (status != HOBBLE_OK)
        return hb_cli_fail(cli, status);
    return cli->check && report.replay.answer.verdict != HOBBLE_GO ? 1 : 0;
}
