/* SPDX-License-Identifier: GPL-3.0-or-later */
/* log.c - recorded drives: from bytes, cut anywhere, to lines, and to the reader of their format.
 */
#include "input/fault.h"
#include "input/log_parts.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

enum { LINE_MOST = 1 << 16, ROOM_FIRST = 256, CHUNK = 1 << 16 };

static const struct hb_log_kind *const kinds[] = {[HOBBLE_LOG_BY_CONTENT] = NULL,
                                                  [HOBBLE_LOG_CSV] = &hb_log_csv,
                                                  [HOBBLE_LOG_GPX] = &hb_log_gpx,
                                                  [HOBBLE_LOG_NMEA] = &hb_log_nmea,
                                                  [HOBBLE_LOG_JSON] = &hb_log_json};

/* ---- what the formats share ---------------------------------------------------------------------
 */

struct hobble_sample hb_log_sample(const hobble_log *log)
{
    struct hobble_sample s = {.time = (double)NAN, .line = log->line};
    for (int i = 0; i < HOBBLE_LOG_FIELDS; i++)
        s.value[i] = (double)NAN;
    return s;
}

void hb_log_odd(hobble_log *log, enum hobble_log_oddity oddity)
{
    if (log->tally.count[oddity]++ > 0)
        return;
    hobble_fault_text(log->tally.first[oddity].file, log->name);
    log->tally.first[oddity].line = log->line;
}

enum hobble_status hb_log_fault(hobble_log *log, enum hobble_status status, const char *key,
                                const char *given, const char *allowed)
{
    return hb_fault_at(log->sink, status, log->name,
                       (int)(log->line < 1u << 30 ? log->line : 1u << 30), key, given, allowed);
}

void hb_log_mark(struct hobble_sample *sample, const char *text)
{
    static const struct {
        const char *word;
        enum hobble_log_mark mark;
    } words[] = {{"warning", HOBBLE_LOG_WARNING},
                 {"stopped", HOBBLE_LOG_STOPPED},
                 {"ended", HOBBLE_LOG_ENDED}};
    char clean[HOBBLE_FAULT_TEXT];
    hobble_fault_text(clean, text + strspn(text, " "));
    if (clean[0] == '\0')
        return;
    sample->mark = HOBBLE_LOG_NOTE;
    for (size_t i = 0; i < sizeof words / sizeof *words; i++)
        if (strncasecmp(clean, words[i].word, strlen(words[i].word)) == 0)
            sample->mark = words[i].mark;
    snprintf(sample->note, sizeof sample->note, "%.*s", HOBBLE_LOG_NOTE_TEXT - 1, clean);
}

bool hb_log_is_wheel(hobble_log *log, const char *sensor, enum hobble_status *status)
{
    char allowed[HOBBLE_FAULT_TEXT];
    *status = HOBBLE_OK;
    if (log->sensor) {
        const bool same = strcasecmp(log->sensor, sensor) == 0;
        if (!same)
            hb_log_odd(log, HOBBLE_LOG_OTHER_SENSOR);
        return same;
    }
    if (log->seen_sensor[0] == '\0')
        snprintf(log->seen_sensor, sizeof log->seen_sensor, "%s", sensor);
    if (strncmp(log->seen_sensor, sensor, sizeof log->seen_sensor - 1) == 0)
        return true;
    snprintf(allowed, sizeof allowed, "one sensor, or --sensor with one of %.40s, %.40s",
             log->seen_sensor, sensor);
    *status = hb_log_fault(log, HOBBLE_E_CONFLICT, "sensor", sensor, allowed);
    return false;
}

void hb_log_recognised(hobble_log *log, const char *given, const struct hb_log_name *name)
{
    char clean[HOBBLE_FAULT_TEXT], said[HOBBLE_FAULT_TEXT], *to = log->tally.recognised;
    const size_t before = strlen(to);
    hobble_fault_text(clean, given);
    snprintf(said, sizeof said, "%.30s as %s%s%s", clean, hb_log_field_name(name->field),
             name->unit ? ", " : "", name->unit ? name->unit : "");
    if (!strstr(to, said)) /* a second file has the same names */
        snprintf(to + before, sizeof log->tally.recognised - before, "%s%s", before > 0 ? "; " : "",
                 said);
}

