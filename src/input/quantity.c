/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "input/quantity.h"

#include <locale.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define DEGREE_SIGN "\xC2\xB0" /* the sign U+00B0 in UTF-8 */

enum dimension {
    PURE,
    LENGTH,
    SPEED,
    FORCE,
    MASS,
    PRESSURE,
    TEMPERATURE,
    WARMTH, /* a difference of temperature */
    TIME,
    STIFFNESS,
    CONDUCTIVITY,
    DENSITY,
    SPECIFIC_HEAT,
    FILM,
    FILM_SLOPE,
    MOLAR_ENERGY,
    ANGLE
};

static const double GRAVITY = 9.80665; /* standard acceleration, SI Brochure 9th ed. (2019) */

/* SI value = (value - at) * times / over + si_at. Whole factors over whole divisors keep round
 * values round: 140 F is 60 C, not 60.00000000000006. Factors: SI Brochure, 9th ed. (2019), tables
 * 4-8, and NIST SP 811 (2008), appendix B: in, ft, mi, lb, lbf, degF and the kilocalorie are exact;
 * psi is lbf/in2. A year is 365.25 days, as in the table of units. */
struct unit_row {
    const char *suffix;
    enum dimension dimension;
    double times, over, at, si_at;
    bool listed; /* named in messages; the others are spellings of the one before */
};
static const struct unit_row UNITS[] = {
    {"%", PURE, 1, 100, 0, 0, true},
    {"mm", LENGTH, 1, 1000, 0, 0, true},
    {"cm", LENGTH, 1, 100, 0, 0, true},
    {"m", LENGTH, 1, 1, 0, 0, true},
    {"km", LENGTH, 1000, 1, 0, 0, true},
    {"in", LENGTH, 0.0254, 1, 0, 0, true},
    {"ft", LENGTH, 0.3048, 1, 0, 0, true},
    {"mi", LENGTH, 1609.344, 1, 0, 0, true},
    {"km/h", SPEED, 1, 3.6, 0, 0, true},
    {"kmh", SPEED, 1, 3.6, 0, 0, false},
    {"kph", SPEED, 1, 3.6, 0, 0, false},
    {"m/s", SPEED, 1, 1, 0, 0, true},
    {"mph", SPEED, 0.44704, 1, 0, 0, true},
    {"mi/h", SPEED, 0.44704, 1, 0, 0, false},
    {"N", FORCE, 1, 1, 0, 0, true},
    {"kN", FORCE, 1000, 1, 0, 0, true},
    {"lbf", FORCE, 4.4482216152605, 1, 0, 0, true},
    {"kg", MASS, 1, 1, 0, 0, true},
    {"g", MASS, 1, 1000, 0, 0, false},
    {"t", MASS, 1000, 1, 0, 0, true},
    {"lb", MASS, 0.45359237, 1, 0, 0, true},
    {"lbs", MASS, 0.45359237, 1, 0, 0, false},
    {"kPa", PRESSURE, 1000, 1, 0, 0, true},
    {"Pa", PRESSURE, 1, 1, 0, 0, true},
    {"bar", PRESSURE, 100000, 1, 0, 0, true},
    {"mbar", PRESSURE, 100, 1, 0, 0, true},
    {"psi", PRESSURE, 6894.757293168361, 1, 0, 0, true},
    {"C", TEMPERATURE, 1, 1, 0, 273.15, true},
    {DEGREE_SIGN "C", TEMPERATURE, 1, 1, 0, 273.15, false},
    {"degC", TEMPERATURE, 1, 1, 0, 273.15, false},
    {"F", TEMPERATURE, 5, 9, 32, 273.15, true},
    {DEGREE_SIGN "F", TEMPERATURE, 5, 9, 32, 273.15, false},
    {"degF", TEMPERATURE, 5, 9, 32, 273.15, false},
    {"K", TEMPERATURE, 1, 1, 0, 0, true},
    {"K", WARMTH, 1, 1, 0, 0, true},
    {"C", WARMTH, 1, 1, 0, 0, true},
    {DEGREE_SIGN "C", WARMTH, 1, 1, 0, 0, false},
    {"F", WARMTH, 5, 9, 0, 0, true},
    {DEGREE_SIGN "F", WARMTH, 5, 9, 0, 0, false},
    {"s", TIME, 1, 1, 0, 0, true},
    {"min", TIME, 60, 1, 0, 0, true},
    {"h", TIME, 3600, 1, 0, 0, true},
    {"d", TIME, 86400, 1, 0, 0, true},
    {"days", TIME, 86400, 1, 0, 0, false},
    {"years", TIME, 31557600, 1, 0, 0, true},
    {"year", TIME, 31557600, 1, 0, 0, false},
    {"N/mm", STIFFNESS, 1000, 1, 0, 0, true},
    {"kN/m", STIFFNESS, 1000, 1, 0, 0, true},
    {"N/m", STIFFNESS, 1, 1, 0, 0, true},
    {"lbf/in", STIFFNESS, 4.4482216152605, 0.0254, 0, 0, true},
    {"W/mK", CONDUCTIVITY, 1, 1, 0, 0, true},
    {"W/(m K)", CONDUCTIVITY, 1, 1, 0, 0, false},
    {"kg/m3", DENSITY, 1, 1, 0, 0, true},
    {"g/cm3", DENSITY, 1000, 1, 0, 0, true},
    {"J/kgK", SPECIFIC_HEAT, 1, 1, 0, 0, true},
    {"J/(kg K)", SPECIFIC_HEAT, 1, 1, 0, 0, false},
    {"kJ/kgK", SPECIFIC_HEAT, 1000, 1, 0, 0, true},
    {"W/m2K", FILM, 1, 1, 0, 0, true},
    {"W/(m2 K)", FILM, 1, 1, 0, 0, false},
    {"Ws/m3K", FILM_SLOPE, 1, 1, 0, 0, true},
    {"kJ/mol", MOLAR_ENERGY, 1000, 1, 0, 0, true},
    {"J/mol", MOLAR_ENERGY, 1, 1, 0, 0, true},
    {"kcal/mol", MOLAR_ENERGY, 4184, 1, 0, 0, true},
    {"deg", ANGLE, 3.14159265358979323846, 180, 0, 0, true},
    {"rad", ANGLE, 1, 1, 0, 0, true},
};
enum { UNIT_ROWS = sizeof UNITS / sizeof UNITS[0] };

