//! What a phase puts into the conditions of equilibrium, for Newton's method in the logarithms of
//! partial densities n_i and of temperature.
//!
//! With mu_i/T = R_i ln n_i + G_i + f(T), G the residual part of Psi/T
//! ([`crate::helmholtz::mixture`]):
//!
//! ```text
//! F_i = ln n_i + G_i / R_i              dF_i/dln n_j = [i = j] + n_j G_ij / R_i
//!                                       dF_i/dln T   = G_iT / R_i
//! F_p = p/T                             dF_p/dln n_j = n_j (R_j + sum_i n_i G_ij)
//! ```
//!
//! An equilibrium of two phases is F_i and F_p equal in both: a row each, the pressures divided by
//! rho R of the denser phase. With U = u/T and S the energy and entropy of a volume,
//!
//! ```text
//! U = sum n_i R_i t_i - G_T             S = sum n_i R_i (t_i - a_i - ln n_i) - G_T - G
//! h = T (U + p/T) / n                   s = S / n                    v = 1 / n
//! ```
//!
//! a_i and t_i the ideal gas's part and its derivative ([`crate::helmholtz::ideal_gas`]).

#![allow(clippy::needless_range_loop)] // indices as in the formulas

use super::Property;
use crate::helmholtz::mixture::Potential;
use crate::helmholtz::{MAX_COMPONENTS, Mixture};

/// A phase at a temperature and partial densities.
pub(super) struct PhaseTerms {
    /// K.
    pub(super) temperature: f64,
    /// Partial densities, mol/m3.
    pub(super) amounts: [f64; MAX_COMPONENTS],
    /// Their sum.
    pub(super) total: f64,
    pub(super) potential: Potential,
    /// dF_p/dln n_j.
    pub(super) pressure_slopes: [f64; MAX_COMPONENTS],
}

/// Which columns of a matrix a phase's logarithms of partial densities stand in.
#[derive(Clone, Copy)]
pub(super) enum Columns {
    /// Each in its own, from this on.
    Each(usize),
    /// All in this one, that of the density's logarithm at constant composition.
    Together(usize),
}

/// Where the rows of an equilibrium stand.
#[derive(Clone, Copy)]
pub(super) struct Rows {
    /// The first of the rows of F_i.
    pub(super) first: usize,
    /// The row of F_p.
    pub(super) pressure: usize,
    /// The column of ln T, where temperature is unknown.
    pub(super) log_temperature: Option<usize>,
}

/// The conditions of one mixture.
pub(super) struct Conditions<'a> {
    pub(super) mixture: &'a Mixture,
    count: usize,
    gas: [f64; MAX_COMPONENTS],
}

impl<'a> Conditions<'a> {
    pub(super) fn of(mixture: &'a Mixture) -> Self {
        let mut gas = [1.0; MAX_COMPONENTS];
        for (gas, component) in gas.iter_mut().zip(mixture.components()) {
            *gas = component.record.gas_constant_j_mol_k;
        }
        Self {
            mixture,
            count: mixture.count(),
            gas,
        }
    }

    pub(super) fn phase(&self, temperature: f64, amounts: &[f64; MAX_COMPONENTS]) -> PhaseTerms {
        let count = self.count;
        let potential = self.mixture.potential(temperature, &amounts[..count]);
        let mut pressure_slopes = [0.0; MAX_COMPONENTS];
        for j in 0..count {
            let mut slope = self.gas[j];
            for i in 0..count {
                slope += amounts[i] * potential.hessian[i][j];
            }
            pressure_slopes[j] = slope * amounts[j];
        }
        PhaseTerms {
            temperature,
            amounts: *amounts,
            total: amounts[..count].iter().sum(),
            potential,
            pressure_slopes,
        }
    }

    /// By what F_p is divided where a phase of a density in mol/m3 is the denser.
    pub(super) fn pressure_scale(&self, density: f64) -> f64 {
        density * self.gas[0]
    }

    /// F_i of `b` minus that of `a`.
    pub(super) fn difference(&self, i: usize, a: &PhaseTerms, b: &PhaseTerms) -> f64 {
        let gradients = b.potential.gradient[i] - a.potential.gradient[i];
        (b.amounts[i] / a.amounts[i]).ln() + gradients / self.gas[i]
    }

    /// Adds `sign` times a phase's derivatives to the rows of an equilibrium.
    #[inline]
    pub(super) fn add<const N: usize>(
        &self,
        matrix: &mut [[f64; N]; N],
        rows: Rows,
        phase: &PhaseTerms,
        (sign, scale): (f64, f64),
        columns: &[Columns],
    ) {
        let (count, terms) = (self.count, &phase.potential);
        for i in 0..count {
            let factor = sign / self.gas[i];
            let row = &mut matrix[rows.first + i];
            for columns in columns {
                match *columns {
                    Columns::Each(first) => {
                        for j in 0..count {
                            row[first + j] += terms.hessian[i][j] * phase.amounts[j] * factor;
                        }
                        row[first + i] += sign;
                    }
                    Columns::Together(column) => {
                        let mut along = 0.0;
                        for j in 0..count {
                            along += terms.hessian[i][j] * phase.amounts[j];
                        }
                        row[column] += sign + along * factor;
                    }
                }
            }
            if let Some(column) = rows.log_temperature {
                row[column] += terms.gradient_by_log_temperature[i] * factor;
            }
        }
        let row = &mut matrix[rows.pressure];
        let factor = sign / scale;
        self.add_pressure(row, phase, factor, columns);
        if let Some(column) = rows.log_temperature {
            row[column] += terms.pressure_by_log_temperature * factor;
        }
    }

