/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <check.h>
Suite *levels_suite(void);
Suite *levels_suite(void){return suite_create("levels");}
