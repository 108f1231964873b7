#!/bin/sh
# How the typeface of the PDF was made: Roboto Condensed (Apache License 2.0) as Debian carries it in
# its package fonts-roboto-unhinted, cut down to Latin, Greek and Cyrillic letters and the signs of a
# chart, without kerning and ligatures. Needs apt-get, dpkg and fonttools 4.68.
set -eu
out="$(cd "$(dirname "$0")/.." && pwd)/src/output/pdf/font"
work="$(mktemp -d)"
trap 'rm -rf "$work"' EXIT
cd "$work"
apt-get download fonts-roboto-unhinted
dpkg -x fonts-roboto-unhinted_*.deb unpacked
signs="U+0020-007E,U+00A0-00FF,U+0100-017F,U+0218-021B,U+0386,U+0388-038A,U+038C,U+038E-03A1"
signs="$signs,U+03A3-03CE,U+0400-045F,U+0490-0491,U+2010-2015,U+2018-201A,U+201C-201E"
signs="$signs,U+2020-2022,U+2026,U+2030,U+2032-2033,U+2039-203A,U+20AC,U+2122,U+2202,U+2206"
signs="$signs,U+2212,U+2248,U+2260,U+2264-2265"
for weight in Regular Bold; do
    pyftsubset "unpacked/usr/share/fonts/truetype/roboto/unhinted/RobotoCondensed-$weight.ttf" \
        --unicodes="$signs" --layout-features='' --no-hinting --notdef-outline \
        --name-IDs='0,1,2,3,4,5,6,13,14' \
        --drop-tables+=GPOS,GSUB,GDEF,DSIG,kern \
        --output-file="$out/RobotoCondensed-$weight.ttf"
done
