/* SPDX-License-Identifier: GPL-3.0-or-later */
/* studies.h - rule, map, the weight of each unknown, pictures for a class: a part of hobble.h,
 * which includes it. */
#ifndef HOBBLE_H
#include "hobble.h" /* includes this file where it belongs */
#endif
#ifndef HOBBLE_STUDIES_H
#define HOBBLE_STUDIES_H

/* ---- when does a rule hold? ----------------------------------------------------------------- */

/* One of the conditions that are moved, the others held, until the rule's answer flips. */
enum hobble_flip_axis { HOBBLE_FLIP_SPEED, HOBBLE_FLIP_LOAD, HOBBLE_FLIP_AMBIENT, HOBBLE_FLIPS };
struct hobble_flip {
    double at;           /* m/s, N or K where it flips next; NAN: it does not within the limits */
    double from, to;     /* searched: from these conditions to the limit of the checked range */
    const char *why_not; /* a constant sentence when at is NAN, else NULL */
};
/* Precision of a flip: the distance there is the rule's to this share, or the condition is known
 * to this much. */
#define HOBBLE_FLIP_DISTANCE   1e-4
#define HOBBLE_FLIP_SPEED_TO   (0.01 / 3.6) /* m/s */
#define HOBBLE_FLIP_LOAD_TO    0.5          /* N */
#define HOBBLE_FLIP_AMBIENT_TO 0.01         /* K */

struct hobble_rule_answer {
    double speed, distance;           /* the rule: m/s, m */
    double load, load_share, ambient; /* N, 1, K */
    struct hobble_marking marking;
    bool example, example_load, vouched;
    bool holds;
    bool stop[HOBBLE_STOP_COUNT];        /* reasons for which it cannot hold at all */
    double share, share_low, share_high; /* of tyres that make it; limits of 95 % confidence */
    double required;
    double needed; /* share of the counted that must make it, to be sure of the required one; may be
                      > 1 */
    double reach;  /* m that the needed share of tyres makes */
    bool reach_censored; /* it is more than that */
    double cap;          /* m: advice stays below, whatever a rule says */
    struct hobble_flip flip[HOBBLE_FLIPS];
    int tested, passed, counted;
    double energy_closure;
};

/* Whether the required share of the tyres that pass approval makes distance (1 km..80 km) at speed
 * (1 km/h..80 km/h), flat from the first metre, and where that flips. It holds when the sampled
 * share leaves no doubt of the required one. Limits of the share after E. B. Wilson, J. Am. Stat.
 * Assoc. 22 (1927) 209, as if members were drawn independently. */
enum hobble_status hobble_rule(const hobble_case *c, double speed, double distance, int threads,
                               struct hobble_rule_answer *out, struct hobble_faults *sink);

/* ---- the whole field ------------------------------------------------------------------------ */

/* A row of the table that runs from one value to another, in the row's unit, in count steps. */
enum { HOBBLE_AXIS_MAX = 400 };
struct hobble_axis {
    int row;
    double from, to;
    int count; /* 2..HOBBLE_AXIS_MAX */
};
/* Called now and then by the calling thread with the share done, 0..1. */
typedef void hobble_progress(void *context, double done);

struct hobble_map {
    struct hobble_axis axis[2];
    double *value[2]; /* the axes' values, in the rows' units */
    /* One number a cell, cell = second * axis[0].count + first. */
    double *p5, *p50, *p95; /* m from now; NAN where the rim carries the load from the start */
    double *rim;            /* share of tyres on the rim at the start */
    double *share;          /* share of tyres that make rule_distance at the cell's speed */
    double *reach;          /* m that the needed share of tyres makes, flat from the first metre */
    unsigned char *holds;   /* the rule holds there, as hobble_rule says it at the cell's speed */
    unsigned char *cut;     /* bits 1, 2, 4: p5, p50, p95 is "more than" */
    unsigned char *outside; /* outside the checked range */
    double rule_distance, required;
    double needed;   /* as in hobble_rule_answer; the largest of any types made */
    int counted;     /* tyres that a cell rests on, at the fewest; see hobble_too_few */
    double asked[2]; /* the question's own place, in the rows' units; NAN: not known */
    double driven;   /* m at low pressure before now, in the question as it stands */
    struct hobble_marking marking;
    bool example;
    int tested, passed;             /* of the last types that were made */
    int made;                       /* how often types were made */
    double energy_closure, seconds; /* seconds: wall clock */
};

