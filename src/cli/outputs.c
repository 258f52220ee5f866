/* SPDX-License-Identifier: GPL-3.0-or-later */
/* outputs.c - files to be written, looked at before anything is computed. */
#include "cli/cli.h"

#include "report/picture/gnuplot.h"

#include <string.h>
#include <strings.h>
#include <sys/stat.h>

static void refuse(struct cli *cli, enum hobble_status status, const char *option,
                   const char *given, const char *allowed)
{
    struct hobble_fault f = {.status = status};
    hobble_fault_text(f.key, option);
    hobble_fault_text(f.given, given);
    hobble_fault_text(f.allowed, allowed);
    hobble_faults_add(&cli->faults, &f);
}

/* Where a file of that name stands or would stand: by its folder, as it need not be there yet. */
static bool folder_of(const char *path, struct stat *folder, const char **base)
{
    char name[4096];
    const char *slash = strrchr(path, '/');
    const size_t length = slash ? (size_t)(slash - path) + 1 : 0;
    if (length >= sizeof name)
        return false;
    memcpy(name, path, length);
    name[length] = '\0';
    *base = path + length;
    return stat(length > 0 ? name : ".", folder) == 0;
}

static bool same_file(const char *a, const char *b)
{
    struct stat at[2];
    const char *base[2];
    if (stat(a, &at[0]) == 0 && stat(b, &at[1]) == 0 && S_ISREG(at[0].st_mode) &&
        at[0].st_dev == at[1].st_dev && at[0].st_ino == at[1].st_ino)
        return true;
    return folder_of(a, &at[0], &base[0]) && folder_of(b, &at[1], &base[1]) &&
           at[0].st_dev == at[1].st_dev && at[0].st_ino == at[1].st_ino &&
           strcmp(base[0], base[1]) == 0;
}

bool hb_ends_in(const char *path, const char *ending)
{
    const size_t length = strlen(path), end = strlen(ending);
    return length > end && strcasecmp(path + length - end, ending) == 0;
}

void hb_outputs_check(struct cli *cli)
{
    const struct {
        const char *option, *path;
    } file[] = {{"--output", cli->output},
                {"--plot", cli->plot},
                {"--sheet", cli->sheet},
                {"--evidence", cli->evidence},
                {"--case", cli->case_file}};
    if (cli->plot && !hb_gnuplot_draws(cli->plot))
        refuse(cli, HOBBLE_E_SYNTAX, "--plot", cli->plot, "FILE.svg, FILE.png or FILE.pdf");
    if (cli->sheet && !hb_ends_in(cli->sheet, ".pdf"))
        refuse(cli, HOBBLE_E_SYNTAX, "--sheet", cli->sheet, "FILE.pdf");
    for (size_t i = 0; i < sizeof file / sizeof *file; i++)
        for (size_t j = 0; j < i; j++)
            if (file[i].path && file[j].path && same_file(file[i].path, file[j].path)) {
                char allowed[64];
                snprintf(allowed, sizeof allowed, "another file than that of %s", file[j].option);
                refuse(cli, HOBBLE_E_USAGE, file[i].option, file[i].path, allowed);
            }
}
