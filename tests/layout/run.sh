#!/bin/bash
# SPDX-License-Identifier: GPL-3.0-or-later
# What is said where: see layout.py. Arguments: --write, and files of questions where not all.
set -eu
export PATH=$TOP_BUILDDIR:$PATH HOBBLE_PROFILES=$TOP_SRCDIR/profiles SOURCE_DATE_EPOCH=1767225600 LC_ALL=C.UTF-8
export src=$TOP_SRCDIR
scratch=$TOP_BUILDDIR/tests/scratch/layout
rm -rf "$scratch" && mkdir -p "$scratch" && cd "$scratch"
for tool in pdftotext gnuplot; do
    command -v $tool >/dev/null || { echo "skipped: no $tool (docs/setup/install-packages.sh tests)"; exit 77; }
done
! hobble card -o probe.pdf 2>&1 | grep -q 'built without PDF' || { echo 'skipped: built without PDF'; exit 77; }
# The commands that gnuplot is sent.
printf '#!/bin/sh\ntee %s/X.gp | %s "$@"\n' "$scratch" "$(command -v gnuplot)" >gnuplot
chmod +x gnuplot
export PATH=$scratch:$PATH
# Lines of text stand where they do in this font.
[[ "$(fc-match 'DejaVu Sans' 2>&1)" == *DejaVuSans.ttf* ]] || {
    echo 'skipped: no font DejaVu Sans (docs/setup/install-packages.sh tests)'
    exit 77
}
write=''
[ "${1-}" != --write ] || { write=--write && shift; }
if [ $# -eq 0 ]; then
    for layout in "$TOP_SRCDIR"/tests/layout/*.txt; do
        # the kit has the page in it: where a stage leaves the page out, another one has looked at that
        [[ " ${HOBBLE_LEFT_OUT-} " = *' page '* && $layout = */policy.txt ]] || set -- "$@" "$layout"
    done
fi
/usr/bin/python3 "$TOP_SRCDIR/tests/layout/layout.py" $write "$@"
