/* SPDX-License-Identifier: GPL-3.0-or-later */
/* policy.h - the roadside policy of a fleet; part of hobble.h, which is the file to include. */
#ifndef HOBBLE_H
#include "hobble.h" /* includes this file where it belongs */
#endif
#ifndef HOBBLE_POLICY_H
#define HOBBLE_POLICY_H

/* ---- the fleet ------------------------------------------------------------------------------- */

enum {
    HOBBLE_FLEET_NAME = 64,
    HOBBLE_FLEET_VEHICLES = 12,
    HOBBLE_FLEET_LOADS = 6,
    HOBBLE_FLEET_SEASONS = 6,
    HOBBLE_FLEET_SITES = 16,
    HOBBLE_FLEET_NUMBERS = 64,
    HOBBLE_FLEET_LEAST = -700,  /* tenths of a degree Celsius */
    HOBBLE_FLEET_TENTHS = 1401, /* -70.0 to 70.0 degC */
    HOBBLE_HELP_MAX = 5000      /* distances to help */
};

/* A number of a fleet: one row of a table of its own, as the parameter table has them. */
struct hobble_fleet_row {
    const char *key;
    enum hobble_unit unit; /* of value, min and max */
    const char *shown;     /* the unit as shown, where unit is HOBBLE_UNIT_NONE */
    double value, min, max;
    double spread; /* standard deviation of the natural logarithm; 0: taken as known */
    enum hobble_provenance provenance;
    const char *source, *meaning;
};
const struct hobble_fleet_row *hobble_fleet_table(size_t *count);
int hobble_fleet_find(const char *key);

struct hobble_fleet_number {
    double value, spread;
    enum hobble_provenance provenance;
    char source[HOBBLE_FAULT_TEXT];
    char origin[HOBBLE_FAULT_TEXT]; /* "built in" or "file:line" */
};

/* Where the next place of help is: X, the distance from the place of the warning. */
enum hobble_help_kind { HOBBLE_HELP_EXPONENTIAL, HOBBLE_HELP_TABLE, HOBBLE_HELP_INCIDENTS };
struct hobble_help {
    enum hobble_help_kind kind;
    double mean;                      /* m */
    int count;                        /* of a table or of incidents; distances rise */
    double distance[HOBBLE_HELP_MAX]; /* m */
    double beyond[HOBBLE_HELP_MAX];   /* share of the help that is farther than that */
    char origin[HOBBLE_FAULT_TEXT];
};
/* Chance that help is farther than distance (m): exp(-distance/mean), or the share of a table. */
double hobble_help_beyond(const struct hobble_help *help, double distance);

/* Makes help out of count (1..HOBBLE_HELP_MAX) distances (m, 0 or more) and their weights (above 0,
 * NULL: all alike). */
enum hobble_status hobble_help_set(struct hobble_help *help, enum hobble_help_kind kind,
                                   const double *distance, const double *weight, int count);

struct hobble_fleet_vehicle {
    char name[HOBBLE_FLEET_NAME];
    int count;
    double year_km;       /* of one vehicle */
    hobble_case *axle[2]; /* front, rear: tyre and vehicle; owned by the fleet */
};
struct hobble_fleet_load {
    char name[HOBBLE_FLEET_NAME];
    double people;  /* NAN: by seats */
    double seats;   /* share of the seats taken, rounded up to a person; NAN: by people */
    double luggage; /* kg */
    double share;   /* of the kilometres, 0..1 */
};
struct hobble_fleet_season {
    char name[HOBBLE_FLEET_NAME];
    double share;                      /* of the year */
    double tenth[HOBBLE_FLEET_TENTHS]; /* share of the year at HOBBLE_FLEET_LEAST + i tenths degC */
};

struct hobble_fleet {
    char name[HOBBLE_FAULT_TEXT], money[16];
    int vehicles, loads, seasons;
    struct hobble_fleet_vehicle vehicle[HOBBLE_FLEET_VEHICLES];
    struct hobble_fleet_load load[HOBBLE_FLEET_LOADS];
    struct hobble_fleet_season season[HOBBLE_FLEET_SEASONS];
    struct hobble_help help;
    struct hobble_fleet_number number[HOBBLE_FLEET_NUMBERS];
    int sites;
    char site[HOBBLE_FLEET_SITES][HOBBLE_FAULT_TEXT]; /* as the annex names them */
    long hours;                                       /* that were read from weather files */
    double members, seed, required;                   /* as the rows of the group STUDY */
};
/* A fleet of no vehicles on the table's values; NULL without memory. free takes NULL. */
struct hobble_fleet *hobble_fleet_new(void);
void hobble_fleet_free(struct hobble_fleet *fleet);
/* Whether front and rear have the same tyres in every value, not in their marking only. */
bool hobble_fleet_same_tyres(const struct hobble_fleet_vehicle *vehicle);

/* ---- conditions, and what solves them -------------------------------------------------------- */

