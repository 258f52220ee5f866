/* SPDX-License-Identifier: GPL-3.0-or-later */
/* setting.h - rows are set here and nowhere else: by a case and by the page, with the same checks.
 */
#ifndef HB_CORE_SETTING_H
#define HB_CORE_SETTING_H

#include "core/param.h"

/* Each sets a row or leaves settings as they were; origin says where the value came from (may be
 * NULL). Numbers: HOBBLE_E_UNKNOWN no such row, HOBBLE_E_TYPE not a row of numbers or not a whole
 * number where one is needed, HOBBLE_E_RANGE, HOBBLE_E_CONFLICT a spread of a row that is not
 * drawn. */
enum hobble_status hb_setting_put_number(struct hb_settings *settings, int row, double value,
                                         const char *origin);
enum hobble_status hb_setting_put_spread(struct hb_settings *settings, int row, double spread,
                                         const char *origin);
/* Most that the spread of a drawn row may be. */
double hb_spread_most(const struct hobble_param *row);

/* Words and texts: what was wrong goes to sink (may be NULL). */
enum hobble_status hb_setting_put_word(struct hb_settings *settings, int row, const char *word,
                                       const char *origin, struct hobble_faults *sink);
enum hobble_status hb_setting_put_text(struct hb_settings *settings, int row, const char *text,
                                       const char *origin, struct hobble_faults *sink);

/* A fault of a row (NULL: of none). */
enum hobble_status hb_fault(struct hobble_faults *sink, enum hobble_status status,
                            const struct hobble_param *row, const char *origin, const char *given,
                            const char *allowed);

#endif
