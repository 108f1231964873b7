//! Exercises of `recipes/`, each solved by hand: from printed tables, taught figures and arithmetic.

use serde_json::Value;

use crate::program::{answer, zeotrope};

/// What a program reads of an exercise's tasks.
fn tasks(recipe: &str, more: &[&str]) -> Vec<Value> {
    let file = format!("recipes/exercise_{recipe}.yaml");
    let asked = [&["exercise", &file, "--format", "json"], more].concat();
    let found: Value = serde_json::from_str(&answer(&asked)).unwrap();
    found["tasks"].as_array().unwrap().clone()
}

fn number(task: &Value, key: &str) -> f64 {
    task[key]
        .as_f64()
        .unwrap_or_else(|| panic!("{key} of {task}"))
}

/// A difference of temperatures, degrees Fahrenheit.
fn fahrenheit(task: &Value, key: &str) -> f64 {
    1.8 * number(task, key)
}

fn close(found: f64, by_hand: f64, within: f64) {
    assert!(
        (found - by_hand).abs() <= within,
        "{found}, by hand {by_hand}"
    );
}

/// Taught figures, from memory: R-134a 35 psig is 40 degF; R-407C 80 psig is dew 50.8 degF.
#[test]
fn superheat() {
    let found = tasks("superheat", &[]);
    close(fahrenheit(&found[0], "superheat_K"), 50.0 - 40.0, 0.3);
    close(fahrenheit(&found[1], "superheat_K"), 60.0 - 50.8, 0.3);
}

/// Taught figures, from memory: R-22 210.6 psig is 105 degF; R-407C 80 psig is bubble 40 degF.
#[test]
fn subcooling() {
    let found = tasks("subcooling", &[]);
    close(fahrenheit(&found[0], "subcooling_K"), 105.0 - 95.0, 0.3);
    close(fahrenheit(&found[1], "subcooling_K"), 40.0 - 30.0, 0.3);
}

/// From the same table, the other column.
#[test]
fn wrong_branch() {
    let found = tasks("wrong_branch", &[]);
    close(fahrenheit(&found[0], "wrong_branch_K"), 60.0 - 40.0, 0.3);
    close(fahrenheit(&found[1], "wrong_branch_K"), 50.8 - 30.0, 0.3);
}

/// R-410A at 118 psig is dew 39.8 degF; +-5 psi and +-1.8 degF are 3.28 degF at k = 2 (both computed with
/// a general-purpose open library). Superheats 10.2, 14.2 and 25.2 degF against 10 +- 5 degF:
/// 0.2 + 3.3 < 5; 4.2 + 3.3 > 5 > 4.2 - 3.3; 15.2 - 3.3 > 5.
#[test]
fn band() {
    let found = tasks("band", &[]);
    let verdicts: Vec<&str> = found
        .iter()
        .map(|one| one["verdict"].as_str().unwrap())
        .collect();
    assert_eq!(verdicts, ["within", "not_decidable", "outside"]);
    for (task, by_hand) in found.iter().zip([10.2, 14.2, 25.2]) {
        close(fahrenheit(task, "superheat_K"), by_hand, 0.15);
        close(fahrenheit(task, "expanded_uncertainty_K"), 3.28, 0.1);
    }
}

/// What is drawn stays in its ranges; what is read leads to it within what gauge and thermometer may be
/// off by; by hand from two points of a table: R-410A dew 40 degF at 118.4 psig, 2.28 psi/degF, R-407C
/// 40 degF at 63.2 psig, 1.46 psi/degF (computed with a general-purpose open library).
#[test]
fn drawn() {
    for seed in ["1", "2", "7", "23"] {
        let found = tasks("drawn", &["--seed", seed]);
        assert_eq!(found, tasks("drawn", &["--seed", seed]));
        for task in &found {
            let key = format!("{}_K", task["task"].as_str().unwrap());
            let (value, drawn) = (fahrenheit(task, &key), fahrenheit(task, "drawn_K"));
            assert!((5.0..=15.0).contains(&drawn), "{drawn}");
            // 1.5 psi and half a psi of reading over 1.4 psi/degF at the least; 1 and a quarter degF
            close(value, drawn, 2.0 / 1.4 + 1.25);
        }
        let psig = |task: &Value| (number(task, "pressure_Pa") - 101_325.0) / 6894.757;
        let line = |task: &Value| 1.8 * number(task, "line_temperature_K") - 459.67;
        for (at, base, slope) in [(0, 118.4, 2.28), (2, 63.2, 1.46)] {
            let dew = 40.0 + (psig(&found[at]) - base) / slope;
            close(
                fahrenheit(&found[at], "superheat_K"),
                line(&found[at]) - dew,
                0.3,
            );
        }
        // a gauge shows whole psi, a thermometer half degrees
        close(psig(&found[0]), psig(&found[0]).round(), 1e-4);
        close(2.0 * line(&found[0]), (2.0 * line(&found[0])).round(), 1e-6);
    }
    assert_ne!(
        tasks("drawn", &["--seed", "1"]),
        tasks("drawn", &["--seed", "2"])
    );
}

