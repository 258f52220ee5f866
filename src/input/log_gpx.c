/* SPDX-License-Identifier: GPL-3.0-or-later */
/* log_gpx.c - drives as GPX 1.1 tracks. Elements of foreign namespaces in a point may hold what the
 * table of names has. Documents that declare types of their own are refused: so nothing expands. */
#include "input/log_parts.h"

#include <expat.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { TEXT_MOST = 256, DEEPEST = 64 };

struct track {
    XML_Parser parser;
    size_t before;    /* lines before the document */
    int depth, point; /* how deep it is, and how deep the point began; 0: in none */
    bool begins;      /* a stretch of reception begins */
    bool timed;       /* the point has a time */
    struct hobble_sample sample;
    char text[TEXT_MOST];
    size_t length;
    enum hobble_status status;
};

static const char *local(const char *name)
{
    const char *bar = strrchr(name, '|');
    return bar ? bar + 1 : name;
}

static void begin_point(hobble_log *log, struct track *t, const char **attribute)
{
    t->sample = hb_log_sample(log);
    t->timed = false;
    t->point = t->depth;
    for (; attribute[0]; attribute += 2) {
        double value;
        const int field = strcmp(attribute[0], "lat") == 0   ? HOBBLE_LOG_LATITUDE
                          : strcmp(attribute[0], "lon") == 0 ? HOBBLE_LOG_LONGITUDE
                                                             : -1;
        if (field < 0)
            continue;
        if (hb_log_number(attribute[1], false, &value))
            hb_log_put(log, &t->sample, field, value);
        else
            hb_log_odd(log, HOBBLE_LOG_UNREADABLE);
    }
}

static void start(void *into, const char *name, const char **attribute)
{
    hobble_log *log = into;
    struct track *t = log->state;
    log->line = t->before + (size_t)XML_GetCurrentLineNumber(t->parser);
    t->length = 0;
    if (++t->depth > DEEPEST)
        XML_StopParser(t->parser, XML_FALSE);
    if (t->point > 0)
        return;
    if (strcmp(local(name), "trkpt") == 0)
        begin_point(log, t, attribute);
    else if (strcmp(local(name), "trkseg") == 0)
        t->begins = true;
}

static void characters(void *into, const char *text, int length)
{
    struct track *t = ((hobble_log *)into)->state;
    for (int i = 0; i < length && t->length + 1 < TEXT_MOST; i++)
        t->text[t->length++] = text[i];
}

static void take_text(hobble_log *log, struct track *t, const char *name)
{
    struct hb_log_name is;
    double value;
    t->text[t->length] = '\0';
    if (strcmp(name, "cmt") == 0 || strcmp(name, "desc") == 0 || strcmp(name, "name") == 0) {
        hb_log_mark(&t->sample, t->text);
        return;
    }
    if (!hb_log_name_read(name, &is) || is.field == HB_LOG_SENSOR || t->length == 0)
        return;
    hb_log_si_unit(&is);
    if (is.field == HB_LOG_MARK)
        hb_log_mark(&t->sample, t->text);
    else if (is.field == HB_LOG_TIME) {
        char *end = t->text + strlen(t->text);
        while (end > t->text && (unsigned char)end[-1] <= ' ')
            *--end = '\0';
        t->timed = hb_log_date(t->text + strspn(t->text, " \t\r\n"), &t->sample.time);
        if (!t->timed)
            hb_log_odd(log, HOBBLE_LOG_UNREADABLE);
    } else if (is.factor != 0.0 && hb_log_number(t->text, false, &value)) {
        if (log->tally.held[is.field] == 0)
            hb_log_recognised(log, name, &is);
        hb_log_put(log, &t->sample, is.field, (value + is.shift) * is.factor);
    } else
        hb_log_odd(log, HOBBLE_LOG_UNREADABLE);
}

static void end_point(hobble_log *log, struct track *t)
{
    t->point = 0;
    if (!t->timed && !log->any)
        t->status = hb_log_fault(log, HOBBLE_E_MISSING, "time", "trkpt",
                                 "a track with times: a planned route tells no drive");
    else if (!t->timed)
        hb_log_odd(log, HOBBLE_LOG_NO_FIX);
    else {
        t->sample.unseen = t->begins && log->any;
        t->begins = false;
        t->status = hb_log_pass(log, &t->sample, true);
    }
    if (t->status != HOBBLE_OK)
        XML_StopParser(t->parser, XML_FALSE);
}

static void end(void *into, const char *name)
{
    hobble_log *log = into;
    struct track *t = log->state;
    if (t->point > 0 && t->depth == t->point)
        end_point(log, t);
    else if (t->point > 0)
        take_text(log, t, local(name));
    t->length = 0;
    t->depth--;
}

static void declares(void *into, const char *name, const char *system, const char *public_id,
                     int inside)
{
    hobble_log *log = into;
    struct track *t = log->state;
    (void)name, (void)system, (void)public_id, (void)inside;
    log->line = t->before + (size_t)XML_GetCurrentLineNumber(t->parser);
    t->status = hb_log_fault(log, HOBBLE_E_SYNTAX, "log", "<!DOCTYPE",
                             "GPX 1.1 without a document type of its own");
    XML_StopParser(t->parser, XML_FALSE);
}

/* ---- the document
 * ----------------------------------------------------------------------------------- */

static enum hobble_status begin(hobble_log *log)
{
    struct track *t = calloc(1, sizeof *t);
    if (!t)
        return HOBBLE_E_MEMORY;
    t->parser = XML_ParserCreateNS(NULL, '|');
    if (!t->parser) {
        free(t);
        return HOBBLE_E_MEMORY;
    }
    t->before = log->line > 0 ? log->line - 1 : 0;
    XML_SetUserData(t->parser, log);
    XML_SetElementHandler(t->parser, start, end);
    XML_SetCharacterDataHandler(t->parser, characters);
    XML_SetStartDoctypeDeclHandler(t->parser, declares);
    log->state = t;
    return HOBBLE_OK;
}

static enum hobble_status parse(hobble_log *log, const char *bytes, size_t size, int last)
{
    struct track *t = log->state;
    for (size_t from = 0; from < size || last; from += 1 << 20) {
        const size_t some = size - from < 1 << 20 ? size - from : 1 << 20;
        const int end_here = last && from + some == size;
        if (XML_Parse(t->parser, bytes + from, (int)some, end_here) == XML_STATUS_OK) {
            if (last && from + some >= size)
                break;
            continue;
        }
        if (t->status != HOBBLE_OK)
            return t->status;
        if (last && log->any) { /* the box was switched off while it wrote */
            hb_log_odd(log, HOBBLE_LOG_UNREADABLE);
            return HOBBLE_OK;
        }
        log->line = t->before + (size_t)XML_GetCurrentLineNumber(t->parser);
        return t->status = hb_log_fault(log, HOBBLE_E_SYNTAX, "log",
                                        XML_ErrorString(XML_GetErrorCode(t->parser)),
                                        "well-formed GPX 1.1");
    }
    return t->status;
}

static enum hobble_status bytes(hobble_log *log, const char *text, size_t size)
{
    return parse(log, text, size, 0);
}

static enum hobble_status finish(hobble_log *log)
{
    return parse(log, "", 0, 1);
}

static void drop(hobble_log *log)
{
    struct track *t = log->state;
    if (t)
        XML_ParserFree(t->parser);
    free(t);
}

const struct hb_log_kind hb_log_gpx = {begin, NULL, bytes, finish, drop};
