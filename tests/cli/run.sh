#!/bin/bash
# SPDX-License-Identifier: GPL-3.0-or-later
# Runs every tests/cli/cases/*.case, or the files that are its arguments. A file holds any number of
# cases, written in lines:
#
#   # words             comment; each case says here what its expectation rests on
#   run: hobble ...     begins a case; a bash command line, run in an empty folder of its own with
#                       hobble on the PATH and $src naming the source tree
#   status: 65          expected exit status; 0 when not given
#   stdout:             the exact text follows, each line after "| " (a bare "|" is an empty line)
#   stderr:             the same for standard error, which must be empty when this is not given
#   match: REGEX        some line of standard output matches this extended regular expression
#   json: FILTER        a jq filter over standard output that must give true; near(V; TOL) is true
#                       for a number within TOL of V:   json: .range_km.p50 | near(80; 0.5)
#
# Standard output is free when neither stdout:, match: nor json: is given. For computed values use
# json: with a tolerance and its reason; exact text is for errors, help and layout.
set -eu
scratch=$TOP_BUILDDIR/tests/scratch/cli
rm -rf "$scratch" && mkdir -p "$scratch"
export src=$TOP_SRCDIR PATH=$TOP_BUILDDIR:$PATH LC_ALL=C.UTF-8
near='def near(v; tol): type == "number" and ((. - v) | fabs) <= tol;'
cases=0 failed=0 skipped=0 wanted=

fault() { echo "$where: $*"; bad=1; }

# A program may be built without PDF and the page, and a machine may lack what looks at answers: what
# a case cannot do without is seen from its words.
built_with() { ! hobble "$@" 2>&1 | grep -q 'built without'; }
absent=
for tool in jq pdftotext pdfinfo gnuplot; do command -v $tool >/dev/null || absent+=" $tool"; done
built_with card -o "$scratch/probe.pdf" || absent+=' PDF'
built_with page -o "$scratch/probe.html" || absent+=' page'
lacks() { # what of the absent this case needs
    local text="$run ${checks[*]}" needs=''
    [[ $text != *jq* && $text != *json:* ]] || needs+=' jq'
    [[ $text != *pdftotext* ]] || needs+=' pdftotext'
    [[ $text != *pdfinfo* ]] || needs+=' pdfinfo'
    if [ "$status" -ne 64 ] && [ "$status" -ne 65 ]; then
        [[ $text != *--plot* ]] || needs+=' gnuplot'
        [[ $text != *--sheet* ]] || needs+=' PDF'
        [[ $text != *policy*--out* ]] || needs+=' gnuplot PDF page'
    fi
    [[ $text != *'hobble card'* ]] || [ "$status" -eq 64 ] || needs+=' PDF'
    [[ $text != *'hobble page'* ]] || [ "$status" -eq 64 ] || needs+=' page'
    for tool in $needs; do [[ " $absent " != *" $tool "* ]] || { echo "$tool" && return; }; done
}

start() { # the rest of a run: line
    finish
    run=$1 where="$(basename "$file"):$line_number" status=0 bad=0 into='' want_out='' checks=()
    : >"$scratch/stderr.want"
}

finish() { # runs the case read so far, if any
    [ -n "$run" ] || return 0
    cases=$((cases + 1))
    local lacking=''
    [ -z "$absent" ] || lacking=$(lacks)
    if [ -n "$lacking" ]; then
        skipped=$((skipped + 1)) wanted+=" $lacking" run=''
        return 0
    fi
    rm -rf "$scratch/here" && mkdir "$scratch/here"
    local got=0 check
    (cd "$scratch/here" && bash -c "$run") <"/dev/null" >"$scratch/stdout" 2>"$scratch/stderr" || got=$?
    [ "$got" -eq "$status" ] || fault "status $got, expected $status"
    [ -z "$want_out" ] || diff -u "$scratch/stdout.want" "$scratch/stdout" || fault "stdout differs"
    diff -u "$scratch/stderr.want" "$scratch/stderr" || fault "stderr differs"
    for check in "${checks[@]}"; do
        case $check in
        match:*) grep -qE -- "${check#match:}" "$scratch/stdout" ;;
        json:*) [ "$(jq "$near ${check#json:}" "$scratch/stdout")" = true ] ;;
        esac || fault "does not hold: $check"
    done
    [ "$bad" -eq 0 ] || { failed=$((failed + 1)); echo "    $run"; }
    run=''
}

[ $# -gt 0 ] || set -- "$src"/tests/cli/cases/*.case
for file in "$@"; do
    run='' line_number=0
    while IFS= read -r line || [ -n "$line" ]; do
        line_number=$((line_number + 1))
        case $line in
        '' | '#'*) ;;
        run:\ *) start "${line#run: }" ;;
        status:\ *) status=${line#status: } ;;
        stdout: | stderr:)
            into=$scratch/${line%:}.want
            [ "$line" = stderr: ] || want_out=1
            : >"$into" ;;
        '|'*) line=${line#|} && printf '%s\n' "${line# }" >>"$into" ;;
        match:\ * | json:\ *) checks+=("${line/: /:}") ;;
        *) echo "$file:$line_number: not understood: $line" && exit 1 ;;
        esac
    done <"$file"
    finish
done

echo "$cases cases, $failed failed, $skipped skipped"
[ "$cases" -gt 0 ] && [ "$failed" -eq 0 ] || exit 1
# What a build leaves out on purpose (HOBBLE_LEFT_OUT, set by docs/setup/every-test.sh) is no want.
wanted=$(tr ' ' '\n' <<<"$wanted" | sort -u | grep -vxF -f <(tr ' ' '\n' <<<"${HOBBLE_LEFT_OUT-}") -e '' || true)
if [ -n "$wanted" ]; then
    echo "skipped for want of:" $wanted '(docs/setup/install-packages.sh tests)'
    exit 77
fi
