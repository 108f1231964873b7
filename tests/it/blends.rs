//! Bubble and dew lines of all listed blends, held against what thermodynamics asks of them, and
//! against a general-purpose open library.

use std::collections::BTreeMap;

use zeotrope::Refrigerant;
use zeotrope::catalogue::{Basis, Catalogue};
use zeotrope::equilibrium::bubble_dew::{self, Branch, PhasePair};
use zeotrope::equilibrium::envelope::Envelope;
use zeotrope::equilibrium::line::BlendLine;
use zeotrope::equilibrium::pure::saturation_at_temperature;
use zeotrope::helmholtz::{Mixture, MoleFractions};

/// Lowest temperature on the grid, K: -60 °C.
const COLDEST: f64 = 213.15;

/// Largest part of a liquid's density lost within 1 K. By the general shape 1 + 2 theta^(1/3) of
/// a saturated liquid it is 3.5 % at 0.99 of a critical temperature of 285 K; the lowest here is
/// 283.6 K (R-508A).
const STEEPEST: f64 = 0.06;

/// Every kelvin from -60 °C to 0.99 of a critical temperature.
fn temperatures(critical: f64) -> impl Iterator<Item = f64> {
    (0..500)
        .map(|k| COLDEST + f64::from(k))
        .take_while(move |&t| t <= 0.99 * critical)
}

/// Largest difference between the phases of ln n_i + G_i / R_i, which is ln f_i but for what the
/// two have in common, and of pressure against rho_liquid R T.
fn imbalance(mixture: &Mixture, pair: &PhasePair) -> (f64, f64) {
    let at = |x: &MoleFractions, density: f64| {
        let partial: Vec<f64> = x.iter().map(|x| x * density).collect();
        let potential = mixture.potential(pair.temperature, &partial);
        let logarithms: Vec<f64> = partial
            .iter()
            .zip(mixture.components())
            .zip(potential.gradient)
            .map(|((n, component), gradient)| {
                n.ln() + gradient / component.record.gas_constant_j_mol_k
            })
            .collect();
        (logarithms, potential.pressure_over_temperature)
    };
    let (liquid, liquid_pressure) = at(&pair.liquid, pair.liquid_density);
    let (vapor, vapor_pressure) = at(&pair.vapor, pair.vapor_density);
    let differences = liquid.iter().zip(&vapor).map(|(l, v)| (l - v).abs());
    let gas_constant = mixture.at_composition(&pair.liquid).gas_constant;
    (
        differences.fold(0.0, f64::max),
        (liquid_pressure - vapor_pressure).abs() / (pair.liquid_density * gas_constant),
    )
}

/// Whether a phase withstands every small change of density and composition: the matrix
/// d2Psi/dn_i dn_j over T, R_i / n_i on the diagonal and the Hessian of G, is positive definite
/// (all pivots of its elimination are positive).
fn withstands_small_changes(
    mixture: &Mixture,
    temperature: f64,
    x: &MoleFractions,
    density: f64,
) -> bool {
    let count = mixture.count();
    let partial: Vec<f64> = x.iter().map(|x| x * density).collect();
    let mut matrix = mixture.potential(temperature, &partial).hessian;
    for (i, component) in mixture.components().iter().enumerate() {
        matrix[i][i] += component.record.gas_constant_j_mol_k / partial[i];
    }
    for k in 0..count {
        let pivot_row = matrix[k];
        if pivot_row[k].is_nan() || pivot_row[k] <= 0.0 {
            return false;
        }
        for row in matrix.iter_mut().take(count).skip(k + 1) {
            let factor = row[k] / pivot_row[k];
            for j in k..count {
                row[j] -= factor * pivot_row[j];
            }
        }
    }
    true
}

