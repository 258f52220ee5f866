#!/bin/bash
# SPDX-License-Identifier: GPL-3.0-or-later
# A decimal comma in the user's locale changes neither what is read nor what is written.
set -eu
export LOCPATH=$TOP_BUILDDIR/tests/scratch/locale
mkdir -p "$LOCPATH"
localedef -i de_DE -f UTF-8 "$LOCPATH/de_DE.UTF-8" || {
    echo "no German locale can be made: docs/setup/install-packages.sh tests"
    exit 77 # skipped; docs/setup/every-test.sh counts that as a failure
}
german() { LC_ALL=de_DE.UTF-8 "$@"; }
# Without this the test could not fail.
[ "$(german env printf %.1f 1,5)" = 1,5 ] || { echo "the German locale is not in force"; exit 1; }

failed=0
compare() {
    LC_ALL=C "$TOP_BUILDDIR/hobble" "$@" >"$LOCPATH/c.out"
    german "$TOP_BUILDDIR/hobble" "$@" >"$LOCPATH/german.out"
    diff -u "$LOCPATH/c.out" "$LOCPATH/german.out" || { echo "differs: hobble $*"; failed=1; }
}
compare range --json
compare range --json --load 3.85kN --pressure 0.4bar --ambient 12.5C
exit $failed
