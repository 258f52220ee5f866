/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "input/near.h"

#include <string.h>

enum { LONGEST = 40, BEGINNING = 3 };

static char plain(char c)
{
    if (c >= 'A' && c <= 'Z')
        return (char)(c - 'A' + 'a');
    return c == '-' || c == ' ' ? '_' : c;
}

static int least(int a, int b)
{
    return a < b ? a : b;
}

/* Letters put in, left out, changed, or swapped with their neighbour: the optimal string alignment
 * of Damerau, Commun. ACM 7(3), 1964, 171, row by row. */
static int distance(const char *a, size_t m, const char *b, size_t n)
{
    int row[LONGEST + 1][LONGEST + 1];
    for (size_t i = 0; i <= m; i++)
        row[i][0] = (int)i;
    for (size_t j = 0; j <= n; j++)
        row[0][j] = (int)j;
    for (size_t i = 1; i <= m; i++)
        for (size_t j = 1; j <= n; j++) {
            const char x = plain(a[i - 1]), y = plain(b[j - 1]);
            int here = least(row[i - 1][j], row[i][j - 1]) + 1;
            here = least(here, row[i - 1][j - 1] + (x != y));
            if (i > 1 && j > 1 && x == plain(b[j - 2]) && plain(a[i - 2]) == y)
                here = least(here, row[i - 2][j - 2] + 1);
            row[i][j] = here;
        }
    return row[m][n];
}

/* A slip in a short word, two in a longer one: more, and any name is near. */
static int allowed(size_t length)
{
    return length <= 2 ? 0 : length <= 5 ? 1 : length <= 10 ? 2 : 3;
}

struct hb_near hb_near_to(const char *word)
{
    return (struct hb_near){.word = word ? word : "", .distance = LONGEST};
}

static void try_part(struct hb_near *near, const char *name, size_t length)
{
    const size_t typed = strlen(near->word);
    if (typed > LONGEST || length > LONGEST || length == 0 || typed == 0)
        return;
    int far = distance(near->word, typed, name, length);
    if (typed >= BEGINNING && typed < length && distance(near->word, typed, name, typed) == 0)
        far = least(far, 1); /* a name that was begun */
    else if (far > allowed(typed < length ? typed : length))
        return;
    if (far >= near->distance)
        return;
    near->distance = far;
    memcpy(near->best, name, length);
    near->best[length] = '\0';
}

void hb_near_try(struct hb_near *near, const char *name)
{
    try_part(near, name, strlen(name));
}

void hb_near_try_words(struct hb_near *near, const char *words)
{
    while (words && *words) {
        const size_t length = strcspn(words, "|");
        try_part(near, words, length);
        words += length + (words[length] == '|');
    }
}
