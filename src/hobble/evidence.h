/* SPDX-License-Identifier: GPL-3.0-or-later */
/* evidence.h - what is known of a tyre beside its rows: a part of hobble.h, which includes it. */
#ifndef HOBBLE_H
#include "hobble.h" /* includes this file where it belongs */
#endif
#ifndef HOBBLE_EVIDENCE_H
#define HOBBLE_EVIDENCE_H

/* ---- evidence -------------------------------------------------------------------------------- */

enum hobble_evidence_kind {
    HOBBLE_EVIDENCE_APPROVAL,  /* specimens of the type passed the flat-tyre running test */
    HOBBLE_EVIDENCE_STATEMENT, /* a maker's figure that most new tyres of the type reach */
    HOBBLE_EVIDENCE_RUN,       /* one tyre was driven flat */
    HOBBLE_EVIDENCE_KINDS
};
enum hobble_run_of { HOBBLE_RUN_THIS_UNIT, HOBBLE_RUN_ANOTHER_UNIT };
enum hobble_run_on { HOBBLE_RUN_ON_ROAD, HOBBLE_RUN_ON_DRUM };
enum hobble_run_outcome {
    HOBBLE_RUN_SURVIVED, /* still whole at that distance; nothing is known of later */
    HOBBLE_RUN_ENDED,    /* carried no longer from there on */
    HOBBLE_RUN_DESTROYED /* destroyed inside, but still carrying there */
};
/* Where a temperature was taken. CAVITY: the air inside, as a pressure sensor in the wheel gives.
 */
enum hobble_channel {
    HOBBLE_CHANNEL_INNER,
    HOBBLE_CHANNEL_OUTER,
    HOBBLE_CHANNEL_CAVITY,
    HOBBLE_CHANNEL_SHOULDER,
    HOBBLE_CHANNELS
};

enum { HOBBLE_EVIDENCE_MAX = 32, HOBBLE_READINGS_MAX = 64, HOBBLE_ORIGIN_MAX = 96 };

/* Readings of one channel, in rising time. */
struct hobble_readings {
    double offset;                       /* K, one sigma, the same for all readings of the run */
    double scatter;                      /* K, one sigma, each reading's own */
    int count;                           /* 0: none */
    double time[HOBBLE_READINGS_MAX];    /* s from the loss of air */
    double celsius[HOBBLE_READINGS_MAX]; /* as read */
};

/* One item. What a kind does not have (hobble_evidence_table) is not looked at. Needed numbers that
 * are not given are NAN, words -1. */
struct hobble_evidence {
    enum hobble_evidence_kind kind;
    char source[HOBBLE_FAULT_TEXT]; /* who says so */
    char origin[HOBBLE_ORIGIN_MAX]; /* "file:line"; "" when not from a file */
    /* approval */
    int specimens; /* that passed, 1..1000 */
    /* statement and run */
    double load_share; /* on the wheel over the load index, 0.3..1 */
    double speed;      /* m/s */
    double ambient;    /* K */
    double distance;   /* m: statement, the figure; run, how far it had gone ("at") */
    /* run */
    enum hobble_run_of of;
    enum hobble_run_on on;
    enum hobble_run_outcome outcome;
    double age;           /* s, of another unit when it ran */
    double reading_error; /* of the distance, one sigma over it, 0.005..0.3 */
    double correlation;   /* s within which readings are one and the same */
    struct hobble_readings channel[HOBBLE_CHANNELS];
};

/* Where a row's value stands in an item. */
enum hobble_evidence_place {
    HOBBLE_IN_ITEM,    /* at: in struct hobble_evidence */
    HOBBLE_IN_CHANNEL, /* at: in struct hobble_readings */
    HOBBLE_IN_GROUP,   /* of a channel's group in a profile; at is nothing */
    HOBBLE_IN_LISTS,   /* the same, a list of them */
    HOBBLE_IN_FILE,    /* names a table of readings; at is nothing */
    HOBBLE_AS_GROUPS   /* the list of those groups; at is nothing */
};
/* What an item can say: a row of a profile's list. A number is a double in SI units at its offset,
 * or an int where the unit is WHOLE; a word is an int, its place in the list of words. */
struct hobble_evidence_row {
    struct hobble_param param; /* key, kind of value, unit, limits, words, meaning; value: when not
                                * given; NAN: it must be, or in lists and texts there is none */
    unsigned kinds;            /* 1 << enum hobble_evidence_kind */
    enum hobble_evidence_place place;
    size_t at;
};
/* Never NULL. */
const struct hobble_evidence_row *hobble_evidence_table(size_t *count);

/* An item to begin with: everything as the table has it when not given. */
void hobble_evidence_begin(enum hobble_evidence_kind kind, struct hobble_evidence *item);

/* Puts readings, any number of them in rising time (s, and -40..300 degrees Celsius), into a
 * channel of a run: the first of those that stand closer than its correlation, and of these at most
 * HOBBLE_READINGS_MAX, evenly taken. Leaves the item as it was on a fault. */
enum hobble_status hobble_evidence_readings(struct hobble_evidence *item,
                                            enum hobble_channel channel, const double *time,
                                            const double *celsius, size_t count,
                                            struct hobble_faults *sink);

/* What a case holds, in the order in which it was added; NULL past the last. */
size_t hobble_case_evidence_count(const hobble_case *c);
const struct hobble_evidence *hobble_case_evidence_at(const hobble_case *c, size_t place);
/* Adds a copy of an item. One from the same origin that says the same counts once. Faults carry the
 * row's key, or "CHANNEL.KEY" of a channel. */
enum hobble_status hobble_case_evidence_add(hobble_case *c, const struct hobble_evidence *item,
                                            struct hobble_faults *sink);

#endif