/// R-454A bubble -48.4, dew -41.6 degC, so a glide of 6.8 K (ASHRAE Handbook Fundamentals 2021, ch. 29, table
/// 2); of R-32, 35 % of it, the first vapor has more and the last liquid less.
#[test]
fn lens() {
    let found = tasks("lens", &[]);
    close(
        number(&found[0], "bubble_temperature_K") - 273.15,
        -48.4,
        0.4,
    );
    close(number(&found[0], "dew_temperature_K") - 273.15, -41.6, 0.4);
    close(number(&found[0], "glide_K"), 6.8, 0.4);
    let first = |key: &str| found[0][key][0].as_f64().unwrap();
    assert!(first("first_vapor_mass_fractions") > 0.35);
    assert!(first("last_liquid_mass_fractions") < 0.35);
}

/// R-507A boils at -47.1 degC without glide (ANSI/ASHRAE 34, from memory); R-436A bubble -34.3, dew -26.2 degC
/// (ASHRAE Handbook Fundamentals 2021, ch. 29, table 2).
#[test]
fn azeotrope() {
    let found = tasks("azeotrope", &[]);
    close(
        number(&found[0], "bubble_temperature_K") - 273.15,
        -47.1,
        0.6,
    );
    close(number(&found[0], "glide_K"), 0.0, 0.1);
    close(
        number(&found[1], "bubble_temperature_K") - 273.15,
        -34.3,
        0.3,
    );
    close(number(&found[1], "dew_temperature_K") - 273.15, -26.2, 0.3);
}

/// A general-purpose open library: R-455A, 64.7 psig, liquid 100 degF: inlet 26.7, dew 40.0 degF, inlet quality
/// 0.284 by mass. R-134a at 35 psig: 40 degF all along (taught, from memory).
#[test]
fn coil() {
    let found = tasks("coil", &[]);
    let at =
        |task: usize, place: usize| 1.8 * found[task]["along"][place][1].as_f64().unwrap() - 459.67;
    close(at(0, 0), 26.7, 0.15);
    close(at(0, 10), 40.0, 0.15);
    close(number(&found[0], "inlet_quality"), 0.284, 0.002);
    for place in 0..=10 {
        close(at(1, place), 40.0, 0.3);
    }
}

/// ASHRAE Handbook Fundamentals 2021, ch. 29, table 8 (`tests/data/cycle_table.csv`), 20 degF and 30 degC:
/// R-22 effect 165.9 kJ/kg, COP 6.105, so work 165.9 / 6.105 = 27.17 kJ/kg.
#[test]
fn cycle() {
    let found = tasks("cycle", &[]);
    let one = &found[0]["cycle"];
    let text = one.to_string();
    let read = |key: &str| {
        let from = text.find(&format!("\"{key}\":")).unwrap() + key.len() + 3;
        let rest = &text[from..];
        let end = rest.find([',', '}']).unwrap();
        rest[..end].parse::<f64>().unwrap()
    };
    close(read("cop_cooling"), 6.105, 0.002 * 6.105);
    close(
        read("refrigerating_effect_J_kg") / 1e3,
        165.9,
        0.002 * 165.9,
    );
}

