/* SPDX-License-Identifier: GPL-3.0-or-later */
/* show.h - the pictures for a class, and their numbers. */
#ifndef HB_REPORT_SHOW_H
#define HB_REPORT_SHOW_H

#include "hobble.h"

#include <jansson.h>
#include <stdio.h>

void hb_wall_text(FILE *f, const hobble_case *c, const struct hobble_wall *wall, bool us);
void hb_life_text(FILE *f, const hobble_case *c, const struct hobble_life *life, bool us);
enum hobble_status hb_mark_text(FILE *f, const hobble_case *c, const struct hobble_mark_worth *mark,
                                bool us);

/* What there is to see of a journey: that life never heals, or that there is no run at all. */
const char *hb_life_headline(const struct hobble_life *life);
json_t *hb_wall_json(const hobble_case *c, const struct hobble_wall *wall);
json_t *hb_life_json(const hobble_case *c, const struct hobble_life *life);
json_t *hb_mark_json(const hobble_case *c, const struct hobble_mark_worth *mark);

/* Statuses as hb_gnuplot_close. */
enum hobble_status hb_chart_wall(const char *path, const hobble_case *c,
                                 const struct hobble_wall *wall, bool us);
enum hobble_status hb_chart_life(const char *path, const hobble_case *c,
                                 const struct hobble_life *life, bool us);
enum hobble_status hb_chart_mark(const char *path, const hobble_case *c,
                                 const struct hobble_mark_worth *mark, bool us);

/* Unit of a drawn row as it is drawn: a stiffness that is not given is a factor on the size law. */
const char *hb_drawn_unit(const hobble_case *c, int row);

/* What ended the middle tyre, in words. */
const char *hb_end_sentence(enum hobble_end end);

#endif
