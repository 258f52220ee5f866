/* SPDX-License-Identifier: GPL-3.0-or-later */
/* journey.h - what was driven and what is to be driven, as a list of legs. */
#ifndef HB_CORE_JOURNEY_H
#define HB_CORE_JOURNEY_H

#include <stdbool.h>
#include <stddef.h>

enum hb_extent {
    HB_FOR_TIME,     /* extent in seconds */
    HB_FOR_DISTANCE, /* extent in metres of stated speed */
    HB_UNTIL_END,    /* until an end event or the horizon */
};

/* One leg: conditions hold from its start to its end. SI units. */
struct hb_leg {
    double speed;   /* m/s; 0 is a stop */
    double load;    /* N */
    double ambient; /* K */
    double extent;  /* s or m, see kind */
    enum hb_extent kind;
    bool set_pressure; /* the pressure jumps to pressure at the start; else it goes on */
    double pressure;   /* Pa */
    double leak_rate;  /* 1/s: the pressure falls with this rate; 0 for none */
    double hole;       /* 1/s: coefficient of a hole, see hb_hole_coefficient; 0 for none */
    bool goes_on;      /* same conditions as the leg before: the step is not made small again */
};

/* How the tyre starts: in steady inflated running, or everything at one temperature. */
struct hb_start {
    bool running;
    double speed;    /* m/s, when running */
    double load;     /* N, when running */
    double ambient;  /* K: of the running, or the one temperature */
    double pressure; /* Pa at the start of the first leg (and in the running) */
};

struct hb_journey {
    struct hb_start start;
    size_t count;
    const struct hb_leg *leg;
    double horizon_distance; /* m, from the start */
    double horizon_time;     /* s, from the start */
};

enum hb_end {
    HB_END_NONE,     /* the legs ended first */
    HB_END_HORIZON,  /* the horizon came first */
    HB_END_LIFE,     /* life used up at the inner face */
    HB_END_HEAT,     /* hottest place of the wall at its limit */
    HB_END_RIM,      /* the wall folds and the rim carries */
    HB_END_SHOULDER, /* shoulder at its limit */
    HB_END_COUNT
};

/* State at the end of a leg (or where the tyre ended, if earlier). */
struct hb_record {
    double time;       /* s since the start */
    double distance;   /* m since the start */
    double life;       /* 0..1 */
    double inner;      /* inner face, K */
    double outer;      /* outer face, K: what a sensor on the wall sees */
    double cavity;     /* air in the cavity, K: what a pressure sensor in the wheel tells */
    double hottest;    /* hottest place of the wall now, K */
    double peak;       /* hottest place of the wall so far, K */
    double entry;      /* m, deflection just after the leg began */
    double deflection; /* m */
    double pressure;   /* Pa */
    double force;      /* resisting force of the bending walls, N */
    double rolling;    /* resisting force altogether, N */
    double shoulder;   /* K */
};

/* One tyre's run through a journey. */
struct hb_outcome {
    enum hb_end end;
    double time;             /* s at the end */
    double distance;         /* m at the end */
    double life;             /* at the end, 0..1 */
    double peak;             /* hottest place of the wall, K */
    double deflection_start; /* m, at the start of the first leg that is not inflated running */
    double deflection_most;  /* m */
    double made;             /* J of heat */
    double stored;           /* J */
    double to_air;           /* J */
    double to_road;          /* J */
    double above_80, above_100, above_120; /* s with the hottest place above 80, 100, 120 degC */
};

/* Whether a journey can be integrated: at least one leg, the first not goes_on, HB_UNTIL_END only
 * as the last, everything finite, speeds 0..100 m/s, loads 100..50 000 N, temperatures 200..400 K,
 * pressures 0..1 MPa, extents positive, distances only with a speed, horizons positive. */
bool hb_journey_check(const struct hb_journey *journey);

#endif
