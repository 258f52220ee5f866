/* SPDX-License-Identifier: GPL-3.0-or-later */
/* profile_dir.h - where profiles are: found by name, listed, shown, checked, begun anew.
 *
 * A name with '/' in it, or ending in ".cfg", is a path. Any other name, of letters, digits, '.',
 * '_' and '-', is looked for as NAME.cfg in tyre/, vehicle/, rules/, bench/, fleet/ or journey/
 * below each folder of $HOBBLE_PROFILES (with ':' between), then below the folder that comes with
 * the program (data_dir.h). The first found counts; the current directory is none of them. */
#ifndef HB_INPUT_PROFILE_DIR_H
#define HB_INPUT_PROFILE_DIR_H

#include "hobble.h"

#include <stdio.h>

enum { HB_PATH_MAX = 4096 };

/* Writes the path of a profile of the group into path. A path is
 * taken as it is, whether there is a file or not. HOBBLE_E_NO_INPUT: no such profile;
 * HOBBLE_E_SYNTAX: no name of a profile; HOBBLE_E_TOO_LARGE: does not fit size. */
enum hobble_status hb_profile_find(const char *name_or_path, enum hobble_group group, char *path,
                                   size_t size);
/* Where a fleet or a journey is, by its path or its name; a name that is none is reported under
 * asker, with the nearest. */
enum hobble_status hb_file_find(const char *name_or_path, const char *kind, const char *asker,
                                char *path, size_t size, struct hobble_faults *sink);
/* The same for a file of any kind; a name that is none is reported under "profile". */
enum hobble_status hb_file_find_any(const char *name_or_path, char *path, size_t size,
                                    struct hobble_faults *sink);
/* Finds, then reads a profile that must be of the group. wanted: may be HB_ANY_KIND, which looks
 * for a tyre first, then a vehicle, rules, bench. kind: may be NULL. A name that is none is
 * reported under asker, the option that gave it; without one, under the option of that group. */
enum hobble_status hb_profile_load_as(const char *name_or_path, const char *asker, int wanted,
                                      hobble_case *c, enum hobble_group *kind,
                                      struct hobble_faults *sink);
enum hobble_status hb_profile_load(const char *name_or_path, int wanted, hobble_case *c,
                                   enum hobble_group *kind, struct hobble_faults *sink);

/* One profile found. */
struct hb_profile_entry {
    enum hobble_group group; /* HOBBLE_GROUP_COUNT for a fleet or a journey */
    const char *kind;        /* as in the file; a constant */
    const char *title_row;   /* the row that is its title; NULL: a fleet or a journey */
    bool good;               /* reads without fault */
    bool hidden;             /* one of the same name comes before it */
    char name[HOBBLE_FAULT_TEXT];
    char title[HOBBLE_FAULT_TEXT]; /* its tyre_name, vehicle_name, fleet_name or the like */
    char path[HB_PATH_MAX];
};
/* Every profile in the folders, by group, then folder, then name; good and title are not filled in.
 * *entries: owned by the caller (free); *count may be 0. */
enum hobble_status hb_profile_names(struct hb_profile_entry **entries, size_t *count);
/* The same, each of them read. */
enum hobble_status hb_profile_scan(struct hb_profile_entry **entries, size_t *count);

/* Writes one line for each profile: group, name, title, path with tabs between. */
enum hobble_status hb_profile_list(FILE *out);
/* Writes what a profile sets, as hb_profile_write does. Nothing is written when it has a fault. */
enum hobble_status hb_profile_show(FILE *out, const char *name_or_path, struct hobble_faults *sink);
/* Reads a file of any kind, a fleet or a journey too, and forgets it: its faults are in sink. into
 * (may be NULL): what a profile sets goes there. */
enum hobble_status hb_profile_check(const char *name_or_path, struct hobble_faults *sink);
enum hobble_status hb_profile_check_into(const char *name_or_path, hobble_case *into,
                                         struct hobble_faults *sink);
/* Writes a profile to begin with: every row of the group with its meaning; from: NULL for built-in
 * values as comments, or a profile that gives the values. */
enum hobble_status hb_profile_new(FILE *out, enum hobble_group group, const char *from,
                                  struct hobble_faults *sink);
/* Writes a fleet file, and a bench case, to begin with: what must be filled in is marked, the rest
 * stands as comments. HOBBLE_E_WRITE when out has failed. */
enum hobble_status hb_fleet_new(FILE *out);
enum hobble_status hb_bench_new(FILE *out);

#endif
