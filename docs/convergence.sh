#!/bin/bash
# SPDX-License-Identifier: GPL-3.0-or-later
# Measures how the quantiles settle as members grow, and writes docs/convergence.md on standard
# output. About a minute; not part of make check. Needs hobble on the PATH, and jq.
set -eu
export LC_ALL=C.UTF-8
seeds=16
one() { hobble show mark --members "$1" --seed "$2" --json; }

# the yardstick: members far beyond the table's, over seeds of their own
reference=$(for seed in 101 102 103 104; do one 32000 $seed; done |
    jq -s '[.[].range_approved_types.p5.km] | add / length')

cat <<HEAD
# How many members

Written by docs/convergence.sh: the built-in question (\`hobble show mark --members N --seed S\`), $seeds
seeds a line. P5 and P50 are the 5th and 50th of 100 ranges among the types that pass approval; the
yardstick is the mean of four runs of 32 000 members: P5 = $(printf %.1f "$reference") km.

"rms" is the root mean square over seeds of the distance from the yardstick (for P50: from the
seeds' own mean), over the value. "independent draws" is what the binomial law of order statistics
expects of as many independent draws: a quarter of its 95 % interval, over the value. "holds" counts
how often that interval holds the yardstick.

| members | that pass | P5, km, mean | P5 rms, % | independent draws, % | interval holds | P50 rms, % |
|---:|---:|---:|---:|---:|---:|---:|
HEAD
for members in 125 250 500 1000 2000 4000 8000; do
    for seed in $(seq $seeds); do one $members "$seed"; done | jq -s -r --argjson y "$reference" --arg n $members '
        def mean: add / length;
        map(.range_approved_types) as $r | ($r | map(.p5.km)) as $p5 | ($r | map(.p50.km)) as $p50
        | ($p50 | mean) as $m50
        | [$n, (map(.passed) | mean | round),
           ($p5 | mean * 10 | round / 10),
           ($p5 | map((. - $y) * (. - $y)) | mean | sqrt / $y * 1000 | round / 10),
           ($r | map((.p5.ci_km[1] - .p5.ci_km[0]) / 4 / .p5.km) | mean * 1000 | round / 10),
           "\($r | map(select(.p5.ci_km[0] <= $y and $y <= .p5.ci_km[1])) | length) of \(length)",
           ($p50 | map((. - $m50) * (. - $m50)) | mean | sqrt / $m50 * 1000 | round / 10)]
        | "| " + (map(tostring) | join(" | ")) + " |"'
done
