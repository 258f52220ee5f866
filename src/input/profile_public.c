/* SPDX-License-Identifier: GPL-3.0-or-later */
/* profile_public.c - the profile reader as libhobble shows it. */
#include "input/profile.h"

enum hobble_status hobble_profile_read(const char *path, int kind, hobble_case *c,
                                       struct hobble_faults *sink)
{
    const bool known = kind == HOBBLE_ANY_KIND || kind == HOBBLE_TYRE || kind == HOBBLE_VEHICLE ||
                       kind == HOBBLE_BENCH || kind == HOBBLE_RULES;
    if (!path || !c || !known) {
        struct hobble_fault f = {.status = !path || !c ? HOBBLE_E_MISSING : HOBBLE_E_CONFLICT};
        hobble_fault_text(f.key, !path ? "path" : !c ? "case" : "kind");
        hobble_fault_text(f.allowed, "a path, a case, and a kind that a file can be of");
        return hobble_faults_add(sink, &f);
    }
    return hb_profile_read_kind(path, kind, c, NULL, sink);
}

enum hobble_status hobble_case_set(hobble_case *c, const char *key, const char *value,
                                   const char *origin, struct hobble_faults *sink)
{
    if (!c || !key || !value) {
        struct hobble_fault f = {.status = HOBBLE_E_MISSING};
        hobble_fault_text(f.key, !c ? "case" : key ? key : "key");
        hobble_fault_text(f.allowed, "a case, a key and a value");
        return hobble_faults_add(sink, &f);
    }
    return hb_set_text(c, key, value, origin ? origin : "", sink);
}
