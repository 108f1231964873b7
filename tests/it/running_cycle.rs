//! The cycle that runs, from a reading: against cycles of a general-purpose open library, and its
//! uncertainty against derivatives.

use zeotrope::process::cycle::{RunningLimits, RunningRead, RunningSource, running_cycle};
use zeotrope::units::{Pressure, Temperature};
use zeotrope::{Given, ReferenceState, Refrigerant};

use crate::program::{answer, json};

/// Its pressures, discharge and COP, the efficiency put in: `tests/data/README.md`.
#[test]
fn a_reading_of_a_known_cycle_gives_its_efficiency_back() {
    let mut reader = csv::Reader::from_reader(&include_bytes!("../data/cycles.csv")[..]);
    let mut seen = 0;
    for row in reader.records().map(Result::unwrap) {
        let number = |column: usize| row[column].parse::<f64>().unwrap_or(0.0);
        let is_plain = &row[12] == "one" && number(9) + number(10) + number(11) == 0.0;
        if !is_plain || row[2].is_empty() || number(6) == 0.0 || number(5) != number(6) {
            continue;
        }
        let r = Refrigerant::named(&row[0]).unwrap();
        let (low, high) = (Pressure::pascal(number(14)), Pressure::pascal(number(15)));
        let at =
            |temperature: Temperature, by: f64| Temperature::kelvin(temperature.in_kelvin() + by);
        let read = RunningRead {
            suction_pressure: low,
            suction_line: at(r.dew_temperature(low).unwrap(), number(6)),
            liquid_pressure: high,
            liquid_line: at(r.bubble_temperature(high).unwrap(), -number(7)),
            discharge_line: Temperature::kelvin(number(18)),
        };
        let found = running_cycle(&r, read, RunningLimits::default()).unwrap();
        assert!((found.efficiency.value - number(8)).abs() < 1e-3, "{row:?}");
        assert!((found.cop.value / number(19) - 1.0).abs() < 1e-3, "{row:?}");
        assert!(
            (found.effect.value / number(16) - 1.0).abs() < 2e-3,
            "{row:?}"
        );
        assert!((found.cycle.cop_cooling / found.cop.value - 1.0).abs() < 1e-9);
        assert!(found.efficiency.expanded.is_none());
        seen += 1;
    }
    assert!(seen >= 2, "{seen}");
}

/// eta = w_s/w, so that d eta/dT2 = -eta cp2/w; GUM (JCGM 100:2008) 4.3.7 and eq. 10.
#[test]
fn a_clamp_on_the_discharge_counts_by_the_heat_capacity() {
    let r = Refrigerant::named("R-134a").unwrap();
    let read = RunningRead {
        suction_pressure: Pressure::bar(3.5),
        suction_line: Temperature::celsius(15.0),
        liquid_pressure: Pressure::bar(14.9),
        liquid_line: Temperature::celsius(50.0),
        discharge_line: Temperature::celsius(81.0),
    };
    let limits = RunningLimits {
        clamp: Some(0.6),
        contact: Some(0.8),
        ..RunningLimits::default()
    };
    let found = running_cycle(&r, read, limits).unwrap();
    let given = Given::TemperaturePressure(read.discharge_line, read.liquid_pressure);
    let two = &r.state(given, ReferenceState::Iir).unwrap()[0].properties;
    let by = 1.0 / 3f64.sqrt();
    let heat = two.cp.unwrap() / found.cycle.work;
    let of = |source| {
        let all = &found.contributions;
        *all.iter().find(|one| one.source == source).unwrap()
    };
    let discharge = of(RunningSource::DischargeLine);
    let expected = found.efficiency.value * heat * by;
    assert!((discharge.isentropic_efficiency / expected - 1.0).abs() < 2e-3);
    assert!((discharge.cop_cooling / (found.cop.value * heat * by) - 1.0).abs() < 2e-3);
    assert!(discharge.effect.abs() < 1e-9);
    assert!(of(RunningSource::LiquidLine).isentropic_efficiency.abs() < 1e-12);
    let squares: f64 = found
        .contributions
        .iter()
        .map(|one| one.cop_cooling.powi(2))
        .sum();
    assert!((found.cop.standard.unwrap() - squares.sqrt()).abs() < 1e-12);
    assert_eq!(found.contributions.len(), 3);
    let (standard, worst) = (found.cop.standard.unwrap(), found.cop.worst.unwrap());
    assert!(standard < worst && found.cop.expanded.unwrap() <= worst);

    // Colder than an isentropic compression.
    let cold = RunningRead {
        discharge_line: Temperature::celsius(60.0),
        ..read
    };
    let error = running_cycle(&r, cold, limits).unwrap_err().to_string();
    assert!(error.contains("isentropic"), "{error}");
}

