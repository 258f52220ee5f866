/* SPDX-License-Identifier: GPL-3.0-or-later */
/* replay_main.c - runs a fuzz target over every file of the directories named as arguments, so
 * that the corpus is tried in every check without a fuzzing engine. A directory that cannot be
 * read, or holds no file, is a failure: a corpus that went missing must not look like a pass. */
#include "fuzz.h"

#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

enum { FILE_MAX = 1 << 20 };

static int replay_file(const char *path, uint8_t *room)
{
    FILE *file = fopen(path, "rb");
    size_t size = 0;
    uint8_t *exact = NULL;
    int bad = 1;

    if (file == NULL)
        return 1;
    size = fread(room, 1, FILE_MAX, file);
    if (!ferror(file) && size < FILE_MAX)
        exact = malloc(size > 0 ? size : 1); /* exact size, so that a sanitizer sees an overrun */
    (void)fclose(file);
    if (exact != NULL) {
        memcpy(exact, room, size);
        bad = LLVMFuzzerTestOneInput(exact, size);
        free(exact);
    }
    return bad;
}

/* Returns how many files were tried, or -1 after saying what is wrong. */
static long replay_directory(const char *folder, uint8_t *room)
{
    DIR *dir = opendir(folder);
    struct dirent *entry = NULL;
    long tried = 0;

    if (dir == NULL) {
        (void)fprintf(stderr, "%s: cannot be opened\n", folder);
        return -1;
    }
    while (tried >= 0 && (entry = readdir(dir)) != NULL) {
        char path[4096];
        struct stat info;
        int length = snprintf(path, sizeof path, "%s/%s", folder, entry->d_name);

        if (entry->d_name[0] == '.')
            continue;
        if (length < 0 || (size_t)length >= sizeof path || stat(path, &info) != 0) {
            (void)fprintf(stderr, "%s/%s: cannot be read\n", folder, entry->d_name);
            tried = -1;
        } else if (S_ISREG(info.st_mode)) {
            tried++;
            if (replay_file(path, room) != 0) {
                (void)fprintf(stderr, "%s: failed, or cannot be read, or is too large\n", path);
                tried = -1;
            }
        }
    }
    (void)closedir(dir);
    return tried;
}

int main(int argc, char **argv)
{
    uint8_t *room = malloc(FILE_MAX);
    long total = 0;
    int status = argc > 1 && room != NULL ? EXIT_SUCCESS : EXIT_FAILURE;

    for (int i = 1; i < argc && room != NULL; i++) {
        long tried = replay_directory(argv[i], room);

        (void)printf("%s: %ld files tried\n", argv[i], tried < 0 ? 0 : tried);
        if (tried <= 0)
            status = EXIT_FAILURE;
        else
            total += tried;
    }
    (void)printf("%ld files tried in all\n", total);
    free(room);
    return total > 0 && fflush(stdout) == 0 ? status : EXIT_FAILURE;
}
