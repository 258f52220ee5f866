/* SPDX-License-Identifier: GPL-3.0-or-later */
/* log_names.c - what columns are called, in which units, and how numbers and times are written.
 * Units: NIST SP 811; dates: ISO 8601-1:2019. */
#include "input/log_parts.h"

#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { NAME_MOST = 64, DIGITS_MOST = 19, POWERS = 23 };

enum quantity { TIME, SPEED, FORCE, HEAT, PRESSURE, ANGLE, LENGTH, GATHERING, WORDS };

static const struct {
    enum quantity of;
    const char *word;
    double factor, shift;
} unit[] = {
    {TIME, "s", 1, 0},
    {TIME, "ms", 1e-3, 0},
    {TIME, "min", 60, 0},
    {TIME, "h", 3600, 0},
    {SPEED, "kmh", 1 / 3.6, 0},
    {SPEED, "km/h", 1 / 3.6, 0},
    {SPEED, "kph", 1 / 3.6, 0},
    {SPEED, "mph", 0.44704, 0},
    {SPEED, "m/s", 1, 0},
    {SPEED, "mps", 1, 0},
    {SPEED, "ms", 1, 0},
    {SPEED, "kn", 1852.0 / 3600.0, 0},
    {SPEED, "knots", 1852.0 / 3600.0, 0},
    {FORCE, "n", 1, 0},
    {FORCE, "kn", 1e3, 0},
    {FORCE, "kg", 9.80665, 0},
    {FORCE, "lb", 4.4482216152605, 0},
    {FORCE, "lbf", 4.4482216152605, 0},
    {HEAT, "c", 1, 273.15},
    {HEAT, "degc", 1, 273.15},
    {HEAT,
     "\xC2\xB0"
     "c",
     1, 273.15},
    {HEAT, "f", 1 / 1.8, 459.67},
    {HEAT, "degf", 1 / 1.8, 459.67},
    {HEAT,
     "\xC2\xB0"
     "f",
     1 / 1.8, 459.67},
    {HEAT, "k", 1, 0},
    {PRESSURE, "kpa", 1e3, 0},
    {PRESSURE, "bar", 1e5, 0},
    {PRESSURE, "psi", 6894.757293168361, 0},
    {PRESSURE, "mbar", 100, 0},
    {PRESSURE, "hpa", 100, 0},
    {PRESSURE, "pa", 1, 0},
    {ANGLE, "deg", 1, 0},
    {LENGTH, "m", 1, 0},
    {LENGTH, "ft", 0.3048, 0},
    {GATHERING, "m/s2", 1, 0},
    {GATHERING, "ms2", 1, 0},
    {GATHERING, "mps2", 1, 0},
    {GATHERING, "g", 9.80665, 0},
};

