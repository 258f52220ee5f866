/* SPDX-License-Identifier: GPL-3.0-or-later */
/* failing_alloc.h - makes the n-th request for memory fail. The runner is linked with --wrap for
 * malloc, calloc and free, so that this reaches every object of ours and no library. */
#ifndef HB_TEST_FAILING_ALLOC_H
#define HB_TEST_FAILING_ALLOC_H

#include <stdbool.h>

/* From now on the n-th request (1 is the next) fails, once; 0: none does. Starts the counts. */
void failing_alloc_arm(long n);
/* Back to normal. Returns whether a request was refused; *open: requests less releases since. */
bool failing_alloc_disarm(long *open);

#endif
