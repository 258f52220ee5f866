/* SPDX-License-Identifier: GPL-3.0-or-later */
/* parts.c - parts of a policy's run on disk. Text: a head that says what it is, two kinds of
 * lines, and a check sum of all bytes before it. */
#include "report/parts.h"
#include "input/config_text.h"

#include "report/out.h"

#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

enum { PATH_SIZE = 4200 };

size_t hb_policy_parts(size_t conditions)
{
    return (conditions + HB_PART_CONDITIONS - 1) / HB_PART_CONDITIONS;
}

size_t hb_part_begin(size_t part)
{
    return part * HB_PART_CONDITIONS;
}

size_t hb_part_size(const struct hb_policy_run *run, size_t part)
{
    const size_t left = run->count - hb_part_begin(part);
    return left < HB_PART_CONDITIONS ? left : HB_PART_CONDITIONS;
}

void hb_part_path(const struct hb_policy_run *run, size_t part, char *path, size_t size)
{
    snprintf(path, size, "%s/part-%04zu.txt", run->folder, part + 1);
}

/* FNV-1a, 64 bits: for files that were cut or mixed up, not against malice. */
static uint64_t sum_of(const char *bytes, size_t size)
{
    uint64_t sum = UINT64_C(0xcbf29ce484222325);
    for (size_t i = 0; i < size; i++)
        sum = (sum ^ (unsigned char)bytes[i]) * UINT64_C(0x100000001b3);
    return sum;
}

/* ---- writing --------------------------------------------------------------------------------- */

static void head_of(const struct hb_policy_run *run, size_t part, char *buf, size_t size)
{
    snprintf(buf, size, "hobble policy part %zu of %zu, fleet %016" PRIx64 "\n", part + 1,
             hb_policy_parts(run->count), run->digest);
}

static void write_way(FILE *f, const struct hobble_policy_way *way)
{
    fprintf(f, "way %d %d %d %d %d", way->go, way->advised, way->stops, way->counted, way->worth);
    for (int i = 0; i < HOBBLE_REACH_BINS; i++)
        if (way->ended[i] > 0)
            fprintf(f, " %d:%d", i, way->ended[i]);
    fputc('\n', f);
}

enum hobble_status hb_part_write(const struct hb_policy_run *run, size_t part,
                                 const struct hobble_policy_solved *solved)
{
    struct hb_out out;
    char path[PATH_SIZE], head[160];
    enum hobble_status status = hb_out_open(&out);
    if (status != HOBBLE_OK)
        return status;
    head_of(run, part, head, sizeof head);
    fputs(head, out.stream);
    for (size_t i = 0; i < hb_part_size(run, part); i++) {
        fprintf(out.stream, "condition %zu %d %d\n", hb_part_begin(part) + i, solved[i].unseen,
                solved[i].closure);
        for (int k = 0; k < HOBBLE_POLICY_SPEEDS; k++)
            write_way(out.stream, &solved[i].way[k]);
    }
    if (fflush(out.stream) != 0) {
        hb_out_drop(&out);
        return HOBBLE_E_MEMORY;
    }
    fprintf(out.stream, "check %016" PRIx64 "\n", sum_of(out.text, out.size));
    hb_part_path(run, part, path, sizeof path);
    return hb_out_close(&out, path);
}

/* ---- reading --------------------------------------------------------------------------------- */

/* A whole number from least to most after a blank or a colon; the text goes on behind it. */
static bool take(const char **text, char before, long least, long most, long *value)
{
    char *end;
    if (**text != before || (*text)[1] < '0' || (*text)[1] > '9')
        return false;
    *value = strtol(*text + 1, &end, 10);
    *text = end;
    return *value >= least && *value <= most;
}

static bool take_word(const char **text, const char *word)
{
    const size_t length = strlen(word);
    if (strncmp(*text, word, length) != 0)
        return false;
    *text += length;
    return true;
}

