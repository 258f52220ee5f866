#!/bin/bash
# SPDX-License-Identifier: GPL-3.0-or-later
# make fuzz: builds the fuzz targets with clang and sanitizers below the build tree and runs each
# for FUZZ_SECONDS (30). New inputs stay in the build tree; a crash is left there and named.
set -eu
dir=$TOP_BUILDDIR/fuzz
mkdir -p "$dir" && cd "$dir"
[ -f Makefile ] || "$TOP_SRCDIR/configure" -q CC=clang --enable-fuzz \
    --enable-sanitize --disable-shared
make -s -j "$(nproc)"
for target in $FUZZ_TARGETS; do
    mkdir -p "found/$target"
    echo "==== $target"
    "tests/fuzz/fuzz_$target" -max_total_time="${FUZZ_SECONDS-30}" -artifact_prefix="$dir/found/" \
        "found/$target" "$TOP_SRCDIR/tests/fuzz/corpus/$target"
done
