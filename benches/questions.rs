//! What is measured, a line a question: by the clock in `layers.rs`, in instructions in
//! `instructions.rs`.
//!
//! A question takes a number, by which its temperature varies, so that no answer serves twice and
//! no branch is learnt by heart. Whatever is made once is made before.

use zeotrope::chart::{Chart, Request, Rows};
use zeotrope::curve::Curve;
use zeotrope::equilibrium::bubble_dew::Branch;
use zeotrope::helmholtz::MoleFractions;
use zeotrope::process::cycle::{Cycle, Level};
use zeotrope::process::shift;
use zeotrope::state::SinglePhase;
use zeotrope::units::{
    Atmosphere, Pressure, PressureUnit, Temperature, TemperatureDifference, TemperatureUnit,
};
use zeotrope::{Given, ReferenceState, Refrigerant, Result};

/// A question of one layer.
pub(crate) struct Question {
    /// The layer that it isolates.
    pub(crate) layer: &'static str,
    /// What is asked of what.
    pub(crate) name: String,
    /// Asks, at a temperature that varies with the number, and gives a figure of the answer.
    pub(crate) ask: Box<dyn Fn(usize) -> Result<f64>>,
}

fn question(
    layer: &'static str,
    name: impl Into<String>,
    ask: impl Fn(usize) -> Result<f64> + 'static,
) -> Question {
    let (name, ask) = (name.into(), Box::new(ask));
    Question { layer, name, ask }
}

/// Components of mixtures that grow one by one, by equal masses.
const GROWING: [&str; 6] = [
    "R-134a",
    "R-32",
    "R-125",
    "R-1234yf",
    "R-227ea",
    "R-1234ze(E)",
];

/// A mixture of the first so many components.
fn growing(count: usize) -> Result<Refrigerant> {
    if count == 1 {
        return Refrigerant::named(GROWING[0]);
    }
    let share = 100.0 / count as f64;
    let shares = vec![share.to_string(); count].join("/");
    Refrigerant::named(&format!("{} ({shares})", GROWING[..count].join("/")))
}

/// 64 temperatures from 260 K, out of order.
fn kelvin(index: usize) -> f64 {
    260.0 + 0.5 * ((index * 37) % 64) as f64
}

/// Every question.
pub(crate) fn questions() -> Result<Vec<Question>> {
    let mut all = Vec::new();
    for name in ["R-134a", "R-407C"] {
        let r = Refrigerant::named(name)?;
        all.extend(kernels(name, &r));
        all.extend(of_refrigerant(name, &r));
        all.push(curve(name, &r));
        all.extend(cycles(name, &r));
    }
    for count in 1..=GROWING.len() {
        let r = growing(count)?;
        let pair = r.clone();
        let partial = partial_densities(&r, 12_000.0);
        all.push(question(
            "kernel",
            format!("potential, gradient and Hessian, {count} components"),
            move |i| {
                Ok(pair
                    .model()
                    .0
                    .potential(kelvin(i), &partial)
                    .pressure_over_temperature)
            },
        ));
        let r = r.exact();
        all.push(question(
            "saturation",
            format!("bubble pressure, equation solved, {count} components"),
            move |i| {
                Ok(r.bubble_pressure(Temperature::kelvin(kelvin(i)))?
                    .in_pascal())
            },
        ));
    }
    all.push(chart()?);
    all.push(leak()?);
    Ok(all)
}

/// A leak of five components followed and told in a hundred steps.
fn leak() -> Result<Question> {
    let r = Refrigerant::named("R-448A")?;
    let name = "leak of R-448A in 100 steps, uncertainty included";
    Ok(question("shift", name, move |i| {
        let mut asked = shift::LossQuestion::vapor(Temperature::kelvin(kelvin(i)));
        asked.lost = (1..100).map(|part| f64::from(part) / 100.0).collect();
        let found = shift::loss(&r, &asked)?;
        Ok(found.end_lost_mass_fraction)
    }))
}

/// The stretch of a dew line that holds a temperature, built anew.
fn curve(name: &str, r: &Refrigerant) -> Question {
    let r = r.clone();
    question(
        "curve",
        format!("a stretch of the dew line, {name}"),
        move |i| {
            let line = || r.curve(Branch::Dew).1;
            let built = Curve::new(&line()).pressure(kelvin(i), line);
            Ok(built.unwrap_or(f64::NAN))
        },
    )
}

fn partial_densities(r: &Refrigerant, density: f64) -> Vec<f64> {
    r.model().1.iter().map(|x| x * density).collect()
}

/// One evaluation of the equation of state, no iteration.
fn kernels(name: &str, r: &Refrigerant) -> Vec<Question> {
    let fixed = |r: &Refrigerant, f: fn(&Refrigerant, &MoleFractions, f64) -> f64| {
        let r = r.clone();
        move |i| Ok(f(&r, r.model().1, kelvin(i)))
    };
    vec![
        question(
            "kernel",
            format!("residual part with its derivatives, {name}"),
            fixed(r, |r, x, t| {
                r.model().0.at_composition(x).residual(t, 12_000.0).a
            }),
        ),
        question(
            "kernel",
            format!("an isotherm folded, then one pressure, {name}"),
            fixed(r, |r, x, t| {
                r.model().0.at_composition(x).isotherm(t).pressure(12_000.0)
            }),
        ),
        question(
            "property",
            format!("all properties of one phase at T and density, {name}"),
            fixed(r, |r, x, t| {
                SinglePhase::at_density(&r.model().0.at_composition(x), t, 12_000.0).enthalpy
            }),
        ),
    ]
}

