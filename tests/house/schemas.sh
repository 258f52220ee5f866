#!/bin/bash
# SPDX-License-Identifier: GPL-3.0-or-later
# Every command's JSON against its schema, docs/schema/COMMAND.json, for questions that take every
# branch. tests/data/schema-questions.txt holds a question a line. Validator: python3-jsonschema.
set -eu
export PATH=$TOP_BUILDDIR:$PATH LC_ALL=C.UTF-8
scratch=$TOP_BUILDDIR/tests/scratch/schema
mkdir -p "$scratch" && cd "$scratch"
/usr/bin/python3 -c 'import jsonschema' 2>/dev/null || {
    echo 'skipped: no python3-jsonschema (docs/setup/install-packages.sh tests)'
    exit 77
}
asked=0 failed=0
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
echo "$asked answers, $failed failed"
[ "$asked" -gt 0 ] && [ "$failed" -eq 0 ]
