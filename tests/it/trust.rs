//! What answers say about how far they may be trusted: measured points, refits, published points,
//! warming potentials, classes.

use std::collections::BTreeMap;
use std::sync::OnceLock;

use serde_json::Value;
use zeotrope::Refrigerant;
use zeotrope::catalogue::{Basis, Catalogue};
use zeotrope::equilibrium::bubble_dew::{self, Branch};
use zeotrope::helmholtz::MoleFractions;
use zeotrope::service::hazard::gwp::{Bound, by_mass};
use zeotrope::units::Temperature;
use zeotrope::validation::{self, PairDistance};

use crate::program::{answer, json, zeotrope};

/// A row of tests/data/measured_bubble_points.csv, whose papers stand beside each point.
struct Point {
    pair: (String, String),
    temperature: f64,
    pressure: f64,
    x_first: f64,
    doi: String,
    suspect: bool,
}

fn points() -> Vec<Point> {
    let path = concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/tests/data/measured_bubble_points.csv"
    );
    let mut rows = csv::Reader::from_path(path).unwrap();
    rows.records()
        .map(|row| {
            let row = row.unwrap();
            let number = |k: usize| row[k].parse::<f64>().unwrap();
            Point {
                pair: (row[0].to_owned(), row[1].to_owned()),
                temperature: number(2),
                pressure: number(3),
                x_first: number(4),
                doi: row[5].to_owned(),
                suspect: !row[6].is_empty(),
            }
        })
        .collect()
}

fn distances() -> &'static [PairDistance] {
    static ONCE: OnceLock<Vec<PairDistance>> = OnceLock::new();
    ONCE.get_or_init(|| validation::measured_bubble_points(&Catalogue::embedded()).unwrap())
}

/// A check of consistency, against no source: the files say what is found today, to half of the last
/// digit that `tools/measured.py` writes.
#[test]
fn the_files_say_what_validation_finds() {
    let catalogue = Catalogue::embedded();
    let mut without_file = Vec::new();
    let mut counted = 0;
    for one in distances() {
        let name = format!("{} + {}", one.first, one.second);
        let Some((record, _)) = catalogue.pair(&one.first, &one.second).unwrap() else {
            without_file.push(name);
            continue;
        };
        let Some(measured) = &record.measured else {
            assert_eq!(one.points, 0, "{name}");
            continue;
        };
        counted += 1;
        assert_eq!(
            (measured.points, measured.papers),
            (one.points, one.papers),
            "{name}"
        );
        for (what, file, found, digit) in [
            ("bias %", measured.bias_percent, one.bias_percent, 0.01),
            ("rms %", measured.rms_percent, one.rms_percent, 0.01),
            ("bias K", measured.bias_k, one.bias_kelvin, 0.001),
            ("rms K", measured.rms_k, one.rms_kelvin, 0.001),
        ] {
            let found = found.unwrap();
            assert!(
                (file - found).abs() < 0.51 * digit,
                "{name}, {what}: {file} in the file, {found} found; run tools/measured.py"
            );
        }
    }
    // Nothing is published for these pairs and no listed blend has them.
    assert_eq!(
        without_file,
        ["R-1140 + R-40", "R-150 + R-610", "R-610 + R-290"]
    );
    let in_files = catalogue
        .pairs()
        .iter()
        .filter(|(first, second)| {
            let found = catalogue.pair(first, second).unwrap();
            found.is_some_and(|(record, _)| record.measured.is_some())
        })
        .count();
    assert_eq!(counted, in_files);
    assert_eq!(counted, 88);
}