/* Whether a row can be an axis: a number that changes the range. */
bool hobble_axis_row(int row);
/* Fills a map of the remaining range of the case over two axes; types are made and tested once
 * where the axes leave them alone. Axes replace rows that would contradict them (load, load_share,
 * people; leak, hole). out is written on HOBBLE_OK only; free it. progress may be NULL. */
enum hobble_status hobble_map_make(const hobble_case *c, const struct hobble_axis axis[2],
                                   int threads, hobble_progress *progress, void *context,
                                   struct hobble_map *out, struct hobble_faults *sink);
void hobble_map_free(struct hobble_map *map);

/* ---- which unknown matters most ------------------------------------------------------------- */

/* X(code, word, meaning) */
#define HOBBLE_WHY_LIST(X)                                                                         \
    X(RANGE, "log_range", "logarithm of the distance from the loss of pressure")                   \
    X(PEAK, "peak_temperature", "hottest wall on the way to the destination")                      \
    X(ARRIVAL, "arrival", "whether the tyre carries as far as the destination")

enum hobble_why_output {
#define HOBBLE_WHY_ENUM(code, word, meaning) HOBBLE_WHY_##code,
    HOBBLE_WHY_LIST(HOBBLE_WHY_ENUM)
#undef HOBBLE_WHY_ENUM
        HOBBLE_WHY_OUTPUTS
};
const char *hobble_why_word(enum hobble_why_output output);
const char *hobble_why_meaning(enum hobble_why_output output);

/* First-order and total share of one uncertain row in an output's variance, with the limits of 95 %
 * confidence. NAN where the output does not vary. */
struct hobble_index {
    int row;
    double first, first_low, first_high;
    double total, total_low, total_high;
    double
        shapley; /* of the tyres that the advice rests on; NAN: of too few, or not of the range */
};
enum { HOBBLE_INDICES_MAX = 24 };
/* What could be learnt before or on the way. X(code, word, keys): the keys whose doubt it takes */
#define HOBBLE_LEARN_LIST(X)                                                                       \
    X(LOAD, "weigh_axle", "load_known")                                                            \
    X(SPEED, "check_speed", "speed_error")                                                         \
    X(UNSEEN, "read_pressure", "unseen, warning")                                                  \
    X(PAST, "know_past", "age, ran_flat, repaired")                                                \
    X(WALL, "wall_after_15_min", "evidence: run of this unit, outer")                              \
    X(CAVITY, "air_after_15_min", "evidence: run of this unit, cavity")                            \
    X(DRUM_RUN, "drum_run", "evidence: run of another unit, on a drum")                            \
    X(ROAD_RUN, "road_run", "evidence: run of another unit, on the road")
enum hobble_learn {
#define HOBBLE_LEARN_ENUM(code, word, keys) HOBBLE_LEARN_##code,
    HOBBLE_LEARN_LIST(HOBBLE_LEARN_ENUM)
#undef HOBBLE_LEARN_ENUM
        HOBBLE_LEARNS
};
const char *hobble_learn_word(enum hobble_learn what);
const char *hobble_learn_keys(enum hobble_learn what);
struct hobble_learnt {
    enum hobble_learn what;
    double
        advice;   /* m: advised distance after it, on the average of what may be found; STOP is 0 */
    double turns; /* chance that GO and STOP turn, 0..1; NAN: nobody can say */
    bool at_best; /* advice is what it would be if what is learnt is good, not what to expect */
};

struct hobble_why {
    double advice_now; /* m, 0 on STOP */
    int counted;       /* tyres that it rests on, and what is learnt is asked of */
    bool stop_stands;  /* STOP for what no measurement of the list would lift: it is empty */
    int learn_count;   /* the most worth first, and behind them those at best */
    struct hobble_learnt learn[HOBBLE_LEARNS];
    int count; /* uncertain rows */
    struct hobble_index index[HOBBLE_WHY_OUTPUTS][HOBBLE_INDICES_MAX];
    double explained; /* of the range's variance, 0..1: what the shapley shares add up to; or NAN */
    double mean[HOBBLE_WHY_OUTPUTS], deviation[HOBBLE_WHY_OUTPUTS]; /* 1 (of metres), K, 1 */
    double distance; /* m: the destination, or the rule's */
    double speed;    /* m/s */
    struct hobble_marking marking;
    bool example;
    int first_row;  /* the row of the largest share in the range, shapley or else total, that can be
                     * measured on a tyre or a vehicle; -1: none */
    int base, runs; /* base sample, journeys */
};
/* Sobol' indices of one tyre out of all types, not only those that the advice rests on, with inputs
 * drawn independently (members is the base sample): Saltelli et al., Comput. Phys. Commun. 181
 * (2010) 259, table 2, estimators (b) and (f); limits by bootstrap over the base sample. Shapley
 * effects, which are defined for inputs that hang together, of the tyres that it rests on: Owen,
 * SIAM/ASA J. Uncertain. Quantif. 2 (2014) 245, out of the same drive. */