/* The first name of a field is its own. */
static const struct {
    int field;
    enum quantity of;
    const char *word;
} known[] = {
    {HB_LOG_TIME, TIME, "time"},
    {HB_LOG_TIME, TIME, "t"},
    {HB_LOG_TIME, TIME, "timestamp"},
    {HB_LOG_TIME, TIME, "utc"},
    {HB_LOG_TIME, TIME, "date_time"},
    {HB_LOG_TIME, TIME, "elapsed"},
    {HOBBLE_LOG_SPEED, SPEED, "speed"},
    {HOBBLE_LOG_SPEED, SPEED, "v"},
    {HOBBLE_LOG_SPEED, SPEED, "velocity"},
    {HOBBLE_LOG_SPEED, SPEED, "gps_speed"},
    {HOBBLE_LOG_LOAD, FORCE, "load"},
    {HOBBLE_LOG_LOAD, FORCE, "wheel_load"},
    {HOBBLE_LOG_AMBIENT, HEAT, "ambient"},
    {HOBBLE_LOG_AMBIENT, HEAT, "outside"},
    {HOBBLE_LOG_AMBIENT, HEAT, "atemp"},
    {HOBBLE_LOG_AMBIENT, HEAT, "t_ambient"},
    {HOBBLE_LOG_PRESSURE, PRESSURE, "pressure"},
    {HOBBLE_LOG_PRESSURE, PRESSURE, "p"},
    {HOBBLE_LOG_PRESSURE, PRESSURE, "tyre_pressure"},
    {HOBBLE_LOG_PRESSURE, PRESSURE, "tire_pressure"},
    {HOBBLE_LOG_PRESSURE, PRESSURE, "gauge"},
    {HOBBLE_LOG_CAVITY, HEAT, "cavity"},
    {HOBBLE_LOG_CAVITY, HEAT, "temperature"},
    {HOBBLE_LOG_CAVITY, HEAT, "t_cavity"},
    {HOBBLE_LOG_CAVITY, HEAT, "tyre_air"},
    {HOBBLE_LOG_INNER, HEAT, "inner"},
    {HOBBLE_LOG_INNER, HEAT, "t_inner"},
    {HOBBLE_LOG_INNER, HEAT, "inner_face"},
    {HOBBLE_LOG_OUTER, HEAT, "outer"},
    {HOBBLE_LOG_OUTER, HEAT, "t_outer"},
    {HOBBLE_LOG_OUTER, HEAT, "outer_face"},
    {HOBBLE_LOG_SHOULDER, HEAT, "shoulder"},
    {HOBBLE_LOG_SHOULDER, HEAT, "t_shoulder"},
    {HOBBLE_LOG_RIM, HEAT, "rim"},
    {HOBBLE_LOG_RIM, HEAT, "t_rim"},
    {HOBBLE_LOG_LATITUDE, ANGLE, "latitude"},
    {HOBBLE_LOG_LATITUDE, ANGLE, "lat"},
    {HOBBLE_LOG_LONGITUDE, ANGLE, "longitude"},
    {HOBBLE_LOG_LONGITUDE, ANGLE, "lon"},
    {HOBBLE_LOG_LONGITUDE, ANGLE, "lng"},
    {HOBBLE_LOG_HEIGHT, LENGTH, "height"},
    {HOBBLE_LOG_HEIGHT, LENGTH, "ele"},
    {HOBBLE_LOG_HEIGHT, LENGTH, "altitude"},
    {HOBBLE_LOG_HEIGHT, LENGTH, "elevation"},
    {HOBBLE_LOG_ALONG, GATHERING, "along"},
    {HOBBLE_LOG_ALONG, GATHERING, "longitudinal"},
    {HOBBLE_LOG_ACROSS, GATHERING, "across"},
    {HOBBLE_LOG_ACROSS, GATHERING, "lateral"},
    {HB_LOG_MARK, WORDS, "mark"},
    {HB_LOG_MARK, WORDS, "event"},
    {HB_LOG_MARK, WORDS, "note"},
    {HB_LOG_SENSOR, WORDS, "id"},
    {HB_LOG_SENSOR, WORDS, "sensor"},
};
enum { UNITS = sizeof unit / sizeof *unit, KNOWN = sizeof known / sizeof *known };

static const char *const units_of[] = {[TIME] = "s, ms, min or h, or ISO 8601",
                                       [SPEED] = "kmh, mph, m/s or kn",
                                       [FORCE] = "N, kN, kg or lb",
                                       [HEAT] = "c, f or k",
                                       [PRESSURE] = "kpa, bar, psi, mbar or pa",
                                       [ANGLE] = "deg",
                                       [LENGTH] = "m or ft",
                                       [GATHERING] = "m/s2 or g",
                                       [WORDS] = "a text"};

/* ---- names -------------------------------------------------------------------------------------
 */

static int find_name(const char *word, size_t length)
{
    for (int i = 0; i < KNOWN; i++)
        if (strlen(known[i].word) == length && memcmp(known[i].word, word, length) == 0)
            return i;
    return -1;
}

static int find_unit(enum quantity of, const char *word, size_t length)
{
    for (int i = 0; i < UNITS; i++)
        if (unit[i].of == of && strlen(unit[i].word) == length &&
            memcmp(unit[i].word, word, length) == 0)
            return i;
    return -1;
}

