#!/bin/bash
# SPDX-License-Identifier: GPL-3.0-or-later
# A source that no makefile lists is a source that is never built or tested: name it.
set -eu
cd "$TOP_SRCDIR"
faults=0 count=0
while IFS= read -r file; do
    count=$((count + 1))
    grep -qE "(^|[[:space:]=])$file([[:space:]\\]|\$)" Makefile.am src/local.mk src/page/local.mk tests/local.mk && continue
    echo "fault: $file is in no list"
    faults=$((faults + 1))
done < <(find src tests -name '*.[ch]' -o -name '*.inc')
echo "$count files, $faults faults"
[ "$count" -gt 0 ] && [ "$faults" -eq 0 ]
