#!/usr/bin/env bash
# README's two commands on a bare machine of another Debian release: Python, venv, pip and nothing else, in a chroot.
#
#   tests/machines/bare.sh SUITE [FOLDER] [PYTEST ARGUMENTS...]      SUITE: bookworm, trixie, testing, ...
#
# Needs root and debootstrap; FOLDER keeps the release for the next time (default: a folder of its own that is removed).
# The clone is of what is committed. Ends with the exit status of the command that failed, or 0.
set -euo pipefail
suite=${1:?which Debian release}; kept=${2:-}; shift; [ $# -eq 0 ] || shift
clone=$(cd "$(dirname "$0")/../.." && pwd)
[ "$(id -u)" = 0 ] || { echo "a chroot needs root" >&2; exit 2; }
command -v debootstrap >/dev/null || { echo "debootstrap is missing: apt install debootstrap" >&2; exit 2; }

root=${kept:-$(mktemp -d)}
finish() {
  for part in proc dev/pts; do mountpoint -q "$root/$part" && umount "$root/$part"; done
  [ -n "$kept" ] || rm -rf --one-file-system "$root"
}
trap finish EXIT

if [ ! -x "$root/usr/bin/python3" ]; then
  debootstrap --variant=minbase --include=python3,python3-venv,python3-pip,ca-certificates "$suite" "$root" >"$root.log" ||
    { tail -5 "$root.log" >&2; exit 2; }
  rm -f "$root.log"
fi
mkdir -p "$root/dev/pts"
mountpoint -q "$root/proc" || mount -t proc proc "$root/proc"
mountpoint -q "$root/dev/pts" || mount -t devpts devpts "$root/dev/pts" -o newinstance,ptmxmode=0666
ln -sfn pts/ptmx "$root/dev/ptmx"
# The names of hosts and the certificates of this machine's network.
cp -L /etc/resolv.conf /etc/hosts "$root/etc/"
cp -L /etc/ssl/certs/ca-certificates.crt "$root/etc/ssl/certs/"
rm -rf "$root/srv/clone"
git clone -q "$clone" "$root/srv/clone"

inside() {
  chroot "$root" /usr/bin/env -i HOME=/root LANG=C.UTF-8 TERM=xterm-256color PATH=/usr/sbin:/usr/bin:/sbin:/bin \
    PIP_CERT=/etc/ssl/certs/ca-certificates.crt bash -ec "cd /srv/clone; $1" bare "${@:2}"
}
inside 'python3 --version'
# The first command, with the dance run to its end in lines, as fast as it can be left: "q" on the first line.
inside 'python3 -m venv .venv && .venv/bin/pip install -q . && echo q | .venv/bin/caller dance "Lantern Row" --plain'
inside '.venv/bin/caller doctor; rm -rf .venv'
# The second.
inside 'python3 -m venv .venv && .venv/bin/pip install -q -e ".[dev]" && .venv/bin/python -m pytest "$@"' "$@"
