//! The multi-fluid mixture model; a pure refrigerant is the mixture of one component.
//!
//! ```text
//! alpha(tau, delta, x) = alpha0 + sum x_i alphar_i(tau, delta) + sum_{i<j} x_i x_j F_ij alphar_ij(tau, delta)
//! tau = Tr(x) / T        delta = rho / rhor(x)        R = sum x_i R_i
//! ```
//!
//! Lemmon & Jacobsen, J. Phys. Chem. Ref. Data 33 (2004) 593; Kunz & Wagner, J. Chem. Eng. Data
//! 57 (2012) 3032. Each component keeps the gas constant of its own equation, so that x -> 1 is
//! the pure refrigerant.
//!
//! Phase equilibrium works on the residual part of Psi(T, n)/T, Psi the Helmholtz energy a volume
//! and n the partial densities: G(n) = R(n) N alphar. Its gradient holds the residual chemical
//! potentials over T, its Hessian what Newton's method needs.

use std::sync::Arc;

use super::reducing::ReducingFunction;
use super::residual::{MAX_FUNCTIONS, Residual, ResidualIsotherm};
use super::{Derivatives, Isothermal, MAX_COMPONENTS, PureEquation};
use crate::catalogue::records::{DepartureRecord, PairReducing};
use crate::error::{Error, Result};

/// Mole fractions of up to eight components, on the stack.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MoleFractions {
    length: usize,
    values: [f64; MAX_COMPONENTS],
}

impl MoleFractions {
    /// From amounts of any sum above zero.
    ///
    /// # Errors
    /// [`Error::Composition`] for none or more than [`MAX_COMPONENTS`] values, for one that is not
    /// finite or is below zero, and where all are 0.
    ///
    /// # Example
    /// ```
    /// use zeotrope::helmholtz::MoleFractions;
    /// assert_eq!(MoleFractions::checked(&[3.0, 1.0])?.as_slice(), [0.75, 0.25]);
    /// assert!(MoleFractions::checked(&[1.0; 9]).is_err());
    /// # Ok::<(), zeotrope::Error>(())
    /// ```
    pub fn checked(values: &[f64]) -> Result<Self> {
        let sum: f64 = values.iter().sum();
        let is_amount = |value: &f64| value.is_finite() && *value >= 0.0;
        let fits = !values.is_empty() && values.len() <= MAX_COMPONENTS;
        if fits && values.iter().all(is_amount) && sum > 0.0 && sum.is_finite() {
            return Ok(Self::new(values));
        }
        Err(Error::Composition {
            literal: format!("{values:?}"),
            problem: "no mole fractions".into(),
            hint: format!("give 1 to {MAX_COMPONENTS} amounts, none below zero and not all 0"),
        })
    }

    /// From at most [`MAX_COMPONENTS`] amounts that are known to be some.
    pub(crate) fn new(values: &[f64]) -> Self {
        debug_assert!(values.len() <= MAX_COMPONENTS);
        let length = values.len().min(MAX_COMPONENTS);
        let sum: f64 = values[..length].iter().sum();
        let mut fractions = Self {
            length,
            values: [0.0; MAX_COMPONENTS],
        };
        for (to, from) in fractions.values.iter_mut().zip(&values[..length]) {
            *to = from / sum;
        }
        fractions
    }

    /// The fractions.
    pub fn as_slice(&self) -> &[f64] {
        &self.values[..self.length]
    }
}

impl std::ops::Deref for MoleFractions {
    type Target = [f64];
    fn deref(&self) -> &[f64] {
        self.as_slice()
    }
}

/// What is known of a pair of components, by their places in the mixture.
#[derive(Debug, Clone)]
pub struct Pair {
    /// Place of the first component; the betas are meant for this order.
    pub first: usize,
    /// Place of the second component.
    pub second: usize,
    /// Reducing parameters.
    pub reducing: PairReducing,
    /// Departure function and its factor F.
    pub departure: Option<(Arc<DepartureRecord>, f64)>,
}

