#!/bin/bash
# SPDX-License-Identifier: GPL-3.0-or-later
# hobble policy cut up: a run that was killed goes on and gives the bytes of one that was not; shards
# under GNU parallel, each in a folder of its own, merge to the same bytes (definition). So few
# members make no papers: those are compared in policy_kit.sh.
set -eu
export PATH=$TOP_BUILDDIR:$PATH SOURCE_DATE_EPOCH=0 LC_ALL=C.UTF-8
scratch=$TOP_BUILDDIR/tests/scratch/shards
rm -rf "$scratch" && mkdir -p "$scratch" && cd "$scratch"
fleet=$TOP_SRCDIR/tests/data/fleet/small.cfg
study=(--members 200 --threads 1)
failed=0
fault() { echo "fault: $*"; failed=1; }

hobble policy "$fleet" --out whole "${study[@]}" >whole.txt
parts=$(find whole/parts -name 'part-*.txt' | wc -l)
[ "$parts" -ge 4 ] || fault "only $parts parts: nothing to cut"
[ -s whole/policy.json ] && [ -s whole/policy.csv ] && [ -s whole/policy.txt ] || fault "files are missing"

# ---- killed, and taken up again ----------------------------------------------------------------
hobble policy "$fleet" --out killed "${study[@]}" >/dev/null 2>&1 &
victim=$!
while kill -0 "$victim" 2>/dev/null && [ ! -e killed/parts/part-0001.txt ]; do sleep 0.02; done
kill -KILL "$victim" 2>/dev/null || true
wait "$victim" 2>/dev/null || true
if [ -e killed/policy.json ]; then # a busy machine may come with the kill when all is done
    echo "ended before it could be killed: cut by hand"
    find killed -maxdepth 1 -type f -delete
    find killed/parts -name 'part-????.txt' ! -name part-0001.txt -delete
fi
left=$(find killed/parts -name 'part-????.txt' | wc -l)
[ "$left" -ge 1 ] && [ "$left" -lt "$parts" ] && [ ! -e killed/policy.json ] ||
    fault "was not killed on its way ($left parts of $parts)"
# the state of another sample is refused, not mixed in
status=0
hobble policy "$fleet" --out killed --members 201 >/dev/null 2>other.txt || status=$?
[ "$status" -eq 65 ] && grep -q 'another folder for another fleet' other.txt || fault "mixed samples: $status"
touch -d '2001-01-01' killed/parts/part-0001.txt
hobble policy "$fleet" --out killed "${study[@]}" >killed.txt
[ "$(date -r killed/parts/part-0001.txt +%Y)" = 2001 ] || fault "what was there was solved again"
cmp whole.txt killed.txt || fault "text of the resumed run"
find killed/parts -name 'part-*.txt.*' -delete # what the kill may have left of a part under way
diff -r whole killed || fault "the resumed run differs"

# ---- shards ------------------------------------------------------------------------------------
if command -v parallel >/dev/null; then
    parallel --will-cite -j 2 \
        hobble policy "$fleet" --out shard-{} --shard {}/3 "${study[@]}" ::: 1 2 3 >shards.txt
else
    # one after the other gives the same parts; only running at once is then not tried
    echo 'no GNU parallel (docs/setup/install-packages.sh tests): shards one after the other'
    for shard in 1 2 3; do
        hobble policy "$fleet" --out "shard-$shard" --shard "$shard/3" "${study[@]}"
    done >shards.txt
fi
[ "$(grep -c '^shard [123] of 3: ' shards.txt)" -eq 3 ] || fault "shards say: $(cat shards.txt)"
mkdir -p merged/parts
status=0
cp shard-1/parts/* merged/parts/
hobble policy "$fleet" --out merged --merge "${study[@]}" >/dev/null 2>missing.txt || status=$?
[ "$status" -eq 66 ] && grep -q 'part-0002.txt' missing.txt || fault "a missing part: status $status"
[ ! -e merged/policy.json ] || fault "reported without all parts"
for shard in 2 3; do cp shard-$shard/parts/* merged/parts/ 2>/dev/null || true; done
hobble policy "$fleet" --out merged --merge "${study[@]}" >merged.txt
cmp whole.txt merged.txt || fault "text of the merged shards"
diff -r whole merged || fault "the merged shards differ"

# ---- a part that was touched -------------------------------------------------------------------
sed -i '2s/[0-9]/7/' merged/parts/part-0001.txt
cmp -s whole/parts/part-0001.txt merged/parts/part-0001.txt && fault "the part was not touched"
status=0
hobble policy "$fleet" --out merged --merge "${study[@]}" >/dev/null 2>touched.txt || status=$?
[ "$status" -eq 65 ] && grep -q 'a whole part' touched.txt || fault "a touched part: status $status"
[ "$failed" -eq 0 ] && echo "$parts parts: killed, resumed, sharded, merged: the same bytes"
exit "$failed"
