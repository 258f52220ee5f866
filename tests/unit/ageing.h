/* SPDX-License-Identifier: GPL-3.0-or-later */
/* ageing.h - road-wheel runs to failure of new and used tyres (tests/data/tyre-ageing.csv, whose
 * head names its source), and what they say of scatter between units and of age. docs/ageing.md
 * tells it. */
#ifndef HB_TEST_AGEING_H
#define HB_TEST_AGEING_H

#include <stdbool.h>
#include <stddef.h>

enum { AGEING_RUNS_MAX = 100, AGEING_TYPES_MAX = 8 };

struct ageing_run {
    char type;
    bool is_new;
    double age;      /* years */
    double hours;    /* to failure */
    double speed;    /* at failure, km/h */
    double distance; /* at failure, km */
    bool names_belt; /* the code of the failure has BE, B1 or B2 in it */
};

struct ageing_data {
    struct ageing_run run[AGEING_RUNS_MAX];
    size_t runs;
};

/* How the runs are read. Which types stay at the highest speed that any run of theirs failed at;
 * the others go on by 10 km/h each half hour. Severity: life falls as speed to the power -power. */
struct ageing_reading {
    const char *name;
    const char *held;  /* letters of types */
    const char *types; /* letters of the types that count */
    bool in_hours;     /* life is counted in hours, else in km */
    double power;
};

struct ageing_scatter {
    double s; /* of ln life, within a type */
    int freedom;
    double low, high; /* 95 % by resampling; 0 before ageing_resample */
};

struct ageing_fit {
    struct ageing_scatter fresh, used, used_about; /* the last with the trend taken out */
    double trend, trend_error;                     /* of ln life a year */
    double trend_low, trend_high;                  /* 95 % by resampling */
    int freedom;
    double spread;                    /* of the residuals */
    double residual[AGEING_RUNS_MAX]; /* 0 for runs that do not count */
};

/* Reads the file; returns false and writes what is wrong into why. */
bool ageing_load(struct ageing_data *data, char *why, size_t why_size);

/* The schedule inferred: 2 h at 80 km/h, then from 140 km/h on 10 km/h more each half hour. Speed
 * and distance at the end of a run. */
void ageing_schedule(const struct ageing_data *data, const struct ageing_reading *reading,
                     const struct ageing_run *run, double *speed, double *distance);

/* ln of life at equal severity. */
double ageing_life(const struct ageing_data *data, const struct ageing_reading *reading,
                   const struct ageing_run *run);

/* One level a type and one trend with age, least squares by GSL. */
void ageing_fit(const struct ageing_data *data, const struct ageing_reading *reading,
                struct ageing_fit *fit);

/* Bands by drawing runs again within type and new or used; deviations are widened by sqrt(n/(n-1)),
 * so that a small group does not look narrower than it is. */
void ageing_resample(const struct ageing_data *data, const struct ageing_reading *reading,
                     int times, struct ageing_fit *fit);

#endif