/// What is wrong with a blend's lines on the grid, and how many points were looked at.
fn faults_of(designation: &str) -> (Vec<String>, usize) {
    let refrigerant = Refrigerant::named(designation).unwrap();
    let (mixture, z) = refrigerant.model();
    let line = BlendLine::default();
    let critical = match line.envelope(mixture, z) {
        Ok(envelope) => envelope.critical.temperature,
        Err(error) => return (vec![format!("{designation}: envelope: {error}")], 0),
    };
    let mut faults = Vec::new();
    let (mut points, mut apart) = (0, 0);
    let mut previous = BTreeMap::new();
    for temperature in temperatures(critical) {
        let mut pressures = [f64::NAN; 2];
        for (place, branch) in [Branch::Bubble, Branch::Dew].into_iter().enumerate() {
            let mut fault = |what: String| {
                faults.push(format!("{designation} {branch:?} {temperature} K: {what}"))
            };
            points += 1;
            let pair = match line.at_temperature(mixture, z, branch, temperature) {
                Ok(pair) => pair,
                Err(error) => {
                    fault(format!("missing: {error}"));
                    continue;
                }
            };
            for number in [pair.pressure, pair.liquid_density, pair.vapor_density] {
                if !number.is_finite() {
                    fault(format!("not a number in {pair:?}"));
                }
            }
            let (given, other) = match branch {
                Branch::Bubble => (&pair.liquid, &pair.vapor),
                Branch::Dew => (&pair.vapor, &pair.liquid),
            };
            if given != z || (other.iter().sum::<f64>() - 1.0).abs() > 1e-12 {
                fault(format!("compositions {given:?} {other:?}"));
            }
            apart += usize::from(pair.liquids.is_some());
            let own = [(pair.liquid, pair.liquid_density)];
            let both = pair.liquids.as_ref().map(|both| &both.phases[..]);
            for (liquid, liquid_density) in both.unwrap_or(&own) {
                let one = PhasePair {
                    liquid: *liquid,
                    liquid_density: *liquid_density,
                    ..pair
                };
                let (fugacity, pressure) = imbalance(mixture, &one);
                if fugacity.is_nan() || fugacity >= 1e-9 {
                    fault(format!("fugacities differ by {fugacity:e}"));
                }
                if pressure.is_nan() || pressure >= 1e-9 {
                    fault(format!("pressures differ by {pressure:e}"));
                }
                for (phase, x, density) in [
                    ("liquid", liquid, *liquid_density),
                    ("vapour", &pair.vapor, pair.vapor_density),
                ] {
                    if !withstands_small_changes(mixture, temperature, x, density) {
                        fault(format!("{phase} of {density} mol/m3 is unstable"));
                    }
                }
            }
            if pair.liquid_density <= pair.vapor_density {
                fault(format!(
                    "densities {} {}",
                    pair.liquid_density, pair.vapor_density
                ));
            }
            let before = previous.insert(place, (temperature, pair.pressure, pair.liquid_density));
            if let Some((t, pressure, density)) = before {
                if pair.pressure <= pressure {
                    fault(format!("{} Pa does not rise", pair.pressure));
                }
                let lost = 1.0 - pair.liquid_density / density;
                if lost.abs() >= STEEPEST * (temperature - t) {
                    fault(format!(
                        "density jumps from {density} to {}",
                        pair.liquid_density
                    ));
                }
            }
            match line.at_pressure(mixture, z, branch, pair.pressure) {
                Ok(back) => {
                    let error = (back.temperature / temperature - 1.0).abs();
                    if error.is_nan() || error >= 1e-9 {
                        fault(format!(
                            "comes back from its pressure as {} K",
                            back.temperature
                        ));
                    }
                }
                Err(error) => fault(format!("not found from its pressure: {error}")),
            }
            pressures[place] = pair.pressure;
        }
        if pressures[0] < pressures[1] * (1.0 - 1e-9) {
            faults.push(format!(
                "{designation} {temperature} K: bubble below dew {pressures:?}"
            ));
        }
    }
    let may_part = ["R-437A", "R-504", "R-514A"].contains(&designation);
    if apart > 0 && !may_part {
        faults.push(format!("{designation}: {apart} points over two liquids"));
    }
    (faults, points)
}

