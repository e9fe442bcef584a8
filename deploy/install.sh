#!/usr/bin/env bash
# Installs Drowse from this checkout as a service on a Linux with systemd. Run it again to bring a
# newer version: the config and the store are left as they are.
#
#   sudo deploy/install.sh             install, or bring up to date
#   sudo deploy/install.sh --remove    take the program and the service away, and no record
#   deploy/install.sh --dry-run        say what it would do, and do nothing
set -euo pipefail

PROGRAM=/opt/drowse
SETTINGS=/etc/drowse
UNIT=/etc/systemd/system/drowse.service
COMMAND=/usr/local/bin/drowse
ACCOUNT=drowse
RECORDS=/var/lib/drowse
OLDEST_NODE=20
# 128 bits (RFC 4086) of an alphabet that sensors' settings take without quoting.
PASSWORD_BYTES=16

dry=no
remove=no
for option in "$@"; do
  case "$option" in
    --dry-run) dry=yes ;;
    --remove) remove=yes ;;
    --help | -h) sed -n '2,7s/^# \{0,1\}//p' "$0"; exit 0 ;;
    *)
      echo "install: unknown option $option; there are --remove, --dry-run and --help" >&2
      exit 2
      ;;
  esac
done

say() { echo "install: $*"; }
stop() { echo "install: $*" >&2; exit 1; }
run() {
  if [ "$dry" = yes ]; then echo "  would run: $*"; else "$@"; fi
}

# Where systemd is installed but does not run, as in an image that is being made, a service can be
# set up and not started.
booted() { [ "$dry" = yes ] || [ -d /run/systemd/system ]; }

cd "$(dirname "$0")/.."
[ "$dry" = yes ] || [ "$(id -u)" = 0 ] || stop "needs root, for $PROGRAM and the service: sudo $0"

if [ "$remove" = yes ]; then
  say "stopping the service"
  if [ -e "$UNIT" ]; then
    if booted; then run systemctl stop drowse.service; fi
    run systemctl disable drowse.service
  fi
  say "taking away $PROGRAM, $UNIT and $COMMAND"
  run rm -rf "$PROGRAM" "$PROGRAM.old" "$PROGRAM.new"
  run rm -f "$UNIT" "$COMMAND"
  if booted; then run systemctl daemon-reload; fi
  say "done; config and passwords stay in $SETTINGS, the winter's records in $RECORDS, and so does"
  say "the user $ACCOUNT, to whom they belong"
  exit 0
fi
node="$(command -v node)" || stop "Node is not on the PATH; Drowse needs $OLDEST_NODE or newer"
version="$("$node" -p 'process.versions.node.split(".")[0]')"
[ "$version" -ge "$OLDEST_NODE" ] || stop "this is Node $version; Drowse needs $OLDEST_NODE or newer"
[ "$dry" = yes ] || command -v systemctl >/dev/null || stop "no systemd here; see deploy/notes.md"

say "building"
run "$node" .ci/set-up.mjs

if ! getent passwd "$ACCOUNT" >/dev/null; then
  say "adding the user $ACCOUNT"
  run useradd --system --user-group --home-dir "$RECORDS" --shell /usr/sbin/nologin "$ACCOUNT"
fi

say "copying to $PROGRAM"
run rm -rf "$PROGRAM.new"
run mkdir -p "$PROGRAM.new/dist"
for folder in shared rules sensors daemon; do
  run cp -R "dist/$folder" "$PROGRAM.new/dist/"
done
run cp package.json package-lock.json LICENSE "$PROGRAM.new/"
# As the build has them, less what only building needs: what a small board compiled, which takes
# it many minutes, is not compiled again.
run cp -R node_modules "$PROGRAM.new/"
run npm prune --prefix "$PROGRAM.new" --omit=dev --no-audit --no-fund --loglevel=error
run chown -R root:root "$PROGRAM.new"
run chmod -R u=rwX,go=rX "$PROGRAM.new"
# The old version runs on until the new one lies whole beside it.
run rm -rf "$PROGRAM.old"
[ ! -e "$PROGRAM" ] || run mv "$PROGRAM" "$PROGRAM.old"
run mv "$PROGRAM.new" "$PROGRAM"
run ln -sfn "$PROGRAM/dist/daemon/main.js" "$COMMAND"
run chmod 755 "$PROGRAM/dist/daemon/main.js"

# The service itself may not write here (ProtectSystem=strict); drowse admit, run as its user, must.
run install -d -m 770 -o root -g "$ACCOUNT" "$SETTINGS"
if [ -e "$SETTINGS/drowse.toml" ]; then
  say "leaving $SETTINGS/drowse.toml as it is"
else
  say "writing an example to $SETTINGS/drowse.toml"
  run install -m 640 -o root -g "$ACCOUNT" deploy/drowse.toml "$SETTINGS/drowse.toml"
  # The first two of these lines are the embedded broker's.
  run sed -i -e '0,/^# user = "sensors"/s/^# user/user/' \
    -e '0,/^# password_file = /s/^# password_file/password_file/' "$SETTINGS/drowse.toml"
fi
password="$SETTINGS/broker-password"
if [ ! -e "$password" ]; then
  say "making a password for the sensors in $password"
  # Nobody else may read it, not even while it is being written; it is shown to nobody.
  run install -m 600 -o "$ACCOUNT" -g "$ACCOUNT" /dev/null "$password"
  [ "$dry" = yes ] || "$node" -p \
    "require('node:crypto').randomBytes($PASSWORD_BYTES).toString('hex')" >"$password"
fi
run install -d -m 750 -o "$ACCOUNT" -g "$ACCOUNT" "$RECORDS"

say "writing $UNIT"
if [ "$dry" = yes ]; then
  echo "  would write: $UNIT with $node"
else
  sed "s|/usr/bin/node |$node |" deploy/drowse.service >"$UNIT"
fi
run systemctl enable drowse.service
if booted; then
  run systemctl daemon-reload
  # Restarts what runs already; a first start waits until the config is the keeper's own.
  run systemctl try-restart drowse.service
else
  say "systemd does not run here; the service starts with it"
fi

say "done; next"
cat <<TEXT
  edit $SETTINGS/drowse.toml; sensors log in as "sensors" with the word in
  $password, then
  sudo systemctl restart drowse && systemctl status drowse
  sudo -u $ACCOUNT drowse hear     which topics are heard
  sudo -u $ACCOUNT drowse ring     a trial letter
TEXT
