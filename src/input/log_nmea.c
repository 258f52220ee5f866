/* SPDX-License-Identifier: GPL-3.0-or-later */
/* log_nmea.c - drives as NMEA 0183 (IEC 61162-1) sentences: RMC, VTG, GGA, ZDA and XDR. A sentence
 * needs its checksum. Those of one time of day are one sample. */
#include "input/log_parts.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { FIELDS_MOST = 40, LONGEST = 82 }; /* with $ and its end (IEC 61162-1) */

struct epoch {
    struct hb_log_clock *clock;
    bool fixed, weak; /* a fix, and of low quality */
    struct hobble_sample sample;
};

/* ---- fields
 * -------------------------------------------------------------------------------------- */

static int hex(char c)
{
    return c >= '0' && c <= '9'   ? c - '0'
           : c >= 'A' && c <= 'F' ? c - 'A' + 10
           : c >= 'a' && c <= 'f' ? c - 'a' + 10
                                  : -1;
}

/* The exclusive or of all between $ and *. */
static bool sum_is_right(const char *text, size_t size)
{
    unsigned sum = 0;
    if (size < 4 || text[size - 3] != '*')
        return false;
    for (size_t i = 1; i < size - 3; i++)
        sum ^= (unsigned char)text[i];
    const int high = hex(text[size - 2]), low = hex(text[size - 1]);
    return high >= 0 && low >= 0 && sum == 16u * (unsigned)high + (unsigned)low;
}

/* ^hh is one sign. */
static void unescape(char *text)
{
    char *to = text;
    for (; *text; text++) {
        const int high = *text == '^' ? hex(text[1]) : -1, low = high >= 0 ? hex(text[2]) : -1;
        if (low < 0 || 16 * high + low == 0) {
            *to++ = *text;
            continue;
        }
        *to++ = (char)(16 * high + low);
        text += 2;
    }
    *to = '\0';
}

static int split(char *text, char *field[FIELDS_MOST])
{
    int n = 0;
    for (char *rest = text; rest && n < FIELDS_MOST;) {
        field[n++] = rest;
        rest = strchr(rest, ',');
        if (rest)
            *rest++ = '\0';
    }
    for (int i = 0; i < n; i++)
        unescape(field[i]);
    for (int i = n; i < FIELDS_MOST; i++)
        field[i] = text + strlen(text);
    return n;
}

/* ddmm.mm or dddmm.mm with its hemisphere; NAN. */
static double place_of(const char *text, const char *side)
{
    double value;
    if (!hb_log_number(text, false, &value) || value < 0.0 || !strchr("NSEW", side[0]) || !side[0])
        return (double)NAN;
    const double degrees = floor(value / 100.0), minutes = value - 100.0 * degrees;
    if (minutes >= 60.0)
        return (double)NAN;
    return (side[0] == 'S' || side[0] == 'W' ? -1.0 : 1.0) * (degrees + minutes / 60.0);
}

static int two(const char *text)
{
    return text[0] >= '0' && text[0] <= '9' && text[1] >= '0' && text[1] <= '9'
               ? 10 * (text[0] - '0') + (text[1] - '0')
               : -1;
}

/* hhmmss.ss; NAN. */
static double time_of(const char *text)
{
    double seconds;
    if (strlen(text) < 6)
        return (double)NAN;
    const int hours = two(text), minutes = two(text + 2);
    if (hours < 0 || hours > 23 || minutes < 0 || minutes > 59 ||
        !hb_log_number(text + 4, false, &seconds) || seconds < 0.0 || seconds >= 61.0)
        return (double)NAN;
    return 3600.0 * hours + 60.0 * minutes + seconds;
}

/* ---- one time of day
 * ------------------------------------------------------------------------------ */

