/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "study/posterior.h"

#include "advice/reweigh.h"

#include <math.h>
#include <stddef.h>
#include <stdlib.h>
#include <string.h>

/* Of tempering. */
#define SHARE_KEPT    0.5 /* effective after each step */
#define ALONG_FIRST   0.8 /* of a move: how much of the old place is kept */
#define ALONG_LEAST   0.3
#define ALONG_MOST    0.995
#define ACCEPTED_WELL 0.3
/* The drive that puts members in order: the rule's, at a usual load and air. */
#define ORDER_SPEED   (80.0 / 3.6)
#define ORDER_LOAD    0.75 /* of the index */
#define ORDER_AMBIENT 298.15
#define ORDER_HORIZON 2000e3 /* m */
enum { STEPS_MOST = 20, MOVES = 2, STREAM_SHIFT = 1, STREAM_MOVES = 1000 };

struct sampler {
    const struct hobble_evidence *item[HOBBLE_EVIDENCE_MAX]; /* in an order of their own */
    int place[HOBBLE_EVIDENCE_MAX];                          /* of each in the list */
    size_t items, members;
    int dimensions;
    struct hb_ensemble *e;
    double *cube;           /* the members now */
    double *proposed;       /* same size */
    double *now, *then;     /* members: log likelihoods of the two */
    double *weight, *range; /* members */
    size_t *order, *picked; /* members */
    size_t *from;           /* members: whose type each place gets */
    struct hb_dice *dice;   /* members: each its own */
    double along;
    bool moves[HB_DIMENSIONS_MAX]; /* of what the evidence speaks */
    uint64_t seed;
};

static bool make_sampler(struct sampler *s)
{
    const size_t n = s->members, all = n * (size_t)s->dimensions;
    s->proposed = calloc(all, sizeof *s->proposed);
    s->now = calloc(n, sizeof *s->now);
    s->then = calloc(n, sizeof *s->then);
    s->weight = calloc(n, sizeof *s->weight);
    s->range = calloc(n, sizeof *s->range);
    s->order = calloc(n, sizeof *s->order);
    s->picked = calloc(n, sizeof *s->picked);
    s->from = calloc(n, sizeof *s->from);
    s->dice = calloc(n, sizeof *s->dice);
    return s->proposed && s->now && s->then && s->weight && s->range && s->order && s->picked &&
           s->from && s->dice;
}

static void free_sampler(struct sampler *s)
{
    free(s->proposed);
    free(s->now);
    free(s->then);
    free(s->weight);
    free(s->range);
    free(s->order);
    free(s->picked);
    free(s->from);
    free(s->dice);
}

/* ---- the items ------------------------------------------------------------------------------- */

int hb_compare_items(const struct hobble_evidence *a, const struct hobble_evidence *b)
{
    const size_t from = offsetof(struct hobble_evidence, specimens);
    if (a->kind != b->kind)
        return a->kind < b->kind ? -1 : 1;
    return memcmp((const char *)a + from, (const char *)b + from, sizeof *a - from);
}

/* In an order of their own: then sums over them are the same bytes whatever order they came in. */
static void order_items(struct sampler *s, const struct hobble_evidence *item)
{
    for (size_t k = 0; k < s->items; k++) {
        size_t at = k;
        for (; at > 0 && hb_compare_items(s->item[at - 1], &item[k]) > 0; at--) {
            s->item[at] = s->item[at - 1];
            s->place[at] = s->place[at - 1];
        }
        s->item[at] = &item[k];
        s->place[at] = (int)k;
    }
}

/* Coordinates that evidence speaks of: the type's; the unit's, where it was driven itself; of the
 * road, where something was driven there. All else is as likely after it as before. */