#[test]
fn lines_of_all_listed_blends() {
    let all = Catalogue::embedded().blend_designations();
    assert!(all.len() > 100, "{}", all.len());
    let half = all.len() / 2;
    // two threads: the lines are independent
    let of = |part: &[String]| -> Vec<_> {
        let lines = part.iter().map(|name| faults_of(name));
        lines.collect()
    };
    let results = std::thread::scope(|scope| {
        let first = scope.spawn(|| of(&all[..half]));
        let mut second = of(&all[half..]);
        second.extend(first.join().unwrap());
        second
    });
    let points: usize = results.iter().map(|(_, points)| points).sum();
    let faults: Vec<String> = results.into_iter().flat_map(|(faults, _)| faults).collect();
    assert!(
        points > 200 * all.len(),
        "{points} points of {} blends",
        all.len()
    );
    assert!(
        faults.is_empty(),
        "{} faults at {points} points of {} blends:\n{}",
        faults.len(),
        all.len(),
        faults.join("\n")
    );
}

/// Above 0.99 of the critical temperature a line may turn, so that only existence, equilibrium
/// and order are asked; and of the line at a pressure that it has that pressure and is no hotter.
#[test]
fn lines_next_to_the_critical_point() {
    let mut faults = Vec::new();
    for designation in Catalogue::embedded().blend_designations() {
        let refrigerant = Refrigerant::named(&designation).unwrap();
        let (mixture, z) = refrigerant.model();
        let line = BlendLine::default();
        let critical = line.envelope(mixture, z).unwrap().critical.temperature;
        for part in [0.991, 0.995, 0.998, 0.999] {
            let temperature = part * critical;
            let mut fault = |what: String| faults.push(format!("{designation} {part}: {what}"));
            let found = line.all_at_temperature(mixture, z, temperature).unwrap();
            let (Some(bubble), Some(dew)) = (found.bubble, found.dew) else {
                fault(format!("missing: {found:?}"));
                continue;
            };
            if bubble.pressure < dew.pressure * (1.0 - 1e-9) {
                fault(format!("bubble below dew: {bubble:?} {dew:?}"));
            }
            for (branch, pair) in [(Branch::Bubble, bubble), (Branch::Dew, dew)] {
                let (fugacity, pressure) = imbalance(mixture, &pair);
                if fugacity.is_nan() || fugacity >= 1e-9 || pressure >= 1e-9 {
                    fault(format!("{branch:?} off by {fugacity:e} {pressure:e}"));
                }
                match line.at_pressure(mixture, z, branch, pair.pressure) {
                    Ok(back) => {
                        let error = (back.pressure / pair.pressure - 1.0).abs();
                        if error >= 1e-9 || back.temperature > temperature * (1.0 + 1e-8) {
                            fault(format!("{branch:?} comes back as {back:?}"));
                        }
                    }
                    Err(error) => fault(format!("{branch:?} not found from pressure: {error}")),
                }
            }
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

/// The last digits of a composition change how far the steps along the curve reach, and nothing
/// that is told of it. At its critical point a blend can just not withstand a small change
/// (Heidemann & Khalil, AIChE J. 26 (1980) 769): a little colder it cannot, a little hotter it can.
#[test]
fn envelopes_do_not_hang_on_last_digits() {
    let mut faults = Vec::new();
    for designation in Catalogue::embedded().blend_designations() {
        let refrigerant = Refrigerant::named(&designation).unwrap();
        let (mixture, z) = refrigerant.model();
        let traced = |change: f64| {
            let mut x: Vec<f64> = z.iter().copied().collect();
            x[0] *= 1.0 + change;
            Envelope::trace(mixture, &MoleFractions::checked(&x).unwrap())
        };
        let Ok(usual) = traced(0.0) else {
            faults.push(format!("{designation}: lost"));
            continue;
        };
        for change in [1e-15, -1e-15, 3e-13, -3e-13] {
            let Ok(other) = traced(change) else {
                faults.push(format!("{designation} {change:e}: lost"));
                continue;
            };
            let critical = other.critical.temperature / usual.critical.temperature - 1.0;
            let hottest = other.cricondentherm.temperature / usual.cricondentherm.temperature - 1.0;
            let highest = other.cricondenbar.pressure / usual.cricondenbar.pressure - 1.0;
            if critical.abs() > 1e-10 || hottest.abs() > 1e-6 || highest.abs() > 1e-5 {
                faults.push(format!(
                    "{designation} {change:e}: {critical:e} {hottest:e} {highest:e}"
                ));
            }
        }
        let critical = usual.critical;
        let stable = |part: f64| {
            withstands_small_changes(mixture, part * critical.temperature, z, critical.density)
        };
        if stable(1.0 - 1e-6) || !stable(1.0 + 1e-6) {
            faults.push(format!("{designation}: {critical:?} is not critical"));
        }
        let hottest = usual.points.iter().map(|point| point.pair.temperature);
        if usual.cricondentherm.temperature < hottest.fold(critical.temperature, f64::max) {
            faults.push(format!(
                "{designation}: {:?} is not hottest",
                usual.cricondentherm
            ));
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

/// Computed with a general-purpose open library, CoolProp 8.0.0 (`all_critical_points`, the stable
/// one), from the same published equations and pairs: K, Pa, mol/m3. It counts with one gas constant
/// for all components, 1e-6 smaller than the papers'.
#[test]
fn critical_points_of_a_general_purpose_open_library() {
    for (literal, temperature, pressure, density) in [
        (
            "R-32/R-125 (69.761/30.239)",
            344.49403994739043,
            4901220.985441224,
            6324.272566717462,
        ),
        (
            "R-32/R-134a (50/50)",
            363.7244284159958,
            4931282.036184987,
            5867.769276227603,
        ),
        (
            "R-125/R-134a (50/50)",
            357.32936033198877,
            3937590.0079367156,
            4932.125947934384,
        ),
    ] {
        let blend =
            Refrigerant::from_catalogue(&Catalogue::embedded(), literal, Basis::Mole).unwrap();
        let critical = blend.envelope().unwrap().critical;
        for (what, ours, theirs) in [
            ("temperature", critical.temperature, temperature),
            ("pressure", critical.pressure, pressure),
            ("density", critical.density, density),
        ] {
            let error = (ours / theirs - 1.0).abs();
            assert!(error < LIBRARY, "{literal} {what}: {ours} {error:e}");
        }
    }
}

#[test]
fn the_order_of_components_changes_nothing() {
    for (one, other) in [
        ("R-32/R-125 (50/50)", "R-125/R-32 (50/50)"),
        (
            "R-32/R-125/R-134a (23/25/52)",
            "R-134a/R-32/R-125 (52/23/25)",
        ),
        (
            "R-744/R-32/R-1234yf (3/21.5/75.5)",
            "R-1234yf/R-744/R-32 (75.5/3/21.5)",
        ),
    ] {
        let (one, other) = (
            Refrigerant::named(one).unwrap(),
            Refrigerant::named(other).unwrap(),
        );
        for branch in [Branch::Bubble, Branch::Dew] {
            let [a, b] = [&one, &other].map(|refrigerant| {
                let (mixture, z) = refrigerant.model();
                bubble_dew::at_temperature(mixture, z, branch, 270.0, None)
                    .unwrap()
                    .pressure
            });
            assert!(
                (a / b - 1.0).abs() < 1e-14,
                "{one:?} {branch:?}: {a} {b}",
                one = one.designation()
            );
        }
    }
}

/// The same in the model itself, whose components are not sorted by the face.
#[test]
fn the_order_of_components_in_the_model_changes_nothing() {
    use zeotrope::helmholtz::mixture::Pair;
    let catalogue = Catalogue::embedded();
    let names = ["R-32", "R-125", "R-134a", "R-1234yf"];
    let x = [0.3, 0.2, 0.4, 0.1];
    let equations: Vec<_> = names
        .iter()
        .map(|name| Refrigerant::named(name).unwrap().model().0.components()[0].clone())
        .collect();
    let built = |order: [usize; 4]| {
        let mut pairs = Vec::new();
        for i in 0..4 {
            for j in i + 1..4 {
                let found = catalogue.pair(names[order[i]], names[order[j]]).unwrap();
                let (record, swapped) = found.unwrap();
                let (first, second) = if swapped { (j, i) } else { (i, j) };
                let departure = record
                    .departure
                    .as_ref()
                    .map(|name| (catalogue.departure(name).unwrap(), record.departure_factor));
                pairs.push(Pair {
                    first,
                    second,
                    reducing: record.reducing,
                    departure,
                });
            }
        }
        let components = order.map(|k| equations[k].clone()).to_vec();
        let z = MoleFractions::checked(&order.map(|k| x[k])).unwrap();
        (Mixture::new(components, &pairs).unwrap(), z)
    };
    let (mixture, z) = built([0, 1, 2, 3]);
    for order in [[3, 2, 1, 0], [1, 0, 3, 2], [2, 3, 0, 1]] {
        let (turned, turned_z) = built(order);
        for temperature in [230.0, 290.0] {
            for branch in [Branch::Bubble, Branch::Dew] {
                let at = |mixture, z| {
                    bubble_dew::at_temperature(mixture, z, branch, temperature, None).unwrap()
                };
                let (a, b) = (at(&mixture, &z), at(&turned, &turned_z));
                let error = (a.pressure / b.pressure - 1.0).abs();
                assert!(
                    error < ORDER,
                    "{order:?} {branch:?} {temperature} K: {error:e}"
                );
            }
        }
    }
}

/// Sums in another order round otherwise, and the solver stops within 1e-9 of a step that
/// converges quadratically.
const ORDER: f64 = 1e-12;

#[test]
fn a_blend_of_nearly_one_component_is_that_component() {
    for (literal, pure) in [
        ("R-32/R-125 (99.9999999999/0.0000000001)", "R-32"),
        ("R-32/R-125 (0.0000000001/99.9999999999)", "R-125"),
        ("R-134a/R-1234yf (0.0000000001/99.9999999999)", "R-1234yf"),
        ("R-290/R-600a (99.9999999999/0.0000000001)", "R-290"),
    ] {
        let blend =
            Refrigerant::from_catalogue(&Catalogue::embedded(), literal, Basis::Mole).unwrap();
        assert!(!blend.is_pure());
        let pure = Refrigerant::named(pure).unwrap();
        let (mixture, z) = blend.model();
        let (alone, one) = pure.model();
        for temperature in [230.0, 270.0, 310.0] {
            let own =
                saturation_at_temperature(&alone.at_composition(one), temperature, None).unwrap();
            for branch in [Branch::Bubble, Branch::Dew] {
                let pair = bubble_dew::at_temperature(mixture, z, branch, temperature, None)
                    .unwrap_or_else(|error| panic!("{literal} {temperature} K: {error}"));
                for (what, a, b) in [
                    ("pressure", pair.pressure, own.pressure),
                    ("liquid density", pair.liquid_density, own.liquid_density),
                    ("vapour density", pair.vapor_density, own.vapor_density),
                ] {
                    let error = (a / b - 1.0).abs();
                    assert!(
                        error < 1e-10,
                        "{literal} {branch:?} {temperature} K {what}: {error:e}"
                    );
                }
            }
        }
    }
}

/// tests/data/blend_points.csv: bubble and dew pressures computed with a general-purpose open
/// library, CoolProp 8.0.0, at the printed mole fractions, from the same published equations and
/// pairs (`tools/blend_points.py`).
#[test]
fn pressures_of_a_general_purpose_open_library() {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/data/blend_points.csv");
    let mut rows = csv::Reader::from_path(path).unwrap();
    let mut faults = Vec::new();
    let (mut count, mut most) = (0, 0.0_f64);
    for row in rows.records() {
        let row = row.unwrap();
        let number = |k: usize| row[k].parse::<f64>().unwrap();
        let percent: Vec<String> = row[1]
            .split('/')
            .map(|part| (100.0 * part.parse::<f64>().unwrap()).to_string())
            .collect();
        let literal = format!("{} ({})", &row[0], percent.join("/"));
        let blend =
            Refrigerant::from_catalogue(&Catalogue::embedded(), &literal, Basis::Mole).unwrap();
        let (mixture, z) = blend.model();
        let line = BlendLine::default();
        for (branch, column) in [(Branch::Bubble, 3), (Branch::Dew, 4)] {
            let ours = line.at_temperature(mixture, z, branch, number(2)).unwrap();
            let error = (ours.pressure / number(column) - 1.0).abs();
            most = most.max(error);
            count += 1;
            if error.is_nan() || error >= LIBRARY {
                faults.push(format!("{literal} {branch:?} {} K: {error:e}", number(2)));
            }
        }
    }
    assert!(count >= 120, "{count}");
    assert!(
        faults.is_empty(),
        "largest {most:e} of {count}\n{}",
        faults.join("\n")
    );
}

/// Asked of the comparison.
const LIBRARY: f64 = 2e-6;
