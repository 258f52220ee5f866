/* SPDX-License-Identifier: GPL-3.0-or-later */
/* logs.h - recorded drives for tests: written in every format, and what a reader takes from them.
 */
#ifndef HB_TEST_LOGS_H
#define HB_TEST_LOGS_H

#include "hobble.h"
#include "random_case.h"

#include <stdio.h>

enum { LOG_TEXT_MOST = 1 << 20, LOG_SAMPLES_MOST = 4000 };

/* What a reader took. */
struct taken_log {
    size_t count;
    struct hobble_sample sample[LOG_SAMPLES_MOST];
    struct hobble_log_tally tally;
    struct hobble_faults faults;
    enum hobble_status status;
};

/* Reads a text in one go; free the result. */
struct taken_log *log_read(const char *text, size_t size, const struct hobble_log_options *options);
/* The same in pieces of random sizes. */
struct taken_log *log_read_pieces(const char *text, size_t size, struct random_source *source);
/* Two texts as two files, one behind the other. */
struct taken_log *log_read_two(const char *first, size_t first_size, const char *second,
                               size_t second_size);
/* Whether both took the same. */
bool log_same(const struct taken_log *a, const struct taken_log *b);

/* Writes samples as a log of a format (of those that have all of it: time dated, speed, place,
 * pressure, cavity). Returns its size. */
size_t log_write(enum hobble_log_format format, const struct hobble_sample *sample, size_t count,
                 char *text);
/* Adds to a text of LOG_TEXT_MOST bytes; returns its size. */
__attribute__((format(printf, 3, 4))) size_t log_put(char *text, size_t size, const char *format,
                                                     ...);
/* The same, a sentence with its checksum and end, behind $. */
size_t log_sentence(char *text, size_t size, const char *body);
/* A moment with nothing in it. */
struct hobble_sample log_moment(double time);

#endif
