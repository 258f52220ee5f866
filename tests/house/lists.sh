#!/bin/bash
# SPDX-License-Identifier: GPL-3.0-or-later
# A source that no makefile lists is a source that is never built or tested: name it.
set -eu
cd "$TOP_SRCDIR"
. tests/house/tree.sh
faults=0 count=0
while IFS= read -r file; do
    count=$((count + 1))
    grep -qE "(^|[[:space:]=])$file([[:space:]\\]|\$)" Makefile.am src/local.mk src/page/local.mk tests/local.mk && continue
    echo "fault: $file is in no list"
    faults=$((faults + 1))
done < <(ours '\.([ch]|inc)$' src tests)
# What is read is installed: each page, schema and example is in the list of the docs.
while IFS= read -r file; do
    count=$((count + 1))
    grep -qE "(^|[[:space:]])$file([[:space:]\\]|\$)" docs/local.mk && continue
    echo "fault: docs/local.mk does not install $file"
    faults=$((faults + 1))
done < <(ours '\.(md|json|c|cc)$' docs)
echo "$count files, $faults faults"
[ "$count" -gt 0 ] && [ "$faults" -eq 0 ]
