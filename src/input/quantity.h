/* SPDX-License-Identifier: GPL-3.0-or-later */
/* quantity.h - "4.1 kN", "95F", "28mi": a number with its unit, read into the unit of a row of the
 * parameter table, and printed back. The decimal sign is a point in every locale. */
#ifndef HB_INPUT_QUANTITY_H
#define HB_INPUT_QUANTITY_H

#include "hobble.h"

/* HB_DIFFERENCE: the text is a difference (a spread), so 10 C is 10 K and zero points drop out. */
enum hb_quantity_use { HB_QUANTITY, HB_DIFFERENCE };

/* Reads text as a quantity of the kind of unit; a bare number is in unit itself. A mass where a
 * force is wanted is taken times 9.80665 m/s2. shown: in unit, finite; written only on HOBBLE_OK.
 * fault (may be NULL): status, column, given, and the units allowed.
 * Returns HOBBLE_E_SYNTAX (no plain decimal number), _E_UNIT (no unit of this kind) or _E_RANGE
 * (too large for a number). Whether the value suits its row is for hobble_case_set_number. */
enum hobble_status hb_quantity_parse(const char *text, enum hobble_unit unit,
                                     enum hb_quantity_use use, double *shown,
                                     struct hobble_fault *fault);

/* Units that a quantity of this kind may have, "km/h, m/s, ..."; "" for none. Always terminated. */
void hb_quantity_units(enum hobble_unit unit, char *buf, size_t size);

/* Prints a value in unit with digits (1..17) significant digits and its symbol: "80 km/h". us: in
 * mph, mi, in, lb, lbf, psi and F where the unit has such a partner. HOBBLE_E_TOO_LARGE when it
 * does not fit size; NAN prints as "not given". */
enum hobble_status hb_quantity_print(double shown, enum hobble_unit unit, bool us, int digits,
                                     char *buf, size_t size);

/* The US partner of a unit: returns its symbol and changes *shown; without one, unit's own symbol
 * and *shown as it is. */
const char *hb_quantity_us(enum hobble_unit unit, double *shown);

/* strtod and "%.*g" with a decimal point in every locale. number_print takes the fewest digits, up
 * to digits, that read back as the same number. */
double hb_number_read(const char *text, char **end);
void hb_number_print(double value, int digits, char *buf, size_t size);

#endif
