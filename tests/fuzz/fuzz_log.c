/* SPDX-License-Identifier: GPL-3.0-or-later */
/* fuzz_log.c - any bytes as a recorded drive, by content and as each format: refused with a reason,
 * or samples whose times never fall and whose readings can be; and in two pieces the same. */
#include "fuzz.h"
#include "hobble.h"

#include <math.h>
#include <stdlib.h>

static void need(bool held)
{
    if (!held)
        abort();
}

struct seen {
    size_t count;
    double last, sum;
};

static enum hobble_status look(void *to, const struct hobble_sample *s)
{
    struct seen *seen = to;
    need(isfinite(s->time) && (seen->count == 0 || s->time >= seen->last));
    need(s->mark >= HOBBLE_LOG_NO_MARK && s->mark <= HOBBLE_LOG_NOTE);
    for (int i = 0; i < HOBBLE_LOG_FIELDS; i++)
        if (!isnan(s->value[i])) {
            need(isfinite(s->value[i]));
            seen->sum += s->value[i];
        }
    seen->last = s->time;
    seen->count++;
    return HOBBLE_OK;
}

static enum hobble_status read_cut(enum hobble_log_format format, const uint8_t *data, size_t size,
                                   size_t cut, struct seen *seen)
{
    static struct hobble_faults faults;
    const struct hobble_log_options options = {.format = format};
    hobble_log *log = hobble_log_new(&options, look, seen);
    need(log != NULL);
    faults.count = 0;
    enum hobble_status status = hobble_log_begin(log, "fuzz", &faults);
    if (status == HOBBLE_OK)
        status = hobble_log_feed(log, (const char *)data, cut, &faults);
    if (status == HOBBLE_OK)
        status = hobble_log_feed(log, (const char *)data + cut, size - cut, &faults);
    if (status == HOBBLE_OK)
        status = hobble_log_finish(log, &faults);
    need(status == HOBBLE_OK || (faults.count > 0 && faults.item[0].status == status &&
                                 faults.item[0].allowed[0] != '\0'));
    need(status != HOBBLE_OK || (faults.count == 0 && hobble_log_tally(log)->samples > 0));
    need(hobble_log_tally(log)->samples == seen->count);
    hobble_log_free(log);
    return status;
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    for (int format = HOBBLE_LOG_BY_CONTENT; format <= HOBBLE_LOG_JSON; format++) {
        struct seen whole = {.count = 0}, cut = {.count = 0};
        const enum hobble_log_format f = (enum hobble_log_format)format;
        const enum hobble_status status = read_cut(f, data, size, 0, &whole);
        const size_t place = size > 0 ? data[size / 2] % size : 0;
        need(read_cut(f, data, size, place, &cut) == status);
        need(cut.count == whole.count && (cut.sum == whole.sum || isnan(cut.sum)));
    }
    return 0;
}
