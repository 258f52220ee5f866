/* SPDX-License-Identifier: GPL-3.0-or-later */
/* field.h - a map as the command line asks for it. */
#ifndef HB_CLI_FIELD_H
#define HB_CLI_FIELD_H

#include "cli/cli.h"

/* Sets a number of members where none was asked for. */
void hb_members_where_not_given(struct cli *cli, int members);

/* Axes of --x and --y, or speed 40..120 km/h and load 50..100 % of the index, 40 steps each; 500
 * members where none were asked for. Shows how far it is on standard error when that is a terminal
 * and it takes more than a second. */
enum hobble_status hb_field_make(struct cli *cli, struct hobble_map *map);

#endif
