/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "input/config_text.h"

#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

/* Reads what is there, up to one byte more than is allowed. */
static enum hobble_status read_all(int handle, char *bytes, size_t *size)
{
    *size = 0;
    for (;;) {
        const ssize_t got = read(handle, bytes + *size, HB_FILE_MAX + 1 - *size);
        if (got < 0)
            return HOBBLE_E_NO_INPUT;
        *size += (size_t)got;
        if (*size > HB_FILE_MAX)
            return HOBBLE_E_TOO_LARGE;
        if (got == 0)
            return HOBBLE_OK;
    }
}

enum hobble_status hb_file_read(const char *path, char **bytes, size_t *size,
                                struct hobble_faults *sink)
{
    /* O_NONBLOCK: opening a pipe that nobody writes to must not wait for ever. */
    const int handle = open(path, O_RDONLY | O_NONBLOCK | O_CLOEXEC | O_NOCTTY);
    struct stat info;
    enum hobble_status status = HOBBLE_OK;
    const char *allowed = "a file that can be read";
    if (handle < 0 || fstat(handle, &info) != 0) {
        status = HOBBLE_E_NO_INPUT;
    } else if (!S_ISREG(info.st_mode)) {
        status = HOBBLE_E_NO_INPUT;
        allowed = "a regular file, not a folder, pipe or device";
    } else if (info.st_size > HB_FILE_MAX) {
        status = HOBBLE_E_TOO_LARGE;
    }
    char *room = status == HOBBLE_OK ? malloc(HB_FILE_MAX + 2) : NULL;
    if (status == HOBBLE_OK)
        status = room ? read_all(handle, room, size) : HOBBLE_E_MEMORY;
    if (handle >= 0)
        close(handle);
    if (status == HOBBLE_OK) {
        room[*size] = '\0';
        *bytes = room;
        return HOBBLE_OK;
    }
    free(room);
    return hb_fault_at(sink, status, path, 0, "", "",
                       status == HOBBLE_E_TOO_LARGE ? "at most 1000000 bytes" : allowed);
}

/* One line of a text, without blanks around it. */
static void line_of(const char *text, int line, char buf[HOBBLE_FAULT_TEXT])
{
    while (line > 1 && (text = strchr(text, '\n')) != NULL) {
        text++;
        line--;
    }
    text = text ? text + strspn(text, " \t") : "";
    const size_t length = strcspn(text, "\r\n");
    snprintf(buf, HOBBLE_FAULT_TEXT, "%.*s", (int)(length < 100 ? length : 100), text);
}

enum hobble_status hb_config_parse(const char *bytes, size_t size, const char *name, config_t *out,
                                   bool *readable, struct hobble_faults *sink)
{
    char *clean = NULL;
    enum hobble_status status = hb_config_scan(bytes, size, name, &clean, readable, sink);
    if (!*readable)
        return status;
    config_init(out);
    if (!config_read_string(out, clean)) { /* it reads numbers in the C locale by itself */
        const int line = config_error_line(out);
        char given[HOBBLE_FAULT_TEXT];
        line_of(clean, line, given);
        const enum hobble_status why = hb_fault_at(sink, HOBBLE_E_SYNTAX, name, line, "", given,
                                                   "key = value; see hobble profile new");
        status = status == HOBBLE_OK ? why : status;
        *readable = false;
        config_destroy(out);
    }
    free(clean);
    return status;
}

enum hobble_status hb_config_fault(struct hobble_faults *sink, enum hobble_status status,
                                   const char *file, const config_setting_t *s, const char *key,
                                   const char *given, const char *allowed)
{
    static const char *const types[] = {"nothing",   "a group",  "a whole number",
                                        "a number",  "a number", "a text",
                                        "yes or no", "an array", "a list"};
    const int type = s ? config_setting_type(s) : 0;
    if (!given)
        given = type >= 0 && type < 9 ? types[type] : "";
    return hb_fault_at(sink, status, file, s ? (int)config_setting_source_line(s) : 0, key, given,
                       allowed);
}

bool hb_config_repeated(const config_setting_t *s)
{
    const char *name = config_setting_name(s);
    return name && strncmp(name, HB_REPEATED, strlen(HB_REPEATED)) == 0;
}

bool hb_config_number(const config_setting_t *s, double *value)
{
    if (config_setting_get_format(s) != CONFIG_FORMAT_DEFAULT)
        return false;
    switch (config_setting_type(s)) {
    case CONFIG_TYPE_INT:
        *value = config_setting_get_int(s);
        return true;
    case CONFIG_TYPE_INT64:
        *value = (double)config_setting_get_int64(s);
        return true;
    case CONFIG_TYPE_FLOAT:
        *value = config_setting_get_float(s);
        return true;
    default:
        return false;
    }
}