/// A refit stands against at least 25 points that the published pair missed by more than 3 %, all
/// of them of the papers it names.
#[test]
fn refits_say_what_they_rest_on() {
    let catalogue = Catalogue::embedded();
    let published = validation::measured_bubble_points(&catalogue.with_published_pairs()).unwrap();
    let points = points();
    let mut refitted = Vec::new();
    for (before, after) in published.iter().zip(distances()) {
        assert!(!before.refitted);
        if !after.refitted {
            assert_eq!(before, after);
            continue;
        }
        let (record, _) = catalogue
            .pair(&after.first, &after.second)
            .unwrap()
            .unwrap();
        let refit = record.refitted.as_ref().unwrap();
        let mut papers: Vec<&str> = points
            .iter()
            .filter(|point| point.pair.0 == after.first && point.pair.1 == after.second)
            .filter(|point| !point.suspect)
            .map(|point| point.doi.as_str())
            .collect();
        assert_eq!(papers.len(), refit.points);
        papers.sort_unstable();
        papers.dedup();
        assert_eq!(papers, refit.papers);
        assert!(refit.points >= 25);
        let (was, is) = (before.rms_percent.unwrap(), after.rms_percent.unwrap());
        assert!(was > 3.0);
        assert!((was - refit.rms_before_percent).abs() < 0.0051, "{was}");
        assert!((is - refit.rms_after_percent).abs() < 0.0051, "{is}");
        refitted.push(format!("{} + {}", after.first, after.second));
    }
    assert_eq!(
        refitted,
        [
            "R-22 + R-1150",
            "R-1234yf + R-14",
            "R-134a + R-717",
            "R-1130(E) + R-150",
            "R-365mfc + R-744"
        ]
    );
}

/// Two parameters fitted to warmer points cannot tell that a liquid parts when cold: along the
/// composition the bubble pressure turns no more often than with the published parameters, and
/// every composition is answered from -60 °C on.
#[test]
fn refits_part_no_liquid() {
    let catalogue = Catalogue::embedded();
    let published = catalogue.with_published_pairs();
    for one in distances().iter().filter(|one| one.refitted) {
        let turns = |catalogue: &Catalogue| {
            let found: Vec<f64> = (1..50)
                .map(|step| {
                    let percent = 2 * step;
                    let text =
                        format!("{}/{} ({percent}/{})", one.first, one.second, 100 - percent);
                    let blend = Refrigerant::from_catalogue(catalogue, &text, Basis::Mole).unwrap();
                    let cold = Temperature::celsius(-60.0);
                    let bubble = blend.bubble_pressure(cold).unwrap();
                    let dew = blend.dew_pressure(cold).unwrap();
                    assert!(
                        bubble.in_pascal() >= dew.in_pascal() * (1.0 - 1e-9),
                        "{text}"
                    );
                    bubble.in_pascal()
                })
                .collect();
            let rises: Vec<bool> = found.windows(2).map(|two| two[1] > two[0]).collect();
            rises.windows(2).filter(|two| two[0] != two[1]).count()
        };
        let (ours, theirs) = (turns(&catalogue), turns(&published));
        assert!(
            ours <= theirs,
            "{} + {}: {ours} {theirs}",
            one.first,
            one.second
        );
    }
}

/// To first order in the pressure: against bubble temperatures solved at the measured pressures of
/// 124 points of two papers (the table).
#[test]
fn kelvins_are_those_of_solved_temperatures() {
    let pair = ("R-744", "R-290");
    let blend = Refrigerant::from_catalogue(
        &Catalogue::embedded(),
        &format!("{}/{} (50/50)", pair.0, pair.1),
        Basis::Mole,
    )
    .unwrap();
    let (mixture, _) = blend.model();
    // sorted by name
    assert_eq!(mixture.components()[0].record.designation, "R-290");
    let mut squares = Vec::new();
    for point in points() {
        if (point.pair.0.as_str(), point.pair.1.as_str()) != pair {
            continue;
        }
        let z = MoleFractions::checked(&[1.0 - point.x_first, point.x_first]).unwrap();
        let at = |temperature| {
            bubble_dew::at_temperature(mixture, &z, Branch::Bubble, temperature, None).unwrap()
        };
        let start = at(point.temperature);
        let found =
            bubble_dew::at_pressure(mixture, &z, Branch::Bubble, point.pressure, Some(&start))
                .unwrap();
        squares.push((found.temperature - point.temperature).powi(2));
    }
    let direct = (squares.iter().sum::<f64>() / squares.len() as f64).sqrt();
    let stated = distances()
        .iter()
        .find(|one| (one.first.as_str(), one.second.as_str()) == pair)
        .unwrap();
    assert_eq!(squares.len(), stated.points);
    let stated = stated.rms_kelvin.unwrap();
    assert!((stated / direct - 1.0).abs() < 0.05, "{stated} {direct}");
}