/* Lower case; blanks between words as '_', none at the ends. */
static size_t plain(const char *text, char to[NAME_MOST])
{
    size_t n = 0;
    for (; *text && n + 1 < NAME_MOST; text++)
        if (*text == ' ' || *text == '-')
            to[n++] = '_';
        else if ((unsigned char)*text > ' ')
            to[n++] = (char)tolower((unsigned char)*text);
    while (n > 0 && to[n - 1] == '_')
        n--;
    to[n] = '\0';
    const size_t skip = strspn(to, "_");
    memmove(to, to + skip, n - skip + 1);
    return n - skip;
}

static void fill(struct hb_log_name *name, int place, int of)
{
    *name = (struct hb_log_name){.field = known[place].field};
    if (of >= 0)
        *name = (struct hb_log_name){known[place].field, unit[of].factor, unit[of].shift,
                                     unit[of].word};
}

/* name (unit), name [unit], or name_unit. */
bool hb_log_name_read(const char *text, struct hb_log_name *name)
{
    char word[NAME_MOST];
    size_t length = plain(text, word), unit_at = length, unit_length = 0;
    const char *open = strpbrk(word, "([");
    if (open) {
        unit_at = (size_t)(open - word) + 1;
        unit_length = strcspn(word + unit_at, ")]");
        length = unit_at - 1;
        while (length > 0 && word[length - 1] == '_')
            length--;
    }
    int place = find_name(word, length);
    if (place < 0 && !open) {
        const char *last = strrchr(word, '_');
        if (!last)
            return false;
        unit_at = (size_t)(last - word) + 1;
        unit_length = length - unit_at;
        place = find_name(word, unit_at - 1);
    }
    if (place < 0)
        return false;
    const int of = unit_length > 0 ? find_unit(known[place].of, word + unit_at, unit_length) : -1;
    if (unit_length > 0 && of < 0)
        return false;
    fill(name, place, of);
    if (of < 0 &&
        (known[place].of == ANGLE || known[place].of == LENGTH || known[place].of == TIME))
        name->factor = 1.0;
    return true;
}

static int place_of(int field)
{
    for (int i = 0; i < KNOWN; i++)
        if (known[i].field == field)
            return i;
    return 0;
}

const char *hb_log_field_name(int field)
{
    return known[place_of(field)].word;
}

const char *hb_log_field_units(int field)
{
    return units_of[known[place_of(field)].of];
}

void hb_log_si_unit(struct hb_log_name *name)
{
    static const char *const word[] = {
        [SPEED] = "m/s", [HEAT] = "c", [LENGTH] = "m", [GATHERING] = "m/s2", [WORDS] = NULL};
    const int place = place_of(name->field);
    const enum quantity of = known[place].of;
    const char *own = of < sizeof word / sizeof *word ? word[of] : NULL;
    if (name->factor == 0.0 && own)
        fill(name, place, find_unit(of, own, strlen(own)));
}

/* ---- numbers -----------------------------------------------------------------------------------
 */

static const double power[POWERS] = {1e0,  1e1,  1e2,  1e3,  1e4,  1e5,  1e6,  1e7,
                                     1e8,  1e9,  1e10, 1e11, 1e12, 1e13, 1e14, 1e15,
                                     1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22};

/* Digits so far, and where the point stands. */
struct digits {
    unsigned long long whole;
    int count, behind;
    bool any;
};

static const char *take_digits(const char *at, bool comma, struct digits *d)
{
    bool point = false;
    for (;; at++) {
        if (!point && (*at == '.' || (comma && *at == ','))) {
            point = true;
            continue;
        }
        if (*at < '0' || *at > '9')
            return at;
        d->any = true;
        if (d->count < DIGITS_MOST - 1) { /* more of them tell nothing that a double holds */
            d->whole = 10 * d->whole + (unsigned long long)(*at - '0');
            d->count += d->whole > 0;
            d->behind += point;
        } else
            d->behind -= !point;
    }
}

static const char *take_exponent(const char *at, int *exponent)
{
    const bool minus = at[1] == '-';
    const char *digit = at + 1 + (at[1] == '-' || at[1] == '+');
    int value = 0;
    if (*digit < '0' || *digit > '9')
        return at;
    for (; *digit >= '0' && *digit <= '9'; digit++)
        value = value < 1000 ? 10 * value + (*digit - '0') : value;
    *exponent = minus ? -value : value;
    return digit;
}

