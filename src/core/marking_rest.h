/* SPDX-License-Identifier: GPL-3.0-or-later */
/* marking_rest.h - what stands on a sidewall behind the size and the service description. */
#ifndef HB_CORE_MARKING_REST_H
#define HB_CORE_MARKING_REST_H

#include "core/marking_reader.h"

/* Whether a word of the rest begins at the reader. */
bool hb_marking_is_rest(const struct hb_marking_reader *in);
/* Reads what stands behind the service description: XL counts, kinds that are not covered are
 * refused, everything else is noted in m->skipped and changes nothing. */
enum hobble_status hb_marking_read_rest(struct hb_marking_reader *in, struct hobble_marking *m);

#endif
