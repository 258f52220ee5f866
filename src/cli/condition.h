/* SPDX-License-Identifier: GPL-3.0-or-later */
/* condition.h - hobble condition: its questions. */
#ifndef HB_CLI_CONDITION_H
#define HB_CLI_CONDITION_H

#include "cli/cli.h"

/* Asks what cli->c does not know yet, one question at a time, from standard input; after every
 * answer the case is written to path. HOBBLE_OK when asked to the end or left early: *left says
 * which. */
enum hobble_status hb_condition_ask(struct cli *cli, const char *path, bool *left);

#endif
