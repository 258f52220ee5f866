/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "study/case.h"

#include "core/setting.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

hobble_case *hobble_case_new(void)
{
    hobble_case *c = malloc(sizeof *c);
    if (c) {
        hb_settings_default(&c->settings);
        c->legs = 0;
        c->items = 0;
    }
    return c;
}

void hobble_case_free(hobble_case *c)
{
    free(c);
}

static size_t used(const hobble_case *c)
{
    return offsetof(hobble_case, evidence) + c->items * sizeof *c->evidence;
}

hobble_case *hobble_case_clone(const hobble_case *c)
{
    hobble_case *copy = c ? malloc(sizeof *copy) : NULL;
    if (copy)
        memcpy(copy, c, used(c));
    return copy;
}

void hobble_case_assign(hobble_case *to, const hobble_case *from)
{
    if (to && from)
        memmove(to, from, used(from));
}

size_t hobble_case_leg_count(const hobble_case *c)
{
    return c->legs;
}

static const struct hobble_param *row_of(int row)
{
    return row >= 0 && row < HB_PARAM_COUNT ? &hobble_param_table(NULL)[row] : NULL;
}

static enum hobble_status out_of_range(struct hobble_faults *sink, const struct hobble_param *p,
                                       const char *origin, double value, double min, double max)
{
    char given[HOBBLE_FAULT_TEXT], allowed[HOBBLE_FAULT_TEXT];
    const char *unit = hobble_unit_symbol(p->unit);
    snprintf(given, sizeof given, "%.9g%s%s", value, *unit ? " " : "", unit);
    snprintf(allowed, sizeof allowed, "%.9g to %.9g%s%s", min, max, *unit ? " " : "", unit);
    return hb_fault(sink, HOBBLE_E_RANGE, p, origin, given, allowed);
}

static enum hobble_status not_whole(struct hobble_faults *sink, const struct hobble_param *p,
                                    const char *origin, double value)
{
    char given[HOBBLE_FAULT_TEXT], allowed[HOBBLE_FAULT_TEXT];
    snprintf(given, sizeof given, "%.9g", value);
    snprintf(allowed, sizeof allowed, "a whole number, %.9g to %.9g", p->min, p->max);
    return hb_fault(sink, HOBBLE_E_TYPE, p, origin, given, allowed);
}

enum hobble_status hobble_case_set_number(hobble_case *c, int row, double value, const char *origin,
                                          struct hobble_faults *sink)
{
    const struct hobble_param *p = row_of(row);
    const enum hobble_status status = hb_setting_put_number(&c->settings, row, value, origin);
    if (status == HOBBLE_OK)
        return status;
    if (status == HOBBLE_E_RANGE)
        return out_of_range(sink, p, origin, value, p->min, p->max);
    if (p && p->kind == HOBBLE_NUMBER)
        return not_whole(sink, p, origin, value);
    return hb_fault(sink, status, p, origin, "a number", p && p->words ? p->words : "a text");
}

enum hobble_status hobble_case_set_word(hobble_case *c, int row, const char *word,
                                        const char *origin, struct hobble_faults *sink)
{
    return hb_setting_put_word(&c->settings, row, word, origin, sink);
}

enum hobble_status hobble_case_set_text(hobble_case *c, int row, const char *text,
                                        const char *origin, struct hobble_faults *sink)
{
    return hb_setting_put_text(&c->settings, row, text, origin, sink);
}

void hobble_case_forget(hobble_case *c, int row)
{
    struct hb_settings built_in;
    if (!c || !row_of(row))
        return;
    hb_settings_default(&built_in);
    c->settings.row[row] = built_in.row[row];
}

enum hobble_status hobble_case_set_spread(hobble_case *c, int row, double spread,
                                          const char *origin, struct hobble_faults *sink)
{
    const struct hobble_param *p = row_of(row);
    const enum hobble_status status = hb_setting_put_spread(&c->settings, row, spread, origin);
    if (status == HOBBLE_OK)
        return status;
    if (status == HOBBLE_E_RANGE)
        return out_of_range(sink, p, origin, spread, 0.0, hb_spread_most(p));
    return hb_fault(sink, status, p, origin, "a spread", "no spread: this value is not drawn");
}

