/* SPDX-License-Identifier: GPL-3.0-or-later */
/* row.h - what an answer says, described once.
 *
 * A command's answer is a table of rows (COMMAND_rows.c). A row says where a value stands in the
 * answer's struct, what it is called in JSON, in which unit, how it is rounded where a person reads
 * it, when it is absent, on which forms it stands, and what it means. JSON, its schema, CSV, the
 * reference of all output keys and the numbers in sentences are made of the rows by renderers that
 * know no command. */
#ifndef HB_REPORT_DESCRIBE_ROW_H
#define HB_REPORT_DESCRIBE_ROW_H

#include "report/describe/figure.h"

#include "hobble.h"

#include <stddef.h>

/* Where rows find their values: the struct that their offsets are of, and the list's scope where
 * that is an item. An object is no scope of its own. */
struct hb_scope {
    const struct hb_scope *up; /* NULL at the top */
    const struct hb_row *rows; /* in which a sentence finds names */
    const struct hb_answer *answer;
    const hobble_case *c;
    const void *of;
    const void *whole; /* the answer's own struct, wherever in it this is */
    size_t place;      /* in a list */
    bool us;
};

enum { HB_VALUE_TEXT = 1000 };

enum hb_is { HB_IS_NULL, HB_IS_NUMBER, HB_IS_COUNT, HB_IS_TRUTH, HB_IS_TEXT };

/* A value: a number in SI units, or text, which may stand in room. */
struct hb_value {
    enum hb_is is;
    double number;
    const char *text;
    char room[HB_VALUE_TEXT];
};

enum hb_kind {
    HB_REAL,   /* null where it is not finite */
    HB_COUNT,  /* int */
    HB_TRUTH,  /* bool */
    HB_WORD,   /* an enumeration, said by its word */
    HB_TEXT,   /* const char *; null where it is NULL */
    HB_ANY,    /* a number, a text or null, by get */
    HB_OBJECT, /* rows of the same struct, or of a struct in it */
    HB_LIST,  /* as many as there are, each an object, or one value where the only row has no key */
    HB_NAMED, /* an object whose keys are the items' words */
    HB_TUPLE, /* a list of the rows' values, each of its own kind; keys are for sentences alone */
};

/* Where a row stands, besides JSON. */
enum hb_form {
    HB_ON_FIRST = 1, /* the first screen */
    HB_ON_FULL = 2,  /* the whole text */
    HB_ON_CSV = 4,   /* a column */
    HB_ON_PAPER = 8, /* sheet or card */
    HB_ON_PICTURE = 16,
    HB_NOT_JSON = 32,  /* only said, under this name in a sentence */
    HB_NULLED = 64,    /* null, and not left out, where it is absent */
    HB_NULLABLE = 128, /* a number that may be null */
    HB_ALWAYS = 256,   /* a truth that is never but what .least says: 1 or 0 */
};

/* Rows of one key that stand one behind the other are alternatives, of which one is always there:
 * what was run, or why it was not. */
struct hb_row {
    const char *key; /* of JSON, with the unit; the last row of a table has none, nor has an item */
    enum hb_kind kind;
    enum hobble_unit unit; /* of JSON and CSV; of a figure before US units are taken */
    size_t at;             /* offset in the scope's struct */
    /* in place of at, for what is derived: sets value, which is null before */
    void (*get)(const struct hb_scope *scope, struct hb_value *value);
    bool (*when)(const struct hb_scope *scope); /* absent where false; NULL: always there */
    const struct hb_row *of;                    /* of an object, or of the items of a list */
    size_t (*count)(const struct hb_scope *scope);
    /* of an item: its struct; NULL: items are of the list's own */
    const void *(*item)(const struct hb_scope *list, size_t place);
    const char *(*word)(int place); /* HB_WORD, HB_NAMED: "" or NULL behind the last */
    double least,
        most; /* that can be; of a list, how many, of a text, how long; both 0: no limit */
    enum hb_shown shown; /* how a person reads it: rounded to the safe side */
    unsigned forms;      /* of enum hb_form */
    const char *column;  /* name in CSV, without its unit */
    void (*name)(const struct hb_scope *list, struct hb_value *value); /* in place of column */
    const char *meaning;
};

/* A place in a struct, checked to be of a type. */
#define HB_AT(type, field, wanted)                                                                 \
    (offsetof(type, field) + 0 * sizeof(char[_Generic(((type *)0)->field, wanted : 1, default      \
                                                      : -1)]))
