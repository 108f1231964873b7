//! The loops of examples/firmware, compiled with what `lookup` wrote and run.

use std::fs;
use std::path::Path;
use std::process::Command;

use crate::lookup::{folder, made, ran};
use crate::program::{json, zeotrope};

fn example(name: &str) -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/firmware");
    fs::read_to_string(path.join(name)).unwrap()
}

/// Gauge pressure, Pa; atmosphere, Pa; line, K. Three readings that have an answer.
const READINGS: [(f64, f64, f64); 3] = [
    (450e3, 101_325.0, 283.15),
    (450e3, 84_000.0, 283.15),
    (1.2e6, 101_325.0, 310.0),
];

/// The program's own superheat.
fn superheat((gauge, atmosphere, line): (f64, f64, f64)) -> f64 {
    let pressure = format!("{}kPaa", (gauge + atmosphere) / 1e3);
    let line = format!("{}C", line - 273.15);
    let question = [
        "superheat",
        "R-407C",
        "--pressure",
        &pressure,
        "--line",
        &line,
    ];
    json(&question)["superheat_K"].as_f64().unwrap()
}

fn agrees(shown: &str) {
    let shown: Vec<&str> = shown.lines().collect();
    assert_eq!(shown.len(), 5, "{shown:?}");
    for (line, reading) in shown.iter().zip(READINGS) {
        let kelvin: f64 = line.parse().unwrap();
        let expected = superheat(reading);
        assert!((kelvin - expected).abs() < 0.0502, "{kelvin} {expected}");
    }
    assert_eq!(shown[3..], ["none", "none"]);
}

#[test]
fn the_loop_in_c_gives_the_superheat() {
    let folder = folder("firmware-c");
    let shown = folder.to_string_lossy().into_owned();
    let run = zeotrope(&["lookup", "R-407C", "--every", "251", "--output", &shown]);
    assert_eq!(run.code, 0, "{}", run.err);
    fs::write(folder.join("superheat.c"), example("superheat.c")).unwrap();
    let mut board = String::from(
        "#include <stdio.h>\nvoid superheat_turn(void);\nstatic float g, a, l;\n\
         float gauge_pressure_Pa(void) { return g; }\n\
         float atmospheric_pressure_Pa(void) { return a; }\n\
         float line_temperature_K(void) { return l; }\n\
         void show_superheat_K(float k) { printf(\"%.6f\\n\", (double)k); }\n\
         void show_no_reading(void) { printf(\"none\\n\"); }\nint main(void) {\n",
    );
    for (gauge, atmosphere, line) in READINGS {
        board.push_str(&format!(
            "    g = (float){gauge:e}; a = (float){atmosphere:e}; l = (float){line:e}; \
             superheat_turn();\n"
        ));
    }
    board.push_str("    g = 9e6f; superheat_turn();\n    g = 0.0f / a * 0.0f; a = 0.0f / g;\n");
    board.push_str("    superheat_turn();\n    return 0;\n}\n");
    fs::write(folder.join("board.c"), board).unwrap();
    let program = folder.join("board.run");
    ran(Command::new("gcc")
        .args(["-std=c99", "-Wall", "-Wextra", "-Werror", "-O2", "-o"])
        .arg(&program)
        .args(["board.c", "superheat.c", "zeotrope_r407c.c"].map(|name| folder.join(name))));
    agrees(&ran(&mut Command::new(&program)));
    let _ = fs::remove_dir_all(folder);
}

#[test]
fn the_loop_in_rust_gives_the_superheat() {
    let folder = folder("firmware-rust");
    let shown = folder.to_string_lossy().into_owned();
    let question = [
        "lookup", "R-407C", "--for", "rust", "--every", "251", "--output",
    ];
    let run = zeotrope(&[&question[..], &[shown.as_str()]].concat());
    assert_eq!(run.code, 0, "{}", run.err);
    let source = folder.join("superheat.rs");
    fs::write(&source, example("superheat.rs")).unwrap();
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
        .args([&folder, &source]));
    let mut board = String::from(
        "extern crate superheat;\nuse superheat::Board;\nstruct Bench(f32, f32, f32);\n\
         #[allow(non_snake_case)]\nimpl Board for Bench {\n\
         fn gauge_pressure_Pa(&mut self) -> f32 { self.0 }\n\
         fn atmospheric_pressure_Pa(&mut self) -> f32 { self.1 }\n\
         fn line_temperature_K(&mut self) -> f32 { self.2 }\n\
         fn show_superheat_K(&mut self, found: Option<f32>) {\n\
         match found { Some(k) => println!(\"{k}\"), None => println!(\"none\") } }\n}\nfn main() {\n",
    );
    for (gauge, atmosphere, line) in READINGS {
        board.push_str(&format!(
            "    superheat::turn(&mut Bench({gauge:e}, {atmosphere:e}, {line:e}));\n"
        ));
    }
    for gauge in ["9e6", "f32::NAN"] {
        board.push_str(&format!(
            "    superheat::turn(&mut Bench({gauge}, 1e5, 283.15));\n"
        ));
    }
    board.push_str("}\n");
    let main = folder.join("board.rs");
    fs::write(&main, board).unwrap();
    let program = folder.join("board.run");
    ran(Command::new("rustc")
        .args(["--edition", "2021", "-L"])
        .arg(&folder)
        .arg("-o")
        .args([&program, &main]));
    agrees(&ran(&mut Command::new(&program)));
    let _ = fs::remove_dir_all(folder);
}

/// With the code of four quantities, for the smallest of microcontrollers; where its compiler is not
/// installed, nothing is measured.
#[test]
fn code_and_entries_fit_a_small_microcontroller() {
    if Command::new("arm-none-eabi-gcc")
        .arg("--version")
        .output()
        .is_err()
    {
        return;
    }
    for arithmetic in ["f32", "integer"] {
        let folder = made(&format!("firmware-{arithmetic}"), "c", arithmetic);
        for stem in crate::lookup::STEMS {
            let object = folder.join(format!("{stem}.o"));
            ran(Command::new("arm-none-eabi-gcc")
                .args([
                    "-std=c99",
                    "-mcpu=cortex-m0",
                    "-mthumb",
                    "-Os",
                    "-ffreestanding",
                ])
                .args(["-Wall", "-Wextra", "-Werror", "-c", "-o"])
                .args([&object, &folder.join(format!("{stem}.c"))]));
            let sizes = ran(Command::new("arm-none-eabi-size").arg(&object));
            let row: Vec<&str> = sizes.lines().nth(1).unwrap().split_whitespace().collect();
            let [text, data, bss] = [0, 1, 2].map(|at: usize| row[at].parse::<u32>().unwrap());
            assert!(text < 4000 && data == 0 && bss == 0, "{stem}: {sizes}");
        }
        let _ = fs::remove_dir_all(folder);
    }
}
