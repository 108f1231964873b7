//! States of blends: each pair of properties finds the state it was taken from.

use zeotrope::catalogue::Catalogue;
use zeotrope::refrigerant::State;
use zeotrope::units::{Pressure, Temperature};
use zeotrope::{Given, ReferenceState, Refrigerant};

/// Relative difference in temperature and density up to which two states are one.
const SAME: f64 = 1e-6;
/// The published pairs of these part the liquid in two below 260 K.
const PARTED: [&str; 4] = ["R-437A", "R-439A", "R-504", "R-514A"];

/// Numbers from 0 to 1 by a xorshift generator of fixed seed.
struct Draw(u64);

impl Draw {
    fn next(&mut self) -> f64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 >> 11) as f64 / (1_u64 << 53) as f64
    }

    fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.next()
    }
}

fn distance(state: &State, from: &State) -> f64 {
    let (a, b) = (&state.properties, &from.properties);
    let temperature = a.temperature.in_kelvin() / b.temperature.in_kelvin() - 1.0;
    temperature.abs().max((a.density / b.density - 1.0).abs())
}

#[test]
fn each_pair_of_properties_finds_the_state_again() {
    let mut draw = Draw(98_765);
    let (mut asked, mut faults) = (0, Vec::new());
    for name in &Catalogue::embedded().blend_designations() {
        let blend = Refrigerant::named(name).unwrap();
        let limits = blend.limits();
        let critical = blend.critical_point().unwrap().temperature.in_kelvin();
        let cold = if PARTED.contains(&name.as_str()) {
            260.0
        } else {
            220.0
        };
        for k in 0..6 {
            let given = if k < 2 {
                let kelvin = draw.between(cold, 0.97 * critical);
                Given::TemperatureQuality(Temperature::kelvin(kelvin), draw.next())
            } else {
                let kelvin = draw.between(cold, limits.temperature_max.in_kelvin());
                let top = limits.pressure_max.in_pascal().min(3e7);
                let pascal = draw.between(2e4_f64.ln(), top.ln()).exp();
                Given::TemperaturePressure(Temperature::kelvin(kelvin), Pressure::pascal(pascal))
            };
            asked += 1;
            let first = match blend.state(given, ReferenceState::Usual) {
                Ok(states) => states[0].clone(),
                Err(error) => {
                    faults.push(format!("{name} {given:?}: {error}"));
                    continue;
                }
            };
            let p = &first.properties;
            let mut pairs = vec![
                Given::TemperatureDensity(p.temperature, p.density),
                Given::TemperatureEntropy(p.temperature, p.entropy),
                Given::PressureDensity(p.pressure, p.density),
                Given::PressureEnthalpy(p.pressure, p.enthalpy),
                Given::PressureEntropy(p.pressure, p.entropy),
                Given::TemperaturePressure(p.temperature, p.pressure),
            ];
            if let Some(quality) = first.quality {
                pairs.push(Given::PressureQuality(p.pressure, quality));
            }
            pairs.push(Given::EnthalpyEntropy(p.enthalpy, p.entropy));
            for pair in pairs {
                asked += 1;
                let found = blend.state(pair, ReferenceState::Usual);
                let off = found.as_ref().map(|states| distance(&states[0], &first));
                if !off.as_ref().is_ok_and(|off| *off < SAME) {
                    faults.push(format!("{name} {:?} {pair:?}: {off:?}", first.phase));
                }
            }
        }
    }
    assert!(asked > 5000, "{asked} asked");
    assert!(
        faults.is_empty(),
        "{} of {asked}:\n{}",
        faults.len(),
        faults.join("\n")
    );
}
