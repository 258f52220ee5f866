/* SPDX-License-Identifier: GPL-3.0-or-later */
/* fuzz_marking.c - any bytes as a marking: either refused with a place and a reason, the output
 * untouched, or read as something that prints and reads back the same. */
#include "fuzz.h"
#include "hobble.h"

#include <stdlib.h>
#include <string.h>

static void need(bool held)
{
    if (!held)
        abort();
}

static void check_accepted(const struct hobble_marking *m)
{
    struct hobble_marking again;
    char first[64];
    char second[64];

    need(hobble_marking_print(m, first, sizeof first) == HOBBLE_OK);
    need(hobble_marking_parse(first, &again, NULL) == HOBBLE_OK);
    need(hobble_marking_print(&again, second, sizeof second) == HOBBLE_OK);
    need(strcmp(first, second) == 0);
    need(memchr(m->skipped, '\0', sizeof m->skipped) != NULL);
    need(m->skipped[0] != '\0' || !m->unknown_words);
    need(again.skipped[0] == '\0' && again.flat == m->flat && again.extra_load == m->extra_load);
    need(hobble_load_index_kg(m->load_index) > 0.0);
    need(hobble_marking_geometry(m).section_height > 0.0);
    need(hobble_marking_geometry(m).free_radius > hobble_marking_geometry(m).section_height);
}

static void check_refused(const struct hobble_fault *fault, enum hobble_status status)
{
    int shown = 0;

    need(fault->status == status);
    need(memchr(fault->given, '\0', sizeof fault->given) != NULL);
    for (const char *p = fault->given; *p != '\0'; p++) {
        need((unsigned char)*p >= 0x20 && *p != 0x7F);
        shown += ((unsigned char)*p & 0xC0U) != 0x80U;
    }
    need(fault->column >= 1 && fault->column <= shown + 1);
    need(fault->allowed[0] != '\0' && fault->key[0] != '\0');
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    struct hobble_marking out;
    struct hobble_marking before;
    struct hobble_fault fault;
    enum hobble_status status = HOBBLE_OK;
    char *text = malloc(size + 1); /* exactly as long as it is, so that an overrun is seen */

    if (text == NULL)
        return 0;
    if (size > 0)
        memcpy(text, data, size);
    text[size] = '\0';
    memset(&out, 0x5A, sizeof out);
    memcpy(&before, &out, sizeof out);
    memset(&fault, 0x5A, sizeof fault);
    status = hobble_marking_parse(text, &out, &fault);
    if (status == HOBBLE_OK) {
        check_accepted(&out);
    } else {
        need(memcmp(&before, &out, sizeof out) == 0);
        check_refused(&fault, status);
    }
    free(text);
    return 0;
}