/// A point measured at 263.15 K with 30.5 mole % R-717 (doi 10.1016/j.jct.2017.01.019): which
/// parameters answer is the user's choice.
#[test]
fn published_parameters_can_be_chosen() {
    let points = points();
    let point = points
        .iter()
        .find(|point| {
            point.pair == ("R-134a".into(), "R-717".into())
                && (point.temperature - 263.15).abs() < 0.01
                && (point.x_first - 0.695).abs() < 0.001
        })
        .unwrap();
    let percent = 100.0 * point.x_first;
    let literal = format!("R-134a/R-717 ({percent}/{})", 100.0 - percent);
    let off = |pairs: &[&str]| {
        let temperature = format!("{}K", point.temperature);
        let mut arguments = vec!["saturation", literal.as_str(), "--mole", "--temperature"];
        arguments.push(&temperature);
        arguments.extend(pairs);
        let found = json(&arguments);
        let pair = &found["model"]["pairs"][0];
        assert_eq!(pair["kind"], "reducing");
        assert_eq!(pair["refitted"].is_null(), pairs.contains(&"published"));
        found["bubble"]["pressure_Pa"].as_f64().unwrap() / point.pressure - 1.0
    };
    let refitted = off(&[]);
    assert!(refitted.abs() < 0.05, "{refitted}");
    assert_eq!(off(&["--pairs", "refitted"]), refitted);
    let published = off(&["--pairs", "published"]);
    assert!(published > 0.1, "{published}");

    let words = one_line(&answer(&["show", "R-717/R-134a (10/90)"]));
    let wanted = "Pair R-134a + R-717: fitted reducing parameters; Bell, J. Chem. Eng. Data (2025), \
                  doi 10.1021/acs.jced.4c00699; refitted to measured bubble points (doi \
                  10.1016/j.jct.2017.01.019), rms before 6.1 %; measured: 40 points, 1 paper, rms 1.6 %";
    assert!(words.contains(wanted), "{words}");
}

