//! What a lookup's check states, recounted and provoked.

use std::fs;

use zeotrope::chart::lookup::{Arithmetic, LookupForm, LookupQuantity, lookup, recheck};
use zeotrope::units::{Pressure, Temperature};
use zeotrope::{Branch, Refrigerant};

use crate::lookup::{EVERY, FOUR, folder, question};
use crate::program::{json, zeotrope};

#[test]
fn lookups_hold_their_resolution_against_the_equation() {
    for name in FOUR {
        let refrigerant = Refrigerant::named(name).unwrap();
        for arithmetic in [Arithmetic::F32, Arithmetic::Integer] {
            let found = lookup(&refrigerant, &question(LookupQuantity::ALL, arithmetic)).unwrap();
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
        let asked = question(&[LookupQuantity::DewTemperature], Arithmetic::F32);
        let found = lookup(&refrigerant, &asked).unwrap();
        let stated = &found.entries[0];
        let check = |form: &LookupForm| {
            let mut entry = stated.clone();
            entry.form = form.clone();
            recheck(&refrigerant, &found, &entry, EVERY).unwrap()
        };
        assert_eq!(check(&stated.form).largest, stated.check.largest);
        assert_eq!(check(&stated.form).mean, stated.check.mean);

        let worst = (stated.check.largest_at as f32).to_bits();
        let (key, t) = stated.form.interval_of(worst);
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
fn every_integer_pressure_is_read_once() {
    let refrigerant = Refrigerant::named("R-134a").unwrap();
    let mut asked = question(&[LookupQuantity::DewTemperature], Arithmetic::Integer);
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

/// The number in a file's head is that of the floats between the constants of its header.
#[test]
fn the_inputs_claimed_are_those_of_the_range() {
    let folder = folder("lookup-count");
    let shown = folder.to_string_lossy().into_owned();
    let run = zeotrope(&[
        "lookup",
        "R-407C",
        "--from",
        "-5C",
        "--to",
        "0C",
        "--of",
        "dew_temperature,dew_pressure",
        "--output",
        &shown,
    ]);
    assert_eq!(run.code, 0, "{}", run.err);
    let header = fs::read_to_string(folder.join("zeotrope_r407c.h")).unwrap();
    let end = |name: &str| -> f32 {
        let line = header.lines().find(|line| line.contains(name)).unwrap();
        line.split(' ')
            .nth(2)
            .unwrap()
            .trim_end_matches('f')
            .parse()
            .unwrap()
    };
    let mut total = 0u64;
    for (quantity, unit) in [("dew_temperature", "Pa"), ("dew_pressure", "K")] {
        let upper = quantity.to_uppercase();
        let last = end(&format!("{upper}_TO_{unit}"));
        let mut at = end(&format!("{upper}_FROM_{unit}"));
        let mut count = 1u64;
        while at < last {
            at = at.next_up();
            count += 1;
        }
        let said = format!("{quantity}: largest error over all ");
        let line = header.lines().find(|line| line.contains(&said)).unwrap();
        let claimed = line.split(&said).nth(1).unwrap().split(' ').next().unwrap();
        assert_eq!(claimed.replace(',', "").parse::<u64>().unwrap(), count);
        assert!(line.contains(" K, at ") && line.contains("mean ") && line.contains("monotonic"));
        total += count;
    }
    // The ends of the range lie on the line: the next float outside is none of it.
    let refrigerant = Refrigerant::named("R-407C").unwrap();
    let at = refrigerant
        .dew_pressure(Temperature::celsius(-5.0))
        .unwrap();
    let low = end("DEW_TEMPERATURE_FROM_Pa");
    assert!(f64::from(low) >= at.in_pascal() && f64::from(low.next_down()) < at.in_pascal());

    assert!(
        header.contains("dew_temperature: round trip p(T(p)): within "),
        "{header}"
    );
    let plain: String = run.out.chars().filter(|one| *one != '\n').collect();
    assert!(plain.contains("Largest error over all ") && plain.contains("round trip, K"));
    let digits: String = plain
        .split("over all ")
        .nth(1)
        .unwrap()
        .chars()
        .take_while(|one| *one != 'i')
        .filter(char::is_ascii_digit)
        .collect();
    assert_eq!(digits.parse::<u64>().unwrap(), total);
    let _ = fs::remove_dir_all(folder);
}

/// T(p) and back: no further than both lookups' errors together.
#[test]
fn a_round_trip_is_within_both_errors() {
    for name in FOUR {
        let refrigerant = Refrigerant::named(name).unwrap();
        let found = lookup(
            &refrigerant,
            &question(LookupQuantity::ALL, Arithmetic::F32),
        )
        .unwrap();
        for (temperature, pressure) in [(0, 2), (1, 3)] {
            let [there, back] = [temperature, pressure].map(|at| &found.entries[at].check);
            let trip = there.round_trip.unwrap();
            assert!(trip > 0.0 && back.round_trip.is_none());
            assert!(
                trip <= 1.05 * (there.largest + back.largest),
                "{name} {trip}"
            );
        }
    }
}

/// What the README shows of a file is what the program writes, read at every input.
#[test]
fn the_readme_shows_a_files_own_lines() {
    let folder = folder("lookup-readme");
    let shown = folder.to_string_lossy().into_owned();
    let question = "lookup R-407C --of dew_temperature,dew_pressure --output";
    let arguments: Vec<&str> = question.split(' ').chain([shown.as_str()]).collect();
    assert_eq!(zeotrope(&arguments).code, 0);
    let header = fs::read_to_string(folder.join("zeotrope_r407c.h")).unwrap();
    let readme = include_str!("../../README.md");
    let lines = readme.lines().filter(|line| {
        line.starts_with(" * ") && (line.contains("dew_temperature") || line.contains("bytes"))
    });
    let mut count = 0;
    for line in lines {
        assert!(header.contains(line), "{line}");
        count += 1;
    }
    assert_eq!(count, 3);
    let _ = fs::remove_dir_all(folder);
}

/// What the page shows stands in the JSON too, under its own keys.
#[test]
fn the_check_stands_in_the_json() {
    let question = "lookup R-407C --of dew_temperature,dew_pressure --every 251";
    let arguments: Vec<&str> = question.split(' ').collect();
    let found = json(&arguments);
    let text = zeotrope(&arguments).out;
    let entry = &found["lookups"][0]["entries"][0];
    let check = &entry["check"];
    assert_eq!(entry["quantity"], "dew_temperature");
    assert_eq!(check["monotonic"], true);
    for key in ["largest_error_K", "round_trip_K"] {
        let up = (check[key].as_f64().unwrap() * 1e5).ceil() / 1e5;
        assert!(text.contains(&format!("{up:.5}")), "{key}: {text}");
    }
    let other = &found["lookups"][0]["entries"][1]["check"];
    assert!(other["round_trip_K"].is_null() && other["largest_at"].is_f64());
    assert!(text.contains("every 251th of the ranges"));
}

/// Where two liquids form a curve has no answer: there the line is fitted to solved points, and
/// agrees with the equation. R-514A, below -31 °C by the model.
#[test]
fn where_no_curve_answers_the_check_holds_the_equation() {
    let refrigerant = Refrigerant::named("R-514A").unwrap();
    let mut asked = question(&[LookupQuantity::DewPressure], Arithmetic::Integer);
    asked.range = (Temperature::celsius(-38.0), Temperature::celsius(-36.0));
    asked.every = 1;
    let found = lookup(&refrigerant, &asked).unwrap();
    let entry = &found.entries[0];
    assert_eq!(entry.check.inputs, 2001);
    let exact = refrigerant.exact();
    let mut worst: f64 = 0.0;
    for raw in (entry.form.low..=entry.form.high).step_by(50) {
        let at = |kelvin: f64| {
            exact
                .dew_pressure(Temperature::kelvin(kelvin))
                .unwrap()
                .in_pascal()
        };
        let kelvin = f64::from(raw) / 1e3;
        let (value, _) = entry.form.value(raw, false).unwrap();
        let slope = (at(kelvin + 0.01) - at(kelvin - 0.01)) / 0.02;
        worst = worst.max((value - at(kelvin)).abs() / slope);
    }
    assert!(
        worst > 0.0 && worst <= entry.check.largest + 1e-4,
        "{worst}"
    );
}