static bool read_way(const char **text, struct hobble_policy_way *way)
{
    long go, advised, stops, counted, worth, place, ended, last = -1, all = 0;
    memset(way, 0, sizeof *way);
    if (!take_word(text, "way") || !take(text, ' ', 0, 1, &go) ||
        !take(text, ' ', 0, 80000, &advised) ||
        !take(text, ' ', 0, (1L << HOBBLE_STOP_COUNT) - 1, &stops) ||
        !take(text, ' ', 0, 60000, &counted) || !take(text, ' ', 0, counted, &worth))
        return false;
    while (**text == ' ') {
        if (!take(text, ' ', last + 1, HOBBLE_REACH_BINS - 1, &place) ||
            !take(text, ':', 1, counted, &ended))
            return false;
        way->ended[place] = (unsigned short)ended;
        last = place;
        all += ended;
    }
    way->go = (int)go;
    way->advised = (int)advised;
    way->stops = (int)stops;
    way->counted = (int)counted;
    way->worth = (int)worth;
    return all <= counted && take_word(text, "\n");
}

static bool read_body(const struct hb_policy_run *run, size_t part, const char **text,
                      struct hobble_policy_solved *solved)
{
    for (size_t i = 0; i < hb_part_size(run, part); i++) {
        const long number = (long)(hb_part_begin(part) + i);
        long n, unseen, closure;
        if (!take_word(text, "condition") || !take(text, ' ', number, number, &n) ||
            !take(text, ' ', 0, 10000000, &unseen) || !take(text, ' ', 0, 2000000000, &closure))
            return false;
        if (!take_word(text, "\n"))
            return false;
        solved[i].unseen = (int)unseen;
        solved[i].closure = (int)closure;
        for (int k = 0; k < HOBBLE_POLICY_SPEEDS; k++)
            if (!read_way(text, &solved[i].way[k]))
                return false;
    }
    return true;
}

/* What is wrong with a part, or NULL. */
static const char *check(const struct hb_policy_run *run, size_t part, const char *bytes,
                         size_t size, struct hobble_policy_solved *solved)
{
    static const char not_whole[] = "a whole part; remove it and it is solved again";
    char head[160], tail[32];
    head_of(run, part, head, sizeof head);
    const size_t last = strlen("check 0123456789abcdef\n");
    if (size < strlen(head) + last || strlen(bytes) != size)
        return not_whole;
    snprintf(tail, sizeof tail, "check %016" PRIx64 "\n", sum_of(bytes, size - last));
    if (strcmp(bytes + size - last, tail) != 0)
        return not_whole;
    const char *text = bytes;
    if (!take_word(&text, head))
        return "a part of this fleet, sample and version; use another folder for another fleet";
    return read_body(run, part, &text, solved) && text == bytes + size - last ? NULL : not_whole;
}

enum hobble_status hb_part_read(const struct hb_policy_run *run, size_t part,
                                struct hobble_policy_solved *solved, struct hobble_faults *sink)
{
    char path[PATH_SIZE], *bytes;
    size_t size;
    hb_part_path(run, part, path, sizeof path);
    FILE *f = fopen(path, "rb"); /* only to tell whether there is one */
    if (!f)
        return HOBBLE_E_NO_INPUT;
    fclose(f);
    enum hobble_status status = hb_file_read(path, &bytes, &size, sink);
    if (status != HOBBLE_OK)
        return status;
    struct hobble_policy_solved *room = calloc(HB_PART_CONDITIONS, sizeof *room);
    const char *why = room ? check(run, part, bytes, size, room) : NULL;
    if (!room)
        status = HOBBLE_E_MEMORY;
    else if (why)
        status = hb_fault_at(sink, HOBBLE_E_CONFLICT, path, 0, "part", "", why);
    else
        memcpy(solved, room, hb_part_size(run, part) * sizeof *room);
    free(room);
    free(bytes);
    return status;
}
