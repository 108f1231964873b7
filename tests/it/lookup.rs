//! Lookups for an instrument: compiled code against its vectors, the line and a second check.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use zeotrope::chart::lookup::{Arithmetic, Form, Quantity, Question, lookup, recheck};
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

/// The vectors of a folder: function, bits of the input, bits of the output.
fn vectors(folder: &Path, stem: &str) -> Vec<[String; 3]> {
    let text = fs::read_to_string(folder.join(format!("{stem}_vectors.csv"))).unwrap();
    let rows = text.lines().skip(1).map(|row| {
        let cells: Vec<&str> = row.split(',').collect();
        [cells[0], cells[3], cells[4]].map(str::to_owned)
    });
    rows.collect()
}

/// Compiles a folder's C with a program that asks every vector; answers how many there are and how
/// many are wrong.
fn asked(folder: &Path, stem: &str, is_float: bool, extra: &[&str]) -> (usize, usize) {
    let vectors = vectors(folder, stem);
    let mut body = String::from("#include \"zeotrope_lookup.h\"\n#include <stdio.h>\n");
    body.push_str("union number { float value; uint32_t bits; };\nint main(void) {\n");
    body.push_str("    union number in, out; int wrong = 0;\n    (void)in; (void)out;\n");
    for [name, input, output] in &vectors {
        body.push_str(&if is_float {
            format!(
                "    in.bits = {input}u; out.value = {stem}_{name}(in.value); \
                 wrong += out.bits != {output}u;\n"
            )
        } else {
            format!("    wrong += (uint32_t){stem}_{name}((int32_t){input}) != {output}u;\n")
        });
    }
    let first = &vectors[0][0];
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
    let wrong = ran(&mut Command::new(&program)).trim().parse().unwrap();
    (vectors.len(), wrong)
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
            let (count, wrong) = asked(&folder, stem, true, extra);
            assert!(count > 2000 && wrong == 0, "{stem} {extra:?} {wrong}");
        }
    }
    let _ = fs::remove_dir_all(folder);
}

#[test]
fn compiled_integer_c_agrees_with_its_vectors() {
    let folder = made("lookup-integer", "c", "integer");
    for stem in STEMS {
        let (count, wrong) = asked(&folder, stem, false, &["-O2"]);
        assert!(count > 2000 && wrong == 0, "{stem} {wrong}");
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
fn compiled_rust_without_its_standard_library_agrees_with_its_vectors() {
    for arithmetic in ["f32", "integer"] {
        let folder = made(&format!("lookup-rust-{arithmetic}"), "rust", arithmetic);
        let index = folder.join("zeotrope_lookup.rs");
        assert!(fs::read_to_string(&index).unwrap().contains("#![no_std]"));
        ran(Command::new("rustc")
            .args([
                "--edition",
                "2021",
                "--crate-type",
                "rlib",
                "-D",
                "warnings",
            ])
            .arg("--out-dir")
            .args([&folder, &index]));
        let mut body = String::from("extern crate zeotrope_lookup as made;\n");
        body.push_str("fn main() {\n    let mut wrong = 0;\n");
        for stem in STEMS {
            let vectors = vectors(&folder, stem);
            assert!(vectors.len() > 2000);
            for [name, input, output] in vectors {
                body.push_str(&if arithmetic == "f32" {
                    format!(
                        "    let found = made::{stem}::{name}(f32::from_bits({input}));\n    \
                         wrong += i32::from(found.to_bits() != {output});\n"
                    )
                } else {
                    format!("    wrong += i32::from(made::{stem}::{name}({input}) != {output});\n")
                });
            }
            let outside = format!("made::{stem}::dew_temperature");
            body.push_str(&if arithmetic == "f32" {
                format!(
                    "    for x in [1.0, -1.0, f32::NAN, f32::INFINITY] {{\n        \
                     wrong += i32::from(!{outside}_K(x).is_nan());\n    }}\n"
                )
            } else {
                format!(
                    "    for x in [1, 0, -5, i32::MAX, i32::MIN] {{\n        \
                     wrong += i32::from({outside}_mK(x) != i32::MIN);\n    }}\n"
                )
            });
        }
        body.push_str("    println!(\"{wrong}\");\n}\n");
        let main = folder.join("main.rs");
        fs::write(&main, body).unwrap();
        let program = folder.join("vectors.run");
        ran(Command::new("rustc")
            .args(["--edition", "2021", "-L"])
            .arg(&folder)
            .arg("-o")
            .args([&program, &main]));
        assert_eq!(ran(&mut Command::new(&program)).trim(), "0", "{arithmetic}");
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

/// One unit off, away from the line at the worst input: the error passes the stated one. Anywhere
/// else the mean tells it.
#[test]
fn an_entry_changed_by_one_unit_fails_the_check() {
    for name in FOUR {
        let refrigerant = Refrigerant::named(name).unwrap();
        let asked = question(&[Quantity::DewTemperature], Arithmetic::F32);
        let found = lookup(&refrigerant, &asked).unwrap();
        let stated = &found.entries[0];
        let check = |form: &Form| {
            let mut entry = stated.clone();
            entry.form = form.clone();
            recheck(&refrigerant, &found, &entry, EVERY).unwrap()
        };
        assert_eq!(check(&stated.form).largest, stated.check.largest);
        assert_eq!(check(&stated.form).mean, stated.check.mean);

        let worst = (stated.check.largest_at as f32).to_bits();
        let (key, t) = stated.form.place(worst);
        let half = 1 << (stated.form.fraction_bits - 1);
        let node = (key - stated.form.first + u32::from(t > half)) as usize;
        let line = refrigerant.dew_temperature(Pressure::pascal(stated.check.largest_at));
        let (value, _) = stated.form.value(worst, true).unwrap();
        let away = if value > line.unwrap().in_kelvin() {
            1
        } else {
            -1
        };
        let mut form = stated.form.clone();
        form.nodes[node] = form.nodes[node].wrapping_add_signed(away);
        assert!(check(&form).largest > stated.check.largest + 1e-5, "{name}");

        for at in (0..form.nodes.len()).step_by(5) {
            let mut form = stated.form.clone();
            form.nodes[at] ^= 1;
            assert_ne!(check(&form).mean, stated.check.mean, "{name} {at}");
        }
    }
}

#[test]
fn an_entry_of_the_c_changed_by_one_unit_disagrees_with_its_vectors() {
    let folder = made("lookup-changed", "c", "f32");
    let stem = "zeotrope_r407c";
    let path = folder.join(format!("{stem}.c"));
    let text = fs::read_to_string(&path).unwrap();
    let start = text.find("_nodes[").unwrap()
        + text[text.find("_nodes[").unwrap()..].find("= {").unwrap()
        + 3;
    let end = start + text[start..].find('}').unwrap();
    let entries: Vec<u32> = text[start..end]
        .split(',')
        .map(|one| one.trim().parse().unwrap())
        .collect();
    for at in [0, entries.len() / 2, entries.len() - 1] {
        let mut changed = entries.clone();
        changed[at] ^= 1;
        let shown: Vec<String> = changed.iter().map(u32::to_string).collect();
        let other = format!("{}{}{}", &text[..start], shown.join(", "), &text[end..]);
        fs::write(&path, other).unwrap();
        assert!(asked(&folder, stem, true, &["-O0"]).1 > 0, "{at}");
    }
    let _ = fs::remove_dir_all(folder);
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
