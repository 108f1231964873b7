//! A blend as one phase: its density at a temperature and pressure.

use crate::error::{Blank, Error, RangeUnit, Reason, reasons};
use crate::helmholtz::{Isotherm, MAX_COMPONENTS, Mixture, MoleFractions};
use crate::state::{density_between, density_near};

/// Densest state that is sought, in reducing densities.
const DENSEST: f64 = 6.0;
/// Steps before a density is given up.
const MOST_STEPS: usize = 60;
/// Part of the reducing density up to which a gas is thin and its density is looked for in long
/// steps.
const THIN: f64 = 0.05;
/// Such a step.
const RISING_THIN: f64 = 1.2;
/// Longest such step where the pressure is concave in density.
const RISING_CONCAVE: f64 = 1.25;
/// Step of ln density at which one has settled.
const SETTLED: f64 = 1e-9;
/// Halvings towards the top of an isotherm.
const TO_THE_TOP: u32 = 30;
/// Parts of a stretch of an isotherm at whose ends its slope is looked at.
const LOOKED_AT: u32 = 12;
/// Upward steps of a density that is looked for from the thin side.
const RISING: f64 = 1.05;

/// The error of a pressure that an isotherm of a pure refrigerant does not reach on the dense side.
pub(super) fn no_density(pressure: f64) -> Error {
    no_fluid(
        pressure,
        "take a lower pressure or a higher temperature: it may be solid there",
    )
}

/// The same of a blend: between two liquids some mixtures' equations have no density.
pub(super) fn no_density_of_blend(pressure: f64) -> Error {
    no_fluid(
        pressure,
        "take a lower pressure or a higher temperature: it may be solid there, or part into liquids between \
         which its equation has no density",
    )
}

fn no_fluid(pressure: f64, hint: &str) -> Error {
    Error::NoState {
        reason: Reason::with(
            reasons::REASON_NO_SUCH_FLUID,
            "pressure",
            Blank::Quantity(pressure, RangeUnit::Pascal),
        ),
        hint: hint.into(),
    }
}

/// The error of a pressure at which there are liquids of which not all were found.
pub(super) fn not_all_liquids(pressure: f64) -> Error {
    Error::NoState {
        reason: Reason::with(
            reasons::REASON_NOT_ALL_LIQUIDS,
            "pressure",
            Blank::Quantity(pressure, RangeUnit::Pascal),
        ),
        hint: "take a pressure below the bubble point: above it more liquids than two may lie beside each \
               other"
            .into(),
    }
}

/// The error of a pressure at which there are three phases.
pub(super) fn gas_over_liquids(pressure: f64) -> Error {
    Error::NoState {
        reason: Reason::with(
            reasons::REASON_GAS_OVER_LIQUIDS,
            "pressure",
            Blank::Quantity(pressure, RangeUnit::Pascal),
        ),
        hint: "take a pressure above the bubble point or below the dew point".into(),
    }
}

/// The error of a temperature at which what would condense has no liquid.
pub(super) fn no_liquid() -> Error {
    Error::NoState {
        reason: reasons::REASON_NO_SUCH_LIQUID.into(),
        hint: "take a higher temperature: it would be solid there".into(),
    }
}

/// The error of a temperature at which the blend is one phase at all pressures that were looked at.
pub(super) fn no_two_phases() -> Error {
    Error::NoState {
        reason: reasons::REASON_NO_TWO_PHASES.into(),
        hint: "it is a gas there: take a lower temperature".into(),
    }
}

/// Whether a phase is a liquid by its density.
pub fn is_dense(mixture: &Mixture, x: &MoleFractions, density: f64) -> bool {
    density > mixture.at_composition(x).reducing_density
}

/// Whether a phase is a liquid: dense, and not hotter than its composition's reducing temperature. A
/// permanent gas packed to a liquid's density is a gas.
pub fn is_liquid(mixture: &Mixture, x: &MoleFractions, temperature: f64, density: f64) -> bool {
    let fixed = mixture.at_composition(x);
    density > fixed.reducing_density && temperature < fixed.reducing_temperature
}