static void find_moves(struct sampler *s)
{
    const struct hobble_param *row = hobble_param_table(NULL);
    bool unit = false, road = false;
    for (size_t k = 0; k < s->items; k++) {
        const struct hobble_evidence *item = s->item[k];
        const bool run = item->kind == HOBBLE_EVIDENCE_RUN;
        unit = unit || (run && item->of == HOBBLE_RUN_THIS_UNIT);
        road = road || item->kind == HOBBLE_EVIDENCE_STATEMENT ||
               (run && item->on == HOBBLE_RUN_ON_ROAD);
    }
    for (int i = 0; i < HB_PARAM_COUNT; i++)
        if (row[i].stage != HOBBLE_NOT_DRAWN)
            s->moves[hb_param_dimension((enum hb_param_id)i)] =
                row[i].group == HOBBLE_TYRE && (row[i].stage == HOBBLE_WITH_TYPE ? true
                                                : i == HB_P_LIFE_ROAD            ? road
                                                                                 : unit);
}

/* ---- weights and places ---------------------------------------------------------------------- */

/* What does not count as a tyre of the kind cannot be. */
static void begin_sum(const struct sampler *s, double *sum)
{
    for (size_t i = 0; i < s->members; i++)
        sum[i] = hb_ensemble_counts(s->e, i) ? 0.0 : (double)-INFINITY;
}

/* Log likelihoods of the ensemble as it was made; without an item, or with all (items). */
static enum hobble_status look(struct sampler *s, const double *cube, size_t without, double *sum)
{
    enum hobble_status status = HOBBLE_OK;
    begin_sum(s, sum);
    for (size_t k = 0; k < s->items && status == HOBBLE_OK; k++)
        if (k != without)
            status = hb_add_likelihood(s->item[k], cube, s->e, sum);
    return status;
}

static int by_range(const void *a, const void *b)
{
    const double *x = *(const double *const *)a, *y = *(const double *const *)b;
    const int unlike = (*x > *y) - (*x < *y);
    return unlike != 0 ? unlike : (x > y) - (x < y);
}

/* A drive that hangs on the tyre alone and on no question. */
static void plan_order(const struct hb_question *q, struct hb_plan *plan)
{
    const double load = ORDER_LOAD * q->index_load;
    plan->now = 0;
    plan->leg[0] = (struct hb_leg){.speed = ORDER_SPEED,
                                   .load = load,
                                   .ambient = ORDER_AMBIENT,
                                   .kind = HB_UNTIL_END,
                                   .set_pressure = true};
    plan->journey = (struct hb_journey){.start = {.running = true,
                                                  .speed = ORDER_SPEED,
                                                  .load = load,
                                                  .ambient = ORDER_AMBIENT,
                                                  .pressure = q->pressure_inflated},
                                        .count = 1,
                                        .leg = plan->leg,
                                        .horizon_distance = ORDER_HORIZON,
                                        .horizon_time = ORDER_HORIZON / ORDER_SPEED};
}

/* Members in the order of how far they go in it: nearly that of any other drive, and the same tyre
 * gives the same sample whatever is asked of it. */
static enum hobble_status order_members(struct sampler *s)
{
    struct hb_plan plan;
    const double **place = calloc(s->members, sizeof *place);
    if (!place)
        return HOBBLE_E_MEMORY;
    plan_order(s->e->question, &plan);
    hb_ensemble_drive(s->e, &plan);
    for (size_t i = 0; i < s->members; i++) {
        s->range[i] = hb_ensemble_remaining(s->e, &plan, i);
        place[i] = &s->range[i];
    }
    qsort(place, s->members, sizeof *place, by_range);
    for (size_t i = 0; i < s->members; i++)
        s->order[i] = (size_t)(place[i] - s->range);
    free(place);
    return HOBBLE_OK;
}

/* Who is picked keeps its own place; places that nobody keeps get those picked again, in turn. So
 * what evidence does not speak of, which stays where it is, remains spread as it was. */
static void settle(struct sampler *s)
{
    size_t again = 0, free_place = 0;
    for (size_t i = 0; i < s->members; i++)
        s->from[i] = s->members;
    for (size_t i = 0; i < s->members; i++) {
        const size_t who = s->picked[i];
        if (s->from[who] == s->members)
            s->from[who] = who;
        else
            s->picked[again++] = who;
    }
    for (size_t i = 0; i < again; i++) {
        while (s->from[free_place] != s->members)
            free_place++;
        s->from[free_place] = s->picked[i];
    }
}

