//! One phase beside the lines that curves give: where Newton's method starts, and what of it is
//! believed.

use super::Refrigerant;
use crate::curve::Side;
use crate::equilibrium::bubble_dew::Branch;
use crate::helmholtz::FixedComposition;
use crate::numeric::exp;
use crate::state::{ByPressure, Caloric, by_pressure, density_near};

impl Refrigerant {
    /// mol/m3, and whether it is the liquid's; `None` between the lines, above their end and out of
    /// range.
    pub(super) fn quick_density(&self, temperature: f64, pressure: f64) -> Option<(f64, bool)> {
        let limits = &self.0.limits;
        if !(pressure > 0.0 && pressure <= limits.pressure_max.in_pascal()) {
            return None;
        }
        let at = |branch| {
            self.wanted(branch)?
                .densities(temperature, || self.line(branch))
        };
        let bubble = at(Branch::Bubble)?;
        let dew = if self.is_pure() {
            bubble
        } else {
            at(Branch::Dew)?
        };
        let fixed = self.fixed();
        let isotherm = fixed.isotherm(temperature);
        if pressure <= dew.0 {
            let saturated = dew.0 / (dew.2 * isotherm.rt);
            let z = 1.0 - below_saturation(1.0 - saturated, pressure / dew.0);
            let start = pressure / (isotherm.rt * z);
            return density_near(&isotherm, pressure, start)
                .filter(|density| *density <= dew.2 * (1.0 + 1e-9))
                .map(|density| (density, false));
        }
        if pressure >= bubble.0 {
            let start = self
                .wanted(Branch::Bubble)?
                .near_liquid(temperature, pressure, || self.line(Branch::Bubble))?;
            return density_near(&isotherm, pressure, start)
                .filter(|density| *density >= bubble.1 * (1.0 - 1e-9))
                .map(|density| (density, true));
        }
        None
    }

    /// A vapor hotter than its dew point.
    pub(super) fn beyond_dew(
        &self,
        pressure: f64,
        caloric: Caloric,
        dew: &Side,
    ) -> Option<ByPressure> {
        let fixed = self.fixed();
        let newton = |start: (f64, f64)| by_pressure(&fixed, pressure, caloric, start);
        let start = match caloric {
            Caloric::Enthalpy(enthalpy) => {
                Superheated::from_dew_point(&fixed, pressure, dew).at_enthalpy(enthalpy)
            }
            Caloric::Entropy(entropy) => {
                Superheated::from_dew_point(&fixed, pressure, dew).at_entropy(entropy)
            }
        };
        let hottest = self.0.limits.temperature_max.in_kelvin();
        newton(start)
            .or_else(|| newton((dew.temperature, dew.density)))
            .filter(|found| {
                found.temperature >= dew.temperature * (1.0 - 1e-9)
                    && found.temperature <= hottest
                    && found.density <= dew.density * (1.0 + 1e-9)
            })
    }

    /// A liquid colder than its bubble point.
    pub(super) fn before_bubble(
        &self,
        pressure: f64,
        caloric: Caloric,
        bubble: &Side,
    ) -> Option<ByPressure> {
        let fixed = self.fixed();
        let newton = |start: (f64, f64)| by_pressure(&fixed, pressure, caloric, start);
        let enthalpy = match caloric {
            Caloric::Enthalpy(enthalpy) => enthalpy,
            // ds = dh/T on an isobar, T falling nearly in proportion
            Caloric::Entropy(entropy) => {
                let missing = bubble.entropy - entropy;
                let colder = missing * bubble.temperature / self.liquid_capacity(bubble)?;
                let mean = bubble.temperature - 0.5 * colder;
                bubble.enthalpy - missing * mean
            }
        };
        let coldest = self.coldest_liquid();
        self.subcooled(pressure, enthalpy, bubble)
            .and_then(newton)
            .or_else(|| newton((bubble.temperature, bubble.density)))
            .filter(|found| {
                found.temperature <= bubble.temperature * (1.0 + 1e-9)
                    && found.temperature >= coldest
            })
    }

    /// The temperature in K down to which a liquid is one.
    fn coldest_liquid(&self) -> f64 {
        let coldest = self.0.limits.temperature_min.in_kelvin();
        let parts = || self.0.line.splits_below(&self.0.mixture, &self.0.x);
        let edge = if self.is_pure() { None } else { parts() };
        edge.map_or(coldest, |edge| coldest.max(edge))
    }

    /// The heat capacity of the liquid along its line, J/(mol K), over a step of usual size.
    fn liquid_capacity(&self, bubble: &Side) -> Option<f64> {
        let curve = self.wanted(Branch::Bubble)?;
        let colder = 0.97 * bubble.temperature;
        let (_, there) = curve.liquid_enthalpy(colder, || self.line(Branch::Bubble))?;
        Some((bubble.enthalpy - there) / (bubble.temperature - colder))
    }

