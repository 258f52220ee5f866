#!/bin/bash
# SPDX-License-Identifier: GPL-3.0-or-later
# From a fresh clone to a first answer: installs what is missing, builds into .build/first and asks
# `hobble range` about the built-in example. Arguments are passed on to `hobble range`.
set -eu
top=$(cd "$(dirname "$0")/../.." && pwd)
"$top/docs/setup/install-packages.sh" build
mkdir -p "$top/.build/first"
(
    cd "$top"
    [ -x configure ] || autoreconf -i
    cd .build/first
    [ -f Makefile ] || "$top/configure" -q
    make -s -j "$(nproc)"
) >"$top/.build/first.log" 2>&1 || { cat "$top/.build/first.log" >&2; exit 1; }
exec "$top/.build/first/hobble" range "$@"
