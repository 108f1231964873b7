"""Plants faults in the engine and the answers, one at a time, and names those that tests let live.

    python tools/faults.py            # all of them
    python tools/faults.py curve      # those whose file's name holds a word

A fault is a line changed as a slip would change it. The tests that should notice run unoptimized in
a target folder of their own. What survives is printed; the exit code is the number of survivors that
are not listed with a reason. The file is put back whatever happens.
"""

import os
import pathlib
import subprocess
import sys

ROOT = pathlib.Path(__file__).resolve().parent.parent

# file, text as it stands once in it, text with the fault, tests that should notice
FAULTS = [
    ("src/equilibrium/stability.rs", "const RICH: [f64; 2] = [0.9, 0.45];",
     "const RICH: [f64; 2] = [0.5, 0.45];", "random_questions"),
    ("src/equilibrium/bubble_dew.rs", "const ONE_PHASE: f64 = 1e-3;",
     "const ONE_PHASE: f64 = 1e-1;", "blends"),
    ("src/curve/line.rs", "const SAFE: f64 = 0.9;", "const SAFE: f64 = 0.999;", "curves"),
    ("src/curve/mod.rs", "const ACCURACY: f64 = 1e-10;", "const ACCURACY: f64 = 1e-5;", "curves"),
    ("src/process/shift/tilt.rs", "-self.epsilon * liquid[self.first]",
     "self.epsilon * liquid[self.first]", "shift"),
    ("src/process/shift/book.rs", "1.0 - moles(&moment.amounts) / moles(start)",
     "moles(&moment.amounts) / moles(start)", "shift"),
    ("src/process/coil.rs", "effective_glide: dew.temperature - entering.temperature",
     "effective_glide: dew.temperature - ends.bubble.temperature", "coil"),
    ("src/process/cycle/comparison.rs", "mass_flow: first.effect / one.effect",
     "mass_flow: one.effect / first.effect", "cycle"),
    ("src/service/date.rs", "year % 100 != 0 || year % 400 == 0", "year % 100 != 0", "logger"),
    ("src/service/vessel/rise.rs", "last_slope > 0.7 * first_slope",
     "last_slope > 0.9 * first_slope", "nitrogen_and_vacuum"),
    ("src/service/vessel/rise.rs", "const STEPS: f64 = 30.0;", "const STEPS: f64 = 3.0;",
     "nitrogen_and_vacuum"),
    ("src/service/vessel/evacuation.rs", "vacuum.pressure.in_pascal() / water.pressure.in_pascal()",
     "water.pressure.in_pascal() / vacuum.pressure.in_pascal()", "nitrogen_and_vacuum"),
    ("src/service/vessel/evacuation.rs", "if pressure >= TRIPLE_PRESSURE {",
     "if pressure > TRIPLE_PRESSURE {", "nitrogen_and_vacuum"),
    ("src/service/reading/log/columns.rs", "if suction.is_none() && liquid.is_none() {",
     "if suction.is_none() || liquid.is_none() {", "readings_log"),
]

# Faults that live, and why no test is wanted.
LIVE = {
    "if pressure > TRIPLE_PRESSURE {": "at the triple point itself ice and water have one pressure",
}


def dies(file, old, new, tests):
    """Whether a test fails, or the code does not compile, with the fault in."""
    path = ROOT / file
    text = path.read_text()
    if text.count(old) != 1:
        raise SystemExit(f"{file}: '{old}' stands there {text.count(old)} times")
    env = dict(os.environ, CARGO_PROFILE_TEST_OPT_LEVEL="0")
    env.setdefault("CARGO_TARGET_DIR", str(ROOT / "target" / "faults"))
    command = ["cargo", "test", "--quiet", "--test", "it", "--", tests]
    try:
        path.write_text(text.replace(old, new))
        found = subprocess.run(command, cwd=ROOT, env=env, capture_output=True, text=True)
    finally:
        path.write_text(text)
    if "error[" in found.stderr:
        raise SystemExit(f"{file}: '{new}' does not compile\n{found.stderr[:600]}")
    if " 0 passed; 0 failed" in found.stdout:
        raise SystemExit(f"no test is named '{tests}'")
    return found.returncode != 0


def main():
    words = sys.argv[1:]
    chosen = [fault for fault in FAULTS if not words or any(word in fault[0] for word in words)]
    survivors = 0
    for fault in chosen:
        if dies(*fault):
            print(f"found     {fault[0]}: {fault[2]}", flush=True)
            continue
        reason = LIVE.get(fault[2])
        survivors += reason is None
        print(f"{'listed' if reason else 'SURVIVES':9} {fault[0]}: {fault[2]}  {reason or ''}", flush=True)
    sys.exit(survivors)


if __name__ == "__main__":
    main()