/* Members by their weights, side by side in the cube. */
static void resample(struct sampler *s, uint64_t stream)
{
    const size_t row = (size_t)s->dimensions;
    struct hb_dice dice = hb_dice_begin(s->seed, stream);
    hb_resample(s->weight, s->order, s->members, hb_dice_even(&dice), s->picked);
    settle(s);
    for (size_t i = 0; i < s->members; i++) {
        for (size_t d = 0; d < row; d++)
            s->proposed[i * row + d] = s->cube[(s->moves[d] ? s->from[i] : i) * row + d];
        s->then[i] = s->now[s->from[i]];
    }
    memcpy(s->cube, s->proposed, s->members * row * sizeof *s->cube);
    memcpy(s->now, s->then, s->members * sizeof *s->now);
}

/* One move of every member, kept where the evidence at this power allows it. */
static enum hobble_status move(struct sampler *s, double power)
{
    const size_t row = (size_t)s->dimensions;
    size_t accepted = 0;
    for (size_t i = 0; i < s->members; i++)
        hb_step(&s->cube[i * row], s->moves, s->dimensions, s->along, &s->dice[i],
                &s->proposed[i * row]);
    enum hobble_status status = hb_ensemble_make(s->proposed, s->e);
    if (status == HOBBLE_OK)
        status = look(s, s->proposed, s->items, s->then);
    for (size_t i = 0; i < s->members && status == HOBBLE_OK; i++) {
        const double chance = exp(power * (s->then[i] - s->now[i]));
        if (!(hb_dice_even(&s->dice[i]) < chance)) /* false for what cannot be */
            continue;
        memcpy(&s->cube[i * row], &s->proposed[i * row], row * sizeof *s->cube);
        s->now[i] = s->then[i];
        accepted++;
    }
    const bool well = (double)accepted > ACCEPTED_WELL * (double)s->members;
    s->along = well ? fmax(ALONG_LEAST, s->along - 0.1 * (1.0 - s->along) - 0.02)
                    : fmin(ALONG_MOST, 1.0 - 0.6 * (1.0 - s->along));
    return status;
}

/* From the prior to all of the evidence by degrees. */
static enum hobble_status temper(struct sampler *s, struct hb_taken_in *out)
{
    double power = 0.0;
    enum hobble_status status = HOBBLE_OK;
    while (power < 1.0 && out->steps < STEPS_MOST && status == HOBBLE_OK) {
        const double add = hb_temper(s->now, s->members, 1.0 - power, SHARE_KEPT, s->weight);
        out->effective = hb_weigh(s->now, s->members, add, s->weight);
        if (!(out->effective > 0.0)) /* none can be */
            return HOBBLE_OK;
        power = 1.0 - power - add < 1e-12 ? 1.0 : power + add;
        resample(s, STREAM_SHIFT + (uint64_t)++out->steps);
        for (int k = 0; k < MOVES && status == HOBBLE_OK; k++)
            status = move(s, power);
    }
    if (power < 1.0 && status == HOBBLE_OK) {
        out->effective = hb_weigh(s->now, s->members, 1.0 - power, s->weight);
        resample(s, STREAM_SHIFT);
    }
    return status;
}

/* The item without which the sample is worth most. */
static enum hobble_status find_against(struct sampler *s, struct hb_taken_in *out)
{
    double most = -1.0;
    enum hobble_status status = HOBBLE_OK;
    for (size_t k = 0; k < s->items && status == HOBBLE_OK; k++) {
        status = look(s, s->cube, k, s->then);
        const double effective = hb_weigh(s->then, s->members, 1.0, s->weight);
        if (effective > most) {
            most = effective;
            out->against = s->place[k];
        }
    }
    return status;
}

/* Looks at the ensemble as it was made, with all items; names the one that it has most rarely,
 * where that is too rare. */