/// The density of the blend as one phase, of vapour and liquid that of the lower Gibbs energy,
/// mol/m3.
pub fn one_phase(
    mixture: &Mixture,
    z: &MoleFractions,
    temperature: f64,
    pressure: f64,
) -> Option<f64> {
    let fixed = mixture.at_composition(z);
    let isotherm = fixed.isotherm(temperature);
    let thin = thin(&isotherm, fixed.reducing_density, pressure);
    let dense = compressed(mixture, z, &isotherm, temperature, pressure);
    match (thin, dense) {
        (Some(thin), Some(dense)) if dense > thin * 1.001 => {
            let energy = |density| gibbs(mixture, z, temperature, density);
            Some(if energy(dense) < energy(thin) {
                dense
            } else {
                thin
            })
        }
        (thin, dense) => thin.or(dense),
    }
}

/// The density of the blend as one phase on the dense or on the thin side, where there is one on
/// that side, mol/m3.
pub fn one_phase_on(
    mixture: &Mixture,
    x: &MoleFractions,
    temperature: f64,
    pressure: f64,
    dense: bool,
) -> Option<f64> {
    let fixed = mixture.at_composition(x);
    let isotherm = fixed.isotherm(temperature);
    let packed = dense
        .then(|| compressed(mixture, x, &isotherm, temperature, pressure))
        .flatten();
    // a permanent gas is a gas, however dense a trial was
    let is_gas = !dense || temperature >= fixed.reducing_temperature;
    packed.or_else(|| {
        is_gas
            .then(|| thin(&isotherm, fixed.reducing_density, pressure))
            .flatten()
    })
}

/// The density of a phase at a temperature, K, and a pressure, Pa, near that of one next to it, mol/m3.
pub(super) fn density_near_one(
    mixture: &Mixture,
    x: &MoleFractions,
    (temperature, pressure): (f64, f64),
    near: f64,
) -> Option<f64> {
    let fixed = mixture.at_composition(x);
    let isotherm = fixed.isotherm(temperature);
    let packed = || compressed(mixture, x, &isotherm, temperature, pressure);
    let thin = || thin(&isotherm, fixed.reducing_density, pressure);
    density_near(&isotherm, pressure, near).or_else(|| {
        if near > fixed.reducing_density {
            packed().or_else(thin)
        } else {
            thin().or_else(packed)
        }
    })
}

/// Gibbs energy over T at a density, J/(mol K), but for what all densities have in common.
fn gibbs(mixture: &Mixture, z: &MoleFractions, temperature: f64, density: f64) -> f64 {
    let logs = logarithms(mixture, z, temperature, density);
    let components = mixture.components().iter().zip(z.iter());
    components
        .zip(logs)
        .map(|((component, z), log)| z * component.record.gas_constant_j_mol_k * log)
        .sum()
}

/// ln n_i + G_i / R_i of a phase: ln f_i but for what phases of one temperature have in common.
pub(super) fn logarithms(
    mixture: &Mixture,
    x: &MoleFractions,
    temperature: f64,
    density: f64,
) -> [f64; MAX_COMPONENTS] {
    let count = mixture.count();
    let mut own = [0.0; MAX_COMPONENTS];
    for (n, x) in own.iter_mut().zip(x.iter()) {
        *n = (x * density).max(1e-300);
    }
    let at = mixture.potential(temperature, &own[..count]);
    let mut logs = [0.0; MAX_COMPONENTS];
    for (k, component) in mixture.components().iter().enumerate() {
        logs[k] = own[k].ln() + at.gradient[k] / component.record.gas_constant_j_mol_k;
    }
    logs
}

