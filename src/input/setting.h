/* SPDX-License-Identifier: GPL-3.0-or-later */
/* setting.h - one value from a text into one row of a case, with its place in a file or an option.
 */
#ifndef HB_INPUT_SETTING_H
#define HB_INPUT_SETTING_H

#include "input/near.h"

/* Where a value stands. line 0: not in a file, and file is the option. */
struct hb_place {
    const char *file;
    int line;
    const char *key; /* as faults show it */
};

/* Adds the faults of a call that knew nothing of the place. */
void hb_faults_move(struct hobble_faults *sink, const struct hobble_faults *from,
                    const struct hb_place *place);

/* A fault at the place; returns its status. */
enum hobble_status hb_place_fault(const struct hb_place *place, enum hobble_status status,
                                  const char *given, const char *allowed,
                                  struct hobble_faults *sink);

/* Gives the fault that was added last the name that was found near. */
void hb_fault_meant(struct hobble_faults *sink, const struct hb_near *near);

/* A number in the row's unit, or its spread; provenance becomes assumed with a value. */
enum hobble_status hb_put_number(hobble_case *c, int row, bool spread, double value,
                                 const struct hb_place *place, struct hobble_faults *sink);
/* A text by the row's kind: quantity, word or text; or a spread. */
enum hobble_status hb_put_text(hobble_case *c, int row, bool spread, const char *text,
                               const struct hb_place *place, struct hobble_faults *sink);

/* How a value is known, by its word (NULL: not a text); published and measured values need a
 * source. Written on HOBBLE_OK. */
enum hobble_status hb_provenance_read(const struct hb_place *place, const char *word,
                                      const char *source, enum hobble_provenance *provenance,
                                      struct hobble_faults *sink);

/* What a row takes, "200 to 30000 N" or its words. */
void hb_row_allowed(int row, bool spread, char *buf, size_t size);

#endif
