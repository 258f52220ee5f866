/* SPDX-License-Identifier: GPL-3.0-or-later */
/* message.h - every sentence, with named places for the values in it. */
#ifndef HB_REPORT_DESCRIBE_MESSAGE_H
#define HB_REPORT_DESCRIBE_MESSAGE_H

#include "report/describe/row.h"

#ifndef HB_WORDS /* configure --with-words */
#define HB_WORDS "report/describe/english.inc"
#endif

/* HB_WORDS holds the sentences. "{share_of_tyres}" stands for that row's value as a person reads
 * it, "{inputs.load_n}" for one inside an object, "{share_of_tyres:8}" for one put to the right of
 * 8 columns, "{name:-20}" to their left, "{share_low:bare}" for the number without its unit. */
enum hb_message {
    HB_SAY_NOTHING,
#define HB_SENTENCE(id, text)    HB_SAY_##id,
#define HB_SHARED(id, key, text) HB_SAY_##id,
#define HB_PAGE_WORD(key, text)
#include HB_WORDS
#undef HB_SENTENCE
#undef HB_SHARED
#undef HB_PAGE_WORD
    HB_MESSAGES
};

/* A column of a table: its title, said in the list's scope, and its cells, each said in an item's.
 */
struct hb_column {
    enum hb_message title, cell;
    bool right; /* aligned */
};

/* The sentence as it stands in the table. */
const char *hb_message_text(enum hb_message id);
/* The sentence with its places filled out of the scope's rows; cut where buf ends. */
void hb_say(enum hb_message id, const struct hb_scope *scope, char *buf, size_t size);
/* Same into value, for a row that is a sentence. */
void hb_value_say(struct hb_value *value, enum hb_message id, const struct hb_scope *scope);

/* What the library says of a reason to stop and of a rule that fired: in its own words, unless
 * HB_WORDS has a page's word "stop.WORD" or "rule.ID". */
const char *hb_stop_spoken(enum hobble_stop reason);
const char *hb_rule_spoken(const struct hobble_fired *rule);

#endif
