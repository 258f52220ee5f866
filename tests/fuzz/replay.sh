#!/bin/bash
# SPDX-License-Identifier: GPL-3.0-or-later
# Replays each fuzz target's corpus through it, without a fuzzing engine.
set -eu
failed=0 count=0
for target in $FUZZ_TARGETS; do
    count=$((count + 1))
    "$TOP_BUILDDIR/tests/fuzz/replay_$target" "$TOP_SRCDIR/tests/fuzz/corpus/$target" ||
        { echo "fault: $target"; failed=1; }
done
for file in "$TOP_SRCDIR"/tests/fuzz/fuzz_*.c; do
    name=${file##*/fuzz_} name=${name%.c}
    case " $FUZZ_TARGETS " in *" $name "*) ;; *) echo "fault: $name is in no list"; failed=1 ;; esac
done
[ "$count" -gt 0 ] && [ "$failed" -eq 0 ]
