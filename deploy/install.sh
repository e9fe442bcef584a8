#!/usr/bin/env bash
# Installs Drowse from this checkout as a service on a Linux with systemd. Run it again to bring a
# newer version: the config and the store are left as they are.
#
#   sudo deploy/install.sh             install, or bring up to date
#   deploy/install.sh --dry-run        say what it would do, and do nothing
set -euo pipefail

PROGRAM=/opt/drowse
SETTINGS=/etc/drowse
UNIT=/etc/systemd/system/drowse.service
COMMAND=/usr/local/bin/drowse
ACCOUNT=drowse
OLDEST_NODE=20

dry=no
case "${1-}" in
  "") ;;
  --dry-run) dry=yes ;;
  --help | -h) sed -n '2,6s/^# \{0,1\}//p' "$0"; exit 0 ;;
  *) echo "install: unknown option $1; there are --dry-run and --help" >&2; exit 2 ;;
esac

say() { echo "install: $*"; }
stop() { echo "install: $*" >&2; exit 1; }
run() {
  if [ "$dry" = yes ]; then echo "  would run: $*"; else "$@"; fi
}

cd "$(dirname "$0")/.."
[ "$dry" = yes ] || [ "$(id -u)" = 0 ] || stop "needs root, for $PROGRAM and the service: sudo $0"
node="$(command -v node)" || stop "Node is not on the PATH; Drowse needs $OLDEST_NODE or newer"
version="$("$node" -p 'process.versions.node.split(".")[0]')"
[ "$version" -ge "$OLDEST_NODE" ] || stop "this is Node $version; Drowse needs $OLDEST_NODE or newer"
[ "$dry" = yes ] || command -v systemctl >/dev/null || stop "no systemd here; see deploy/notes.md"

say "building"
run "$node" .ci/set-up.mjs

if ! getent passwd "$ACCOUNT" >/dev/null; then
  say "adding the user $ACCOUNT"
  run useradd --system --user-group --home-dir /var/lib/drowse --shell /usr/sbin/nologin "$ACCOUNT"
fi

say "copying to $PROGRAM"
run rm -rf "$PROGRAM.new"
run mkdir -p "$PROGRAM.new/dist"
for folder in shared rules sensors daemon; do
  run cp -R "dist/$folder" "$PROGRAM.new/dist/"
done
run cp package.json package-lock.json LICENSE "$PROGRAM.new/"
run npm ci --prefix "$PROGRAM.new" --omit=dev --no-audit --no-fund --loglevel=error
run chown -R root:root "$PROGRAM.new"
run chmod -R u=rwX,go=rX "$PROGRAM.new"
# The old version runs on until the new one lies whole beside it.
run rm -rf "$PROGRAM.old"
[ ! -e "$PROGRAM" ] || run mv "$PROGRAM" "$PROGRAM.old"
run mv "$PROGRAM.new" "$PROGRAM"
run ln -sfn "$PROGRAM/dist/daemon/main.js" "$COMMAND"
run chmod 755 "$PROGRAM/dist/daemon/main.js"

run install -d -m 750 -o root -g "$ACCOUNT" "$SETTINGS"
if [ -e "$SETTINGS/drowse.toml" ]; then
  say "leaving $SETTINGS/drowse.toml as it is"
else
  say "writing an example to $SETTINGS/drowse.toml"
  run install -m 640 -o root -g "$ACCOUNT" deploy/drowse.toml "$SETTINGS/drowse.toml"
fi

say "writing $UNIT"
if [ "$dry" = yes ]; then
  echo "  would write: $UNIT with $node"
else
  sed "s|/usr/bin/node |$node |" deploy/drowse.service >"$UNIT"
fi
run systemctl daemon-reload
run systemctl enable drowse.service
# Restarts what runs already; a first start waits until the config is the keeper's own.
run systemctl try-restart drowse.service

say "done; next"
cat <<TEXT
  edit $SETTINGS/drowse.toml, then
  sudo systemctl restart drowse && systemctl status drowse
  sudo -u $ACCOUNT drowse hear     which topics are heard
  sudo -u $ACCOUNT drowse ring     a trial letter
TEXT
