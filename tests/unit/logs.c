/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "logs.h"

#include <check.h>
#include <math.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

static enum hobble_status keep(void *to, const struct hobble_sample *sample)
{
    struct taken_log *t = to;
    ck_assert_uint_lt(t->count, LOG_SAMPLES_MOST);
    t->sample[t->count++] = *sample;
    return HOBBLE_OK;
}

struct taken_log *log_read(const char *text, size_t size, const struct hobble_log_options *options)
{
    static const struct hobble_log_options none;
    struct taken_log *t = calloc(1, sizeof *t);
    hobble_log *log = hobble_log_new(options ? options : &none, keep, t);
    t->status = hobble_log_begin(log, "log", &t->faults);
    if (t->status == HOBBLE_OK)
        t->status = hobble_log_feed(log, text, size, &t->faults);
    if (t->status == HOBBLE_OK)
        t->status = hobble_log_finish(log, &t->faults);
    t->tally = *hobble_log_tally(log);
    hobble_log_free(log);
    return t;
}

static enum hobble_status feed_pieces(hobble_log *log, const char *text, size_t size,
                                      struct random_source *source, struct hobble_faults *sink)
{
    const int most = 1 << random_below(source, 12);
    enum hobble_status status = hobble_log_begin(log, "log", sink);
    while (size > 0 && status == HOBBLE_OK) {
        size_t some = (size_t)(1 + random_below(source, most));
        some = some < size ? some : size;
        char *piece = malloc(some); /* so that a byte beyond it is seen */
        memcpy(piece, text, some);
        status = hobble_log_feed(log, piece, some, sink);
        free(piece);
        text += some;
        size -= some;
    }
    return status == HOBBLE_OK ? hobble_log_finish(log, sink) : status;
}

struct taken_log *log_read_pieces(const char *text, size_t size, struct random_source *source)
{
    struct taken_log *t = calloc(1, sizeof *t);
    const struct hobble_log_options none = {.columns = NULL};
    hobble_log *log = hobble_log_new(&none, keep, t);
    t->status = feed_pieces(log, text, size, source, &t->faults);
    t->tally = *hobble_log_tally(log);
    hobble_log_free(log);
    return t;
}

struct taken_log *log_read_two(const char *first, size_t first_size, const char *second,
                               size_t second_size)
{
    struct taken_log *t = calloc(1, sizeof *t);
    const struct hobble_log_options none = {.columns = NULL};
    hobble_log *log = hobble_log_new(&none, keep, t);
    const char *text[] = {first, second};
    const size_t size[] = {first_size, second_size};
    for (int i = 0; i < 2 && t->status == HOBBLE_OK; i++) {
        t->status = hobble_log_begin(log, "log", &t->faults);
        if (t->status == HOBBLE_OK)
            t->status = hobble_log_feed(log, text[i], size[i], &t->faults);
        if (t->status == HOBBLE_OK)
            t->status = hobble_log_finish(log, &t->faults);
    }
    t->tally = *hobble_log_tally(log);
    hobble_log_free(log);
    return t;
}

static bool equal(double a, double b)
{
    return a == b || (isnan(a) && isnan(b));
}

bool log_same(const struct taken_log *a, const struct taken_log *b)
{
    bool same = a->status == b->status && a->count == b->count &&
                memcmp(a->tally.count, b->tally.count, sizeof a->tally.count) == 0;
    for (size_t i = 0; i < a->count && same; i++) {
        const struct hobble_sample *x = &a->sample[i], *y = &b->sample[i];
        same = x->time == y->time && x->mark == y->mark && x->unseen == y->unseen;
        for (int k = 0; k < HOBBLE_LOG_FIELDS; k++)
            same = same && equal(x->value[k], y->value[k]);
    }
    return same;
}

struct hobble_sample log_moment(double time)
{
    struct hobble_sample s = {.time = time};
    for (int i = 0; i < HOBBLE_LOG_FIELDS; i++)
        s.value[i] = (double)NAN;
    return s;
}

size_t log_put(char *text, size_t size, const char *format, ...)
{
    va_list values;
    va_start(values, format);
    const int more = vsnprintf(text + size, LOG_TEXT_MOST - size, format, values);
    va_end(values);
    ck_assert(more >= 0 && size + (size_t)more < LOG_TEXT_MOST);
    return size + (size_t)more;
}

size_t log_sentence(char *text, size_t size, const char *body)
{
    unsigned sum = 0;
    for (const char *c = body; *c; c++)
        sum ^= (unsigned char)*c;
    return log_put(text, size, "$%s*%02X\r\n", body, sum);
}

static const char *mark_of(const struct hobble_sample *s)
{
    static const char *const word[] = {"", "warning came", "stopped", "ended", "a note"};
    return word[s->mark];
}

static void stamp(double time, const char *format, char *to, size_t size)
{
    const time_t whole = (time_t)time;
    struct tm day;
    strftime(to, size, format, gmtime_r(&whole, &day));
}

