/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/construction.h"
#include "advice/date_code.h"
#include "advice/facts.h"

#include <math.h>
#include <string.h>

struct checking {
    const struct hb_settings *s;
    enum hobble_status first;
    struct hobble_faults *sink;
};

static void complain(struct checking *c, enum hobble_status status, enum hb_param_id row,
                     const char *allowed)
{
    const struct hobble_param *p = &hobble_param_table(NULL)[row];
    struct hobble_fault f = {.status = status};
    hobble_fault_text(f.key, p->key);
    hobble_fault_text(f.file, c->s->row[row].given ? c->s->row[row].origin : "");
    if (p->kind == HOBBLE_TEXT)
        hobble_fault_text(f.given, c->s->row[row].text);
    else if (p->kind == HOBBLE_WORD)
        hobble_param_word_at(p, hb_setting_word(c->s, row), f.given, sizeof f.given);
    hobble_fault_text(f.allowed, allowed);
    hobble_faults_add(c->sink, &f);
    if (c->first == HOBBLE_OK)
        c->first = status;
}

/* Three figures do not tell the decade, so no stated age contradicts them. */
static bool four_figures(const char *code)
{
    return strlen(code) == 4;
}

static void check_dates(struct checking *c)
{
    const char *code = c->s->row[HB_P_DATE_CODE].text;
    const char *day = c->s->row[HB_P_INSPECTION_DATE].text;
    long made = 0, now = 0, least = 0;
    const bool made_good = hb_date_code_read(code, &made), now_good = hb_date_read(day, &now);
    hb_date_read("2000-01-01", &least);
    if (*code && !made_good)
        complain(c, HOBBLE_E_SYNTAX, HB_P_DATE_CODE,
                 "four figures, week 01-53 and year, or three before 2000");
    if (*day && (!now_good || now < least))
        complain(c, HOBBLE_E_SYNTAX, HB_P_INSPECTION_DATE,
                 "a day from 2000-01-01 on, as YYYY-MM-DD");
    if (made_good && now_good && made > now)
        complain(c, HOBBLE_E_CONFLICT, HB_P_DATE_CODE,
                 "a week that is not after the day of the inspection");
    const double stated = hb_setting_value(c->s, HB_P_AGE);
    if (four_figures(code) && made_good && now_good &&
        fabs((double)(now - made) / HB_DAYS_A_YEAR - stated) > 1.0)
        complain(c, HOBBLE_E_CONFLICT, HB_P_AGE, "within a year of what date_code says");
}

static void check_repairs(struct checking *c)
{
    static const enum hb_param_id injury[] = {HB_P_INJURY_OFFSET, HB_P_INJURY_SIZE,
                                              HB_P_INJURY_ANGLE, HB_P_INJURY_COUNT};
    const int repaired = hb_setting_word(c->s, HB_P_REPAIRED);
    const double earlier = hb_setting_value(c->s, HB_P_EARLIER_REPAIRS);
    if ((repaired == HB_NO && earlier > 0.0) || (repaired == HB_YES && earlier < 1.0))
        complain(c, HOBBLE_E_CONFLICT, HB_P_EARLIER_REPAIRS,
                 "0 with repaired = no, at least 1 with yes");
    for (int i = 0; i < 4 && hb_setting_word(c->s, HB_P_INJURY_ZONE) == HB_ZONE_NONE; i++)
        if (hb_setting_known(c->s, injury[i]))
            complain(c, HOBBLE_E_CONFLICT, injury[i], "nothing with injury_zone = none");
}

enum hobble_status hb_dates_check(const struct hb_settings *settings, struct hobble_faults *sink)
{
    struct checking c = {settings, HOBBLE_OK, sink};
    check_dates(&c);
    return c.first;
}

/* Dates and repairs: what a question of the road tells as well. */
enum hobble_status hb_stated_check(const struct hb_settings *settings, struct hobble_faults *sink)
{
    struct checking c = {settings, HOBBLE_OK, sink};
    check_dates(&c);
    check_repairs(&c);
    return c.first;
}

enum hobble_status hb_facts_check(const struct hb_settings *settings, struct hobble_faults *sink)
{
    struct checking c = {settings, HOBBLE_OK, sink};
    struct hb_built built;
    c.first = hb_built_make(settings, &built, sink);
    check_dates(&c);
    check_repairs(&c);
    if (hb_setting_word(settings, HB_P_STORED_UNUSED) == HB_YES &&
        (hb_setting_value(settings, HB_P_LOW_DISTANCE) > 0.0 ||
         hb_setting_word(settings, HB_P_RAN_FLAT) == HB_YES))
        complain(&c, HOBBLE_E_CONFLICT, HB_P_STORED_UNUSED, "no, of a tyre that was driven");
    return c.first;
}