/// The thinnest density at a pressure, mol/m3; `None` where the isotherm turns before it.
pub(super) fn thin(isotherm: &Isotherm<'_>, reducing_density: f64, pressure: f64) -> Option<f64> {
    // of what is no number there is no density
    let sound = pressure > 0.0 && pressure.is_finite() && reducing_density.is_finite();
    if !sound {
        return None;
    }
    let ideal = pressure / isotherm.rt;
    // Thin enough to lie before the spinodal of a vapor that does not reach this pressure.
    let mut low = 0.02 * ideal.min(reducing_density);
    while isotherm.pressure(low) > pressure {
        low *= 0.5;
    }
    low = match from_below(isotherm, low, pressure) {
        Below::Root(density) => return Some(density),
        Below::Thinner(density) => density,
    };
    let mut high = low;
    loop {
        let (value, slope) = isotherm.pressure_slope(high);
        if value >= pressure {
            break;
        }
        if slope.is_nan() || high > DENSEST * reducing_density {
            return None;
        }
        if slope <= 0.0 {
            // the top of the isotherm lies between
            high = top(isotherm, low, high);
            if isotherm.pressure(high) < pressure {
                return None;
            }
            break;
        }
        low = high;
        high *= if high < THIN * reducing_density {
            RISING_THIN
        } else {
            RISING
        };
    }
    let root = density_between(isotherm, pressure, low, high, 0.5 * (low + high)).ok()?;
    Some(root.density)
}

/// Where Newton's method from a thinner gas comes to.
enum Below {
    /// The density of the pressure, mol/m3.
    Root(f64),
    /// One below it, from which steps must be looked at more closely.
    Thinner(f64),
}

/// A gas's density by Newton's method from below, mol/m3: as long as its pressure is concave in density no
/// step passes the root.
fn from_below(isotherm: &Isotherm<'_>, mut low: f64, pressure: f64) -> Below {
    let (mut value, mut slope) = isotherm.pressure_slope(low);
    for _ in 0..MOST_STEPS {
        let step = (pressure - value) / slope;
        if slope > 0.0 && step < SETTLED {
            return Below::Root(low * (1.0 + step));
        }
        let next = low * (1.0 + step).min(RISING_CONCAVE);
        let (there, its_slope) = isotherm.pressure_slope(next);
        let is_concave = its_slope > 0.0 && its_slope / next < slope / low && there < pressure;
        if !is_concave {
            break;
        }
        (low, value, slope) = (next, there, its_slope);
    }
    Below::Thinner(low)
}

/// Where an isotherm that rises at one density and falls at the other turns, mol/m3.
fn top(isotherm: &Isotherm<'_>, mut rising: f64, mut falling: f64) -> f64 {
    for _ in 0..TO_THE_TOP {
        let middle = 0.5 * (rising + falling);
        if isotherm.pressure_slope(middle).1 > 0.0 {
            rising = middle;
        } else {
            falling = middle;
        }
    }
    rising
}

/// The density of the liquid, or of a dense gas, mol/m3, by Newton's method from above: there the
/// pressure is convex in density, and loops of the equation at lower densities are not met.
pub fn compressed(
    mixture: &Mixture,
    z: &MoleFractions,
    isotherm: &Isotherm<'_>,
    temperature: f64,
    pressure: f64,
) -> Option<f64> {
    let reducing = mixture.at_composition(z).reducing_density;
    let mut density = 1.1 * liquid_density(mixture, z, temperature);
    while isotherm.pressure(density) < pressure {
        density *= 1.05;
        if density > DENSEST * reducing {
            return None;
        }
    }
    for _ in 0..MOST_STEPS {
        let (value, slope) = isotherm.pressure_slope(density);
        if slope <= 0.0 {
            break;
        }
        let step = ((value - pressure) / slope).clamp(-0.1, 0.1);
        density *= 1.0 - step;
        if step.abs() < SETTLED {
            return Some(density * (1.0 - (isotherm.pressure(density) - pressure) / slope));
        }
    }
    None
}