/// A page without its line breaks.
fn one_line(page: &str) -> String {
    page.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn a_pair_is_told_by_how_it_is_known() {
    let words = one_line(&answer(&["show", "R-401A"]));
    for part in [
        "Pair R-152a + R-22: fitted reducing parameters; ",
        "Pair R-124 + R-22: estimated: gamma_t alone, ",
        "fitted to these values: no check",
    ] {
        assert!(words.contains(part), "{part}: {words}");
    }
    let words = one_line(&answer(&["show", "R-410A"]));
    let wanted = "Pair R-125 + R-32: departure function; Lemmon & Jacobsen, J. Phys. Chem. Ref. \
                  Data 33 (2004) 593; measured: 65 points, 2 papers, rms 0.8 %";
    assert!(words.contains(wanted), "{words}");

    let points = |name: &str| json(&["show", name])["model"]["published_points"].clone();
    // ASHRAE Handbook Fundamentals 2021, ch. 29, Table 2
    let of_r454b = points("R-454B");
    assert_eq!(of_r454b[0]["side"], "bubble");
    assert_eq!(of_r454b[0]["published_C"], -50.9);
    assert_eq!(of_r454b[0]["from_memory"], false);
    assert_eq!(of_r454b[0]["fitted_to_these_values"], false);
    assert!(of_r454b[0]["difference_K"].as_f64().unwrap().abs() < 0.3);
    assert_eq!(points("R-454C")[1]["from_memory"], true);
    assert_eq!(points("R-401A")[0]["fitted_to_these_values"], true);
    assert_eq!(points("R-32/R-134a (30/70)"), Value::Array(Vec::new()));
}

#[test]
fn charts_carry_a_short_form() {
    let foot = |name: &str| {
        let page = one_line(&answer(&["chart", name, "--from", "0C", "--to", "5C"]));
        let start = page.find(&format!("{name}: class")).unwrap();
        page[start..].to_owned()
    };
    let of_r410a = foot("R-410A");
    assert!(
        of_r410a.contains("pairs: 1 with a fitted departure function; at 101.325 kPa within 0."),
        "{of_r410a}"
    );
    assert!(of_r410a.contains(" K of published values."), "{of_r410a}");
    let vapors = "R-410A: Deviation from measured vapors, 1 of 1 pairs: mole fraction 0.0";
    assert!(of_r410a.contains(vapors), "{of_r410a}");
    assert!(foot("R-454C").contains("K of values quoted from memory"));
    assert!(foot("R-401A").contains("of published values, to which it was fitted"));
    let own = foot("R-134a/R-717 (50/50)");
    assert!(
        own.contains(
            "class not assigned; 50 % R-134a, 50 % R-717 by mass; binary pairs: 1 with fitted \
             reducing parameters, 1 refitted to measured bubble points."
        ),
        "{own}"
    );
}

/// AR4 potentials as Regulation (EU) No 517/2014, Annexes I and IV, gives them for blends, from
/// memory: R-404A 3922, R-407C 1774, R-410A 2088, R-507A 3985.
#[test]
fn potentials_by_mass() {
    for (name, printed) in [
        ("R-404A", 3922.0),
        ("R-407C", 1774.0),
        ("R-410A", 2088.0),
        ("R-507A", 3985.0),
    ] {
        let found = by_mass(&Refrigerant::named(name).unwrap());
        let ar4 = found.iter().find(|one| one.report == "IPCC AR4").unwrap();
        assert!((ar4.value - printed).abs() <= 0.5, "{name}: {}", ar4.value);
        assert_eq!((ar4.bound(), ar4.horizon_years), (Bound::Exact, Some(100)));
    }
    // AR5 says "less than 1" of R-1234yf: 0.689 x 677 + 0.311 x 1 is an upper bound. AR4 has no
    // value of it: 0.689 x 675 is a lower one.
    let found = by_mass(&Refrigerant::named("R-454B").unwrap());
    let of = |report: &str| found.iter().find(|one| one.report == report).unwrap();
    assert!((of("IPCC AR5").value - (0.689 * 677.0 + 0.311)).abs() < 1e-9);
    assert_eq!(of("IPCC AR5").bound(), Bound::AtMost);
    assert!((of("IPCC AR4").value - 0.689 * 675.0).abs() < 1e-9);
    assert_eq!(of("IPCC AR4").bound(), Bound::AtLeast);
    assert_eq!(of("IPCC AR4").missing, ["R-1234yf"]);

    let words = one_line(&answer(&["show", "R-454B"]));
    assert!(
        words.contains(
            "GWP over 100 years at least 465.1 by mass (IPCC AR4; no value for R-1234yf)"
        ),
        "{words}"
    );
    let gwp = &json(&["show", "R-454B"])["gwp"];
    assert_eq!(gwp[0]["at_least"], true);
    assert_eq!(gwp[0]["report"], "IPCC AR4");
    assert_eq!(gwp[0]["horizon_years"], 100);
}

#[test]
fn a_class_is_told_once_and_never_left_blank() {
    for (name, class) in [("R-454B", "A2L"), ("R-717", "B2L"), ("R-410A", "A1")] {
        let page = answer(&["show", name]);
        let told = page
            .split(|character: char| !character.is_alphanumeric())
            .filter(|word| *word == class);
        assert_eq!(told.count(), 1, "{page}");
    }
    let own = one_line(&answer(&["show", "R-32/R-134a (50/50)"]));
    assert!(
        own.contains(
            "No safety class assigned: treat as flammable and toxic. Nothing here is a charging \
             instruction."
        ),
        "{own}"
    );
    let unknown = answer(&["show", "R-C270"]);
    assert!(unknown.contains("not assigned here"), "{unknown}");
}

/// Table 2 of the handbook (ASHRAE Handbook Fundamentals 2021, ch. 29) to one decimal: the middle of
/// the distances is within 0.2 K, and who lies 1 K off is named with what may be behind it.
#[test]
fn far_blends_have_a_reason() {
    let found = validation::blend_distances(&Catalogue::embedded()).unwrap();
    let free = found
        .iter()
        .filter(|(one, _)| !one.fitted_to_these_values && !one.from_memory());
    let middle = validation::median(free.filter_map(|(one, _)| one.difference())).unwrap();
    assert!(middle < 0.2, "{middle}");
    let mut by_reason: BTreeMap<bool, usize> = BTreeMap::new();
    for (one, reason) in &found {
        if one.difference().is_some_and(|size| size.abs() >= 1.0) {
            *by_reason.entry(reason.is_empty()).or_default() += 1;
        }
    }
    assert_eq!(by_reason.get(&true), None, "{found:?}");
    assert!(by_reason[&false] > 0);
    let listed: Vec<&str> = found
        .iter()
        .map(|(one, _)| one.designation.as_str())
        .filter(|name| validation::AZEOTROPES.contains(name))
        .collect();
    assert_eq!(listed, validation::AZEOTROPES);
}

/// `validate` judges the facts that it is given: a pair of one's own, which mixes without any
/// interaction, lies farther from the measured points, and R-410A from its printed tables.
#[test]
fn validate_takes_ones_own_facts() {
    let folder = std::env::temp_dir().join(format!("zeotrope-own-{}", std::process::id()));
    std::fs::create_dir_all(folder.join("pairs")).unwrap();
    let own = "first: R-32\nsecond: R-125\nkind: reducing\nreducing:\n  beta_t: 1.0\n  \
               gamma_t: 1.0\n  beta_v: 1.0\n  gamma_v: 1.0\nsource: my own\n";
    std::fs::write(folder.join("pairs/own.yaml"), own).unwrap();
    let run = zeotrope(&[
        "validate",
        "--data",
        folder.to_str().unwrap(),
        "--format",
        "json",
    ]);
    std::fs::remove_dir_all(&folder).unwrap();
    assert_eq!(run.code, 1, "{}", run.err);
    assert!(run.err.contains("without a known reason"), "{}", run.err);
    let found: Value = serde_json::from_str(&run.out).unwrap();
    let rms = |table: &Value| {
        let pairs = table["measured_bubble_points"].as_array().unwrap();
        let names = |one: &Value| [one["first"].clone(), one["second"].clone()];
        let pair = pairs.iter().find(|one| {
            names(one).contains(&"R-32".into()) && names(one).contains(&"R-125".into())
        });
        pair.unwrap()["rms_percent"].as_f64().unwrap()
    };
    let published = json(&["validate", "--pairs", "published"]);
    assert!(rms(&found) > 1.5 * rms(&published), "{}", rms(&found));
    let refitted = |table: &Value| {
        let pairs = table["measured_bubble_points"].as_array().unwrap();
        pairs.iter().filter(|one| one["refitted"] == true).count()
    };
    // tools/data/refitted.csv names five.
    assert_eq!((refitted(&found), refitted(&published)), (5, 0));
    assert_ne!(zeotrope(&["validate", "--data", "no-such-folder"]).code, 0);
}