/* ---- lines --------------------------------------------------------------------------------------
 */

static enum hobble_status begin_kind(hobble_log *log, const struct hb_log_kind *kind)
{
    log->kind = kind;
    return kind->begin(log);
}

/* By the first line that says anything. */
static const struct hb_log_kind *told_by(const char *text)
{
    const char first = text[strspn(text, " \t")];
    return first == '<'                   ? &hb_log_gpx
           : first == '$' || first == '!' ? &hb_log_nmea
           : first == '{'                 ? &hb_log_json
                                          : &hb_log_csv;
}

/* One line, with room for a NUL behind it. */
static enum hobble_status take_line(hobble_log *log, char *text, size_t size)
{
    if (size > 0 && text[size - 1] == '\r')
        size--;
    text[size] = '\0';
    if (log->line == 1 && size >= 3 && memcmp(text, "\xEF\xBB\xBF", 3) == 0) {
        text += 3;
        size -= 3;
    }
    const char first = text[strspn(text, " \t")];
    if (first == '\0' || first == '#')
        return HOBBLE_OK;
    if (memchr(text, '\0', size)) {
        hb_log_odd(log, HOBBLE_LOG_UNREADABLE);
        return HOBBLE_OK;
    }
    enum hobble_status status = HOBBLE_OK;
    if (!log->kind)
        status = begin_kind(log, told_by(text));
    if (status == HOBBLE_OK && log->kind->bytes) { /* bytes that lines were made of */
        status = log->kind->bytes(log, text, size);
        return status == HOBBLE_OK ? log->kind->bytes(log, "\n", 1) : status;
    }
    return status == HOBBLE_OK ? log->kind->line(log, text, size) : status;
}

static enum hobble_status hold(hobble_log *log, const char *bytes, size_t size)
{
    if (log->too_long || log->holds + size > LINE_MOST) {
        log->too_long = true;
        return HOBBLE_OK;
    }
    if (log->holds + size + 1 > log->room) {
        size_t room = log->room > 0 ? log->room : ROOM_FIRST;
        while (room < log->holds + size + 1)
            room *= 2;
        char *held = realloc(log->held, room);
        if (!held)
            return HOBBLE_E_MEMORY;
        log->held = held;
        log->room = room;
    }
    memcpy(log->held + log->holds, bytes, size);
    log->holds += size;
    return HOBBLE_OK;
}

/* GPX need not have lines at all: its first sign tells. */
static enum hobble_status look_for_gpx(hobble_log *log)
{
    const size_t mark = log->line == 0 && memcmp(log->held, "\xEF\xBB\xBF", 3) == 0 ? 3 : 0;
    if (log->held[mark] != '<')
        return HOBBLE_OK;
    const enum hobble_status status = begin_kind(log, &hb_log_gpx);
    const size_t holds = log->holds;
    log->holds = 0;
    return status == HOBBLE_OK ? log->kind->bytes(log, log->held + mark, holds - mark) : status;
}

static enum hobble_status end_line(hobble_log *log)
{
    enum hobble_status status = HOBBLE_OK;
    log->line++;
    if (log->too_long)
        hb_log_odd(log, HOBBLE_LOG_UNREADABLE);
    else if (log->holds > 0)
        status = take_line(log, log->held, log->holds);
    log->holds = 0;
    log->too_long = false;
    return status;
}

/* ---- the public functions
 * ------------------------------------------------------------------------ */

static char *copy(const char *text)
{
    return text ? strdup(text) : NULL;
}

hobble_log *hobble_log_new(const struct hobble_log_options *options, hobble_log_take *take,
                           void *to)
{
    hobble_log *log = calloc(1, sizeof *log);
    if (!log)
        return NULL;
    log->format = options->format;
    log->columns = copy(options->columns);
    log->sensor = copy(options->sensor);
    log->take = take;
    log->to = to;
    if ((options->columns && !log->columns) || (options->sensor && !log->sensor)) {
        hobble_log_free(log);
        return NULL;
    }
    return log;
}

