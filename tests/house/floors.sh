#!/bin/bash
# SPDX-License-Identifier: GPL-3.0-or-later
# The house stands on its floors: includes only go down, the ground floors need nothing but libm,
# and functions and files stay short. Source of the rules: DEVELOPERS.md.
set -eu
cd "$TOP_SRCDIR"
. tests/house/tree.sh
shopt -s nullglob
faults=0
fault() { echo "fault: $*"; faults=$((faults + 1)); }

declare -A floor=([core]=0 [advice]=1 [solve]=2 [input]=3 [study]=4 [report]=5 [page]=5 [cli]=6)

# ---- includes --------------------------------------------------------------------------------
# Inside report: what each sub-room may use beside its own files. Files above the sub-rooms (out.h, of
# a folder's parts) are ground for all of them.
declare -A uses=([describe]='' [text]='describe' [json]='describe' [picture]='describe'
    [paper]='describe json')
sub_room() { local rest=${1#report/}; [ "$1" = "$rest" ] || [ "${rest%%/*}" = "$rest" ] || echo "${rest%%/*}"; }
checked=0
while IFS=: read -r file included; do
    room=${file#src/} room=${room%%/*}
    # the parts of hobble.h stand alone as it does; only it includes them
    [ "$room" != hobble.h ] || [[ $included != hobble/* ]] || continue
    [ "$room" != hobble.h ] || { fault "$file includes $included: hobble.h stands alone"; continue; }
    checked=$((checked + 1))
    [ "$included" != hobble.h ] || continue
    below=${included%%/*}
    if [ -z "${floor[$room]+x}" ]; then fault "$file: unknown room $room"
    elif [ ! -f "src/$included" ]; then fault "$file: $included is not written relative to src/"
    elif [ "${floor[$below]}" -gt "${floor[$room]}" ]; then fault "$file includes upwards: $included"
    elif [ "$room,$below" = study,input ]; then fault "$file: libhobble does not hold $included"
    elif [ "${floor[$below]}" -eq "${floor[$room]}" ] && [ "$below" != "$room" ]; then
        fault "$file includes across: $included"
    fi
    here=$(sub_room "${file#src/}") there=$(sub_room "$included")
    if [ "$room,$below" != report,report ] || [ "$here" = "$there" ] || [ -z "$there" ]; then continue
    elif [ -z "$here" ]; then fault "$file includes upwards: $included"
    elif [ -z "${uses[$here]+x}" ]; then fault "$file: unknown sub-room $here"
    elif [[ " ${uses[$here]} " != *" $there "* ]]; then fault "$file: $here does not use $there"
    fi
done < <(grep -rHoP '^\s*#\s*include\s+"\K[^"]+' src --include='*.[ch]' --include='*.inc')

# What reads profiles is in libhobble too: it needs nothing of input but itself.
reader=$(awk '/^libreader_la_SOURCES/ { on = 1; next } on { print $1 } on && !/\\$/ { exit }' src/local.mk)
[ -n "$reader" ] || fault "src/local.mk names no reader of profiles"
for file in $reader src/input/profile_public.c; do
    for included in $(grep -ohP '^\s*#\s*include\s+"\Kinput/[^"]+' "$file"); do
        grep -qx "src/$included" <<<"$reader" || fault "$file includes $included: libhobble does not hold it"
    done
done

# The ground floors are plain C17: these headers and no others.
plain='errno|float|immintrin|inttypes|limits|math|stdalign|stdbool|stddef|stdint|string'
while IFS= read -r line; do fault "not a header for core or advice: $line"; done \
    < <(grep -rHE '^\s*#\s*include\s+<' src/core src/advice | grep -vE "<($plain)\.h>" || true)

# ---- symbols ---------------------------------------------------------------------------------
# allowed: libm, these functions of string.h (strtod is not there: it follows the locale), and
# what compilers add by themselves (stack guard, sanitizers, coverage, processor detection).
string='(__)?(mem(chr|cmp|cpy|move|set)|str(chr|cmp|cspn|len|ncmp|nlen|pbrk|rchr|spn|str))(_chk)?'
# bcmp: what clang makes of a memcmp that is only compared with 0
compiler='bcmp|_GLOBAL_OFFSET_TABLE_|__stack_chk_fail|__cpu_(model|indicator_init)|__tls_get_addr'
compiler+='|(__asan|__ubsan|__sanitizer|__sancov|__gcov|__llvm|__start___sanc|__stop___sanc)_.*'
libm=$(nm -D --defined-only --without-symbol-versions "$($CC -print-file-name=libm.so.6)" |
    awk '{ print $NF }')
check_symbols() { # room, then the rooms below it
    local room defined='' needed=''
    for room; do
        local objects=("$TOP_BUILDDIR/src/$room"/{,.libs/}*.o)
        [ ${#objects[@]} -gt 0 ] || { fault "no objects in $TOP_BUILDDIR/src/$room"; return; }
        defined+=$'\n'$(nm --defined-only "${objects[@]}" | awk 'NF == 3 { print $3 }')
        [ "$room" != "$1" ] || needed=$(nm -u "${objects[@]}" | awk 'NF == 2 { print $2 }' | sort -u)
    done
    [ -n "$libm" ] && [ -n "$needed" ] || fault "nm shows nothing for $1"
    while IFS= read -r name; do fault "$1 needs $name"; done \
        < <(grep -vxE "$string|$compiler" <<<"$needed" | grep -vxFf <(echo "$libm$defined"))
}
check_symbols core
check_symbols advice core

# ---- lengths: functions 40 wanted, 60 enforced; files 500 wanted, 600 enforced ---------------
# The words of a language are one file, however many they are.
# .clang-format puts a function's braces, and no others, alone in the first column.
while IFS= read -r line; do
    case $line in warn*) echo "$line" ;; *) fault "$line" ;; esac
done < <(ours '\.([ch]|inc)$' src tests | grep -v '/describe/english\.inc$' | xargs awk '
    function judge(what, n, wanted, most) {
        if (n > most) print what ": " n " lines, at most " most
        else if (n > wanted) print "warn: " what ": " n " lines, wanted " wanted
    }
    FNR == 1 { if (file) judge(file, last, 500, 600); file = FILENAME }
    /^\{$/ { start = FNR }
    /^\}$/ && start { judge(FILENAME ":" start, FNR - start - 1, 40, 60); start = 0 }
    { last = FNR }
    END { judge(file, last, 500, 600) }')

echo "$checked includes checked, $faults faults"
[ "$checked" -gt 0 ] && [ "$faults" -eq 0 ]
