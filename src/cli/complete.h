/* SPDX-License-Identifier: GPL-3.0-or-later */
/* complete.h - completion scripts out of the tables that the commands are read by. */
#ifndef HB_CLI_COMPLETE_H
#define HB_CLI_COMPLETE_H

#include "cli/cli.h"

/* Writes the script of a shell to standard output; returns the exit status. */
int hb_cli_complete(const char *shell, const struct command *command, size_t count);

/* Called for an option with a long name; valid during the call. */
typedef void hb_option_take(void *into, const struct argp_option *option);
/* Every option that the command takes, also those that its help leaves out. In options.c. */
void hb_options_each(const struct command *command, hb_option_take *take, void *into);

#endif
