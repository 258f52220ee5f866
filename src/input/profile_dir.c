/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "input/profile_dir.h"

#include "input/config_text.h"
#include "input/data_dir.h"
#include "input/profile.h"

#include <dirent.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

static const char SUFFIX[] = ".cfg";
enum { SUFFIX_LENGTH = 4, ENTRIES_MAX = 1000 };

/* Kinds that have a folder each, in the order of looking. */
static const enum hobble_group KINDS[] = {HOBBLE_TYRE, HOBBLE_VEHICLE, HOBBLE_RULES};
enum { KIND_COUNT = sizeof KINDS / sizeof KINDS[0] };

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

enum hobble_status hb_profile_find(const char *name_or_path, enum hobble_group group, char *path,
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
        snprintf(found, sizeof found, "%s/%s/%s%s", folder, hobble_group_word(group), name, SUFFIX);
        there = is_file(found);
    }
    if (!there)
        return HOBBLE_E_NO_INPUT;
    if (strlen(found) >= size || strlen(name) >= sizeof found)
        return HOBBLE_E_TOO_LARGE;
    memcpy(path, found, strlen(found) + 1);
    return HOBBLE_OK;
}

enum hobble_status hb_profile_load(const char *name_or_path, int wanted, hobble_case *c,
                                   enum hobble_group *kind, struct hobble_faults *sink)
{
    char path[HB_PATH_MAX];
    enum hobble_status status = HOBBLE_E_NO_INPUT;
    if (wanted != HB_ANY_KIND)
        status = hb_profile_find(name_or_path, (enum hobble_group)wanted, path, sizeof path);
    for (int i = 0; wanted == HB_ANY_KIND && i < KIND_COUNT && status == HOBBLE_E_NO_INPUT; i++)
        status = hb_profile_find(name_or_path, KINDS[i], path, sizeof path);
    if (status != HOBBLE_OK)
        return hb_fault_at(sink, status, "", 0, "profile", name_or_path,
                           "a path, or a name that hobble profile list shows");
    return hb_profile_read_kind(path, wanted, c, kind, sink);
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

static void describe(struct hb_profile_entry *e)
{
    hobble_case *c = hobble_case_new();
    struct hobble_faults faults = {0};
    const char *name = e->group == HOBBLE_TYRE      ? "tyre_name"
                       : e->group == HOBBLE_VEHICLE ? "vehicle_name"
                                                    : "rules_name";
    if (c && hb_profile_read_kind(e->path, (int)e->group, c, NULL, &faults) == HOBBLE_OK) {
        e->good = true;
        hobble_fault_text(e->title, hobble_case_text(c, hobble_param_find(name)));
    } else {
        hobble_fault_text(e->title, "has faults: see hobble profile check");
    }
    hobble_case_free(c);
}

static enum hobble_status add_entry(struct listing *l, enum hobble_group group, const char *folder,
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
    e->group = group;
    memcpy(e->name, file, length - SUFFIX_LENGTH);
    const int n = snprintf(e->path, sizeof e->path, "%s/%s", folder, file);
    if (n < 0 || (size_t)n >= sizeof e->path || !is_plain_name(e->name) || !is_file(e->path))
        return HOBBLE_OK;
    for (size_t i = 0; i < l->count; i++)
        if (l->entry[i].group == group && strcmp(l->entry[i].name, e->name) == 0)
            e->hidden = true;
    describe(e);
    l->count++;
    return HOBBLE_OK;
}

static int by_name(const void *a, const void *b)
{
    return strcmp(((const struct hb_profile_entry *)a)->name,
                  ((const struct hb_profile_entry *)b)->name);
}

static enum hobble_status scan_folder(struct listing *l, enum hobble_group group, const char *top)
{
    char folder[HB_PATH_MAX + 16];
    snprintf(folder, sizeof folder, "%s/%s", top, hobble_group_word(group));
    DIR *dir = opendir(folder);
    const size_t before = l->count;
    struct dirent *file;
    enum hobble_status status = HOBBLE_OK;
    while (dir && status == HOBBLE_OK && (file = readdir(dir)) != NULL)
        status = add_entry(l, group, folder, file->d_name);
    if (dir)
        closedir(dir);
    if (l->count > before)
        qsort(l->entry + before, l->count - before, sizeof *l->entry, by_name);
    return status;
}

enum hobble_status hb_profile_scan(struct hb_profile_entry **entries, size_t *count)
{
    struct listing l = {0};
    char folder[HB_PATH_MAX];
    enum hobble_status status = HOBBLE_OK;
    for (int g = 0; g < KIND_COUNT; g++)
        for (int i = 0; status == HOBBLE_OK && folder_at(i, folder, sizeof folder); i++)
            status = scan_folder(&l, KINDS[g], folder);
    if (status != HOBBLE_OK) {
        free(l.entry);
        return status;
    }
    *entries = l.entry;
    *count = l.count;
    return HOBBLE_OK;
}

enum hobble_status hb_profile_list(FILE *out)
{
    struct hb_profile_entry *entry;
    size_t count;
    const enum hobble_status status = hb_profile_scan(&entry, &count);
    if (status != HOBBLE_OK)
        return status;
    for (size_t i = 0; i < count; i++)
        if (!entry[i].hidden)
            fprintf(out, "%s\t%s\t%s\t%s\n", hobble_group_word(entry[i].group), entry[i].name,
                    entry[i].title, entry[i].path);
    free(entry);
    return fflush(out) == 0 && !ferror(out) ? HOBBLE_OK : HOBBLE_E_WRITE;
}

enum hobble_status hb_profile_show(FILE *out, const char *name_or_path, struct hobble_faults *sink)
{
    hobble_case *c = hobble_case_new();
    enum hobble_group kind = HOBBLE_TYRE;
    enum hobble_status status =
        c ? hb_profile_load(name_or_path, HB_ANY_KIND, c, &kind, sink) : HOBBLE_E_MEMORY;
    if (status == HOBBLE_OK)
        status = hb_profile_write(out, c, kind);
    hobble_case_free(c);
    return status;
}

enum hobble_status hb_profile_check(const char *name_or_path, struct hobble_faults *sink)
{
    hobble_case *c = hobble_case_new();
    const enum hobble_status status =
        c ? hb_profile_load(name_or_path, HB_ANY_KIND, c, NULL, sink) : HOBBLE_E_MEMORY;
    hobble_case_free(c);
    return status;
}

enum hobble_status hb_profile_new(FILE *out, enum hobble_group group, const char *from,
                                  struct hobble_faults *sink)
{
    hobble_case *c = hobble_case_new();
    enum hobble_status status = c ? HOBBLE_OK : HOBBLE_E_MEMORY;
    if (c && from)
        status = hb_profile_load(from, (int)group, c, NULL, sink);
    if (status == HOBBLE_OK)
        status = hb_profile_write(out, c, group);
    hobble_case_free(c);
    return status;
}
