//! Batches: the values of published tables, the bits of single calls, and rows without an answer.

use rayon::ThreadPoolBuilder;
use zeotrope::catalogue::{Basis, Catalogue};
use zeotrope::refrigerant::StateRow;
use zeotrope::units::{Pressure, Temperature};
use zeotrope::{Error, Given, Phase, ReferenceState, Refrigerant};

/// Lemmon, McLinden & Wagner, J. Chem. Eng. Data 54 (2009) 3141, saturation table, with
/// half of the last printed digit.
#[test]
fn printed_saturation_pressures() {
    let r290 = Refrigerant::named("R-290").unwrap();
    let at = [223.15, 323.15];
    let printed = [(0.070569e6, 0.51), (1.7133e6, 51.0)];
    let mut pressures = [0.0; 2];
    assert!(
        r290.bubble_pressures(&at, &mut pressures)
            .unwrap()
            .is_empty()
    );
    for (pressure, (printed, half_digit)) in pressures.iter().zip(printed) {
        let error = (pressure - printed).abs();
        assert!(error < half_digit, "{printed} Pa: {error}");
    }
}

/// R-134a: Tillner-Roth & Baehr, J. Phys. Chem. Ref. Data 23 (1994) 657, saturation at 0.1 MPa and
/// at 374 K, with the last printed digit.
#[test]
fn printed_states() {
    let r134a = Refrigerant::named("R-134a").unwrap();
    let given = [
        Given::PressureQuality(Pressure::pascal(1e5), 0.0),
        Given::PressureQuality(Pressure::pascal(1e5), 1.0),
        Given::TemperatureQuality(Temperature::kelvin(374.0), 0.0),
    ];
    let mut states = [StateRow::NONE; 3];
    let unanswered = r134a
        .states(&given, ReferenceState::Iir, None, &mut states)
        .unwrap();
    assert_eq!(unanswered, []);
    let printed = [
        (states[0].temperature.in_kelvin(), 246.79, 0.02),
        (states[0].density, 1377.5, 0.1),
        (states[0].enthalpy, 165.44e3, 20.0),
        (states[0].speed_of_sound, 743.31, 0.02),
        (states[1].density, 5.1932, 2e-4),
        (states[1].enthalpy, 382.60e3, 20.0),
        (states[1].cp, 793.2, 0.1),
        (states[2].pressure.in_pascal(), 4.0416e6, 2e2),
        (states[2].density, 587.91, 0.02),
    ];
    for (computed, printed, digit) in printed {
        assert!(
            (computed - printed).abs() < digit,
            "{computed} for {printed}"
        );
    }
}

/// `tests/data/blend_points.csv`: computed with CoolProp 8.0.0, a cross-check.
#[test]
fn blends_of_a_general_purpose_open_library() {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/data/blend_points.csv");
    let mut rows: Vec<(String, [f64; 3])> = Vec::new();
    for row in csv::Reader::from_path(path).unwrap().records() {
        let row = row.unwrap();
        let percent: Vec<String> = row[1]
            .split('/')
            .map(|part| (100.0 * part.parse::<f64>().unwrap()).to_string())
            .collect();
        let number = |column: usize| row[column].parse::<f64>().unwrap();
        rows.push((
            format!("{} ({})", &row[0], percent.join("/")),
            [number(2), number(3), number(4)],
        ));
    }
    let mut count = 0;
    for of_one in rows.chunk_by(|a, b| a.0 == b.0) {
        let name = &of_one[0].0;
        let blend = Refrigerant::from_catalogue(&Catalogue::embedded(), name, Basis::Mole).unwrap();
        let column = |place: usize| of_one.iter().map(move |(_, numbers)| numbers[place]);
        let at: Vec<f64> = column(0).collect();
        let mut pressures = vec![0.0; at.len()];
        let mut temperatures = vec![0.0; at.len()];
        for (place, branch) in [(1, "bubble"), (2, "dew")] {
            let given: Vec<f64> = column(place).collect();
            let unanswered = if branch == "bubble" {
                let first = blend.bubble_pressures(&at, &mut pressures).unwrap();
                [
                    first,
                    blend
                        .bubble_temperatures(&given, &mut temperatures)
                        .unwrap(),
                ]
            } else {
                let first = blend.dew_pressures(&at, &mut pressures).unwrap();
                [
                    first,
                    blend.dew_temperatures(&given, &mut temperatures).unwrap(),
                ]
            };
            assert!(
                unanswered.iter().all(Vec::is_empty),
                "{name}: {unanswered:?}"
            );
            for (index, expected) in column(place).enumerate() {
                let error = (pressures[index] / expected - 1.0).abs();
                assert!(error < 2e-6, "{name} {branch} {:?}: {error:e}", at[index]);
                // d ln p / d ln T is ten or so
                let error = (temperatures[index] / at[index] - 1.0).abs();
                assert!(error < 4e-7, "{name} {branch} {expected} Pa: {error:e}");
                count += 1;
            }
        }
    }
    assert!(count >= 120, "{count}");
}

