//! `--explain`: the working, step by step, in numbers with their units.

use crate::cli::page;
use crate::process::coil::{Coil, CoilKind, Inlet, Station};
use crate::refrigerant::{Refrigerant, Saturation, SaturationPoint};
use crate::units::{
    Atmosphere, Pressure, PressureUnit, Temperature, TemperatureDifference, UnitSet, fixed,
    significant,
};

/// What a working is written in.
#[derive(Clone, Copy)]
pub(crate) struct Hand<'a> {
    pub(crate) units: &'a UnitSet,
    pub(crate) site: &'a Atmosphere,
}

impl Hand<'_> {
    fn temperature(&self, value: Temperature) -> String {
        page::temperature(value, self.units)
    }

    /// A temperature as a term of a sum: without its unit, in brackets below zero.
    fn bare(&self, value: Temperature) -> String {
        let figure = fixed(self.units.temperature.read(value), 2);
        if figure.starts_with('-') {
            format!("({figure})")
        } else {
            figure
        }
    }

    fn difference(&self, value: TemperatureDifference) -> String {
        let figure = fixed(self.units.temperature.read_difference(value), 2);
        format!("{figure} {}", self.units.temperature.difference_symbol())
    }

    fn enthalpy(&self, value: f64) -> String {
        significant(value / self.units.enthalpy.joule_per_kg(), 6)
    }

    fn enthalpy_unit(&self) -> &'static str {
        self.units.enthalpy.typed()
    }

    /// From a gauge to an absolute pressure.
    pub(crate) fn absolute(&self, pressure: Pressure, given_in: PressureUnit) -> Option<String> {
        if !given_in.is_gauge() {
            return None;
        }
        let unit = given_in.pascal();
        let air = self.site.pressure().in_pascal() / unit;
        let (gauge, sign) = match given_in {
            PressureUnit::InchesOfMercuryVacuum => (given_in.read(pressure, self.site), "-"),
            _ => (given_in.read(pressure, self.site), "+"),
        };
        let whole = fixed(pressure.in_pascal() / unit, 4);
        let (air, gauge) = (fixed(air, 4), fixed(gauge, 4));
        Some(if sign == "-" {
            format!("Absolute pressure = air - vacuum = {air} - {gauge} = {whole} inHg.")
        } else {
            let absolute = self.units.absolute.typed();
            format!("Absolute pressure = gauge + air = {gauge} + {air} = {whole} {absolute}.")
        })
    }

    /// Dew less bubble.
    fn glide(&self, bubble: Temperature, dew: Temperature) -> String {
        format!(
            "Glide = dew - bubble = {} - {} = {}.",
            self.bare(dew),
            self.bare(bubble),
            self.difference(dew - bubble)
        )
    }

    /// How a bubble and a dew point are known to be such.
    pub(crate) fn saturation(
        &self,
        refrigerant: &Refrigerant,
        saturation: &Saturation,
    ) -> Vec<String> {
        let mut lines = Vec::new();
        let points = [("Bubble", &saturation.bubble), ("Dew", &saturation.dew)];
        for (name, point) in points {
            let Some(point) = point else {
                continue;
            };
            if refrigerant.is_pure() {
                lines.push(format!(
                    "Saturation at {}: liquid and vapour have one temperature, one pressure and \
                     one fugacity.",
                    self.temperature(point.temperature)
                ));
            } else {
                lines.push(format!(
                    "{name} at {}: the {} has the blend's contents; each component has one \
                     fugacity, mole fraction x fugacity coefficient x pressure, in both phases.",
                    self.temperature(point.temperature),
                    if name == "Bubble" { "liquid" } else { "vapour" }
                ));
            }
            lines.extend(self.fugacities(refrigerant, point));
            lines.push(format!(
                "Latent heat = h of the vapour - h of the liquid beside it = {} - {} = {} {}.",
                self.enthalpy(point.vapor.enthalpy),
                self.enthalpy(point.liquid.enthalpy),
                self.enthalpy(point.latent_heat),
                self.enthalpy_unit()
            ));
            if refrigerant.is_pure() {
                return lines;
            }
        }
        if let (Some(_), Some(bubble), Some(dew)) =
            (saturation.glide, &saturation.bubble, &saturation.dew)
        {
            lines.push(self.glide(bubble.temperature, dew.temperature));
        }
        lines
    }

    fn fugacities(&self, refrigerant: &Refrigerant, point: &SaturationPoint) -> Vec<String> {
        let unit = self.units.absolute;
        let pressure = point.pressure.in_pascal() / unit.pascal();
        let side = |phase: &crate::refrigerant::PhaseProperties, k: usize| {
            let fraction = phase.mole_fractions.get(k).copied().unwrap_or(f64::NAN);
            let coefficient = phase.fugacity_coefficients.get(k).copied();
            let coefficient = coefficient.unwrap_or(f64::NAN);
            let product = fraction * coefficient * pressure;
            let text = format!(
                "{} x {} x {} = {}",
                significant(fraction, 5),
                significant(coefficient, 5),
                significant(pressure, 6),
                significant(product, 5)
            );
            text
        };
        refrigerant
            .components()
            .iter()
            .enumerate()
            .map(|(k, component)| {
                format!(
                    "{}: liquid {}, vapour {} {}.",
                    component.designation,
                    side(&point.liquid, k),
                    side(&point.vapor, k),
                    unit.typed()
                )
            })
            .collect()
    }

    /// How a coil's inlet and means come about.
    pub(crate) fn coil(&self, coil: &Coil) -> Vec<String> {
        let (bubble, dew) = (coil.bubble.temperature, coil.dew.temperature);
        let mut lines = vec![self.glide(bubble, dew)];
        if let (Some(inlet), Some(first)) = (&coil.inlet, coil.stations.first()) {
            lines.extend(self.inlet(coil, inlet, first));
        }
        let unit = self.units.temperature.symbol();
        let half = |name: &str, one: Temperature, mean: Temperature| {
            format!(
                "{name} = ({} + {})/2 = {} {unit}.",
                self.bare(one),
                self.bare(dew),
                fixed(self.units.temperature.read(mean), 2)
            )
        };
        lines.push(half("(bubble + dew)/2", bubble, coil.means.bubble_and_dew));
        if let (Some(inlet), Some(mean)) = (&coil.inlet, coil.means.inlet_and_dew) {
            lines.push(half("(inlet + dew)/2", inlet.temperature, mean));
        }
        if let Some(mean) = coil.means.forty_sixty {
            lines.push(format!(
                "40 % bubble + 60 % dew = 0.4 x {} + 0.6 x {} = {} {unit}.",
                self.bare(bubble),
                self.bare(dew),
                fixed(self.units.temperature.read(mean), 2)
            ));
        }
        lines.extend(self.mean_by_enthalpy(coil));
        lines
    }

    fn inlet(&self, coil: &Coil, inlet: &Inlet, first: &Station) -> Vec<String> {
        let (enthalpy, unit) = (self.enthalpy(first.enthalpy), self.enthalpy_unit());
        let taken = if inlet.pressure_given {
            ""
        } else {
            ", its bubble pressure, taken because none was given"
        };
        vec![
            format!(
                "Liquid before the expansion device: {} at {}{taken}; h = {enthalpy} {unit}.",
                self.temperature(inlet.liquid_temperature),
                page::pressure(inlet.liquid_pressure, self.units.pressure, self.site)
            ),
            format!(
                "Behind it h is the same, {enthalpy} {unit}, at {}: two phases at {}, liquid of h \
                 = {} and vapour of h = {} {unit}.",
                page::pressure(coil.pressure, self.units.pressure, self.site),
                self.temperature(first.temperature),
                self.enthalpy(first.liquid.enthalpy),
                self.enthalpy(first.vapor.enthalpy)
            ),
            format!(
                "Inlet quality = (h - h of the liquid)/(h of the vapour - h of the liquid) = \
                 ({enthalpy} - {})/({} - {}) = {} by mass.",
                self.enthalpy(first.liquid.enthalpy),
                self.enthalpy(first.vapor.enthalpy),
                self.enthalpy(first.liquid.enthalpy),
                fixed(inlet.quality, 4)
            ),
            format!(
                "Effective glide = dew - inlet = {} - {} = {}.",
                self.bare(coil.dew.temperature),
                self.bare(inlet.temperature),
                self.difference(inlet.effective_glide)
            ),
        ]
    }

    /// The mean by enthalpy, and what the printed places alone give.
    fn mean_by_enthalpy(&self, coil: &Coil) -> Vec<String> {
        let last = coil.stations.len().saturating_sub(1);
        let mut sum = 0.0;
        let terms: Vec<String> = coil
            .stations
            .iter()
            .enumerate()
            .map(|(k, station)| {
                let weight = match k {
                    0 => 1.0,
                    k if k == last => 1.0,
                    k if k % 2 == 1 => 4.0,
                    _ => 2.0,
                };
                sum += weight * self.units.temperature.read(station.temperature);
                let figure = self.bare(station.temperature);
                if weight == 1.0 {
                    figure
                } else {
                    format!("{weight} x {figure}")
                }
            })
            .collect();
        let ends = match coil.kind {
            CoilKind::Evaporator if coil.inlet.is_some() => "inlet to dew",
            CoilKind::Evaporator => "bubble to dew",
            CoilKind::Condenser => "dew to bubble",
        };
        let symbol = self.units.temperature.symbol();
        vec![format!(
            "Mean by enthalpy, {ends} = integral of T dh over the change of h = {} {symbol}, from \
             40 equal steps of h; by Simpson's rule from the eleven places below: ({})/{} = {} \
             {symbol}.",
            fixed(self.units.temperature.read(coil.means.by_enthalpy), 2),
            terms.join(" + "),
            3 * last,
            fixed(sum / (3 * last.max(1)) as f64, 2)
        )]
    }
}