bool hb_log_number(const char *text, bool comma, double *value)
{
    struct digits d = {0, 0, 0, false};
    int exponent = 0;
    while (*text == ' ' || *text == '\t')
        text++;
    const bool minus = *text == '-';
    text += *text == '-' || *text == '+';
    text = take_digits(text, comma, &d);
    if (!d.any)
        return false;
    if (*text == 'e' || *text == 'E')
        text = take_exponent(text, &exponent);
    while (*text == ' ' || *text == '\t')
        text++;
    if (*text)
        return false;
    exponent -= d.behind;
    if (exponent < -300 || exponent > 280)
        return false;
    double size = (double)d.whole;
    while (exponent != 0) {
        const int some = exponent > 0 ? exponent : -exponent, most = POWERS - 1;
        const int step = some < most ? some : most;
        size = exponent > 0 ? size * power[step] : size / power[step];
        exponent += exponent > 0 ? -step : step;
    }
    *value = minus ? -size : size;
    return true;
}

/* ---- times -------------------------------------------------------------------------------------
 */

long hb_log_days(int year, int month, int day)
{
    /* years that begin in March end with the day that leap years add */
    const long y = year - (month <= 2), shifted = (month + 9) % 12;
    const long era = (y >= 0 ? y : y - 399) / 400, of_era = y - 400 * era;
    const long of_year = (153 * shifted + 2) / 5 + day - 1;
    return 146097 * era + 365 * of_era + of_era / 4 - of_era / 100 + of_year - 719468;
}

static int digits_at(const char *text, int count)
{
    int value = 0;
    for (int i = 0; i < count; i++) {
        if (text[i] < '0' || text[i] > '9')
            return -1;
        value = 10 * value + (text[i] - '0');
    }
    return value;
}

static bool is_in(int value, int least, int most)
{
    return value >= least && value <= most;
}

/* Z, +hh, +hhmm, +hh:mm or nothing; s to take off. */
static bool zone(const char *text, double *seconds)
{
    *seconds = 0.0;
    if (*text == '\0' || strcmp(text, "Z") == 0 || strcmp(text, "z") == 0)
        return true;
    if (*text != '+' && *text != '-')
        return false;
    const int hours = digits_at(text + 1, 2);
    const char *rest = hours < 0 ? "" : text + 3;
    rest += *rest == ':';
    const int minutes = *rest ? digits_at(rest, 2) : 0;
    if (!is_in(hours, 0, 23) || !is_in(minutes, 0, 59) || (*rest && rest[2]))
        return false;
    *seconds = (*text == '-' ? -1.0 : 1.0) * (3600.0 * hours + 60.0 * minutes);
    return true;
}

bool hb_log_date(const char *text, double *seconds)
{
    text += strspn(text, " \t");
    if (strlen(text) < 16 || strlen(text) > 48)
        return false;
    const int year = digits_at(text, 4), month = digits_at(text + 5, 2),
              day = digits_at(text + 8, 2);
    const int hour = digits_at(text + 11, 2), minute = digits_at(text + 14, 2);
    const bool marks =
        text[4] == '-' && text[7] == '-' && strchr("Tt ", text[10]) && text[13] == ':';
    if (!marks || !is_in(year, 1900, 2200) || !is_in(month, 1, 12) || !is_in(day, 1, 31) ||
        !is_in(hour, 0, 24) || !is_in(minute, 0, 59))
        return false;
    char tail[48];
    double second = 0.0, off;
    const char *at = text + 16;
    if (*at == ':') {
        const size_t length = strspn(at + 1, "0123456789.,");
        memcpy(tail, at + 1, length);
        tail[length] = '\0';
        if (!hb_log_number(tail, true, &second) || second >= 61.0)
            return false;
        at += 1 + length;
    }
    snprintf(tail, sizeof tail, "%s", at);
    for (size_t n = strlen(tail); n > 0 && tail[n - 1] == ' '; n--)
        tail[n - 1] = '\0';
    if (!zone(tail, &off))
        return false;
    *seconds = 86400.0 * (double)hb_log_days(year, month, day) + 3600.0 * hour + 60.0 * minute +
               second - off;
    return true;
}
