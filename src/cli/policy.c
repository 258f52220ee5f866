/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/policy.h"
#include "cli/cli.h"
#include "cli/field.h"
#include "cli/notes.h"
#include "cli/progress.h"

#include "input/fleet.h"
#include "input/profile_dir.h"
#include "report/json/json.h"
#include "report/parts.h"
#include "report/text/answers.h"

#include <errno.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

/* 57 of 100 members count for the demo fleet; hobble_too_few asks for 400 */
enum { MEMBERS = 800, MEMBERS_MOST = 60000, SHARDS_MOST = 9999, PATH_SIZE = 4096 };

/* A run under way. */
struct work {
    struct cli *cli;
    struct hobble_fleet *fleet;
    struct hobble_policy_condition *condition;
    struct hobble_policy_solved *solved; /* all of them, or one part of a shard */
    struct hobble_policy *policy;
    struct hb_policy_run run;
    char folder[PATH_SIZE];
    long shard, shards; /* 1 of 1: all */
    size_t mine, done;  /* parts of this shard, and those that are there */
};

static enum hobble_status complain(struct cli *cli, enum hobble_status status, const char *key,
                                   const char *given, const char *allowed)
{
    struct hobble_fault f = {.status = status};
    hobble_fault_text(f.key, key);
    hobble_fault_text(f.given, given);
    hobble_fault_text(f.allowed, allowed);
    return hobble_faults_add(&cli->faults, &f);
}

/* ---- what was asked -------------------------------------------------------------------------- */

/* The fleet file says everything but how it is computed. */
static enum hobble_status check_rows(struct cli *cli)
{
    size_t count;
    const struct hobble_param *row = hobble_param_table(&count);
    enum hobble_status status = HOBBLE_OK;
    for (size_t i = 0; i < count; i++)
        if (row[i].group != HOBBLE_STUDY && hobble_case_given(cli->c, (int)i))
            status =
                complain(cli, HOBBLE_E_CONFLICT, row[i].key, hobble_case_origin(cli->c, (int)i),
                         "in the fleet file: hobble policy takes only members, seed and "
                         "required_share from the command line");
    if (hobble_case_number(cli->c, hobble_param_find("members")) > MEMBERS_MOST)
        status = complain(cli, HOBBLE_E_RANGE, "members", "", "20 to 60000 for hobble policy");
    return status;
}

static enum hobble_status read_shard(struct work *w)
{
    struct cli *cli = w->cli;
    char *end;
    w->shard = w->shards = 1;
    if (cli->json && cli->csv)
        return complain(cli, HOBBLE_E_USAGE, "--csv", "", "--csv or --json, not both");
    if (cli->plot)
        return complain(cli, HOBBLE_E_USAGE, "--plot", "",
                        "--out DIR, which draws the pictures too");
    if ((cli->shard || cli->merge) && !cli->out)
        return complain(cli, HOBBLE_E_USAGE, cli->shard ? "--shard" : "--merge", "",
                        "with --out DIR");
    if (cli->shard && cli->merge)
        return complain(cli, HOBBLE_E_USAGE, "--shard", cli->shard, "--shard or --merge, not both");
    if (!cli->shard)
        return HOBBLE_OK;
    w->shard = strtol(cli->shard, &end, 10);
    w->shards = *end == '/' ? strtol(end + 1, &end, 10) : 0;
    if (*end || w->shards < 1 || w->shards > SHARDS_MOST || w->shard < 1 || w->shard > w->shards)
        return complain(cli, HOBBLE_E_USAGE, "--shard", cli->shard,
                        "PART/PARTS, such as 2/4, of at most 9999");
    return HOBBLE_OK;
}

