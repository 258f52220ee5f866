/* SPDX-License-Identifier: GPL-3.0-or-later */
/* condition.h - hobble condition: its questions, and the file that a case is kept in. */
#ifndef HB_CLI_CONDITION_H
#define HB_CLI_CONDITION_H

#include "hobble.h"

#include <stdio.h>

enum { HB_KEPT_PATH = 160 };

/* A dialogue under way. Zero-initialise, fill in the first six; hb_asking_end frees the rest. */
struct hb_asking {
    FILE *in, *out;
    hobble_case *c;
    int threads;
    const char *today;         /* counts as the day of the inspection where none is given */
    const char *path;          /* where the case is kept; NULL: hb_kept_choose finds a place */
    char chosen[HB_KEPT_PATH]; /* that place */
    bool left;                 /* quit, or at the end of the input */
    struct hobble_condition_answer answer; /* to what is known now */
    char *line;
    size_t size;
};
void hb_asking_end(struct hb_asking *a);

/* Asks what the case is called (unless the row "job" says so), and finds its file, made of safe
 * characters of the name, in the current folder. Cases that are there are named, dated and offered:
 * one is gone on with, or a new one begun beside them; none is taken or replaced unasked. What the
 * case had before counts over what is in the file. Sets path, or left. */
enum hobble_status hb_kept_choose(struct hb_asking *a, struct hobble_faults *sink);
/* The part of a file's name that a job gives: letters and figures, '-' for runs of others, two
 * figures for a byte that is not ASCII. "" when there is neither letter nor figure in it. */
void hb_kept_part(const char *job, char *part, size_t size);
/* Names and dates the case at a path that was asked for by its name. */
void hb_kept_tell(FILE *out, const char *path, const hobble_case *c);
/* Writes the case to its path, whole or not at all; never in the place of what is no plain file. */
enum hobble_status hb_kept_write(const struct hb_asking *a);

/* Asks what the case does not know yet, one question at a time; after every answer it is kept. Ends
 * when nothing more is to be asked or can change the verdict. Contradictions of what the case had
 * before go to sink. */
enum hobble_status hb_condition_ask(struct hb_asking *a, struct hobble_faults *sink);

/* One line without its end, blanks cut; NULL at the end of the input and for "quit", which set
 * left. Lines with control bytes are refused with a message until one without comes. */
char *hb_asking_line(struct hb_asking *a);

/* ---- choices ---- */

enum { HB_NO_CHOICE = -1, HB_MANY_CHOICES = -2 };
/* Place in a list of words with '|' between that a number, a word or its beginning means. Numbers
 * begin with 1; where the first word is "unknown", that is 0, and "don't know" means it too. Upper
 * case and '_' do not matter. */
int hb_choice_read(const char *words, const char *text);
/* Whether a text says that it is not known: "don't know", "unknown". */
bool hb_choice_unknown(const char *text);
/* The list with its numbers. */
void hb_choice_print(FILE *out, const char *words);
/* Says why a text was no choice. */
void hb_choice_refuse(FILE *out, const char *words, const char *text, int why);

#endif
