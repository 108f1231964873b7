//! Relative volatilities that are taken as off.

use crate::equilibrium::at_volume::InVolume;
use crate::helmholtz::{MAX_COMPONENTS, MoleFractions};
use crate::refrigerant::Refrigerant;

/// A pair whose relative volatility is taken as off.
#[derive(Debug, Clone, Copy)]
pub(super) struct Tilt {
    first: usize,
    second: usize,
    /// What ln(alpha) of the first over the second is off by.
    epsilon: f64,
}

impl Tilt {
    /// One for each pair with measured vapors; places in the model's order.
    pub(super) fn of(together: &Refrigerant) -> Vec<Self> {
        let components = together.model().0.components();
        let place = |name: &str| {
            let mut all = components.iter();
            all.position(|one| one.record.designation == *name)
        };
        let pairs = together.pairs().iter();
        pairs
            .filter_map(|pair| {
                Some(Self {
                    first: place(&pair.first)?,
                    second: place(&pair.second)?,
                    epsilon: pair.measured_vapors()?.relative_volatility_percent / 100.0,
                })
            })
            .collect()
    }

    /// Liquid and vapor of the same amounts and shares, the pair's volatility off.
    pub(super) fn phases(&self, contents: &InVolume) -> (MoleFractions, MoleFractions) {
        let pair = &contents.pair;
        let (liquid, vapor) = (&pair.liquid, &pair.vapor);
        let phi = contents.liquid_volume.clamp(0.0, 1.0);
        let moles = [phi * pair.liquid_density, (1.0 - phi) * pair.vapor_density];
        let share = moles[1] / (moles[0] + moles[1]);
        let count = liquid.len();
        let mut x = [0.0; MAX_COMPONENTS];
        let mut y = [0.0; MAX_COMPONENTS];
        for k in 0..count {
            if liquid[k] <= 0.0 {
                continue;
            }
            let off = if k == self.first {
                self.epsilon * liquid[self.second]
            } else if k == self.second {
                -self.epsilon * liquid[self.first]
            } else {
                0.0
            };
            let ratio = vapor[k] / liquid[k] * off.exp();
            let whole = (1.0 - share) * liquid[k] + share * vapor[k];
            x[k] = whole / (1.0 + share * (ratio - 1.0));
            y[k] = ratio * x[k];
        }
        (
            MoleFractions::new(&x[..count]),
            MoleFractions::new(&y[..count]),
        )
    }
}
