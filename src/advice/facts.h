/* SPDX-License-Identifier: GPL-3.0-or-later */
/* facts.h - what is known of a tyre on the bench, as one number a fact. */
#ifndef HB_ADVICE_FACTS_H
#define HB_ADVICE_FACTS_H

#include "advice/history.h"
#include "core/param.h"

enum hb_fact {
#define SEEN(id)      HB_F_##id,
#define INSIDE(id)    HB_F_##id,
#define LIMIT(id)     HB_F_##id,
#define MADE(id, ...) HB_F_##id,
#include "advice/condition_facts.inc"
#undef SEEN
#undef INSIDE
#undef LIMIT
#undef MADE
    HB_FACT_COUNT
};

/* Places of the words in the rows' lists, where a rule needs one. */
enum { HB_ZONE_NONE = 1, HB_ZONE_TREAD, HB_ZONE_SHOULDER, HB_ZONE_SIDEWALL, HB_ZONE_BEAD };
enum { HB_QUALITY_GOOD = 1, HB_QUALITY_BAD };
enum { HB_MAKER_REFUSED = 1, HB_MAKER_NONE, HB_MAKER_IN_WRITING };

struct hb_facts {
    double value[HB_FACT_COUNT]; /* in the rows' units; NAN: not known */
    const struct hb_settings *settings;
    const struct hb_history *past; /* NULL: the bench's rows alone */
};

/* Makes the facts of settings and of what is known of the history (may be NULL); both must outlive
 * them. Model facts are 0: the model was not run. */
void hb_facts_make(const struct hb_settings *settings, const struct hb_history *past,
                   struct hb_facts *facts);

/* Rows that would tell a fact that is not known: calls note for each. */
void hb_facts_missing(const struct hb_facts *facts, enum hb_fact fact,
                      void (*note)(void *into, enum hb_param_id row), void *into);

/* Whether a row is one of those that tell a fact. */
bool hb_facts_told_by(enum hb_fact fact, int row);

/* What is stated of the tyre's age, by code or by row, in years: the most of it; NAN: nothing. */
double hb_years_at_most(const struct hb_settings *settings);
/* Whether it is stated, in either way, that it was repaired before. */
bool hb_was_repaired(const struct hb_settings *settings);

/* Contradictions between rows, and texts that are no dates. Returns the first; all go to sink. */
enum hobble_status hb_dates_check(const struct hb_settings *settings, struct hobble_faults *sink);
enum hobble_status hb_stated_check(const struct hb_settings *settings, struct hobble_faults *sink);
enum hobble_status hb_facts_check(const struct hb_settings *settings, struct hobble_faults *sink);

#endif
