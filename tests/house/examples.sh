#!/bin/bash
# SPDX-License-Identifier: GPL-3.0-or-later
# Runs the examples of README.md, docs/*.md, docs/guide/*.md and docs/man/*.scd: every line that begins
# with "hobble " or "$ hobble " in a fenced block, in one scratch folder; in docs/guide also "sed ", with
# which files are filled in. Manual pages have theirs in fences, or they would be broken into lines that
# cannot be copied. An example may end with
# "# status N". A block between "<!-- answer: COMMAND -->" and "<!-- end -->" shows what the command
# prints: its layout must be as printed today, digits apart. With --write (make docs) such blocks are
# written anew.
set -eu
export PATH=$TOP_BUILDDIR:$PATH LC_ALL=C.UTF-8
scratch=$TOP_BUILDDIR/tests/scratch/examples
rm -rf "$scratch" && mkdir -p "$scratch" && cd "$scratch"
cp -r "$TOP_SRCDIR/profiles" . && chmod -R u+w profiles
ran=0 failed=0
# what a program was built without, it must refuse, and nothing else: the status of such an example
without_page=$(hobble page -o probe.html 2>&1 | grep -c 'built without the page' || true)
without_pdf=$(hobble card -o probe.pdf 2>&1 | grep -c 'built without PDF' || true)
without_gnuplot=$(command -v gnuplot >/dev/null && echo 0 || echo 1)

# A block after "<!-- file: NAME -->" is a file that the reader makes.
make_files() { # FILE
    awk '/^<!-- file: [a-z.-]+ -->$/ {name = $3; next}
        name != "" && /^```/ {if (inside) name = ""; inside = !inside; next}
        name != "" && inside {print >name}' "$1"
}

run_examples() { # FILE
    local line want got
    make_files "$1"
    while IFS= read -r line; do
        want=0
        case $line in *'# status '*) want=${line##*# status } ;; esac
        case $line in
        'hobble page '*) [ "$without_page" = 0 ] || want=70 ;;
        'hobble card '*--json*) ;;
        'hobble card '* | *' --sheet '*) [ "$without_pdf" = 0 ] || want=70 ;;
        *' --plot '*) [ "$without_gnuplot" = 0 ] || want=66 ;;
        esac
        got=0
        bash -c "${line%%  #*}" >out.txt 2>err.txt </dev/null || got=$?
        ran=$((ran + 1))
        [ "$got" = "$want" ] || { echo "$1: status $got, expected $want: $line" && cat err.txt && failed=$((failed + 1)); }
    done < <(awk '/^<!-- answer: / {shown = 1} /^<!-- end -->/ {shown = 0}
        /^```/ {fence = !fence; next}
        !shown && fence && (/^(\$ )?hobble [a-z]/ || (FILENAME ~ /\/guide\// && /^sed /)) {
            sub(/^\$ /, ""); print }' "$1")
    if grep -n $'^\thobble [a-z]' "$1" /dev/null; then
        echo "$1: examples stand in a fence, so that they are copied whole" && failed=$((failed + 1))
    fi
}

same_layout() { diff <(sed -E 's/[0-9]+/0/g; s/ +/ /g' "$1") <(sed -E 's/[0-9]+/0/g; s/ +/ /g' "$2"); }

check_answers() { # FILE [--write]
    local command
    grep -oE '^<!-- answer: .* -->' "$1" | sed -E 's/^<!-- answer: (.*) -->$/\1/' >commands.txt || return 0
    while IFS= read -r command; do
        bash -c "$command" >now.txt
        awk -v head="<!-- answer: $command -->" '$0 == head {on = 1; next} $0 == "<!-- end -->" {on = 0} on && $0 !~ /^```/' "$1" >then.txt
        ran=$((ran + 1))
        if [ "${2-}" = --write ]; then
            awk -v head="<!-- answer: $command -->" '
                $0 == head {print; print "```"; while ((getline line < "now.txt") > 0) print line; print "```"; skip = 1; next}
                $0 == "<!-- end -->" {skip = 0} !skip' "$1" >new.txt && cat new.txt >"$1"
        elif ! same_layout then.txt now.txt; then
            echo "$1: the answer shown is not today's: $command" && failed=$((failed + 1))
        fi
    done <commands.txt
}

for file in "$TOP_SRCDIR"/README.md "$TOP_SRCDIR"/docs/*.md "$TOP_SRCDIR"/docs/guide/*.md "$TOP_SRCDIR"/docs/man/*.scd; do
    [ -e "$file" ] || continue
    # the answers of a walk rest on files that its steps make
    case ${1-},$file in --write,*/guide/*) run_examples "$file" ;; --write,*) ;; *) run_examples "$file" ;; esac
    check_answers "$file" "${1-}"
done
echo "$ran examples, $failed failed"
[ "$ran" -gt 0 ] && [ "$failed" -eq 0 ]
