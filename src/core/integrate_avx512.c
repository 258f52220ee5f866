/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Compiled for AVX-512 (F and DQ) where the compiler knows it: twice the lanes. */
#define HB_LANES       8
#define INTEGRATE_NAME hb_integrate_avx512
#include "core/integrate.inc"
