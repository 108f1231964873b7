//! The published equation of one pure refrigerant, with what goes with it.

use std::sync::Arc;

use super::ideal_gas::IdealGas;
use crate::catalogue::records::{self, PureRecord};

/// Temperature, K, and density, mol/m3, of a point.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DensityPoint {
    /// Temperature, K.
    pub temperature: f64,
    /// Density, mol/m3.
    pub density: f64,
}

/// The equation of one pure refrigerant.
#[derive(Debug, Clone)]
pub struct PureEquation {
    /// What was read.
    pub record: Arc<PureRecord>,
    /// The ideal-gas part.
    pub ideal: IdealGas,
    /// Where tau and delta are 1.
    pub reducing: DensityPoint,
    /// The critical point of the equation itself (of the paper until it is solved for).
    pub critical: DensityPoint,
    /// Starting values on the saturation line.
    pub ancillary: Ancillary,
}

/// Short equations for starting values on the saturation line, to about 1 %.
#[derive(Debug, Clone)]
pub struct Ancillary {
    critical_temperature: f64,
    pressure: records::AncillarySeries,
    liquid: records::AncillarySeries,
    vapor: records::AncillarySeries,
}

impl PureEquation {
    /// Compiles what was read.
    pub fn new(record: Arc<PureRecord>) -> Self {
        let published = &record.critical_point.published;
        let critical = record.critical_point.equation.as_ref().map_or(
            DensityPoint {
                temperature: published.temperature_k,
                density: published.density_mol_m3,
            },
            |point| DensityPoint {
                temperature: point.temperature_k,
                density: point.density_mol_m3,
            },
        );
        Self {
            ideal: IdealGas::new(&record),
            reducing: DensityPoint {
                temperature: record.reducing.temperature_k,
                density: record.reducing.density_mol_m3,
            },
            critical,
            ancillary: Ancillary {
                critical_temperature: record.ancillary.temperature_k,
                pressure: record.ancillary.pressure.clone(),
                liquid: record.ancillary.liquid_density.clone(),
                vapor: record.ancillary.vapor_density.clone(),
            },
            record,
        }
    }
}

impl Ancillary {
    fn sum(&self, series: &records::AncillarySeries, temperature: f64) -> f64 {
        let theta = (1.0 - temperature / self.critical_temperature).max(0.0);
        if theta == 0.0 {
            return 0.0;
        }
        let log_theta = theta.ln();
        series
            .n
            .iter()
            .zip(&series.t)
            .map(|(n, t)| n * (t * log_theta).exp())
            .sum()
    }

    /// Saturation pressure, Pa: ln(p/pc) = (Tc/T) sum n theta^t, theta = 1 - T/Tc; pc above Tc.
    pub fn pressure(&self, temperature: f64) -> f64 {
        let exponent = self.sum(&self.pressure, temperature);
        self.pressure.scale * (self.critical_temperature / temperature * exponent).exp()
    }

    /// Saturated liquid density, mol/m3: rhoc (1 + sum n theta^t).
    pub fn liquid_density(&self, temperature: f64) -> f64 {
        self.liquid.scale * (1.0 + self.sum(&self.liquid, temperature))
    }

    /// Saturated vapour density, mol/m3: ln(rho/rhoc) = (Tc/T) sum n theta^t.
    pub fn vapor_density(&self, temperature: f64) -> f64 {
        let exponent = self.sum(&self.vapor, temperature);
        self.vapor.scale * (self.critical_temperature / temperature * exponent).exp()
    }

    /// Saturation pressure continued above the critical temperature with the slope
    /// d ln p / d(1/T) it has at 0.98 Tc, Pa; a starting value for mixtures.
    pub fn extended_pressure(&self, temperature: f64) -> f64 {
        let top = 0.98 * self.critical_temperature;
        if temperature <= top {
            return self.pressure(temperature);
        }
        let below = 0.97 * self.critical_temperature;
        let (p_top, p_below) = (self.pressure(top), self.pressure(below));
        let slope = (p_top / p_below).ln() / (1.0 / top - 1.0 / below);
        p_top * (slope * (1.0 / temperature - 1.0 / top)).exp()
    }
}