static size_t write_csv(const struct hobble_sample *s, char *to, size_t size)
{
    char at[40];
    stamp(s->time, "%Y-%m-%dT%H:%M:%S", at, sizeof at);
    return log_put(to, size, "%sZ,%.3f,%.6f,%.6f,%.1f,%.1f,%s\r\n", at,
                   s->value[HOBBLE_LOG_SPEED] * 3.6, s->value[HOBBLE_LOG_LATITUDE],
                   s->value[HOBBLE_LOG_LONGITUDE], s->value[HOBBLE_LOG_PRESSURE] / 1e3,
                   s->value[HOBBLE_LOG_CAVITY] - 273.15, mark_of(s));
}

static size_t write_gpx(const struct hobble_sample *s, char *to, size_t size)
{
    char at[40];
    stamp(s->time, "%Y-%m-%dT%H:%M:%S", at, sizeof at);
    return log_put(to, size,
                   "<trkpt lat=\"%.6f\" lon=\"%.6f\"><time>%sZ</time><cmt>%s</cmt><extensions>"
                   "<x:speed>%.4f</x:speed><x:pressure_kpa>%.1f</x:pressure_kpa>"
                   "<x:cavity_c>%.1f</x:cavity_c></extensions></trkpt>\n",
                   s->value[HOBBLE_LOG_LATITUDE], s->value[HOBBLE_LOG_LONGITUDE], at, mark_of(s),
                   s->value[HOBBLE_LOG_SPEED], s->value[HOBBLE_LOG_PRESSURE] / 1e3,
                   s->value[HOBBLE_LOG_CAVITY] - 273.15);
}

static size_t write_nmea(const struct hobble_sample *s, char *to, size_t size)
{
    char body[200], hour[16], day[16];
    const double north = fabs(s->value[HOBBLE_LOG_LATITUDE]);
    const double east = fabs(s->value[HOBBLE_LOG_LONGITUDE]);
    stamp(s->time, "%H%M%S", hour, sizeof hour);
    stamp(s->time, "%d%m%y", day, sizeof day);
    snprintf(body, sizeof body, "GPRMC,%s.00,A,%02d%08.5f,%c,%03d%08.5f,%c,%.3f,90.0,%s,,,A", hour,
             (int)north, 60.0 * (north - floor(north)),
             s->value[HOBBLE_LOG_LATITUDE] < 0.0 ? 'S' : 'N', (int)east,
             60.0 * (east - floor(east)), s->value[HOBBLE_LOG_LONGITUDE] < 0.0 ? 'W' : 'E',
             s->value[HOBBLE_LOG_SPEED] * 3600.0 / 1852.0, day);
    size = log_sentence(to, size, body);
    snprintf(body, sizeof body, "YXXDR,P,%.5f,B,TYRE,C,%.1f,C,CAVITY",
             s->value[HOBBLE_LOG_PRESSURE] / 1e5, s->value[HOBBLE_LOG_CAVITY] - 273.15);
    size = log_sentence(to, size, body);
    if (s->mark != HOBBLE_LOG_NO_MARK) {
        snprintf(body, sizeof body, "GPTXT,01,01,07,%s", mark_of(s));
        size = log_sentence(to, size, body);
    }
    return size;
}

static size_t write_json(const struct hobble_sample *s, char *to, size_t size)
{
    char mark[60] = "";
    if (s->mark != HOBBLE_LOG_NO_MARK)
        snprintf(mark, sizeof mark, ", \"mark\": \"%s\"", mark_of(s));
    return log_put(to, size,
                   "{\"time\": %.0f, \"Speed_kmh\": %.3f, \"lat\": %.6f, \"lon\": %.6f, "
                   "\"pressure_kPa\": %.1f, \"temperature_C\": %.1f%s}\n",
                   s->time, s->value[HOBBLE_LOG_SPEED] * 3.6, s->value[HOBBLE_LOG_LATITUDE],
                   s->value[HOBBLE_LOG_LONGITUDE], s->value[HOBBLE_LOG_PRESSURE] / 1e3,
                   s->value[HOBBLE_LOG_CAVITY] - 273.15, mark);
}

size_t log_write(enum hobble_log_format format, const struct hobble_sample *sample, size_t count,
                 char *text)
{
    static size_t (*const write[])(const struct hobble_sample *, char *,
                                   size_t) = {[HOBBLE_LOG_CSV] = write_csv,
                                              [HOBBLE_LOG_GPX] = write_gpx,
                                              [HOBBLE_LOG_NMEA] = write_nmea,
                                              [HOBBLE_LOG_JSON] = write_json};
    size_t size = 0;
    if (format == HOBBLE_LOG_CSV)
        size = log_put(text, 0, "time,speed (km/h),lat,lon,p [kPa],cavity_c,mark\r\n");
    if (format == HOBBLE_LOG_GPX)
        size = log_put(text, 0,
                       "<?xml version=\"1.0\"?>\n<gpx version=\"1.1\" "
                       "xmlns=\"http://www.topografix.com/GPX/1/1\" "
                       "xmlns:x=\"urn:x\"><trk><trkseg>\n");
    for (size_t i = 0; i < count; i++)
        size = write[format](&sample[i], text, size);
    if (format == HOBBLE_LOG_GPX)
        size = log_put(text, size, "</trkseg></trk></gpx>\n");
    return size;
}
