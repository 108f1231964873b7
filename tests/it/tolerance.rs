//! Corners of the tolerances of contents, and the bands of bubble and dew over them.

use zeotrope::Refrigerant;
use zeotrope::catalogue::records::BlendRecord;
use zeotrope::catalogue::{Catalogue, corners};
use zeotrope::equilibrium::bubble_dew::Branch;
use zeotrope::numeric::solve_linear;
use zeotrope::units::{Temperature, TemperatureDifference};

use crate::program::{answer, json, zeotrope};

const MOST: usize = 8;

/// Half-spaces `factors . w <= limit` of a blend's tolerances, in mass %.
fn half_spaces(record: &BlendRecord) -> Vec<([f64; MOST], f64)> {
    let mut all = Vec::new();
    let mut between = |factors: [f64; MOST], low: f64, high: f64| {
        all.push((factors, high));
        all.push((factors.map(|f| -f), -low));
    };
    for (k, component) in record.components.iter().enumerate() {
        let [below, above] = component.tolerance_mass_percent.unwrap();
        let mut factors = [0.0; MOST];
        factors[k] = 1.0;
        let w = component.mass_percent;
        between(factors, (w - below).max(0.0), w + above);
    }
    if let Some(rule) = &record.sum_rule {
        let mut factors = [0.0; MOST];
        let mut nominal = 0.0;
        for (k, component) in record.components.iter().enumerate() {
            if rule.refrigerants.contains(&component.refrigerant) {
                factors[k] = 1.0;
                nominal += component.mass_percent;
            }
        }
        let [below, above] = rule.tolerance_mass_percent;
        between(factors, nominal - below, nominal + above);
    }
    all
}

/// Every choice of `count` from `from..total`.
fn choices(from: usize, total: usize, count: usize) -> Vec<Vec<usize>> {
    if count == 0 {
        return vec![Vec::new()];
    }
    (from..total)
        .flat_map(|first| {
            choices(first + 1, total, count - 1)
                .into_iter()
                .map(move |mut rest| {
                    rest.insert(0, first);
                    rest
                })
        })
        .collect()
}

/// Corners by the definition alone: every choice of limits met exactly, beside the sum of 100 %,
/// solved as linear equations.
fn by_definition(record: &BlendRecord) -> Vec<Vec<f64>> {
    let count = record.components.len();
    let spaces = half_spaces(record);
    let mut found: Vec<Vec<f64>> = Vec::new();
    for choice in choices(0, spaces.len(), count - 1) {
        let mut matrix = [[0.0; MOST]; MOST];
        let mut right = [0.0; MOST];
        for (row, place) in choice.iter().enumerate() {
            matrix[row] = spaces[*place].0;
            right[row] = spaces[*place].1;
        }
        matrix[count - 1] = [1.0; MOST];
        right[count - 1] = 100.0;
        if !solve_linear(&mut matrix, &mut right, count) {
            continue;
        }
        let point = &right[..count];
        let inside = spaces.iter().all(|(factors, limit)| {
            let value: f64 = factors.iter().zip(point).map(|(f, w)| f * w).sum();
            value <= limit + 1e-9
        });
        let known = found
            .iter()
            .any(|other| other.iter().zip(point).all(|(a, b)| (a - b).abs() < 1e-8));
        if inside && !known && point.iter().all(|w| w.is_finite()) {
            found.push(point.to_vec());
        }
    }
    found
}

fn same_corners(record: &BlendRecord, found: &[Vec<f64>]) {
    let expected = by_definition(record);
    assert_eq!(found.len(), expected.len(), "{}", record.designation);
    for corner in found {
        let sum: f64 = corner.iter().sum();
        assert!((sum - 1.0).abs() < 1e-12, "{}", record.designation);
        let met = expected.iter().any(|other| {
            let mut pairs = other.iter().zip(corner);
            pairs.all(|(a, b)| (a - 100.0 * b).abs() < 1e-8)
        });
        assert!(met, "{}: {corner:?}", record.designation);
    }
}

#[test]
fn corners_of_every_blend() {
    let catalogue = Catalogue::embedded();
    let mut with = 0;
    for designation in catalogue.blend_designations() {
        let record = catalogue.blend(&designation).unwrap();
        let Some(found) = corners(&record) else {
            continue;
        };
        with += 1;
        assert!(
            (2..=48).contains(&found.len()),
            "{designation}: {}",
            found.len()
        );
        same_corners(&record, &found);
    }
    assert!(with > 100, "{with}");
}

/// R-405A, whose R-152a and R-142b together keep to 12.5 % +0/-2; and the same without that rule.
#[test]
fn corners_under_a_sum_rule() {
    let mut record = (*Catalogue::embedded().blend("R-405A").unwrap()).clone();
    let with = corners(&record).unwrap();
    same_corners(&record, &with);
    let sums: Vec<f64> = with.iter().map(|w| 100.0 * (w[1] + w[2])).collect();
    assert!(
        sums.iter()
            .all(|sum| (10.5 - 1e-9..=12.5 + 1e-9).contains(sum))
    );
    assert!(sums.iter().any(|sum| (sum - 12.5).abs() < 1e-9));
    record.sum_rule = None;
    let without = corners(&record).unwrap();
    same_corners(&record, &without);
    assert_ne!(with.len(), without.len());
}

