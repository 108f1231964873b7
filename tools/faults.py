"""Plants faults in the engine and the answers, one at a time, and names those that tests let live.

    python tools/faults.py            # all of them
    python tools/faults.py curve      # those whose file's name holds a word

A fault is an expression changed as a slip would change it. All are planted at once into a copy of
the tree, each behind a number, so that one build serves all of them; the tests that should notice
run for each fault by itself, unoptimized. What survives is printed; the exit code is the number of
survivors that are not listed with a reason.
"""

import os
import pathlib
import re
import shutil
import subprocess
import sys

ROOT = pathlib.Path(__file__).resolve().parent.parent
TREE = ROOT / "target" / "faults" / "tree"

# file, expression as it stands once in it, expression with the fault, tests that should notice
FAULTS = [
    ("src/equilibrium/trial_phase.rs", "rich.flat_map(|k| RICH.map(", "RICH",
     "[0.5, 0.45]", "random_questions"),
    ("src/equilibrium/bubble_dew.rs", "vapor_density * (1.0 + ONE_PHASE)", "ONE_PHASE", "1e-1", "blends"),
    ("src/curve/line.rs", "Some(end * (1.0 - END))", "END", "3e-3", "curves"),
    ("src/curve/build.rs", "        ACCURACY\n    }", "ACCURACY", "1e-5", "curves"),
    ("src/process/shift/tilt.rs", "-self.epsilon * liquid[self.first]", "-self.epsilon",
     "self.epsilon", "shift"),
    ("src/process/shift/book.rs", "1.0 - moles(&moment.amounts) / moles(start)",
     "1.0 - moles(&moment.amounts) / moles(start)", "moles(&moment.amounts) / moles(start)", "shift"),
    ("src/process/coil.rs", "effective_glide: dew.temperature - entering.temperature",
     "entering.temperature", "ends.bubble.temperature", "coil"),
    ("src/process/cycle/comparison.rs", "mass_flow: first.effect / one.effect",
     "first.effect / one.effect", "one.effect / first.effect", "cycle"),
    ("src/process/pipe.rs", "asked.diameter.powi(2) / 4.0", "4.0", "2.0", "pipes"),
    ("src/process/riser.rs", "pressure.in_pascal() - head)", "pressure.in_pascal() - head",
     "pressure.in_pascal() + head", "pipes"),
    ("src/service/vessel/rise.rs", "if last > 0.7 * first", "0.7", "0.9", "nitrogen_and_vacuum"),
    ("src/service/vessel/rise.rs", "total < STEPS * step", "STEPS", "3.0", "nitrogen_and_vacuum"),
    ("src/service/vessel/evacuation.rs", "vacuum.pressure.in_pascal() / water.pressure.in_pascal()",
     "vacuum.pressure.in_pascal() / water.pressure.in_pascal()",
     "water.pressure.in_pascal() / vacuum.pressure.in_pascal()", "nitrogen_and_vacuum"),
    ("src/service/vessel/evacuation.rs", "if pressure >= TRIPLE_PRESSURE {", "pressure >= TRIPLE_PRESSURE",
     "pressure > TRIPLE_PRESSURE", "nitrogen_and_vacuum"),
    ("src/service/vessel/cylinder.rs", "by_liquid(FILLED_AT, LIQUID_SHARE)", "LIQUID_SHARE", "0.85", "vessels"),
    ("src/service/vessel/pressure_test.rs", "start.pressure.in_pascal() * at.in_kelvin() / start.temperature.in_kelvin()",
     "at.in_kelvin() / start.temperature.in_kelvin()", "start.temperature.in_kelvin() / at.in_kelvin()",
     "nitrogen_and_vacuum"),
    ("src/service/measurement/gauge.rs", "self.span_factor * (shown - self.zero_offset)",
     "shown - self.zero_offset", "shown + self.zero_offset", "vessels_kit"),
    ("src/service/measurement/uncertainty.rs", "side.min(2.0 * standard)", "side.min(2.0 * standard)",
     "2.0 * standard", "readings_unsure"),
    ("src/service/measurement/significance.rs", "if difference.abs() > self.worst {",
     "self.worst", "self.usual", "vessels"),
    ("src/service/hazard/gwp.rs", "component.mass_fraction * one.value", "component.mass_fraction",
     "1.0", "trust"),
    ("src/service/hazard/exposure.rs", "Self(share * molar_mass / MOLAR_VOLUME)",
     "molar_mass / MOLAR_VOLUME", "MOLAR_VOLUME / molar_mass", "vessels"),
    ("src/service/reading/log/columns.rs", "if suction.is_none() && liquid.is_none() {",
     "suction.is_none() && liquid.is_none()", "suction.is_none() || liquid.is_none()", "readings_log"),
]

