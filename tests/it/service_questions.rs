//! Ten questions of a technician as the README asks them, each answer against hand arithmetic.

use crate::program::{answer, words};

/// The verb with a word of the question's line, and what the answer must hold.
const ANSWERS: [(&str, &[&str]); 10] = [
    // Computed with CoolProp 8.0.0, a cross-check: 61.713 °F.
    ("moist-air --dry-bulb 75F", &["61.72 °F"]),
    // By hand with the handbook's equations 6, 20, 26, 30 and 33 at 83 427.5 Pa: W 0.014277 and
    // 0.011163, h 63.241 and 42.751 kJ/kg, v 1.05523 m3/kg, so 10.997 kW; at sea level 11.674 kW.
    ("moist-air --dry-bulb 80F", &["37524 Btu/h", "39833 Btu/h"]),
    // By hand: (3 x 64 - 80 - 96)/2.
    ("target-superheat", &["8.0 °F", "an estimate"]),
    // R-134a saturates at 86.7 psig (computed with CoolProp 8.0.0, a cross-check); by hand
    // 96.0 - 86.7 and, with 1.66 psi/°F, the root of 1.25^2 + 1.66^2.
    (
        "at-rest R-134a --pressure 96psig",
        &["+9.31 psi", "± 2.08 psi", "significant"],
    ),
    // R-717 at 75 °F: 140.5 psia in any printed table.
    (
        "at-rest --pressure 132psig",
        &[
            "R-717",
            "125.82 psig",
            "R-22",
            "cannot identify a refrigerant",
        ],
    ),
    // By hand: 86.6914/(88.9 - 1.0) = 0.98625, the pressure by CoolProp 8.0.0, a cross-check.
    (
        "at-rest R-134a --pressure 88.9psig",
        &["0.9863", "checked: 2026-11-25", "Not a calibration"],
    ),
    // By hand for the ideal gas: 164.696 x 534.67/554.67 - 14.696.
    (
        "pressure-test",
        &["144.06 psig", "143.92 psig", "this program proposes none"],
    ),
    // By hand: 500 x 0.133322 Pa. Ice at -12.1 °F computed with CoolProp 8.0.0, a cross-check.
    ("evacuation", &["66.66 Pa", "-12.06 °F", "ice"]),
    // By hand: 47.7 lb x 0.80 x 1.19065, the density by CoolProp 8.0.0, a cross-check.
    ("cylinder", &["45.44 lb", "permitted"]),
    // By hand: 12 x 0.453592 x (0.5 x 675 + 0.5 x 3500) kg, potentials of the IPCC's fourth report.
    ("exposure", &["11.36", "IPCC AR4"]),
];

#[test]
fn ten_questions_of_the_readme() {
    let readme = include_str!("../../README.md");
    let section = readme.split("### Around a service call").nth(1).unwrap();
    let table = section.split("```").next().unwrap();
    let commands: Vec<&str> = table
        .lines()
        .filter_map(|line| line.split("`zeotrope ").nth(1)?.split('`').next())
        .collect();
    assert_eq!(commands.len(), ANSWERS.len());
    for (command, (begin, parts)) in commands.iter().zip(ANSWERS) {
        assert!(command.starts_with(begin), "{command}");
        let words = words(command);
        let words: Vec<&str> = words.iter().map(String::as_str).collect();
        let page = answer(&words);
        // A line may be broken anywhere.
        let page = page.split_whitespace().collect::<Vec<_>>().join(" ");
        for part in parts {
            assert!(page.contains(part), "{command}: {part}: {page}");
        }
    }
}

/// Every verb of this kind answers in every format, with the cautions in text and JSON.
#[test]
fn every_format_has_the_answer() {
    let readme = include_str!("../../README.md");
    let section = readme.split("### Around a service call").nth(1).unwrap();
    let table = section.split("```").next().unwrap();
    for line in table.lines() {
        let Some(command) = line
            .split("`zeotrope ")
            .nth(1)
            .and_then(|rest| rest.split('`').next())
        else {
            continue;
        };
        let words = words(command);
        for format in ["text", "markdown", "csv", "json"] {
            let mut arguments: Vec<&str> = words.iter().map(String::as_str).collect();
            arguments.extend(["--format", format]);
            let text = answer(&arguments);
            match format {
                "json" => {
                    let value: serde_json::Value = serde_json::from_str(&text).unwrap();
                    let cautions = value["cautions"].as_array().unwrap();
                    assert!(!cautions.is_empty(), "{command}");
                    let all = value["cautions"].to_string();
                    assert!(all.contains("licensed people decide"), "{command}: {all}");
                    assert!(value["warnings"].is_array(), "{command}");
                }
                "csv" => {
                    let mut lines = text.lines();
                    let heads = lines.next().unwrap().split(',').count();
                    assert!(heads > 1 && lines.next().is_some(), "{command}: {text}");
                    let mut reader = csv::Reader::from_reader(text.as_bytes());
                    assert!(reader.records().all(|row| row.unwrap().len() == heads));
                }
                _ => assert!(text.contains("licensed people decide"), "{command}: {text}"),
            }
        }
    }
}