/// Temperatures of which the coldest and the hottest have no answer.
fn temperatures(rows: usize) -> Vec<f64> {
    (0..rows)
        .map(|row| 150.0 + 300.0 * (row * 7919 % rows) as f64 / rows as f64)
        .collect()
}

/// Runs on a pool of so many threads.
fn on<Answer: Send>(threads: usize, run: impl FnOnce() -> Answer + Send) -> Answer {
    let pool = ThreadPoolBuilder::new()
        .num_threads(threads)
        .build()
        .unwrap();
    pool.install(run)
}

#[test]
fn pressures_are_those_of_single_calls_on_any_number_of_threads() {
    // few rows are read one by one, many from a table
    for (name, rows) in [
        ("R-134a", 500),
        ("R-407C", 500),
        ("R-134a", 9000),
        ("R-407C", 9000),
    ] {
        let alone = Refrigerant::named(name).unwrap();
        let at = temperatures(rows);
        let one = |&kelvin: &f64| alone.dew_pressure(Temperature::kelvin(kelvin));
        let single: Vec<_> = at.iter().map(one).collect();
        for threads in [1, 2, 3, 8] {
            // made anew, so that what is found out once is found out by these threads
            let fresh = Refrigerant::named(name).unwrap();
            let mut pressures = vec![0.0; at.len()];
            let unanswered = on(threads, || fresh.dew_pressures(&at, &mut pressures)).unwrap();
            let mut unanswered = unanswered.into_iter().peekable();
            for (row, expected) in single.iter().enumerate() {
                match expected {
                    Ok(expected) => assert_eq!(
                        expected.in_pascal().to_bits(),
                        pressures[row].to_bits(),
                        "{name}, {threads} threads, row {row}"
                    ),
                    Err(expected) => {
                        let found = unanswered.next().unwrap();
                        // as text: a residual may be NaN, which differs from itself
                        assert_eq!(
                            (found.row, format!("{:?}", found.reason)),
                            (row, format!("{expected:?}"))
                        );
                        assert!(pressures[row].is_nan());
                    }
                }
            }
            assert!(unanswered.next().is_none());
        }
        let answered = single.iter().filter(|row| row.is_ok()).count();
        assert!(
            answered > rows / 5 && answered < rows * 9 / 10,
            "{name}: {answered}"
        );
    }
}

#[test]
fn states_are_those_of_single_calls_on_any_number_of_threads() {
    for name in ["R-134a", "R-454B"] {
        let refrigerant = Refrigerant::named(name).unwrap();
        let given: Vec<Given> = temperatures(200)
            .into_iter()
            .enumerate()
            .map(|(row, t)| match row % 3 {
                0 => Given::TemperaturePressure(Temperature::kelvin(t), Pressure::bar(8.0)),
                1 => Given::PressureEnthalpy(Pressure::bar(8.0), 1e3 * t),
                _ => Given::TemperatureQuality(Temperature::kelvin(t), 0.3),
            })
            .collect();
        let run = |threads| {
            let mut states = vec![StateRow::NONE; given.len()];
            let unanswered = on(threads, || {
                refrigerant
                    .states(&given, ReferenceState::Iir, None, &mut states)
                    .unwrap()
            });
            (states, format!("{unanswered:?}"), unanswered.len())
        };
        // NaN differs from itself: as text
        let text = |(states, unanswered, count): (Vec<StateRow>, String, usize)| {
            (format!("{states:?}"), unanswered, count)
        };
        let (states, unanswered, count) = run(1);
        assert!(count > 0 && count < given.len() / 2, "{name}: {count}");
        for (row, &given) in states.iter().zip(&given) {
            match refrigerant.state(given, ReferenceState::Iir) {
                Ok(found) if found.len() == 1 => same(row, &StateRow::from(&found[0]), name),
                _ => assert_eq!(row.phase, None, "{name} {given:?}"),
            }
        }
        let first = text((states, unanswered, count));
        for threads in [2, 3, 8] {
            assert_eq!(text(run(threads)), first, "{name} {threads}");
        }
    }
}

/// A row by curves and the state by the solver: the same phase, and numbers within what curves
/// leave.
fn same(row: &StateRow, state: &StateRow, name: &str) {
    assert_eq!(row.phase, state.phase, "{name} {row:?} {state:?}");
    let numbers = |row: &StateRow| {
        [
            row.temperature.in_kelvin(),
            row.pressure.in_pascal(),
            row.density,
            row.enthalpy,
            row.entropy,
            row.internal_energy,
            row.cp,
            row.cv,
            row.speed_of_sound,
            row.quality,
        ]
    };
    for (quick, exact) in numbers(row).into_iter().zip(numbers(state)) {
        assert_eq!(quick.is_nan(), exact.is_nan(), "{name} {row:?} {state:?}");
        if !exact.is_nan() {
            let error = (quick - exact).abs() / exact.abs().max(1e-3);
            assert!(error < 1e-8, "{name} {error:e} {row:?} {state:?}");
        }
    }
}

