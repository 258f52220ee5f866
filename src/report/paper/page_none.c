/* SPDX-License-Identifier: GPL-3.0-or-later */
/* page_none.c - in place of the template where the page was not built. */
#include "report/paper/page.h"

#ifndef HB_WITH_PAGE
const unsigned char hb_page_template[] = {0};
const size_t hb_page_template_size = 0;
#endif
