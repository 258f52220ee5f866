#!/bin/bash
# SPDX-License-Identifier: GPL-3.0-or-later
# The page's words: whatever its scripts name stands in english.inc, and nothing else does. A word that is not
# there would be shown by its key. Source: src/page/words.js; the families below, of which a script puts the
# end in, are what src/page/question.js, steps.js, lessons.js and the library's words make of them.
set -eu
cd "$TOP_SRCDIR"
/usr/bin/python3 - <<'PYTHON'
import glob, re, sys

families = {
    "end": "none horizon life heat rim shoulder", "watch": "1 2 3 4", "caution": "1 2 3",
    "view": "label road class", "step": "car load since", "go": "line way pace time",
    "built": "unknown self_supporting extended_mobility conventional",
    "wheel": "front_left front_right rear_left rear_right unknown ahead", "since": "hint minutes 1 5 10 20 60",
    "age": "unknown young old", "flat_tyres": "1 2", "word": "unknown no yes", "taken": "ambient load luggage wheel unseen",
    "decides": "range rule maker construction fleet stops word run skipped flat unvouched vouched outside",
    "remedy": "construction second_flat trailer past too_short",
    "lesson": "show " + " ".join("%d.%s" % (n, part) for n in range(1, 7) for part in ("text", "ask", "answer")),
    "luggage": "unsaid", "ambient": "unsaid", "to": "unsaid within none_fails stop beyond",
    "wall": "text liner outer along play pause", "band": "text empty rule axis", "map": "text x y", "life": "text x y",
    "row": "speed load ambient pressure answer way p50 rule", "c": "speed load ambient pressure",
}
wanted = {"%s.%s" % (family, word) for family, words in families.items() for word in words.split()}
wanted |= {"lesson.%d" % n for n in range(1, 7)} | {"status.contradicts another value"} | set(
    "lang name anew print full construction go_then_stop none ask wait example example_load example_invented example_class "
    "age ran_flat repaired trailer flat_tyres vehicle tyre built people luggage ambient speed to since run less plus".split())
sources = "\n".join(open(name, encoding="utf-8").read() for name in glob.glob("src/page/*.js"))
sources = re.sub(r"(?m)//.*$", "", sources)
text = re.sub(r"/\*.*?\*/", "", open("src/report/describe/english.inc", encoding="utf-8").read(), flags=re.S)
there = re.findall(r'HB_PAGE_WORD\(\s*"([^"]+)"', text) + re.findall(r'HB_SHARED\(\s*\w+,\s*"([^"]+)"', text)

named = set(re.findall(r"'([^'\n]*)'", sources)) | set(re.findall(r"\bwords\.(\w+)", sources))
# the first argument of what says a word, or both of its choices; what is compared there is no word
for first in re.findall(r"\b(?:say|press|list_of|figure)\(([^(),]*)", sources):
    wanted |= set(re.findall(r"'([\w.]+)'", re.sub(r"===? '[^']*'", "", first)))
faults = ["twice: " + key for key in there if there.count(key) > 1]
faults += ["not there: " + key for key in sorted(wanted - set(there))]
faults += ["not used by the page: " + key for key in there if key not in named | wanted]
print(*faults, sep="\n")
print("%d words, %d faults" % (len(there), len(faults)))
sys.exit(bool(faults))
PYTHON
