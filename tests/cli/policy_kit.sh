#!/bin/bash
# SPDX-License-Identifier: GPL-3.0-or-later
# One fleet, one kit, read back from what was written: cards, sheet, table, CSV and page's data against
# the rows of policy.json, in both unit systems, rounded down (the project's own rule; a mile is
# 1.609344 km, international agreement of 1959). Too few tyres make no paper.
set -eu
export PATH=$TOP_BUILDDIR:$PATH HOBBLE_PROFILES=$TOP_SRCDIR/profiles SOURCE_DATE_EPOCH=1767225600 LC_ALL=C.UTF-8
scratch=$TOP_BUILDDIR/tests/scratch/kit
rm -rf "$scratch" && mkdir -p "$scratch" && cd "$scratch"
fleet=$TOP_SRCDIR/tests/data/fleet/small.cfg
for tool in pdftotext jq; do
    command -v "$tool" >/dev/null || { echo "skipped: no $tool"; exit 77; }
done
checks=0 failed=0
fault() { echo "fault: $*"; failed=$((failed + 1)); }
same() { # WHAT SHOWN MUST
    checks=$((checks + 1))
    [ "$2" = "$3" ] || fault "$1: '$2', must be '$3'"
}
plain() { sed 's/\xc2\xa0/ /g' | tr -s ' \n' ' '; }

way() { # DISTANCE UNIT: as the table and the sheet write it
    [ "$1" -gt 0 ] && echo "$1 $2" || echo stop
}

# what policy.json says, in whole units: by the rule, alone; S is the length of a unit in km
told() { # FOLDER S VEHICLE LOAD SEASON KEY
    jq -r --argjson s "$2" --arg v "$3" --arg l "$4" --arg e "$5" \
        ".rows[] | select(.vehicle == \$v and .load == \$l and .season == \$e).$6 / \$s + 1e-9 | floor" "$1/policy.json"
}

check_card() { # FOLDER NUMBER VEHICLE S UNIT SPEED
    local card=$1/card-$2.pdf load season way row line
    pdftotext -layout -f 1 -l 1 "$card" front.txt
    plain <front.txt >front
    for load in one full; do
        row=$load
        for season in cold hot; do
            way=$(told "$1" "$4" "$3" $load $season by_rule_km)
            [ "$way" -gt 0 ] || way=STOP
            row+=" $way"
        done
        same "$card, $load" "$(sed 's/  */ /g' front.txt | grep -cE "^ ?$row $row ?$")" 5 # ten cards, two in a line
    done
    grep -qF "$5 at $6 " front || fault "$card: not at $6"
    # the rule on the front, its words as in policy.json
    while read -r line; do
        checks=$((checks + 1))
        pdftotext -f 1 -l 1 "$card" - | plain | grep -qF "$(echo "$line" | plain | sed 's/ $//')" || fault "$card: not on the front: $line"
    done < <(jq -r '.rule.lines[]' "$1/policy.json")
    # the day (1767225600 s is 2026-01-01, POSIX), a year later, no permission, whom to call
    for line in 2026-01-01 'at most until 2027-01-01' 'not a permission' "hobble $(hobble --version | grep -oE '[0-9]+\.[0-9.]+' | head -1)" 'STOP, or in doubt: call'; do
        checks=$((checks + 1))
        pdftotext -f 1 -l 1 "$card" - | plain | grep -qF "$line" || fault "$card: does not say: $line"
    done
}

check_tables() { # FOLDER S UNIT
    local vehicle load season rule alone n=0
    pdftotext -layout "$1/policy.pdf" - | sed 's/  */ /g; s/^ //' >sheet.txt
    sed 's/  */ /g' "$1/policy.txt" >table.txt
    for vehicle in car bus; do for load in one full; do for season in cold hot; do
        rule=$(told "$1" "$2" $vehicle $load $season by_rule_km)
        alone=$(told "$1" "$2" $vehicle $load $season advised_distance_km)
        for file in sheet.txt table.txt; do
            same "$1 $file, $vehicle $load $season" \
                "$(grep -oE "^$vehicle $load $season (stop|[0-9]+ $3) (stop|[0-9]+ $3)" $file)" \
                "$vehicle $load $season $(way "$rule" "$3") $(way "$alone" "$3")"
        done
        # with a line of names first, the last but one column; RFC 4180
        n=$((n + 1))
        same "$1 policy.csv, row $n" "$(sed -n "$((n + 1))p" "$1/policy.csv" | awk -F, '{print $(NF-1)}')" \
            "$(jq -r ".rows[$n - 1].by_rule_km" "$1/policy.json")"
    done; done; done
}

