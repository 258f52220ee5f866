#!/bin/bash
# SPDX-License-Identifier: GPL-3.0-or-later
# build-bytes.sh IN OUT.c: the page's template as an array that the program carries.
set -eu
{
    echo '/* SPDX-License-Identifier: GPL-3.0-or-later */'
    echo '/* Made by src/page/build-bytes.sh. */'
    echo '#include "report/paper/page.h"'
    echo
    echo 'const unsigned char hb_page_template[] = {'
    od -An -v -t u1 <"$1" | sed 's/^ *//; s/  */,/g; s/$/,/'
    echo '};'
    echo 'const size_t hb_page_template_size = sizeof hb_page_template;'
} >"$2.tmp"
mv "$2.tmp" "$2"