static enum hobble_status look_for_rare(struct sampler *s, double *sum, struct hb_taken_in *out)
{
    double least = HB_CANNOT_BE, chance = 1.0;
    enum hobble_status status = HOBBLE_OK;
    begin_sum(s, sum);
    for (size_t k = 0; k < s->items && status == HOBBLE_OK; k++) {
        status = hb_item_chance(s->item[k], s->cube, s->e, sum, &chance);
        if (status == HOBBLE_OK && chance < least) {
            least = chance;
            out->against = s->place[k];
        }
    }
    return status;
}

/* By weights where these leave enough, else by degrees; and whether what came of it still has all
 * items. The ensemble is made from the cube in the end. */
static enum hobble_status bring(struct sampler *s, double least, struct hb_taken_in *out)
{
    enum hobble_status status = HOBBLE_OK;
    const double enough = fmin(HB_EFFECTIVE_ENOUGH, 0.5 * (double)s->members);
    if (out->effective >= enough)
        resample(s, STREAM_SHIFT);
    else
        status = temper(s, out);
    if (status == HOBBLE_OK)
        status = hb_ensemble_make(s->cube, s->e);
    if (status == HOBBLE_OK && out->effective >= least)
        status = look_for_rare(s, s->then, out);
    return status;
}

static enum hobble_status go_back(struct sampler *s, const double *prior)
{
    memcpy(s->cube, prior, s->members * (size_t)s->dimensions * sizeof *prior);
    return hb_ensemble_make(s->cube, s->e);
}

static enum hobble_status take_in(struct sampler *s, const double *prior, struct hb_taken_in *out)
{
    const double least = fmin(HB_EFFECTIVE_LEAST, 0.125 * (double)s->members);
    enum hobble_status status = order_members(s);
    if (status == HOBBLE_OK)
        status = look_for_rare(s, s->now, out);
    if (status != HOBBLE_OK)
        return status;
    out->effective = hb_weigh(s->now, s->members, 1.0, s->weight);
    if (out->against >= 0)
        return HOBBLE_OK;
    status = bring(s, least, out);
    if (status != HOBBLE_OK || (out->effective >= least && out->against < 0))
        return status;
    status = go_back(s, prior);
    return status == HOBBLE_OK && out->against < 0 ? find_against(s, out) : status;
}

/* Adds by times the mean of each coordinate that evidence speaks of, over the members that count.
 */
static void add_means(const struct sampler *s, double by, double *sum)
{
    const double n = (double)hb_ensemble_counted(s->e);
    for (size_t i = 0; i < s->members; i++)
        for (int d = 0; d < s->dimensions && hb_ensemble_counts(s->e, i); d++)
            if (s->moves[d])
                sum[d] += by / n * s->cube[i * (size_t)s->dimensions + (size_t)d];
}

enum hobble_status hb_posterior_make(const struct hobble_evidence *item, size_t items, double *cube,
                                     struct hb_ensemble *e, struct hb_taken_in *out)
{
    struct sampler s = {.items = items,
                        .members = e->arrays.members,
                        .dimensions = hb_param_dimensions(),
                        .e = e,
                        .cube = cube,
                        .along = ALONG_FIRST,
                        .seed = (uint64_t)hb_setting_value(e->settings, HB_P_SEED)};
    *out = (struct hb_taken_in){
        .items = (int)items, .against = -1, .passed = e->passed, .prior = out->prior};
    if (e->tested > 0 && e->passed == 0) /* there is nothing to weigh, and no range */
        return HOBBLE_OK;
    order_items(&s, item);
    const size_t size = s.members * (size_t)s.dimensions * sizeof *cube;
    double *const prior = calloc(1, size);
    enum hobble_status status = prior && make_sampler(&s) ? HOBBLE_OK : HOBBLE_E_MEMORY;
    for (size_t i = 0; i < s.members && status == HOBBLE_OK; i++)
        s.dice[i] = hb_dice_begin(s.seed, STREAM_MOVES + i);
    find_moves(&s);
    if (status == HOBBLE_OK) {
        memcpy(prior, cube, size);
        add_means(&s, -1.0, out->moved);
        status = take_in(&s, prior, out);
    }
    if (status == HOBBLE_OK)
        add_means(&s, 1.0, out->moved);
    free(prior);
    free_sampler(&s);
    return status;
}
