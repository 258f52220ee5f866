/* SPDX-License-Identifier: GPL-3.0-or-later */
/* rows.h - which function of the model computes each row of tests/data/validation.tsv. */
#ifndef HB_TEST_VALIDATE_ROWS_H
#define HB_TEST_VALIDATE_ROWS_H

#include "core/const.h"
#include "core/param.h"

/* X(id of the row, function, its two numbers). A function returns the value in the unit of the
 * row; NAN: it could not be computed. */
#define VALIDATION_ROWS(X)                                                                         \
    /* approval test and the rule: rows_drum.c */                                                  \
    X("test-diameter", test_term, 0, 0)                                                            \
    X("test-room", test_term, 1, 0)                                                                \
    X("test-load", test_term, 2, 0)                                                                \
    X("test-run-up", test_term, 3, 0)                                                              \
    X("test-minutes", test_term, 4, 0)                                                             \
    X("test-speed", test_term, 5, 0)                                                               \
    X("test-height", test_term, 6, 0)                                                              \
    X("flat-pressure", constant, HB_FLAT_PRESSURE / 1e3, 0)                                        \
    X("drum-first-end", drum_first_end, 0, 0)                                                      \
    X("drum-spare", drum_spare, 0, 0)                                                              \
    X("drum-life-used", drum_life_used, 0, 0)                                                      \
    X("drum-height", drum_height_change, 0, 0)                                                     \
    X("one-pass", passes_show, 1, 0.5)                                                             \
    X("passes-95", passes_needed, 0.95, 0.95)                                                      \
    X("passes-95-shown", passes_show, 59, 0.95)                                                    \
    X("passes-95-fewer", passes_show, 58, 0.95)                                                    \
    X("rule-middle", flat_range, 0.65, HB_SELF_SUPPORTING)                                         \
    X("rule-share", rule_share, 0.65, 0)                                                           \
    X("extended-range", flat_range, 0.65, HB_EXTENDED_MOBILITY)                                    \
    X("extended-cap", extended_cap, 0, 0)                                                          \
    X("warning-drop", warning_drop, 0, 0)                                                          \
    X("warning-hidden-10", hidden_distance, 10, 80)                                                \
    X("warning-hidden-20", hidden_distance, 20, 80)                                                \
    X("warning-hidden-slow", hidden_distance, 20, 50)                                              \
    X("warning-hidden-fast", hidden_distance, 20, 100)                                             \
    X("handbook-light", flat_range, 0.65, HB_SELF_SUPPORTING)                                      \
    X("handbook-medium", flat_range, 0.75, HB_SELF_SUPPORTING)                                     \
    X("handbook-heavy", flat_range, 0.95, HB_SELF_SUPPORTING)                                      \
    X("handbook-light-before", ends_before, 0.65, 200)                                             \
    X("handbook-medium-before", ends_before, 0.75, 150)                                            \
    X("handbook-heavy-before", ends_before, 0.95, 50)                                              \
    X("load-exponent", load_exponent, 0.65, 0.95)                                                  \
    X("plain-flat", rim_reach, 0.65, HB_CONVENTIONAL)                                              \
    X("plain-flat-range", flat_range, 0.65, HB_CONVENTIONAL)                                       \
    X("plain-flat-light", rim_reach, 0.40, HB_CONVENTIONAL)                                        \
    X("plain-flat-light-range", flat_range, 0.40, HB_CONVENTIONAL)                                 \
    X("sealant-flat", rim_reach, 0.65, HB_SEALANT_LINED)                                           \
    X("sealant-held", inflated_range, 0.65, HB_SEALANT_LINED)                                      \
    X("ledger-handbook", ledger_miss, 0, 0)                                                        \
    X("low-pressure-140", low_pressure_minutes, 140, 0)                                            \
    X("low-pressure-70", low_pressure_used, 70, 0)                                                 \
    X("low-pressure-70-stop", low_pressure_stop, 70, 0)                                            \
    X("hatchback-60", hatchback_range, 0.60, 0)                                                    \
    X("hatchback-65", hatchback_range, 0.65, 0)                                                    \
    X("hatchback-70", hatchback_range, 0.70, 0)                                                    \
    X("hatchback-scrap", hatchback_scrap, 0.65, 0)                                                 \
    /* springs, rolling resistance and leaks: rows_roll.c */                                       \
    X("k-temperature", resistance_per_kelvin, 0, 0)                                                \
    X("drum-formula-1707-2000", drum_formula, 0.8535, 1.0)                                         \
    X("drum-formula-1700-road", drum_formula, 0.85, 1e9)                                           \
    X("drum-formula-2000-road", drum_formula, 1.0, 1e9)                                            \
    X("drum-ratio-1707-2000", drum_ratio_inflated, 0.8535, 1.0)                                    \
    X("drum-ratio-1700-road", drum_ratio_inflated, 0.85, 1e9)                                      \
    X("drum-ratio-2000-road", drum_ratio_inflated, 1.0, 1e9)                                       \
    X("drum-ratio-flat-1700-road", drum_ratio_flat, 0.85, 1e9)                                     \
    X("j2452-60-240", j2452_published, 60, 240)                                                    \
    X("j2452-60-140", j2452_published, 60, 140)                                                    \
    X("j2452-60-70", j2452_published, 60, 70)                                                      \
    X("j2452-65-240", j2452_published, 65, 240)                                                    \
    X("j2452-65-140", j2452_published, 65, 140)                                                    \
    X("j2452-65-70", j2452_published, 65, 70)                                                      \
    X("tread-settled", tread_settled, 240, 0)                                                      \
    X("roll-60-level", roll_per_load, 60, 240)                                                     \
    X("roll-60-140", roll_ratio, 60, 140)                                                          \
    X("roll-60-70", roll_ratio, 60, 70)                                                            \
    X("roll-65-level", roll_per_load, 65, 240)                                                     \
    X("roll-65-140", roll_ratio, 65, 140)                                                          \
    X("roll-65-70", roll_ratio, 65, 70)                                                            \
    X("roll-flat", roll_flat, 0, 0)                                                                \
    X("roll-twin", roll_twin, 0, 0)                                                                \
    X("stiffness-solved-a", solved_stiffness, 23.7, 1)                                             \
    X("stiffness-solved-b", solved_stiffness, 11.4, 1)                                             \
    X("stiffness-solved-c", solved_stiffness, 9.8, 1)                                              \
    X("stiffness-secant-a", solved_stiffness, 23.7, 0.65)                                          \
    X("stiffness-secant-b", solved_stiffness, 11.4, 0.65)                                          \
    X("stiffness-secant-c", solved_stiffness, 9.8, 0.65)                                           \
    X("stiffness-default", default_stiffness, 0, 0)                                                \
    X("stiffness-more", more_deflection, 0, 0)                                                     \
    X("stiffness-plain", plain_stiffness, 0, 0)                                                    \
    X("rhyne-205-220", pressure_stiffness, 205, 220)                                               \
    X("rhyne-205-230", pressure_stiffness, 205, 230)                                               \
    X("rhyne-225-240", pressure_stiffness, 225, 240)                                               \
    X("rhyne-law-205-220", inflated_secant, 205, 220)                                              \
    X("rhyne-law-205-230", inflated_secant, 205, 230)                                              \
    X("rhyne-law-225-240", inflated_secant, 225, 240)                                              \
    X("leak-02", leak_start, 0.2, 0)                                                               \
    X("leak-05", leak_start, 0.5, 0)                                                               \
    X("leak-1", leak_start, 1, 0)                                                                  \
    X("leak-2", leak_start, 2, 0)                                                                  \
    X("leak-hour", leak_hour_hole, 0, 0)                                                           \
    /* heat and life: rows_heat.c */                                                               \
    X("slab-root-01", slab_root, 0.1, 0)                                                           \
    X("slab-root-1", slab_root, 1, 0)                                                              \
    X("slab-root-10", slab_root, 10, 0)                                                            \
    X("slab-first-01", slab_first, 0.1, 0)                                                         \
    X("slab-first-1", slab_first, 1, 0)                                                            \
    X("slab-first-10", slab_first, 10, 0)                                                          \
    X("wall-root-01", wall_root, 0.1, 0)                                                           \
    X("wall-root-1", wall_root, 1, 0)                                                              \
    X("wall-root-10", wall_root, 10, 0)                                                            \
    X("wall-first-01", wall_first, 0.1, 0)                                                         \
    X("wall-first-1", wall_first, 1, 0)                                                            \
    X("wall-first-10", wall_first, 10, 0)                                                          \
    X("stefan-boltzmann", constant, HB_STEFAN_BOLTZMANN * 1e8, 0)                                  \
    X("gas-constant", constant, HB_GAS, 0)                                                         \
    X("gravity", constant, HB_GRAVITY, 0)                                                          \
    X("film-linear", film_linear, 80, 0)                                                           \
    X("film-disc", film_disc, 80, 0.31)                                                            \
    X("film-power", film_outer, 80, 0)                                                             \
    X("film-middle", film_outer, 80, 0)                                                            \
    X("film-low", film_outer, 80, -1.6448536)                                                      \
    X("film-high", film_outer, 80, 1.6448536)                                                      \
    X("film-inner", table_value, HB_P_FILM_INNER, 0)                                               \
    X("emissivity", table_value, HB_P_EMISSIVITY, 0)                                               \
    X("conductivity", table_value, HB_P_WALL_CONDUCTIVITY, 0)                                      \
    X("conductivity-spread", table_spread, HB_P_WALL_CONDUCTIVITY, 0)                              \
    X("specific-heat", table_value, HB_P_WALL_HEAT, 0)                                             \
    X("density", table_value, HB_P_WALL_DENSITY, 0)                                                \
    X("wall-thickness", wall_thickness, 0, 0)                                                      \
    X("taller-wall", taller_hotter, 0, 0)                                                          \
    X("loss-sum", loss_sum, 0, 0)                                                                  \
    X("loss-mean", loss_sum, 1, 0)                                                                 \
    X("modulus", modulus_fall, 0, 0)                                                               \
    X("arrhenius-ageing", arrhenius, 80, 0)                                                        \
    X("fatigue-natural", effective_energy, 4, 0)                                                   \
    X("fatigue-synthetic", effective_energy, 1e4, 0)                                               \
    X("life-activation", table_value, HB_P_LIFE_ACTIVATION, 0)                                     \
    X("life-ratio", life_ratio, 0, 0)                                                              \
    X("wall-limit", table_value, HB_P_WALL_LIMIT, 0)

#define DECLARE_ROW(id, function, a, b) double function(double, double);
VALIDATION_ROWS(DECLARE_ROW)
#undef DECLARE_ROW

#endif
