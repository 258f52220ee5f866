/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <check.h>
Suite *anchor_suite(void);
Suite *anchor_suite(void){return suite_create("anchor");}