/// The same table: R-290 288.6 kJ/kg and 5.987, R-717 1113.0 kJ/kg and 6.254.
#[test]
fn heat_pump() {
    let page = answer(&["exercise", "recipes/exercise_heat_pump.yaml"]);
    let key = page.split("Answer key").nth(1).unwrap();
    let after = |label: &str| -> Vec<f64> {
        let parts = key.split(label).skip(1);
        parts
            .map(|rest| rest.split_whitespace().next().unwrap().parse().unwrap())
            .collect()
    };
    for (found, by_hand) in after("effect, h1 - h4").iter().zip([288.6, 1113.0]) {
        close(*found, by_hand, 0.003 * by_hand);
    }
    for (found, by_hand) in after("work, h2 - h1")
        .iter()
        .zip([288.6 / 5.987, 1113.0 / 6.254])
    {
        close(*found, by_hand, 0.004 * by_hand);
    }
    assert_eq!(after("COP").len(), 2);
}

/// Cells of a table's row that begins with a label.
fn row<'a>(page: &'a str, label: &str) -> Vec<&'a str> {
    let line = page.lines().find_map(|line| line.strip_prefix(label));
    let line = line.unwrap_or_else(|| panic!("{label} is not in {page}"));
    line.split_whitespace().collect()
}

/// The number that a cell begins with.
fn figure(cell: &str) -> f64 {
    cell.trim_start_matches('±').parse().unwrap()
}

fn pages(recipe: &str) -> (String, String) {
    let page = answer(&["exercise", &format!("recipes/exercise_{recipe}.yaml")]);
    let (asked, key) = page.split_once("Answer key").unwrap();
    (asked.to_owned(), key.to_owned())
}

/// A page is solved with itself alone: a reading between two rows of its own table.
#[test]
fn readings_by_the_table_of_the_page() {
    let (asked, key) = pages("superheat");
    let at = |row: Vec<&str>, column: usize| figure(row[column]);
    // R-134a, 35 psig; columns: R-134a, R-407C bubble, R-407C dew
    let [low, high] = ["\n35 ", "\n40 "].map(|label| {
        let line = asked.split(label).nth(1).unwrap().lines().next().unwrap();
        line.split_whitespace().map(figure).collect::<Vec<_>>()
    });
    let dew = 35.0 + 5.0 * (35.0 - low[0]) / (high[0] - low[0]);
    close(50.0 - dew, at(row(&key, "superheat "), 0), 0.5);
    // what is printed leads on: line minus saturation is the superheat to its last digit
    let saturation = at(row(&key, "saturation temperature "), 0);
    close(50.0 - saturation, at(row(&key, "superheat "), 0), 1e-9);
}

/// A coil is filled in from the enthalpies of its page.
#[test]
fn a_coil_by_the_table_of_the_page() {
    let (asked, key) = pages("coil");
    let table = asked.split("enthalpy, Btu/lb").nth(1).unwrap();
    let rows: Vec<(f64, f64)> = table
        .lines()
        .skip(2)
        .take(6)
        .map(|line| {
            let cells: Vec<f64> = line.split_whitespace().map(figure).collect();
            (cells[0], cells[1])
        })
        .collect();
    let words = asked.split("expansion device has ").nth(1).unwrap();
    let liquid = figure(words.split_whitespace().next().unwrap());
    let (_, last) = rows[5];
    for tenth in [0, 2, 4, 6, 8, 10] {
        let wanted = liquid + f64::from(tenth) / 10.0 * (last - liquid);
        let after = rows
            .iter()
            .position(|(_, h)| *h >= wanted - 1e-9)
            .unwrap()
            .max(1);
        let ((t0, h0), (t1, h1)) = (rows[after - 1], rows[after]);
        let by_hand = t0 + (t1 - t0) * (wanted - h0) / (h1 - h0);
        let shown = figure(row(&key, &format!("{} % of heat", 10 * tenth))[0]);
        close(by_hand, shown, 0.25);
    }
}

