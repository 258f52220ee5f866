#!/bin/bash
# SPDX-License-Identifier: GPL-3.0-or-later
# Every command's JSON against its schema, docs/schema/COMMAND.json, for questions that take every
# branch, and schemas and docs/answers.md against what the rows of the answers make now.
# tests/data/schema-questions.txt holds a question a line. Validator: python3-jsonschema.
set -eu
export PATH=$TOP_BUILDDIR:$PATH LC_ALL=C.UTF-8
scratch=$TOP_BUILDDIR/tests/scratch/schema
mkdir -p "$scratch" && cd "$scratch"
/usr/bin/python3 -c 'import jsonschema' 2>/dev/null || {
    echo 'skipped: no python3-jsonschema (docs/setup/install-packages.sh tests)'
    exit 77
}
asked=0 failed=0
# What is committed is what the program's rows say.
same() { # committed file, what the program prints
    asked=$((asked + 1))
    cmp -s "$TOP_SRCDIR/$1" "$2" && return
    failed=$((failed + 1))
    echo "drifted: $1 is not what the rows say now: hobble profile $3 -o $1"
}
for schema in "$TOP_SRCDIR"/docs/schema/*.json; do
    command=$(basename "$schema" .json)
    hobble profile answer-schema "$command" >schema.json || : >schema.json
    same "docs/schema/$command.json" schema.json "answer-schema $command"
done
hobble profile answer-keys >answers.md
same docs/answers.md answers.md answer-keys
while IFS= read -r question; do
    case $question in '' | '#'*) continue ;; esac
    asked=$((asked + 1))
    command=${question%% *}
    bash -c "src=$TOP_SRCDIR hobble $question --json" >answer.json </dev/null || { echo "status: $question" && failed=$((failed + 1)); }
    /usr/bin/python3 - "$TOP_SRCDIR/docs/schema/$command.json" answer.json <<'PYTHON' || { echo "schema: $question" && failed=$((failed + 1)); }
import json, sys
import jsonschema
schema, answer = (json.load(open(name)) for name in sys.argv[1:])
jsonschema.Draft7Validator.check_schema(schema)
faults = list(jsonschema.Draft7Validator(schema).iter_errors(answer))
for fault in faults:
    print("/".join(map(str, fault.absolute_path)), fault.message)
sys.exit(bool(faults))
PYTHON
done <"$TOP_SRCDIR/tests/data/schema-questions.txt"
echo "$asked answers and files, $failed failed"
[ "$asked" -gt 0 ] && [ "$failed" -eq 0 ]
