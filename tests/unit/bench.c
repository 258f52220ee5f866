/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "bench.h"

#include "input/profile.h"

#include <stdio.h>
#include <string.h>

enum { BASE_ROWS = 80 };

static struct tsv base;
static struct hobble_faults faults;

void bench_load(struct tsv *t, const char *name, size_t fields, size_t least)
{
    char why[BENCH_TEXT] = "";
    NEED(tsv_load(t, name, fields, least, why, sizeof why), "%s", why);
}

void bench_setup(void)
{
    bench_load(&base, "condition-base.tsv", 3, BASE_ROWS);
    memset(&faults, 0, sizeof faults);
}

void bench_teardown(void)
{
    tsv_free(&base);
}

void bench_set(hobble_case *c, const char *key, const char *value)
{
    memset(&faults, 0, sizeof faults);
    NEED(hb_set_text(c, key, value, "test", &faults) == HOBBLE_OK, "%s = %s: %s", key, value,
         faults.item[0].allowed);
}

/* Value that changes give a key, copied into value; false when they do not name it. */
static bool changed(const char *changes, const char *key, char value[BENCH_TEXT])
{
    const size_t length = strlen(key);
    for (const char *at = changes; *at; at += strcspn(at, ";"), at += *at == ';') {
        const size_t all = strcspn(at, ";");
        if (all > length && strncmp(at, key, length) == 0 && at[length] == '=') {
            snprintf(value, BENCH_TEXT, "%.*s", (int)(all - length - 1), at + length + 1);
            return true;
        }
    }
    return false;
}

/* Each key of changes that the base does not name. */
static void set_rest(hobble_case *c, const char *changes)
{
    char key[BENCH_TEXT], value[BENCH_TEXT];
    for (const char *at = changes; *at && strcmp(changes, "-") != 0;
         at += strcspn(at, ";"), at += *at == ';') {
        snprintf(key, sizeof key, "%.*s", (int)strcspn(at, "="), at);
        NEED(changed(changes, key, value), "'%s' is no change", at);
        if (strcmp(value, "-") != 0)
            bench_set(c, key, value);
    }
}

hobble_case *bench_make(const char *name, const char *changes)
{
    char value[BENCH_TEXT];
    hobble_case *c = hobble_case_new();
    size_t rows = 0;
    for (size_t i = 0; i < base.rows; i++)
        if (strcmp(tsv_cell(&base, i, 0), name) == 0) {
            const char *key = tsv_cell(&base, i, 1);
            rows++;
            if (!changed(changes, key, value))
                bench_set(c, key, tsv_cell(&base, i, 2));
        }
    NEED(rows > 0, "no base '%s'", name);
    set_rest(c, changes);
    return c;
}

void bench_rules(hobble_case *c, const char *name)
{
    char path[BENCH_TEXT];
    enum hobble_group kind = HOBBLE_STUDY;
    if (strcmp(name, "-") == 0)
        return;
    snprintf(path, sizeof path, "%s/../../profiles/rules/%s.cfg", TEST_DATA_DIR, name);
    memset(&faults, 0, sizeof faults);
    NEED(hb_profile_read_kind(path, HOBBLE_RULES, c, &kind, &faults) == HOBBLE_OK, "%s:%d: %s %s",
         path, faults.item[0].line, faults.item[0].key, faults.item[0].allowed);
    NEED(kind == HOBBLE_RULES, "%s is no file of rules", path);
}

void bench_judge(const hobble_case *c, struct hobble_condition_answer *a)
{
    memset(&faults, 0, sizeof faults);
    NEED(hobble_condition_judge(c, 1, a, &faults) == HOBBLE_OK, "%s: %s", faults.item[0].key,
         faults.item[0].allowed);
}

const struct hobble_fired *bench_fired(const struct hobble_condition_answer *a, const char *id)
{
    for (int i = 0; i < a->rule_count; i++)
        if (strcmp(a->rule[i].id, id) == 0)
            return &a->rule[i];
    return NULL;
}
