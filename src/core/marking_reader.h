/* SPDX-License-Identifier: GPL-3.0-or-later */
/* marking_reader.h - what the two readers of a marking share: of the size and service description,
 * and of the rest that stands behind them. */
#ifndef HB_CORE_MARKING_READER_H
#define HB_CORE_MARKING_READER_H

#include "hobble.h"

enum {
    HB_MARKING_MAX = HOBBLE_MARKING_TEXT - 1, /* bytes of a whole marking */
    HB_WORD_MAX = 12
};

/* What is refused says what to do, since somebody may stand beside the tyre. */
#define HB_NO_HELP  "not covered; if it is flat: stop, change the wheel or call help"
#define COMMERCIAL  "commercial tyre: " HB_NO_HELP "; passenger sizes: 205/55 R16 91V"
#define TWO_INDICES "commercial tyre (two load indices): " HB_NO_HELP
#define TRAILER     "trailer tyre: " HB_NO_HELP "; passenger sizes: 205/55 R16 91V"
#define TEMPORARY   "temporary-use spare: " HB_NO_HELP "; passenger sizes: 205/55 R16 91V"
#define HIGH_LOAD   "high-load tyre: " HB_NO_HELP "; passenger sizes: 205/55 R16 91V"

/* What a word of letters means at one place of the form. status HOBBLE_OK: accepted. */
struct hb_word_rule {
    const char *word;
    enum hobble_status status;
    const char *reason;
};

struct hb_marking_reader {
    const char *text;
    size_t at;
    struct hobble_fault *fault; /* may be NULL */
};

bool hb_is_digit(char c);
bool hb_is_letter(char c); /* A to Z */
char hb_upper(char c);
/* The character at the reader in upper case; the same after spaces, which are passed. */
char hb_peek(const struct hb_marking_reader *in);
char hb_peek_part(struct hb_marking_reader *in);
/* Whether a space stands before the reader. */
bool hb_is_apart(const struct hb_marking_reader *in);
/* Copies the run of letters at the reader into word, upper case and cut to fit; does not move. */
size_t hb_look_word(const struct hb_marking_reader *in, char word[HB_WORD_MAX]);
/* The rule for a word, or the last one of the table (word NULL), which is the refusal. */
const struct hb_word_rule *hb_find_rule(const struct hb_word_rule *rule, const char *word);
enum hobble_status hb_marking_refuse(const struct hb_marking_reader *in, size_t at,
                                     enum hobble_status status, const char *key,
                                     const char *allowed);

#endif
