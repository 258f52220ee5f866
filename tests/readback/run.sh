#!/bin/bash
# SPDX-License-Identifier: GPL-3.0-or-later
# Everything that is printed, read back: see readback.py. Its files of patterns are all, or the arguments.
set -eu
export PATH=$TOP_BUILDDIR:$PATH HOBBLE_PROFILES=$TOP_SRCDIR/profiles SOURCE_DATE_EPOCH=1767225600 LC_ALL=C.UTF-8
scratch=$TOP_BUILDDIR/tests/scratch/readback
rm -rf "$scratch" && mkdir -p "$scratch" && cd "$scratch"
command -v pdftotext >/dev/null || { echo 'skipped: no pdftotext (docs/setup/install-packages.sh tests)'; exit 77; }
[ $# -gt 0 ] || set -- "$TOP_SRCDIR"/tests/readback/*.txt
/usr/bin/python3 "$TOP_SRCDIR/tests/readback/readback.py" "$@"
