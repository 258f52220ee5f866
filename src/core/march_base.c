/* SPDX-License-Identifier: GPL-3.0-or-later */
#define MARCH_NAME hb_march_base
#include "core/march.inc"
