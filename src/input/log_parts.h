/* SPDX-License-Identifier: GPL-3.0-or-later */
/* log_parts.h - what the readers of recorded drives share. Each format turns bytes into samples as
 * they stand; one sieve behind all of them judges time, gaps and sensors. */
#ifndef HB_INPUT_LOG_PARTS_H
#define HB_INPUT_LOG_PARTS_H

#include "hobble.h"

/* ---- names, units, numbers, times -------------------------------------------------------------
 */

/* What a name can stand for beside enum hobble_log_field. */
enum { HB_LOG_TIME = HOBBLE_LOG_FIELDS, HB_LOG_MARK, HB_LOG_SENSOR, HB_LOG_NAMES };

/* A column, element or key: its place among the fields, and SI value = (shown + shift) * factor.
 * factor 0: nothing tells the unit. */
struct hb_log_name {
    int field;
    double factor, shift;
    const char *unit; /* as it is told to a person */
};

/* Reads "speed_kmh", "Speed (mph)", "p [bar]", in letters of any case. Returns whether it is a name
 * of the table with a unit that its quantity has, or none. */
bool hb_log_name_read(const char *text, struct hb_log_name *name);
/* How a field is called, and what its quantity can be told in: "kmh, mph, m/s or kn". */
const char *hb_log_field_name(int field);
const char *hb_log_field_units(int field);
/* A field's own unit, of those that a standard or SI fixes: m/s, degrees Celsius, m, m/s^2. */
void hb_log_si_unit(struct hb_log_name *name);

/* A number with a point, or a comma where it stands for one, and blanks about it; locales do not
 * count. Nothing else may stand there. */
bool hb_log_number(const char *text, bool comma, double *value);
/* ISO 8601, date and time of day with a point of seconds and a zone; without a zone it is UTC. */
bool hb_log_date(const char *text, double *seconds);
/* Days from 1970-01-01 of a date of the Gregorian calendar. */
long hb_log_days(int year, int month, int day);

/* ---- the sieve ---------------------------------------------------------------------------------
 */

enum { HB_LOG_TRACK = 16 };

struct hb_sieve {
    bool begun;
    double last;                                            /* s, of the sample before */
    double usual;                                           /* s between samples, on the average */
    double shift;                                           /* s taken out of the clock so far */
    double value[HOBBLE_LOG_FIELDS], at[HOBBLE_LOG_FIELDS]; /* last ones taken, and when */
    double since[HOBBLE_LOG_FIELDS];                        /* it says the same since then */
    bool stuck[HOBBLE_LOG_FIELDS];
    int refused[HOBBLE_LOG_FIELDS]; /* running */
    unsigned told;                  /* fields of the latest time, a bit each */
    bool marked;                    /* and whether it had a mark */
    bool has_speed;                 /* the log tells speeds itself */
    struct {
        double time, north, east;
    } track[HB_LOG_TRACK]; /* places, latest last; degrees */
    size_t tracked;
    double rest_north, rest_east, rest_since, speed;
    bool tells; /* places are far enough apart for a speed */
};

/* ---- a reader ----------------------------------------------------------------------------------
 */

/* A format. line: one line without its end, NUL behind it. bytes: in place of line. */
struct hb_log_kind {
    enum hobble_status (*begin)(hobble_log *log);
    enum hobble_status (*line)(hobble_log *log, char *text, size_t size);
    enum hobble_status (*bytes)(hobble_log *log, const char *bytes, size_t size);
    enum hobble_status (*finish)(hobble_log *log);
    void (*drop)(hobble_log *log); /* frees state */
};
extern const struct hb_log_kind hb_log_csv, hb_log_gpx, hb_log_nmea, hb_log_json;

/* What a receiver knows of its time, from one file to the next. */
struct hb_log_clock {
    bool open;     /* a time of day was told */
    double of_day; /* s */
    bool has_day;  /* the day was told */
    long day;      /* since 1970, or counted by midnights */
};

struct hobble_log {
    enum hobble_log_format format;
    char *columns, *sensor; /* as the options say; NULL */
    hobble_log_take *take;
    void *to;
    struct hobble_log_tally tally;
    struct hobble_faults *sink;
    char name[HOBBLE_FAULT_TEXT];
    size_t line;                    /* that is read */
    const struct hb_log_kind *kind; /* NULL: not told yet */
    void *state;                    /* the kind's own */
    char *held;                     /* a line that has not ended */
    size_t holds, room;
    bool too_long; /* it is left out */
    struct hb_log_clock clock;
    bool fresh;                             /* it has yet to tell its first time */
    bool any;                               /* the file held a sample */
    char seen_sensor[HOBBLE_LOG_NOTE_TEXT]; /* the only one so far */
    struct hb_sieve sieve;
};

/* An empty sample of the line that is read. */
struct hobble_sample hb_log_sample(const hobble_log *log);
/* A reading into a sample: what its field cannot be is odd and left out. */
void hb_log_put(hobble_log *log, struct hobble_sample *sample, int field, double si);
/* A mark's text: "warning", "stopped", "ended", or a note. */
void hb_log_mark(struct hobble_sample *sample, const char *text);
/* Through the sieve and to the taker. dated: time is since 1970. */
enum hobble_status hb_log_pass(hobble_log *log, struct hobble_sample *sample, bool dated);
void hb_log_odd(hobble_log *log, enum hobble_log_oddity oddity);
/* Whether a sensor is the wheel's. A second one where none was chosen is a fault: status. */
bool hb_log_is_wheel(hobble_log *log, const char *sensor, enum hobble_status *status);
/* A fault at the line that is read. */
enum hobble_status hb_log_fault(hobble_log *log, enum hobble_status status, const char *key,
                                const char *given, const char *allowed);
/* Adds to tally.recognised: "speed_kmh as speed, kmh". */
void hb_log_recognised(hobble_log *log, const char *given, const struct hb_log_name *name);

#endif