/* X(code, word): why a condition is solved. */
#define HOBBLE_VARIANT_LIST(X)                                                                     \
    X(BASE, "base")           /* every hour of the year, binned to 1 K */                          \
    X(FRESH, "fresh")         /* the same with another sample, to verify the rule found */         \
    X(EXACT, "exact")         /* some hours as they are, for the error of binning */               \
    X(EXTENDED, "extended")   /* extended-mobility tyres of the same size */                       \
    X(HEAVIER, "heavier")     /* 8 % more load than stated */                                      \
    X(LATER, "later")         /* the warning comes after twice the time */                         \
    X(UNVOUCHED, "unvouched") /* nothing stated of age, flat running and repairs */                \
    X(WARMER, "warmer")       /* 5 K warmer */
enum hobble_variant {
#define HOBBLE_VARIANT_ENUM(code, word) HOBBLE_VARIANT_##code,
    HOBBLE_VARIANT_LIST(HOBBLE_VARIANT_ENUM)
#undef HOBBLE_VARIANT_ENUM
        HOBBLE_VARIANTS
};

struct hobble_policy_condition {
    enum hobble_variant variant;
    int vehicle, axle, load;
    int tenth; /* tenths of a degree Celsius */
};
/* Every distinct condition of a fleet, each once, in an order that depends on the fleet alone.
 * list: the caller's to free. */
enum hobble_status hobble_policy_list(const struct hobble_fleet *fleet,
                                      struct hobble_policy_condition **list, size_t *count,
                                      struct hobble_faults *sink);

/* Speeds that advice is asked for, m/s; the first is the rule's. Those above the local limit are
 * never advised. */
enum { HOBBLE_POLICY_SPEEDS = 3, HOBBLE_REACH_BINS = 320 };
#define HOBBLE_REACH_STEP 500.0 /* m */
void hobble_policy_speeds(const struct hobble_fleet *fleet, double speed[HOBBLE_POLICY_SPEEDS]);

struct hobble_policy_way {
    int go;      /* advice is to go on */
    int advised; /* m, rounded down; 0 on STOP */
    int stops;   /* reasons, a bit each */
    int counted; /* members that the advice rests on */
    int worth;   /* tyres that a share of them is worth: fewer where evidence was taken in */
    /* members whose tyre ends in [i, i + 1) steps from the warning on */
    unsigned short ended[HOBBLE_REACH_BINS];
};
struct hobble_policy_solved {
    int unseen;  /* m driven flat before the warning */
    int closure; /* largest miss of an energy ledger in 1e-9 of the heat, rounded up */
    struct hobble_policy_way way[HOBBLE_POLICY_SPEEDS];
};
/* Solves count conditions. progress may be NULL; it is called by the calling thread. The numbers do
 * not depend on threads or on how the list is cut. */
enum hobble_status hobble_policy_solve(const struct hobble_fleet *fleet,
                                       const struct hobble_policy_condition *condition,
                                       size_t count, int threads, hobble_progress *progress,
                                       void *context, struct hobble_policy_solved *out,
                                       struct hobble_faults *sink);
/* A number that differs when anything that conditions or their answers rest on differs. */
uint64_t hobble_policy_digest(const struct hobble_fleet *fleet);

/* ---- the policy ------------------------------------------------------------------------------ */

/* Chances at one place of help law and tyres: failed, the tyre ends on the way before help or the
 * end of the allowed distance is reached; stranded, help is not reached on one's own wheels, by
 * failing or by stopping as told. lost: stopped as told with help within the tyre's range. */
struct hobble_chance {
    double failed, stranded, lost;
    double error; /* of failed by sampling, one standard deviation */
};

struct hobble_policy_row {
    int vehicle, load, season;
    double weight;           /* share of the fleet's kilometres */
    double load_n[2];        /* N on a wheel, front and rear */
    double coldest, hottest; /* K */
    bool go;
    double speed, distance; /* m/s, m in whole km: advised in every hour of the season */
    double advised;         /* m: the advice alone, before the accepted chance shortens it */
    double told;            /* m: what the simple rule says of this row; 0: stop */
    int stops;              /* reasons where it is stop */
    int rule_stops;         /* reasons against the plain rule */
    int counted, unseen;    /* tyres that the row rests on at least; m driven before the warning */
    struct hobble_chance policy, rule, stop;
    double rule_share; /* of tyres that make 80 km from the warning, in the worst hour */
    bool rule_holds, rule_unsafe, rule_wasteful;
    bool rule_barred;                   /* advice at 80 km/h is to stop */
    double limit[HOBBLE_POLICY_SPEEDS]; /* m, the most for each speed; 0: stop */
};

/* A rule of at most three lines: one distance at one speed, one exception, and when to stop at
 * once. */
struct hobble_simple_rule {
    bool found;             /* some cell may go on */
    double speed, distance; /* m/s; m in steps of 5 km, 0: stop */
    bool exception;
    int vehicle, load, season;           /* which the exception is for; -1: any */
    double other;                        /* m, the exception's distance; 0: stop */
    double failed, failed_error;         /* the worst row's chance of failing on the first sample */
    double fresh, fresh_error;           /* the same on the fresh one */
    int fresh_row;                       /* that row */
    bool verified;                       /* no row is over the accepted chance on fresh samples */
    struct hobble_chance all, all_fresh; /* over the fleet's kilometres */
    double reaches, reaches_best;        /* share that reaches help: by it, and by the rows' own */
    int tried;                           /* rules looked at */
};

