/* SPDX-License-Identifier: GPL-3.0-or-later */
#define INTEGRATE_NAME hb_integrate_base
#include "core/integrate.inc"
