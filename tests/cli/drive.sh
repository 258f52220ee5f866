#!/bin/bash
# SPDX-License-Identifier: GPL-3.0-or-later
# The demo drive: the files are what its program writes, numbers to their last digit but one (compilers
# differ in that), and it is one drive in every format. Source of the temperatures: docs/model.md by its second implementation.
set -eu
export PATH=$TOP_BUILDDIR:$PATH HOBBLE_PROFILES=$TOP_SRCDIR/profiles LC_ALL=C.UTF-8
scratch=$TOP_BUILDDIR/tests/scratch/drive
rm -rf "$scratch" && mkdir -p "$scratch" && cd "$scratch"
for tool in jq python3; do
    command -v $tool >/dev/null || { echo "skipped: no $tool (docs/setup/install-packages.sh tests)"; exit 77; }
done
faults=0
fault() { echo "$*" >&2 && faults=$((faults + 1)); }

"$TOP_BUILDDIR/tests/demo/drive" .
/usr/bin/python3 - "$TOP_SRCDIR/profiles/drive" <<'PY' || fault 'profiles/drive is not what tests/demo/drive writes'
import os, re, sys
number = re.compile(r"-?[0-9]+(?:\.([0-9]+))?")
bad = 0
for name in sorted(os.listdir(".")):
    if not name.startswith("shuttle."):
        continue
    mine, kept = (open(os.path.join(d, name), encoding="utf-8").read() for d in (".", sys.argv[1]))
    if name.endswith(".nmea"):
        mine, kept = (re.sub(r"\*[0-9A-F]{2}", "", t) for t in (mine, kept))
    if number.sub("0", mine) != number.sub("0", kept):
        print(name, "has other words")
        bad += 1
        continue
    for a, b in zip(number.finditer(mine), number.finditer(kept)):
        step = 10.0 ** -len(a.group(1) or "")
        if abs(float(a.group()) - float(b.group())) > 1.001 * step:
            print(name, a.group(), b.group())
            bad += 1
            break
sys.exit(bad > 0)
PY
head -qn 1 "$TOP_SRCDIR"/profiles/drive/shuttle.* | grep -c 'SIMULATED, not measured' | grep -qx 4 ||
    fault 'a demo file does not say in its first line that it is simulated'

# One drive, whatever the format. In the gap the speeds of its ends differ by a light that only places tell of: 1.1 of
# 1.8 km, which is less than 2 % of the way.
for format in csv gpx nmea jsonl; do
    hobble replay "$TOP_SRCDIR/profiles/drive/shuttle.$format" --load 75% --json >$format.json
done
jq -es '.[0] as $a | all(.[]; ((.way_km - $a.way_km) | fabs) < 0.02 * $a.way_km
    and ((.recorded_min - $a.recorded_min) | fabs) < 0.05 and ((.flat.min - $a.flat.min) | fabs) < 0.1
    and ((.warning.km - $a.warning.km) | fabs) < 0.1
    and ((.answer.advised_distance_km - $a.answer.advised_distance_km) | fabs) < 1.0
    and .answer.verdict == $a.answer.verdict)' csv.json gpx.json nmea.json jsonl.json >/dev/null ||
    fault 'the formats tell different drives'
# In two files, and the tyre beside the car: the same.
{ head -2 "$TOP_SRCDIR/profiles/drive/shuttle.csv" && sed -n '3,400p' "$TOP_SRCDIR/profiles/drive/shuttle.csv"; } >first.csv
{ head -2 "$TOP_SRCDIR/profiles/drive/shuttle.csv" && sed -n '401,$p' "$TOP_SRCDIR/profiles/drive/shuttle.csv"; } >second.csv
hobble replay first.csv second.csv --load 75% --json >two.json
for part in two; do
    for j in csv $part; do
        jq 'del(.logs, .oddities)' $j.json >$j.plain
    done
    cmp csv.plain $part.plain || fault "$part parts are another drive"
done
cut -d, -f1-4,9 "$TOP_SRCDIR/profiles/drive/shuttle.csv" >car.csv
cut -d, -f1,5-8 "$TOP_SRCDIR/profiles/drive/shuttle.csv" >tyre.csv
for order in 'car.csv tyre.csv' 'tyre.csv car.csv'; do
    hobble replay $order --load 75% --json >beside.json
    jq -es '.[0].answer == .[1].answer and .[0].way_km == .[1].way_km' csv.json beside.json >/dev/null ||
        fault "$order tell another drive"
done
echo "$faults faults"
[ $faults -eq 0 ]
