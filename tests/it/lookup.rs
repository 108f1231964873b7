//! Lookups for an instrument: compiled code against its vectors, the line and a second check.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use zeotrope::chart::lookup::{Arithmetic, Quantity, Question, lookup, recheck};
use zeotrope::units::{Pressure, Temperature, TemperatureDifference};
use zeotrope::{Branch, Refrigerant};

use crate::program::zeotrope;

const FOUR: [&str; 4] = ["R-134a", "R-407C", "R-744", "R-455A"];
/// Every how manieth f32 these tests read; the program's own option reads all.
const EVERY: u32 = 251;

fn folder(name: &str) -> PathBuf {
    let folder = std::env::temp_dir().join(format!("zeotrope-{name}-{}", std::process::id()));
    let _ = fs::remove_dir_all(&folder);
    folder
}

fn question(of: &[Quantity], arithmetic: Arithmetic) -> Question {
    Question {
        resolution: TemperatureDifference::kelvin(0.05),
        range: (Temperature::celsius(-40.0), Temperature::celsius(60.0)),
        of: of.to_vec(),
        arithmetic,
        every: EVERY,
        accept_estimated: true,
    }
}

fn made(name: &str, language: &str, arithmetic: &str) -> PathBuf {
    let folder = folder(name);
    let mut arguments = vec!["lookup"];
    arguments.extend(FOUR);
    let shown = folder.to_string_lossy().into_owned();
    arguments.extend([
        "--accept-estimated",
        "--for",
        language,
        "--arithmetic",
        arithmetic,
    ]);
    arguments.extend([
        "--of",
        "dew_temperature,bubble_temperature,dew_pressure,bubble_pressure",
    ]);
    arguments.extend(["--every", "251", "--output", &shown]);
    let run = zeotrope(&arguments);
    assert!(run.err.is_empty(), "{}", run.err);
    folder
}

fn ran(command: &mut Command) -> String {
    let done = command.output().unwrap();
    let told = String::from_utf8_lossy(&done.stderr);
    assert!(done.status.success(), "{told}");
    String::from_utf8(done.stdout).unwrap()
}

/// Compiles a folder's C with a program that asks every vector; answers its output lines.
fn asked(folder: &Path, stem: &str, is_float: bool, extra: &[&str]) -> usize {
    let vectors = fs::read_to_string(folder.join(format!("{stem}_vectors.csv"))).unwrap();
    let mut body = String::from("#include \"zeotrope_lookup.h\"\n#include <stdio.h>\n");
    body.push_str("union number { float value; uint32_t bits; };\nint main(void) {\n");
    body.push_str("    union number in, out; int wrong = 0;\n    (void)in; (void)out;\n");
    let mut count = 0;
    for row in vectors.lines().skip(1) {
        let cells: Vec<&str> = row.split(',').collect();
        let (name, input, output) = (cells[0], cells[3], cells[4]);
        body.push_str(&if is_float {
            format!(
                "    in.bits = {input}u; out.value = {stem}_{name}(in.value); \
                 wrong += out.bits != {output}u;\n"
            )
        } else {
            format!("    wrong += (uint32_t){stem}_{name}((int32_t){input}) != {output}u;\n")
        });
        count += 1;
    }
    let first = vectors.lines().nth(1).unwrap().split(',').next().unwrap();
    body.push_str(&if is_float {
        format!(
            "    out.value = {stem}_{first}(1.0f); wrong += out.value == out.value;\n    \
             in.bits = 0x7fc00000u; out.value = {stem}_{first}(in.value); \
             wrong += out.value == out.value;\n"
        )
    } else {
        format!(
            "    wrong += {stem}_{first}(1) != INT32_MIN;\n    \
             wrong += {stem}_{first}(-5) != INT32_MIN;\n"
        )
    });
    body.push_str("    printf(\"%d\\n\", wrong);\n    return 0;\n}\n");
    let main = folder.join(format!("main_{stem}.c"));
    fs::write(&main, body).unwrap();
    let program = folder.join(format!("{stem}.run"));
    ran(Command::new("gcc")
        .args(["-std=c99", "-Wall", "-Wextra", "-Werror"])
        .args(extra)
        .arg("-o")
        .args([&program, &main, &folder.join(format!("{stem}.c"))]));
    assert_eq!(
        ran(&mut Command::new(&program)).trim(),
        "0",
        "{stem} {extra:?}"
    );
    count
}

const STEMS: [&str; 4] = [
    "zeotrope_r134a",
    "zeotrope_r407c",
    "zeotrope_r744",
    "zeotrope_r455a",
];

#[test]
fn compiled_c_agrees_with_its_vectors_bit_for_bit() {
    let folder = made("lookup-c", "c", "f32");
    for stem in STEMS {
        for extra in [&["-O2"][..], &["-O0", "-pedantic"]] {
            assert!(asked(&folder, stem, true, extra) > 2000);
        }
    }
    let _ = fs::remove_dir_all(folder);
}

#[test]
fn compiled_integer_c_agrees_with_its_vectors() {
    let folder = made("lookup-integer", "c", "integer");
    for stem in STEMS {
        assert!(asked(&folder, stem, false, &["-O2"]) > 2000);
    }
    let _ = fs::remove_dir_all(folder);
}