/// Digits of a key suit what is accepted; differences and quotients of printed figures are the printed ones.
#[test]
fn digits_of_keys() {
    let decimals = |cell: &str| cell.split('.').nth(1).map_or(0, str::len);
    for recipe in ["lens", "azeotrope", "cycle", "heat_pump", "drawn"] {
        let (asked, key) = pages(recipe);
        assert!(!asked.contains("0.0000 barg"), "{asked}");
        assert!(!asked.contains("efficiency 1"), "{asked}");
        assert!(!key.contains("±0.0 "), "{key}");
        for line in key.lines().filter(|line| line.contains('±')) {
            let cells: Vec<&str> = line.split_whitespace().collect();
            let Some(first) = cells.iter().position(|cell| cell.parse::<f64>().is_ok()) else {
                continue;
            };
            let accepted = cells
                .iter()
                .rposition(|cell| cell.starts_with('±'))
                .unwrap();
            let more = decimals(cells[first]).abs_diff(decimals(cells[accepted]));
            assert!(more <= 1, "{recipe}: {line}");
        }
    }
    let (_, key) = pages("lens");
    let read = |label: &str| figure(row(&key, label)[0]);
    let glide = read("dew temperature ") - read("bubble temperature ");
    close(glide, read("glide "), 1e-9);
    let (_, key) = pages("cycle");
    let read = |label: &str| figure(row(&key, label)[0]);
    close(read("h1 ") - read("h4 "), read("effect, h1 - h4 "), 1e-9);
    close(read("h2 ") - read("h1 "), read("work, h2 - h1 "), 1e-9);
    let cop = read("effect, h1 - h4 ") / read("work, h2 - h1 ");
    close((10.0 * cop).round() / 10.0, read("COP "), 1e-9);
}

/// No student's page answers its own question; on paper the key begins a page.
#[test]
fn keys_stand_apart() {
    let files = std::fs::read_dir("recipes").unwrap();
    let names = files.map(|file| file.unwrap().file_name().into_string().unwrap());
    let names: Vec<String> = names.filter(|name| name.starts_with("exercise_")).collect();
    assert_eq!(names.len(), 11);
    for name in &names {
        let page = answer(&["exercise", &format!("recipes/{name}")]);
        let (asked, key) = page.split_once("Answer key").unwrap();
        for solution in [
            "Superheat is read from dew",
            "tie line halfway",
            "more volatile",
        ] {
            assert!(!asked.contains(solution), "{name}: {solution}");
        }
        assert!(
            asked.contains("__________") && !key.contains("__________"),
            "{name}"
        );
        assert!(key.contains("accept"), "{name}");
    }
    let pdf = crate::print::bytes(&["--recipe", "recipes/class_exercise.yaml"]);
    let page = crate::print::lines(&pdf).join(" ");
    let (asked, key) = page.split_once("Answer key").unwrap();
    for hint in ["read superheat there", "glide 11"] {
        assert!(
            !asked.contains(hint) && key.contains(hint),
            "{hint}: {page}"
        );
    }
    let folder = crate::print::Folder::new("exercise-key");
    let file = folder.file("lens.pdf");
    answer(&["exercise", "recipes/exercise_lens.yaml", "--output", &file]);
    let pdf = std::fs::read(&file).unwrap();
    let (pages, words) = crate::print::placed_words(&pdf);
    let key = words.iter().find(|word| word.text == "Answer").unwrap();
    let name = words.iter().find(|word| word.text == "Name:").unwrap();
    assert!(
        pages.len() > 1 && key.page > name.page,
        "{} pages",
        pages.len()
    );
}

#[test]
fn what_is_no_exercise_is_told() {
    let folder = crate::print::Folder::new("exercise");
    let wrong = [
        (
            "tasks:\n- superheat: {refrigerant: R-32}",
            "has neither pressure and line",
        ),
        ("tasks:\n- {}", "has no kind"),
        (
            "tasks:\n- lens: {refrigerant: R-32, pressure: 5bara}",
            "is of two components",
        ),
        ("tasks: 3", "invalid type"),
        (
            "tasks:\n- superheat: {refrigerant: R-32, pressure: 100psig, line: 50F, target: 9F}",
            "has a target without a band",
        ),
    ];
    for (text, problem) in wrong {
        let file = folder.write("one.yaml", text);
        let run = zeotrope(&["exercise", &file]);
        assert_ne!(run.code, 0, "{text}");
        assert!(run.err.contains(problem), "{text}: {}", run.err);
    }
}