/// x_i x_j F_ij of a departure function.
#[derive(Debug, Clone, Copy)]
struct DeparturePair {
    first: usize,
    second: usize,
    function: usize,
    factor: f64,
}

/// A mixture model of fixed components and any composition.
#[derive(Debug, Clone)]
pub struct Mixture {
    components: Vec<Arc<PureEquation>>,
    residual: Residual,
    departures: Vec<DeparturePair>,
    temperature: ReducingFunction,
    volume: ReducingFunction,
}

/// A mixture at one composition.
#[derive(Debug, Clone, Copy)]
pub struct FixedComposition<'a> {
    /// The mixture.
    pub mixture: &'a Mixture,
    /// Its mole fractions.
    pub x: MoleFractions,
    /// Tr(x), K.
    pub reducing_temperature: f64,
    /// rhor(x), mol/m3.
    pub reducing_density: f64,
    /// R = sum x_i R_i, J/(mol K).
    pub gas_constant: f64,
    weights: [f64; MAX_FUNCTIONS],
}

/// A mixture at one composition and temperature; cheap in density.
#[derive(Debug, Clone)]
pub struct Isotherm<'a> {
    residual: ResidualIsotherm<'a>,
    reducing_density: f64,
    /// R T, J/mol.
    pub rt: f64,
}

/// Residual part G of Psi/T and its derivatives in partial densities and temperature.
///
/// # Units
/// G and its derivatives by ln T in J/(K m3), gradient in J/(mol K), Hessian in J m3/(mol2 K).
#[derive(Debug, Clone, Copy)]
pub struct Potential {
    /// p/T, the ideal part included, J/(K m3).
    pub pressure_over_temperature: f64,
    /// d(p/T)/dlnT at fixed partial densities.
    pub pressure_by_log_temperature: f64,
    /// G itself.
    pub value: f64,
    /// dG/dlnT at fixed partial densities.
    pub by_log_temperature: f64,
    /// d2G/dlnT2 at fixed partial densities.
    pub by_log_temperature_twice: f64,
    /// dG/dn_i, the residual chemical potential over T.
    pub gradient: [f64; MAX_COMPONENTS],
    /// d2G/dn_i dlnT.
    pub gradient_by_log_temperature: [f64; MAX_COMPONENTS],
    /// d2G/dn_i dn_j.
    pub hessian: [[f64; MAX_COMPONENTS]; MAX_COMPONENTS],
}

