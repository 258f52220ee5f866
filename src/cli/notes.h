/* SPDX-License-Identifier: GPL-3.0-or-later */
/* notes.h - what an answer rests on that the asker may not know, said on standard error before it;
 * in its JSON it stands by hb_note_rows. */
#ifndef HB_CLI_NOTES_H
#define HB_CLI_NOTES_H

#include "hobble.h"

#include <jansson.h>
#include <stdio.h>

/* What was skipped of the marking, and what of the vehicle is that of the built-in, invented one
 * while its profile is given. Nothing where there is neither. */
void hb_notes(FILE *f, const hobble_case *c);
/* The second alone: who is named, as in "the vehicle"; and the list of keys. */
void hb_note_inherited(FILE *f, const char *who, const hobble_case *c);
json_t *hb_inherited_json(const hobble_case *c);

#endif
