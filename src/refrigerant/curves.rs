//! The lines of a refrigerant as curves, and the choice to solve the equation instead.

use super::{Limits, Refrigerant, Way};
use crate::curve::{Curve, Line};
use crate::equilibrium::KnownLines;
use crate::equilibrium::bubble_dew::{Branch, PhasePair};
use crate::equilibrium::line::BlendLine;
use crate::helmholtz::{Mixture, MoleFractions};

/// The curves of a refrigerant, nothing of them built: one of a pure refrigerant, bubble and dew
/// of a blend.
pub(super) fn unbuilt_curves(mixture: &Mixture, x: &MoleFractions, limits: &Limits) -> Vec<Curve> {
    if mixture.count() == 1 {
        return vec![Curve::new(&Line::Pure(mixture.at_composition(x)))];
    }
    let line = BlendLine::default();
    [Branch::Bubble, Branch::Dew]
        .map(|branch| {
            Curve::new(&Line::Blend {
                mixture,
                z: x,
                line: &line,
                branch,
                limits: range(limits),
            })
        })
        .into()
}

fn range(limits: &Limits) -> (f64, f64) {
    let (low, high) = (limits.temperature_min, limits.temperature_max);
    (low.in_kelvin(), high.in_kelvin())
}

impl Refrigerant {
    /// The same refrigerant, every line and state solved from the equation itself instead of
    /// read from or started by curves.
    ///
    /// For a single question, which a curve would not pay for, and to check curves by. What was
    /// found out about the refrigerant is shared with the original.
    ///
    /// # Example
    /// ```
    /// use zeotrope::{Refrigerant, units::Temperature};
    /// let r134a = Refrigerant::named("R-134a")?;
    /// let at = Temperature::celsius(5.0);
    /// let (quick, exact) = (r134a.dew_pressure(at)?, r134a.exact().dew_pressure(at)?);
    /// assert!((quick.in_pascal() / exact.in_pascal() - 1.0).abs() < 1e-10);
    /// # Ok::<(), zeotrope::Error>(())
    /// ```
    #[must_use]
    pub fn exact(&self) -> Self {
        Self(self.0.clone(), Way::Solver)
    }

    /// The curve of a branch and the line that it is made from, to look into its accuracy and
    /// extent; a pure refrigerant has one for both.
    pub fn curve(&self, branch: Branch) -> (&Curve, Line<'_>) {
        (self.curve_of(branch), self.line(branch))
    }

    #[inline]
    fn curve_of(&self, branch: Branch) -> &Curve {
        match (branch, self.0.curves.as_slice()) {
            (Branch::Dew, [_, dew]) => dew,
            (_, curves) => &curves[0],
        }
    }

    /// The curve to answer from, where curves are wanted.
    #[inline]
    pub(super) fn wanted(&self, branch: Branch) -> Option<&Curve> {
        (self.1 == Way::Curve).then(|| self.curve_of(branch))
    }

    #[cold]
    pub(super) fn line(&self, branch: Branch) -> Line<'_> {
        let inner = &self.0;
        if self.is_pure() {
            return Line::Pure(self.fixed());
        }
        Line::Blend {
            mixture: &inner.mixture,
            z: &inner.x,
            line: &inner.line,
            branch,
            limits: range(&inner.limits),
        }
    }
}

impl KnownLines for Refrigerant {
    fn at_temperature(&self, branch: Branch, temperature: f64) -> Option<PhasePair> {
        self.wanted(branch)?.pair(temperature, || self.line(branch))
    }

    fn at_pressure(&self, branch: Branch, pressure: f64) -> Option<PhasePair> {
        self.wanted(branch)?
            .pair_at_pressure(pressure, || self.line(branch))
    }
}
