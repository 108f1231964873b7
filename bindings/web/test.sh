#!/usr/bin/env bash
# Tests dist/zeotrope.html, which build.sh writes, against the program: PROGRAM, or the release build.
# ONLY=node, chromium or firefox runs one part.
set -euo pipefail
cd "$(dirname "$0")"

wanted=()
[[ -x /usr/bin/chromium ]] || wanted+=(chromium)
[[ -x /usr/bin/firefox-esr ]] || wanted+=(firefox-esr)
command -v npm >/dev/null 2>&1 || wanted+=(npm)
if ((${#wanted[@]})); then
    apt-get update && apt-get install -y --no-install-recommends "${wanted[@]}"
fi
[[ -d node_modules/puppeteer-core ]] || npm ci --ignore-scripts --no-audit --no-fund

engine="$(mktemp)"
trap 'rm -f "$engine"' EXIT
# The very module that the page holds.
node -e '
const page = require("fs").readFileSync("dist/zeotrope.html", "utf8");
const packed = page.split("id=\"engine\">")[1].split("</script>")[0];
process.stdout.write(require("zlib").gunzipSync(Buffer.from(packed, "base64")));
' > "$engine"
node test.mjs "${1:-$(realpath ../../target/release/zeotrope)}" "$engine" "$PWD/dist/zeotrope.html"
