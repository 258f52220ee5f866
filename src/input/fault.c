/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "input/fault.h"

#include <stdio.h>
#include <string.h>

enum hobble_status hb_fault_at(struct hobble_faults *sink, enum hobble_status status,
                               const char *file, int line, const char *key, const char *given,
                               const char *allowed)
{
    struct hobble_fault f = {.status = status, .line = line};
    hobble_fault_text(f.file, file);
    hobble_fault_text(f.key, key);
    hobble_fault_text(f.given, given);
    hobble_fault_text(f.allowed, allowed);
    return hobble_faults_add(sink, &f);
}

void hb_origin(const char *file, int line, char *buf, size_t size)
{
    char shown[HOBBLE_FAULT_TEXT], number[16];
    const char *slash = strrchr(file, '/');
    hobble_fault_text(shown, slash ? slash + 1 : file);
    snprintf(number, sizeof number, ":%d", line);
    const size_t room = size - strlen(number) - 1, length = strlen(shown);
    const char *from = shown + (length > room ? length - room : 0);
    while (((unsigned char)*from & 0xC0U) == 0x80U)
        from++;
    snprintf(buf, size, "%s%s", from, number);
}
