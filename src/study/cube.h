/* SPDX-License-Identifier: GPL-3.0-or-later */
/* cube.h - sample points for the uncertain parameters. */
#ifndef HB_STUDY_CUBE_H
#define HB_STUDY_CUBE_H

#include "hobble.h"

#define HB_CUBE_PARTS 134217728.0 /* 2^27 */

/* Fills cube with members rows of dimensions (1..HB_DIMENSIONS_MAX) standard normal numbers: Sobol'
 * points (GSL's gsl_qrng_sobol, which must not be asked for more than 40 dimensions), shifted
 * modulo one by an amount that the seed draws, and turned so that they are even along the ways that
 * matter most. Same seed, same numbers, each a multiple of 1/HB_CUBE_PARTS, so that a page holds
 * them in four bytes. */
enum hobble_status hb_cube_fill(double *cube, size_t members, int dimensions, unsigned long seed);

#endif