/* What each unit of hobble.h measures, and its partner in the US. */
static const struct {
    enum dimension dimension;
    const char *us;
} KINDS[HOBBLE_UNIT_COUNT] = {
    [HOBBLE_UNIT_NONE] = {PURE, NULL},
    [HOBBLE_UNIT_MILLIMETRE] = {LENGTH, "in"},
    [HOBBLE_UNIT_KILOMETRE] = {LENGTH, "mi"},
    [HOBBLE_UNIT_KM_PER_HOUR] = {SPEED, "mph"},
    [HOBBLE_UNIT_NEWTON] = {FORCE, "lbf"},
    [HOBBLE_UNIT_KILOGRAM] = {MASS, "lb"},
    [HOBBLE_UNIT_KILOPASCAL] = {PRESSURE, "psi"},
    [HOBBLE_UNIT_CELSIUS] = {TEMPERATURE, "F"},
    [HOBBLE_UNIT_KELVIN] = {WARMTH, NULL},
    [HOBBLE_UNIT_MINUTE] = {TIME, NULL},
    [HOBBLE_UNIT_YEAR] = {TIME, NULL},
    [HOBBLE_UNIT_STIFFNESS] = {STIFFNESS, "lbf/in"},
    [HOBBLE_UNIT_CONDUCTIVITY] = {CONDUCTIVITY, NULL},
    [HOBBLE_UNIT_DENSITY] = {DENSITY, NULL},
    [HOBBLE_UNIT_SPECIFIC_HEAT] = {SPECIFIC_HEAT, NULL},
    [HOBBLE_UNIT_FILM] = {FILM, NULL},
    [HOBBLE_UNIT_FILM_SLOPE] = {FILM_SLOPE, NULL},
    [HOBBLE_UNIT_KJ_PER_MOL] = {MOLAR_ENERGY, NULL},
    [HOBBLE_UNIT_DEGREE] = {ANGLE, NULL},
    [HOBBLE_UNIT_WHOLE] = {PURE, NULL},
};

/* The C locale of this thread for as long as a call lasts; 0 when there is none to be had. */
static locale_t enter_c_locale(locale_t *fresh)
{
    *fresh = newlocale(LC_ALL_MASK, "C", (locale_t)0);
    return *fresh ? uselocale(*fresh) : (locale_t)0;
}

