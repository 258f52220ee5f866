/* SPDX-License-Identifier: GPL-3.0-or-later */
/* policy.h - hobble policy: the files of --out. */
#ifndef HB_CLI_POLICY_H
#define HB_CLI_POLICY_H

#include "cli/cli.h"

#include "report/paper/kit.h"

/* Writes policy.txt, .json, .csv, two pictures, and where the program was built with them the sheet
 * policy.pdf, card-1.pdf .. for every vehicle and page.html, into the folder cli->out. What may not
 * be made is left out, and said on stderr. */
enum hobble_status hb_policy_files(struct cli *cli, const struct hb_kit *kit);

#endif