/// Whether a component of `x` colder than the range of its own equation has no liquid at a pressure:
/// its isotherm turns before it comes down to that pressure. What is rich in it would be solid.
///
/// Water's equation (Wagner & Pruss, J. Phys. Chem. Ref. Data 31 (2002) 387) has no liquid at low
/// pressures below 234 K; water freezes by itself at 235 K (Kanno, Speedy & Angell, Science 189
/// (1975) 880, from memory).
pub(super) fn lacks_a_liquid(
    mixture: &Mixture,
    x: &MoleFractions,
    temperature: f64,
    pressure: f64,
) -> bool {
    solids(mixture, x, temperature, pressure).next().is_some()
}

/// Whether one of those components has a higher fugacity than its own vapor pressure, at a density of
/// the blend in mol/m3: it would not stay in this phase.
pub(super) fn would_freeze_out(
    mixture: &Mixture,
    x: &MoleFractions,
    (temperature, pressure): (f64, f64),
    density: f64,
) -> bool {
    let own = |k: usize| {
        let component = &mixture.components()[k];
        let rt = component.record.gas_constant_j_mol_k * temperature;
        let fugacity = logarithms(mixture, x, temperature, density)[k].exp() * rt;
        fugacity > component.ancillary.extended_pressure(temperature)
    };
    solids(mixture, x, temperature, pressure).any(own)
}

/// The pressure in Pa at which the first of those components would freeze out of the blend as a gas; `None`
/// where all have a liquid.
pub(super) fn frost_pressure(
    mixture: &Mixture,
    z: &MoleFractions,
    temperature: f64,
) -> Option<f64> {
    let components = mixture.components();
    let own = |k: usize| components[k].ancillary.extended_pressure(temperature);
    let coldest = |k: &usize| temperature < components[*k].record.range.temperature_min_k;
    let there = (0..components.len())
        .filter(|&k| z[k] > 0.0)
        .filter(coldest);
    let frozen = there.filter(|&k| solids(mixture, z, temperature, own(k)).any(|own| own == k));
    frozen.map(|k| own(k) / z[k]).reduce(f64::min)
}

fn solids(
    mixture: &Mixture,
    x: &MoleFractions,
    temperature: f64,
    pressure: f64,
) -> impl Iterator<Item = usize> {
    let components = mixture.components();
    (0..components.len()).filter(move |&k| {
        if x[k] <= 0.0 || temperature >= components[k].record.range.temperature_min_k {
            return false;
        }
        let mut own = [0.0; MAX_COMPONENTS];
        own[k] = 1.0;
        let own = MoleFractions::new(&own[..components.len()]);
        let fixed = mixture.at_composition(&own);
        compressed(
            mixture,
            &own,
            &fixed.isotherm(temperature),
            temperature,
            pressure,
        )
        .is_none()
    })
}

/// A liquid's density from its components' ancillary equations, mol/m3: volumes add.
pub fn liquid_density(mixture: &Mixture, x: &MoleFractions, temperature: f64) -> f64 {
    let mut volume = 0.0;
    for (component, x) in mixture.components().iter().zip(x.iter()) {
        let coldest = component.record.range.temperature_min_k;
        let hottest = (0.9 * component.critical.temperature).max(coldest);
        volume += x / component
            .ancillary
            .liquid_density(temperature.clamp(coldest, hottest));
    }
    1.0 / volume
}

/// Whether the pressure rises from one density to another.
pub(super) fn rises_between(isotherm: &Isotherm<'_>, low: f64, high: f64) -> bool {
    (1..LOOKED_AT).all(|k| {
        let density = low + (high - low) * f64::from(k) / f64::from(LOOKED_AT);
        isotherm.pressure_slope(density).1 > 0.0
    })
}

/// Whether the pressure rises from the ideal gas to a density: old equations have loops even far
/// below their reducing density, and what lies behind one is no gas.
pub(super) fn rises_to(isotherm: &Isotherm<'_>, density: f64) -> bool {
    let mut parts = [0.25, 0.5, 0.75].into_iter();
    parts.all(|part| isotherm.pressure_slope(part * density).1 > 0.0)
}
