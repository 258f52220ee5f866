#!/bin/bash
# SPDX-License-Identifier: GPL-3.0-or-later
# The program where it may be put: in its build tree, installed below another root, moved with all that
# came with it; from any folder and with nothing set. It never reads profiles out of the current
# directory, nor beside a program in a folder that all may write into. Uninstall takes all of it away.
# What it holds to is what src/input/data_dir.h and README say.
set -eu
unset HOBBLE_PROFILES MAKEFLAGS MFLAGS MAKELEVEL
export LC_ALL=C.UTF-8
scratch=$TOP_BUILDDIR/tests/scratch/places
rm -rf "$scratch" && mkdir -p "$scratch/stage"
checks=0 faults=0
fault() { echo "fault: $*"; faults=$((faults + 1)); }
clean() { env -i PATH=/usr/bin:/bin ${ASAN_OPTIONS+ASAN_OPTIONS="$ASAN_OPTIONS"} ${LSAN_OPTIONS+LSAN_OPTIONS="$LSAN_OPTIONS"} "$@"; }
finds() { # WHERE PROGRAM FOLDER: started in / it finds its profiles in the folder
    checks=$((checks + 1))
    local got
    got=$(cd / && clean "$2" profile list 2>&1 | sed -n 's,.*	\(.*\)/tyre/touring-16\.cfg$,\1,p')
    [ "$got" = "$3" ] || fault "$1: profiles in '$got', expected '$3'"
    (cd / && clean "$2" range --members 20 --tyre touring-16 >/dev/null) || fault "$1: does not answer"
}
finds 'build tree' "$TOP_BUILDDIR/hobble" "$TOP_BUILDDIR/profiles"

# ---- installed below another root ---------------------------------------------------------------
in_build() { (cd "$TOP_BUILDDIR" && make -s "$@" DESTDIR="$scratch/stage" >"$scratch/make.log" 2>&1) || { cat "$scratch/make.log" && exit 1; }; }
in_build install
program=$(find "$scratch/stage" -type f -path '*/bin/hobble')
prefix=${program%/bin/hobble}
[ -n "$program" ] || { echo "no bin/hobble was installed"; exit 1; }
if [ -d "$prefix/share/hobble/tyre" ]; then
    finds 'installed' "$program" "$prefix/share/hobble"

    # ---- moved ------------------------------------------------------------------------------------
    cp -a "$prefix" "$scratch/moved"
    finds 'moved' "$scratch/moved/bin/hobble" "$scratch/moved/share/hobble"

    # ---- what anybody may have put there ------------------------------------------------------------
    mkdir -p "$scratch/here/tyre" "$scratch/here/profiles/tyre" "$scratch/here/share/hobble/tyre"
    for place in tyre profiles/tyre share/hobble/tyre; do
        cp "$TOP_SRCDIR/profiles/tyre/touring-16.cfg" "$scratch/here/$place/nowhere-else.cfg"
    done
    for one in "$TOP_BUILDDIR/hobble" "$program"; do
        checks=$((checks + 1)) status=0
        (cd "$scratch/here" && clean "$one" range --members 20 --tyre nowhere-else >/dev/null 2>&1) || status=$?
        [ $status -eq 66 ] || fault "the current directory is trusted by $one: status $status"
    done
    cp -a "$scratch/moved" "$scratch/open" && chmod 1777 "$scratch/open"
    checks=$((checks + 1))
    if (cd / && clean "$scratch/open/bin/hobble" profile list) | grep -q "$scratch/open/"; then
        fault "a folder that all may write into is trusted"
    fi
else
    echo "bin and share are not below one prefix here: nothing to move"
fi

# ---- what came with it, and what is left ----------------------------------------------------------
for file in doc/hobble/SAFETY.md doc/hobble/README.md doc/hobble/schema/range.json doc/hobble/examples/answer.c \
    bash-completion/completions/hobble zsh/site-functions/_hobble fish/vendor_completions.d/hobble.fish; do
    checks=$((checks + 1))
    [ -s "$prefix/share/$file" ] || [ ! -d "$prefix/share/hobble/tyre" ] || fault "not installed: $file"
done
in_build uninstall
checks=$((checks + 1))
left=$(find "$scratch/stage" ! -type d)
[ -z "$left" ] || fault "left after uninstall: $left"
left=$(cd "$prefix" 2>/dev/null && find . -path '*hobble*' || true)
[ -z "$left" ] || fault "folders left after uninstall: $left"

echo "$checks checks, $faults faults"
[ "$faults" -eq 0 ]
