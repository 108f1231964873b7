//! The working of an answer, step by step, in numbers with their units.

use super::Style;
use super::words::properties::*;
use crate::process::coil::{Coil, CoilKind, Inlet, Station};
use crate::refrigerant::{PhaseProperties, Refrigerant, Saturation, SaturationPoint};
use crate::units::{Pressure, PressureUnit, Temperature, Typed, fixed, significant};

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

/// More decimals than this lead nowhere.
const MOST_DECIMALS: usize = 9;
/// Significant digits of enthalpies and of fugacities, at least.
const ENTHALPY_DIGITS: usize = 6;
const FUGACITY_DIGITS: usize = 5;

/// A number as it is printed with so many decimals.
pub(super) fn rounded(value: f64, decimals: usize) -> f64 {
    fixed(value, decimals).parse().unwrap_or(value)
}

/// How many decimals, `least` at least, the terms of a formula need so that the figures as printed
/// lead to the printed result, which has `shown` decimals; `of` is the formula of terms of so many.
pub(super) fn decimals(
    result: f64,
    shown: usize,
    least: usize,
    of: impl Fn(usize) -> f64,
) -> usize {
    let printed = fixed(result, shown);
    (least..MOST_DECIMALS)
        .find(|decimals| fixed(of(*decimals), shown) == printed)
        .unwrap_or(MOST_DECIMALS)
}

/// Temperatures of a sum that leads to what is printed with two decimals: as terms, without their
/// unit, in parentheses below zero.
fn terms<const N: usize>(
    values: [Temperature; N],
    result: f64,
    style: &Style,
    of: impl Fn([f64; N]) -> f64,
) -> [String; N] {
    let read = values.map(|value| style.units.temperature.read(value));
    let needed = decimals(result, 2, 2, |decimals| {
        of(read.map(|value| rounded(value, decimals)))
    });
    read.map(|value| in_sum(style.fixed(value, needed)))
}

fn in_sum(figure: String) -> String {
    match figure.starts_with('-') {
        true => format!("({figure})"),
        false => figure,
    }
}

/// So many significant digits that a formula of rounded figures leads to the printed result.
fn digits(printed: &str, least: usize, of: impl Fn(usize) -> String) -> usize {
    let all = least..=least + MOST_DECIMALS;
    all.clone()
        .find(|digits| of(*digits) == printed)
        .unwrap_or(*all.end())
}

/// A number as it is printed to so many significant digits.
fn to_digits(value: f64, digits: usize) -> f64 {
    significant(value, digits).parse().unwrap_or(value)
}

/// An enthalpy in the style's unit.
fn enthalpy(value: f64, style: &Style) -> f64 {
    value / style.units.enthalpy.joule_per_kg()
}

/// From a gauge to an absolute pressure.
pub(super) fn absolute(given: Typed<Pressure, PressureUnit>, style: &Style) -> Option<String> {
    let unit = given.unit;
    if !unit.is_gauge() {
        return None;
    }
    let is_vacuum = unit == PressureUnit::InchesOfMercuryVacuum;
    let (phrase, name) = match is_vacuum {
        true => (ABSOLUTE_OF_VACUUM, "inHg"),
        false => (ABSOLUTE_OF_GAUGE, style.units.absolute.typed()),
    };
    let size = |value: Pressure| value.in_pascal() / unit.pascal();
    let (gauge, air) = (
        unit.read(given.value, &style.site),
        size(style.site.pressure()),
    );
    let sum = |decimals| {
        let (gauge, air) = (rounded(gauge, decimals), rounded(air, decimals));
        if is_vacuum { air - gauge } else { air + gauge }
    };
    let needed = decimals(size(given.value), 4, 4, sum);
    let blanks = [
        ("gauge", style.fixed(gauge, needed)),
        ("air", style.fixed(air, needed)),
        ("absolute", style.fixed(size(given.value), 4)),
        ("unit", name.to_owned()),
    ];
    Some(say(style, phrase, blanks))
}

/// A difference of temperatures as it is read in the style's unit.
fn difference(from: Temperature, to: Temperature, style: &Style) -> f64 {
    style.units.temperature.read_difference(to - from)
}

