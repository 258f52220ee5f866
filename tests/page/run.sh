#!/bin/bash
# SPDX-License-Identifier: GPL-3.0-or-later
# The page: the program against it, then a real browser. Skipped (77), and said why, when the page
# was not built or node, npm's test-only packages or Chromium are not there. PAGE_PART: agree,
# browser or all. PAGE_QUESTIONS: how many questions page and program are compared on.
set -eu
part=${PAGE_PART-all}
program=$TOP_BUILDDIR/hobble
dir=$TOP_BUILDDIR/tests/scratch/page
chromium=${CHROMIUM-/usr/bin/chromium}
export CHROMIUM=$chromium
skip() { echo "skipped: $*"; exit 77; }

command -v node >/dev/null || skip "no node"
[ -f "$TOP_BUILDDIR/src/page/template.html" ] || skip "built without the page"
mkdir -p "$dir/page"
cp -f "$TOP_SRCDIR"/tests/page/{*.mjs,package.json,package-lock.json} "$dir"
cp -f "$TOP_SRCDIR"/src/page/*.js "$TOP_BUILDDIR"/src/page/table.js "$dir/page"
echo '{"type":"module"}' >"$dir/page/package.json"
cd "$dir"

"$program" page -o page.html
"$program" page --units us -o page-us.html
# A vehicle with a number to call, and its page.
cat >towed.cfg <<'CFG'
kind = "vehicle"; vehicle_name = "Van, Alder Lakes, invented"; recovery_number = "+44 1632 960123 Alder Lakes yard";
CFG
"$program" page ./towed.cfg touring-16 compact-15 -o fleet.html
# Tyres that something is known of: the demo's; one that was driven flat a little, itself; one found
# destroyed; one whose evidence contradicts itself; one with all kinds and another seed's sample.
tyre='kind = "tyre"; marking = "205/55 RF16 91V"; construction = "self_supporting"; evidence = ('
run='{ kind = "run"; load_share = 0.7;'
cat >itself.cfg <<CFG
$tyre $run of = "this unit"; outcome = "survived"; at = "3 km"; temperatures = ( { channel = "cavity";
  at = ( "1 min", "2 min" ); read = ( "45 C", "47 C" ); } ); } );
CFG
echo "$tyre $run of = \"this unit\"; outcome = \"destroyed but carrying\"; at = \"60 km\"; } );" >destroyed.cfg
cat >against.cfg <<CFG
$tyre $run of = "another unit"; outcome = "survived"; at = "900 km"; },
  $run of = "another unit"; on = "drum"; outcome = "ended"; at = "1 km"; reading_error = "1 %"; } );
CFG
cat >kinds.cfg <<CFG
$tyre { kind = "approval"; specimens = 3; }, { kind = "statement"; load_share = 0.7; distance = "120 km"; source = "invented"; },
  $run of = "another unit"; age = "3 years"; outcome = "ended"; at = "95 km"; } );
CFG
"$program" page estate known-16 ./itself.cfg ./destroyed.cfg ./against.cfg ./kinds.cfg --seed 7 -o known.html
"$program" page -o again.html && cmp page.html again.html
# The page of named profiles holds these and no others; a hostile name stays a name.
cat >'hostile.cfg' <<'CFG'
kind = "tyre"; tyre_name = "</script><script>window.hacked=1</script>"; marking = "205/55 RF16 91V"; construction = "self_supporting";
CFG
"$program" page ./hostile.cfg -o hostile.html
! grep -q '</script><script>window.hacked' hostile.html || { echo "a name ends the script"; exit 1; }
if "$program" page estate -o none.html 2>/dev/null; then echo "a page without a tyre"; exit 1; fi
[ ! -e none.html ] || { echo "half a page"; exit 1; }

if "$program" page >/dev/full 2>/dev/null; then echo "a full disk goes unnoticed"; exit 1; fi
status=0
"$program" page nosuch -o none.html 2>none.err || status=$?
[ $status -eq 66 ] && grep -q nosuch none.err || { echo "an unknown profile: status $status"; exit 1; } # sysexits.h EX_NOINPUT

# Nothing external: the policy allows no source but what the file holds, and no address is in it.
grep -q "default-src 'none'" page.html
! grep -oE '(src|href)="[^"]*"' page.html | grep . || { echo "the page points outside"; exit 1; }

[ "$part" = browser ] || node agree.mjs "$program" page.html page-us.html fleet.html known.html "${PAGE_QUESTIONS-400}"
[ "$part" != agree ] || exit 0
[ -x "$chromium" ] || skip "no Chromium"
command -v npm >/dev/null || skip "no npm"
[ -d node_modules/playwright-core ] || npm ci --ignore-scripts --no-audit --no-fund >npm.log 2>&1 ||
    skip "npm ci failed: $(tail -n 1 npm.log)"
mkdir -p shots
node browser.mjs "$program" page.html fleet.html known.html shots
