# SPDX-License-Identifier: GPL-3.0-or-later
# Read by the scripts beside it: keeps people informed while something long is going on.

# tell WHAT [PATTERN TOTAL]: reads the lines of a long command and says every few seconds, also when
# none comes, how far it is: how many of TOTAL lines matched PATTERN, or else the line just read.
tell() {
    local what=$1 pattern=${2-} total=${3-} line='' shown='' seen=0 began=$SECONDS said=$SECONDS
    while :; do
        if IFS= read -r -t 4 line; then
            case $line in
            E:* | *'error:'* | *'rror 1') printf '  %s\n' "$line" ;;
            esac
            if [ -z "$pattern" ]; then
                shown=${line:0:60}
            elif [[ $line =~ $pattern ]]; then
                seen=$((seen + 1)) shown="$seen of $total"
            fi
            [ $((SECONDS - said)) -ge 3 ] || continue
        elif [ $? -le 128 ]; then # the end; a read that waited too long gives more than 128
            break
        fi
        said=$SECONDS
        printf '  %s: %s (%d s)\n' "$what" "${shown:-at work}" $((SECONDS - began))
    done
    printf '  %s: done (%d s)\n' "$what" $((SECONDS - began))
}