static void leave_c_locale(locale_t fresh, locale_t before)
{
    if (fresh) {
        uselocale(before);
        freelocale(fresh);
    }
}

double hb_number_read(const char *text, char **end)
{
    locale_t fresh;
    const locale_t before = enter_c_locale(&fresh);
    const double value = strtod(text, end);
    leave_c_locale(fresh, before);
    return value;
}

void hb_number_print(double value, int digits, char *buf, size_t size)
{
    const double magnitude = fabs(value);
    const int whole = magnitude >= 1.0 && magnitude < 1e15 ? 1 + (int)log10(magnitude) : 1;
    locale_t fresh;
    const locale_t before = enter_c_locale(&fresh);
    int n = whole; /* fewer would give an exponent */
    do {
        snprintf(buf, size, "%.*g", n, value);
        const double again = strtod(buf, NULL);
        if (!(again < value) && !(again > value))
            break;
    } while (++n <= digits);
    leave_c_locale(fresh, before);
}

static bool is_digit(char c)
{
    return c >= '0' && c <= '9';
}

static size_t digits_at(const char *text)
{
    size_t n = 0;
    while (is_digit(text[n]))
        n++;
    return n;
}

/* Length of a plain decimal number, 0 for none: strtod alone would take nan, inf and 0x1p3 too. */
static size_t number_length(const char *text)
{
    size_t n = text[0] == '+' || text[0] == '-';
    const size_t whole = digits_at(text + n);
    n += whole;
    if (text[n] == '.') {
        const size_t part = digits_at(text + n + 1);
        if (whole + part == 0)
            return 0;
        n += 1 + part;
    } else if (whole == 0) {
        return 0;
    }
    if (text[n] == 'e' || text[n] == 'E') {
        const size_t sign = text[n + 1] == '+' || text[n + 1] == '-';
        const size_t power = digits_at(text + n + 1 + sign);
        n += power > 0 ? 1 + sign + power : 0;
    }
    return n;
}

static const char *skip_blanks(const char *text)
{
    return text + strspn(text, " \t");
}

static enum dimension dimension_of(enum hobble_unit unit, enum hb_quantity_use use)
{
    const enum dimension d = KINDS[unit].dimension;
    return use == HB_DIFFERENCE && d == TEMPERATURE ? WARMTH : d;
}

static bool suits(const struct unit_row *row, enum dimension wanted)
{
    return row->dimension == wanted || (wanted == FORCE && row->dimension == MASS);
}

static const struct unit_row *find_unit(const char *text, size_t length, enum dimension wanted)
{
    for (int i = 0; i < UNIT_ROWS; i++)
        if (suits(&UNITS[i], wanted) && strlen(UNITS[i].suffix) == length &&
            memcmp(UNITS[i].suffix, text, length) == 0)
            return &UNITS[i];
    return NULL;
}

static void list_units(enum dimension wanted, char *buf, size_t size)
{
    size_t used = 0;
    if (size > 0)
        buf[0] = '\0';
    for (int i = 0; i < UNIT_ROWS; i++) {
        if (!suits(&UNITS[i], wanted) || !UNITS[i].listed || used >= size)
            continue;
        const int n = snprintf(buf + used, size - used, "%s%s", used ? ", " : "", UNITS[i].suffix);
        used += n > 0 ? (size_t)n : 0;
    }
}

void hb_quantity_units(enum hobble_unit unit, char *buf, size_t size)
{
    list_units(KINDS[unit].dimension, buf, size);
}

/* Which character of the text, counted from 1 as hobble_fault_text shows it. */
static int column_of(const char *text, const char *at)
{
    char before[HOBBLE_FAULT_TEXT] = "", shown[HOBBLE_FAULT_TEXT];
    const size_t length = (size_t)(at - text);
    memcpy(before, text, length < sizeof before ? length : sizeof before - 1);
    hobble_fault_text(shown, before);
    int column = 1;
    for (const char *c = shown; *c; c++)
        column += ((unsigned char)*c & 0xC0U) != 0x80U;
    return column;
}

