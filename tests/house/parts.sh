#!/bin/bash
# SPDX-License-Identifier: GPL-3.0-or-later
# A part that is not there is named with the packages that bring it: those that the program names are
# those that docs/setup/install-packages.sh installs, and configure's are in its list too.
set -eu
cd "$TOP_SRCDIR"
faults=0 checks=0
fault() { echo "fault: $*"; faults=$((faults + 1)); }
listed() { # PART: as the script has them
    awk -v head="^$1='" '$0 ~ head { on = 1; sub(head, "") } on { print } on && /\047$/ { exit }' docs/setup/install-packages.sh |
        tr -d "'" | tr -s ' ' '\n' | grep . | sort
}
for part in pdf page pictures; do
    checks=$((checks + 1))
    in_program=$(tr -d '\n' <src/cli/parts.c | grep -oE "\"$part\", *(\"[^\"]*\" *)+\}" |
        sed -E "s/^\"$part\", *//; s/[\"}]//g" | tr -s ' ' '\n' | grep . | sort)
    [ -n "$in_program" ] && [ "$in_program" = "$(listed $part)" ] || fault "$part: src/cli/parts.c names other packages"
done
while IFS= read -r package; do
    checks=$((checks + 1))
    listed first | grep -qx "$package" || fault "configure names $package, which the first command does not install"
done < <(grep -oE 'HB_(LACKS|LIBRARY)\(.*\[[a-z0-9 -]+\]\)' configure.ac | sed -E 's/.*\[([a-z0-9 -]+)\]\).*/\1/' | tr ' ' '\n' | sort -u)
echo "$checks checks, $faults faults"
[ "$checks" -gt 3 ] && [ "$faults" -eq 0 ]
