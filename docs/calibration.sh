#!/bin/bash
# SPDX-License-Identifier: GPL-3.0-or-later
# Draws docs/pictures/calibration.svg, on standard output, from the counts in docs/calibration.tsv. With
# --count it writes those counts instead, out of the places that tests/unit/unit calibration left:
#     HOBBLE_CALIBRATION=1000 HOBBLE_CALIBRATION_FILE=places.tsv tests/unit/unit calibration
#     docs/calibration.sh --count places.tsv >docs/calibration.tsv
# The first takes an hour; not part of make check.
set -eu
export LC_ALL=C
here=$(dirname "$0")

if [ "${1-}" = --count ]; then
    printf '# items\tof\tcounts of places in twenty equal parts, written by docs/calibration.sh\n'
    awk -F'\t' '{ key = $1 "\t" $2; if (!(key in seen)) { seen[key] = 1; order[++n] = key }
            bin = int($3 * 20); if (bin > 19) bin = 19; count[key, bin]++ }
        END { for (i = 1; i <= n; i++) { line = order[i]
            for (b = 0; b < 20; b++) line = line "\t" count[order[i], b] + 0
            print line } }' "$2"
    exit
fi

# Bars are counts, the grey band is where 99 of 100 bars of an even count lie (binomial, by its normal
# limit), the line is the even count.
awk -F'\t' '
BEGIN {
    wide = 160; high = 90; left = 70; top = 40; apart = 18
    print "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 790 290\" role=\"img\" aria-labelledby=\"t d\" font-family=\"sans-serif\" font-size=\"12\">"
    print "<title id=\"t\">Places of simulated truths among the tyres that evidence leaves</title>"
    print "<desc id=\"d\">Six bar charts, for lists of 0, 1 and 3 items: places of the true range, above, and of the true margin, below. Bars of one height mean that evidence moves the answer by as much as it should.</desc>"
    print "<rect width=\"790\" height=\"290\" fill=\"white\"/>"
}
/^#/ { next }
{
    if (!($1 in column)) { column[$1] = columns++
        printf "<text x=\"%d\" y=\"24\" text-anchor=\"middle\">%s item%s</text>\n", left + column[$1] * (wide + apart) + wide / 2, $1, $1 == 1 ? "" : "s" }
    if (!($2 in row)) { row[$2] = rows++
        printf "<text x=\"8\" y=\"%d\">%s</text>\n", top + row[$2] * (high + apart) + high / 2, $2 }
    x = left + column[$1] * (wide + apart); y = top + row[$2] * (high + apart)
    bins = NF - 2; total = 0
    for (i = 3; i <= NF; i++) total += $i
    even = total / bins; half = 2.576 * sqrt(even * (1 - 1 / bins)); scale = high / (1.7 * even)
    printf "<rect x=\"%d\" y=\"%.1f\" width=\"%d\" height=\"%.1f\" fill=\"#dddddd\"/>\n", x, y + high - (even + half) * scale, wide, 2 * half * scale
    for (i = 3; i <= NF; i++)
        printf "<rect x=\"%.1f\" y=\"%.1f\" width=\"%.1f\" height=\"%.1f\" fill=\"#666666\" fill-opacity=\"0.75\"/>\n", x + (i - 3) * wide / bins + 0.5, y + high - $i * scale, wide / bins - 1, $i * scale
    printf "<path d=\"M%d %.1fh%d\" stroke=\"black\" fill=\"none\"/>\n", x, y + high - even * scale, wide
    printf "<path d=\"M%d %dh%d\" stroke=\"black\" fill=\"none\"/>\n", x, y + high, wide
}
END {
    y = top + rows * (high + apart) + 4
    for (c = 0; c < columns; c++) {
        x = left + c * (wide + apart)
        printf "<text x=\"%d\" y=\"%d\">lowest</text><text x=\"%d\" y=\"%d\" text-anchor=\"end\">highest</text>\n", x, y, x + wide, y
    }
    printf "<text x=\"%d\" y=\"%d\">place of the truth among the tyres that the evidence leaves; line: even; grey: 99 of 100 bars if even</text>\n", left, y + 24
    print "</svg>"
}' "$here/calibration.tsv"
