/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "failing_alloc.h"

#include <stddef.h>

static struct {
    bool armed, refused;
    long fails_at, requests, open;
} state;

void *__real_malloc(size_t size);
void *__real_calloc(size_t count, size_t size);
void __real_free(void *memory);
void *__wrap_malloc(size_t size);
void *__wrap_calloc(size_t count, size_t size);
void __wrap_free(void *memory);

void failing_alloc_arm(long n)
{
    state.refused = false;
    state.fails_at = n;
    state.requests = state.open = 0;
    state.armed = true;
}

bool failing_alloc_disarm(long *open)
{
    state.armed = false;
    *open = state.open;
    return state.refused;
}

static bool refuses(void)
{
    const bool now = state.armed && ++state.requests == state.fails_at;
    state.refused |= now;
    return now;
}

static void *count(void *memory)
{
    state.open += state.armed && memory;
    return memory;
}

void *__wrap_malloc(size_t size)
{
    return refuses() ? NULL : count(__real_malloc(size));
}

void *__wrap_calloc(size_t n, size_t size)
{
    return refuses() ? NULL : count(__real_calloc(n, size));
}

void __wrap_free(void *memory)
{
    state.open -= state.armed && memory;
    __real_free(memory);
}
