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
try --help
try --version
exit $failed