#define HB_REAL_AT(type, field, id)                                                                \
    .kind = HB_REAL, .unit = HOBBLE_UNIT_##id, .at = HB_AT(type, field, double)
#define HB_COUNT_AT(type, field)       .kind = HB_COUNT, .at = HB_AT(type, field, int)
#define HB_TRUTH_AT(type, field)       .kind = HB_TRUTH, .at = HB_AT(type, field, bool)
#define HB_TEXT_AT(type, field)        .kind = HB_TEXT, .at = HB_AT(type, field, const char *)
#define HB_WORD_AT(type, field, words) .kind = HB_WORD, .at = offsetof(type, field), .word = (words)
/* A function of a row in one line: what its value is, when it is there, which struct an item or
 * object is of, how many items there are. s is the scope, place an item's. */
#define HB_GET(name, kind, ...)                                                                    \
    static void name(const struct hb_scope *s, struct hb_value *v)                                 \
    {                                                                                              \
        (void)s;                                                                                   \
        hb_value_##kind(v, __VA_ARGS__);                                                           \
    }
#define HB_WHEN(name, ...)                                                                         \
    static bool name(const struct hb_scope *s)                                                     \
    {                                                                                              \
        (void)s;                                                                                   \
        return __VA_ARGS__;                                                                        \
    }
#define HB_ITEM(name, ...)                                                                         \
    static const void *name(const struct hb_scope *s, size_t place)                                \
    {                                                                                              \
        (void)s, (void)place;                                                                      \
        return __VA_ARGS__;                                                                        \
    }
#define HB_HOW_MANY(name, ...)                                                                     \
    static size_t name(const struct hb_scope *s)                                                   \
    {                                                                                              \
        (void)s;                                                                                   \
        return __VA_ARGS__;                                                                        \
    }
#define HB_COUNT_ROWS(rows) (sizeof(rows) / sizeof *(rows))

/* The value of a row; null where the row is absent. */
void hb_row_value(const struct hb_row *row, const struct hb_scope *scope, struct hb_value *value);
bool hb_row_is_there(const struct hb_row *row, const struct hb_scope *scope);
/* The scope of what is in an object or list: place of an item, 0 for an object. */
struct hb_scope hb_row_inside(const struct hb_row *row, const struct hb_scope *scope, size_t place);

/* A command's answer. */
struct hb_answer {
    const char *command; /* "rule" */
    const char *which;   /* "wall" where a command has several answers; else NULL */
    const char *about;   /* what there is to know of all of it */
    bool of_case;        /* begins with what it was asked of; can end with notes and all values */
    bool unexplained;    /* there is no --explain: never ends with all values */
    bool noted;          /* can end with notes, whatever it begins with */
    const struct hb_row *row; /* ends with a row without key */
    const struct hb_row *end; /* notes of its own that it can end with, in place of hb_note_rows */
};
/* What every answer begins with; what those of a case begin with. */
extern const struct hb_row hb_begin_rows[], hb_case_rows[];
/* What they can end with: what the asker may not know that it rests on, and with --explain every
 * value used. No struct is read: the scope's case is enough. */
extern const struct hb_row hb_note_rows[], hb_explain_rows[];
/* Keys that were changed by hand, as a list. */
extern const struct hb_row hb_changed_row[];
size_t hb_count_changed(const struct hb_scope *scope);
/* A row of the parameter table with its value in a case; the scope's struct is that row. */
extern const struct hb_row hb_value_rows[];

/* For the first row of an answer that is one of several: its .which. */
void hb_get_which(const struct hb_scope *scope, struct hb_value *value);

/* The scope of an answer's rows. */
struct hb_scope hb_answer_scope(const struct hb_answer *answer, const hobble_case *c,
                                const void *of, bool us);

/* Setting a value from a get function. */
void hb_value_number(struct hb_value *value, double si);
void hb_value_count(struct hb_value *value, long count);
void hb_value_truth(struct hb_value *value, bool truth);
void hb_value_text(struct hb_value *value, const char *text);

/* A number as a person reads it, in the units that the scope asks for; text as it is. */
void hb_row_figure(const struct hb_row *row, const struct hb_scope *scope, char *buf, size_t size);
/* The row that a dotted path names, "inputs.load_n", here, in what this is a part of or in what
 * every answer begins with, and the scope that it is to be read in; NULL where there is none. An
 * item without a key is "item". */
const struct hb_row *hb_row_find(const char *path, size_t length, const struct hb_scope *scope,
                                 struct hb_scope *found);

#endif
