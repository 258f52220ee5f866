/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "input/data_dir.h"

#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#ifndef HOBBLE_PROFILE_DIR
#define HOBBLE_PROFILE_DIR "/usr/local/share/hobble"
#endif
#ifndef HOBBLE_BIN_DIR
#define HOBBLE_BIN_DIR "/usr/local/bin"
#endif

enum { PLACE_MAX = 4096 };

/* Takes the last part off a path; false when there is none. */
static bool up(char *path)
{
    char *slash = strrchr(path, '/');
    if (!slash)
        return false;
    *slash = '\0';
    return true;
}

static bool ends_in(const char *path, const char *ending)
{
    const size_t length = strlen(path), end = strlen(ending);
    return length >= end && strcmp(path + length - end, ending) == 0;
}

/* Whether below/inner holds profiles. What stands in a folder that all may write into (/tmp) may be
 * anybody's, while who writes beside the program could as well change the program. */
static bool holds(const char *below, const char *inner, char *folder, size_t size)
{
    char tyres[PLACE_MAX + 16];
    struct stat info;
    if (stat(*below ? below : "/", &info) != 0 || (info.st_mode & S_IWOTH))
        return false;
    const int n = snprintf(folder, size, "%s/%s", below, inner);
    if (n < 0 || (size_t)n >= size || (size_t)n >= PLACE_MAX)
        return false;
    snprintf(tyres, sizeof tyres, "%s/tyre", folder);
    return stat(tyres, &info) == 0 && S_ISDIR(info.st_mode);
}

/* Splits the two folders of the build where they part: "/usr/local", "/bin", "share/hobble". */
static bool moved(const char *home, char *folder, size_t size)
{
    const char *bin = HOBBLE_BIN_DIR, *data = HOBBLE_PROFILE_DIR;
    char root[PLACE_MAX];
    size_t same = 0, part = 0;
    for (; bin[same] && bin[same] == data[same]; same++)
        if (bin[same] == '/')
            part = same;
    if (strlen(home) >= sizeof root || !ends_in(home, bin + part))
        return false;
    snprintf(root, sizeof root, "%.*s", (int)(strlen(home) - strlen(bin + part)), home);
    return holds(root, data + part + 1, folder, size);
}

bool hb_data_dir_of(const char *program, char *folder, size_t size)
{
    char home[PLACE_MAX], found[PLACE_MAX];
    int n = snprintf(home, sizeof home, "%s", program);
    if (n > 0 && (size_t)n < sizeof home && *home == '/' && up(home)) {
        bool there = moved(home, found, sizeof found);
        if (ends_in(home, "/.libs")) /* where libtool keeps a program until it is installed */
            up(home);
        if (there || holds(home, "profiles", found, sizeof found)) {
            n = snprintf(folder, size, "%s", found);
            return n >= 0 && (size_t)n < size;
        }
    }
    n = snprintf(folder, size, "%s", HOBBLE_PROFILE_DIR);
    return n >= 0 && (size_t)n < size;
}

bool hb_data_dir(char *folder, size_t size)
{
    char program[PLACE_MAX];
    const ssize_t length = readlink("/proc/self/exe", program, sizeof program - 1);
    program[length > 0 ? length : 0] = '\0';
    return hb_data_dir_of(program, folder, size);
}
