#!/bin/bash
# SPDX-License-Identifier: GPL-3.0-or-later
# Completion: the scripts that the build wrote are read by their shells; what they offer is what the
# help shows, words of the tables and names of profiles. How bash calls a completion function: bash's
# manual, "Programmable Completion".
set -eu
export PATH=$TOP_BUILDDIR:$PATH LC_ALL=C.UTF-8
scratch=$TOP_BUILDDIR/tests/scratch/completion
rm -rf "$scratch" && mkdir -p "$scratch" && cd "$scratch"
scripts=$TOP_BUILDDIR/completion
checks=0 faults=0
fault() { echo "fault: $*"; faults=$((faults + 1)); }
. "$scripts/hobble"
[ "$(complete -p hobble)" = 'complete -F _hobble hobble' ] || fault "bash does not know it"
compopt() { :; } # there is no line being completed here

offer() { # WORD...: what the last word may become, one a line
    COMP_WORDS=("$@") COMP_CWORD=$(($# - 1)) COMPREPLY=()
    _hobble hobble "${COMP_WORDS[COMP_CWORD]}" "${COMP_WORDS[COMP_CWORD - 1]}"
    [ ${#COMPREPLY[@]} -eq 0 ] || printf '%s\n' "${COMPREPLY[@]}"
}
expect() { # WANTED WORD...
    local want=$1 got
    shift
    checks=$((checks + 1))
    got=$(offer "$@" | sort | tr '\n' ' ')
    [ "$got" = "$want" ] || fault "$*: '$got', expected '$want'"
}
expect 'range replay rule ' hobble r
expect '--help --version ' hobble --
expect 'touring-16 ' hobble range --tyre tou
expect 'touring-16 ' hobble range --tyre = tou
expect 'estate ' hobble range --to 40km --vehicle e
expect 'sealant_lined self_supporting ' hobble range --construction = se
expect 'contour life mark wall ' hobble show ''
expect '--json ' hobble show wall --js
expect 'check ' hobble profile ch
expect 'minibus minibus-17 ' hobble profile show mini
expect '' hobble range --to ''
expect '' hobble range --set ''
touch here.cfg && expect 'here.cfg ' hobble policy he
mkdir folder && expect 'folder ' hobble policy here.cfg --out f

# every option of every command's help is offered, and nothing that the command does not know
commands=$(offer hobble '' | grep -v '^-')
[ "$(wc -w <<<"$commands")" -ge 10 ] || fault "commands: $commands"
for command in $commands; do
    checks=$((checks + 1))
    hobble "$command" --help | grep -oE '^ +(-[a-z?], )?--[a-z-]+' | grep -oE -- '--[a-z-]+' | sort -u >help.txt
    offer hobble "$command" -- | sort -u >offered.txt
    missing=$(comm -23 help.txt offered.txt | tr '\n' ' ')
    [ -z "$missing" ] && [ -s help.txt ] || fault "$command: not offered: $missing"
    while IFS= read -r option; do
        grep -qx -- "$option" help.txt && continue
        # not in the short help: then the command still has to know it
        hobble "$command" "$option" </dev/null 2>&1 | grep -qE 'unrecognized option|not an option' &&
            fault "$command: offers $option, which it does not know"
    done <offered.txt
done

# ---- the other shells, where they are -----------------------------------------------------------
if command -v zsh >/dev/null; then
    checks=$((checks + 1))
    zsh -n "$scripts/_hobble" || fault "zsh cannot read its script"
else
    echo 'no zsh: its script is not read (docs/setup/install-packages.sh tests)'
fi
if command -v fish >/dev/null; then
    checks=$((checks + 2))
    export HOME=$scratch XDG_CONFIG_HOME=$scratch XDG_DATA_HOME=$scratch
    in_fish() { fish --no-config -c "source '$scripts/hobble.fish'; complete -C '$1'" | cut -f 1 | sort | tr '\n' ' '; }
    got=$(in_fish 'hobble range --construction se')
    [ "$got" = 'sealant_lined self_supporting ' ] || fault "fish: '$got'"
    got=$(in_fish 'hobble range --vehicle est')
    [ "$got" = 'estate ' ] || fault "fish: names: '$got'"
else
    echo 'no fish: its script is not read (docs/setup/install-packages.sh tests)'
fi

echo "$checks checks, $faults faults"
[ "$checks" -gt 0 ] && [ "$faults" -eq 0 ]
