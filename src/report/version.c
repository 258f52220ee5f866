/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/version.h"

#include "hobble.h"

#include <gsl/gsl_version.h>
#include <jansson.h>
#include <libconfig.h>
#include <libsmartcols.h>

void hb_print_versions(FILE *f)
{
    const char *smartcols = NULL;
    scols_get_library_version(&smartcols);
    fprintf(f, "hobble %s\n", hobble_version());
    fprintf(f, "GSL %s, libconfig %d.%d.%d, jansson %s, libsmartcols %s\n", gsl_version,
            LIBCONFIG_VER_MAJOR, LIBCONFIG_VER_MINOR, LIBCONFIG_VER_REVISION, jansson_version_str(),
            smartcols ? smartcols : "?");
    fprintf(f, "Licence GPL-3.0-or-later. No warranty: see SAFETY.md.\n");
}