static enum hobble_status pass(hobble_log *log, struct epoch *e)
{
    enum hobble_status status = HOBBLE_OK;
    struct hobble_sample *s = &e->sample;
    if (!e->clock->open)
        return HOBBLE_OK;
    bool any = s->mark != HOBBLE_LOG_NO_MARK;
    for (int i = 0; i < HOBBLE_LOG_FIELDS; i++)
        any = any || !isnan(s->value[i]);
    if (!any || !e->fixed)
        hb_log_odd(log, HOBBLE_LOG_NO_FIX);
    else if (e->weak)
        hb_log_odd(log, HOBBLE_LOG_WEAK_FIX);
    s->time = e->clock->of_day + 86400.0 * (double)e->clock->day;
    if (any)
        status = hb_log_pass(log, s, e->clock->has_day);
    e->sample = hb_log_sample(log);
    e->weak = e->fixed = false;
    return status;
}

/* A sentence's time of day: another one ends the sample before. Past midnight it is the next day.
 */
static enum hobble_status at_time(hobble_log *log, struct epoch *e, double of_day)
{
    enum hobble_status status = HOBBLE_OK;
    if (e->clock->open && of_day != e->clock->of_day) {
        status = pass(log, e);
        if (of_day < e->clock->of_day - 43200.0)
            e->clock->day++;
    }
    if (!e->clock->open)
        e->sample = hb_log_sample(log);
    e->clock->open = true;
    e->clock->of_day = of_day;
    return status;
}

/* A receiver that does not know the date has none that counts: only with the first does the log. */
static void at_day(hobble_log *log, struct epoch *e, int year, int month, int day)
{
    if (month < 1 || month > 12 || day < 1 || day > 31 || (log->any && !e->clock->has_day))
        return;
    e->clock->day = hb_log_days(year, month, day);
    e->clock->has_day = true;
}

/* ---- sentences
 * ------------------------------------------------------------------------------------ */

static void put(hobble_log *log, struct epoch *e, int field, double si)
{
    if (!isnan(si))
        hb_log_put(log, &e->sample, field, si);
}

static double number_of(const char *text, double factor)
{
    double value;
    return hb_log_number(text, false, &value) ? value * factor : (double)NAN;
}

static enum hobble_status rmc(hobble_log *log, struct epoch *e, char **f, int n)
{
    const double of_day = time_of(f[1]);
    if (isnan(of_day)) {
        hb_log_odd(log, HOBBLE_LOG_NO_FIX);
        return HOBBLE_OK;
    }
    const enum hobble_status status = at_time(log, e, of_day);
    const int year = two(f[9]) >= 0 && strlen(f[9]) == 6 ? two(f[9] + 4) : -1;
    if (year >= 0) /* two digits; the system's time begins in 1980 */
        at_day(log, e, year + (year < 80 ? 2000 : 1900), two(f[9] + 2), two(f[9]));
    const double north = place_of(f[3], f[4]), east = place_of(f[5], f[6]);
    if (isnan(north) || isnan(east) || (n > 12 && f[12][0] == 'N'))
        return status;
    e->fixed = true;
    e->weak = e->weak || f[2][0] != 'A';
    put(log, e, HOBBLE_LOG_LATITUDE, north);
    put(log, e, HOBBLE_LOG_LONGITUDE, east);
    put(log, e, HOBBLE_LOG_SPEED, number_of(f[7], 1852.0 / 3600.0));
    return status;
}

/* Eight or nine fields with letters between; of old, four without. */
static enum hobble_status vtg(hobble_log *log, struct epoch *e, char **f, int n)
{
    const bool old = n <= 5;
    if (n > 9 && f[9][0] == 'N')
        return HOBBLE_OK;
    const double kmh = number_of(f[old ? 4 : 7], 1.0 / 3.6);
    put(log, e, HOBBLE_LOG_SPEED, isnan(kmh) ? number_of(f[old ? 3 : 5], 1852.0 / 3600.0) : kmh);
    return HOBBLE_OK;
}

static enum hobble_status gga(hobble_log *log, struct epoch *e, char **f, int n)
{
    (void)n;
    const double of_day = time_of(f[1]);
    if (isnan(of_day)) {
        hb_log_odd(log, HOBBLE_LOG_NO_FIX);
        return HOBBLE_OK;
    }
    const enum hobble_status status = at_time(log, e, of_day);
    const double north = place_of(f[2], f[3]), east = place_of(f[4], f[5]);
    if (f[6][0] == '0' || isnan(north) || isnan(east))
        return status;
    e->fixed = true;
    put(log, e, HOBBLE_LOG_LATITUDE, north);
    put(log, e, HOBBLE_LOG_LONGITUDE, east);
    put(log, e, HOBBLE_LOG_HEIGHT, number_of(f[9], 1.0));
    return status;
}

