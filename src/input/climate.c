/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "input/climate.h"

#include "input/config_text.h"
#include "input/quantity.h"

#include <fcntl.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

enum {
    HEAD_LINES = 8,
    LINE_MOST = 8192, /* design conditions make long lines */
    FIELDS = 7,
    BYTES_MOST = 8000000,
    FAULTS_MOST = 8 /* of one file: the rest would say the same */
};
#define MISSING 99.9
#define LEAST   (-70.0)
#define MOST    70.0

struct reading {
    const char *name;
    struct hobble_faults *sink;
    enum hobble_status first;
    int line, faults;
    long hours;
    int last; /* the hour before: (month * 32 + day) * 32 + hour */
};

static void complain(struct reading *r, enum hobble_status status, const char *key,
                     const char *given, const char *allowed)
{
    const enum hobble_status why =
        hb_fault_at(r->sink, status, r->name, r->line, key, given, allowed);
    r->faults++;
    if (r->first == HOBBLE_OK)
        r->first = why;
}

/* The fields of an hour that are read; the line is cut in place. False when there are too few. */
static bool cut(char *line, char *field[FIELDS])
{
    for (int i = 0; i < FIELDS; i++) {
        field[i] = line;
        line = strchr(line, ',');
        if (!line)
            return i == FIELDS - 1;
        *line++ = '\0';
    }
    return true;
}

static bool number(const char *text, double least, double most, double *value)
{
    char *end;
    *value = hb_number_read(text, &end);
    end += strspn(end, " \t\r");
    return *text && end != text && !*end && isfinite(*value) && *value >= least && *value <= most;
}

static bool whole(const char *text, int least, int most, int *value)
{
    double read;
    if (!number(text, least, most, &read) || read != floor(read))
        return false;
    *value = (int)read;
    return true;
}

static void read_hour(struct reading *r, char *line, hb_climate_take *take, void *into)
{
    char *field[FIELDS];
    int month, day, hour;
    double celsius;
    if (!cut(line, field)) {
        complain(r, HOBBLE_E_SYNTAX, "hour", line, "year,month,day,hour,minute,flags,dry bulb,...");
        return;
    }
    if (!whole(field[1], 1, 12, &month) || !whole(field[2], 1, 31, &day) ||
        !whole(field[3], 1, 24, &hour)) {
        complain(r, HOBBLE_E_RANGE, "month, day, hour", field[1],
                 "months 1 to 12, days, hours 1 to 24");
        return;
    }
    const int now = (month * 32 + day) * 32 + hour;
    if (now <= r->last)
        complain(r, HOBBLE_E_CONFLICT, "hour", field[3],
                 "every hour once, later than the one before");
    r->last = now;
    r->hours++;
    if (!number(field[6], LEAST, MOST, &celsius)) {
        const bool missing = number(field[6], MISSING, MISSING, &celsius);
        complain(r, missing ? HOBBLE_E_MISSING : HOBBLE_E_RANGE, "dry bulb", field[6],
                 "-70 to 70 C in every hour");
        return;
    }
    take(into, month, (int)lround(celsius * 10.0));
}

static void read_head(struct reading *r, const char *line, char *place)
{
    static const char first[] = "LOCATION,", last[] = "DATA PERIODS,";
    if (r->line == 1 && strncmp(line, first, sizeof first - 1) != 0)
        complain(r, HOBBLE_E_SYNTAX, "first line", line, "LOCATION,... as an EPW file begins");
    else if (r->line == 1)
        snprintf(place, HOBBLE_FAULT_TEXT, "%.*s",
                 (int)fmin((double)strcspn(line + sizeof first - 1, ","), HOBBLE_FAULT_TEXT - 1),
                 line + sizeof first - 1);
    if (r->line == HEAD_LINES && strncmp(line, last, sizeof last - 1) != 0)
        complain(r, HOBBLE_E_SYNTAX, "eighth line", line, "DATA PERIODS,... as an EPW file has it");
}

/* One line without its end; false at the end of the file or after a fault. */
static bool next_line(struct reading *r, FILE *f, char line[LINE_MOST])
{
    size_t length = 0;
    int c;
    r->line++;
    while ((c = getc(f)) != EOF && c != '\n') {
        if (c == '\0' || length == LINE_MOST - 1) {
            complain(r, c == '\0' ? HOBBLE_E_SYNTAX : HOBBLE_E_TOO_LARGE, "",
                     c == '\0' ? "a NUL byte" : "", "lines of text, at most 8191 bytes long");
            return false;
        }
        line[length++] = (char)c;
    }
    while (length > 0 && line[length - 1] == '\r')
        length--;
    line[length] = '\0';
    if (ferror(f))
        complain(r, HOBBLE_E_NO_INPUT, "", "", "a file that can be read");
    return !ferror(f) && !(c == EOF && length == 0);
}

enum hobble_status hb_climate_read(FILE *f, const char *name, hb_climate_take *take, void *into,
                                   char *place, long *hours, struct hobble_faults *sink)
{
    struct reading r = {.name = name, .sink = sink};
    char line[LINE_MOST], given[32], shown[HOBBLE_FAULT_TEXT];
    place[0] = '\0';
    while (r.faults < FAULTS_MOST &&
           (r.line <= HEAD_LINES || r.first == HOBBLE_OK || r.hours > 0) &&
           next_line(&r, f, line)) {
        if (r.line <= HEAD_LINES)
            read_head(&r, line, place);
        else if (*line)
            read_hour(&r, line, take, into);
    }
    if (r.first == HOBBLE_OK && r.hours != 8760 && r.hours != 8784) {
        snprintf(given, sizeof given, "%ld hours", r.hours);
        complain(&r, HOBBLE_E_CONFLICT, "", given, "8760 or 8784 hours, a typical year");
    }
    hobble_fault_text(shown, place);
    memcpy(place, shown, sizeof shown);
    *hours = r.hours;
    return r.first;
}

enum hobble_status hb_climate_file(const char *path, hb_climate_take *take, void *into, char *place,
                                   long *hours, struct hobble_faults *sink)
{
    struct stat info;
    /* O_NONBLOCK: opening a pipe that nobody writes to must not wait for ever. */
    const int handle = open(path, O_RDONLY | O_NONBLOCK | O_CLOEXEC | O_NOCTTY);
    enum hobble_status status = HOBBLE_OK;
    if (handle < 0 || fstat(handle, &info) != 0 || !S_ISREG(info.st_mode))
        status = HOBBLE_E_NO_INPUT;
    else if (info.st_size > BYTES_MOST)
        status = HOBBLE_E_TOO_LARGE;
    FILE *f = status == HOBBLE_OK ? fdopen(handle, "rb") : NULL;
    if (!f) {
        if (handle >= 0)
            close(handle);
        return hb_fault_at(sink, status == HOBBLE_OK ? HOBBLE_E_MEMORY : status, path, 0, "", "",
                           "a regular file of at most 8000000 bytes");
    }
    status = hb_climate_read(f, path, take, into, place, hours, sink);
    fclose(f);
    return status;
}
