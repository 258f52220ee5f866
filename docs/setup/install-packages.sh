#!/bin/bash
# SPDX-License-Identifier: GPL-3.0-or-later
# Installs what is missing, and only that, with apt on Debian 12. Usage:
#   install-packages.sh [build|tests|ci]
# build: to build and run hobble; tests: also to pass every test; ci: also the second compiler and
# the memory checker that continuous integration uses.
set -eu

build='gcc libc6-dev make autoconf automake libtool pkgconf
    libgsl-dev libconfig-dev libjansson-dev libsmartcols-dev libcsv-dev
    libcairo2-dev libpango1.0-dev librsvg2-dev gnuplot-nox
    clang-14 lld-14 wasi-libc libclang-rt-14-dev-wasm32 esbuild
    node-d3-array node-d3-axis node-d3-contour node-d3-scale node-d3-selection node-d3-shape'
tests="$build check jq python3-jsonschema locales scdoc libsundials-dev
    chromium poppler-utils parallel"
ci="$tests clang libclang-rt-14-dev libomp-dev valgrind libc6-dbg xz-utils"

# The page is tried in a real browser, driven from node; any node from 18 on will do.
command -v node >/dev/null || tests="$tests nodejs" ci="$ci nodejs"
command -v npm >/dev/null || tests="$tests npm" ci="$ci npm"

case ${1-build} in
build) wanted=$build ;;
tests) wanted=$tests ;;
ci) wanted=$ci ;;
*) echo "usage: install-packages.sh [build|tests|ci]" >&2 && exit 64 ;;
esac

command -v apt-get >/dev/null || { echo "no apt here; install the likes of:" $wanted >&2; exit 1; }
missing=
for package in $wanted; do
    state=$(dpkg-query -W -f '${db:Status-Status}' "$package" 2>/dev/null || true)
    [ "$state" = installed ] || missing="$missing $package"
done
[ -n "$missing" ] || exit 0

as_root=
if [ "$(id -u)" -ne 0 ]; then
    command -v sudo >/dev/null || { echo "as root, first: apt-get install$missing" >&2; exit 1; }
    as_root=sudo
fi
install() {
    $as_root env DEBIAN_FRONTEND=noninteractive \
        apt-get -o Dpkg::Use-Pty=0 install -qq -y --no-install-recommends $missing
}
echo "installing:$missing"
# The package lists on this machine may be missing or old: fetch them when the first try fails.
install || { $as_root apt-get -qq update && install; }
