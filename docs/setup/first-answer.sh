#!/bin/bash
# SPDX-License-Identifier: GPL-3.0-or-later
# From a fresh clone to a first answer: installs what is missing, builds into .build/first and asks
# `hobble range` about the built-in example. Usage:
#   first-answer.sh [all] [OPTION-OF-HOBBLE-RANGE...]
# all: with the page, PDF and pictures, which need some hundred packages more.
set -eu
set -o pipefail
top=$(cd "$(dirname "$0")/../.." && pwd)
. "$top/docs/setup/tell.sh"
unset MAKEFLAGS
parts=first choices=
if [ "${1-}" = all ]; then
    parts=all choices='--with-pdf=yes --with-man=yes --enable-page=yes'
    shift
fi

echo "hobble: packages, then a build in $top/.build/first (about a minute of processor time), then the answer"
"$top/docs/setup/install-packages.sh" $parts
build=$top/.build/first log=$top/.build/first.log
mkdir -p "$build"
run() { # WHAT PATTERN TOTAL COMMAND...: told as it goes, its output in the log, shown where it fails
    local what=$1 pattern=$2 total=$3
    shift 3
    "$@" 2>&1 </dev/null | tee "$log" | tell "$what" "$pattern" "$total" ||
        { tail -n 40 "$log" >&2 && echo "all of it: $log" >&2 && exit 1; }
}
cd "$top"
[ -x configure ] || run 'making configure' '' '' autoreconf -i -v
cd "$build"
# One kind of library is enough here, and takes half the time. What was configured before is kept,
# but for a part that is asked for now.
configured=$([ ! -f config.status ] || ./config.status --config)
case $parts,$configured in
first,?* | all,*--enable-page=yes*) ;;
*) run 'looking at this machine' '' '' "$top/configure" --disable-static $choices ;;
esac
steps=$(make -n 2>/dev/null | grep -cE 'echo "  (CC|CCLD|GEN) ' || true)
run 'building' '^  (CC|CCLD|GEN) ' "$steps" make -j "$(nproc)"

echo
echo '$ .build/first/hobble range' "$@"
status=0
"$build/hobble" range "$@" || status=$?
cat <<END

The program: $build/hobble
From this folder:      .build/first/hobble range --help
By name, everywhere:   make -C .build/first install      (as root; then: hobble range --help)
END
[ $parts = all ] || echo 'With page, PDF, pictures: docs/setup/first-answer.sh all'
exit $status
