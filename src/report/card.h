/* SPDX-License-Identifier: GPL-3.0-or-later */
/* card.h - the glove-box card of one vehicle: advised distance by load and temperature. */
#ifndef HB_REPORT_CARD_H
#define HB_REPORT_CARD_H

#include "hobble.h"

#include <jansson.h>

enum { HB_CARD_LOADS = 4, HB_CARD_HEATS = 4 };

struct hb_card {
    int loads;                          /* rows in use */
    const char *load[HB_CARD_LOADS];    /* names of the rows; constants */
    double heat[HB_CARD_HEATS];         /* K */
    double distance[HB_CARD_LOADS][HB_CARD_HEATS]; /* m, of the worse axle; 0: stop */
    double speed;                       /* m/s, the slowest that was advised */
    double unseen;                      /* m driven flat before the warning and counted */
    bool scrap;                         /* afterwards, in every cell */
    bool example;                       /* no tyre or no vehicle was given */
    struct hobble_marking marking;
};

/* Asks for every cell at both axles and keeps the shorter distance. The case must not say how many
 * people, luggage or load: the card does. */
enum hobble_status hb_card_make(const hobble_case *c, int threads, struct hb_card *card,
                                struct hobble_faults *sink);

/* What the card says; NULL without memory. */
json_t *hb_card_json(const hobble_case *c, const struct hb_card *card);

/* Draws sheets of A4: ten cards of the credit-card size with their backs, and four of A6. All or
 * nothing, to standard output (path NULL) or by renaming a whole file. The date is that of
 * SOURCE_DATE_EPOCH where it is set, else today's. HOBBLE_E_UNSUPPORTED when built without PDF. */
enum hobble_status hb_card_write(const char *path, const hobble_case *c,
                                 const struct hb_card *card, bool us);

#endif