# Faults that live, and why no test is wanted.
LIVE = {
    "pressure > TRIPLE_PRESSURE": "at the triple point itself ice and water have one pressure",
}

# Which fault is on, by a variable, read once.
SWITCH = """
/// Whether a planted fault is on.
pub(crate) fn fault(number: u32) -> bool {
    static ON: std::sync::OnceLock<u32> = std::sync::OnceLock::new();
    let read = || std::env::var("FAULT").ok().and_then(|text| text.parse().ok());
    *ON.get_or_init(|| read().unwrap_or(0)) == number
}
"""


def plant():
    """A copy of the tree with every fault in it."""
    files = subprocess.run(["git", "ls-files"], cwd=ROOT, capture_output=True, text=True, check=True)
    for name in files.stdout.splitlines():
        if (ROOT / name).is_file():
            (TREE / name).parent.mkdir(parents=True, exist_ok=True)
            shutil.copy2(ROOT / name, TREE / name)
    for number, (file, place, old, new, _) in enumerate(FAULTS, 1):
        path = TREE / file
        text = path.read_text()
        if text.count(place) != 1 or place.count(old) != 1:
            raise SystemExit(f"{file}: '{place}' stands there {text.count(place)} times")
        switched = f"(if crate::fault({number}) {{ {new} }} else {{ {old} }})"
        path.write_text(text.replace(place, place.replace(old, switched)))
    lib = TREE / "src" / "lib.rs"
    text = re.sub(r"const fn (of_volume)", r"fn \1", lib.read_text())
    lib.write_text(text + SWITCH)
    # what asks for a switch is no constant any more
    exposure = TREE / "src/service/hazard/exposure.rs"
    exposure.write_text(exposure.read_text().replace("pub const fn of_volume", "pub fn of_volume"))


def build():
    """The tests of that copy."""
    env = dict(os.environ, CARGO_PROFILE_TEST_OPT_LEVEL="0", CARGO_PROFILE_TEST_DEBUG="0")
    env.setdefault("CARGO_TARGET_DIR", str(ROOT / "target" / "faults"))
    command = ["cargo", "test", "--test", "it", "--no-run", "--message-format=short"]
    found = subprocess.run(command, cwd=TREE, env=env, capture_output=True, text=True)
    where = re.search(r"Executable .*\((.*)\)", found.stderr)
    if not where:
        raise SystemExit(found.stderr[-3000:])
    return TREE / where.group(1)


def dies(tests, number, subject):
    """Whether a test fails with a fault on."""
    env = dict(os.environ, FAULT=str(number), CARGO_MANIFEST_DIR=str(TREE))
    # the subject's own tests alone: 'shift' is also a part of other names
    found = subprocess.run([tests, f"{subject}::"], cwd=TREE, env=env, capture_output=True, text=True)
    if " 0 passed; 0 failed" in found.stdout:
        raise SystemExit(f"no test is named '{subject}'")
    return found.returncode != 0


def main():
    words = sys.argv[1:]
    plant()
    tests = build()
    chosen = [(number, fault) for number, fault in enumerate(FAULTS, 1)
              if not words or any(word in fault[0] for word in words)]
    for subject in sorted({fault[4] for _, fault in chosen}):
        if dies(tests, 0, subject):
            raise SystemExit(f"the tests of '{subject}' fail without a fault")
    survivors = 0
    for number, (file, _, _, new, subject) in chosen:
        if dies(tests, number, subject):
            print(f"found     {file}: {new}", flush=True)
            continue
        reason = LIVE.get(new)
        survivors += reason is None
        print(f"{'listed' if reason else 'SURVIVES':9} {file}: {new}  {reason or ''}", flush=True)
    sys.exit(survivors)


if __name__ == "__main__":
    main()
