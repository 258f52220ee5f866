#!/bin/bash
# SPDX-License-Identifier: GPL-3.0-or-later
# The glove-box card: sizes, words, the same bytes for the same SOURCE_DATE_EPOCH, and each figure
# against the program's own answer, rounded down to whole kilometres (the card's own rule).
set -eu
program=$TOP_BUILDDIR/hobble
dir=$TOP_BUILDDIR/tests/scratch/card
export SOURCE_DATE_EPOCH=1767225600
for tool in pdftotext pdftoppm pdfinfo jq; do
    command -v "$tool" >/dev/null || { echo "skipped: no $tool (docs/setup/install-packages.sh tests)"; exit 77; }
done
rm -rf "$dir" && mkdir -p "$dir" && cd "$dir"
checks=0 faults=0
expect() { # WHAT COMMAND...
    local what=$1
    shift
    checks=$((checks + 1))
    "$@" >/dev/null 2>&1 || { echo "FAIL $what"; faults=$((faults + 1)); }
}
card() { "$program" card --members 600 --vehicle estate --tyre touring-16 "$@"; }
if ! card -o one.pdf 2>err; then
    grep -q 'without PDF' err && { echo "skipped: built without PDF"; exit 77; }
    cat err && exit 1
fi
card -o two.pdf
expect "same bytes" cmp one.pdf two.pdf
pdftotext -layout one.pdf one.txt
# ISO 216: A4 is 210 mm by 297 mm, 595 by 842 points of 1/72 in; three sheets: fronts, backs, A6
expect "A4" grep -qE '^Page size: +595\.[0-9]+ x 841\.[0-9]+' <(pdfinfo one.pdf)
expect "three sheets" grep -qE '^Pages: +3$' <(pdfinfo one.pdf)
# 1767225600 s after the epoch is 2026-01-01 (POSIX, seconds since the epoch)
for text in 2026-01-01 'INVENTED PROFILE' 'Estate car, Alder Lakes' 'hobble [0-9]' 'Stop at once at' 'What to do' 'scrap the tyre' 'at most until 2027-01-01' 'not a permission' 'in doubt: call'; do
    expect "says $text" grep -qE "$text" one.txt
done
cell() { # LABEL PEOPLE LUGGAGE: the row of the card against the program, worse axle, -10 10 25 36 degC
    local want='' wheel ambient
    for ambient in -10 10 25 36; do
        local least=999
        for wheel in front_left rear_left; do
            local km
            km=$("$program" range --json --members 600 --vehicle estate --tyre touring-16 --people "$2" \
                --luggage "$3" --wheel $wheel --ambient="$ambient" | jq '.answer.advised_distance_km | floor')
            [ "$km" -ge "$least" ] || least=$km
        done
        [ "$least" -gt 0 ] && want+=" +$least" || want+=" +STOP"
    done
    expect "row $1:$want" grep -qE "$1$want" <(sed 's/  */ /g' one.txt)
}
cell 'driver alone' 1 0
cell 'half the seats' 3 20
cell 'every seat' 5 40
# STOP is white on black, a figure black on white, beside the word and at half its height: so that it
# shows without colour (the card's own rule)
pdftoppm -r 72 -gray -f 1 -l 1 one.pdf page
ground() { # WORD: the shades beside it on the page, 0 black to 255 white
    local width start x y
    width=$(head -n 2 page-1.pgm | sed -n '2s/ .*//p')
    start=$(head -n 3 page-1.pgm | wc -c)
    pdftotext -f 1 -l 1 -bbox one.pdf - | sed -nE "s/.*xMin=\"([0-9]+).*yMin=\"([0-9]+).*>$1<.*/\1 \2/p" | while read -r x y; do
        od -An -tu1 -j $((start + (y + 4) * width + x - 3)) -N 1 page-1.pgm
    done | sort -u | tr -d ' \n'
}
expect "STOP on black" [ "$(ground STOP)" = 0 ]
figure=$(grep -oE 'driver alone +[0-9]+' one.txt | grep -oE '[0-9]+$' | head -n 1)
expect "figures on white" [ "$(ground "$figure")" = 255 ]
# too few tyres make no paper, but JSON says how many there are (hobble_too_few: 400)
expect "too few refused" bash -c "! $program card --members 399 -o few.pdf 2>few.txt && [ ! -e few.pdf ] && grep -qE '^hobble: --members: .*399, of which [0-9]+ count.* --members [0-9]+' few.txt"
expect "too few said" bash -c "$program card --members 60 --json | jq -e '.too_few and .counted <= 60'"
expect "no file asked: refused" bash -c "! $program card --vehicle estate"
expect "its own loads only" bash -c "! $program card --vehicle estate --people 2 -o no.pdf && [ ! -e no.pdf ]"
expect "example said" bash -c "$program card --members 800 -o ex.pdf && pdftotext ex.pdf - | grep -q 'EXAMPLE'"
# what the figures rest on: what was stated of the tyre; the example is new, and what is open counts against it
says() { pdftotext "$1" - | sed 's/\xc2\xa0/ /g' | tr -s ' \n' ' '; }
card --set age=5.1 --set ran_flat=no --set repaired=no -o aged.pdf
card --set age=5.1 --set ran_flat=no -o open.pdf
expect "new" grep -q 'no older than was stated' <(says ex.pdf)
expect "aged" grep -q 'no older than was stated' <(says aged.pdf)
expect "open" grep -q 'what is open counts against' <(says open.pdf)
echo "card: $checks checks, $faults faults"
[ "$faults" -eq 0 ]