#[test]
fn rows_without_an_answer_do_not_lose_the_rest() {
    let r134a = Refrigerant::named("R-134a").unwrap();
    let at = [f64::NAN, 278.15, -5.0, 400.0, f64::INFINITY, 278.15];
    let mut pressures = [0.0; 6];
    let unanswered = r134a.dew_pressures(&at, &mut pressures).unwrap();
    let rows: Vec<usize> = unanswered.iter().map(|one| one.row).collect();
    assert_eq!(rows, [0, 2, 3, 4]);
    for one in &unanswered {
        let refused = match at[one.row].is_finite() {
            true => matches!(one.reason, Error::OutOfRange { .. }),
            false => matches!(one.reason, Error::NotFinite { .. }),
        };
        assert!(refused, "{one:?}");
        assert!(pressures[one.row].is_nan());
    }
    // Tillner-Roth & Baehr, J. Phys. Chem. Ref. Data 23 (1994) 657: 0.34966 MPa at 5 °C
    for row in [1, 5] {
        assert!((pressures[row] - 3.4966e5).abs() < 10.0);
    }
}

/// 228 kJ/kg at 20 °C is met just after the first bubble and again as a liquid under pressure.
#[test]
fn a_row_that_two_states_answer_needs_a_phase() {
    let r134a = Refrigerant::named("R-134a").unwrap();
    let given = [Given::TemperatureEnthalpy(
        Temperature::celsius(20.0),
        228e3,
    )];
    let mut states = [StateRow::NONE];
    let unanswered = r134a
        .states(&given, ReferenceState::Iir, None, &mut states)
        .unwrap();
    assert!(matches!(unanswered[0].reason, Error::NoState { .. }));
    assert_eq!(states[0].phase, None);
    for phase in [Phase::TwoPhase, Phase::Liquid] {
        let unanswered = r134a
            .states(&given, ReferenceState::Iir, Some(phase), &mut states)
            .unwrap();
        assert_eq!(unanswered, []);
        assert_eq!(states[0].phase, Some(phase));
        assert!((states[0].enthalpy / 228e3 - 1.0).abs() < 1e-9);
    }
}

#[test]
fn slices_of_two_lengths_are_refused() {
    let r134a = Refrigerant::named("R-134a").unwrap();
    let at = [278.15; 3];
    let mut pressures = [0.0; 2];
    let refused = r134a.bubble_pressures(&at, &mut pressures).unwrap_err();
    assert_eq!(refused, Error::Lengths { rows: 3, room: 2 });
    assert_eq!(pressures, [0.0; 2], "nothing is written");
    assert_eq!(r134a.bubble_pressures(&[], &mut []).unwrap(), []);
}

/// Curves and solver are two ways to one state: at every listed blend, beside and between the lines.
#[test]
fn rows_of_all_listed_blends_are_those_of_states() {
    let catalogue = Catalogue::embedded();
    let mut compared = 0;
    for name in catalogue.blend_designations() {
        let blend = Refrigerant::named(&name).unwrap();
        let Some(critical) = blend.critical_point() else {
            continue;
        };
        let at = |part: f64| Temperature::kelvin(part * critical.temperature.in_kelvin());
        let mut given = Vec::new();
        for (part, quality) in [(0.7, 0.2), (0.8, 0.55), (0.88, 0.93)] {
            let (Ok(bubble), Ok(dew)) = (
                blend.saturation_at_temperature(at(part), ReferenceState::IdealGas),
                blend.dew_pressure(at(part)),
            ) else {
                continue;
            };
            let Some(bubble) = bubble.bubble else {
                continue;
            };
            let (pressure, heat) = (bubble.pressure, bubble.latent_heat);
            let (h, s) = (bubble.liquid.enthalpy, bubble.liquid.entropy);
            let kelvin = at(part).in_kelvin();
            given.extend([
                Given::TemperatureQuality(at(part), quality),
                Given::PressureQuality(pressure, quality),
                Given::PressureEnthalpy(pressure, h + quality * heat),
                Given::PressureEntropy(pressure, s + quality * heat / kelvin),
                Given::PressureEnthalpy(pressure, h - 0.1 * heat),
                Given::PressureEntropy(pressure, s - 0.1 * heat / kelvin),
                Given::PressureEnthalpy(pressure, h + 1.3 * heat),
                Given::TemperaturePressure(at(part), Pressure::pascal(0.6 * dew.in_pascal())),
                Given::TemperaturePressure(at(part), Pressure::pascal(1.5 * pressure.in_pascal())),
            ]);
        }
        let mut rows = vec![StateRow::NONE; given.len()];
        blend
            .states(&given, ReferenceState::IdealGas, None, &mut rows)
            .unwrap();
        for (row, &given) in rows.iter().zip(&given) {
            match blend.exact().state(given, ReferenceState::IdealGas) {
                Ok(found) => same(row, &StateRow::from(&found[0]), &name),
                Err(_) => assert_eq!(row.phase, None, "{name} {given:?}"),
            }
            compared += usize::from(row.phase.is_some());
        }
    }
    assert!(compared > 3000, "{compared}");
}
