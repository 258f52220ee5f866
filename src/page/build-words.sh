#!/bin/bash
# SPDX-License-Identifier: GPL-3.0-or-later
# build-words.sh CPP WORDS.inc OUT.js: the page's words out of the file that has the program's too. The
# preprocessor takes the rows; strings side by side become one, as in C.
set -eu
{
    echo '// SPDX-License-Identifier: GPL-3.0-or-later'
    echo '// Made by src/page/build-words.sh.'
    echo 'export const table = ['
    $1 -P -x c -D'HB_SENTENCE(id, text)=' -D'HB_SHARED(id, key, text)=[key, text],' \
        -D'HB_PAGE_WORD(key, text)=[key, text],' "$2" | sed -E 's/"[[:space:]]+"//g'
    echo '];'
} >"$3.tmp"
mv "$3.tmp" "$3"