static void drop_kind(hobble_log *log)
{
    if (log->kind && log->kind->drop)
        log->kind->drop(log);
    log->kind = NULL;
    log->state = NULL;
}

void hobble_log_free(hobble_log *log)
{
    if (!log)
        return;
    drop_kind(log);
    free(log->columns);
    free(log->sensor);
    free(log->held);
    free(log);
}

enum hobble_status hobble_log_begin(hobble_log *log, const char *name, struct hobble_faults *sink)
{
    log->sink = sink;
    drop_kind(log);
    hobble_fault_text(log->name, name);
    log->line = log->holds = 0;
    log->any = log->too_long = false;
    log->fresh = true;
    return kinds[log->format] ? begin_kind(log, kinds[log->format]) : HOBBLE_OK;
}

enum hobble_status hobble_log_feed(hobble_log *log, const char *bytes, size_t size,
                                   struct hobble_faults *sink)
{
    enum hobble_status status = HOBBLE_OK;
    log->sink = sink;
    log->tally.bytes += size;
    while (size > 0 && status == HOBBLE_OK) {
        if (log->kind && log->kind->bytes && log->holds == 0)
            return log->kind->bytes(log, bytes, size);
        const char *end = memchr(bytes, '\n', size);
        const size_t length = end ? (size_t)(end - bytes) : size;
        status = hold(log, bytes, length);
        if (status == HOBBLE_OK && !log->kind && log->holds >= 4) {
            status = look_for_gpx(log);
            if (log->kind) { /* it takes lines and all */
                bytes += length;
                size -= length;
                continue;
            }
        }
        if (status == HOBBLE_OK && end)
            status = end_line(log);
        bytes += length + (end != NULL);
        size -= length + (end != NULL);
    }
    return status;
}

enum hobble_status hobble_log_finish(hobble_log *log, struct hobble_faults *sink)
{
    enum hobble_status status = HOBBLE_OK;
    log->sink = sink;
    if (log->holds > 0 || log->too_long)
        status = end_line(log);
    if (status == HOBBLE_OK && log->kind && log->kind->finish)
        status = log->kind->finish(log);
    drop_kind(log);
    if (status != HOBBLE_OK || log->any)
        return status;
    log->line = 0;
    return hb_log_fault(log, HOBBLE_E_MISSING, "log", "",
                        "a line of CSV with names, GPX 1.1, NMEA 0183 or JSON with a time");
}

const struct hobble_log_tally *hobble_log_tally(const hobble_log *log)
{
    return &log->tally;
}

static enum hobble_status read_all(hobble_log *log, FILE *f, struct hobble_faults *sink)
{
    char *bytes = malloc(CHUNK);
    enum hobble_status status = bytes ? HOBBLE_OK : HOBBLE_E_MEMORY;
    size_t got;
    while (status == HOBBLE_OK && (got = fread(bytes, 1, CHUNK, f)) > 0)
        status = hobble_log_feed(log, bytes, got, sink);
    free(bytes);
    if (status == HOBBLE_OK && ferror(f)) {
        log->line = 0;
        log->sink = sink;
        return hb_log_fault(log, HOBBLE_E_NO_INPUT, "log", "", "a file that can be read");
    }
    return status == HOBBLE_OK ? hobble_log_finish(log, sink) : status;
}

enum hobble_status hobble_log_read(hobble_log *log, const char *path, struct hobble_faults *sink)
{
    enum hobble_status status = hobble_log_begin(log, path, sink);
    if (status != HOBBLE_OK)
        return status;
    FILE *f = fopen(path, "rb");
    if (!f)
        return hb_log_fault(log, HOBBLE_E_NO_INPUT, "log", "", "a file that can be read");
    status = read_all(log, f, sink);
    fclose(f);
    return status;
}