static enum hobble_status zda(hobble_log *log, struct epoch *e, char **f, int n)
{
    (void)n;
    const double of_day = time_of(f[1]), year = number_of(f[4], 1.0);
    if (isnan(of_day))
        return HOBBLE_OK;
    const enum hobble_status status = at_time(log, e, of_day);
    if (year >= 1970.0 && year <= 2200.0)
        at_day(log, e, (int)year, two(f[3]), two(f[2]));
    return status;
}

/* Four fields a transducer: type, reading, unit, name. */
static enum hobble_status xdr(hobble_log *log, struct epoch *e, char **f, int n)
{
    for (int i = 1; i + 3 < n; i += 4) {
        struct hb_log_name name;
        const bool heat = f[i][0] == 'C' && f[i + 2][0] == 'C', bar = f[i + 2][0] == 'B';
        if (f[i][0] == 'P' && (bar || f[i + 2][0] == 'P'))
            put(log, e, HOBBLE_LOG_PRESSURE, number_of(f[i + 1], bar ? 1e5 : 1.0));
        else if (heat && hb_log_name_read(f[i + 3], &name) && name.field >= HOBBLE_LOG_AMBIENT &&
                 name.field <= HOBBLE_LOG_RIM && name.field != HOBBLE_LOG_PRESSURE)
            put(log, e, name.field, number_of(f[i + 1], 1.0) + 273.15);
        else if (heat && f[i + 3][0] == '\0')
            put(log, e, HOBBLE_LOG_CAVITY, number_of(f[i + 1], 1.0) + 273.15);
    }
    return HOBBLE_OK;
}

/* A text (TXT): its last field is a mark. */
static enum hobble_status txt(hobble_log *log, struct epoch *e, char **f, int n)
{
    (void)log;
    if (n == 5)
        hb_log_mark(&e->sample, f[4]);
    return HOBBLE_OK;
}

static const struct {
    const char *name;
    enum hobble_status (*take)(hobble_log *log, struct epoch *e, char **field, int count);
} sentences[] = {{"RMC", rmc}, {"VTG", vtg}, {"GGA", gga},
                 {"ZDA", zda}, {"XDR", xdr}, {"TXT", txt}};

static enum hobble_status line(hobble_log *log, char *text, size_t size)
{
    char *field[FIELDS_MOST];
    struct epoch *e = log->state;
    while (size > 0 && text[size - 1] == ' ')
        text[--size] = '\0';
    if (*text != '$' || size < 10 || size + 2 > LONGEST) {
        hb_log_odd(log, *text == '!' ? HOBBLE_LOG_NO_FIX : HOBBLE_LOG_UNREADABLE);
        return HOBBLE_OK;
    }
    if (!sum_is_right(text, size)) {
        hb_log_odd(log, HOBBLE_LOG_BAD_SUM);
        return HOBBLE_OK;
    }
    text[size - 3] = '\0';
    const int n = split(text, field);
    const size_t length = strlen(field[0]);
    for (size_t i = 0; i < sizeof sentences / sizeof *sentences && length == 6; i++)
        if (strcmp(field[0] + 3, sentences[i].name) == 0)
            return sentences[i].take(log, e, field, n);
    return HOBBLE_OK; /* of no use here */
}

static enum hobble_status begin(hobble_log *log)
{
    struct epoch *e = calloc(1, sizeof *e);
    if (!e)
        return HOBBLE_E_MEMORY;
    e->sample = hb_log_sample(log);
    e->clock = &log->clock;
    log->state = e;
    return HOBBLE_OK;
}

static enum hobble_status finish(hobble_log *log)
{
    return pass(log, log->state);
}

static void drop(hobble_log *log)
{
    free(log->state);
}

const struct hb_log_kind hb_log_nmea = {begin, line, NULL, finish, drop};
