#!/bin/bash
# SPDX-License-Identifier: GPL-3.0-or-later
# make coverage: which lines the tests reach; needs gcc and lcov. Builds below the build tree.
set -eu
sources=$(cd "$TOP_SRCDIR/src" && pwd)
dir=$TOP_BUILDDIR/coverage
mkdir -p "$dir" && cd "$dir"
[ -f Makefile ] || "$TOP_SRCDIR/configure" -q CC=gcc CFLAGS='-O0 -g --coverage' --disable-shared
find . -name '*.gcda' -delete
make -s -j "$(nproc)" && make -s -j "$(nproc)" check
lcov -q -c -d . --include "$sources/*" -o coverage.info
genhtml -q -o html coverage.info
lcov --summary coverage.info
echo "pages: $dir/html/index.html"
