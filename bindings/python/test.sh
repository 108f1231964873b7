#!/usr/bin/env bash
# What has to pass of the Python package: lints, and its tests in an environment of its own, next to
# the program and the crate. A part of `.ci/run`; the environment is made below the target folder.
set -euo pipefail
cd "$(dirname "$0")/../.."

target="${CARGO_TARGET_DIR:-$PWD/target}"
environment="$target/python"
# one interpreter for all that asks pyo3 for one, so that it is built once
export PYO3_PYTHON="$environment/bin/python" PYO3_BUILD_EXTENSION_MODULE=1
"${PYTHON:-python3}" -m venv "$environment"
"$environment/bin/pip" install --quiet --upgrade pip

cargo fmt -p zeotrope-python --check
cargo clippy --profile wheel --no-deps -p zeotrope-python -- -D warnings

"$environment/bin/pip" install --quiet "./bindings/python[test]"
cargo build --release --bin zeotrope --example answers
export ZEOTROPE_PROGRAM="$target/release/zeotrope" ZEOTROPE_ANSWERS="$target/release/examples/answers"
"$environment/bin/python" -m pytest -q -p no:cacheprovider bindings/python/tests