impl Mixture {
    /// Builds the model of `components` with what is known of their pairs.
    ///
    /// A pair that is not named has all four reducing parameters 1 and no departure function
    /// (Lorentz-Berthelot).
    ///
    /// # Errors
    /// [`Error::Composition`] for no component, more than [`MAX_COMPONENTS`], or equations that
    /// together have more terms than the tables hold.
    pub fn new(components: Vec<Arc<PureEquation>>, pairs: &[Pair]) -> Result<Self> {
        let count = components.len();
        if count == 0 || count > MAX_COMPONENTS {
            return Err(Error::Composition {
                literal: String::new(),
                problem: format!("{count} components"),
                hint: format!("use 1 to {MAX_COMPONENTS} components"),
            });
        }
        let mut functions: Vec<&crate::catalogue::records::ResidualRecord> = components
            .iter()
            .map(|component| &component.record.residual)
            .collect();
        let mut named: Vec<&str> = Vec::new();
        let mut departures = Vec::new();
        for pair in pairs {
            let Some((record, factor)) = &pair.departure else {
                continue;
            };
            let function = match named.iter().position(|name| *name == record.name) {
                Some(place) => count + place,
                None => {
                    named.push(&record.name);
                    functions.push(&record.residual);
                    functions.len() - 1
                }
            };
            departures.push(DeparturePair {
                first: pair.first,
                second: pair.second,
                function,
                factor: *factor,
            });
        }
        let residual = Residual::new(&functions)?;
        let parameters = |first: usize, second: usize| -> (PairReducing, bool) {
            for pair in pairs {
                if (pair.first, pair.second) == (first, second) {
                    return (pair.reducing, false);
                }
                if (pair.first, pair.second) == (second, first) {
                    return (pair.reducing, true);
                }
            }
            let ones = PairReducing {
                beta_t: 1.0,
                gamma_t: 1.0,
                beta_v: 1.0,
                gamma_v: 1.0,
            };
            (ones, false)
        };
        let places = || (0..count).flat_map(move |i| (i + 1..count).map(move |j| (i, j)));
        let ordered = |(i, j): (usize, usize), swapped: bool| if swapped { (j, i) } else { (i, j) };
        let temperature = ReducingFunction::new(
            components
                .iter()
                .map(|component| component.reducing.temperature)
                .collect(),
            places().map(|place| {
                let (pair, swapped) = parameters(place.0, place.1);
                let (i, j) = ordered(place, swapped);
                (i, j, pair.beta_t, pair.gamma_t)
            }),
            |a, b| (a * b).sqrt(),
        );
        let volume = ReducingFunction::new(
            components
                .iter()
                .map(|component| 1.0 / component.reducing.density)
                .collect(),
            places().map(|place| {
                let (pair, swapped) = parameters(place.0, place.1);
                let (i, j) = ordered(place, swapped);
                (i, j, pair.beta_v, pair.gamma_v)
            }),
            |a, b| (a.cbrt() + b.cbrt()).powi(3) / 8.0,
        );
        Ok(Self {
            components,
            residual,
            departures,
            temperature,
            volume,
        })
    }

    /// The components, in the model's order.
    pub fn components(&self) -> &[Arc<PureEquation>] {
        &self.components
    }

    /// Number of components.
    pub fn count(&self) -> usize {
        self.components.len()
    }

    #[inline]
    fn weights(&self, x: &[f64]) -> [f64; MAX_FUNCTIONS] {
        let mut weights = [0.0; MAX_FUNCTIONS];
        weights[..x.len()].copy_from_slice(x);
        for pair in &self.departures {
            weights[pair.function] += pair.factor * x[pair.first] * x[pair.second];
        }
        weights
    }

