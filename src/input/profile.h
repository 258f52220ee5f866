/* SPDX-License-Identifier: GPL-3.0-or-later */
/* profile.h - profiles of tyres and vehicles, read into a case and written from one; and settings
 * one at a time, as --set gives them.
 *
 * A profile is a libconfig file: kind = "tyre", "vehicle", "rules" or "bench", then keys of the
 * parameter table of that group (bench: of the tyre, the vehicle and the trip too).
 * A number is 12.5, or a text with a unit "12 mm", or a group that says how it is known:
 *     wall_thickness = { value = "12 mm"; spread = 0.08; provenance = "assumed"; source = "x"; };
 * A group may leave out what it does not change, but not both value and spread; published needs a
 * source. A plain value counts as assumed. Words and texts are texts; a word may be in a group
 * too. Profiles of tyres and of the bench may have a list of evidence (evidence.h). */
#ifndef HB_INPUT_PROFILE_H
#define HB_INPUT_PROFILE_H

#include "hobble.h"

#include <stdio.h>

enum { HB_ANY_KIND = HOBBLE_ANY_KIND };

/* Reads the profile at path and adds what it sets to c. A file with any fault changes nothing; all
 * that can be told at once goes to sink. Reading a second profile of a group leaves what the first
 * set and the second does not: begin with a new case to change tyres. */
enum hobble_status hb_profile_read(const char *path, hobble_case *c, struct hobble_faults *sink);
/* The same from size bytes in memory; name stands for the file in faults and origins. wanted: a
 * group that the kind must name, or HB_ANY_KIND. kind: may be NULL, else the group, on HOBBLE_OK.
 */
enum hobble_status hb_profile_read_text(const char *bytes, size_t size, const char *name,
                                        int wanted, hobble_case *c, enum hobble_group *kind,
                                        struct hobble_faults *sink);
/* hb_profile_read with the same wanted and kind. */
enum hobble_status hb_profile_read_kind(const char *path, int wanted, hobble_case *c,
                                        enum hobble_group *kind, struct hobble_faults *sink);

/* Writes every row of the group, one that a file can be of (HOBBLE_E_CONFLICT for trip and study),
 * with its meaning and limits as a comment. Rows that are not given stand as comments with the
 * built-in value; reading the file into a new case gives back the value, spread, provenance and
 * source of each row. HOBBLE_E_WRITE when out has failed. */
enum hobble_status hb_profile_write(FILE *out, const hobble_case *c, enum hobble_group group);

/* Only the rows of that. */
enum hobble_status hb_rows_write(FILE *out, const hobble_case *c, enum hobble_group group);

/* Writes a case of the bench: kind = "bench" and each row that is given of the groups that such a
 * file may set. Reading it into a new case gives the same. HOBBLE_E_WRITE when out has failed. */
enum hobble_status hb_case_write(FILE *out, const hobble_case *c);

/* A text in quotes, as libconfig reads it back. */
void hb_quoted_write(FILE *out, const char *text);

/* Sets "key=value" or "key.spread=value" of any row, with the same checks. Origin: "--set". */
enum hobble_status hb_set_option(hobble_case *c, const char *key_equals_value,
                                 struct hobble_faults *sink);
/* The same with key and value apart, for options such as --load; origin is kept in the case. */
enum hobble_status hb_set_text(hobble_case *c, const char *key, const char *value,
                               const char *origin, struct hobble_faults *sink);

#endif
