#!/usr/bin/env bash
# Linux only: the CAD kernel is linked against libGL, which a bare server lacks. Installs it where
# that can be done without asking (root on a Debian-like system), else says what to do.
# With the word `browser`, Chromium too: tests of the page drive it, and are left out without it.
set -u
[ "$(uname -s)" = Linux ] || exit 0
have() { ldconfig -p 2>/dev/null | grep -q "$1" || ls /usr/lib/*/"$1" /usr/lib64/"$1" >/dev/null 2>&1; }
missing=""
have libGL.so.1 || missing="libgl1"
have libgomp.so.1 || missing="$missing libgomp1"
needed="$missing"
if [ "${1:-}" = browser ] && ! command -v chromium >/dev/null && ! command -v google-chrome >/dev/null; then
  missing="$missing chromium fonts-dejavu-core"
fi
[ -z "$missing" ] && exit 0
if [ "$(id -u)" = 0 ] && command -v apt-get >/dev/null; then
  echo "Installing system packages: $missing"
  apt-get update -qq && DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends $missing >/dev/null
else
  echo "Needed on this machine: $missing (on Debian or Ubuntu: sudo apt-get install $missing)" >&2
  [ -z "$needed" ]
fi
