//! The working of an answer, step by step, in numbers with their units.

use super::Style;
use super::words::properties::*;
use crate::process::coil::{Coil, CoilKind, Inlet, Station};
use crate::refrigerant::{PhaseProperties, Refrigerant, Saturation, SaturationPoint};
use crate::units::{Pressure, PressureUnit, Temperature, Typed, significant};

/// Fills a phrase's blanks with texts of its own.
fn say<const N: usize>(
    style: &Style,
    phrase: super::words::Phrase,
    blanks: [(&str, String); N],
) -> String {
    style.say(
        phrase,
        &blanks.each_ref().map(|(name, text)| (*name, text.as_str())),
    )
}

/// A temperature as a term of a sum: without its unit, in parentheses below zero.
fn bare(value: Temperature, style: &Style) -> String {
    let figure = style.fixed(style.units.temperature.read(value), 2);
    match figure.starts_with('-') {
        true => format!("({figure})"),
        false => figure,
    }
}

/// An enthalpy to six digits.
fn enthalpy(value: f64, style: &Style) -> String {
    style.sign(significant(value / style.units.enthalpy.joule_per_kg(), 6))
}

/// From a gauge to an absolute pressure.
pub(super) fn absolute(given: Typed<Pressure, PressureUnit>, style: &Style) -> Option<String> {
    let unit = given.unit;
    if !unit.is_gauge() {
        return None;
    }
    let (phrase, name) = match unit {
        PressureUnit::InchesOfMercuryVacuum => (ABSOLUTE_OF_VACUUM, "inHg"),
        _ => (ABSOLUTE_OF_GAUGE, style.units.absolute.typed()),
    };
    let size = |value: Pressure| style.fixed(value.in_pascal() / unit.pascal(), 4);
    let blanks = [
        ("gauge", style.fixed(unit.read(given.value, &style.site), 4)),
        ("air", size(style.site.pressure())),
        ("absolute", size(given.value)),
        ("unit", name.to_owned()),
    ];
    Some(say(style, phrase, blanks))
}

/// Dew minus bubble.
fn glide(bubble: Temperature, dew: Temperature, style: &Style) -> String {
    let blanks = [
        ("dew", bare(dew, style)),
        ("bubble", bare(bubble, style)),
        ("glide", style.degrees((dew - bubble).in_kelvin(), 2)),
    ];
    say(style, WORKING_GLIDE, blanks)
}

/// How a bubble and a dew point are known to be such.
pub(super) fn saturation(
    refrigerant: &Refrigerant,
    found: &Saturation,
    style: &Style,
) -> Vec<String> {
    let mut lines = Vec::new();
    let points = [(WORKING_BUBBLE, &found.bubble), (WORKING_DEW, &found.dew)];
    for (phrase, point) in points {
        let Some(point) = point else {
            continue;
        };
        let phrase = match refrigerant.is_pure() {
            true => WORKING_PURE,
            false => phrase,
        };
        let at = style.temperature(point.temperature);
        lines.push(say(style, phrase, [("temperature", at)]));
        lines.extend(fugacities(refrigerant, point, style));
        let blanks = [
            ("vapor", enthalpy(point.vapor.enthalpy, style)),
            ("liquid", enthalpy(point.liquid.enthalpy, style)),
            ("latent", enthalpy(point.latent_heat, style)),
            ("unit", style.units.enthalpy.typed().to_owned()),
        ];
        lines.push(say(style, WORKING_LATENT, blanks));
        if refrigerant.is_pure() {
            return lines;
        }
    }
    if let (Some(_), Some(bubble), Some(dew)) = (found.glide, &found.bubble, &found.dew) {
        lines.push(glide(bubble.temperature, dew.temperature, style));
    }
    lines
}

fn fugacities(refrigerant: &Refrigerant, point: &SaturationPoint, style: &Style) -> Vec<String> {
    let unit = style.units.absolute;
    let figure = |value: f64, digits| style.sign(significant(value, digits));
    let side = |phase: &PhaseProperties, k: usize| {
        let fraction = phase.mole_fractions.get(k).copied().unwrap_or(f64::NAN);
        let coefficient = phase.fugacity_coefficients.get(k).copied();
        let fugacity = phase.fugacity(k).map_or(f64::NAN, Pressure::in_pascal);
        format!(
            "{} x {} x {} = {}",
            figure(fraction, 5),
            figure(coefficient.unwrap_or(f64::NAN), 5),
            figure(point.pressure.in_pascal() / unit.pascal(), 6),
            figure(fugacity / unit.pascal(), 5)
        )
    };
    let components = refrigerant.components().iter().enumerate();
    let lines = components.map(|(k, component)| {
        let blanks = [
            ("component", component.designation.clone()),
            ("liquid", side(&point.liquid, k)),
            ("vapor", side(&point.vapor, k)),
            ("unit", unit.typed().to_owned()),
        ];
        say(style, WORKING_FUGACITY, blanks)
    });
    lines.collect()
}

