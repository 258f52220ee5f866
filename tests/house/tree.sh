# SPDX-License-Identifier: GPL-3.0-or-later
# Read by the house tests, in the top folder of the sources: which files are the project's. Where git
# knows, those it knows and those it would take: what a reader of README makes and builds beside them is
# none of ours. In a tree from an archive all files that are found.

if git -C . rev-parse --is-inside-work-tree >/dev/null 2>&1 &&
    [ "$(git rev-parse --show-prefix)" = '' ]; then
    with_git=yes
else
    with_git=no
fi

# ours PATTERN FOLDER...: files below the folders whose path matches the extended regular expression.
ours() {
    local pattern=$1
    shift
    if [ $with_git = yes ]; then
        git ls-files -c -o --exclude-standard -- "$@" |
            while IFS= read -r file; do [ ! -e "$file" ] || echo "$file"; done
    else
        find "$@" -type f ! -path src/page/template.c | sed 's,^\./,,'
    fi | grep -E "$pattern" | sort -u
}
