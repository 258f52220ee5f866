#!/bin/bash
# SPDX-License-Identifier: GPL-3.0-or-later
# Functions that are not used, the licence line in every source, and a tidy top level.
# Source of the rules: DEVELOPERS.md.
set -eu
cd "$TOP_SRCDIR"
. tests/house/tree.sh
faults=0
fault() { echo "fault: $*"; faults=$((faults + 1)); }

# Each either cannot report an error or cannot be told the size of its target.
banned='atof|atoi|atol|atoll|sscanf|strcpy|strcat|sprintf|vsprintf|gets'
while IFS= read -r line; do fault "banned function: $line"; done \
    < <(ours '\.([ch]|inc)$' src tests | xargs grep -nE "\b($banned)\s*\(" || true)

spdx='SPDX-License-Identifier: GPL-3.0-or-later'
count=0
while IFS= read -r file; do
    count=$((count + 1))
    case $file in
    *.[ch] | *.cc | *.inc) [ "$(head -n 1 "$file")" = "/* $spdx */" ] ;;
    *) head -n 2 "$file" | grep -qxF "# $spdx" ;;
    esac || fault "$file: no licence line at the top"
done < <(ours '(\.([ch]|cc|inc|sh|mk|in|case)|/run|^configure\.ac|^Makefile\.am)$' \
    src tests docs .ci configure.ac Makefile.am)

# What autoreconf, builds and readers of README make at the top level is ignored by git, and not ours
# to judge; without git nothing tells it from the rest.
top='README\.md|DEVELOPERS\.md|SAFETY\.md|configure\.ac|Makefile\.am|src|tests|profiles|docs'
if [ $with_git = yes ]; then
    while IFS= read -r entry; do
        [[ $entry =~ ^($top)$ ]] || fault "$entry does not belong at the top level"
    done < <(ours . . | sed 's,/.*,,' | grep -v '^\.' | sort -u)
fi

echo "$count files read, $faults faults"
[ "$count" -gt 0 ] && [ "$faults" -eq 0 ]