    /// Temperature, K, and density, mol/m3, near those of a liquid colder than its bubble point.
    ///
    /// From the saturated liquid at the same temperature, dh = (1 - alpha T) / rho dp, alpha the
    /// mean expansivity on the isobar from there to the bubble point; then by the mean heat
    /// capacity on that isobar.
    fn subcooled(&self, pressure: f64, enthalpy: f64, bubble: &Side) -> Option<(f64, f64)> {
        let curve = self.wanted(Branch::Bubble)?;
        let line = || self.line(Branch::Bubble);
        let missing = bubble.enthalpy - enthalpy;
        let capacity = self.liquid_capacity(bubble)?;
        let mut start = (bubble.temperature - missing / capacity, bubble.density);
        // the second time the mean heat capacity is that of the right interval
        for _ in 0..2 {
            let (temperature, _) = start;
            let cooled = bubble.temperature - temperature;
            if cooled < 1e-6 * temperature {
                return None;
            }
            let (saturated, there, density) = curve.beside_liquid(temperature, pressure, line)?;
            let expansivity = (density / bubble.density - 1.0) / cooled;
            let rise = (pressure - saturated) * (1.0 - expansivity * temperature) / density;
            let found = bubble.temperature - missing * cooled / (bubble.enthalpy - there - rise);
            start = (found, density * (1.0 + expansivity * (temperature - found)));
        }
        Some(start)
    }
}

/// 1 - Z of a vapour at a part of its saturation pressure, from that of the saturated vapour: a
/// start and no more.
///
/// In proportion to the pressure, less what bends it; fitted by `tools/starts.py` to 13 refrigerants
/// from 0.6 to 0.97 of the critical temperature, half of which it meets to 2e-4 of Z.
fn below_saturation(saturated: f64, part: f64) -> f64 {
    let bend = 0.98 + saturated * (-0.24 - part * (1.02 - 3.80 * part));
    saturated * part * (1.0 - (1.0 - part) * saturated * bend)
}

/// Vapors hotter than a dew point on its isobar, roughly: starts and no more.
///
/// What parts enthalpy and compressibility factor from those of the ideal gas falls with a power of
/// temperature on an isobar. With B as T^(-m) the ratio r of the two at the dew point, in units of
/// R T and of 1, is 1 + m, and the powers are r - 1 and r; the figures here are fitted by
/// `tools/starts.py` to 13 refrigerants, up to a third above dew points from 0.6 to 0.95 of the
/// critical temperature, to 0.13 and 0.12.
struct Superheated<'a> {
    fixed: &'a FixedComposition<'a>,
    pressure: f64,
    dew: &'a Side,
    /// The ideal gas's enthalpy and heat capacity at the dew point, and what the vapor's enthalpy
    /// lacks of the first.
    ideal: f64,
    capacity: f64,
    departure: f64,
    /// What the compressibility factor lacks of 1, and r.
    x: f64,
    r: f64,
}

impl<'a> Superheated<'a> {
    fn from_dew_point(fixed: &'a FixedComposition<'a>, pressure: f64, dew: &'a Side) -> Self {
        let rt = fixed.gas_constant * dew.temperature;
        let (ideal, capacity) = fixed.ideal_enthalpy(dew.temperature);
        let departure = ideal - dew.enthalpy;
        let x = 1.0 - pressure / (dew.density * rt);
        Self {
            fixed,
            pressure,
            dew,
            ideal,
            capacity,
            departure,
            x,
            r: departure / (rt * x),
        }
    }

    /// The power of the enthalpy's departure, `hotter` parts of the temperature above the dew
    /// point.
    fn power(&self, hotter: f64) -> f64 {
        let (x, r) = (self.x, self.r);
        1.771 * r - 3.73 + 6.41 * x + hotter * (7.51 - 2.02 * r - 15.8 * x)
    }

    /// Temperature, K, and density, mol/m3, at a temperature.
    fn state_at_temperature(&self, temperature: f64) -> (f64, f64) {
        let (x, r) = (self.x, self.r);
        let ratio = temperature / self.dew.temperature;
        let hotter = (ratio - 1.0).min(0.5);
        let power = 1.131 * r - 0.67 + 6.24 * x + hotter * (5.43 - 1.42 * r - 11.9 * x);
        let z = 1.0 - x * exp(-power * ratio.ln());
        let rt = self.fixed.gas_constant * temperature;
        (temperature, self.pressure / (rt * z))
    }

    /// At an enthalpy, J/mol.
    fn at_enthalpy(&self, enthalpy: f64) -> (f64, f64) {
        let (dew, departure) = (self.dew, self.departure);
        let capacity = self.capacity + self.power(0.0) * departure / dew.temperature;
        let first = dew.temperature + (enthalpy - self.ideal + departure) / capacity;
        let ratio = first / dew.temperature;
        let power = self.power((ratio - 1.0).min(0.5));
        let there = departure * exp(-power * ratio.ln());
        let (ideal, capacity) = self.fixed.ideal_enthalpy(first);
        self.state_at_temperature(
            first + (enthalpy - ideal + there) / (capacity + power * there / first),
        )
    }

    /// At an entropy, J/(mol K): ds = cp dT/T, with what that makes of the enthalpy's power
    ///
    /// ```text
    /// s - s_dew = cp0 ln(T/T_dew) + D/T_dew m/(m+1) (1 - (T/T_dew)^-(m+1))
    /// ```
    fn at_entropy(&self, entropy: f64) -> (f64, f64) {
        let dew = self.dew;
        let (wanted, unit) = (entropy - dew.entropy, self.departure / dew.temperature);
        let first = (wanted / (self.capacity + self.power(0.0) * unit)).min(0.5);
        let ratio = exp(first);
        let power = self.power((ratio - 1.0).min(0.5));
        let (_, hot) = self.fixed.ideal_enthalpy(dew.temperature * ratio);
        let falls = exp(-(power + 1.0) * first);
        let there =
            0.5 * (self.capacity + hot) * first + unit * power / (power + 1.0) * (1.0 - falls);
        let slope = hot + power * unit * falls;
        self.state_at_temperature(dew.temperature * exp(first + (wanted - there) / slope))
    }
}
