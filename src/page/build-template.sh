#!/bin/bash
# SPDX-License-Identifier: GPL-3.0-or-later
# build-template.sh SRC TABLE.js MODULE.wasm ESBUILD NODE-MODULES OUT.html: bundles script and styles, packs the
# module and puts all into one file. @HOBBLE_DATA@ stays for the program to fill in. The same bytes
# from the same source and tools.
set -eu
src=$1 table=$2 module=$3 esbuild=$4 modules=$5 out=$6
work=$(mktemp -d "$out.XXXXXX")
trap 'rm -rf "$work"' EXIT
mkdir "$work/page"
cp "$src"/page/*.js "$table" "$work/page"
NODE_PATH=$modules "$esbuild" "$work/page/page.js" --bundle --minify --format=iife --target=es2021 \
    --charset=utf8 --legal-comments=none --log-level=warning --outfile="$work/script"
"$esbuild" --minify --loader=css --log-level=warning <"$src/page/page.css" >"$work/style"
for part in script style; do # what stands between the tags, to the byte, is what the policy's hash is of
    printf %s "$(cat "$work/$part")" >"$work/$part.exact"
    hex=$(sha256sum <"$work/$part.exact" | cut -c1-64)
    printf "$(sed 's/../\\x&/g' <<<"$hex")" | base64 -w0 >"$work/$part.sha"
done
gzip -9n <"$module" | base64 -w0 >"$work/module"
# Line by line: each marker stands once on a line, and what replaces it is written as it is.
while IFS= read -r line; do
    case $line in
    *@SCRIPT_SHA@*)
        line=${line//@SCRIPT_SHA@/$(cat "$work/script.sha")}
        printf '%s\n' "${line//@STYLE_SHA@/$(cat "$work/style.sha")}" ;;
    *@STYLE@*) printf %s "${line%%@STYLE@*}" && cat "$work/style.exact" && printf '%s\n' "${line#*@STYLE@}" ;;
    *@MODULE@*) printf %s "${line%%@MODULE@*}" && cat "$work/module" && printf '%s\n' "${line#*@MODULE@}" ;;
    *@SCRIPT@*) printf %s "${line%%@SCRIPT@*}" && cat "$work/script.exact" && printf '%s\n' "${line#*@SCRIPT@}" ;;
    *) printf '%s\n' "$line" ;;
    esac
done <"$src/page/page.html" >"$work/html"
mv "$work/html" "$out"
