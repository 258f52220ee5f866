/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/parts.h"

#include "hobble.h"
#include "report/paper/page.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

/* Packages of Debian 12, as docs/setup/install-packages.sh has them; tests/house/parts.sh compares.
 */
static const struct {
    const char *lacks, *name, *packages;
} parts[] = {
    [HB_PART_PDF] = {"this program was built without PDF", "pdf",
                     "libcairo2-dev libpango1.0-dev librsvg2-dev"},
    [HB_PART_PAGE] = {"this program was built without the page", "page",
                      "clang-14 lld-14 wasi-libc libclang-rt-14-dev-wasm32 esbuild node-d3-array "
                      "node-d3-axis node-d3-contour node-d3-scale node-d3-selection node-d3-shape"},
    [HB_PART_PICTURES] = {"gnuplot, which draws the pictures, was not found", "pictures",
                          "gnuplot-nox"},
};

/* Whether a program of that name stands in a folder of $PATH. */
static bool on_path(const char *name)
{
    char file[4096];
    for (const char *list = getenv("PATH"); list && *list;) {
        const size_t length = strcspn(list, ":");
        snprintf(file, sizeof file, "%.*s/%s", (int)length, length > 0 ? list : ".", name);
        if (length < sizeof file / 2 && access(file, X_OK) == 0)
            return true;
        list += length + (list[length] == ':');
    }
    return false;
}

bool hb_part_built(enum hb_part part)
{
#ifdef HB_WITH_PDF
    const bool with_pdf = true;
#else
    const bool with_pdf = false;
#endif
    return part == HB_PART_PICTURES ? on_path("gnuplot")
           : part == HB_PART_PAGE   ? hb_page_template_size > 1
                                    : with_pdf;
}

int hb_part_missing(const char *asked, enum hb_part part)
{
    fprintf(stderr, "hobble: %s: %s\n", asked, parts[part].lacks);
    fprintf(stderr, "  needed on Debian 12: %s\n", parts[part].packages);
    if (part == HB_PART_PICTURES)
        fprintf(stderr, "  installed by: docs/setup/install-packages.sh %s\n", parts[part].name);
    else
        fprintf(stderr,
                "  installed, and the program built again, by: docs/setup/first-answer.sh all\n");
    return hobble_status_exit(part == HB_PART_PICTURES ? HOBBLE_E_NO_INPUT : HOBBLE_E_INTERNAL);
}