#define HOBBLE_BUILD_LIST(X)                                                                       \
    X(SPARE, "conventional_spare", "conventional, spare wheel")                                    \
    X(KIT, "conventional_kit", "conventional, repair kit")                                         \
    X(LINED, "sealant_lined", "sealant-lined")                                                     \
    X(EXTENDED, "extended_mobility", "extended mobility")                                          \
    X(SELF, "self_supporting", "self-supporting")
enum hobble_build {
#define HOBBLE_BUILD_ENUM(code, word, name) HOBBLE_BUILD_##code,
    HOBBLE_BUILD_LIST(HOBBLE_BUILD_ENUM)
#undef HOBBLE_BUILD_ENUM
        HOBBLE_BUILDS
};
const char *hobble_build_word(enum hobble_build build);
const char *hobble_build_name(enum hobble_build build);

struct hobble_spread {
    double middle, p5, p95;
};
/* Where self-supporting tyres cost as much as another construction. */
enum hobble_break { HOBBLE_BREAK_AT, HOBBLE_BREAK_ALWAYS, HOBBLE_BREAK_NEVER };
struct hobble_policy_cost {
    double stranding;              /* chance that a puncture strands */
    struct hobble_spread cost;     /* money per 100 000 km of a vehicle */
    struct hobble_spread stranded; /* events per million km */
    double fixed, a_puncture;      /* money per 100 000 km without punctures, and for one */
    enum hobble_break pays;        /* of self-supporting tyres against this construction */
    double break_even;             /* punctures per 100 000 km, where HOBBLE_BREAK_AT */
    bool pays_below;               /* it pays below that rate, not above */
};

#define HOBBLE_SHIFT_LIST(X)                                                                       \
    X(LOAD, "wheel_load", "8 % more load on the wheels than stated",                               \
      "Weigh the vehicles as they drive, each axle by itself.")                                    \
    X(AIR, "outside_air", "5 K warmer air",                                                        \
      "Log the temperature on the road where the vehicles work, above all on hot afternoons.")     \
    X(DELAY, "detection_delay", "a warning that takes twice as long",                              \
      "Time the warning: let the air out of one tyre on closed ground and see when the lamp "      \
      "comes "                                                                                     \
      "on.")                                                                                       \
    X(HISTORY, "tyre_history", "no record of age, flat running and repairs",                       \
      "Keep a record of every tyre: age, each run without air, each repair.")                      \
    X(HELP, "help_distance", "help twice as far away",                                             \
      "Write down at each incident how far the help was that was used.")                           \
    X(CHANCE, "accepted_chance", "half the accepted chance",                                       \
      "Agree the accepted chance with the insurer, in writing.")
enum hobble_shift_code {
#define HOBBLE_SHIFT_ENUM(code, word, what, how) HOBBLE_SHIFT_##code,
    HOBBLE_SHIFT_LIST(HOBBLE_SHIFT_ENUM)
#undef HOBBLE_SHIFT_ENUM
        HOBBLE_SHIFTS
};
struct hobble_shift {
    enum hobble_shift_code code;
    double change;  /* m, mean change of the advised distance, by kilometres, either way */
    double flipped; /* share of kilometres whose go or stop turns */
};
const char *hobble_shift_word(enum hobble_shift_code code);
const char *hobble_shift_what(enum hobble_shift_code code);
const char *hobble_shift_how(enum hobble_shift_code code); /* what to measure */

struct hobble_policy {
    int rows;
    struct hobble_policy_row row[HOBBLE_FLEET_VEHICLES * HOBBLE_FLEET_LOADS * HOBBLE_FLEET_SEASONS];
    struct hobble_simple_rule simple;
    struct hobble_chance all, all_rule; /* over the fleet's kilometres: rows' policy, plain rule */
    struct hobble_policy_cost cost[HOBBLE_BUILDS];
    double fleet_km; /* a year */
    int counted;     /* tyres that the row with the fewest rests on; see hobble_too_few */
    struct hobble_shift shift[HOBBLE_SHIFTS]; /* largest first */
    /* error of binning over the hours that were solved as they are */
    int exact_hours;
    double bin_distance;                /* m, largest difference of an advised distance */
    double bin_chance, bin_chance_most; /* mean and largest difference of the plain rule's chance */
    size_t conditions;
    double closure;
    int evidence_items; /* of the tyres of both axles of all vehicles, taken in */
};
/* Puts solved conditions together. out is written on HOBBLE_OK only. */
enum hobble_status hobble_policy_judge(const struct hobble_fleet *fleet,
                                       const struct hobble_policy_condition *condition,
                                       const struct hobble_policy_solved *solved, size_t count,
                                       struct hobble_policy *out, struct hobble_faults *sink);

#endif