static enum hobble_status refuse(struct hobble_fault *fault, enum hobble_status status,
                                 const char *text, const char *at, const char *why,
                                 enum dimension wanted)
{
    char units[HOBBLE_FAULT_TEXT], allowed[2 * HOBBLE_FAULT_TEXT];
    if (!fault)
        return status;
    memset(fault, 0, sizeof *fault);
    list_units(wanted, units, sizeof units);
    snprintf(allowed, sizeof allowed, "%s%s%s", why, *units ? "; units: " : "; no unit", units);
    fault->status = status;
    fault->column = column_of(text, at);
    hobble_fault_text(fault->given, text);
    hobble_fault_text(fault->allowed, allowed);
    return status;
}

/* Names the slip where it is a common one. */
static const char *why_no_number(const char *at)
{
    if (at[0] == '\xE2' && at[1] == '\x88' && at[2] == '\x92')
        return "a plain hyphen as minus";
    if (at[0] == ',' && is_digit(at[1]))
        return "a decimal point, not a comma";
    return "a decimal number";
}

static double convert(double value, const struct unit_row *from, enum hobble_unit unit,
                      enum dimension wanted)
{
    const double factor = hobble_unit_to_si(unit, 1.0) - hobble_unit_to_si(unit, 0.0);
    const double zero = wanted == TEMPERATURE ? hobble_unit_to_si(unit, 0.0) : 0.0;
    const double weight = wanted == FORCE && from->dimension == MASS ? GRAVITY : 1.0;
    if (strcmp(from->suffix, hobble_unit_symbol(unit)) == 0)
        return value;
    return ((value - from->at) * from->times / from->over * weight + (from->si_at - zero)) /
           (wanted == TEMPERATURE || wanted == WARMTH ? 1.0 : factor);
}

enum hobble_status hb_quantity_parse(const char *text, enum hobble_unit unit,
                                     enum hb_quantity_use use, double *shown,
                                     struct hobble_fault *fault)
{
    const enum dimension wanted = dimension_of(unit, use);
    const char *number = skip_blanks(text ? text : "");
    const size_t length = number_length(number);
    if (!text || length == 0)
        return refuse(fault, HOBBLE_E_SYNTAX, text ? text : "", text ? number : "",
                      why_no_number(number), wanted);
    const char *suffix = skip_blanks(number + length);
    size_t rest = strlen(suffix);
    while (rest > 0 && (suffix[rest - 1] == ' ' || suffix[rest - 1] == '\t'))
        rest--;
    if (suffix[0] == ',' && is_digit(suffix[1]))
        return refuse(fault, HOBBLE_E_SYNTAX, text, suffix, why_no_number(suffix), wanted);
    const struct unit_row *from = rest > 0 ? find_unit(suffix, rest, wanted) : NULL;
    if (rest > 0 && !from)
        return refuse(fault, HOBBLE_E_UNIT, text, suffix, "a number with its unit", wanted);
    char *end = NULL;
    const double value = hb_number_read(number, &end);
    const double result = from ? convert(value, from, unit, wanted) : value;
    if (end != number + length || !isfinite(result))
        return refuse(fault, HOBBLE_E_RANGE, text, number, "a finite number", wanted);
    *shown = result;
    return HOBBLE_OK;
}

const char *hb_quantity_us(enum hobble_unit unit, double *shown)
{
    const char *us = KINDS[unit].us;
    const enum dimension d = KINDS[unit].dimension;
    const struct unit_row *to = us ? find_unit(us, strlen(us), d) : NULL;
    if (!to)
        return hobble_unit_symbol(unit);
    *shown = (hobble_unit_to_si(unit, *shown) - to->si_at) * to->over / to->times + to->at;
    return us;
}

enum hobble_status hb_quantity_print(double shown, enum hobble_unit unit, bool us, int digits,
                                     char *buf, size_t size)
{
    char number[40];
    if (isnan(shown)) {
        const int n = snprintf(buf, size, "not given");
        return n >= 0 && (size_t)n < size ? HOBBLE_OK : HOBBLE_E_TOO_LARGE;
    }
    const char *symbol = us ? hb_quantity_us(unit, &shown) : hobble_unit_symbol(unit);
    hb_number_print(shown, digits < 1 ? 1 : digits > 17 ? 17 : digits, number, sizeof number);
    const int n = snprintf(buf, size, "%s%s%s", number, *symbol ? " " : "", symbol);
    return n >= 0 && (size_t)n < size ? HOBBLE_OK : HOBBLE_E_TOO_LARGE;
}
