/* SPDX-License-Identifier: GPL-3.0-or-later */
/* profile.h - what hobble profile says, as JSON. Each is NULL without memory. */
#ifndef HB_REPORT_PROFILE_H
#define HB_REPORT_PROFILE_H

#include "hobble.h"

#include <jansson.h>

/* Every profile that a name finds. Also NULL when they cannot be listed. */
json_t *hb_profile_list_json(void);
/* The rows of a profile that was read into c. */
json_t *hb_profile_show_json(const char *name, enum hobble_group kind, const hobble_case *c);
json_t *hb_profile_check_json(const char *name, const struct hobble_faults *faults);
/* Every row that can be set, with its limits. */
json_t *hb_profile_keys_json(void);

#endif