enum hobble_status hobble_case_set_provenance(hobble_case *c, int row,
                                              enum hobble_provenance provenance, const char *source)
{
    if (!row_of(row))
        return HOBBLE_E_UNKNOWN;
    if ((unsigned)provenance >= HOBBLE_PROVENANCE_COUNT)
        return HOBBLE_E_RANGE;
    c->settings.row[row].provenance = provenance;
    if (row_of(row)->kind != HOBBLE_TEXT)
        hobble_fault_text(c->settings.row[row].text, source);
    return HOBBLE_OK;
}

double hobble_case_number(const hobble_case *c, int row)
{
    return row_of(row) ? c->settings.row[row].value : (double)NAN;
}

double hobble_case_spread(const hobble_case *c, int row)
{
    return row_of(row) ? c->settings.row[row].spread : 0.0;
}

const char *hobble_case_text(const hobble_case *c, int row)
{
    const struct hobble_param *p = row_of(row);
    return p && p->kind == HOBBLE_TEXT ? c->settings.row[row].text : "";
}

const char *hobble_case_origin(const hobble_case *c, int row)
{
    return row_of(row) ? c->settings.row[row].origin : "";
}

const char *hobble_case_source(const hobble_case *c, int row)
{
    const struct hobble_param *p = row_of(row);
    if (!p)
        return "";
    const struct hb_setting *s = &c->settings.row[row];
    return s->given && p->kind != HOBBLE_TEXT ? s->text : p->source;
}

enum hobble_provenance hobble_case_provenance(const hobble_case *c, int row)
{
    return row_of(row) ? c->settings.row[row].provenance : HOBBLE_ASSUMED;
}

bool hobble_case_given(const hobble_case *c, int row)
{
    return row_of(row) && c->settings.row[row].given;
}

/* X(field, unit shown, smallest, largest): limits of a leg's values, in the shown unit. */
#define LEG_FIELDS(X)                                                                              \
    X(speed, KM_PER_HOUR, 0, 250)                                                                  \
    X(distance, KILOMETRE, 0.001, 2000)                                                            \
    X(time, MINUTE, 0.01, 2880)                                                                    \
    X(load, NEWTON, 200, 30000)                                                                    \
    X(ambient, CELSIUS, -40, 60)                                                                   \
    X(pressure, KILOPASCAL, 0, 400)                                                                \
    X(leak, MINUTE, 0.1, 100000)

static enum hobble_status check_leg(const struct hobble_leg *leg, struct hobble_faults *sink)
{
    enum hobble_status status = HOBBLE_OK;
#define CHECK(field, unit_id, least, most)                                                         \
    {                                                                                              \
        const double shown = hobble_unit_from_si(HOBBLE_UNIT_##unit_id, leg->field);               \
        const struct hobble_param row = {.key = "leg " #field, .unit = HOBBLE_UNIT_##unit_id};     \
        if (!isnan(shown) && !(shown >= (least) * (1 - 1e-9) - 1e-9 && shown <= (most) + 1e-9))    \
            status = out_of_range(sink, &row, "leg", shown, least, most);                          \
    }
    LEG_FIELDS(CHECK)
#undef CHECK
    return status;
}

enum hobble_status hobble_case_add_leg(hobble_case *c, const struct hobble_leg *leg,
                                       struct hobble_faults *sink)
{
    static const struct hobble_param row = {.key = "leg"};
    if (c->legs >= HOBBLE_LEGS_MAX)
        return hb_fault(sink, HOBBLE_E_TOO_LARGE, &row, "leg", "", "at most 32 legs");
    const bool timed = !isnan(leg->time), spaced = !isnan(leg->distance);
    if (isnan(leg->speed) || timed == spaced || (spaced && leg->speed <= 0.0))
        return hb_fault(sink, HOBBLE_E_MISSING, &row, "leg", "",
                        "a speed with a distance or a time, or a stop with a time");
    const enum hobble_status status = check_leg(leg, sink);
    if (status == HOBBLE_OK)
        c->leg[c->legs++] = *leg;
    return status;
}
