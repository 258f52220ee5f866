/* SPDX-License-Identifier: GPL-3.0-or-later */
/* hobble.h - the public face of libhobble.
 *
 * Units: SI inside and in every name that does not say otherwise. Pressures are gauge unless
 * the name says abs. Temperatures are kelvin unless the name says _c. Functions that can fail
 * return enum hobble_status and leave their outputs untouched on failure; nothing here prints,
 * exits or keeps globals.
 */
#ifndef HOBBLE_H
#define HOBBLE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#ifdef __cplusplus
extern "C" {
#endif

/* ---- status ------------------------------------------------------------------------------ */

/* X(code, text, exit status). The one list of everything that can go wrong; the numbers follow
 * sysexits.h, as every command does. */
#define HOBBLE_STATUS_LIST(X)                                                                      \
    X(HOBBLE_OK, "no fault", 0)                                                                    \
    X(HOBBLE_E_USAGE, "the command line cannot be understood", 64)                                 \
    X(HOBBLE_E_SYNTAX, "not written as expected", 65)                                              \
    X(HOBBLE_E_RANGE, "outside the allowed range", 65)                                             \
    X(HOBBLE_E_UNIT, "wrong or missing unit", 65)                                                  \
    X(HOBBLE_E_TYPE, "wrong type of value", 65)                                                    \
    X(HOBBLE_E_UNKNOWN, "unknown key", 65)                                                         \
    X(HOBBLE_E_DUPLICATE, "given more than once", 65)                                              \
    X(HOBBLE_E_MISSING, "needed but not given", 65)                                                \
    X(HOBBLE_E_CONFLICT, "contradicts another value", 65)                                          \
    X(HOBBLE_E_UNSUPPORTED, "recognised, but outside what the model was checked on", 65)           \
    X(HOBBLE_E_TOO_LARGE, "too large", 65)                                                         \
    X(HOBBLE_E_NO_INPUT, "cannot be opened or read", 66)                                           \
    X(HOBBLE_E_MEMORY, "out of memory", 70)                                                        \
    X(HOBBLE_E_NOT_CONVERGED, "a solver did not converge", 70)                                     \
    X(HOBBLE_E_ENERGY, "the energy ledger does not close", 70)                                     \
    X(HOBBLE_E_INTERNAL, "internal fault", 70)                                                     \
    X(HOBBLE_E_WRITE, "cannot be written", 74)

enum hobble_status {
#define HOBBLE_STATUS_ENUM(code, text, exit) code,
    HOBBLE_STATUS_LIST(HOBBLE_STATUS_ENUM)
#undef HOBBLE_STATUS_ENUM
        HOBBLE_STATUS_COUNT
};

/* Text of a status; "unknown status" for a number outside the list. Never NULL. */
const char *hobble_status_text(enum hobble_status status);
/* Exit status that a program should end with: 0, 64, 65, 66, 70 or 74. */
int hobble_status_exit(enum hobble_status status);

/* ---- faults: what was wrong, and where ---------------------------------------------------- */

enum { HOBBLE_FAULTS_KEPT = 48, HOBBLE_FAULT_TEXT = 120 };

/* One fault. Empty strings and zeros mean "does not apply". */
struct hobble_fault {
    enum hobble_status status;
    int line;   /* 1-based line in file */
    int column; /* 1-based character in given */
    char file[HOBBLE_FAULT_TEXT];
    char key[HOBBLE_FAULT_TEXT];     /* what was being set */
    char given[HOBBLE_FAULT_TEXT];   /* what was found, cut to fit, control characters as '?' */
    char allowed[HOBBLE_FAULT_TEXT]; /* what would have been accepted, with its unit */
};

/* A sink that the caller owns; zero-initialise it. It keeps the first HOBBLE_FAULTS_KEPT faults
 * and counts the rest. */
struct hobble_faults {
    size_t count;
    struct hobble_fault item[HOBBLE_FAULTS_KEPT];
};

/* Adds a fault to the sink (which may be NULL) and returns fault->status. */
enum hobble_status hobble_faults_add(struct hobble_faults *sink, const struct hobble_fault *fault);

/* Copies text into a fault's field: cut to fit, control characters and broken UTF-8 as '?'.
 * NULL counts as "". */
void hobble_fault_text(char dest[HOBBLE_FAULT_TEXT], const char *text);

/* ---- what is written on the sidewall ------------------------------------------------------ */

enum hobble_flat_mark {
    HOBBLE_MARK_NONE, /* R or ZR: nothing is promised */
    HOBBLE_MARK_RF,   /* RF or ZRF: the type passed the flat-tyre running test of UN R30 */
};

/* A passenger tyre's size and service marking. */
struct hobble_marking {
    double width_mm;             /* nominal section width S, 125..355 */
    double aspect;               /* nominal aspect ratio, 25..85 (%) */
    int rim_code;                /* 13..24 (inch code) */
    int load_index;              /* 50..125 */
    char speed_symbol;           /* 'J'..'Y', or 0 when not given */
    bool z_rated;                /* ZR or ZRF: above 240 km/h */
    bool above_300;              /* service description in brackets: "(96Y)" */
    bool extra_load;             /* XL */
    bool p_metric;               /* leading P */
    enum hobble_flat_mark flat;
};

/* Reads a marking such as "205/55 R16 91V", "225/45ZRF17 94 W XL", "P215/65R15 95H",
 * "275/40 ZR20 (106Y) XL"; spaces optional. Commercial and temporary forms ("LT...", "...C",
 * "T...", "120/116") are recognised and refused with HOBBLE_E_UNSUPPORTED.
 * text: NUL-terminated, NULL is refused. out: written only on HOBBLE_OK. fault: may be NULL;
 * on failure says which character (column) and what was expected.
 * Source of the form: UN Regulation 30, section 3 (size and service description). */
enum hobble_status hobble_marking_parse(const char *text, struct hobble_marking *out,
                                        struct hobble_fault *fault);

/* Writes the marking in its usual form into buf (size bytes, always NUL-terminated). */
enum hobble_status hobble_marking_print(const struct hobble_marking *marking, char *buf,
                                        size_t size);

/* Load in kg for a load index 50..125; 0 outside. Source: ISO 4000-1 / UN R30 annex 4. */
double hobble_load_index_kg(int load_index);
/* Speed in km/h for a symbol J..Y; 0 when unknown. Source: UN R30, section 2. */
double hobble_speed_symbol_kmh(char symbol);
/* Nominal rim diameter in metres for a rim code 13..24; 0 outside. Source: UN R30 annex 5. */
double hobble_rim_diameter(int rim_code);

/* Nominal geometry in metres: section height H, overall diameter D, free radius R, rim d,
 * section width S. */
struct hobble_geometry {
    double section_width;
    double section_height;
    double rim_diameter;
    double overall_diameter;
    double free_radius;
};
struct hobble_geometry hobble_marking_geometry(const struct hobble_marking *marking);

/* ---- the one table of parameters ---------------------------------------------------------- */

/* X(id, symbol shown, SI per shown unit, SI at zero shown) */
#define HOBBLE_UNIT_LIST(X)                                                                        \
    X(NONE, "", 1.0, 0.0)                                                                          \
    X(MILLIMETRE, "mm", 1e-3, 0.0)                                                                 \
    X(KILOMETRE, "km", 1e3, 0.0)                                                                   \
    X(KM_PER_HOUR, "km/h", 1.0 / 3.6, 0.0)                                                         \
    X(NEWTON, "N", 1.0, 0.0)                                                                       \
    X(KILOGRAM, "kg", 1.0, 0.0)                                                                    \
    X(KILOPASCAL, "kPa", 1e3, 0.0)                                                                 \
    X(CELSIUS, "C", 1.0, 273.15)                                                                   \
    X(KELVIN, "K", 1.0, 0.0)                                                                       \
    X(MINUTE, "min", 60.0, 0.0)                                                                    \
    X(YEAR, "years", 31557600.0, 0.0)                                                              \
    X(STIFFNESS, "N/mm", 1e3, 0.0)                                                                 \
    X(CONDUCTIVITY, "W/mK", 1.0, 0.0)                                                              \
    X(DENSITY, "kg/m3", 1.0, 0.0)                                                                  \
    X(SPECIFIC_HEAT, "J/kgK", 1.0, 0.0)                                                            \
    X(FILM, "W/m2K", 1.0, 0.0)                                                                     \
    X(FILM_SLOPE, "Ws/m3K", 1.0, 0.0)                                                              \
    X(KJ_PER_MOL, "kJ/mol", 1e3, 0.0)

enum hobble_unit {
#define HOBBLE_UNIT_ENUM(id, symbol, factor, zero) HOBBLE_UNIT_##id,
    HOBBLE_UNIT_LIST(HOBBLE_UNIT_ENUM)
#undef HOBBLE_UNIT_ENUM
        HOBBLE_UNIT_COUNT
};

/* Symbol shown after a value; "" for pure numbers. */
const char *hobble_unit_symbol(enum hobble_unit unit);
/* Converts a shown value to SI and back. */
double hobble_unit_to_si(enum hobble_unit unit, double shown);
double hobble_unit_from_si(enum hobble_unit unit, double si);

enum hobble_kind { HOBBLE_NUMBER, HOBBLE_WORD, HOBBLE_TEXT };
enum hobble_group { HOBBLE_TYRE, HOBBLE_VEHICLE, HOBBLE_TRIP, HOBBLE_STUDY };
enum hobble_shape { HOBBLE_FIXED, HOBBLE_NORMAL, HOBBLE_LOGNORMAL };
/* When a row is drawn: with the type, before its approval test, or with the unit after it. */
enum hobble_stage { HOBBLE_NOT_DRAWN, HOBBLE_WITH_TYPE, HOBBLE_WITH_UNIT };
/* How a value is known. */
enum hobble_provenance {
    HOBBLE_PUBLISHED, /* a source is named */
    HOBBLE_PRACTICE,  /* common practice, no source */
    HOBBLE_MEMORY,    /* recalled, unconfirmed */
    HOBBLE_FITTED,    /* chosen so that checks hold, or fitted to measured runs */
    HOBBLE_ASSUMED,   /* nothing better known */
    HOBBLE_PROVENANCE_COUNT
};
const char *hobble_provenance_word(enum hobble_provenance provenance);
const char *hobble_group_word(enum hobble_group group);

/* One row: a quantity that a user can set. Numbers are in the row's unit; NAN means not given. */
struct hobble_param {
    const char *key;
    enum hobble_group group;
    enum hobble_kind kind;
    const char *symbol; /* as in docs/model.md; "-" when it has none */
    enum hobble_unit unit;
    double value, min, max;
    enum hobble_shape shape;
    enum hobble_stage stage;
    double spread; /* NORMAL: in the row's unit; LOGNORMAL: of the natural logarithm */
    enum hobble_provenance provenance;
    const char *source;
    const char *meaning;
    const char *words; /* kind WORD: allowed words with '|' between; else NULL */
};

/* The table; *count rows. Never NULL. */
const struct hobble_param *hobble_param_table(size_t *count);
/* Place of a key in the table, or -1. */
int hobble_param_find(const char *key);
/* Place of a word in a WORD row's list, or -1; and the word at a place, copied into buf (size
 * bytes; "" when there is no such place). */
int hobble_param_word(const struct hobble_param *row, const char *word);
void hobble_param_word_at(const struct hobble_param *row, int place, char *buf, size_t size);

#ifdef __cplusplus
}
#endif
#endif
