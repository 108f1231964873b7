//! Our side of `tools/peer_speed.py`: answers and times questions that come on standard input.
//!
//! ```text
//! contents R         designation and mole fraction of each component
//! load TASK R N      N lines "a b" follow; replies with the N answers
//! time FROM TO       nanoseconds a call over those inputs of the last load asked for
//! build TASK R N     N lines "a b" follow; nanoseconds all take on a refrigerant never asked
//! list               every refrigerant carried
//! ```
//!
//! `peer_speed chart R ...` computes a chart as one process and prints cells and gaps.
#![allow(clippy::print_stdout)] // replies go to standard output

use std::error::Error;
use std::hint::black_box;
use std::io::BufRead;
use std::time::{Duration, Instant};

use zeotrope::catalogue::Catalogue;
use zeotrope::process::cycle::{Cycle, Level};
use zeotrope::units::{Pressure, Temperature, TemperatureDifference};
use zeotrope::{Given, ReferenceState, Refrigerant, Result, StateRow};

/// How long a timing goes on at least.
const LEAST: Duration = Duration::from_millis(2);

type Question = fn(&Refrigerant, f64, f64) -> Result<f64>;

/// What is asked of which refrigerant, and the inputs.
type Loaded = (Refrigerant, Question, Vec<(f64, f64)>);

/// A task's question; the two numbers are K or Pa, and Pa or J/kg.
fn question(task: &str) -> Option<Question> {
    Some(match task {
        "pure_saturation_pressure" | "blend_bubble_pressure" | "blend_bubble_pressure_exact" => {
            |r, t, _| Ok(r.bubble_pressure(Temperature::kelvin(t))?.in_pascal())
        }
        "blend_dew_pressure" | "blend_dew_pressure_exact" => {
            |r, t, _| Ok(r.dew_pressure(Temperature::kelvin(t))?.in_pascal())
        }
        "pure_saturation_state" => |r, t, _| {
            let point = r.bubble_point(Temperature::kelvin(t))?;
            Ok(point.pressure.in_pascal() + point.liquid_density + point.vapor_density)
        },
        "pure_saturation_temperature" => {
            |r, p, _| Ok(r.bubble_temperature(Pressure::pascal(p))?.in_kelvin())
        }
        "pure_density_pT" | "blend_density_pT_liquid" | "blend_density_pT_vapor" => {
            |r, t, p| r.density(Temperature::kelvin(t), Pressure::pascal(p))
        }
        "pure_entropy_ph" => {
            |r, p, h| Ok(r.entropy_at_enthalpy(Pressure::pascal(p), h, ReferenceState::Iir)? - 1e3)
        }
        "blend_temperature_ph_liquid"
        | "blend_temperature_ph_two_phase"
        | "blend_temperature_ph_vapor" => |r, p, h| {
            let found = r.temperature_at_enthalpy(Pressure::pascal(p), h, ReferenceState::Iir)?;
            Ok(found.in_kelvin())
        },
        "pure_state_ph" | "blend_state_ph" => {
            |r, p, h| state(r, Given::PressureEnthalpy(Pressure::pascal(p), h))
        }
        "cycle_pure" | "cycle_blend" => |r, evaporating, condensing| {
            // of a pure refrigerant both means are its saturation temperature
            let low = Level::inlet_mean(Temperature::kelvin(evaporating));
            let high = Level::mean(Temperature::kelvin(condensing));
            let found = Cycle::between(low, high)
                .superheat(TemperatureDifference::kelvin(5.0))
                .subcooling(TemperatureDifference::kelvin(3.0))
                .efficiency(0.7)
                .solve(r)?;
            Ok(found.cop_cooling)
        },
        "blend_state_ps" => |r, p, s| state(r, Given::PressureEntropy(Pressure::pascal(p), s)),
        _ => return None,
    })
}

/// All properties of a state; its density, whose value is compared.
fn state(refrigerant: &Refrigerant, given: Given) -> Result<f64> {
    let mut row = [StateRow::default()];
    let unanswered = refrigerant.states(&[given], ReferenceState::Iir, None, &mut row)?;
    match unanswered.into_iter().next() {
        Some(one) => Err(one.reason),
        None => Ok(row[0].density),
    }
}

fn refrigerant(task: &str, name: &str) -> Result<Refrigerant> {
    let refrigerant = Refrigerant::named(name)?;
    Ok(if task.ends_with("_exact") {
        refrigerant.exact()
    } else {
        refrigerant
    })
}