    /// Adds `factor` times the derivatives of p/T by partial densities to a row.
    #[inline]
    pub(super) fn add_pressure<const N: usize>(
        &self,
        row: &mut [f64; N],
        phase: &PhaseTerms,
        factor: f64,
        columns: &[Columns],
    ) {
        let slopes = &phase.pressure_slopes[..self.count];
        for columns in columns {
            match *columns {
                Columns::Each(first) => {
                    for (cell, slope) in row[first..].iter_mut().zip(slopes) {
                        *cell += slope * factor;
                    }
                }
                Columns::Together(column) => row[column] += slopes.iter().sum::<f64>() * factor,
            }
        }
    }

    /// The row of a phase's pressure that is to be `pressure`, Pa: what p lacks of it, in parts.
    pub(super) fn given_pressure<const N: usize>(
        &self,
        row: &mut [f64; N],
        phase: &PhaseTerms,
        (temperature, pressure): (f64, f64),
        columns: Columns,
        log_temperature: usize,
    ) -> f64 {
        let factor = temperature / pressure;
        self.add_pressure(row, phase, factor, &[columns]);
        let over = phase.potential.pressure_over_temperature;
        row[log_temperature] += factor * (over + phase.potential.pressure_by_log_temperature);
        1.0 - over * factor
    }

    /// The ideal gas's part of each component at a temperature in K.
    pub(super) fn ideal(&self, temperature: f64) -> Ideal {
        let mut ideal = Ideal::default();
        for (k, component) in self.mixture.components().iter().enumerate() {
            let at = component.ideal.derivatives(temperature);
            (ideal.a[k], ideal.t[k], ideal.tt[k]) = (at.a, at.t, at.tt);
        }
        ideal
    }

    /// A property of a phase, a mole of it, with its derivatives.
    ///
    /// In units of J/mol, J/(mol K) or, for the density, of the volume, m3/mol.
    pub(super) fn property(
        &self,
        property: Property,
        temperature: f64,
        phase: &PhaseTerms,
        ideal: &Ideal,
    ) -> PhaseProperty {
        let (count, n, terms) = (self.count, &phase.amounts, &phase.potential);
        let total = phase.total;
        let mut found = PhaseProperty::default();
        match property {
            Property::Density => found.value = 1.0 / total,
            Property::Enthalpy => {
                let mut energy = -terms.by_log_temperature;
                let mut by_t = -terms.by_log_temperature_twice;
                for k in 0..count {
                    let (r, own) = (self.gas[k], n[k] * self.gas[k]);
                    energy += own * ideal.t[k];
                    by_t -= own * ideal.tt[k];
                    found.by_amount[k] = n[k]
                        * (r * ideal.t[k] - terms.gradient_by_log_temperature[k])
                        + phase.pressure_slopes[k];
                }
                let scale = temperature / total;
                found.value = (energy + terms.pressure_over_temperature) * scale;
                found.by_log_temperature =
                    found.value + (by_t + terms.pressure_by_log_temperature) * scale;
                found.by_amount[..count]
                    .iter_mut()
                    .for_each(|d| *d *= scale);
            }
            Property::Entropy => {
                let mut entropy = -terms.by_log_temperature - terms.value;
                let mut by_t = -terms.by_log_temperature_twice - terms.by_log_temperature;
                for k in 0..count {
                    let (r, own) = (self.gas[k], n[k] * self.gas[k]);
                    let part = ideal.t[k] - ideal.a[k] - n[k].ln();
                    entropy += own * part;
                    by_t += own * (ideal.t[k] - ideal.tt[k]);
                    let residual = terms.gradient_by_log_temperature[k] + terms.gradient[k];
                    found.by_amount[k] = n[k] * (r * (part - 1.0) - residual) / total;
                }
                found.value = entropy / total;
                found.by_log_temperature = by_t / total;
            }
        }
        // what is a mole's changes with the moles in the volume too
        for (slope, n) in found.by_amount[..count].iter_mut().zip(n) {
            *slope -= found.value * n / total;
        }
        found
    }
}

/// The ideal gas's alpha0 of each component, and its derivatives by ln(1/T).
#[derive(Default)]
pub(super) struct Ideal {
    a: [f64; MAX_COMPONENTS],
    t: [f64; MAX_COMPONENTS],
    tt: [f64; MAX_COMPONENTS],
}

/// A property of a phase and its derivatives.
#[derive(Default)]
pub(super) struct PhaseProperty {
    pub(super) value: f64,
    pub(super) by_amount: [f64; MAX_COMPONENTS],
    pub(super) by_log_temperature: f64,
}
