/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ask.h"

#include "study/study.h"

#include <check.h>
#include <stdio.h>
#include <string.h>

static int row_of(const char *key)
{
    const int row = hobble_param_find(key);
    if (row < 0)
        ck_abort_msg("no such row: %s", key);
    return row;
}

void ask_set(hobble_case *c, const char *key, double value)
{
    if (hobble_case_set_number(c, row_of(key), value, "test", NULL) != HOBBLE_OK)
        ck_abort_msg("%s = %g refused", key, value);
}

void ask_word(hobble_case *c, const char *key, const char *word)
{
    if (hobble_case_set_word(c, row_of(key), word, "test", NULL) != HOBBLE_OK)
        ck_abort_msg("%s = %s refused", key, word);
    /* only a self-supporting tyre has RF in its marking */
    const char *marking = hobble_case_text(c, row_of("marking")), *rf = strstr(marking, "RF");
    if (strcmp(key, "construction") == 0 && strcmp(word, "self_supporting") != 0 && rf) {
        char plain[HOBBLE_FAULT_TEXT];
        snprintf(plain, sizeof plain, "%.*s%s", (int)(rf - marking) + 1, marking, rf + 2);
        ask_text(c, "marking", plain);
    }
}

/* The share of tyres that end before a place so far from now: drawn, driven and counted here. */
double ask_ending_before(const hobble_case *c, double distance)
{
    struct hb_study s;
    struct hb_plan plan;
    double n = 0, ended = 0;
    ck_assert_int_eq(hb_study_open(c, 1, &s, NULL), HOBBLE_OK);
    hb_plan_advised(&s.question, 0.0, &plan);
    hb_ensemble_drive(&s.ensemble, &plan);
    const bool passed = s.ensemble.passed > 0;
    for (size_t i = 0; i < s.ensemble.arrays.members; i++)
        if (!passed || s.ensemble.arrays.passed[i]) {
            n++;
            ended += hb_ensemble_remaining(&s.ensemble, &plan, i) < distance;
        }
    hb_study_close(&s);
    return ended / n;
}

void ask_text(hobble_case *c, const char *key, const char *text)
{
    if (hobble_case_set_text(c, row_of(key), text, "test", NULL) != HOBBLE_OK)
        ck_abort_msg("%s = %s refused", key, text);
}

void ask_spread(hobble_case *c, const char *key, double spread)
{
    if (hobble_case_set_spread(c, row_of(key), spread, "test", NULL) != HOBBLE_OK)
        ck_abort_msg("spread of %s = %g refused", key, spread);
}

void ask_no_spread(hobble_case *c)
{
    size_t count;
    const struct hobble_param *row = hobble_param_table(&count);
    for (size_t i = 0; i < count; i++)
        if (row[i].stage != HOBBLE_NOT_DRAWN)
            ask_spread(c, row[i].key, 0.0);
    ask_set(c, "life_use", 0.0);    /* by which used tyres scatter more */
    ask_set(c, "flat_chance", 0.0); /* by which some have lost life, and others have not */
}

hobble_case *ask_bare(int members)
{
    hobble_case *c = hobble_case_new();
    ck_assert_ptr_nonnull(c);
    ask_text(c, "marking", "205/55 RF16 91V");
    ask_word(c, "construction", "self_supporting");
    ask_set(c, "load_share", 0.75);
    ask_set(c, "members", members);
    return c;
}

hobble_case *ask_vouched(int members)
{
    hobble_case *c = ask_bare(members);
    ask_set(c, "age", 2.0);
    ask_word(c, "ran_flat", "no");
    ask_word(c, "repaired", "no");
    return c;
}

hobble_case *ask_one_tyre(void)
{
    hobble_case *c = ask_bare(20);
    ask_no_spread(c);
    ask_set(c, "age", 0.0);
    ask_word(c, "ran_flat", "no");
    ask_word(c, "repaired", "no");
    ask_set(c, "load_error", 1.0);
    ask_set(c, "unseen", 0.0);
    return c;
}

struct hobble_answer ask(const hobble_case *c)
{
    static struct hobble_faults faults;
    struct hobble_answer answer;
    faults.count = 0;
    const enum hobble_status status = hobble_range(c, 1, &answer, &faults);
    if (status != HOBBLE_OK)
        ck_abort_msg("no answer: %s; %s: %s", hobble_status_text(status),
                     faults.count ? faults.item[0].key : "",
                     faults.count ? faults.item[0].allowed : "");
    return answer;
}

struct hobble_answer ask_free(hobble_case *c)
{
    const struct hobble_answer answer = ask(c);
    hobble_case_free(c);
    return answer;
}

int ask_stops(const struct hobble_answer *a)
{
    int n = 0;
    for (int i = 0; i < HOBBLE_STOP_COUNT; i++)
        n += a->stop[i];
    return n;
}

hobble_case *ask_random(struct random_source *r)
{
    hobble_case *c = random_below(r, 3) ? ask_vouched(40 + random_below(r, 30)) : ask_bare(60);
    ask_set(c, "load_share", random_between(r, 0.35, random_below(r, 4) ? 0.85 : 1.05));
    ask_set(c, "speed", random_between(r, 25.0, 120.0));
    if (random_below(r, 2))
        ask_set(c, "ambient", random_between(r, -19.0, 44.0));
    if (random_below(r, 2))
        ask_set(c, "unseen", random_between(r, 0.0, 15.0));
    if (random_below(r, 3) == 0)
        ask_set(c, "run", random_between(r, 0.1, 70.0));
    if (random_below(r, 3) == 0)
        ask_set(c, "rest", random_between(r, 5.0, 200.0));
    if (random_below(r, 2))
        ask_set(c, "to", random_between(r, 1.0, 120.0));
    if (random_below(r, 3) == 0)
        ask_set(c, "pressure", random_between(r, 0.0, 180.0));
    if (random_below(r, 4) == 0)
        ask_set(c, "leak", random_between(r, 2.0, 60.0));
    if (random_below(r, 5) == 0)
        ask_set(c, "flat_tyres", 2);
    if (random_below(r, 6) == 0)
        ask_word(c, "trailer", "yes");
    if (random_below(r, 6) == 0)
        ask_word(c, "ran_flat", "yes");
    if (random_below(r, 5) == 0)
        ask_set(c, "load_error", random_between(r, 0.9, 1.1));
    if (random_below(r, 4) == 0)
        ask_set(c, "maker_distance", random_between(r, 20.0, 79.0));
    if (random_below(r, 3) == 0) {
        ask_text(c, "vehicle_name", "Estate car, invented");
        ask_text(c, "recovery_number", "the desk of Alder Lakes Home Care");
        ask_word(c, "wheel", "rear_left");
    }
    return c;
}