#[test]
fn nothing_below_zero() {
    let mut record = (*Catalogue::embedded().blend("R-410A").unwrap()).clone();
    record.components[0].mass_percent = 0.5;
    record.components[1].mass_percent = 99.5;
    record.components[0].tolerance_mass_percent = Some([1.0, 1.0]);
    record.components[1].tolerance_mass_percent = Some([1.0, 1.0]);
    let found = corners(&record).unwrap();
    same_corners(&record, &found);
    assert!(found.iter().any(|corner| corner[0] == 0.0));
    record.components[0].tolerance_mass_percent = None;
    assert_eq!(corners(&record), None);
}

/// Dew at the nominal blend's 40 °F and bubble at its 110 °F pressure, °F below and above.
/// Computed with CoolProp 8.0.0, a cross-check; tolerances of ANSI/ASHRAE 34.
#[test]
fn bands_in_degrees() {
    let rows: [(&str, Branch, f64, f64, f64); 7] = [
        ("R-410A", Branch::Dew, 0.04, 0.12, 0.005),
        ("R-407C", Branch::Dew, 1.3, 1.3, 0.05),
        ("R-407C", Branch::Bubble, 1.6, 1.6, 0.05),
        ("R-454C", Branch::Dew, 1.6, 1.6, 0.05),
        ("R-454C", Branch::Bubble, 2.0, 2.2, 0.05),
        ("R-455A", Branch::Dew, 2.4, 2.0, 0.05),
        ("R-455A", Branch::Bubble, 7.6, 4.7, 0.05),
    ];
    let mut faults = Vec::new();
    for (name, branch, below, above, half) in rows {
        let refrigerant = Refrigerant::named(name).unwrap();
        let (at, pressure) = match branch {
            Branch::Dew => {
                let at = Temperature::fahrenheit(40.0);
                (at, refrigerant.dew_pressure(at).unwrap())
            }
            Branch::Bubble => {
                let at = Temperature::fahrenheit(110.0);
                (at, refrigerant.bubble_pressure(at).unwrap())
            }
        };
        let band = refrigerant
            .temperature_band(branch, pressure)
            .unwrap()
            .unwrap();
        let degrees = |difference: TemperatureDifference| difference.in_fahrenheit_degrees();
        let found = (degrees(at - band.lowest), degrees(band.highest - at));
        if (found.0 - below).abs() > half || (found.1 - above).abs() > half {
            faults.push(format!("{name} {branch:?}: -{}/+{}", found.0, found.1));
        }
    }
    assert!(faults.is_empty(), "{faults:#?}");
}

/// Each corner written out and solved by itself, from cold, spans the band.
#[test]
fn corners_solved_by_themselves() {
    let catalogue = Catalogue::embedded();
    for (name, celsius) in [
        ("R-455A", 5.0),
        ("R-407C", 45.0),
        ("R-438A", 20.0),
        ("R-448A", 70.0),
        ("R-437A", -40.0),
        ("R-454B", 74.0),
    ] {
        let refrigerant = Refrigerant::named(name).unwrap();
        let record = catalogue.blend(name).unwrap();
        let at = Temperature::celsius(celsius);
        for branch in [Branch::Bubble, Branch::Dew] {
            let line = |refrigerant: &Refrigerant| match branch {
                Branch::Bubble => refrigerant.bubble_pressure(at).unwrap().in_pascal(),
                Branch::Dew => refrigerant.dew_pressure(at).unwrap().in_pascal(),
            };
            let mut values = vec![line(&refrigerant)];
            for corner in corners(&record).unwrap() {
                let names: Vec<&str> = record
                    .components
                    .iter()
                    .map(|c| c.refrigerant.as_str())
                    .collect();
                let amounts: Vec<String> = corner
                    .iter()
                    .map(|w| format!("{:.10}", 100.0 * w))
                    .collect();
                let text = format!("{} ({})", names.join("/"), amounts.join("/"));
                values.push(line(&Refrigerant::named(&text).unwrap()));
            }
            let low = values.iter().copied().fold(f64::INFINITY, f64::min);
            let high = values.iter().copied().fold(0.0, f64::max);
            let band = refrigerant.pressure_band(branch, at).unwrap().unwrap();
            assert_eq!(band.corners, values.len() - 1);
            let close = |a: f64, b: f64| (a / b - 1.0).abs() < 1e-8;
            assert!(
                close(band.lowest.in_pascal(), low),
                "{name} {branch:?}: {band:?} {low}"
            );
            assert!(
                close(band.highest.in_pascal(), high),
                "{name} {branch:?}: {band:?} {high}"
            );
        }
    }
}

