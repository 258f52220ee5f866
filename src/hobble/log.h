/* SPDX-License-Identifier: GPL-3.0-or-later */
/* log.h - recorded drives: a part of hobble.h, which includes it. */
#ifndef HOBBLE_H
#include "hobble.h" /* includes this file where it belongs */
#endif
#ifndef HOBBLE_LOG_H
#define HOBBLE_LOG_H

/* ---- recorded drives ------------------------------------------------------------------------- */

/* What a sample can hold beside its time. */
enum hobble_log_field {
    HOBBLE_LOG_SPEED,     /* m/s */
    HOBBLE_LOG_LOAD,      /* N, on the wheel */
    HOBBLE_LOG_AMBIENT,   /* K */
    HOBBLE_LOG_PRESSURE,  /* Pa, gauge */
    HOBBLE_LOG_CAVITY,    /* K, air in the tyre */
    HOBBLE_LOG_INNER,     /* K, inner face of the wall */
    HOBBLE_LOG_OUTER,     /* K, outer face of the wall */
    HOBBLE_LOG_SHOULDER,  /* K */
    HOBBLE_LOG_RIM,       /* K */
    HOBBLE_LOG_LATITUDE,  /* degrees, -90..90 */
    HOBBLE_LOG_LONGITUDE, /* degrees, -180..180, 180 excluded */
    HOBBLE_LOG_HEIGHT,    /* m */
    HOBBLE_LOG_ALONG,     /* m/s^2, positive when gathering speed */
    HOBBLE_LOG_ACROSS,    /* m/s^2, positive in a left-hand bend */
    HOBBLE_LOG_FIELDS
};

enum hobble_log_mark {
    HOBBLE_LOG_NO_MARK,
    HOBBLE_LOG_WARNING, /* the vehicle's warning came */
    HOBBLE_LOG_STOPPED, /* the driver stopped for good */
    HOBBLE_LOG_ENDED,   /* the tyre carried no longer */
    HOBBLE_LOG_NOTE     /* free text */
};

enum { HOBBLE_LOG_NOTE_TEXT = 48, HOBBLE_LOG_RECOGNISED = 480 };

/* One moment of a drive. Times never fall; a second sample of one time has only what the first had
 * not. */
struct hobble_sample {
    double time;                     /* s; since 1970 (UTC) when the log is dated, else from its own
                                        beginning */
    double value[HOBBLE_LOG_FIELDS]; /* NAN: not recorded */
    enum hobble_log_mark mark;
    char note[HOBBLE_LOG_NOTE_TEXT]; /* what the mark says, cut to fit; "" for nothing */
    bool unseen;                     /* how it was driven since the sample before is not known: more
                                        than 60 s, or the two ends do not agree */
    size_t line;                     /* where it stands, 1-based */
};

/* What can be wrong with a log, and what it gets. */
enum hobble_log_oddity {
    HOBBLE_LOG_GAP,          /* nothing for more than 60 s: handled, see unseen */
    HOBBLE_LOG_REPEATED,     /* the same twice of one time: the first holds */
    HOBBLE_LOG_TIME_BACK,    /* the clock went back by little: left out */
    HOBBLE_LOG_CLOCK_JUMP,   /* the clock was set: the jump is taken out where another clock or the
                                sampling rate tells how long it was, else refused */
    HOBBLE_LOG_STUCK,        /* a sensor that repeats itself to the last digit while others move */
    HOBBLE_LOG_JUMP,         /* a reading that no tyre can have made: left out */
    HOBBLE_LOG_ACCELERATION, /* speeds that mean more than 12 m/s^2: left out */
    HOBBLE_LOG_BAD_SUM,      /* a sentence whose checksum is missing or wrong: left out */
    HOBBLE_LOG_UNREADABLE,   /* a line that is none of the format's: left out */
    HOBBLE_LOG_WEAK_FIX,     /* a fix of low quality: kept */
    HOBBLE_LOG_NO_FIX,       /* no place, or no time: left out */
    HOBBLE_LOG_OTHER_SENSOR, /* of a sensor that was not asked for: left out */
    HOBBLE_LOG_ODDITIES
};

struct hobble_log_tally {
    size_t samples;
    size_t bytes;
    size_t count[HOBBLE_LOG_ODDITIES];
    struct {
        char file[HOBBLE_FAULT_TEXT];
        size_t line;
    } first[HOBBLE_LOG_ODDITIES];   /* where it was seen first; "" and 0 for never */
    size_t held[HOBBLE_LOG_FIELDS]; /* samples that hold the field */
    bool dated;
    char recognised[HOBBLE_LOG_RECOGNISED]; /* what was taken for what: "time_s as time, s; ..." */
};

enum hobble_log_format {
    HOBBLE_LOG_BY_CONTENT, /* which of them it is, is told by how it begins */
    HOBBLE_LOG_CSV,        /* comma, semicolon or tabulator; RFC 4180 */
    HOBBLE_LOG_GPX,        /* GPX 1.1 */
    HOBBLE_LOG_NMEA,       /* NMEA 0183 / IEC 61162-1 */
    HOBBLE_LOG_JSON        /* an object a line */
};

struct hobble_log_options {
    enum hobble_log_format format;
    const char *columns; /* "time=A,speed=C,..."; NULL: by the header */
    const char *sensor;  /* id of the wheel's sensor; NULL: there is but one */
};

/* Takes a sample; anything but HOBBLE_OK ends the reading with that status. */
typedef enum hobble_status hobble_log_take(void *to, const struct hobble_sample *sample);

/* A reader: bytes in, samples out, memory flat whatever the length. Opaque; freed with
 * hobble_log_free. NULL without memory. to is handed to take. */
typedef struct hobble_log hobble_log;
hobble_log *hobble_log_new(const struct hobble_log_options *options, hobble_log_take *take,
                           void *to);
void hobble_log_free(hobble_log *log);

/* A file begins: name stands for it in faults. The parts of one drive follow each other; a file
 * that begins before the last one's end was recorded beside it. */
enum hobble_status hobble_log_begin(hobble_log *log, const char *name, struct hobble_faults *sink);
/* The next bytes of it, cut anywhere. What cannot be handled goes to sink with file and line. */
enum hobble_status hobble_log_feed(hobble_log *log, const char *bytes, size_t size,
                                   struct hobble_faults *sink);
/* The file's end; HOBBLE_E_MISSING when it held nothing. */
enum hobble_status hobble_log_finish(hobble_log *log, struct hobble_faults *sink);
/* All three for the file at path. */
enum hobble_status hobble_log_read(hobble_log *log, const char *path, struct hobble_faults *sink);

/* What has been seen so far. Owned by the reader. */
const struct hobble_log_tally *hobble_log_tally(const hobble_log *log);

#endif
