/* SPDX-License-Identifier: GPL-3.0-or-later */
/* bench.h - what becomes of a tyre on the bench: a part of hobble.h, which includes it. */
#ifndef HOBBLE_H
#include "hobble.h" /* includes this file where it belongs */
#endif
#ifndef HOBBLE_BENCH_H
#define HOBBLE_BENCH_H

/* ---- the tyre on the bench ------------------------------------------------------------------ */

/* Why a tyre is scrap: a rule fired on what is known, or what is not known counts at its worst. */
enum hobble_basis { HOBBLE_BY_RULE, HOBBLE_BY_UNKNOWN };
const char *hobble_basis_word(enum hobble_basis basis);

enum { HOBBLE_FIND_MAX = 64, HOBBLE_CHECK_MAX = 16, HOBBLE_LOOSENED_MAX = 16 };
struct hobble_condition_answer {
    enum hobble_condition verdict;
    enum hobble_basis basis;
    struct hobble_fired rule[HOBBLE_RULES_MAX]; /* worst first; never empty */
    int rule_count;
    int find_out[HOBBLE_FIND_MAX]; /* rows of the parameter table whose value would tell */
    int find_out_count;
    int matters_most; /* the row of those on which the worst rule for scrap that is open hangs; -1
                       * where the verdict is not by what is unknown */
    bool decided;     /* scrap by a rule, and nothing that is stated beside it can change that */
    const char *check[HOBBLE_CHECK_MAX]; /* what a qualified person must still do; constants */
    int check_count;
    int loosened[HOBBLE_LOOSENED_MAX]; /* rows of the group RULES that local rules loosen */
    int loosened_count;
    double age; /* s at the inspection, at its most; NAN: not known */
    struct hobble_drive drive;
};

/* Judges the tyre of a case from its rows of the groups TYRE, TRIP, BENCH and RULES; what is not
 * given counts at its worst. Runs the drive through the model when it is described. threads: as
 * hobble_range. Contradictions between rows go to sink; out is written on HOBBLE_OK only.
 * Rules and sources: docs/condition.md. */
enum hobble_status hobble_condition_judge(const hobble_case *c, int threads,
                                          struct hobble_condition_answer *out,
                                          struct hobble_faults *sink);

/* Age in years that the row date_code gives on the day of inspection_date, at its most; or the one
 * stated, where that is more. HOBBLE_E_MISSING where either of the two is not given; a code or a
 * day that cannot be, or contradicts the age stated, goes to sink. */
enum hobble_status hobble_case_age_by_code(const hobble_case *c, double *years,
                                           struct hobble_faults *sink);

/* Sentences that go with every such answer; the list ends with NULL. */
const char *const *hobble_condition_cautions(void);

/* Every rule of the table with the constructions it is for ("all", or words with '|' between), as
 * docs/condition.md lists them; NULL past the last. */
struct hobble_rule_row {
    struct hobble_fired rule;
    const char *constructions;
};
const struct hobble_rule_row *hobble_condition_rule(size_t place);
/* Whether that rule looks at a row of the parameter table, for help on a question. */
bool hobble_condition_rule_uses(size_t place, int row);

#endif
