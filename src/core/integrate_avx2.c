/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Compiled with -mavx2 where the compiler knows it; see integrate.c for the choice at run time. */
#define INTEGRATE_NAME hb_integrate_avx2
#include "core/integrate.inc"
