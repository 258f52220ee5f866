/* SPDX-License-Identifier: GPL-3.0-or-later */
/* log_json.c - drives as JSON lines (RFC 8259, an object a line), as radio receivers of tyre
 * sensors print them too: keys in letters of any case, with their units. */
#include "input/log_parts.h"

#include <jansson.h>
#include <math.h>
#include <string.h>

static enum hobble_status begin(hobble_log *log)
{
    (void)log;
    return HOBBLE_OK;
}

static bool number_of(const json_t *value, double *number)
{
    if (json_is_string(value))
        return hb_log_number(json_string_value(value), false, number);
    *number = json_number_value(value);
    return json_is_number(value);
}

static bool take_time(struct hobble_sample *s, const struct hb_log_name *name, const json_t *value,
                      bool *dated)
{
    double number;
    if (json_is_string(value) && hb_log_date(json_string_value(value), &s->time)) {
        *dated = true;
        return true;
    }
    if (!number_of(value, &number))
        return false;
    s->time = number * name->factor;
    return true;
}

/* One key. Returns whether it could be read; keys without a unit are not of the table. */
static bool take(hobble_log *log, struct hobble_sample *s, const char *key, const json_t *value,
                 bool *dated)
{
    struct hb_log_name name;
    double number;
    if (!hb_log_name_read(key, &name) || json_is_null(value) || name.field == HB_LOG_SENSOR)
        return true;
    if (name.field == HB_LOG_TIME)
        return take_time(s, &name, value, dated);
    if (name.field == HB_LOG_MARK) {
        if (json_is_string(value))
            hb_log_mark(s, json_string_value(value));
        return true;
    }
    if (name.factor == 0.0)
        return true;
    if (!number_of(value, &number))
        return false;
    if (log->tally.held[name.field] == 0 && isnan(s->value[name.field]))
        hb_log_recognised(log, key, &name);
    hb_log_put(log, s, name.field, (number + name.shift) * name.factor);
    return true;
}

static bool sensor_of(const json_t *object, char *text, size_t size)
{
    const char *key;
    json_t *value;
    json_object_foreach((json_t *)(uintptr_t)object, key, value)
    {
        struct hb_log_name name;
        if (!hb_log_name_read(key, &name) || name.field != HB_LOG_SENSOR)
            continue;
        if (json_is_string(value))
            snprintf(text, size, "%s", json_string_value(value));
        else if (json_is_integer(value))
            snprintf(text, size, "%lld", (long long)json_integer_value(value));
        else
            continue;
        return true;
    }
    return false;
}

static enum hobble_status take_object(hobble_log *log, const json_t *object)
{
    struct hobble_sample s = hb_log_sample(log);
    char sensor[HOBBLE_LOG_NOTE_TEXT];
    enum hobble_status status = HOBBLE_OK;
    bool dated = false, whole = true;
    const char *key;
    json_t *value;
    if (sensor_of(object, sensor, sizeof sensor) && !hb_log_is_wheel(log, sensor, &status))
        return status;
    json_object_foreach((json_t *)(uintptr_t)object, key, value) whole =
        take(log, &s, key, value, &dated) && whole;
    if (!whole || isnan(s.time))
        hb_log_odd(log, HOBBLE_LOG_UNREADABLE);
    return isnan(s.time) ? HOBBLE_OK : hb_log_pass(log, &s, dated);
}

static enum hobble_status line(hobble_log *log, char *text, size_t size)
{
    json_t *object = json_loadb(text, size, JSON_REJECT_DUPLICATES, NULL);
    enum hobble_status status = HOBBLE_OK;
    if (json_is_object(object))
        status = take_object(log, object);
    else
        hb_log_odd(log, HOBBLE_LOG_UNREADABLE);
    json_decref(object);
    return status;
}

const struct hb_log_kind hb_log_json = {begin, line, NULL, NULL, NULL};
