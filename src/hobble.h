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
    char meant[HOBBLE_FAULT_TEXT];   /* the name that is nearest to what was given */
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

enum { HOBBLE_MARKING_TEXT = 101 }; /* bytes of a marking, with its end */

/* A passenger tyre's size and service marking. */
struct hobble_marking {
    double width_mm;   /* nominal section width S, 125..355 */
    double aspect;     /* nominal aspect ratio, 25..85 (%) */
    int rim_code;      /* 13..24 (inch code) */
    int load_index;    /* 50..125 */
    char speed_symbol; /* 'J'..'Y', or 0 when not given */
    bool z_rated;      /* ZR or ZRF: above 240 km/h */
    bool above_300;    /* service description in brackets: "(96Y)" */
    bool extra_load;   /* XL */
    bool p_metric;     /* leading P */
    enum hobble_flat_mark flat;
    char skipped[HOBBLE_MARKING_TEXT]; /* what stood behind it and was not used; "" for nothing */
    bool unknown_words;                /* some of that is in no open list, as makers' letters are */
};

/* Reads a marking such as "205/55 R16 91V", "225/45ZRF17 94 W XL", "P215/65R15 95H",
 * "275/40 ZR20 (106Y) XL"; spaces optional. Words of the sidewall behind it (M+S, DOT, E4, letters
 * of makers) are skipped and noted, and never make it a run-flat one. Commercial and temporary
 * forms ("LT...", "...C", "T...", "120/116", "10PR") are refused with HOBBLE_E_UNSUPPORTED.
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
    X(KJ_PER_MOL, "kJ/mol", 1e3, 0.0)                                                              \
    X(DEGREE, "deg", 3.14159265358979323846 / 180.0, 0.0)                                          \
    X(WHOLE, "", 1.0, 0.0) /* a count */

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
/* BENCH: what is seen and known of one tyre on the bench; RULES: limits of local repair codes. */
enum hobble_group {
    HOBBLE_TYRE,
    HOBBLE_VEHICLE,
    HOBBLE_TRIP,
    HOBBLE_BENCH,
    HOBBLE_RULES,
    HOBBLE_STUDY,
    HOBBLE_GROUP_COUNT
};
enum hobble_shape { HOBBLE_FIXED, HOBBLE_NORMAL, HOBBLE_LOGNORMAL, HOBBLE_UNIFORM };
/* When a row is drawn: with the type, before its approval test, or with the unit after it. */
enum hobble_stage { HOBBLE_NOT_DRAWN, HOBBLE_WITH_TYPE, HOBBLE_WITH_UNIT };
/* How a value is known. */
enum hobble_provenance {
    HOBBLE_PUBLISHED, /* a source is named */
    HOBBLE_MEASURED,  /* on the tyre or the vehicle itself; the source says how */
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
    double spread; /* NORMAL: in the row's unit; LOGNORMAL: of the natural logarithm; UNIFORM: half
                    the width, in the row's unit */
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

/* ---- a case: every setting of one question ------------------------------------------------- */

/* Opaque; owned by the caller, freed with hobble_case_free. Rows are places in the parameter
 * table (hobble_param_find). Origins say where a value came from ("--load", "file:line"). */
typedef struct hobble_case hobble_case;

/* A case on the table's built-in values; NULL without memory. free takes NULL. */
hobble_case *hobble_case_new(void);
void hobble_case_free(hobble_case *c);
/* A second case with the same settings and legs, owned by the caller; NULL without memory or for
 * NULL. assign makes to the same as from (either may be NULL: nothing is done). With both, a file
 * is tried on a copy and taken over only when all of it is good. */
hobble_case *hobble_case_clone(const hobble_case *c);
void hobble_case_assign(hobble_case *to, const hobble_case *from);

/* Sets a number (in the row's unit), a word or a text. Checks kind and range; a fault goes to
 * sink (may be NULL) with its range and unit, and the case stays as it was. */
enum hobble_status hobble_case_set_number(hobble_case *c, int row, double value, const char *origin,
                                          struct hobble_faults *sink);
enum hobble_status hobble_case_set_word(hobble_case *c, int row, const char *word,
                                        const char *origin, struct hobble_faults *sink);
/* At most 119 bytes of valid UTF-8 without control characters. The row "marking" must parse. */
enum hobble_status hobble_case_set_text(hobble_case *c, int row, const char *text,
                                        const char *origin, struct hobble_faults *sink);
/* Takes a row back to what is built in, as one that was not given; an unknown row is left out. */
void hobble_case_forget(hobble_case *c, int row);
/* Spread of a drawn row (0..2 for a lognormal one, 0..(max - min) else); other rows refuse. */
enum hobble_status hobble_case_set_spread(hobble_case *c, int row, double spread,
                                          const char *origin, struct hobble_faults *sink);
/* How the value is known, and by which source (may be ""). */
enum hobble_status hobble_case_set_provenance(hobble_case *c, int row,
                                              enum hobble_provenance provenance,
                                              const char *source);

/* Fills in, in a case that a question can be made of, what is used in place of what was not given:
 * size, construction, load, stiffness and the like of the middle tyre. For showing, not for asking
 * again. Rows that stay without a value are not used. Faults of the question go to sink. */
enum hobble_status hobble_case_fill_in(hobble_case *c, struct hobble_faults *sink);

/* What is set. number: NAN when not given. text: "" when not given; words as text too. */
double hobble_case_number(const hobble_case *c, int row);
double hobble_case_spread(const hobble_case *c, int row);
const char *hobble_case_text(const hobble_case *c, int row);
const char *hobble_case_origin(const hobble_case *c, int row);
const char *hobble_case_source(const hobble_case *c, int row);
enum hobble_provenance hobble_case_provenance(const hobble_case *c, int row);
bool hobble_case_given(const hobble_case *c, int row);

/* One leg of what was driven before now. Values in SI; NAN: as the case says (load, ambient) or
 * as it was (pressure). Give distance or time, the other is NAN; speed 0 with a time is a stop.
 * leak: time constant in s, NAN for none. */
struct hobble_leg {
    double speed, distance, time, load, ambient, pressure, leak;
};
enum { HOBBLE_LEGS_MAX = 32 };
/* How many legs there are. */
size_t hobble_case_leg_count(const hobble_case *c);
/* Appends a leg; the list then replaces the rows run, run_speed and rest. */
enum hobble_status hobble_case_add_leg(hobble_case *c, const struct hobble_leg *leg,
                                       struct hobble_faults *sink);

/* Sets any row by its key and a text as a profile or an option has it: "load" "415 kg", a word, a
 * text. origin: kept in the case; may be NULL. Faults as the setters above. */
enum hobble_status hobble_case_set(hobble_case *c, const char *key, const char *value,
                                   const char *origin, struct hobble_faults *sink);

/* Reads a profile, a file that `hobble profile new` begins, and adds what it sets to c. kind:
 * HOBBLE_TYRE, HOBBLE_VEHICLE, HOBBLE_BENCH or HOBBLE_RULES, which the file must then be of, or
 * HOBBLE_ANY_KIND. A file with any fault changes nothing; all that can be told at once goes to sink
 * (may be NULL) with line, key, what was given and what is allowed. A second profile of a kind
 * leaves what the first set and the second does not: begin with a new case to change tyres. Only
 * path is opened, and tables of readings beside or below it that its evidence names. */
enum { HOBBLE_ANY_KIND = -1 };
enum hobble_status hobble_profile_read(const char *path, int kind, hobble_case *c,
                                       struct hobble_faults *sink);

/* ---- the driver's question ----------------------------------------------------------------- */

/* GO_THEN_STOP: the place asked for lies beyond the advice. No answer at all is a status, not a
 * verdict. */
enum hobble_verdict { HOBBLE_STOP, HOBBLE_GO, HOBBLE_GO_THEN_STOP };
/* "stop", "go", "go_then_stop". */
const char *hobble_verdict_word(enum hobble_verdict verdict);

/* What holds the advised distance down. */
enum hobble_limit {
    HOBBLE_LIMIT_RANGE,        /* the range that 95 % of the tyres reach */
    HOBBLE_LIMIT_RULE,         /* 80 km less what was driven */
    HOBBLE_LIMIT_MAKER,        /* the maker's figure less that */
    HOBBLE_LIMIT_STOP,         /* a reason to stop */
    HOBBLE_LIMIT_CONSTRUCTION, /* what is taken for extended mobility without a maker's figure */
    HOBBLE_LIMIT_FLEET,        /* the fleet's own rule less that */
    HOBBLE_LIMIT_COUNT
};
/* "range", "rule", "maker", "stop", "construction", "fleet". */
const char *hobble_limit_word(enum hobble_limit limit);

/* X(code, word, sentence, remedy): reasons to stop, docs/model.md "From range to advice"; the
 * remedy names the key that would change it, or says that nothing would. */
#define HOBBLE_STOP_LIST(X)                                                                        \
    X(CONSTRUCTION, "construction", "The tyre is not stated to carry a vehicle without air.",      \
      "construction, if sidewall or papers say self-supporting or extended mobility.")             \
    X(RIM, "rim_contact", "The rim would carry the load from the start.",                          \
      "load: less on this wheel.")                                                                 \
    X(NEAR_RIM, "near_rim_contact", "A pothole or a kerb would bring the rim down on the tyre.",   \
      "load: less on this wheel.")                                                                 \
    X(OVERLOAD, "overload", "The wheel carries more than the tyre's load index.",                  \
      "load: less on this wheel.")                                                                 \
    X(AXLE, "axle_overload", "An axle carries more than its maker or these tyres permit.",         \
      "people, luggage: fewer, less.")                                                             \
    X(SHORT, "too_short", "Less than 5 km is left.",                                               \
      "speed, load: slower or lighter, only where it is offered.")                                 \
    X(OUTSIDE, "outside_checked_range",                                                            \
      "The question lies outside what the model was checked on.",                                  \
      "the keys that are named, if they were stated wrongly.")                                     \
    X(SECOND_FLAT, "second_flat", "More than one tyre is flat.", "flat_tyres, if only one is.")    \
    X(TRAILER, "trailer", "A trailer is towed, and the maker is not stated to allow it.",          \
      "trailer: uncouple it; maker_trailer, if the papers allow it.")                              \
    X(CONTRADICTION, "contradiction", "The profile contradicts the approval mark of the tyre.",    \
      "the values of the profile, if they were set wrongly.")                                      \
    X(USED_UP, "used_up", "The distance that the rule or the maker allows is used up.",            \
      "nothing.")                                                                                  \
    X(PAST, "past", "The tyre ran flat before: it is scrap already.",                              \
      "ran_flat, if it was stated wrongly.")                                                       \
    X(MAKER, "maker",                                                                              \
      "The maker, the fleet's own rule, or what is assumed without them, allows less.",            \
      "nothing.")                                                                                  \
    X(CONDEMNED, "condemned", "The tyre was scrap before this drive.",                             \
      "nothing, unless that was stated wrongly.")                                                  \
    X(EVIDENCE, "evidence", "What is stated of runs or makers' figures contradicts the rest.",     \
      "evidence: the item that is named, if it was stated wrongly.")

enum hobble_stop {
#define HOBBLE_STOP_ENUM(code, word, sentence, remedy) HOBBLE_STOP_##code,
    HOBBLE_STOP_LIST(HOBBLE_STOP_ENUM)
#undef HOBBLE_STOP_ENUM
        HOBBLE_STOP_COUNT
};
const char *hobble_stop_word(enum hobble_stop reason);
const char *hobble_stop_sentence(enum hobble_stop reason);
const char *hobble_stop_remedy(enum hobble_stop reason);

/* What ended a tyre's range. */
enum hobble_end {
    HOBBLE_END_NONE,
    HOBBLE_END_HORIZON,
    HOBBLE_END_LIFE,
    HOBBLE_END_HEAT,
    HOBBLE_END_RIM,
    HOBBLE_END_SHOULDER,
    HOBBLE_END_COUNT
};
const char *hobble_end_word(enum hobble_end end);

/* Quantiles of the remaining distance, m. censored: the horizon cut it, so it is "more than". */
struct hobble_band {
    double p5, p50, p95;
    bool censored5, censored50, censored95;
};

/* What would buy more distance. */
enum { HOBBLE_MORE_MAX = 4 };
struct hobble_more {
    bool slower;     /* else lighter */
    double speed;    /* m/s, of the alternative */
    double load;     /* N, of the alternative */
    double distance; /* m, advised there */
};

/* What becomes of the tyre: two verdicts only, the second one worse. Neither clears a tyre. */
enum hobble_condition { HOBBLE_DISMOUNT_AND_INSPECT, HOBBLE_SCRAP };
const char *hobble_condition_word(enum hobble_condition condition);

/* A rule that fired. The texts are constants. */
enum { HOBBLE_RULES_MAX = 64 };
struct hobble_fired {
    const char *id, *reason, *source;
    enum hobble_condition verdict;
    enum hobble_provenance provenance;
};

/* What the model says of the drive at low pressure: over all sampled tyres, without the approval's
 * evidence. */
struct hobble_drive {
    bool run;                  /* it was run; else why_not says why, and the rest is 0 */
    const char *why_not;       /* a constant */
    double pressure;           /* Pa, gauge, held over the whole distance */
    double speed, distance;    /* m/s, m */
    double load, ambient;      /* N, K */
    double peak_p50, peak_p95; /* K, hottest place of the wall */
    double above_80, above_100, above_120; /* s above so many degC, 95th of 100 */
    double life_p50, life_p95;             /* 0..1 */
    double deflection_p95; /* deepest deflection over that at which the rim carries, 1 */
    double rim_share;      /* of tyres on which the rim carried load */
};

/* So many tyres must stand behind a low quantile: twenty below the fifth of a hundred (common
 * practice, no source). With fewer an answer says so, and no paper is written from it. */
enum { HOBBLE_TYRES_ENOUGH = 400 };
bool hobble_too_few(int counted);

enum { HOBBLE_OUTSIDE_MAX = 8, HOBBLE_ASSUMED_MAX = 4 };
struct hobble_answer {
    /* the answer */
    enum hobble_verdict verdict;
    bool stop[HOBBLE_STOP_COUNT]; /* reasons that hold */
    double advised_speed;         /* m/s */
    double advised_distance;      /* m, 0 on STOP */
    double advised_time;          /* s */
    enum hobble_limit limited_by;
    struct hobble_more more[HOBBLE_MORE_MAX];
    int more_count;
    double cap;                      /* m allowed in all, before anything was driven */
    enum hobble_limit cap_by;        /* whose it is */
    struct hobble_fired condemned;   /* with HOBBLE_STOP_CONDEMNED: the first rule that says so */
    int assumed[HOBBLE_ASSUMED_MAX]; /* rows not stated and taken at a usual, not at their worst
                                        value */
    int assumed_count;
    const char *construction; /* word of the construction that was used */
    bool built_by_word; /* self-supporting by what is stated alone, without RF in the marking */
    bool example;       /* on built-in values: not the asker's tyre */
    bool example_load;  /* nothing about the load was given */
    bool wheel_assumed; /* not stated: the wheel of the heavier axle was taken */
    /* as used */
    struct hobble_marking marking;
    double load, load_share;         /* N on the wheel; over the index */
    double speed, ambient, pressure; /* asked: m/s, K, Pa */
    double pressure_now;             /* Pa, by the history */
    bool taken_as_empty;             /* there is more than 70 kPa, but nothing says that it stays */
    double run_seen, run_unseen;     /* m driven at low pressure after and before the warning */
    bool unseen_assumed;             /* how long before the warning is not stated */
    bool stops_left_out; /* advice counts as if stops and slow driving had not cooled the tyre */
    /* range from now */
    struct hobble_band range;         /* at the asked speed and pressure */
    struct hobble_band unconditioned; /* same without the evidence of the profile */
    struct hobble_band advised;       /* at the advised speed and 0 kPa below 70; as advice uses */
    /* evidence of the profile */
    int evidence_items;        /* taken in; 0: none */
    int evidence_steps;        /* of tempering; 0: weights alone */
    double evidence_effective; /* members that the sample is worth */
    int evidence_against;      /* place of the item that contradicts; -1: none */
    bool conditioned;          /* each type is tied to its approval test */
    bool all_stated;           /* age, earlier flat running and repairs are */
    double if_vouched;         /* m: advised distance if what is not stated were good */
    bool rim_at_start;         /* no range: the rim carries from the start */
    /* arrival, when asked */
    double to, chance_of_failing, sampling_error; /* m (NAN: not asked), 1, 1 (one sigma) */
    /* the rule at these conditions */
    double rule_speed, rule_distance, share_of_tyres, required_share;
    bool rule_holds;
    /* temperatures K, life used 0..1 */
    double now_p50, peak_p50, peak_p95, limit;
    double life_now_p50, life_at_advised_p50;
    struct hobble_drive
        drive; /* all of it, with the advised way: what the verdict below rests on */
    double share_ended[HOBBLE_END_COUNT]; /* of approved tyres, by what ended them */
    /* approval */
    int tested, passed;
    int counted;                      /* tyres that the advice rests on; see hobble_too_few */
    double rim_share, near_rim_share; /* of tyres at the start */
    /* quality */
    double energy_closure;    /* largest miss of the ledger over heat made, 1 */
    double solver_difference; /* fast solver against reference, middle tyre, 1; NAN: not run */
    const char *outside[HOBBLE_OUTSIDE_MAX]; /* keys outside the checked range */
    int outside_count;
    /* what becomes of the tyre; rules worst first */
    enum hobble_condition condition;
    struct hobble_fired rule[HOBBLE_RULES_MAX];
    int rule_count;
};

/* Answers the driver's question. threads: 0 takes all; the answer is the same for any number.
 * out is written on HOBBLE_OK only; faults of the question go to sink. */
enum hobble_status hobble_range(const hobble_case *c, int threads, struct hobble_answer *out,
                                struct hobble_faults *sink);

/* A drive along the advised way for pictures: at each distance from now, quantiles over the
 * tyres that the advice rests on, of the hottest wall temperature (K) and the life used. */
struct hobble_trace_point {
    double distance; /* m from now */
    double time;     /* s from now, middle tyre */
    double wall5, wall50, wall95;
    double life5, life50, life95;
    double alive; /* share of tyres not yet ended */
};
enum { HOBBLE_TRACE_POINTS = 61 };
enum hobble_status hobble_trace(const hobble_case *c, int threads, double distance,
                                struct hobble_trace_point point[HOBBLE_TRACE_POINTS],
                                struct hobble_faults *sink);

/* Version of the library, "0.1.0". */
const char *hobble_version(void);

/* Each may use what stands above it; the empty lines keep them in this order. */
#include "hobble/evidence.h"

#include "hobble/log.h"

#include "hobble/bench.h"

#include "hobble/studies.h"

#include "hobble/policy.h"

#include "hobble/replay.h"

#ifdef __cplusplus
}
#endif
#endif
