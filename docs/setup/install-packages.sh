#!/bin/bash
# SPDX-License-Identifier: GPL-3.0-or-later
# Installs what is missing, and only that, with apt on Debian 12. Usage:
#   install-packages.sh [--list] [PART...]     default: first
# first: to build hobble and ask `hobble range`; all: also pdf, pictures and page, which can be named
# one by one; tests: all, and what every test needs; ci: also the second compiler and the
# memory checker that continuous integration uses. --list installs nothing: it prints the packages
# of the parts that are missing here.
set -eu
set -o pipefail
. "$(dirname "$0")/tell.sh"

first='gcc libc6-dev make autoconf automake libtool pkgconf
    libgsl-dev libconfig-dev libjansson-dev libexpat1-dev libsmartcols-dev libcsv-dev
    scdoc'
pdf='libcairo2-dev libpango1.0-dev librsvg2-dev'
pictures='gnuplot-nox'
page='clang-14 lld-14 wasi-libc libclang-rt-14-dev-wasm32 esbuild
    node-d3-array node-d3-axis node-d3-contour node-d3-scale node-d3-selection node-d3-shape'
all="$first $pdf $pictures $page"
tests="$all check jq python3-jsonschema locales libsundials-dev g++ clang-format-14
    chromium poppler-utils parallel zsh fish"
ci="$tests clang libclang-rt-14-dev libomp-dev valgrind libc6-dbg xz-utils"

# The page is tried in a real browser, driven from node; any node from 18 on will do.
command -v node >/dev/null || tests="$tests nodejs" ci="$ci nodejs"
command -v npm >/dev/null || tests="$tests npm" ci="$ci npm"

only_list=no
[ "${1-}" != --list ] || { only_list=yes && shift; }
[ $# -gt 0 ] || set -- first
wanted=
for part; do
    case $part in
    first | pdf | pictures | page | all | tests | ci) wanted="$wanted ${!part}" ;;
    *)
        echo "usage: install-packages.sh [--list] [first|all|pdf|pictures|page|tests|ci]..." >&2
        exit 64 ;;
    esac
done

if ! command -v apt-get >/dev/null || ! command -v dpkg-query >/dev/null; then
    echo "no apt here; install the likes of:" $wanted >&2
    exit 1
fi
missing=
for package in $wanted; do
    state=$(dpkg-query -W -f '${db:Status-Status}' "$package" 2>/dev/null || true)
    [ "$state" = installed ] || missing="$missing $package"
done
if [ $only_list = yes ]; then
    echo $missing
    exit 0
fi
if [ -z "$missing" ]; then
    echo "packages: all here, nothing to fetch"
    exit 0
fi

as_root=
if [ "$(id -u)" -ne 0 ]; then
    if ! command -v sudo >/dev/null; then
        {
            echo "packages are missing, and only root can install them. As root, once:"
            echo "  apt-get update"
            echo "  apt-get install --no-install-recommends$missing"
            echo "then this again, as you are."
        } >&2
        exit 1
    fi
    as_root=sudo
fi

options='-y --no-install-recommends'
plan() { apt-get install -s $options $missing 2>/dev/null | grep -c '^Inst'; }
log=$(mktemp)
trap 'rm -f "$log"' EXIT
told() { # COMMAND-OF-TELL -- COMMAND...: the command's output told, and shown where it fails
    local how=()
    while [ "$1" != -- ]; do how+=("$1") && shift; done
    shift
    "$@" 2>&1 </dev/null | tee "$log" | tell "${how[@]}" || { tail -n 20 "$log" >&2; return 1; }
}
fetch_lists() { told 'fetching the lists of packages' -- $as_root apt-get -q update; }

# The lists on this machine may be missing or old: they are fetched when the first try fails.
[ -z "$as_root" ] || echo "packages are installed as root, by sudo, which may ask for your password"
[ -z "$as_root" ] || sudo -v
echo "packages: asking apt what is missing"
count=$(plan) || { fetch_lists && count=$(plan); } ||
    { apt-get install -s $options $missing >&2; exit 1; }
size() { apt-get install $options --print-uris $missing 2>/dev/null | grep -E '^(Need to get|After this)' || true; }
amount=$(LC_ALL=C size)
to_get=$(sed -nE 's/^Need to get ([0-9.,]+ .B).*/\1/p' <<<"$amount" | tr -d ,)
on_disk=$(sed -nE 's/^After this operation, ([0-9.,]+ .B).*/\1/p' <<<"$amount" | tr -d ,)
echo "packages: $count to install, ${to_get:-nothing} to fetch, ${on_disk:-little} on the disk"
case ${to_get-} in
*MB) echo "  at 20 Mbit/s the fetch takes $(awk -v mb="${to_get% MB}" 'BEGIN {
    s = mb * 8 / 20; print s < 90 ? int(s + 1) " s" : "about " int(s / 60 + 0.5) " min" }'); unpacking about as long again" ;;
esac
install() {
    told 'fetching and unpacking, steps' '^(Get:|Unpacking |Setting up )' $((3 * count)) -- $as_root env DEBIAN_FRONTEND=noninteractive \
        apt-get -q -o Dpkg::Use-Pty=0 -o APT::Keep-Downloaded-Packages=false install $options $missing
}
install || { fetch_lists && install; }
