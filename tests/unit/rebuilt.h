/* SPDX-License-Identifier: GPL-3.0-or-later */
/* rebuilt.h - the physics of docs/model.md once more, from that page alone: other names, another
 * layout, plain numbers, an explicit method of GSL and ends by halving. It uses nothing of src. */
#ifndef HB_TEST_REBUILT_H
#define HB_TEST_REBUILT_H

#include <stdbool.h>

/* A tyre as the page's tables have it. rebuilt_plain gives all of it but the first five. */
struct rebuilt {
    double width_mm, aspect, rim_code, index_kg;
    bool supports; /* self-supporting, else conventional */
    double secant; /* N/m; 0: by size */
    double wall_m, conductivity, tangent, inner_film, outer_factor;
    double energy_kj, power; /* E_a, b */
    bool reverts;
    double wall_share; /* of the bending heat */
    double work;       /* factor on the bending heat */
    int walls;         /* 1, or 2 that share the cavity */
    double uneven;     /* two walls do 1 + uneven and 1 - uneven of the work */
    double drum;       /* m, radius; 0 on a road */
    double hot_ref;    /* T_ref, K */
    double work_ref;   /* w_ref, J/m^3 */
    double turns_ref;  /* N_ref; 0: life is not counted */
};

struct rebuilt_leg {
    double kmh, newton, celsius, seconds; /* seconds 0: to the end */
    double kpa;                           /* at its start; below 0: as it is */
    double hole_mm, slowness;             /* of a hole; s of a leak, 0 for none */
};

struct rebuilt_end {
    char why; /* 'L'ife, 'H'eat, 'R'im, 'S'houlder, 'T'oo long (horizon), '-' legs done */
    double seconds, metres, life;
    double inner, outer, cavity, tread; /* K */
    double work;                        /* J/m^3 lost a turn at the inner face */
    double kpa, drag;                   /* kPa, N */
};

struct rebuilt rebuilt_plain(double width_mm, double aspect, double rim_code, double index_kg);
/* Section 6: from steady running at 100 km/h and 230 kPa, or from one temperature everywhere. */
struct rebuilt_end rebuilt_drive(const struct rebuilt *t, const struct rebuilt_leg *leg, int legs,
                                 bool from_running);
/* Section 5: T_ref, w_ref and N_ref so that this very tyre ends so many minutes into the drum
 * test's 80 km/h. */
void rebuilt_life(struct rebuilt *t, double minutes);

#endif