#[test]
fn generated_code_needs_no_library() {
    let folder = made("lookup-free", "c", "f32");
    for stem in STEMS {
        let object = folder.join(format!("{stem}.o"));
        ran(Command::new("gcc")
            .args(["-std=c99", "-ffreestanding", "-Os", "-c", "-o"])
            .args([&object, &folder.join(format!("{stem}.c"))]));
        assert_eq!(ran(Command::new("nm").arg("-u").arg(&object)).trim(), "");
        let text = fs::read_to_string(folder.join(format!("{stem}.c"))).unwrap();
        assert!(text.contains("absolute, Pa") && text.contains("Class:"));
    }
    let _ = fs::remove_dir_all(folder);
}

#[test]
fn generated_rust_builds_without_its_standard_library() {
    for arithmetic in ["f32", "integer"] {
        let folder = made(&format!("lookup-rust-{arithmetic}"), "rust", arithmetic);
        for stem in STEMS {
            ran(Command::new("rustc")
                .args(["--edition", "2021", "--crate-type", "lib", "-D", "warnings"])
                .args(["--emit", "metadata", "-o"])
                .args([
                    folder.join(format!("lib{stem}.rmeta")),
                    folder.join(format!("{stem}.rs")),
                ]));
        }
        let _ = fs::remove_dir_all(folder);
    }
}

#[test]
fn lookups_hold_their_resolution_against_the_equation() {
    for name in FOUR {
        let refrigerant = Refrigerant::named(name).unwrap();
        for arithmetic in [Arithmetic::F32, Arithmetic::Integer] {
            let found = lookup(&refrigerant, &question(&Quantity::ALL, arithmetic)).unwrap();
            for entry in &found.entries {
                assert!(
                    entry.check.largest <= 0.05 && entry.check.monotonic,
                    "{name}"
                );
                assert!(entry.bytes < 250, "{name} {}", entry.bytes);
            }
            // The equation itself, solved, at points of the range's own.
            let dew = &found.entries[0].form;
            let exact = refrigerant.exact();
            for at in 0..=20 {
                let raw = dew.low + (dew.high - dew.low) / 20 * at;
                let pascal = match arithmetic {
                    Arithmetic::F32 => f64::from(f32::from_bits(raw)),
                    Arithmetic::Integer => f64::from(raw),
                };
                let line = exact.dew_temperature(Pressure::pascal(pascal)).unwrap();
                let (value, _) = dew.value(raw, true).unwrap();
                assert!(
                    (value - line.in_kelvin()).abs() <= 0.0502,
                    "{name} {pascal}"
                );
            }
        }
    }
}

#[test]
fn an_entry_changed_by_one_unit_changes_what_the_check_finds() {
    let refrigerant = Refrigerant::named("R-407C").unwrap();
    let asked = question(&[Quantity::DewTemperature], Arithmetic::F32);
    let found = lookup(&refrigerant, &asked).unwrap();
    let same = recheck(&refrigerant, &found, &found.entries[0], EVERY).unwrap();
    assert_eq!(same.largest, found.entries[0].check.largest);
    let mut changed = found.entries[0].clone();
    let worst = changed.form.place((same.largest_at as f32).to_bits()).0 - changed.form.first;
    // Either way of one unit at both ends of the worst interval: one way is worse.
    let mut failed = false;
    for by in [-1i32, 1] {
        for at in [worst, worst + 1] {
            changed.form = found.entries[0].form.clone();
            let node = &mut changed.form.nodes[at as usize];
            *node = node.wrapping_add_signed(by as i16);
            let other = recheck(&refrigerant, &found, &changed, EVERY).unwrap();
            assert_ne!((other.largest, other.mean), (same.largest, same.mean));
            failed |= other.largest > same.largest;
        }
    }
    assert!(failed);
}

#[test]
fn every_integer_pressure_is_read_once() {
    let refrigerant = Refrigerant::named("R-134a").unwrap();
    let mut asked = question(&[Quantity::DewTemperature], Arithmetic::Integer);
    asked.every = 1;
    let found = lookup(&refrigerant, &asked).unwrap();
    let ends = [-40.0, 60.0].map(|celsius| {
        let at = Temperature::celsius(celsius);
        refrigerant.dew_pressure(at).unwrap().in_pascal()
    });
    let count = ends[1].floor() - ends[0].ceil() + 1.0;
    assert_eq!(found.entries[0].check.inputs, count as u64);
    assert_eq!(found.entries[0].quantity.branch(), Branch::Dew);
}

#[test]
fn the_range_ends_at_the_critical_point_and_estimated_pairs_are_refused() {
    let refrigerant = Refrigerant::named("R-744").unwrap();
    let found = lookup(
        &refrigerant,
        &question(&[Quantity::DewTemperature], Arithmetic::F32),
    );
    let found = found.unwrap();
    // Critical temperature: Span and Wagner 1996, 304.1282 K.
    assert!(found.ends_early && (found.to.in_kelvin() - 304.1282).abs() < 0.01);
    let run = zeotrope(&["lookup", "R-744", "--every", "251"]);
    assert!(
        run.out.contains("the range ends at 304.128 K"),
        "{}",
        run.out
    );

    // Its pair R-125 + R-22 is estimated: fluids/ has no published parameters.
    let refused = zeotrope(&["lookup", "R-402A", "--every", "251"]);
    assert!(
        refused.code != 0 && refused.err.contains("estimated"),
        "{}",
        refused.err
    );
    let accepted = zeotrope(&["lookup", "R-402A", "--every", "251", "--accept-estimated"]);
    assert_eq!(accepted.code, 0, "{}", accepted.err);
}
