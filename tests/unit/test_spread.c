/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <check.h>
Suite *spread_suite(void);
Suite *spread_suite(void){return suite_create("spread");}
