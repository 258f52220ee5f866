/* SPDX-License-Identifier: GPL-3.0-or-later */
/* card.h - the glove-box card of one vehicle: advised distance by load and temperature, or by the
 * loads and seasons of its fleet. */
#ifndef HB_REPORT_DESCRIBE_CARD_H
#define HB_REPORT_DESCRIBE_CARD_H

#include "report/describe/row.h"

#include "hobble.h"

enum {
    HB_CARD_LOADS = HOBBLE_FLEET_LOADS,
    HB_CARD_HEATS = HOBBLE_FLEET_SEASONS,
    HB_CARD_RULES = 3,
    HB_CARD_TEXT = 400
};

struct hb_card {
    int loads, heats;                  /* rows and columns in use */
    const char *load[HB_CARD_LOADS];   /* names of the rows; constants, or the fleet's */
    const char *season[HB_CARD_HEATS]; /* of the columns; NULL: a temperature */
    double heat[HB_CARD_HEATS];        /* K; of a season the hottest hour */
    double distance[HB_CARD_LOADS][HB_CARD_HEATS]; /* m, of the worse axle; 0: stop */
    double speed;                                  /* m/s, the slowest that was advised */
    double unseen; /* m driven flat before the warning and counted */
    bool scrap;    /* afterwards, in every cell */
    bool example;  /* no tyre or no vehicle was given */
    int counted;   /* tyres that the cells rest on; see hobble_too_few */
    struct hobble_marking marking;

    /* of a fleet's card; NULL and none on one that stands alone */
    const char *fleet, *vehicle;
    int rules;
    char rule[HB_CARD_RULES][HB_CARD_TEXT];
    const hobble_case *rear; /* tyres behind, where they are others */

    const char *day, *until; /* on which it is drawn, and it holds; NULL before */
};

/* Asks for every cell at both axles and keeps the shorter distance. The case must not say how many
 * people, luggage or load: the card does. */
enum hobble_status hb_card_make(const hobble_case *c, int threads, struct hb_card *card,
                                struct hobble_faults *sink);

/* A cell of a card's scope: whole kilometres or miles, rounded down, so never more than was
 * advised; or "STOP". */
void hb_card_cell(const struct hb_scope *scope, int load, int heat, char *buf, size_t size);

#endif