fn of_refrigerant(name: &str, r: &Refrigerant) -> Vec<Question> {
    let at = |f: fn(&Refrigerant, Temperature) -> Result<f64>| {
        let r = r.clone();
        move |i| f(&r, Temperature::kelvin(kelvin(i)))
    };
    vec![
        question(
            "saturation",
            format!("bubble pressure at T, {name}"),
            at(|r, t| Ok(r.bubble_pressure(t)?.in_pascal())),
        ),
        question(
            "saturation",
            format!("dew pressure at T, {name}"),
            at(|r, t| Ok(r.dew_pressure(t)?.in_pascal())),
        ),
        question(
            "saturation",
            format!("dew temperature at p, {name}"),
            at(|r, t| {
                let pressure = Pressure::pascal(1e4 * (t.in_kelvin() - 240.0));
                Ok(r.dew_temperature(pressure)?.in_kelvin())
            }),
        ),
        question(
            "saturation",
            format!("bubble and dew with all properties at T, {name}"),
            at(|r, t| {
                let found = r.saturation_at_temperature(t, ReferenceState::Usual)?;
                Ok(found.dew.map_or(f64::NAN, |dew| dew.latent_heat))
            }),
        ),
        question(
            "flash",
            format!("T and p, vapour, {name}"),
            at(|r, t| {
                Ok(r.state(
                    Given::TemperaturePressure(t, Pressure::bar(0.5)),
                    ReferenceState::Usual,
                )?[0]
                    .properties
                    .density)
            }),
        ),
        question(
            "flash",
            format!("T and p, liquid, {name}"),
            at(|r, t| {
                Ok(r.state(
                    Given::TemperaturePressure(t, Pressure::bar(30.0)),
                    ReferenceState::Usual,
                )?[0]
                    .properties
                    .density)
            }),
        ),
        question(
            "flash",
            format!("p and h, two phases, {name}"),
            at(|r, t| {
                let given = Given::PressureEnthalpy(Pressure::bar(5.0), 1e3 * t.in_kelvin());
                Ok(r.state(given, ReferenceState::Iir)?[0]
                    .properties
                    .temperature
                    .in_kelvin())
            }),
        ),
        question(
            "flash",
            format!("h and s, two phases, {name}"),
            at(|r, t| {
                let kelvin = t.in_kelvin();
                // across the two phases, along an isotherm of 270 K
                let given =
                    Given::EnthalpyEntropy(1e3 * kelvin, 1e3 + 1e3 * (kelvin - 200.0) / 270.0);
                Ok(r.state(given, ReferenceState::Iir)?[0]
                    .properties
                    .temperature
                    .in_kelvin())
            }),
        ),
        // Building a blend's curves goes here, a line, when there are any.
    ]
}

/// One stage with superheat, subcooling and efficiency; by dew and bubble, and by means, which a
/// blend has to solve for.
fn cycles(name: &str, r: &Refrigerant) -> Vec<Question> {
    let ask = |low: fn(Temperature) -> Level, high: fn(Temperature) -> Level| {
        let r = r.clone();
        move |i: usize| {
            let colder = Temperature::kelvin(kelvin(i) - 10.0);
            let found = Cycle::between(low(colder), high(Temperature::celsius(45.0)))
                .superheat(TemperatureDifference::kelvin(5.0))
                .subcooling(TemperatureDifference::kelvin(3.0))
                .efficiency(0.7)
                .solve(&r)?;
            Ok(found.cop_cooling)
        }
    };
    vec![
        question(
            "cycle",
            format!("one stage, dew and bubble, {name}"),
            ask(Level::dew, Level::bubble),
        ),
        question(
            "cycle",
            format!("one stage, means of inlet and dew, of bubble and dew, {name}"),
            ask(Level::inlet_mean, Level::mean),
        ),
    ]
}

/// The README's chart: three refrigerants from -40 to 60 °C by 5 °C.
fn chart() -> Result<Question> {
    let names = ["R-134a", "R-290", "R-744"];
    let refrigerants = names
        .map(Refrigerant::named)
        .into_iter()
        .collect::<Result<Vec<_>>>()?;
    Ok(question(
        "chart",
        "R-134a R-290 R-744, 21 rows",
        move |_| {
            let chart = Chart::new(&Request {
                refrigerants: refrigerants.clone(),
                rows: Rows::Temperatures((-8..=12).map(|row| 5.0 * f64::from(row)).collect()),
                temperature_unit: TemperatureUnit::Celsius,
                pressure_unit: PressureUnit::BarGauge,
                site: Atmosphere::SEA_LEVEL,
                choices: zeotrope::chart::Choices::default(),
            })?;
            Ok(chart.rows.len() as f64)
        },
    ))
}
