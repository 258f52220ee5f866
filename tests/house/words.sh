#!/bin/bash
# SPDX-License-Identifier: GPL-3.0-or-later
# Functions that are not used, the licence line in every source, and a tidy top level.
# Source of the rules: DEVELOPERS.md.
set -eu
cd "$TOP_SRCDIR"
faults=0
fault() { echo "fault: $*"; faults=$((faults + 1)); }

# Each either cannot report an error or cannot be told the size of its target.
banned='atof|atoi|atol|atoll|sscanf|strcpy|strcat|sprintf|vsprintf|gets'
while IFS= read -r line; do fault "banned function: $line"; done \
    < <(grep -rnE "\b($banned)\s*\(" src tests --include='*.[ch]' --include='*.inc' || true)

spdx='SPDX-License-Identifier: GPL-3.0-or-later'
count=0
while IFS= read -r file; do
    count=$((count + 1))
    case $file in
    *.[ch] | *.inc) [ "$(head -n 1 "$file")" = "/* $spdx */" ] ;;
    *) head -n 2 "$file" | grep -qxF "# $spdx" ;;
    esac || fault "$file: no licence line at the top"
done < <(find src tests docs .ci configure.ac Makefile.am -type f \
    \( -name '*.[ch]' -o -name '*.inc' -o -name '*.sh' -o -name '*.mk' -o -name '*.in' \
    -o -name run -o -name '*.case' -o -name configure.ac -o -name Makefile.am \))

# A build inside the source tree fills the top level, so this looks only from outside. What
# autoreconf and distcheck make there is ignored by git and not ours to judge.
ours='README\.md|DEVELOPERS\.md|SAFETY\.md|configure\.ac|Makefile\.am|src|tests|profiles|docs'
generated='Makefile\.in|aclocal\.m4|autom4te\.cache|configure~?|_build|_inst'
if [ "$TOP_SRCDIR" != "$TOP_BUILDDIR" ]; then
    for entry in *; do
        [[ $entry =~ ^($ours|$generated)$ ]] || fault "$entry does not belong at the top level"
    done
fi

echo "$count files read, $faults faults"
[ "$count" -gt 0 ] && [ "$faults" -eq 0 ]