const READING: [&str; 12] = [
    "reading",
    "R-410A",
    "--suction-pressure",
    "118psig",
    "--suction-line",
    "50F",
    "--liquid-pressure",
    "340psig",
    "--liquid-line",
    "95F",
    "--discharge-line",
    "165F",
];

#[test]
fn reading_shows_the_cycle_that_runs() {
    let accurate = ["--gauge-accuracy", "1%span", "--gauge-span", "500psi"];
    let whole: Vec<&str> = READING.into_iter().chain(accurate).collect();
    let found = json(&whole);
    let running = &found["running_cycle"];
    let efficiency = running["isentropic_efficiency"].as_f64().unwrap();
    assert!((0.5..1.0).contains(&efficiency), "{efficiency}");
    for key in [
        "isentropic_efficiency_expanded_uncertainty",
        "cop_cooling_expanded_uncertainty",
        "refrigerating_effect_expanded_uncertainty_J_kg",
    ] {
        assert!(running[key].as_f64().unwrap() > 0.0, "{key}");
    }
    let page = answer(&whole);
    let page = page.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(page.contains("no heat through its shell") && page.contains("too high"));
    assert!(
        page.contains(&format!("{:.1} ±", 100.0 * efficiency)),
        "{page}"
    );
    // Of the accuracy nothing is known: no figure of it, and said.
    let plain = json(&READING);
    assert!(plain["running_cycle"]["cop_cooling_expanded_uncertainty"].is_null());
    // A discharge that no compression makes: the rest of the reading stands.
    let mut cold = READING;
    cold[11] = "100F";
    let found = json(&cold);
    assert!(found["running_cycle"].is_null() && found["suction"]["superheat_K"].is_f64());
    let page = answer(&cold);
    assert!(page.contains("No cycle from these readings"), "{page}");
}

/// A sheet for class has blanks ahead of its key, and the key all of the answer.
#[test]
fn a_worksheet_stands_ahead_of_its_key() {
    let question = "cycle R-134a --evaporating -10C --condensing 40C --worksheet";
    let words: Vec<&str> = question.split(' ').collect();
    let page = answer(&words);
    let (sheet, key) = page.split_once("\nKey\n").unwrap();
    assert!(sheet.contains("________") && !key.contains("________"));
    assert!(sheet.contains("compressor discharge") && sheet.contains("COP, cooling"));
    let plain = json(&words[..words.len() - 1]);
    let cop = plain["results"][0]["cop_cooling"].as_f64().unwrap();
    let shown = format!("{cop:.3}");
    assert!(key.contains(&shown) && !sheet.contains(&shown));
    assert!(key.contains("Working for R-134a"));
    // Every condition has its points for programs.
    let swept = json(&[
        "cycle",
        "R-290",
        "--evaporating",
        "-5C",
        "--condensing",
        "30C..40C",
        "--step",
        "5C",
    ]);
    for result in swept["results"].as_array().unwrap() {
        assert!(result["points"].as_array().unwrap().len() >= 5);
    }
}
