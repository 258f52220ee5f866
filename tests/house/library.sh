#!/bin/bash
# SPDX-License-Identifier: GPL-3.0-or-later
# What other programs link: the library's names, its headers alone, in C and in C++, and the examples
# of docs/examples, whose answer must be the program's own.
# A change of tests/data/symbols.txt needs another -version-info in src/local.mk.
set -eu
cd "$TOP_BUILDDIR"
export LC_ALL=C
scratch=tests/scratch/library
rm -rf "$scratch" && mkdir -p "$scratch"
faults=0 checks=0
fault() { echo "fault: $*"; faults=$((faults + 1)); }
cxx=${CXX-c++}
have_cxx=yes
command -v "${cxx%% *}" >/dev/null || { have_cxx=no; echo "no C++ compiler: headers and example only in C"; }

# ---- names: the list, what the headers declare, what the library exports ------------------------
names=$TOP_SRCDIR/tests/data/symbols.txt
grep -v '^#' "$names" >$scratch/listed
sort -c $scratch/listed || fault "$names is not sorted"
cat "$TOP_SRCDIR"/src/hobble.h "$TOP_SRCDIR"/src/hobble/*.h | $CC -E -P -x c - -I "$TOP_SRCDIR/src" |
    grep -v '^typedef' | grep -oE '\bhobble_[a-z0-9_]+\(' | tr -d '(' | sort -u >$scratch/declared || true
checks=$((checks + 1))
diff $scratch/declared $scratch/listed || fault "what the headers declare is not what $names lists"
library=.libs/libhobble.so
if [ -e $library ]; then
    checks=$((checks + 3))
    nm -D --defined-only $library | awk '{ print $NF }' | sort -u >$scratch/exported
    diff $scratch/exported $scratch/listed || fault "what the library exports is not what $names lists"
    readelf -d $library | grep -q 'soname: \[libhobble\.so\.[0-9]' || fault "no number in the library's name"
    # hobble.h: nothing here prints or exits; memory streams and buffers are no printing
    used=$(nm -D -u $library | awk '{ print $NF }' | sed 's/@.*//' |
        grep -xE '(v?f?printf|puts|putchar|perror|_?exit|_Exit|abort|system|popen|signal|__v?f?printf_chk|std(out|err|in))' || true)
    case ${SAN_CFLAGS-} in '') [ -z "$used" ] || fault "the library uses:" $used ;; esac
else
    echo "no shared library was built: its names are not looked at"
fi

# ---- each header alone --------------------------------------------------------------------------
for header in "$TOP_SRCDIR"/src/hobble.h "$TOP_SRCDIR"/src/hobble/*.h; do
    checks=$((checks + 1))
    printf '#include "%s"\n#include "%s"\n' "$header" "$header" >$scratch/alone.c
    $CC -std=c17 -Wall -Wextra -Wpedantic -Werror -fsyntax-only -I "$TOP_SRCDIR/src" $scratch/alone.c ||
        fault "$header does not stand alone in C"
    [ $have_cxx = yes ] || continue
    cp $scratch/alone.c $scratch/alone.cc
    $cxx -std=c++17 -Wall -Wextra -Wpedantic -Werror -fsyntax-only -I "$TOP_SRCDIR/src" $scratch/alone.cc ||
        fault "$header does not stand alone in C++"
done

# ---- examples: compiled, run, and held against the program --------------------------------------
profiles=$TOP_SRCDIR/profiles
./hobble range --json --tyre "$profiles/tyre/touring-16.cfg" --vehicle "$profiles/vehicle/estate.cfg" \
    --people 2 --ambient 35C --age 2 --ran-flat no --repaired no >$scratch/answer.json
number() { sed -nE "s/.*\"$1\": *([0-9.e+-]+).*/\1/p" $scratch/answer.json | head -n 1; }
# the examples cut to 0.1 km: advice is never rounded up
want=$(awk -v v="$(number advised_speed_kmh)" -v d="$(number advised_distance_km)" \
    'BEGIN { printf "GO at most %.0f km/h, at most %.1f km", v, int(d * 10) / 10 }')
run_example() { # SOURCE COMPILER...
    local source=$1 got status=0
    shift
    checks=$((checks + 2))
    ./libtool --quiet --tag=CC --mode=link "$@" ${SAN_CFLAGS-} -Wall -Wextra -Werror -I "$TOP_SRCDIR/src" \
        "$TOP_SRCDIR/docs/examples/$source" libhobble.la -lm -o "$scratch/answer-${source##*.}" ||
        { fault "$source does not compile"; return; }
    got=$("$scratch/answer-${source##*.}" "$profiles/tyre/touring-16.cfg" "$profiles/vehicle/estate.cfg") || true
    [ "$got" = "$want" ] || fault "$source says '$got', the program '$want'"
    # a vehicle where a tyre is wanted, and a file that is not there (sysexits.h: 65 and 66)
    "$scratch/answer-${source##*.}" "$profiles/vehicle/estate.cfg" x 2>$scratch/err || status=$?
    [ $status -eq 65 ] && grep -q 'estate.cfg:[0-9]*: kind: .*kind = "tyre"' $scratch/err || fault "$source: a fault: $status $(cat $scratch/err)"
    status=0
    "$scratch/answer-${source##*.}" nowhere.cfg x 2>$scratch/err || status=$?
    [ $status -eq 66 ] && grep -q nowhere.cfg $scratch/err || fault "$source: no file: $status"
}
run_example answer.c $CC -std=c17
[ $have_cxx = no ] || run_example answer.cc $cxx -std=c++17

echo "$checks checks, $faults faults"
[ "$checks" -gt 0 ] && [ "$faults" -eq 0 ]