    /// The mixture at mole fractions `x`.
    #[inline]
    pub fn at_composition(&self, x: &MoleFractions) -> FixedComposition<'_> {
        FixedComposition {
            mixture: self,
            x: *x,
            reducing_temperature: self.temperature.value(x),
            reducing_density: 1.0 / self.volume.value(x),
            gas_constant: self
                .components
                .iter()
                .zip(x.iter())
                .map(|(component, x)| component.record.gas_constant_j_mol_k * x)
                .sum(),
            weights: self.weights(x),
        }
    }

    /// Residual part of Psi/T and its derivatives at a temperature in K and partial densities in
    /// mol/m3.
    // Long because it is one formula: gradient and Hessian share every intermediate, and the innermost
    // loop of all solvers would pay for handing them over.
    pub fn potential(&self, temperature: f64, partial_densities: &[f64]) -> Potential {
        let count = self.count();
        let density: f64 = partial_densities.iter().sum();
        let mut x = [0.0; MAX_COMPONENTS];
        for i in 0..count {
            x[i] = partial_densities[i] / density;
        }
        let x = &x[..count];
        let reduced_temperature = self.temperature.derivatives(x);
        let reduced_volume = self.volume.derivatives(x);
        let tau = reduced_temperature.value / temperature;
        let delta = density * reduced_volume.value;
        let weights = self.weights(x);
        let by = self.residual.by_function(&weights, tau, delta);
        let sum = &by.sum;

        // N dln(tau)/dn_p and N dln(delta)/dn_p: ln tau = ln Y_T(n) - 2 ln N - ln T,
        // ln delta = ln Y_V(n) - ln N
        let mut lt = [0.0; MAX_COMPONENTS];
        let mut ld = [0.0; MAX_COMPONENTS];
        for p in 0..count {
            lt[p] = reduced_temperature.gradient[p] / reduced_temperature.value - 2.0;
            ld[p] = reduced_volume.gradient[p] / reduced_volume.value - 1.0;
        }
        // Sums over functions of (dw_k/dn_p) times value, d, t. Of a component's own function the
        // slope is 1; of a pair's function, w = F n_i n_j / N,
        //   dw/dn_p = F (x_j [p = i] + x_i [p = j] - x_i x_j),
        //   N d2w/dn_p dn_q = F ([p, q = i, j] + [p, q = j, i]) - dw/dn_p - dw/dn_q:
        // summed, the latter is what stands in the brackets less a number of p and one of q.
        let mut mixed = [[0.0; MAX_COMPONENTS]; MAX_COMPONENTS];
        let [mut of_pairs, mut wd, mut wt] = [[0.0; MAX_COMPONENTS]; 3];
        let [mut all_a, mut all_d, mut all_t] = [0.0; 3];
        for pair in &self.departures {
            let (i, j, k) = (pair.first, pair.second, pair.function);
            let [a, d, t] = [by.a[k], by.d[k], by.t[k]].map(|value| pair.factor * value);
            let both = x[i] * x[j];
            for (sums, all, value) in [
                (&mut of_pairs, &mut all_a, a),
                (&mut wd, &mut all_d, d),
                (&mut wt, &mut all_t, t),
            ] {
                sums[i] += x[j] * value;
                sums[j] += x[i] * value;
                *all += both * value;
            }
            mixed[i][j] += a;
            mixed[j][i] += a;
        }
        let mut wa = [0.0; MAX_COMPONENTS];
        for p in 0..count {
            of_pairs[p] -= all_a;
            wa[p] = by.a[p] + of_pairs[p];
            wd[p] += by.d[p] - all_d;
            wt[p] += by.t[p] - all_t;
        }

        let mut gas_constant = 0.0;
        for (component, x) in self.components.iter().zip(x) {
            gas_constant += component.record.gas_constant_j_mol_k * x;
        }
        let mut slope = [0.0; MAX_COMPONENTS];
        let mut excess = [0.0; MAX_COMPONENTS];
        for p in 0..count {
            slope[p] = wa[p] + sum.t * lt[p] + sum.d * ld[p];
            excess[p] = self.components[p].record.gas_constant_j_mol_k - gas_constant;
        }
        let mut result = Potential {
            pressure_over_temperature: density * gas_constant * (1.0 + sum.d),
            pressure_by_log_temperature: -density * gas_constant * sum.dt,
            value: density * gas_constant * sum.a,
            by_log_temperature: -density * gas_constant * sum.t,
            by_log_temperature_twice: density * gas_constant * sum.tt,
            gradient: [0.0; MAX_COMPONENTS],
            gradient_by_log_temperature: [0.0; MAX_COMPONENTS],
            hessian: [[0.0; MAX_COMPONENTS]; MAX_COMPONENTS],
        };
        for p in 0..count {
            result.gradient[p] = excess[p] * sum.a + gas_constant * slope[p];
            result.gradient_by_log_temperature[p] =
                -excess[p] * sum.t - gas_constant * (wt[p] + sum.tt * lt[p] + sum.dt * ld[p]);
            for q in 0..=p {
                let lt_pq = reduced_temperature.hessian[p][q] / reduced_temperature.value
                    - (lt[p] + 2.0) * (lt[q] + 2.0)
                    + 2.0;
                let ld_pq = reduced_volume.hessian[p][q] / reduced_volume.value
                    - (ld[p] + 1.0) * (ld[q] + 1.0)
                    + 1.0;
                let curvature = mixed[p][q] - of_pairs[p] - of_pairs[q]
                    + wt[p] * lt[q]
                    + wt[q] * lt[p]
                    + wd[p] * ld[q]
                    + wd[q] * ld[p]
                    + sum.tt * lt[p] * lt[q]
                    + sum.dt * (lt[p] * ld[q] + lt[q] * ld[p])
                    + sum.dd * ld[p] * ld[q]
                    + sum.t * lt_pq
                    + sum.d * ld_pq;
                let value = (excess[p] * slope[q] + excess[q] * slope[p]
                    - (excess[p] + excess[q]) * sum.a
                    + gas_constant * curvature)
                    / density;
                result.hessian[p][q] = value;
                result.hessian[q][p] = value;
            }
        }
        result
    }
}

