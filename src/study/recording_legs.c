/* SPDX-License-Identifier: GPL-3.0-or-later */
/* recording_legs.c - many stretches made few legs, so that nothing looks better than it was. */
#include "study/recording.h"

#include <math.h>
#include <string.h>

/* What makes two neighbours different: so much in each is as bad as anything. */
#define SPEED_TELLS    10.0  /* m/s */
#define PRESSURE_TELLS 20e3  /* Pa */
#define LOAD_TELLS     500.0 /* N */
#define AMBIENT_TELLS  10.0  /* K */
#define STANDING_TELLS 10.0  /* m/s: a second stood is worth so much way */
#define NEVER          1e12  /* m */
/* Less than a leg can be: so much is driven all the same, and so little standing is none. */
#define LEAST_WAY  1.0 /* m */
#define LEAST_STOP 1.0 /* s */

struct part {
    bool stood;
    double extent; /* m driven, or s stood */
    double speed;  /* m/s, over its way */
    double load, ambient, pressure;
};

enum { PARTS_MOST = HOBBLE_RECORDING_STRETCHES };

/* A stretch in which anything was driven counts as driven: its standing cooled nothing. */
static size_t parts_of(const struct hb_stretches *s, struct part *part)
{
    size_t n = 0;
    for (size_t i = 0; i < s->count; i++) {
        const struct hb_stretch *at = &s->at[i];
        const bool stood = !(at->way > 0.0);
        if (stood && at->stood < LEAST_STOP)
            continue;
        part[n++] = (struct part){.stood = stood,
                                  .extent = stood ? at->stood : fmax(at->way, LEAST_WAY),
                                  .speed = stood ? 0.0 : at->way_speed / at->way,
                                  .load = hb_stretch_mean(at, HOBBLE_LOG_LOAD),
                                  .ambient = hb_stretch_mean(at, HOBBLE_LOG_AMBIENT),
                                  .pressure = at->least};
    }
    return n;
}

/* How different two values are; what is known and what is not are as different as can be. */
static double apart(double a, double b, double tells)
{
    if (isnan(a) != isnan(b))
        return 1.0;
    return isnan(a) ? 0.0 : (a - b) * (a - b) / (tells * tells);
}

/* Metres' worth of what is lost when two neighbours are made one. */
static double loss(const struct part *a, const struct part *b, double low)
{
    const double way_a = a->stood ? STANDING_TELLS * a->extent : a->extent;
    const double way_b = b->stood ? STANDING_TELLS * b->extent : b->extent;
    if ((a->pressure < low) != (b->pressure < low))
        return NEVER;
    return way_a * way_b / (way_a + way_b) *
           (apart(a->speed, b->speed, SPEED_TELLS) +
            apart(a->pressure, b->pressure, PRESSURE_TELLS) + apart(a->load, b->load, LOAD_TELLS) +
            apart(a->ambient, b->ambient, AMBIENT_TELLS));
}

static double mean_of(double a, double b, double share)
{
    return isnan(a) ? b : isnan(b) ? a : a + (b - a) * share;
}

static struct part joined(const struct part *a, const struct part *b)
{
    const bool both = a->stood == b->stood;
    struct part one = a->stood && !both ? *b : *a;
    if (both) {
        const double share = b->extent / (a->extent + b->extent);
        one.extent = a->extent + b->extent;
        one.speed = mean_of(a->speed, b->speed, share);
        one.load = mean_of(a->load, b->load, share);
        one.ambient = mean_of(a->ambient, b->ambient, share);
    }
    one.pressure = fmin(a->pressure, b->pressure);
    return one;
}

static size_t cheapest(const struct part *part, size_t n, double low)
{
    size_t best = 0;
    double least = HUGE_VAL;
    for (size_t i = 0; i + 1 < n; i++) {
        const double here = loss(&part[i], &part[i + 1], low);
        if (here < least) {
            least = here;
            best = i;
        }
    }
    return best;
}

size_t hb_stretches_legs(const struct hb_stretches *s, double low,
                         struct hobble_leg leg[HOBBLE_LEGS_MAX])
{
    struct part part[PARTS_MOST];
    size_t n = parts_of(s, part);
    for (; n > HOBBLE_LEGS_MAX; n--) {
        const size_t at = cheapest(part, n, low);
        part[at] = joined(&part[at], &part[at + 1]);
        memmove(&part[at + 1], &part[at + 2], (n - at - 2) * sizeof *part);
    }
    for (size_t i = 0; i < n; i++)
        leg[i] = (struct hobble_leg){.speed = part[i].speed,
                                     .distance = part[i].stood ? (double)NAN : part[i].extent,
                                     .time = part[i].stood ? part[i].extent : (double)NAN,
                                     .load = part[i].load,
                                     .ambient = part[i].ambient,
                                     .pressure = part[i].pressure,
                                     .leak = (double)NAN};
    return n;
}
