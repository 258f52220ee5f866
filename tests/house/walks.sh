#!/bin/bash
# SPDX-License-Identifier: GPL-3.0-or-later
# The walks of DEVELOPERS.md (a field, a command, a language) taken as they stand there, on a copy: each
# block "diff walk-NAME" is applied, each block "sh walk-NAME" is run, the copy is built, and what was
# added is looked for in every form.
set -eu
case " ${HOBBLE_LEFT_OUT-} " in *' walks '*) echo 'left out of this stage on purpose' && exit 0 ;; esac
scratch=$TOP_BUILDDIR/tests/scratch/walks
rm -rf "$scratch" && mkdir -p "$scratch/copy" "$scratch/build" && cd "$scratch"
tar -C "$TOP_SRCDIR" -c --exclude=./.git --exclude=./.build . | tar -C copy -x
chmod -R u+w copy
checks=0 failed=0
fault() { echo "fault: $*"; failed=$((failed + 1)); }
has() { # WHAT PATTERN FILE
    checks=$((checks + 1))
    grep -qE -e "$2" "$3" || fault "$1: no /$2/"
}

/usr/bin/python3 - copy "$TOP_SRCDIR/DEVELOPERS.md" <<'PYTHON'
# Hunks have no line numbers: what is there must stand in the file once, however it is wrapped there.
import re, subprocess, sys
copy, page = sys.argv[1:]
blocks = re.findall(r"^```(diff|sh) (walk-\w+)\n(.*?)^```$", open(page, encoding="utf-8").read(), re.S | re.M)
assert len({name for _, name, _ in blocks}) == 3, "three walks are wanted"
def hunk(name, body):
    old = "".join(l[1:] + "\n" for l in body if l[:1] in " -")
    new = "".join(l[1:] + "\n" for l in body if l[:1] in " +")
    text = open(name, encoding="utf-8").read() if old else ""
    assert not old or text.count(old) == 1, "%s: %d times there:\n%s" % (name, text.count(old), old)
    open(name, "w", encoding="utf-8").write(text.replace(old, new) if old else new)
for kind, name, text in blocks:
    if kind == "sh":
        subprocess.run(["bash", "-eu", "-c", text], cwd=copy, check=True)
        continue
    for part in re.split(r"^--- ", text, flags=re.M)[1:]:
        head, *rest = part.splitlines()
        for body in re.split(r"\n?@@\n", "\n".join(rest))[1:]:
            hunk(copy + "/" + head, body.split("\n"))
PYTHON

(cd copy && autoreconf -i) >autoreconf.log 2>&1
(cd build && ../copy/configure -q CC="$CC" --enable-page=no --with-man=no --with-pdf=no --disable-shared \
    --with-words=../copy/src/report/describe/lower_saxon.inc >/dev/null &&
    make -s -j2 hobble) >build.log 2>&1 || { tail -n 30 build.log && exit 1; }
export PATH=$scratch/build:$PATH HOBBLE_PROFILES=$scratch/copy/profiles LC_ALL=C.UTF-8

# ---- the field -------------------------------------------------------------------------------
hobble rule --load 70% --members 400 >rule.txt
hobble rule --load 70% --members 400 --json >rule.json
for what in schema manual; do hobble profile answer-$what rule >rule.$what; done
hobble profile answer-keys >keys.md
hobble profile answer-forms >forms
has 'text' 'to spare +-?[0-9.]+ %' rule.txt
for form in rule.json rule.schema keys.md forms; do has $form spare_share $form; done
has rule.manual 'spare.?_share' rule.manual
checks=$((checks + 1))
/usr/bin/python3 -c 'import json, sys; a = json.load(open("rule.json"))
sys.exit(abs(a["spare_share"] - (a["share_of_tyres"] - a["required_share"])) > 1e-8)' || fault 'the field has another value'
checks=$((checks + 1))
/usr/bin/python3 copy/tests/readback/readback.py copy/tests/readback/rule.txt || fault 'the field is not read back'

# ---- the command -----------------------------------------------------------------------------
hobble load --load 70% >load.txt
hobble load --load 70% --json >load.json
hobble profile answer-schema load >load.schema
has 'text of the command' 'on the wheel: [0-9]+ N' load.txt
has 'JSON of the command' '"load_n": [0-9.]+' load.json
has 'schema of the command' '"title": "hobble load --json"' load.schema
has 'keys of the command' '^## hobble load' keys.md

# ---- the language ----------------------------------------------------------------------------
has 'the program in another language' '^Tallen$' rule.txt
hobble rule --load 120% >stop.txt
has 'a reason of the library in it' 'To swaar' stop.txt
copy/src/page/build-words.sh "$CC -E" copy/src/report/describe/lower_saxon.inc table.js
has 'the page in another language' '"view.road", ?"An de Straat"' table.js

echo "$checks checks, $failed failed"
[ "$failed" -eq 0 ]