/// Inputs as read; where enthalpy or entropy is asked by, (T, p) becomes (p, h) or (p, s) of our
/// own, and a quality with its sign turned and a pressure a state in two phases.
fn inputs(
    lines: &mut impl Iterator<Item = std::io::Result<String>>,
    count: usize,
    task: &str,
    name: &str,
) -> std::result::Result<Vec<(f64, f64)>, Box<dyn Error>> {
    let mut inputs = Vec::with_capacity(count);
    for _ in 0..count {
        let line = lines.next().ok_or("a line is missing")??;
        let (a, b) = line.split_once(' ').ok_or("not two numbers")?;
        inputs.push((a.parse()?, b.parse()?));
    }
    if task.contains("_ph") || task.contains("_ps") {
        let exact = Refrigerant::named(name)?.exact();
        for input in &mut inputs {
            let pressure = Pressure::pascal(input.1);
            // below zero: the vapor's share of the mass
            let given = if input.0 > 0.0 {
                Given::TemperaturePressure(Temperature::kelvin(input.0), pressure)
            } else {
                Given::PressureQuality(pressure, -input.0)
            };
            let state = &exact.state(given, ReferenceState::Iir)?[0];
            let second = if task.contains("_ps") {
                state.properties.entropy
            } else {
                state.properties.enthalpy
            };
            *input = (input.1, second);
        }
    }
    Ok(inputs)
}

/// Bubble and dew pressures at whole kelvins from -50 to 60 °C below 0.98 of the critical
/// temperature: how many, and how many have no answer.
fn chart(names: &[String]) -> Result<(usize, usize)> {
    let (mut cells, mut gaps) = (0, 0);
    for name in names {
        let refrigerant = Refrigerant::named(name)?;
        let top = refrigerant
            .critical_point()
            .map_or(f64::INFINITY, |point| 0.98 * point.temperature.in_kelvin());
        let bottom = refrigerant.limits().temperature_min.in_kelvin();
        for celsius in -50..=60 {
            let temperature = Temperature::celsius(f64::from(celsius));
            if temperature.in_kelvin() >= top || temperature.in_kelvin() < bottom {
                continue;
            }
            for answer in [
                refrigerant.bubble_pressure(temperature),
                refrigerant.dew_pressure(temperature),
            ] {
                cells += 1;
                gaps += usize::from(answer.is_err());
            }
        }
    }
    Ok((cells, gaps))
}

fn main() -> std::result::Result<(), Box<dyn Error>> {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    if arguments.first().is_some_and(|word| word == "chart") {
        let (cells, gaps) = chart(&arguments[1..])?;
        println!("{cells} {gaps}");
        return Ok(());
    }
    let mut lines = std::io::stdin().lock().lines();
    let mut loaded: Option<Loaded> = None;
    while let Some(line) = lines.next() {
        let line = line?;
        let words: Vec<&str> = line.split_whitespace().collect();
        match words.as_slice() {
            ["contents", name] => match Refrigerant::named(name) {
                Ok(found) => {
                    let parts = found.components().iter();
                    let parts = parts.map(|c| format!("{} {}", c.designation, c.mole_fraction));
                    println!("{}", parts.collect::<Vec<_>>().join(" "));
                }
                Err(_) => println!(),
            },
            ["list"] => {
                let catalogue = Catalogue::embedded();
                let mut all = catalogue.pure_designations();
                all.extend(catalogue.blend_designations());
                println!("{}", all.join(" "));
            }
            ["load", task, name, count] => {
                let inputs = inputs(&mut lines, count.parse()?, task, name)?;
                let refrigerant = refrigerant(task, name)?;
                let ask = question(task).ok_or("no such task")?;
                let answers = inputs
                    .iter()
                    .map(|&(a, b)| ask(&refrigerant, a, b).map(|answer| format!("{answer:e}")))
                    .collect::<Result<Vec<_>>>()?;
                println!("{}", answers.join(" "));
                loaded = Some((refrigerant, ask, inputs));
            }
            ["time", from, to] => {
                let (refrigerant, ask, inputs) = loaded.as_ref().ok_or("nothing loaded")?;
                let inputs = &inputs[from.parse()?..to.parse()?];
                let start = Instant::now();
                let mut calls = 0;
                while start.elapsed() < LEAST {
                    for &(a, b) in inputs {
                        black_box(ask(refrigerant, black_box(a), black_box(b))?);
                    }
                    calls += inputs.len();
                }
                println!("{}", start.elapsed().as_nanos() as f64 / calls as f64);
            }
            ["build", task, name, count] => {
                let inputs = inputs(&mut lines, count.parse()?, task, name)?;
                let fresh = refrigerant(task, name)?;
                let ask = question(task).ok_or("no such task")?;
                let start = Instant::now();
                for &(a, b) in &inputs {
                    black_box(ask(&fresh, a, b)?);
                }
                println!("{}", start.elapsed().as_nanos());
            }
            other => return Err(format!("what is {other:?}?").into()),
        }
    }
    Ok(())
}
