#!/bin/bash
# SPDX-License-Identifier: GPL-3.0-or-later
# Installs what is missing, builds below .build/ and passes every test: each test of `make check`
# with gcc and the warnings as errors. With CI=true (as .ci/run sets it) the same again with clang
# and with the sanitizers, then unit tests under valgrind, then `make distcheck`.
# Ends with the Check totals of each stage and "N passed, M failed" over all; status 0 when M is 0.
set -eu
top=$(cd "$(dirname "$0")/../.." && pwd)
build=$top/.build
ci=${CI-false}
passed=0 failed=0 totals=
unset MAKEFLAGS

# stage NAME CONFIGURE-ARGUMENTS...: builds in .build/NAME, runs make check, counts the results.
stage() {
    local name=$1 dir=$build/$1 before=$failed well=yes
    shift
    echo "==== $name"
    rm -rf "$dir" && mkdir -p "$dir"
    (cd "$dir" && "$top/configure" -q "$@" && make -s -k -j "$(nproc)" &&
        make -s -k -j "$(nproc)" check VERBOSE=1) || well=no
    count "$name" "$dir"
    # What broke before any test could say so counts as one.
    [ $well = yes ] || [ "$failed" -gt "$before" ] || failed=$((failed + 1))
}

# count NAME DIR: adds the Check runner's checks and every other test; a skipped test did not pass.
count() {
    local line
    line=$(totals_in "$2/tests/unit/unit.log")
    totals+="$1: ${line:-no Check totals}"$'\n'
    if [[ $line =~ Checks:\ ([0-9]+),\ Failures:\ ([0-9]+),\ Errors:\ ([0-9]+) ]]; then
        local bad=$((BASH_REMATCH[2] + BASH_REMATCH[3]))
        passed=$((passed + BASH_REMATCH[1] - bad)) failed=$((failed + bad))
    else
        failed=$((failed + 1))
    fi
    passed=$((passed + $(results PASS "$2")))
    failed=$((failed + $(results 'FAIL|ERROR|SKIP|XPASS' "$2")))
}

totals_in() { grep -hE '^[0-9]+%: Checks: ' "$1" | tail -n 1; }

results() { # OUTCOME DIR: how many tests other than the Check runner ended so
    find "$2/tests" -name '*.trs' ! -name unit.trs -exec grep -hE ":test-result: ($1)" {} + | wc -l
}

# once NAME COMMAND...: one more test that either passes or does not, its output kept in a log.
once() {
    local name=$1
    shift
    echo "==== $name"
    if "$@" >"$build/$name.log" 2>&1; then
        passed=$((passed + 1))
    else
        failed=$((failed + 1)) && tail -n 60 "$build/$name.log"
    fi
    totals+="$name: $(totals_in "$build/$name.log")"$'\n'
}

with_valgrind() {
    cd "$build/gcc"
    # Forked tests make valgrind repeat itself per test; in one process a fault still names its test.
    # It is some fifty times slower: fewer random questions, and not the suites that only compute on
    # and on with what the others have shown; the sanitizers run those whole.
    export HOBBLE_TEST_CASES=12 HOBBLE_TEST_CVODE=2
    CK_FORK=no TOP_SRCDIR=$top TOP_BUILDDIR=$build/gcc srcdir=$top ./libtool --mode=execute \
        valgrind -q --error-exitcode=1 --leak-check=full --errors-for-leak-kinds=definite \
        --suppressions="$top/tests/house/valgrind.supp" tests/unit/unit marking status quantity \
        profile profile_dir journey physics reference cvode question study condition map show
}

if [ "$ci" = true ]; then packages=ci; else packages=tests; fi
"$top/docs/setup/install-packages.sh" $packages
mkdir -p "$build"
echo "==== autoreconf"
(cd "$top" && autoreconf -i) >"$build/autoreconf.log" 2>&1 || { cat "$build/autoreconf.log" && exit 1; }

all_parts='--with-sundials=yes --with-pdf=yes --with-man=yes --enable-werror'
stage gcc $all_parts --enable-page=yes CC=gcc
if [ "$ci" = true ]; then
    # The page is the same bytes from every native compiler: it is tried once, and shortly in distcheck.
    # The walks of DEVELOPERS.md build a copy: once is enough.
    export HOBBLE_LEFT_OUT='page walks'
    stage clang $all_parts --enable-page=no CC=clang
    export ASAN_OPTIONS=strict_string_checks=1:detect_stack_use_after_return=1
    export UBSAN_OPTIONS=print_stacktrace=1
    export LSAN_OPTIONS=suppressions=$top/tests/house/leaks.supp:print_suppressions=0
    stage sanitize --enable-sanitize --enable-page=no --disable-shared CC=gcc CFLAGS='-O1 -g'
    unset HOBBLE_LEFT_OUT
    once valgrind with_valgrind
    once distcheck env HOBBLE_LEFT_OUT=walks PAGE_QUESTIONS=60 PAGE_PART=agree make -s -C "$build/gcc" distcheck
fi

echo
printf '%s' "$totals"
echo "$passed passed, $failed failed"
[ "$failed" -eq 0 ]
