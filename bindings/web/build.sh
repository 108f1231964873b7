#!/usr/bin/env bash
# Builds dist/zeotrope.html, the page in one file. Installs the compiler for WebAssembly where it
# is missing (Debian). What is built is kept outside the checkout, keyed by compiler and lock file.
set -euo pipefail
cd "$(dirname "$0")"

wanted=()
command -v wasm-ld >/dev/null 2>&1 || wanted+=(lld)
command -v node >/dev/null 2>&1 || wanted+=(nodejs)
[[ -d /usr/lib/rustlib/src/rust/library ]] || wanted+=(rustc-web rust-web-src)
if ((${#wanted[@]})); then
    apt-get update && apt-get install -y --no-install-recommends "${wanted[@]}"
fi

# Debian's compiler brings the sources of its standard library, which is built along: no target for
# WebAssembly is installed.
export RUSTC="${ZEOTROPE_WEB_RUSTC:-/usr/bin/rustc}" RUSTC_BOOTSTRAP=1
export CARGO_TARGET_WASM32_UNKNOWN_UNKNOWN_LINKER=wasm-ld
key="$( ("$RUSTC" -vV; cat ../../Cargo.lock) | sha256sum | cut -c1-16)"
export CARGO_TARGET_DIR="${ZEOTROPE_WEB_TARGET:-$HOME/.cache/zeotrope-web/$key}"
cargo build --locked -p zeotrope-web --release --target wasm32-unknown-unknown \
    --config profile.release.package.zeotrope.opt-level=3 \
    -Z build-std=std,panic_abort

built="$(git log -1 --format=%cs 2>/dev/null || date -u +%F)"
mkdir -p dist
node bundle.mjs "$CARGO_TARGET_DIR/wasm32-unknown-unknown/release/zeotrope_web.wasm" \
    dist/zeotrope.html "${built:-$(date -u +%F)}"
