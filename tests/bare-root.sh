#!/bin/bash
# SPDX-License-Identifier: GPL-3.0-or-later
# The first hour with README, as it stands: its commands and examples, from a fresh clone, in copies of
# a minimal Debian 12, with a clean environment. Prints times, packages and megabytes. Not part of make
# check: it needs root, debootstrap and a while.
# Usage: tests/bare-root.sh [STAGE...]      default: first all sudo user every
#   first  as root: the first command, the examples, install, uninstall, a build of one's own with its
#          tests, a program that uses the library
#   all    as root: the first command with all parts, and their examples
#   sudo   as an ordinary user with sudo: the first command, an example, install
#   user   as an ordinary user without: what root has to do is said, then the same into the home folder
#   every  as root: the second command
#   ci     as root: .ci/run; also part of the default where CI=true
# BARE_ROOT_REPOSITORY: what to clone, else the repository this script is in.
set -eu
top=$(cd "$(dirname "$0")/.." && pwd)
repository=${BARE_ROOT_REPOSITORY-$top}
[ $# -gt 0 ] || set -- first all sudo user every $([ "${CI-}" != true ] || echo ci)
command -v debootstrap >/dev/null || { echo 'needed, as root: apt-get install debootstrap' >&2; exit 1; }
room=$(mktemp -d "${TMPDIR-/tmp}/bare-root.XXXXXX")
root=
leave() {
    for one in "$room"/*; do ! mountpoint -q "$one/proc" || umount "$one/proc"; done
    rm -rf --one-file-system "$room"
}
trap leave EXIT

# ---- a machine with nothing ----------------------------------------------------------------------
# The mirror and its settings are the host's own.
mirror=$(apt-get indextargets --format '$(REPO_URI)' 'Created-By: Packages' | head -n 1)
debootstrap --variant=minbase bookworm "$room/base" "$mirror" >"$room/debootstrap.log" ||
    { tail "$room/debootstrap.log" >&2; exit 1; }
rm -f "$room/base/etc/apt/sources.list"
cp -a /etc/apt/. "$room/base/etc/apt/"
cp -L /etc/resolv.conf /etc/hosts "$room/base/etc/"
# So are npm's registry and the certificates it is known by; a bare Debian has neither.
if command -v npm >/dev/null && [ -f /etc/ssl/certs/ca-certificates.crt ]; then
    install -D -m 644 /etc/ssl/certs/ca-certificates.crt "$room/base/etc/ssl/of-the-host.crt"
    printf 'registry=%s\ncafile=/etc/ssl/of-the-host.crt\n' "$(npm config get registry)" >"$room/base/root/.npmrc"
fi
clean=(env -i PATH=/usr/local/sbin:/usr/local/bin:/usr/sbin:/usr/bin:/sbin:/bin HOME=/root)
for setting in http_proxy https_proxy no_proxy; do
    [ -z "${!setting-}" ] || clean+=("$setting=${!setting}")
done

begin() { # NAME: a root of its own, with a fresh clone in /srv/hobble
    root=$room/$1
    echo "==== $1"
    cp -a "$room/base" "$root"
    git clone -q "$repository" "$root/srv/hobble"
    mount -t proc proc "$root/proc"
    packages=$(count_packages) megabytes=$(size)
}
end() {
    umount "$root/proc"
    rm -rf --one-file-system "$root"
}
count_packages() { "${clean[@]}" chroot "$root" dpkg-query -W -f '${db:Status-Status}\n' | grep -c '^installed$'; }
size() { du -sm --exclude=proc "$root" | cut -f 1; }

inside() { "${clean[@]}" chroot "$root" bash -c "$1"; } # COMMANDS, as root, with a clean environment
as_user() { "${clean[@]}" chroot "$root" su driver -s /bin/bash -c "export HOME=/home/driver; $1"; }

# timed WHO COMMANDS: runs them, and says how long they took, in all and of processors, and what came on the disk.
timed() {
    local who=$1 before=$SECONDS spent
    echo "---- $2"
    TIMEFORMAT='%U %S'
    { spent=$({ time $who "$2" 1>&3 2>&4; } 2>&1); } 3>&1 4>&2
    echo "---- took $((SECONDS - before)) s, $(awk '{ printf "%.0f", $1 + $2 }' <<<"$spent") s of processors; now" \
        "$(($(count_packages) - packages)) packages and $(($(size) - megabytes)) MB more than at the start"
}

# ---- README, as it stands ------------------------------------------------------------------------
section() { awk -v head="## $1" '$0 == head { on = 1; next } /^## / { on = 0 } on' "$root/srv/hobble/README.md"; }
commands() { awk '/^```sh$/ { on = 1; next } /^```$/ { on = 0 } on'; } # of the fenced blocks
first_command() { section 'Two commands' | commands | grep -m 1 first-answer; }
own_build() { section 'Two commands' | commands | grep -m 1 autoreconf; }
installing() { section 'Two commands' | commands | grep -m 1 ' install$'; }
library_example() { section 'In a program of your own' | commands; }
examples() { # SECTION...: the lines that begin with hobble
    for part; do section "$part" | grep -E '^(\$ )?hobble ' | sed 's/^\$ //'; done
}

run_examples() { # WHO PATH SECTION...: each line in the clone, by the name hobble
    local who=$1 path=$2 line status
    shift 2
    while IFS= read -r line; do
        status=0
        $who "cd /srv/hobble && PATH=$path:\$PATH && $line" >"$room/out" 2>&1 </dev/null || status=$?
        echo "example: status $status: $line"
        [ $status -eq 0 ] || { tail "$room/out" && exit 1; }
    done < <(examples "$@")
}
plain=('A real answer' 'Your own tyre')
[ -n "$(commands <"$top/README.md")" ]

files_of() { (cd "$root" && find . -xdev \( -path ./proc -o -path ./srv -o -path ./tmp -o -path ./var -o -path ./root -o -path ./home \) -prune -o -print | sort); }

installed_works() { # PATH-OF-HOBBLE: from another folder, nothing set, moved, and below another root
    inside "cd / && hobble range --to 45km | grep -q '^GO' && hobble profile list | grep -c . && hobble --version | head -n 1"
    inside "test -s /usr/local/share/doc/hobble/SAFETY.md && test -s /usr/local/share/doc/hobble/schema/range.json &&
        test -s /usr/local/share/man/man5/hobble-fleet.5 && test -s /usr/local/share/man/man1/hobble-range.1 &&
        test -s /usr/local/share/bash-completion/completions/hobble &&
        test -s /usr/local/share/zsh/site-functions/_hobble && test -s /usr/local/share/fish/vendor_completions.d/hobble.fish"
}

stage_first() {
    begin first
    timed inside "cd / && /srv/hobble/$(first_command)"
    run_examples inside /srv/hobble/.build/first "${plain[@]}"
    echo "---- without an environment, from /tmp, by its path"
    inside 'cd /tmp && /srv/hobble/.build/first/hobble range --tyre touring-16 --vehicle estate | head -n 3'
    echo "---- a part that is not there names what brings it"
    inside 'cd /tmp && ! /srv/hobble/.build/first/hobble card -o card.pdf'
    echo "---- what a reader may leave in the tree breaks no test"
    inside 'cd /srv/hobble && touch map.png page.html card.pdf wall.svg && .build/first/hobble profile new tyre >mine.cfg'
    timed inside "cd /srv/hobble && $(own_build)"
    files_of >"$room/before"
    inside "cd /srv/hobble && $(installing)"
    files_of >"$room/with"
    echo "installed: $(comm -13 "$room/before" "$room/with" | wc -l) files and folders"
    installed_works
    run_examples inside /usr/local/bin "${plain[@]}"
    inside "ldconfig && cd /tmp && $(library_example)"
    echo "---- moved to another prefix, and below another root"
    inside 'cp -a /usr/local /opt/elsewhere && make -s -C /srv/hobble/build install DESTDIR=/opt/stage >/dev/null'
    inside "cd /srv/hobble && ${own_build:+}make -s -C .build/first uninstall && ldconfig"
    files_of | grep -v '^./opt' >"$room/after"
    grep -v '^./opt' "$room/before" | diff - "$room/after" | grep '^[<>]' | grep -v ld.so.cache && { echo 'uninstall leaves something'; exit 1; }
    echo "uninstall leaves nothing"
    inside 'cd / && /opt/elsewhere/bin/hobble range --tyre touring-16 | head -n 3'
    inside 'cd / && /opt/stage/usr/local/bin/hobble range --tyre touring-16 | head -n 3'
    end
}

stage_all() {
    begin all
    timed inside "cd / && /srv/hobble/$(first_command | sed 's/ *#.*//') all"
    run_examples inside /srv/hobble/.build/first "${plain[@]}" 'Page, PDF and pictures'
    end
}

give_user() { # and the clone is the user's own
    inside 'useradd -m driver && chown -R driver: /srv/hobble'
}
stage_sudo() {
    begin sudo
    inside 'apt-get -qq update && apt-get -qq -y install --no-install-recommends sudo >/dev/null 2>&1'
    packages=$(count_packages) megabytes=$(size)
    give_user
    inside 'echo "driver ALL=(ALL) NOPASSWD: ALL" >/etc/sudoers.d/driver'
    timed as_user "cd /srv/hobble && $(first_command)"
    as_user "cd /srv/hobble && sudo $(installing) && cd / && hobble range --tyre touring-16 --vehicle estate | head -n 3"
    end
}
stage_user() {
    begin user
    give_user
    local status=0
    as_user "cd /srv/hobble && $(first_command)" 2>&1 | tee "$room/told" || status=$?
    grep -q 'only root can install' "$room/told" || { echo "what root has to do is not said"; exit 1; }
    # what it says, word for word, as root
    timed inside "$(grep -E '^ +apt-get ' "$room/told" | sed 's/install/install -y -qq/' | tr '\n' ';') true"
    timed as_user "cd /srv/hobble && $(first_command)"
    as_user 'cd /srv/hobble && mkdir mine && cd mine && ../configure -q --prefix=$HOME/own && make -s -j2 && make -s install && cd / && ~/own/bin/hobble range --tyre touring-16 | head -n 3'
    end
}
stage_every() {
    begin every
    timed inside "cd / && /srv/hobble/docs/setup/every-test.sh"
    end
}
stage_ci() {
    begin ci
    timed inside "cd / && /srv/hobble/.ci/run"
    end
}

for stage; do
    case $stage in
    first | all | sudo | user | every | ci) "stage_$stage" ;;
    *) echo "no such stage: $stage" >&2 && exit 64 ;;
    esac
done
echo "README works on a bare Debian 12: $*"