static enum hobble_status read_fleet(struct work *w)
{
    struct cli *cli = w->cli;
    char path[PATH_SIZE];
    enum hobble_status status =
        hb_file_find(cli->word[0], "fleet", "policy", path, sizeof path, &cli->faults);
    if (status == HOBBLE_OK)
        status = hb_fleet_read(path, &w->fleet, &cli->faults);
    if (status != HOBBLE_OK)
        return status;
    for (int i = 0; i < w->fleet->vehicles; i++)
        hb_note_inherited(stderr, w->fleet->vehicle[i].name, w->fleet->vehicle[i].axle[0]);
    hb_members_where_not_given(cli, MEMBERS);
    w->fleet->members = hobble_case_number(cli->c, hobble_param_find("members"));
    w->fleet->seed = hobble_case_number(cli->c, hobble_param_find("seed"));
    w->fleet->required = hobble_case_number(cli->c, hobble_param_find("required_share"));
    status = hobble_policy_list(w->fleet, &w->condition, &w->run.count, &cli->faults);
    w->run.condition = w->condition;
    w->run.digest = hobble_policy_digest(w->fleet);
    w->run.folder = w->folder;
    return status;
}

static enum hobble_status make_folders(struct work *w)
{
    const char *out = w->cli->out;
    if (!out)
        return HOBBLE_OK;
    if (strlen(out) + sizeof "/parts" > sizeof w->folder)
        return complain(w->cli, HOBBLE_E_TOO_LARGE, "--out", out, "a shorter path");
    snprintf(w->folder, sizeof w->folder, "%s/parts", out);
    if (w->cli->merge && access(w->folder, F_OK) != 0)
        return complain(w->cli, HOBBLE_E_NO_INPUT, "--merge", out,
                        "the --out folder of the shards");
    if ((mkdir(out, 0777) != 0 && errno != EEXIST) ||
        (mkdir(w->folder, 0777) != 0 && errno != EEXIST))
        return complain(w->cli, HOBBLE_E_WRITE, "--out", out,
                        "a folder that can be made and written");
    return HOBBLE_OK;
}

/* ---- solving --------------------------------------------------------------------------------- */

static bool is_mine(const struct work *w, size_t part)
{
    return part % (size_t)w->shards == (size_t)w->shard - 1;
}

/* One part: taken from the folder where it is there, else solved and left there. */
static enum hobble_status do_part(struct work *w, size_t part, struct hobble_policy_solved *into,
                                  struct hb_progress *progress)
{
    struct cli *cli = w->cli;
    enum hobble_status status = HOBBLE_E_NO_INPUT;
    char path[PATH_SIZE + 64];
    if (cli->out)
        status = hb_part_read(&w->run, part, into, &cli->faults);
    if (status != HOBBLE_E_NO_INPUT || cli->faults.count > 0)
        return status;
    if (cli->merge) {
        hb_part_path(&w->run, part, path, sizeof path);
        return complain(cli, HOBBLE_E_NO_INPUT, "--merge", path, "every part of every shard");
    }
    status = hobble_policy_solve(w->fleet, &w->condition[hb_part_begin(part)],
                                 hb_part_size(&w->run, part), cli->threads,
                                 isatty(2) ? hb_progress_show : NULL, progress, into, &cli->faults);
    if (status == HOBBLE_OK && cli->out)
        status = hb_part_write(&w->run, part, into);
    return status;
}

static enum hobble_status solve(struct work *w)
{
    const size_t parts = hb_policy_parts(w->run.count);
    const bool keep = w->cli->shard == NULL;
    struct hb_progress progress;
    enum hobble_status status = HOBBLE_OK;
    w->solved = calloc(keep ? w->run.count : HB_PART_CONDITIONS, sizeof *w->solved);
    if (!w->solved)
        return HOBBLE_E_MEMORY;
    for (size_t part = 0; part < parts; part++)
        w->mine += is_mine(w, part);
    hb_progress_begin(&progress);
    for (size_t part = 0; part < parts; part++) {
        if (!is_mine(w, part))
            continue;
        progress.from = (double)w->done / (double)w->mine;
        progress.share = 1.0 / (double)w->mine;
        const enum hobble_status one =
            do_part(w, part, keep ? &w->solved[hb_part_begin(part)] : w->solved, &progress);
        status = status != HOBBLE_OK ? status : one;
        if (status != HOBBLE_OK && !w->cli->merge) /* a merge names all that is missing */
            break;
        w->done++;
    }
    hb_progress_end(&progress);
    return status;
}

