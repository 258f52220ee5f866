/* SPDX-License-Identifier: GPL-3.0-or-later */
/* policy_fleet.c - the fleet: its table of numbers, its memory, help, speeds, digest. */
#include "study/case.h"
#include "study/policy.h"

#include <math.h>
#include <stddef.h>
#include <stdlib.h>
#include <string.h>

static const struct hobble_fleet_row table[] = {
#define ROW(id, key, unit, shown, value, min, max, spread, provenance, source, meaning)            \
    {key, HOBBLE_UNIT_##unit, shown, value, min, max, spread, HOBBLE_##provenance, source, meaning},
#include "study/policy_rows.inc"
#undef ROW
};
_Static_assert(sizeof table / sizeof *table <= HOBBLE_FLEET_NUMBERS,
               "more rows than a fleet holds");

const struct hobble_fleet_row *hobble_fleet_table(size_t *count)
{
    if (count)
        *count = sizeof table / sizeof *table;
    return table;
}

int hobble_fleet_find(const char *key)
{
    for (int i = 0; key && i < HB_FLEET_COUNT; i++)
        if (strcmp(table[i].key, key) == 0)
            return i;
    return -1;
}

struct hobble_fleet *hobble_fleet_new(void)
{
    struct hobble_fleet *fleet = calloc(1, sizeof *fleet);
    const struct hobble_param *row = hobble_param_table(NULL);
    for (int i = 0; fleet && i < HB_FLEET_COUNT; i++) {
        struct hobble_fleet_number *n = &fleet->number[i];
        n->value = table[i].value;
        n->spread = table[i].spread;
        n->provenance = table[i].provenance;
        hobble_fault_text(n->source, table[i].source);
        hobble_fault_text(n->origin, "built in");
    }
    if (fleet) {
        fleet->members = row[HB_P_MEMBERS].value;
        fleet->seed = row[HB_P_SEED].value;
        fleet->required = row[HB_P_REQUIRED_SHARE].value;
        hobble_fault_text(fleet->name, "");
        memcpy(fleet->money, "money", sizeof "money");
    }
    return fleet;
}

void hobble_fleet_free(struct hobble_fleet *fleet)
{
    for (int i = 0; fleet && i < HOBBLE_FLEET_VEHICLES; i++) {
        hobble_case_free(fleet->vehicle[i].axle[0]);
        hobble_case_free(fleet->vehicle[i].axle[1]);
    }
    free(fleet);
}

bool hobble_fleet_same_tyres(const struct hobble_fleet_vehicle *v)
{
    const struct hobble_param *p = hobble_param_table(NULL);
    const hobble_case *a = v->axle[0], *b = v->axle[1];
    for (int i = 0; i < HB_PARAM_COUNT; i++) {
        const double x = hobble_case_number(a, i), y = hobble_case_number(b, i);
        const bool same = (isnan(x) && isnan(y)) || x == y;
        if (p[i].group != HOBBLE_TRIP && p[i].group != HOBBLE_STUDY &&
            (!same || hobble_case_spread(a, i) != hobble_case_spread(b, i) ||
             strcmp(hobble_case_text(a, i), hobble_case_text(b, i)) != 0))
            return false;
    }
    return hb_case_same_evidence(a, b);
}

double hb_fleet_value(const struct hobble_fleet *fleet, enum hb_fleet_id id)
{
    return fleet->number[id].value;
}

/* ---- help ------------------------------------------------------------------------------------ */

double hobble_help_beyond(const struct hobble_help *help, double distance)
{
    if (help->kind == HOBBLE_HELP_EXPONENTIAL)
        return exp(-fmax(distance, 0.0) / help->mean);
    int low = 0, high = help->count; /* the first distance beyond */
    while (low < high) {
        const int middle = (low + high) / 2;
        if (help->distance[middle] > distance)
            high = middle;
        else
            low = middle + 1;
    }
    return low > 0 ? help->beyond[low - 1] : 1.0;
}

static int by_distance(const void *a, const void *b)
{
    const double *x = a, *y = b;
    return (x[0] > y[0]) - (x[0] < y[0]);
}

enum hobble_status hobble_help_set(struct hobble_help *help, enum hobble_help_kind kind,
                                   const double *distance, const double *weight, int count)
{
    double total = 0.0, left, mean = 0.0;
    if (count < 1 || count > HOBBLE_HELP_MAX)
        return HOBBLE_E_RANGE;
    double(*pair)[2] = calloc((size_t)count, sizeof *pair);
    if (!pair)
        return HOBBLE_E_MEMORY;
    for (int i = 0; i < count; i++) {
        pair[i][0] = distance[i];
        pair[i][1] = weight ? weight[i] : 1.0;
        total += pair[i][1];
    }
    qsort(pair, (size_t)count, sizeof *pair, by_distance);
    left = total;
    for (int i = 0; i < count; i++) {
        left -= pair[i][1];
        help->distance[i] = pair[i][0];
        help->beyond[i] = i == count - 1 ? 0.0 : fmax(left / total, 0.0);
        mean += pair[i][0] * pair[i][1] / total;
    }
    help->kind = kind;
    help->count = count;
    help->mean = mean;
    free(pair);
    return HOBBLE_OK;
}

/* ---- speeds ---------------------------------------------------------------------------------- */

void hobble_policy_speeds(const struct hobble_fleet *fleet, double speed[HOBBLE_POLICY_SPEEDS])
{
    static const double kmh[HOBBLE_POLICY_SPEEDS] = {80.0, 65.0, 50.0};
    const double limit = hb_fleet_value(fleet, HB_FLEET_SPEED_LIMIT);
    for (int i = 0; i < HOBBLE_POLICY_SPEEDS; i++)
        speed[i] = hobble_unit_to_si(HOBBLE_UNIT_KM_PER_HOUR, i > 0 ? fmin(kmh[i], limit) : kmh[i]);
}

bool hb_policy_allowed(const struct hobble_fleet *fleet, double speed)
{
    const double limit = hb_fleet_value(fleet, HB_FLEET_SPEED_LIMIT);
    return speed <= hobble_unit_to_si(HOBBLE_UNIT_KM_PER_HOUR, limit) * (1.0 + 1e-12);
}

int hb_policy_speed_place(const struct hobble_fleet *fleet, double at)
{
    double speed[HOBBLE_POLICY_SPEEDS];
    hobble_policy_speeds(fleet, speed);
    for (int i = 0; i < HOBBLE_POLICY_SPEEDS; i++)
        if (fabs(speed[i] - at) < 1e-9)
            return i;
    return -1;
}

/* ---- digest ---------------------------------------------------------------------------------- */

/* FNV-1a, 64 bits (IETF draft-eastlake-fnv): to notice a mix-up, not an attack. */
static void mix(uint64_t *digest, const void *bytes, size_t size)
{
    const unsigned char *b = bytes;
    for (size_t i = 0; i < size; i++)
        *digest = (*digest ^ b[i]) * UINT64_C(0x100000001b3);
}

static void mix_number(uint64_t *digest, double value)
{
    const double one = isnan(value) ? -9.87654321e99 : value; /* one bit pattern for "not given" */
    mix(digest, &one, sizeof one);
}

static void mix_text(uint64_t *digest, const char *text)
{
    mix(digest, text, strlen(text) + 1);
}

/* What an item says; who says it, and where, changes no answer. */
static void mix_item(uint64_t *digest, const struct hobble_evidence *item)
{
    const size_t from = offsetof(struct hobble_evidence, specimens);
    mix_number(digest, item->kind);
    mix(digest, (const char *)item + from, sizeof *item - from);
}

static void mix_case(uint64_t *digest, const hobble_case *c)
{
    for (int i = 0; i < HB_PARAM_COUNT; i++) {
        mix_number(digest, hobble_case_number(c, i));
        mix_number(digest, hobble_case_spread(c, i));
        mix_text(digest, hobble_case_text(c, i));
    }
    for (size_t i = 0; i < c->items; i++)
        mix_item(digest, &c->evidence[i]);
}

static void mix_help(uint64_t *digest, const struct hobble_help *help)
{
    mix_number(digest, help->kind);
    mix_number(digest, help->mean);
    for (int i = 0; i < help->count; i++) {
        mix_number(digest, help->distance[i]);
        mix_number(digest, help->beyond[i]);
    }
}

uint64_t hobble_policy_digest(const struct hobble_fleet *f)
{
    uint64_t digest = UINT64_C(0xcbf29ce484222325);
    mix_text(&digest, hobble_version());
    for (int i = 0; i < HB_FLEET_COUNT; i++) {
        mix_number(&digest, f->number[i].value);
        mix_number(&digest, f->number[i].spread);
    }
    for (int i = 0; i < f->vehicles; i++) {
        mix_text(&digest, f->vehicle[i].name);
        mix_number(&digest, f->vehicle[i].count);
        mix_number(&digest, f->vehicle[i].year_km);
        mix_case(&digest, f->vehicle[i].axle[0]);
        mix_case(&digest, f->vehicle[i].axle[1]);
    }
    for (int i = 0; i < f->loads; i++) {
        mix_text(&digest, f->load[i].name);
        mix_number(&digest, f->load[i].people);
        mix_number(&digest, f->load[i].seats);
        mix_number(&digest, f->load[i].luggage);
        mix_number(&digest, f->load[i].share);
    }
    for (int i = 0; i < f->seasons; i++) {
        mix_text(&digest, f->season[i].name);
        for (int t = 0; t < HOBBLE_FLEET_TENTHS; t++)
            mix_number(&digest, f->season[i].tenth[t]);
    }
    mix_help(&digest, &f->help);
    mix_number(&digest, f->members);
    mix_number(&digest, f->seed);
    mix_number(&digest, f->required);
    return digest;
}

/* ---- words ----------------------------------------------------------------------------------- */

static const struct {
    const char *word, *name;
} builds[] = {
#define BUILD(code, word, name) {word, name},
    HOBBLE_BUILD_LIST(BUILD)};
const char *hobble_build_word(enum hobble_build build)
{
    return builds[build].word;
}
const char *hobble_build_name(enum hobble_build build)
{
    return builds[build].name;
}

static const struct {
    const char *word, *what, *how;
} shifts[] = {
#define SHIFT(code, word, what, how) {word, what, how},
    HOBBLE_SHIFT_LIST(SHIFT)};
const char *hobble_shift_word(enum hobble_shift_code code)
{
    return shifts[code].word;
}
const char *hobble_shift_what(enum hobble_shift_code code)
{
    return shifts[code].what;
}
const char *hobble_shift_how(enum hobble_shift_code code)
{
    return shifts[code].how;
}
