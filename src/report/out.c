/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/out.h"

#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

enum hobble_status hb_out_open(struct hb_out *out)
{
    out->text = NULL;
    out->stream = open_memstream(&out->text, &out->size);
    return out->stream ? HOBBLE_OK : HOBBLE_E_MEMORY;
}

void hb_out_drop(struct hb_out *out)
{
    if (out->stream)
        fclose(out->stream);
    free(out->text);
    *out = (struct hb_out){0};
}

/* A device, a pipe or a folder must not be replaced by a file. */
static bool may_replace(const char *path)
{
    struct stat seen;
    return stat(path, &seen) != 0 || S_ISREG(seen.st_mode);
}

char *hb_temporary_beside(const char *path)
{
    const size_t length = strlen(path);
    char *name = may_replace(path) ? malloc(length + sizeof ".XXXXXX") : NULL;
    if (!name)
        return NULL;
    memcpy(name, path, length);
    memcpy(name + length, ".XXXXXX", sizeof ".XXXXXX");
    const int fd = mkstemp(name);
    if (fd < 0) {
        free(name);
        return NULL;
    }
    close(fd);
    return name;
}

/* As the user's umask would have made it; mkstemp makes files private. */
static void usual_mode(const char *name)
{
    const mode_t mask = umask(0);
    umask(mask);
    if (chmod(name, 0666 & ~mask) != 0)
        return; /* a private file is still a whole one */
}

enum hobble_status hb_rename_whole(char *temporary, const char *path)
{
    struct stat seen;
    const int fd = open(temporary, O_RDONLY | O_CLOEXEC);
    bool good = fd >= 0 && fsync(fd) == 0 && fstat(fd, &seen) == 0 && seen.st_size > 0;
    if (fd >= 0)
        close(fd);
    if (good)
        usual_mode(temporary);
    good = good && rename(temporary, path) == 0;
    if (!good)
        unlink(temporary);
    free(temporary);
    return good ? HOBBLE_OK : HOBBLE_E_WRITE;
}

enum hobble_status hb_write_whole(const char *path, const char *bytes, size_t size)
{
    char *name = hb_temporary_beside(path);
    if (!name)
        return HOBBLE_E_WRITE;
    FILE *f = fopen(name, "wb");
    bool good = f && fwrite(bytes, 1, size, f) == size;
    if (f)
        good = fclose(f) == 0 && good;
    if (good)
        return hb_rename_whole(name, path);
    unlink(name);
    free(name);
    return HOBBLE_E_WRITE;
}

static enum hobble_status write_stdout(const char *bytes, size_t size)
{
    const bool good = fwrite(bytes, 1, size, stdout) == size && fflush(stdout) == 0;
    return good ? HOBBLE_OK : HOBBLE_E_WRITE;
}

enum hobble_status hb_out_close(struct hb_out *out, const char *path)
{
    bool whole = !ferror(out->stream);
    whole = fclose(out->stream) == 0 && whole;
    enum hobble_status status = HOBBLE_E_MEMORY;
    if (whole)
        status =
            path ? hb_write_whole(path, out->text, out->size) : write_stdout(out->text, out->size);
    free(out->text);
    *out = (struct hb_out){0};
    return status;
}