check_page() { # FOLDER
    grep -o '"vehicles":\[.*\]}' "$1/page.html" | sed 's/^"vehicles"://; s/}$//' >vehicles.json
    same "$1 page.html" "$(jq -n --slurpfile p vehicles.json --slurpfile k "$1/policy.json" '
        $k[0] as $k | $p[0] | length == 2 and all(.name as $n | (.rows | map({(.[0]): .[1]}) | add) as $r
            | ($k.rows | map(select(.vehicle == $n).by_rule_km) | min) as $least
            | ($r.fleet_distance - $r.unseen / 60 * $r.speed_before - $least | fabs) < 1e-9
              and ($r.speed_limit - $k.rule.speed_kmh | fabs) < 1e-9 and $r.unseen == 5)')" true
}

study=(--members 800)
hobble policy "$fleet" --out metric "${study[@]}" >metric.txt 2>err || { cat err; exit 1; }
[ -e metric/card-1.pdf ] || { echo "skipped: built without PDF"; exit 77; }
mkdir us && cp -r metric/parts us/
hobble policy "$fleet" --out us --units us "${study[@]}" >us.txt
same "rows" "$(jq '.rows | length' metric/policy.json)" 8
same "nothing contradicts" "$(jq -c '[.kit.checked > 60, .kit.contradictions, .too_few]' metric/policy.json)" '[true,0,false]'
same "never above the rule" "$(jq '([.rule.distance_km, .rule.exception.distance_km // 0] | max) as $m | .rows | all(.by_rule_km <= $m)' metric/policy.json)" true
speed=$(jq '.rule.speed_kmh + 1e-6 | floor' metric/policy.json)
mph=$(jq '.rule.speed_kmh / 1.609344 + 1e-6 | floor' metric/policy.json)
for v in 1:car 2:bus; do
    check_card metric "${v%:*}" "${v#*:}" 1 km "$speed km/h"
    check_card us "${v%:*}" "${v#*:}" 1.609344 miles "$mph mph"
done
same "its number" "$(pdftotext -f 1 -l 1 metric/card-1.pdf - | plain | grep -c 'call 555 0100')" 1
check_tables metric 1 km
check_tables us 1.609344 mi
if [ -e metric/page.html ]; then check_page metric && check_page us; fi
[ ! -e metric/card-1-rear.pdf ] || fault "a card for each axle"

# the same parts make the same papers, byte for byte
mkdir again && cp -r metric/parts again/
hobble policy "$fleet" --out again --merge "${study[@]}" >/dev/null
diff -r metric again || fault "another kit out of the same parts"

# too few tyres: no paper, and none of an earlier run left beside the table
mkdir few && cp metric/*.pdf few/ && touch few/page.html
hobble policy "$fleet" --out few --members 60 >few.txt 2>err
same "files of too few" "$(cd few && echo *)" "parts policy.csv policy.json policy.txt"
for text in 'TOO FEW TYRES: [0-9]+ of 60 members count' 'With --members [0-9]+ they are' 'policy.pdf' 'card-1.pdf' 'page.html'; do
    checks=$((checks + 1))
    grep -qE "$text" err || fault "stderr does not say $text"
done
grep -q 'TOO FEW TYRES' few.txt || fault "the text does not say that they are too few"
same "too few in JSON" "$(jq -c '[.too_few, .counted < 400]' few/policy.json)" '[true,true]'
echo "policy_kit: $checks checks, $failed faults"
[ "$failed" -eq 0 ]
