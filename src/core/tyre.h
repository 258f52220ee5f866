/* SPDX-License-Identifier: GPL-3.0-or-later */
/* tyre.h - one tyre on one corner of one vehicle, as numbers in SI, ready for the physics. */
#ifndef HB_CORE_TYRE_H
#define HB_CORE_TYRE_H

enum {
    HB_CELLS = 12,     /* wall cells in the integrator, and by default in the reference */
    HB_CELLS_MAX = 96, /* wall cells at most, for the grid study */
};

/* X(field): meaning, unit. One list makes the struct for one tyre and the struct for vectors. */
#define HB_TYRE_FIELDS(X)                                                                          \
    X(free_radius)      /* R, m */                                                                 \
    X(curvature_radius) /* R_e, m; R on a road, less on a drum */                                  \
    X(circumference)    /* 2 pi R, m */                                                            \
    X(section_height)   /* H, m */                                                                 \
    X(deflection_max)   /* rim contact, m */                                                       \
    X(stiffness)        /* kappa, N/m^2: per metre of contact and of deflection */                 \
    X(air_stiffness)    /* c_p, N/m per Pa */                                                      \
    X(modulus_slope)    /* lambda, 1/K: e = exp(-lambda (T - T25)) */                              \
    X(softening)        /* beta, 1 */                                                              \
    X(loss)             /* eta at 25 degC, 1 */                                                    \
    X(loss_slope)       /* 1/K */                                                                  \
    X(loss_floor)       /* least eta / eta_25, 1 */                                                \
    X(roll_base)        /* C_t at no deflection, 1 */                                              \
    X(roll_slope)       /* C_t per delta / L, 1 */                                                 \
    X(roll_fade)        /* C_t falls with the tread's temperature, 1/K */                          \
    X(roll_settled)     /* tread temperature of the two above, K */                                \
    X(roll_floor)       /* least C_t over that at roll_settled, 1 */                               \
    X(share_wall)       /* shares of the flexing heat, 1 */                                        \
    X(share_shoulder)                                                                              \
    X(share_tread)                                                                                 \
    X(roll_to_shoulder) /* share of the tread-and-belt heat made at the shoulders, 1 */            \
    X(wall_area)        /* both walls, m^2 */                                                      \
    X(wall_thickness)   /* m */                                                                    \
    X(conductivity)     /* k, W/(m K) */                                                           \
    X(wall_capacity)    /* rho c, J/(m^3 K) */                                                     \
    X(film_still)       /* outer film at rest, W/(m^2 K) */                                        \
    X(film_speed)       /* outer film per m/s */                                                   \
    X(film_inner)       /* cavity side, W/(m^2 K) */                                               \
    X(emissivity)       /* 1 */                                                                    \
    X(road_film)        /* tread to road, rolling, W/(m^2 K) */                                    \
    X(road_film_parked)                                                                            \
    X(tread_area)       /* m^2 */                                                                  \
    X(tread_resistance) /* half the tread's thickness over k, m^2 K/W */                           \
    X(shoulder_area)                                                                               \
    X(shoulder_resistance)                                                                         \
    X(rim_area_inner)                                                                              \
    X(rim_area_outer)                                                                              \
    X(capacity_cavity) /* J/K */                                                                   \
    X(capacity_tread)                                                                              \
    X(capacity_shoulder)                                                                           \
    X(capacity_rim)                                                                                \
    X(life_per_metre)    /* life used per metre in the reference state, 1/m */                     \
    X(life_per_force)    /* w / w_ref per flexing force, 1/N */                                    \
    X(life_power)        /* b, 1 */                                                                \
    X(life_activation)   /* E_a / R, K */                                                          \
    X(life_inverse_ref)  /* 1 / T_ref, 1/K */                                                      \
    X(reversion)         /* E_a / R gained above the temperature below, K; 0: none */              \
    X(reversion_inverse) /* 1 / that temperature, 1/K */                                           \
    X(wall_limit)        /* T_crit, K */                                                           \
    X(shoulder_limit)    /* K */                                                                   \
    X(load_factor)       /* real load / stated load, 1 */                                          \
    X(speed_factor)      /* real speed / stated speed, 1 */                                        \
    X(ambient_shift)     /* real ambient - stated ambient, K */

struct hb_tyre {
#define HB_FIELD(name) double name;
    HB_TYRE_FIELDS(HB_FIELD)
#undef HB_FIELD
};

/* Share of the wall's heat made in cell i of n (0 at the inner face); the shares add to one. */
double hb_heat_share(int i, int n);
/* Heat density at the inner face over the mean density (1). */
double hb_heat_density_inner(void);

#endif
