#!/bin/bash
# SPDX-License-Identifier: GPL-3.0-or-later
# build-module.sh CLANG SRC VERSION OUT: core, advice, what takes evidence in, and the page's door into one wasm32 module without imports.
# FLAGS may hold more flags. The same bytes from the same source: no paths, dates or names go in.
set -eu
clang=$1 src=$2 version=$3 out=$4
cd "$src"
sources=$(ls core/*.c advice/*.c page/*.c | grep -v core/integrate_avx)
# shellcheck disable=SC2086
"$clang" --target=wasm32-wasi -std=c17 -Os -msimd128 -mbulk-memory -ffp-contract=off -fno-math-errno \
    -D_POSIX_C_SOURCE=200809L -DPACKAGE_VERSION="\"$version\"" -I. -nostartfiles ${FLAGS-} \
    -Wl,--no-entry,--strip-all,--gc-sections,-z,stack-size=262144 \
    $sources study/evidence_item.c study/item_likelihood.c study/posterior.c study/words.c -lm -o "$out"
