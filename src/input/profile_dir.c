/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "input/profile_dir.h"

#include "input/data_dir.h"
#include "input/fault.h"
#include "input/profile.h"
#include "input/setting.h"

#include <dirent.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

static const char SUFFIX[] = ".cfg";
enum { SUFFIX_LENGTH = 4, ENTRIES_MAX = 1000 };

/* Kinds that have a folder each, in the order of looking; those of cases come first. */
static const struct {
    const char *word, *name; /* the row that is its title */
    enum hobble_group group;
} KINDS[] = {{"tyre", "tyre_name", HOBBLE_TYRE},    {"vehicle", "vehicle_name", HOBBLE_VEHICLE},
             {"rules", "rules_name", HOBBLE_RULES}, {"bench", "marking", HOBBLE_BENCH},
             {"fleet", NULL, HOBBLE_GROUP_COUNT},   {"journey", NULL, HOBBLE_GROUP_COUNT}};
enum { KIND_COUNT = sizeof KINDS / sizeof KINDS[0], CASE_KINDS = 4 };

/* Takes the next folder of the list; false at its end. An empty part is none. */
static bool next_folder(const char **list, char *folder, size_t size)
{
    while (**list) {
        const size_t length = strcspn(*list, ":");
        const bool fits = length > 0 && length < size;
        if (fits) {
            memcpy(folder, *list, length);
            folder[length] = '\0';
        }
        *list += length + ((*list)[length] == ':');
        if (fits)
            return true;
    }
    return false;
}

/* Folder number place of the search; false when there are no more. */
static bool folder_at(int place, char *folder, size_t size)
{
    const char *list = getenv("HOBBLE_PROFILES");
    if (!list)
        list = "";
    while (next_folder(&list, folder, size))
        if (place-- == 0)
            return true;
    return place == 0 && hb_data_dir(folder, size);
}

static bool is_path(const char *name)
{
    const size_t length = strlen(name);
    return strchr(name, '/') ||
           (length > SUFFIX_LENGTH && strcmp(name + length - SUFFIX_LENGTH, SUFFIX) == 0);
}

static bool is_plain_name(const char *name)
{
    static const char letters[] =
        "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789._-";
    return *name && *name != '.' && strlen(name) < HOBBLE_FAULT_TEXT &&
           name[strspn(name, letters)] == '\0';
}

static bool is_file(const char *path)
{
    struct stat info;
    return stat(path, &info) == 0 && S_ISREG(info.st_mode);
}

/* In the folders of a kind. */
static enum hobble_status find_kind(const char *name_or_path, const char *kind, char *path,
                                    size_t size)
{
    char folder[HB_PATH_MAX], found[HB_PATH_MAX + 300];
    const char *name = name_or_path ? name_or_path : "";
    bool there = is_path(name);
    if (there)
        snprintf(found, sizeof found, "%s", name);
    else if (!is_plain_name(name))
        return HOBBLE_E_SYNTAX;
    for (int i = 0; !there && folder_at(i, folder, sizeof folder); i++) {
        snprintf(found, sizeof found, "%s/%s/%s%s", folder, kind, name, SUFFIX);
        there = is_file(found);
    }
    if (!there)
        return HOBBLE_E_NO_INPUT;
    if (strlen(found) >= size || strlen(name) >= sizeof found)
        return HOBBLE_E_TOO_LARGE;
    memcpy(path, found, strlen(found) + 1);
    return HOBBLE_OK;
}

enum hobble_status hb_profile_find(const char *name_or_path, enum hobble_group group, char *path,
                                   size_t size)
{
    return find_kind(name_or_path, hobble_group_word(group), path, size);
}

/* The first KINDS that has it. */
static enum hobble_status find_any(const char *name, int kinds, char *path, size_t size)
{
    enum hobble_status status = HOBBLE_E_NO_INPUT;
    for (int i = 0; i < kinds && status == HOBBLE_E_NO_INPUT; i++)
        status = find_kind(name, KINDS[i].word, path, size);
    return status;
}

/* The profile of a kind (NULL: of any) whose name is nearest. */
static struct hb_near near_profile(const char *name, const char *kind)
{
    struct hb_near near = hb_near_to(name);
    struct hb_profile_entry *entry = NULL;
    size_t count = 0;
    if (hb_profile_names(&entry, &count) == HOBBLE_OK)
        for (size_t i = 0; i < count; i++)
            if (!kind || strcmp(kind, entry[i].kind) == 0)
                hb_near_try(&near, entry[i].name);
    free(entry);
    return near;
}

static enum hobble_status not_found(enum hobble_status status, const char *name, const char *asker,
                                    const char *kind, struct hobble_faults *sink)
{
    const struct hb_near near = near_profile(name, kind);
    hb_fault_at(sink, status, "", 0, asker, name,
                "a path, or a name that hobble profile list shows");
    hb_fault_meant(sink, &near);
    return status;
}