/* ---- answers --------------------------------------------------------------------------------- */

/* What the vehicles' profiles leave to the built-in vehicle. */
static json_t *with_inherited(json_t *object, const struct hb_policy_report *report)
{
    json_t *list = json_array();
    for (int i = 0; i < report->fleet->vehicles; i++) {
        json_t *keys = hb_inherited_json(report->fleet->vehicle[i].axle[0]);
        if (json_array_size(keys) > 0)
            json_array_append_new(list, json_pack("{s:s, s:O}", "vehicle",
                                                  report->fleet->vehicle[i].name, "keys", keys));
        json_decref(keys);
    }
    if (object && json_array_size(list) > 0)
        json_object_set(object, "inherited", list);
    json_decref(list);
    return object;
}

static enum hobble_status body(struct cli *cli, FILE *f, const void *of)
{
    const struct hb_kit *kit = of;
    if (cli->json) /* whose inputs explain themselves */
        return hb_json_print(f, with_inherited(json_incref(kit->json), kit->r));
    if (hb_cli_wants_csv(cli)) {
        fputs(kit->csv, f);
        return HOBBLE_OK;
    }
    const enum hobble_status status = hb_policy_text(f, kit->r);
    return status == HOBBLE_OK && cli->explain ? hb_policy_explain(f, kit->r) : status;
}

/* Nothing is written, nor printed, of a kit that contradicts itself. */
static enum hobble_status answer(struct work *w)
{
    w->policy = calloc(1, sizeof *w->policy);
    enum hobble_status status = HOBBLE_E_MEMORY;
    if (w->policy)
        status = hobble_policy_judge(w->fleet, w->condition, w->solved, w->run.count, w->policy,
                                     &w->cli->faults);
    if (status != HOBBLE_OK)
        return status;
    const struct hb_policy_report report = {
        .c = w->cli->c, .fleet = w->fleet, .policy = w->policy, .us = w->cli->us};
    struct hb_kit kit;
    status = hb_kit_make(&report, &kit);
    if (status == HOBBLE_OK)
        status = hb_kit_check(&kit, &w->cli->faults);
    if (status == HOBBLE_OK && w->cli->out)
        status = hb_policy_files(w->cli, &kit);
    if (status == HOBBLE_OK)
        status = hb_cli_print(w->cli, body, &kit);
    hb_kit_free(&kit);
    return status;
}

static enum hobble_status tell_shard(const struct work *w)
{
    printf("shard %ld of %ld: %zu of %zu parts, in %s\n", w->shard, w->shards, w->done,
           hb_policy_parts(w->run.count), w->folder);
    return fflush(stdout) == 0 ? HOBBLE_OK : HOBBLE_E_WRITE;
}

int hb_cli_policy(struct cli *cli)
{
    struct work w = {.cli = cli};
    enum hobble_status status = check_rows(cli);
    const enum hobble_status asked = read_shard(&w);
    status = status != HOBBLE_OK ? status : asked;
    if (status == HOBBLE_OK)
        status = read_fleet(&w);
    if (status == HOBBLE_OK)
        status = make_folders(&w);
    if (status == HOBBLE_OK)
        status = solve(&w);
    if (status == HOBBLE_OK)
        status = cli->shard ? tell_shard(&w) : answer(&w);
    const bool kept = w.policy && w.policy->simple.verified && w.policy->simple.found;
    hobble_fleet_free(w.fleet);
    free(w.condition);
    free(w.solved);
    free(w.policy);
    if (status != HOBBLE_OK)
        return hb_cli_fail(cli, status);
    return cli->check && !cli->shard && !kept ? 1 : 0;
}