enum hobble_status hobble_why_find(const hobble_case *c, int threads, struct hobble_why *out,
                                   struct hobble_faults *sink);

/* ---- pictures for a class ------------------------------------------------------------------- */

/* The middle tyre's wall while it drives from now at the advised speed, without air: temperature by
 * place and time. */
enum { HOBBLE_WALL_TIMES = 121, HOBBLE_WALL_PLACES = 26 };
struct hobble_wall {
    double thickness;                                     /* m */
    double time[HOBBLE_WALL_TIMES];                       /* s from the loss of pressure */
    double way[HOBBLE_WALL_TIMES];                        /* m from there */
    double depth[HOBBLE_WALL_PLACES];                     /* m from the inner face */
    double kelvin[HOBBLE_WALL_TIMES][HOBBLE_WALL_PLACES]; /* faces are the first and the last */
    double limit;                                         /* K */
    enum hobble_end end;                                  /* what ended it at the last time */
    double speed, load, ambient;
    struct hobble_marking marking;
    bool example;
    int evidence_items; /* taken in: the middle tyre is that of the sample they leave */
};
enum hobble_status hobble_wall_make(const hobble_case *c, struct hobble_wall *out,
                                    struct hobble_faults *sink);

/* Life used along the journey of the case, stops included; without legs along one of ours with two
 * stops. */
enum { HOBBLE_LIFE_POINTS = 400 };
struct hobble_life_point {
    double time, way, speed; /* s, m, m/s */
    double life5, life50, life95;
    double wall50; /* K */
    double alive;
};
struct hobble_life {
    int count;
    bool ours; /* the journey is ours, the case has none */
    struct hobble_life_point point[HOBBLE_LIFE_POINTS];
    double load, ambient;
    struct hobble_marking marking;
    bool example;
    int tested, passed;
};
enum hobble_status hobble_life_make(const hobble_case *c, int threads, struct hobble_life *out,
                                    struct hobble_faults *sink);

/* What the approval mark is worth: ranges and uncertain rows before and after the approval test. */
struct hobble_quantile {
    double at, low, high; /* m; low and high: ranks that hold the quantile with 95 % confidence */
    bool cut;             /* it is "more than" */
};
struct hobble_moments {
    double mean, deviation;
};
enum { HOBBLE_MARK_POINTS = 200 };
struct hobble_mark_worth {
    struct hobble_quantile before[3], after[3]; /* 5, 50 and 95 of 100 */
    double curve_before[HOBBLE_MARK_POINTS];    /* m; evenly spaced shares, ends left out */
    double curve_after[HOBBLE_MARK_POINTS];
    int count; /* uncertain rows */
    int row[HOBBLE_INDICES_MAX];
    struct hobble_moments row_before[HOBBLE_INDICES_MAX], row_after[HOBBLE_INDICES_MAX];
    int tested, passed;
    double speed, load, ambient;
    double cap; /* m: the rule's or the maker's */
    struct hobble_marking marking;
    bool example;
    /* the same after the profile's evidence; of no meaning where evidence_items is 0 */
    int evidence_items;
    double evidence_effective; /* tyres that the sample is worth */
    struct hobble_quantile known[3];
    double curve_known[HOBBLE_MARK_POINTS];
};
enum hobble_status hobble_mark_make(const hobble_case *c, int threads,
                                    struct hobble_mark_worth *out, struct hobble_faults *sink);

/* Ranks (0-based) of sorted values that hold the quantile p of what n values were drawn from with
 * 95 % confidence, by the binomial law of order statistics (David and Nagaraja, Order Statistics,
 * section 7.1). The ends of the sample where it is too small. */
void hobble_quantile_ranks(size_t n, double p, size_t *low, size_t *high);

#endif
