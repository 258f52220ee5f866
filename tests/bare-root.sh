#!/bin/bash
# SPDX-License-Identifier: GPL-3.0-or-later
# Proves README's two commands on a machine with nothing: each runs from a fresh clone in its own
# copy of a minimal Debian 12. Not part of make check: it needs root, debootstrap and a while.
# Usage: tests/bare-root.sh [REPOSITORY]     default: the repository this script is in
set -eu
top=$(cd "$(dirname "$0")/.." && pwd)
repository=${1-$top}
room=$(mktemp -d "${TMPDIR-/tmp}/bare-root.XXXXXX")
leave() {
    for root in "$room"/*; do ! mountpoint -q "$root/proc" || umount "$root/proc"; done
    rm -rf --one-file-system "$room"
}
trap leave EXIT

# The mirror and its settings are the host's own.
mirror=$(apt-get indextargets --format '$(REPO_URI)' 'Created-By: Packages' | head -n 1)
debootstrap --variant=minbase bookworm "$room/base" "$mirror" >"$room/debootstrap.log" ||
    { tail "$room/debootstrap.log" >&2; exit 1; }
cp -a /etc/apt/. "$room/base/etc/apt/"
cp -L /etc/resolv.conf /etc/hosts "$room/base/etc/"
for setting in http_proxy https_proxy no_proxy; do
    [ -z "${!setting-}" ] || echo "$setting=${!setting}" >>"$room/base/etc/environment"
done

# So are npm's registry and the certificates it is known by; a bare Debian has neither.
if command -v npm >/dev/null && [ -f /etc/ssl/certs/ca-certificates.crt ]; then
    install -D -m 644 /etc/ssl/certs/ca-certificates.crt "$room/base/etc/ssl/of-the-host.crt"
    printf 'registry=%s\ncafile=/etc/ssl/of-the-host.crt\n' "$(npm config get registry)" >"$room/base/root/.npmrc"
fi

prove() { # NAME COMMAND: runs the command of the clone in a root of its own
    local root=$room/$1
    echo "==== $1: $2"
    cp -a "$room/base" "$root"
    git clone -q "$repository" "$root/srv/hobble"
    mount -t proc proc "$root/proc"
    # From another directory and with next to no environment, as on a new machine.
    SECONDS=0
    env -i PATH=/usr/sbin:/usr/bin:/sbin:/bin HOME=/root chroot "$root" \
        sh -c "cd / && /srv/hobble/$2"
    echo "==== $1: done in $SECONDS s"
    umount "$root/proc"
    rm -rf --one-file-system "$root"
}
prove first-answer docs/setup/first-answer.sh
prove every-test docs/setup/every-test.sh
[ "${CI-}" != true ] || prove ci .ci/run
echo "both commands work on a bare Debian 12"