impl<'a> FixedComposition<'a> {
    /// Residual part at a temperature in K and a density in mol/m3, all derivatives in tau, delta.
    pub fn residual(&self, temperature: f64, density: f64) -> Derivatives {
        self.mixture.residual.derivatives(
            &self.weights,
            self.reducing_temperature / temperature,
            density / self.reducing_density,
        )
    }

    /// Enthalpy, J/mol, and isobaric heat capacity, J/(mol K), of the ideal gas.
    pub fn ideal_enthalpy(&self, temperature: f64) -> (f64, f64) {
        let (mut enthalpy, mut capacity) = (0.0, 0.0);
        for (component, &x) in self.mixture.components.iter().zip(self.x.iter()) {
            let weight = x * component.record.gas_constant_j_mol_k;
            let ideal = component.ideal.slopes(temperature);
            enthalpy += weight * (1.0 + ideal.t);
            capacity += weight * (1.0 + ideal.t - ideal.tt);
        }
        (enthalpy * temperature, capacity)
    }

    /// The same, and the entropy of the ideal gas, J/(mol K), at 1 mol/m3 of the whole.
    pub fn ideal_entropy(&self, temperature: f64) -> (f64, f64, f64) {
        let (mut enthalpy, mut capacity, mut entropy) = (0.0, 0.0, 0.0);
        for (component, &x) in self.mixture.components.iter().zip(self.x.iter()) {
            if x <= 0.0 {
                continue;
            }
            let weight = x * component.record.gas_constant_j_mol_k;
            let ideal = component.ideal.derivatives(temperature);
            enthalpy += weight * (1.0 + ideal.t);
            capacity += weight * (1.0 + ideal.t - ideal.tt);
            entropy += weight * (ideal.t - ideal.a - x.ln());
        }
        (enthalpy * temperature, capacity, entropy)
    }

    /// The isotherm at a temperature in K.
    #[inline]
    pub fn isotherm(&self, temperature: f64) -> Isotherm<'a> {
        Isotherm {
            residual: self
                .mixture
                .residual
                .isotherm(&self.weights, self.reducing_temperature / temperature),
            reducing_density: self.reducing_density,
            rt: self.gas_constant * temperature,
        }
    }

    /// Molar mass, kg/mol.
    pub fn molar_mass(&self) -> f64 {
        let components = self.mixture.components.iter();
        components
            .zip(self.x.iter())
            .map(|(c, x)| c.record.molar_mass_kg_mol * x)
            .sum()
    }
}

impl Isotherm<'_> {
    /// Residual part at a density in mol/m3.
    pub fn residual(&self, density: f64) -> Isothermal {
        self.residual
            .density_derivatives(density / self.reducing_density)
    }

    /// Pressure, Pa, at a density in mol/m3: rho R T (1 + delta alphar_delta).
    pub fn pressure(&self, density: f64) -> f64 {
        density * self.rt * (1.0 + self.residual(density).d)
    }

    /// Pressure, Pa, and d p / d ln(rho), Pa, at a density in mol/m3.
    pub fn pressure_slope(&self, density: f64) -> (f64, f64) {
        let r = self.residual(density);
        let scale = density * self.rt;
        (scale * (1.0 + r.d), scale * (1.0 + r.d + r.dd))
    }
}
