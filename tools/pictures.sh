#!/bin/sh
# Draws the pictures of the README anew. Needs the program as its argument, and pdftoppm of poppler.
#   tools/pictures.sh target/release/zeotrope
set -eu
program="$1"
out="$(dirname "$0")/pictures"
mkdir -p "$out"
day="--date 2026-05-31 --force"
"$program" chart R-134a R-290 R-744 R-454B R-407C R-32 R-717 --from -40C --to 60C $day --output "$out/curves.svg"
"$program" chart R-454B --picture lens --pressures 5bara,10bara,20bara $day --output "$out/lens.svg"
"$program" chart R-290 --picture dome --from -40C --to 120C $day --output "$out/dome.svg"
"$program" chart R-407C R-448A R-454B R-455A --picture coil --pressures 4.5barg $day --output "$out/coil.svg"
work="$(mktemp -d)"
trap 'rm -rf "$work"' EXIT
"$program" chart R-454B --from 0F --to 130F --step 5F --form wallet $day --output "$work/card.pdf"
pdftoppm -r 160 -f 1 -l 1 -gray -png "$work/card.pdf" "$work/card"
mv "$work"/card-*.png "$out/card.png"