/// Dew minus bubble.
fn glide(bubble: Temperature, dew: Temperature, style: &Style) -> String {
    let size = difference(bubble, dew, style);
    let [dew_term, bubble_term] = terms([dew, bubble], size, style, |[dew, bubble]| dew - bubble);
    let blanks = [
        ("dew", dew_term),
        ("bubble", bubble_term),
        ("glide", style.degrees((dew - bubble).in_kelvin(), 2)),
    ];
    say(style, WORKING_GLIDE, blanks)
}

/// The vapor's enthalpy minus the liquid's.
fn latent(point: &SaturationPoint, style: &Style) -> String {
    let [vapor, liquid, latent] = [
        point.vapor.enthalpy,
        point.liquid.enthalpy,
        point.latent_heat,
    ]
    .map(|value| enthalpy(value, style));
    let printed = significant(latent, ENTHALPY_DIGITS);
    let needed = digits(&printed, ENTHALPY_DIGITS, |digits| {
        let difference = to_digits(vapor, digits) - to_digits(liquid, digits);
        significant(difference, ENTHALPY_DIGITS)
    });
    let figure = |value: f64| style.sign(significant(value, needed));
    let blanks = [
        ("vapor", figure(vapor)),
        ("liquid", figure(liquid)),
        ("latent", style.sign(printed.clone())),
        ("unit", style.units.enthalpy.typed().to_owned()),
    ];
    say(style, WORKING_LATENT, blanks)
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
        lines.push(latent(point, style));
        if refrigerant.is_pure() {
            return lines;
        }
    }
    if let (Some(_), Some(bubble), Some(dew)) = (found.glide, &found.bubble, &found.dew) {
        lines.push(glide(bubble.temperature, dew.temperature, style));
    }
    lines
}

/// Of each component mole fraction x fugacity coefficient x pressure in every phase: one fugacity.
fn fugacities(refrigerant: &Refrigerant, point: &SaturationPoint, style: &Style) -> Vec<String> {
    let unit = style.units.absolute;
    let pressure = point.pressure.in_pascal() / unit.pascal();
    let side = |phase: &PhaseProperties, k: usize| {
        let known = |values: &[f64]| values.get(k).copied().unwrap_or(f64::NAN);
        let factors = [
            known(&phase.mole_fractions),
            known(&phase.fugacity_coefficients),
            pressure,
        ];
        let fugacity = phase.fugacity(k).map_or(f64::NAN, Pressure::in_pascal);
        let printed = significant(fugacity / unit.pascal(), FUGACITY_DIGITS);
        let needed = digits(&printed, FUGACITY_DIGITS, |digits| {
            let factors = factors.map(|factor| to_digits(factor, digits));
            significant(factors.iter().product(), FUGACITY_DIGITS)
        });
        let [x, coefficient, p] = factors.map(|factor| style.sign(significant(factor, needed)));
        format!("{x} x {coefficient} x {p} = {}", style.sign(printed))
    };
    let components = refrigerant.components().iter().enumerate();
    let lines = components.map(|(k, component)| {
        let name = ("component", component.designation.clone());
        let vapor = ("vapor", side(&point.vapor, k));
        let unit = ("unit", unit.typed().to_owned());
        match point.liquids.as_deref() {
            Some([first, second]) => {
                let (first, second) = (side(first, k), side(second, k));
                let blanks = [name, ("first", first), ("second", second), vapor, unit];
                say(style, WORKING_FUGACITY_OF_LIQUIDS, blanks)
            }
            None => {
                let blanks = [name, ("liquid", side(&point.liquid, k)), vapor, unit];
                say(style, WORKING_FUGACITY, blanks)
            }
        }
    });
    lines.collect()
}

/// Why a liquid that boils changes: each component's K = y/x at the bubble point, and that both phases
/// hold it at the same fugacity.
pub(super) fn k_values(
    refrigerant: &Refrigerant,
    bubble: &SaturationPoint,
    style: &Style,
) -> Vec<String> {
    let mut lines = vec![style.word(WORKING_SAME_FUGACITY)];
    lines.extend(fugacities(refrigerant, bubble, style));
    let components = refrigerant.components().iter().enumerate();
    lines.extend(components.map(|(k, component)| {
        let known =
            |phase: &PhaseProperties| phase.mole_fractions.get(k).copied().unwrap_or(f64::NAN);
        let (x, y) = (known(&bubble.liquid), known(&bubble.vapor));
        let needed = decimals(y / x, 3, 4, |decimals| {
            rounded(y, decimals) / rounded(x, decimals)
        });
        let blanks = [
            ("component", component.designation.clone()),
            ("vapor", style.fixed(y, needed)),
            ("liquid", style.fixed(x, needed)),
            ("k", style.fixed(y / x, 3)),
        ];
        say(style, WORKING_K_VALUE, blanks)
    }));
    lines
}

