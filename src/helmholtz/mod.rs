//! The equation: Helmholtz energy of one refrigerant or a mixture, its values and derivatives.
//!
//! Pure functions in SI units on `f64`, without a solver and without allocation: what is read
//! ([`crate::catalogue`]) is compiled once into tables, and evaluated many times.
//!
//! Derivatives are logarithmic throughout: with `a(tau, delta)`, `d` means `delta da/ddelta`,
//! `t` means `tau da/dtau`, and `dd`, `dt`, `tt` apply the same operators twice. In the papers'
//! notation `delta^2 a_deltadelta = dd - d`, `tau^2 a_tautau = tt - t` and
//! `delta tau a_deltatau = dt`.

mod bell;
pub mod ideal_gas;
pub mod mixture;
mod non_analytic;
pub mod pure;
mod rare;
pub mod reducing;
pub mod residual;

pub use mixture::{FixedComposition, Isotherm, Mixture, MoleFractions};
pub use pure::PureEquation;

/// Largest number of components of a mixture.
pub const MAX_COMPONENTS: usize = crate::catalogue::MOST_COMPONENTS;

/// How many terms are evaluated side by side: the width of the vectors that every processor of the
/// last twenty years has (more showed no gain).
const LANES: usize = 2;
/// Numbers of terms side by side.
type Lanes = [f64; LANES];

/// Calls `with` for each lane: written out, it is not left to a compiler whether the sums of the
/// lanes stay in registers.
#[inline(always)]
fn each_lane(mut with: impl FnMut(usize)) {
    const { assert!(LANES == 2) };
    with(0);
    with(1);
}

#[inline(always)]
fn total(lanes: Lanes) -> f64 {
    lanes[0] + lanes[1]
}

/// A Helmholtz function and its logarithmic derivatives to second order.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Derivatives {
    /// The value.
    pub a: f64,
    /// delta d/ddelta.
    pub d: f64,
    /// tau d/dtau.
    pub t: f64,
    /// (delta d/ddelta)^2.
    pub dd: f64,
    /// (delta d/ddelta)(tau d/dtau).
    pub dt: f64,
    /// (tau d/dtau)^2.
    pub tt: f64,
}

impl Derivatives {
    /// From sums in the order of the fields.
    #[inline(always)]
    fn from_lanes(sums: [Lanes; 6]) -> Self {
        let [a, d, t, dd, dt, tt] = sums.map(total);
        Self {
            a,
            d,
            t,
            dd,
            dt,
            tt,
        }
    }

    /// Adds `factor` times `other`.
    pub fn add(&mut self, factor: f64, other: &Derivatives) {
        self.a += factor * other.a;
        self.d += factor * other.d;
        self.t += factor * other.t;
        self.dd += factor * other.dd;
        self.dt += factor * other.dt;
        self.tt += factor * other.tt;
    }
}

/// A Helmholtz function and its density derivatives on an isotherm.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Isothermal {
    /// The value.
    pub a: f64,
    /// delta d/ddelta.
    pub d: f64,
    /// (delta d/ddelta)^2.
    pub dd: f64,
}