#[test]
fn no_band_is_told_and_is_never_zero() {
    for (name, word) in [
        ("R-134a", "pure"),
        ("R-400", "no published tolerance"),
        ("R-32/R-125 (40/60)", "no published tolerance"),
    ] {
        let found = json(&["saturation", name, "--temperature", "5C", "--tolerance"]);
        assert_eq!(found["tolerance"], serde_json::Value::Null, "{name}");
        let warnings = found["warnings"].as_array().unwrap();
        let warned = warnings.iter().find(|one| one["code"] == "no_tolerance");
        assert!(
            warned.unwrap()["text"].as_str().unwrap().contains(word),
            "{name}"
        );
    }
    let sheet = answer(&[
        "saturation",
        "R-134a",
        "R-410A",
        "--temperature",
        "5C",
        "--tolerance",
        "--format",
        "csv",
    ]);
    let rows: Vec<Vec<&str>> = sheet
        .lines()
        .map(|line| line.split(',').collect())
        .collect();
    let place = rows[0]
        .iter()
        .position(|head| *head == "dew_lowest_pressure_Pa")
        .unwrap();
    assert_eq!(rows[1][place], "");
    assert!(rows[2][place].parse::<f64>().unwrap() > 5e5);
}

#[test]
fn a_chart_with_its_bands() {
    let words = [
        "chart",
        "R-134a",
        "R-455A",
        "R-400",
        "--from",
        "0F",
        "--to",
        "40F",
        "--step",
        "20F",
        "--tolerance",
    ];
    let found = json(&words);
    let columns = found["columns"].as_array().unwrap();
    assert_eq!(columns.len(), 1 + 6 + 6);
    assert_eq!(columns[2]["within_tolerance"], "lowest");
    let cells = found["rows"][2]["cells"].as_array().unwrap();
    let value = |k: usize| cells[k]["pressure_Pa"].as_f64();
    for nominal in [1, 4] {
        assert!(value(nominal + 1).unwrap() < value(nominal).unwrap());
        assert!(value(nominal + 2).unwrap() > value(nominal).unwrap());
    }
    assert_eq!(cells[8]["text"], "not known");
    assert_eq!(value(8), None);
    let sheet: Vec<&str> = words.iter().copied().chain(["--format", "csv"]).collect();
    let heads = answer(&sheet).lines().next().unwrap().to_owned();
    assert!(heads.contains("R-455A_dew_highest_psig"), "{heads}");
}

/// Compositions between corners stay within the band of the corners, but for 1e-4 of the pressure
/// (0.003 K) that an extreme inside may add where the blend has an azeotrope among them; R-512A
/// adds 1.3e-6 at 5 °C.
#[test]
fn nothing_inside_lies_beyond_the_corners() {
    let catalogue = Catalogue::embedded();
    let mut faults = Vec::new();
    for name in [
        "R-407C", "R-455A", "R-448A", "R-410A", "R-513A", "R-404A", "R-436A", "R-512A", "R-515A",
    ] {
        let refrigerant = Refrigerant::named(name).unwrap();
        let record = catalogue.blend(name).unwrap();
        let found = corners(&record).unwrap();
        let places = [
            (5.0, Branch::Bubble),
            (5.0, Branch::Dew),
            (-30.0, Branch::Dew),
            (45.0, Branch::Bubble),
        ];
        for (celsius, branch) in places {
            let at = Temperature::celsius(celsius);
            let band = refrigerant.pressure_band(branch, at).unwrap().unwrap();
            let (low, high) = (band.lowest.in_pascal(), band.highest.in_pascal());
            for (k, one) in found.iter().enumerate() {
                for other in &found[..k] {
                    for part in [0.25, 0.5, 0.75] {
                        let names: Vec<&str> = record
                            .components
                            .iter()
                            .map(|c| c.refrigerant.as_str())
                            .collect();
                        let amounts: Vec<String> = one
                            .iter()
                            .zip(other)
                            .map(|(a, b)| format!("{:.10}", 100.0 * (part * a + (1.0 - part) * b)))
                            .collect();
                        let text = format!("{} ({})", names.join("/"), amounts.join("/"));
                        let between = Refrigerant::named(&text).unwrap();
                        let pressure = match branch {
                            Branch::Bubble => between.bubble_pressure(at).unwrap(),
                            Branch::Dew => between.dew_pressure(at).unwrap(),
                        }
                        .in_pascal();
                        let beyond = (low - pressure).max(pressure - high) / pressure;
                        if beyond > 1e-4 {
                            faults.push(format!(
                                "{name} {branch:?} {beyond:e} of {:e}",
                                high / low - 1.0
                            ));
                        }
                    }
                }
            }
        }
    }
    assert!(faults.is_empty(), "{faults:#?}");
}

#[test]
fn rows_of_a_file_have_no_bands() {
    for word in ["--tolerance", "--explain"] {
        let run = zeotrope(&["saturation", "R-410A", "--csv", "nowhere.csv", word]);
        assert_eq!(run.code, 2, "{}", run.err);
    }
}
