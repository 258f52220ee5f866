/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Compiled with -mavx2 where the compiler knows it; see march.c for the choice at run time. */
#define MARCH_NAME hb_march_avx2
#include "core/march.inc"