enum hobble_status hb_file_find(const char *name_or_path, const char *kind, const char *asker,
                                char *path, size_t size, struct hobble_faults *sink)
{
    const bool here = strlen(name_or_path) < size && is_file(name_or_path);
    if (here)
        memcpy(path, name_or_path, strlen(name_or_path) + 1);
    const enum hobble_status status = here ? HOBBLE_OK : find_kind(name_or_path, kind, path, size);
    return status == HOBBLE_OK ? status : not_found(status, name_or_path, asker, kind, sink);
}

enum hobble_status hb_file_find_any(const char *name_or_path, char *path, size_t size,
                                    struct hobble_faults *sink)
{
    const enum hobble_status status = find_any(name_or_path, KIND_COUNT, path, size);
    return status == HOBBLE_OK ? status : not_found(status, name_or_path, "profile", NULL, sink);
}

enum hobble_status hb_profile_load_as(const char *name_or_path, const char *asker, int wanted,
                                      hobble_case *c, enum hobble_group *kind,
                                      struct hobble_faults *sink)
{
    char path[HB_PATH_MAX];
    const char *word = wanted == HB_ANY_KIND ? NULL : hobble_group_word((enum hobble_group)wanted);
    const enum hobble_status status = word ? find_kind(name_or_path, word, path, sizeof path)
                                           : find_any(name_or_path, CASE_KINDS, path, sizeof path);
    if (status != HOBBLE_OK)
        return not_found(status, name_or_path, asker, word, sink);
    return hb_profile_read_kind(path, wanted, c, kind, sink);
}

enum hobble_status hb_profile_load(const char *name_or_path, int wanted, hobble_case *c,
                                   enum hobble_group *kind, struct hobble_faults *sink)
{
    char asker[32] = "profile";
    if (wanted != HB_ANY_KIND)
        snprintf(asker, sizeof asker, "--%s", hobble_group_word((enum hobble_group)wanted));
    return hb_profile_load_as(name_or_path, asker, wanted, c, kind, sink);
}

/* ---- every profile ------------------------------------------------------------------------- */

struct listing {
    struct hb_profile_entry *entry;
    size_t count, room;
};

static bool make_room(struct listing *l)
{
    if (l->count < l->room)
        return true;
    const size_t room = l->room ? 2 * l->room : 16;
    struct hb_profile_entry *more = realloc(l->entry, room * sizeof *more);
    if (!more)
        return false;
    l->entry = more;
    l->room = room;
    return true;
}

static enum hobble_status add_entry(struct listing *l, int kind, const char *folder,
                                    const char *file)
{
    const size_t length = strlen(file);
    if (length <= SUFFIX_LENGTH || !is_path(file) || *file == '.' || length >= HOBBLE_FAULT_TEXT)
        return HOBBLE_OK;
    if (l->count == ENTRIES_MAX)
        return HOBBLE_E_TOO_LARGE;
    if (!make_room(l))
        return HOBBLE_E_MEMORY;
    struct hb_profile_entry *e = &l->entry[l->count];
    memset(e, 0, sizeof *e);
    e->group = KINDS[kind].group;
    e->kind = KINDS[kind].word;
    e->title_row = KINDS[kind].name;
    memcpy(e->name, file, length - SUFFIX_LENGTH);
    const int n = snprintf(e->path, sizeof e->path, "%s/%s", folder, file);
    if (n < 0 || (size_t)n >= sizeof e->path || !is_plain_name(e->name) || !is_file(e->path))
        return HOBBLE_OK;
    for (size_t i = 0; i < l->count; i++)
        if (strcmp(l->entry[i].kind, e->kind) == 0 && strcmp(l->entry[i].name, e->name) == 0)
            e->hidden = true;
    l->count++;
    return HOBBLE_OK;
}

static int by_name(const void *a, const void *b)
{
    return strcmp(((const struct hb_profile_entry *)a)->name,
                  ((const struct hb_profile_entry *)b)->name);
}

static enum hobble_status scan_folder(struct listing *l, int kind, const char *top)
{
    char folder[HB_PATH_MAX + 16];
    snprintf(folder, sizeof folder, "%s/%s", top, KINDS[kind].word);
    DIR *dir = opendir(folder);
    const size_t before = l->count;
    struct dirent *file;
    enum hobble_status status = HOBBLE_OK;
    while (dir && status == HOBBLE_OK && (file = readdir(dir)) != NULL)
        status = add_entry(l, kind, folder, file->d_name);
    if (dir)
        closedir(dir);
    if (l->count > before)
        qsort(l->entry + before, l->count - before, sizeof *l->entry, by_name);
    return status;
}

enum hobble_status hb_profile_names(struct hb_profile_entry **entries, size_t *count)
{
    struct listing l = {NULL, 0, 0};
    char folder[HB_PATH_MAX];
    enum hobble_status status = HOBBLE_OK;
    for (int g = 0; g < KIND_COUNT; g++)
        for (int i = 0; status == HOBBLE_OK && folder_at(i, folder, sizeof folder); i++)
            status = scan_folder(&l, g, folder);
    if (status != HOBBLE_OK) {
        free(l.entry);
        return status;
    }
    *entries = l.entry;
    *count = l.count;
    return HOBBLE_OK;
}