/// How a coil's inlet and means come about.
pub(super) fn coil(coil: &Coil, style: &Style) -> Vec<String> {
    let (bubble, dew) = (coil.bubble.temperature, coil.dew.temperature);
    let mut lines = vec![glide(bubble, dew, style)];
    if let (Some(entering), Some(first)) = (&coil.inlet, coil.stations.first()) {
        lines.extend(inlet(coil, entering, first, style));
    }
    let of = |phrase, first: Temperature, mean: Temperature| {
        let blanks = [
            ("first", bare(first, style)),
            ("dew", bare(dew, style)),
            ("mean", style.temperature(mean)),
        ];
        say(style, phrase, blanks)
    };
    lines.push(of(WORKING_MEAN_BUBBLE, bubble, coil.means.bubble_and_dew));
    if let (Some(inlet), Some(mean)) = (&coil.inlet, coil.means.inlet_and_dew) {
        lines.push(of(WORKING_MEAN_INLET, inlet.temperature, mean));
    }
    if let Some(mean) = coil.means.forty_sixty {
        lines.push(of(WORKING_FORTY_SIXTY, bubble, mean));
    }
    lines.push(mean_by_enthalpy(coil, style));
    lines
}

fn inlet(coil: &Coil, inlet: &Inlet, first: &Station, style: &Style) -> [String; 4] {
    let pressure = |value| style.pressure(value, style.units.pressure);
    let before = match inlet.pressure_given {
        true => WORKING_LIQUID,
        false => WORKING_LIQUID_ASSUMED,
    };
    let blanks = [
        ("liquid", style.temperature(inlet.liquid_temperature)),
        ("liquid_pressure", pressure(inlet.liquid_pressure)),
        ("h", enthalpy(first.enthalpy, style)),
        ("unit", style.units.enthalpy.typed().to_owned()),
        ("pressure", pressure(coil.pressure)),
        ("temperature", style.temperature(first.temperature)),
        ("h_liquid", enthalpy(first.liquid.enthalpy, style)),
        ("h_vapor", enthalpy(first.vapor.enthalpy, style)),
        ("quality", style.fixed(inlet.quality, 4)),
        ("dew", bare(coil.dew.temperature, style)),
        ("inlet", bare(inlet.temperature, style)),
        ("glide", style.degrees(inlet.effective_glide.in_kelvin(), 2)),
    ];
    let blanks = blanks.each_ref().map(|(name, text)| (*name, text.as_str()));
    [
        before,
        WORKING_BEHIND,
        WORKING_QUALITY,
        WORKING_EFFECTIVE_GLIDE,
    ]
    .map(|phrase| style.say(phrase, &blanks))
}

/// The mean by enthalpy, and what the printed rows alone give.
fn mean_by_enthalpy(coil: &Coil, style: &Style) -> String {
    let last = coil.stations.len().saturating_sub(1);
    let stations = coil.stations.iter().enumerate();
    let terms: Vec<String> = stations
        .map(|(k, station)| {
            let figure = bare(station.temperature, style);
            match k {
                0 => figure,
                k if k == last => figure,
                k if k % 2 == 1 => format!("4 x {figure}"),
                _ => format!("2 x {figure}"),
            }
        })
        .collect();
    let phrase = match coil.kind {
        CoilKind::Evaporator if coil.inlet.is_some() => WORKING_MEAN_FROM_INLET,
        CoilKind::Evaporator => WORKING_MEAN_FROM_BUBBLE,
        CoilKind::Condenser => WORKING_MEAN_FROM_DEW,
    };
    let blanks = [
        ("mean", style.temperature(coil.means.by_enthalpy)),
        ("sum", terms.join(" + ")),
        ("divisor", (3 * last).to_string()),
        ("coarse", style.temperature(coil.mean_of_stations())),
    ];
    say(style, phrase, blanks)
}
