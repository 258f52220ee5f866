/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "study/posterior.h"

#include "advice/reweigh.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Of tempering. */
#define SHARE_KEPT    0.5 /* effective after each step */
#define ALONG_FIRST   0.8 /* of a move: how much of the old place is kept */
#define ALONG_LEAST   0.3
#define ALONG_MOST    0.995
#define ACCEPTED_WELL 0.3
enum { STEPS_MOST = 20, MOVES = 5, STREAM_SHIFT = 1, STREAM_MOVES = 1000 };

struct sampler {
    const struct hobble_evidence *item;
    size_t items, members;
    int dimensions;
    struct hb_ensemble *e;
    double *cube;           /* the members now */
    double *proposed;       /* same size */
    double *now, *then;     /* members: log likelihoods of the two */
    double *weight, *range; /* members */
    size_t *order, *picked; /* members */
    struct hb_dice *dice;   /* members: each its own */
    double along;
    bool moves[HB_DIMENSIONS_MAX];
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
    s->dice = calloc(n, sizeof *s->dice);
    return s->proposed && s->now && s->then && s->weight && s->range && s->order && s->picked &&
           s->dice;
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
    free(s->dice);
}

/* Log likelihoods of the ensemble as it was made; without an item, or with all (items). What does
 * not count as a tyre of the kind cannot be. */
static enum hobble_status look(struct sampler *s, const double *cube, size_t without, double *sum)
{
    enum hobble_status status = HOBBLE_OK;
    for (size_t i = 0; i < s->members; i++)
        sum[i] = hb_ensemble_counts(s->e, i) ? 0.0 : (double)-INFINITY;
    for (size_t k = 0; k < s->items && status == HOBBLE_OK; k++)
        if (k != without)
            status = hb_add_likelihood(&s->item[k], cube, s->e, sum);
    return status;
}

static int by_range(const void *a, const void *b)
{
    const double *x = *(const double *const *)a, *y = *(const double *const *)b;
    const int unlike = (*x > *y) - (*x < *y);
    return unlike != 0 ? unlike : (x > y) - (x < y);
}

/* Members in the order of what they have left in the question's drive. */
static enum hobble_status order_members(struct sampler *s)
{
    struct hb_plan plan;
    const double **place = calloc(s->members, sizeof *place);
    if (!place)
        return HOBBLE_E_MEMORY;
    hb_plan_advised(s->e->question, 0.0, &plan);
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

/* Members by their weights, side by side in the cube. */
static void resample(struct sampler *s, uint64_t stream)
{
    const size_t row = (size_t)s->dimensions;
    struct hb_dice dice = hb_dice_begin(s->seed, stream);
    hb_resample(s->weight, s->order, s->members, hb_dice_even(&dice), s->picked);
    for (size_t i = 0; i < s->members; i++) {
        memcpy(&s->proposed[i * row], &s->cube[s->picked[i] * row], row * sizeof *s->cube);
        s->then[i] = s->now[s->picked[i]];
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
            out->against = (int)k;
        }
    }
    return status;
}

/* Coordinates that evidence speaks of: the type's and the unit's; load, speed and air are the
 * trip's. */
static void find_moves(struct sampler *s)
{
    const struct hobble_param *row = hobble_param_table(NULL);
    for (int i = 0; i < HB_PARAM_COUNT; i++)
        if (row[i].stage != HOBBLE_NOT_DRAWN)
            s->moves[hb_param_dimension((enum hb_param_id)i)] = row[i].group == HOBBLE_TYRE;
}

static enum hobble_status take_in(struct sampler *s, struct hb_taken_in *out)
{
    enum hobble_status status = order_members(s);
    if (status == HOBBLE_OK)
        status = look(s, s->cube, s->items, s->now);
    if (status != HOBBLE_OK)
        return status;
    out->effective = hb_weigh(s->now, s->members, 1.0, s->weight);
    const double enough = fmin(HB_EFFECTIVE_ENOUGH, 0.5 * (double)s->members);
    const double least = fmin(HB_EFFECTIVE_LEAST, 0.125 * (double)s->members);
    if (out->effective >= enough) {
        resample(s, STREAM_SHIFT);
    } else {
        double *const prior = calloc(s->members * (size_t)s->dimensions, sizeof *prior);
        if (!prior)
            return HOBBLE_E_MEMORY;
        memcpy(prior, s->cube, s->members * (size_t)s->dimensions * sizeof *prior);
        status = temper(s, out);
        if (status == HOBBLE_OK && out->effective < least) {
            memcpy(s->cube, prior, s->members * (size_t)s->dimensions * sizeof *prior);
            status = hb_ensemble_make(s->cube, s->e);
            if (status == HOBBLE_OK)
                status = find_against(s, out);
        }
        free(prior);
    }
    return status == HOBBLE_OK ? hb_ensemble_make(s->cube, s->e) : status;
}

enum hobble_status hb_posterior_make(const struct hobble_evidence *item, size_t items, double *cube,
                                     struct hb_ensemble *e, struct hb_taken_in *out)
{
    struct sampler s = {.item = item,
                        .items = items,
                        .members = e->arrays.members,
                        .dimensions = hb_param_dimensions(),
                        .e = e,
                        .cube = cube,
                        .along = ALONG_FIRST,
                        .seed = (uint64_t)hb_setting_value(e->settings, HB_P_SEED)};
    *out = (struct hb_taken_in){.items = (int)items, .against = -1, .prior = out->prior};
    enum hobble_status status = make_sampler(&s) ? HOBBLE_OK : HOBBLE_E_MEMORY;
    for (size_t i = 0; i < s.members && status == HOBBLE_OK; i++)
        s.dice[i] = hb_dice_begin(s.seed, STREAM_MOVES + i);
    find_moves(&s);
    if (status == HOBBLE_OK)
        status = take_in(&s, out);
    free_sampler(&s);
    return status;
}
