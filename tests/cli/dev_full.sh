#!/bin/bash
# SPDX-License-Identifier: GPL-3.0-or-later
# Output that cannot be written is an error, never a silent loss: 74, EX_IOERR of sysexits.h.
set -eu
failed=0
try() {
    local status=0
    "$TOP_BUILDDIR/hobble" "$@" >/dev/full || status=$?
    [ "$status" -eq 74 ] || { echo "hobble $* >/dev/full: status $status, expected 74"; failed=1; }
}
try range
try range --json
try rule --members 20 --json
try map --members 20 --x speed=40:80:2 --y load=50%:60%:2 --csv
try why --members 20 --json
try show mark --members 20
try range --help
try policy --usage
try --help
try --version
exit $failed