/// How a coil's inlet and means come about.
pub(super) fn coil(coil: &Coil, style: &Style) -> Vec<String> {
    let (bubble, dew) = (coil.bubble.temperature, coil.dew.temperature);
    let mut lines = vec![glide(bubble, dew, style)];
    if let (Some(entering), Some(first)) = (&coil.inlet, coil.stations.first()) {
        lines.extend(inlet(coil, entering, first, style));
    }
    let of = |phrase, first: Temperature, mean: Temperature, share: f64| {
        let read = style.units.temperature.read(mean);
        let [first, dew] = terms([first, dew], read, style, |[first, dew]| {
            (1.0 - share) * first + share * dew
        });
        let blanks = [
            ("first", first),
            ("dew", dew),
            ("mean", style.temperature(mean)),
        ];
        say(style, phrase, blanks)
    };
    let means = &coil.means;
    lines.push(of(WORKING_MEAN_BUBBLE, bubble, means.bubble_and_dew, 0.5));
    if let (Some(inlet), Some(mean)) = (&coil.inlet, means.inlet_and_dew) {
        lines.push(of(WORKING_MEAN_INLET, inlet.temperature, mean, 0.5));
    }
    if let Some(mean) = means.forty_sixty {
        lines.push(of(WORKING_FORTY_SIXTY, bubble, mean, 0.6));
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
    let enthalpies = [first.enthalpy, first.liquid.enthalpy, first.vapor.enthalpy]
        .map(|value| enthalpy(value, style));
    let printed = fixed(inlet.quality, 4);
    let needed = digits(&printed, ENTHALPY_DIGITS, |digits| {
        let [h, liquid, vapor] = enthalpies.map(|value| to_digits(value, digits));
        fixed((h - liquid) / (vapor - liquid), 4)
    });
    let [h, h_liquid, h_vapor] = enthalpies.map(|value| style.sign(significant(value, needed)));
    let (dew, entering) = (coil.dew.temperature, inlet.temperature);
    let size = difference(entering, dew, style);
    let [dew, entering] = terms([dew, entering], size, style, |[dew, inlet]| dew - inlet);
    let blanks = [
        ("liquid", style.temperature(inlet.liquid_temperature)),
        ("liquid_pressure", pressure(inlet.liquid_pressure)),
        ("h", h),
        ("unit", style.units.enthalpy.typed().to_owned()),
        ("pressure", pressure(coil.pressure)),
        ("temperature", style.temperature(first.temperature)),
        ("h_liquid", h_liquid),
        ("h_vapor", h_vapor),
        ("quality", style.sign(printed.clone())),
        ("dew", dew),
        ("inlet", entering),
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
    let unit = style.units.temperature;
    let read: Vec<f64> = coil
        .stations
        .iter()
        .map(|one| unit.read(one.temperature))
        .collect();
    let weight = |k: usize| match k {
        0 => 1.0,
        k if k == last => 1.0,
        k if k % 2 == 1 => 4.0,
        _ => 2.0,
    };
    let coarse = coil.mean_of_stations();
    let needed = decimals(unit.read(coarse), 2, 2, |decimals| {
        let all = read.iter().enumerate();
        let sum: f64 = all
            .map(|(k, value)| weight(k) * rounded(*value, decimals))
            .sum();
        sum / (3 * last) as f64
    });
    let stations = read.iter().enumerate();
    let terms: Vec<String> = stations
        .map(|(k, value)| {
            let figure = in_sum(style.fixed(*value, needed));
            match weight(k) {
                1.0 => figure,
                weight => format!("{weight} x {figure}"),
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
        ("coarse", style.temperature(coarse)),
    ];
    say(style, phrase, blanks)
}
