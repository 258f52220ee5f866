/* SPDX-License-Identifier: GPL-3.0-or-later */
/* relation.h - questions as a person would type them, pairs of them, and the order in which their
 * answers must stand. */
#ifndef HB_TEST_RELATION_H
#define HB_TEST_RELATION_H

#include "hobble.h"
#include "random_case.h"

enum { ITEMS_MOST = 24, ITEM_SIZE = 120 };

/* "key=value" as --set takes it, or "leg ..." as --leg does, in order. */
struct asked {
    int count;
    char item[ITEMS_MOST][ITEM_SIZE];
};

/* What the tests look at. refused: there is no answer. */
struct told {
    bool refused;
    enum hobble_verdict verdict;
    double distance; /* m advised */
    double driven;   /* m before now */
    double chance;   /* of not reaching the place asked for; NAN without one */
    bool scrap;
};

/* A question about a tyre that has an answer more often than not. */
void relation_question(struct random_source *r, struct asked *q);

/* Puts a question through the readers of the command line and asks it with few members. */
hobble_case *relation_case(const struct asked *q);
struct told relation_ask(const struct asked *q);

/* Makes other out of q, so that it is worse (or the same, said in another way); false where that
 * cannot be done with this question. */
typedef bool changer(struct random_source *r, const struct asked *q, struct asked *other);
struct relation {
    const char *name;
    const char *why; /* source of the order */
    bool same;       /* else other must not get the better answer */
    changer *change;
};
const struct relation *relation_table(size_t *count);

/* Whether the answers stand as they must. */
bool relation_holds(const struct relation *relation, const struct told *q,
                    const struct told *other);

/* The smallest pair of the kind that still fails, by leaving items out of both. */
void relation_shrink(const struct relation *relation, struct asked *q, struct asked *other);

/* One line: the items with '; ' between. */
void relation_print(const struct asked *q, char *buf, size_t size);
bool relation_read(const char *line, struct asked *q);

#endif
